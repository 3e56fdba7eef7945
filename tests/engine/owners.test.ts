/** Who owns the output jacks. */
import { describe, expect, test } from "vitest";
import { bank, group, patch, range } from "#engine/catalog/parts.ts";
import { id, type DeviceId, type GroupId, type WantId } from "#engine/model/ids.ts";
import type { Want } from "#engine/model/show.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { blockGatekeepers, blocksOf, mixedBlocksOf, outputBlocks, rootsAt } from "#engine/trace/owners.ts";
import { busName, wantNames, wantsAt } from "#engine/trace/records.ts";
import { ownerOf } from "#engine/trace/trace.ts";
import { compile } from "#engine/wiring/compile.ts";
import { randomRig } from "../property/random-rig.ts";
import { rig } from "./rigs/build.ts";
import * as rigs from "./rigs/index.ts";
import { type } from "./rigs/types.ts";
import { Bench, expectTraces } from "./tell.ts";

describe("owners", () => {
  test("[O1] the owner is the device whose tap a jack's trace arrives from, and no other", () => {
    const carried = new Bench(rigs.R02);
    expect(ownerOf(carried.trace("Ears rack Out 3"))).toBe("monitors");
    expect(ownerOf(carried.trace("Ears rack Out 9"))).toBe("broadcast");
    expect(ownerOf(carried.trace("Stage box Out 1"))).toBe("house");
    // Straight from a source, or not at all: nobody's.
    expect(ownerOf(new Bench(rigs.R33).trace("Split Direct 1"))).toBeNull();
    expect(ownerOf(new Bench(rigs.R34).trace("Processor Out 5"))).toBeNull();
    expect(ownerOf(new Bench(rigs.R43).trace("House Local out 1"))).toBeNull();
  });

  test("[O2] blocks are the bank's, cut where another rule of the mode takes over", () => {
    expect(new Bench(rigs.R05).blocks("Box")).toEqual([
      "Out 1–8: one owner, House",
      "Out 9–16: one owner, Monitors",
    ]);
    expect(new Bench(rigs.R07).blocks("Box")).toEqual([
      "Out 1–8: one owner, House",
      "Out 9–12: one owner, Monitors",
      "Out 13–16: one owner, Truck",
    ]);
    // Two fixed jacks, then six that the user sets.
    expect(new Bench(rigs.R41).blocks("Fixed")).toEqual(["Out 1–2: partly fed", "Out 3–8: partly fed"]);
    expect(new Bench(rigs.R34).blocks("Ears")).toEqual(["Radio 1–2: one owner, House"]);
  });

  test("[O2] the mode decides whose the monitor bus is", () => {
    expectTraces(rigs.R05, ["Box Monitor bus out 1 ← House Mix 17, 2 hops"]);
    expectTraces(rigs.R06, ["Box Monitor bus out 1 ← Monitors Mix 9, 2 hops"]);
  });

  test("[O3] unfed, shared, partly fed, or one owner's", () => {
    const bench = new Bench(rigs.R13);
    expect(bench.blocks("House")).toEqual(["Local out 1–8: shared, House, Monitors"]);
    expect(bench.blocks("Monitors")).toEqual(["Local out 1–8: partly fed, Monitors"]);
    expect(bench.blocks("Spare")).toEqual(["Local out 1–8: unfed"]);
    expect(new Bench(rigs.R01).blocks("Box")).toEqual(["Out 1–8: one owner, House"]);
    expect(new Bench(rigs.R01).blocks("Wedge")).toEqual(["Thru 1–1: one owner, House"]);
    // All of it arrives, and none of it from a console.
    expect(new Bench(rigs.R41).blocks("Both")).toEqual([
      "Out 1–1: sources only",
      "Out 2–2: sources only",
      "Out 3–8: unfed",
    ]);
    expect(new Bench(rigs.R33).blocks("Split")).toEqual([
      "Direct 1–8: partly fed",
      "Direct 9–16: unfed",
      "Isolated 1–8: partly fed",
      "Isolated 9–16: unfed",
    ]);
  });

  test("[O2] whoever could break the last jack of a block alone is one of its gatekeepers", () => {
    const { wiring } = new Bench({
      show: rig({
        devices: {
          house: { name: "House", type: "console-24", set: ["out 1 x7 < mix 1", "out 8 < link2 1"] },
          monitors: { name: "Monitors", type: "console-24", clock: "link2", set: ["link2 1 x8 < mix 1"] },
        },
        cables: ["T1: house.link2 - monitors.link2"],
      }),
    });
    const [block] = outputBlocks(wiring, arrivals(wiring), wiring.devices[0]!);
    expect(block).toMatchObject({ first: 1, last: 8, state: "shared" });
    expect(blockGatekeepers(wiring, block!)).toEqual(["house", "monitors"]);
  });

  test("[O3] the blocks that need a look are those that are shared or partly fed, of every span", () => {
    const many = Array.from({ length: 20 }, (_, n) => randomRig(n + 1));
    const seen = new Map<string, number>();
    for (const { show, away } of [...rigs.RIGS.values(), ...many]) {
      const wiring = compile(show, away);
      const found = arrivals(wiring);
      for (const wired of wiring.devices.filter((each) => each !== null)) {
        for (const span of wired.fabric.layout.spans) {
          const uneven = blocksOf(wiring, found, wired, span).filter(
            ({ state }) => state === "shared" || state === "partly fed",
          );
          expect(mixedBlocksOf(wiring, found, wired, span)).toEqual(uneven);
          for (const { state } of uneven) seen.set(state, (seen.get(state) ?? 0) + 1);
        }
      }
    }
    expect(seen.get("shared")).toBeGreaterThan(5);
    expect(seen.get("partly fed")).toBeGreaterThan(100);
  });

  test("[O1] what arrives at a jack is its root where no join stands between", () => {
    const show = rig({
      types: [BOX],
      devices: { box: { name: "Box", type: "box", set: ["out 1 < mix 2"] } },
    });
    const bench = new Bench({ show });
    expect(rootsAt(arrivals(bench.wiring), bench.at("Box Out 1"))).toEqual([bench.at("Box Mix 2")]);
  });

  test("[O3] straight from sources, dark, and a tap beside them", () => {
    const states = (sources: readonly string[], set: readonly string[]): readonly string[] => {
      const show = rig({
        types: [BOX],
        devices: { box: { name: "Box", type: "box", set } },
        sources,
      });
      const wiring = compile(show);
      const found = arrivals(wiring);
      const wired = wiring.devices[0]!;
      const span = wired.fabric.layout.destinations.get(group("out"))!;
      const state = (blocks: ReturnType<typeof blocksOf>): string => blocks.map((each) => each.state).join();
      return [state(blocksOf(wiring, found, wired, span)), state(mixedBlocksOf(wiring, found, wired, span))];
    };
    expect(states([], [])).toEqual(["unfed", ""]);
    expect(states(["Kick: box.in.1"], ["out 1 < in 1"])).toEqual(["partly fed", "partly fed"]);
    expect(states(["Kick: box.in.1"], ["out 1 < in 1", "out 2 < in 2"])).toEqual([
      "partly fed",
      "partly fed",
    ]);
    const both = ["Kick: box.in.1", "Snare: box.in.2"];
    expect(states(both, ["out 1 x2 < in 1"])).toEqual(["sources only", ""]);
    // Nobody owns what comes from a source, so the one tap beside it owns the block.
    expect(states(both, ["out 1 < in 1", "out 2 < mix 1"])).toEqual(["one owner", ""]);
    expect(states(both, ["out 2 < mix 1"])).toEqual(["partly fed", "partly fed"]);
  });
});

/** Two outputs that take two inputs or two mixes. */
const BOX = type("box", {
  banks: [
    bank("in", "In", "in", 2, "XLR", "line"),
    bank("out", "Out", "out", 2, "XLR", "line", { block: 2 }),
  ],
  mixer: {
    sections: [
      { id: group("ch"), name: "Channel", role: "channel", count: 1, from: [], block: 1 },
      { id: group("mix"), name: "Mix", role: "mix", count: 2, from: [group("ch")], block: 1 },
    ],
    processing: { value: 0, unit: "ms", provenance: "assumed" },
  },
  rules: [patch(range("out", 1, 2), [range("in", 1, 2), range("mix", 1, 2)], 1)],
});

describe("what a show calls a bus", () => {
  test("[L1] the first mix on it, of a stereo one with its side; nothing without a name", () => {
    const show = rig({
      devices: { house: { name: "House", type: "console-24" } },
      mixes: [
        "Wedge: house.mix.1 < ch 1",
        "Ears: house.mix.3+4 < ch 1",
        "Second: house.mix.4 < ch 1",
        "Blank: house.mix.5 < ch 1",
      ],
    });
    const named = {
      ...show,
      mixes: show.mixes.map((mix) => (mix.name === "Blank" ? { ...mix, name: "" } : mix)),
    };
    const bus = (number: number): string | null =>
      busName(named, { device: id<DeviceId>("house"), group: id<GroupId>("mix"), number });
    expect([1, 2, 3, 4, 5].map(bus)).toEqual(["Wedge", null, "Ears L", "Ears R", null]);
  });
});

describe("wants at a jack", () => {
  test("each want stands at its jack, two of one jack in the show's order, and none at a jack that isn't there", () => {
    const { show } = rigs.R01;
    const want = (name: string, number: number): Want => ({
      id: id<WantId>(name),
      name,
      to: { device: id<DeviceId>("box"), group: id<GroupId>("out"), number },
    });
    const wants = [want("Wedge", 3), want("Nowhere", 99), want("Side fill", 1), want("Spare wedge", 3)];
    const bench = new Bench({ show: { ...show, wants } });
    const { wiring } = bench;
    expect([...wantsAt(wiring).keys()]).toEqual([bench.at("Box Out 3"), bench.at("Box Out 1")]);
    expect(wantNames(wiring, bench.at("Box Out 3"))).toEqual(["Wedge", "Spare wedge"]);
    expect(wantNames(wiring, bench.at("Box Out 2"))).toEqual([]);
  });
});
