/**
 * What a trace tells beside its verdict: the numbers of a stop, the parts of each delay and where each comes from (T5, T7,
 * T11, D1, D3), from small rigs whose figures are worked out beside them.
 */
import { describe, expect, test } from "vitest";
import { bank, group, range, wired } from "#engine/catalog/parts.ts";
import type { Show } from "#engine/model/show.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { membersOf } from "#engine/trace/members.ts";
import { ownerIndex, rootsAt } from "#engine/trace/owners.ts";
import { reachOf } from "#engine/trace/reach.ts";
import { wiredOf } from "#engine/trace/records.ts";
import { terminalOf } from "#engine/trace/terminal.ts";
import { stepsOf, type Trace } from "#engine/trace/trace.ts";
import { id, type DeviceId } from "#engine/model/ids.ts";
import { withDevice } from "./checks/told.ts";
import { rig } from "./rigs/build.ts";
import * as rigs from "./rigs/index.ts";
import { EIGHT, port, type } from "./rigs/types.ts";
import { Bench, expectTraces } from "./tell.ts";

/** `link send 0.0208 assumed, cable 0.0004 standard`: the parts of each step that takes time. */
const parts = (trace: Trace): readonly string[] =>
  stepsOf(trace)
    .map((step) =>
      step.parts.map(({ what, ms, provenance }) => `${what} ${ms.toFixed(4)} ${provenance}`).join(", "),
    )
    .filter((text) => text !== "");

describe("where a trace stops, with its numbers", () => {
  /** Outputs wired past a port's last slot, and past the last of six jacks. */
  const past = type("past", {
    banks: [
      bank("in", "In", "in", 6, "XLR", "line"),
      bank("out", "Out", "out", 8, "XLR", "line"),
      bank("two", "Two", "out", 2, "XLR", "line"),
    ],
    ports: [port("x", EIGHT)],
    rules: [wired("out", 1, "in", 5, 8), wired("two", 1, "x", 8, 2)],
  });

  test("[T5] [W3] past what a rule takes from: of jacks their number, of a port its slots at the device's rate", () => {
    const at = (rate: 48000 | 96000): Show =>
      rig({ types: [past], devices: { past: { name: "Past", type: "past", rate } } });
    expectTraces({ show: at(48000) }, [
      "Past Out 3: beyond the slots at Past Out 3 (6 at 48 kHz), 1 hop",
      "Past Two 2: beyond the slots at Past Two 2 (8 at 48 kHz), 1 hop",
    ]);
    expectTraces({ show: at(96000) }, [
      "Past Out 3: beyond the slots at Past Out 3 (6 at 96 kHz), 1 hop",
      "Past Two 2: beyond the slots at Past Two 2 (4 at 96 kHz), 1 hop",
    ]);
  });

  test("[T6] what no setting is made for is told with none", () => {
    const bench = new Bench({
      show: rig({ devices: { box: { name: "Box", type: "box-16-8", mode: "gone", set: ["out 1 < a 1"] } } }),
    });
    const { verdict } = bench.trace("Box Out 2");
    expect(verdict).toEqual({
      kind: "not-wired",
      at: terminalOf(bench.wiring, bench.at("Box Out 2")),
      mode: "gone",
      assignment: null,
    });
  });

  test("[T7] of AES3 jacks rate or clock, as the devices' are", () => {
    expectTraces({ show: withDevice(rigs.R18.show, "deck", { sampleRate: 96000 }) }, [
      "Deck Out 1: rate mismatch at Deck In 1A (X1), 1 hop",
    ]);
    expectTraces(rigs.R18, ["Deck Out 1: clock mismatch at Deck In 1A (X1), 1 hop"]);
  });

  test("[T7] [W20] of a stream rate or clock of its sender and its receiver, whatever other cables join", () => {
    // The first cable of the show joins two devices of the same rate, and the stream two of different ones.
    const rates = withDevice(withDevice(rigs.R19.show, "two", { sampleRate: 96000 }), "monitors", {
      sampleRate: 96000,
    });
    expectTraces({ show: rates }, [
      "Monitors Channel 1: rate mismatch at Endpoint 2 Network in 9 (N2), 2 hops",
    ]);
    // And the other way round: the stream's ends differ in their clocks alone, its sender's link in the rates.
    const clocks = withDevice(withDevice(rigs.R19.show, "house", { sampleRate: 96000 }), "two", {
      clock: "internal",
    });
    expectTraces({ show: clocks }, [
      "Monitors Channel 1: clock mismatch at Endpoint 2 Network in 9 (N2), 2 hops",
    ]);
  });
});

describe("what a delay is made of", () => {
  test("[D1] [D3] [T11] conversion, rule, link and cable, each with its own provenance", () => {
    expect(parts(new Bench(rigs.R56).trace("Slow Out 1"))).toEqual([
      "conversion 1.0000 maker's sheet",
      "fabric 0.5000 measured",
      "conversion 0.5000 measured",
    ]);
    // One sample to send and two to receive at 48 kHz; 75 m of category cable at 5.376 ns a metre.
    expect(parts(new Bench(rigs.R02).trace("Stage box Out 1"))).toEqual([
      "link send 0.0208 assumed, cable 0.0004 standard, link receive 0.0417 assumed",
      "conversion 0.2500 assumed",
    ]);
  });

  test("[D1] [D3] [W20] a stream waits for its packet, and is sent and received as a link is", () => {
    const bench = new Bench(rigs.R19);
    const [link, first, second] = parts(bench.trace("Endpoint 2 Link out 1"));
    expect(link).toBe("link send 0.0208 assumed, link receive 0.0417 assumed");
    // A packet of 1 ms and one sample to send; 80 m of category cable twice; two samples to receive.
    expect(first).toBe("link send 1.0000 standard, link send 0.0208 assumed, cable 0.0004 standard");
    expect(second).toBe("cable 0.0004 standard, link receive 0.0417 assumed");
  });

  test("[D1] [D3] the mixer's processing, as a part of the step into the mix; a direct out's names no mix", () => {
    const bench = new Bench(rigs.R12);
    const [channel] = membersOf(bench.wiring, bench.at("House Mix 1"));
    expect(channel!.step.parts).toEqual([{ what: "processing", ms: 0.6, provenance: "assumed" }]);
    const [mix] = membersOf(bench.wiring, bench.at("House Matrix 1"));
    expect([mix!.step.delay, mix!.step.parts]).toEqual([0, []]);
    const [direct] = membersOf(bench.wiring, bench.at("House Direct out 1"));
    expect(direct!.step).toMatchObject({ kind: "mixed", mix: null, tap: "direct", delay: 0.6 });
  });
});

describe("the arrays beside the traces", () => {
  test("[T12] as many steps as there are from terminal to terminal", () => {
    const chain = new Bench(rigs.R03);
    const { steps } = arrivals(chain.wiring);
    // Mix 21 → link out → cable into box 1 → carried on → cable into box 2 → its output.
    expect(steps[chain.at("Box 2 Out 5")]).toBe(5);
    expect(steps[chain.at("House Mix 21")]).toBe(0);
  });

  test("[T3] [T12] what a loop feeds has no root, no steps and no delay, and so nothing comes to it", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["out 1 < in 1", "out 2 < in 1", "ch 1 < in 1"] },
      },
      cables: ["A: house.out.1 - house.in.1", "B: house.out.2 - house.in.2"],
    });
    const bench = new Bench({ show });
    const found = arrivals(bench.wiring);
    for (const name of ["Local in 1", "Local out 1", "Local out 2", "Local in 2", "Channel 1"]) {
      const at = bench.at(`House ${name}`);
      expect([found.root[at], found.steps[at], found.delay[at]], name).toEqual([-1, 0, 0]);
      expect(rootsAt(found, at), name).toEqual([]);
      expect(ownerIndex(bench.wiring, found, at), name).toBe(-1);
    }
  });
});

describe("where a reach begins", () => {
  const bench = new Bench(rigs.R12);
  const origin = (name: string): unknown => {
    const [first] = reachOf(bench.wiring, bench.at(name)).traces;
    return first!.verdict.kind === "arrives" && first!.verdict.origin;
  };

  test("[R1] at a source that is told as such, at a tap, and elsewhere as if it were one", () => {
    const at = (name: string): unknown => terminalOf(bench.wiring, bench.at(name));
    const [source] = bench.show.sources;
    expect(origin("House Local in 1")).toEqual({
      kind: "source",
      at: at("House Local in 1"),
      source: source!.id,
    });
    expect(origin("House Matrix 1")).toEqual({ kind: "tap", at: at("House Matrix 1") });
    expect(origin("House Channel 1")).toEqual({ kind: "tap", at: at("House Channel 1") });
  });
});

describe("what isn't there", () => {
  test("a device of no show has no place in the wiring", () => {
    const { wiring } = new Bench(rigs.R12);
    expect(wiredOf(wiring, id<DeviceId>("gone"))).toBeNull();
    expect(wiredOf(wiring, id<DeviceId>("house"))?.index).toBe(0);
  });
});

describe("blocks at the end of a bank", () => {
  test("[O2] a bank of three jacks is a block of three, though the next bank is no more wired than it", () => {
    const odd = type("odd-banks", {
      banks: [
        bank("in", "In", "in", 1, "XLR", "line"),
        bank("three", "Three", "out", 3, "XLR", "line"),
        bank("two", "Two", "out", 2, "XLR", "line"),
      ],
      mixer: {
        sections: [
          { id: group("ch"), name: "Channel", role: "channel", count: 1, from: [], block: 1 },
          { id: group("mix"), name: "Mix", role: "mix", count: 1, from: [group("ch")], block: 1 },
        ],
        processing: { value: 0, unit: "ms", provenance: "assumed" },
      },
      rules: [{ kind: "patch", to: range("ch", 1, 1), from: [range("in", 1, 1)], run: 1 }],
    });
    const bench = new Bench({
      show: rig({ types: [odd], devices: { odd: { name: "Odd", type: "odd-banks" } } }),
    });
    expect(bench.blocks("Odd")).toEqual(["Three 1–3: unfed", "Two 1–2: unfed"]);
  });
});
