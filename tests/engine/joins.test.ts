/** J1 to J5: passive joins. */
import { describe, expect, test } from "vitest";
import { analyse, reanalyse } from "#engine/analysis.ts";
import { allTraces } from "#engine/exchange/reports.ts";
import { bank, group, wired } from "#engine/catalog/parts.ts";
import { preampsOf } from "#engine/findings/preamp.ts";
import type { MixSection } from "#engine/model/device-type.ts";
import type { Show } from "#engine/model/show.ts";
import { pack, unpack } from "#engine/parcel.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { latencies } from "#engine/trace/latency.ts";
import { arrivesAt, ownerIndex } from "#engine/trace/owners.ts";
import { membersOf } from "#engine/trace/members.ts";
import { decidedBy } from "#engine/trace/told.ts";
import * as rigs from "./rigs/index.ts";
import { compile } from "#engine/wiring/compile.ts";
import { rig } from "./rigs/build.ts";
import { type } from "./rigs/types.ts";
import { Bench, expectTraces, tellSteps, type Rig } from "./tell.ts";
import { reasons, told, withDevice, withMix } from "./checks/told.ts";

const members = (rig: Rig, tap: string): readonly string[] => {
  const bench = new Bench(rig);
  return membersOf(bench.wiring, bench.at(tap)).map(
    ({ member, step }) => `${bench.name(member)}, ${step.delay} ms, ${decidedBy(bench.wiring, step)}`,
  );
};

/** `House`, `nobody`, or `dark`. */
const owner = (rig: Rig, name: string): string => {
  const bench = new Bench(rig);
  const found = arrivals(bench.wiring);
  const at = bench.at(name);
  if (!arrivesAt(bench.wiring, found, at)) return "dark";
  return bench.wiring.devices[ownerIndex(bench.wiring, found, at)]?.device.name ?? "nobody";
};

/** All ways of both consoles plugged and patched, each from a mix of its own. */
const withWays = (show: Show, ways: number): Show => ({
  ...show,
  devices: show.devices.map((device) => ({
    ...device,
    routing: device.routing.map((setting) => ({
      ...setting,
      from: { ...setting.from, first: 1 },
      count: ways,
    })),
  })),
  cables: show.cables.map((cable) => ({ ...cable, ways })),
  sources: [],
});

describe("what goes into a join", () => {
  test("[J1] terminal n takes terminal n of each of its groups, with nothing to set and no delay", () => {
    expect(members(rigs.R74, "Join box Join 1")).toEqual([
      "Join box In A 1, 0 ms, passive join",
      "Join box In B 1, 0 ms, passive join",
    ]);
    expect(members(rigs.R78, "Odd Join 1")).toEqual([
      "Odd In 1, 0 ms, passive join",
      "Odd Channel 1, 0 ms, passive join",
    ]);
  });

  test("[J1] no mix goes into it, and past its legs there is nothing", () => {
    expect(members(rigs.R78, "Odd Join 2")).toEqual(["Odd In 2, 0 ms, passive join"]);
    expect(told(rigs.R78.show, "mix-member-refused")).toEqual([
      "error mix-member-refused:extra: “Extra” can't take Channel 1 of Odd",
    ]);
    expect(reasons(rigs.R78.show, "mix-member-refused")).toEqual([
      "A passive join takes its own legs and nothing else. 1 member of 1 is silent there.",
    ]);
    expectTraces(rigs.R78, [
      "Odd Out 1 ← Odd Join 1, 1 hop",
      // The mix that lies on it doesn't count, and nothing is plugged in its one leg.
      "Odd Out 2: not plugged at Odd In 2, 1 hop",
      "Odd Out 3: not wired at Odd Join 3 (mode normal), 1 hop",
    ]);
  });
});

describe("behind a join", () => {
  test("[J2] a trace ends there where a leg brings something; off it is off", () => {
    expectTraces(rigs.R74, [
      "Rack Out 1 ← Join box Join 1, 2 hops",
      "Rack Out 2 ← Join box Join 2, 2 hops",
      "Rack Out 3 ← Join box Join 3, 2 hops",
    ]);
    // First is a join that brings something, so what it feeds arrives from there.
    expectTraces(rigs.R77, ["Second Out 3 ← Second Join 3, 1 hop", "House Channel 3 ← First Join 1, 2 hops"]);
    expectTraces({ show: withDevice(rigs.R74.show, "join", { powered: false }) }, [
      "Rack Out 1: off at Join box Out 1, 2 hops",
    ]);
  });

  test("[J2] [T10] where none does it goes on over the first leg that has something plugged in, else over the first", () => {
    expectTraces(rigs.R76, [
      // Nothing is in leg A of way 1; in leg B is a console that is off. Nothing is in either leg of way 2.
      "Rack Out 1: off at Monitors Local out 1, 3 hops",
      "Rack Out 2: not plugged at Join box In A 2, 2 hops",
      "Rack Out 3 ← Join box Join 3, 2 hops",
    ]);
    const bench = new Bench(rigs.R76);
    expect(tellSteps(bench.show, bench.trace("Rack Out 1"))).toEqual([
      // 4 m and 10 m at 5 ns a metre; 0.3 ms into the rack and 0.25 ms out of it: the generic types' times.
      "Join box In B 1: cable B, 0.00002 ms",
      "Join box Join 1: direct out, direct",
      "Join box Out 1: wired in mode normal, rule 0",
      "Rack In 1: cable O, 0.00005 ms",
      "Rack In 1: to digital, 0.3 ms",
      "Rack Out 1: set out 1 x3 < in 1",
      "Rack Out 1: to analogue, 0.25 ms",
    ]);
    const { traces } = allTraces(analyse(rigs.R76.show));
    const [first] = traces.filter(({ device }) => device === "Rack");
    expect(first).toMatchObject({ verdict: "off", reason: "Monitors is off", origin: null, owner: null });
    expect(first!.gatekeepers).toEqual(["Monitors", "Join box", "Rack"]);
  });

  test("[J2] a leg's signal is followed back to the very first terminal of the rig", () => {
    const through = type("through", {
      banks: [bank("in", "In", "in", 1, "XLR", "line"), bank("out", "Out", "out", 1, "XLR", "line")],
      rules: [wired("out", 1, "in", 1, 1)],
      clock: "none",
    });
    const show = rig({
      types: [through],
      devices: {
        through: { name: "Through", type: "through" },
        join: { name: "Join box", type: "join-8" },
      },
      cables: ["A: through.out.1 - join.a.1"],
      sources: ["Player: through.in.1"],
    });
    expectTraces({ show }, ["Join box Out 1 ← Join box Join 1, 1 hop"]);
    expectTraces({ show: { ...show, sources: [] } }, ["Join box Out 1: not plugged at Through In 1, 2 hops"]);
  });

  test("[J2] a leg with a cable in it that joins nothing comes before one with no cable", () => {
    const digital = type("digital", { banks: [bank("out", "Out", "out", 1, "XLR", "AES3")] });
    const show = rig({
      types: [digital],
      devices: {
        join: { name: "Join box", type: "join-8" },
        digital: { name: "Digital", type: "digital" },
      },
      cables: ["X: digital.out.1 - join.b.1"],
    });
    expectTraces({ show }, ["Join box Out 1: not plugged at Join box In B 1 (X joins nothing), 1 hop"]);
  });

  test("[J2] through joins behind joins, and the nearest join's legs count first", () => {
    const show = (more: readonly string[]): Show =>
      rig({
        devices: {
          house: { name: "House", type: "console-24" },
          first: { name: "First", type: "join-8" },
          second: { name: "Second", type: "join-8" },
        },
        cables: ["F: first.out.1 - second.a.1", ...more],
      });
    // Second's leg B has nothing in it, nor have First's legs: the one nearest to the jack is told.
    expectTraces({ show: show([]) }, ["Second Out 1: not plugged at Second In B 1, 1 hop"]);
    // House's outputs 1 and 2 have nothing assigned. First's leg A has one of them plugged in, then Second's leg B too.
    expectTraces({ show: show(["A: house.out.1 - first.a.1"]) }, [
      "Second Out 1: nothing assigned at House Local out 1, 3 hops",
    ]);
    expectTraces({ show: show(["A: house.out.1 - first.a.1", "B: house.out.2 - second.b.1"]) }, [
      "Second Out 1: nothing assigned at House Local out 2, 2 hops",
    ]);
  });

  test("[J2] [J3] past 256 joins one behind another the rest stand closed: something arrives, and nobody owns it", () => {
    const boxes = Array.from({ length: 257 }, (_, n) => `j${n + 1}`);
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["out 1 < mix 1"] },
        ...Object.fromEntries(boxes.map((key) => [key, { name: key, type: "join-8" }])),
      },
      cables: [
        "A: house.out.1 - j1.a.1",
        ...boxes.slice(1).map((key, n) => `C${n + 1}: ${boxes[n]!}.out.1 - ${key}.a.1`),
      ],
    });
    expect([owner({ show }, "j256 Out 1"), owner({ show }, "j257 Out 1")]).toEqual(["House", "nobody"]);
    expectTraces({ show }, ["j257 Out 1 ← j257 Join 1, 1 hop"]);
  });

  test("[J2] [T3] a loop where all goes round, out of the join and in again or before it", () => {
    expectTraces(rigs.R77, [
      "Second Out 2: loop Second In A 2 → Second Join 2 → Second Out 2, 1 hop",
      "Second Join 2: loop Second In A 2 → Second Join 2 → Second Out 2, 1 hop",
    ]);
    // A rack that is plugged into itself, and both legs of a join behind it.
    const rack = rig({
      devices: {
        rack: { name: "Rack", type: "processor-8", set: ["out 1 < in 1", "out 2 < in 1", "out 3 < in 1"] },
        join: { name: "Join box", type: "join-8" },
      },
      cables: ["R: rack.out.1 - rack.in.1", "A: rack.out.2 - join.a.1", "B: rack.out.3 - join.b.1"],
    });
    expectTraces({ show: rack }, ["Join box Out 1: loop Rack In 1 → Rack Out 1, 2 hops"]);
  });

  test("[J3] a jack belongs to the device that brings all that arrives there, else to none", () => {
    const ways = (rig: Rig): readonly string[] => [1, 2, 3].map((n) => owner(rig, `Rack Out ${n}`));
    expect(ways(rigs.R74)).toEqual(["nobody", "House", "nobody"]);
    expect(ways(rigs.R75)).toEqual(["House", "House", "nobody"]);
    expect(ways(rigs.R76)).toEqual(["dark", "dark", "nobody"]);
    // A console and a microphone: neither brings all of it. A join behind it brings the same, and its own output nothing.
    expect(["First Out 1", "Second Out 1", "Second Out 2"].map((jack) => owner(rigs.R77, jack))).toEqual([
      "nobody",
      "nobody",
      "dark",
    ]);
    const { traces } = allTraces(analyse(rigs.R75.show));
    expect(
      traces.filter(({ device, number }) => device === "Rack" && number <= 3).map((each) => each.owner),
    ).toEqual(["House", "House", null]);
  });

  test("[J3] a mix that stands beside a join in its type is none", () => {
    const section = (name: string, role: MixSection["role"], from: readonly string[]): MixSection => ({
      id: group(name),
      name,
      role,
      count: 1,
      from: from.map(group),
      block: 1,
    });
    const combo = type("combo", {
      banks: [bank("in", "In", "in", 2, "XLR", "line"), bank("out", "Out", "out", 3, "XLR", "line")],
      mixer: {
        sections: [
          section("before", "mix", ["ch"]),
          section("join", "join", ["in"]),
          section("after", "mix", ["ch"]),
          section("ch", "channel", []),
        ],
        processing: { value: 0, unit: "ms", provenance: "assumed" },
      },
      rules: [wired("out", 1, "before", 1, 1), wired("out", 2, "join", 1, 1), wired("out", 3, "after", 1, 1)],
    });
    const show = rig({
      types: [combo],
      devices: { combo: { name: "Combo", type: "combo" }, box: { name: "Box", type: "join-8" } },
      cables: ["A: combo.out.1 - box.a.1 x3"],
    });
    // Nothing is mixed in, so the mixes are what arrives; the join brings nothing.
    const jacks = ["Combo Out 1", "Combo Out 2", "Combo Out 3", "Box Out 1", "Box Out 2", "Box Out 3"];
    expect(jacks.map((jack) => owner({ show }, jack))).toEqual([
      "Combo",
      "dark",
      "Combo",
      "Combo",
      "dark",
      "Combo",
    ]);
    const { joins } = arrivals(compile(show));
    // One of Combo, eight of Box.
    expect(joins!.size).toBe(9);
  });

  test("[J3] [O3] [F5] a block is shared by all that have a hand in it, be it in one jack only", () => {
    expect(new Bench(rigs.R74).blocks("Rack")).toEqual(["Out 1–8: shared, House, Monitors"]);
    expect(new Bench(rigs.R75).blocks("Rack")).toEqual(["Out 1–8: partly fed, House"]);
    expect(new Bench(rigs.R76).blocks("Rack")).toEqual(["Out 1–8: partly fed"]);
    // All eight ways of two consoles alike: no jack differs from the next.
    const show = withWays(rigs.R74.show, 8);
    expect(new Bench({ show }).blocks("Join box")).toEqual(["Out 1–8: shared, House, Monitors"]);
    expect(told(show, "shared-block").map((line) => line.split(": ")[1])).toEqual([
      "Join box Out 1–8 is shared by House and Monitors",
      "Rack Out 1–8 is shared by House and Monitors",
    ]);
  });

  test("[J4] [R1] a signal's reach and its longest time pass joins, each join once", () => {
    expect(new Bench(rigs.R74).reach("House Mix 1")).toEqual([
      "House Local out 1 ← House Mix 1, 1 hop",
      "Join box Out 1 ← House Mix 1, 2 hops",
      "Rack Out 1 ← House Mix 1, 3 hops",
    ]);
    expect(new Bench(rigs.R77).reach("First In B 1")).toEqual([
      "First Out 1 ← Stage at First In B 1, 1 hop",
      "Second Out 1 ← Stage at First In B 1, 2 hops",
      "Second Out 3 ← Stage at First In B 1, 2 hops",
    ]);
    const { wiring, arrivals: found } = analyse(rigs.R74.show);
    const bench = new Bench(rigs.R74);
    const longest = latencies(wiring, found)(bench.at("Rack Out 1"))!;
    // Out of Monitors 0.25 ms, 4 m and 10 m at 5 ns a metre, in and out of the rack 0.3 and 0.25: the generic types' times.
    expect(longest.time).toBeCloseTo(0.25 + 14 * 5e-6 + 0.3 + 0.25, 9);
    expect(bench.name(longest.origin)).toBe("Monitors Mix 3");
  });

  test("[D6] [J4] a join that nothing arrives at brings nothing, nor does a mix wait for it", () => {
    const dark = analyse(rigs.R76.show);
    expect(latencies(dark.wiring, dark.arrivals)(new Bench(rigs.R76).at("Rack Out 1"))).toBeNull();
    // Band takes channel 1 alone, and that has what First would bring: of both its legs nothing is left.
    const { show } = rigs.R77;
    const alone: Show = {
      ...withMix(show, "band", { members: [{ group: group("ch"), number: 1, tap: "post" }] }),
      cables: show.cables.filter(({ id }) => id === "H"),
      sources: [],
    };
    const { wiring, arrivals: found } = analyse(alone);
    const bench = new Bench({ show: alone });
    const longest = latencies(wiring, found)(bench.at("House Local out 1"))!;
    // From the mix itself, so the jack's conversion is all: 0.25 ms, the generic type's time.
    expect([bench.name(longest.origin), longest.taps]).toEqual(["House Mix 1", []]);
    expect(longest.time).toBeCloseTo(0.25, 9);
  });

  test("[J4] [F26] a microphone's preamp is looked for behind a join as behind a split", () => {
    const { wiring } = analyse(rigs.R77.show);
    const bench = new Bench(rigs.R77);
    expect(preampsOf(wiring)[0]!.preamps.map(({ jack }) => bench.name(jack))).toEqual(["House Local in 1"]);
  });
});

describe("what is planned behind a join", () => {
  test("[J5] [F1] dark where no leg arrives, told leg by leg; a leg with nothing in it only where all are so", () => {
    expect(reasons(rigs.R74.show, "dark-feed")).toEqual([]);
    expect(reasons(rigs.R76.show, "dark-feed")).toEqual([
      "Monitors is off. Dark: Left (Rack Out 1).",
      "Nothing is plugged in Join box In A 2. Dark: Right (Rack Out 2).",
      "Nothing is plugged in Join box In B 2. Dark: Right (Rack Out 2).",
    ]);
  });

  test("[J5] [F1] dark where nothing but its own signal comes back", () => {
    expect(told(rigs.R77.show, "dark-feed")).toEqual([
      "error dark-feed:error:circle:second:join:bus:2: Self is dark: loop at Second Join 2",
    ]);
    expect(reasons(rigs.R77.show, "dark-feed")).toEqual([
      "All that comes to Second Join 2 goes round in a circle. Dark: Self (Second Out 2).",
    ]);
  });

  test("[J5] [F2] right where what is wanted or planned is among what arrives, over further joins too", () => {
    expect(told(rigs.R74.show, "wrong-feed")).toEqual([]);
    expect(told(rigs.R75.show, "wrong-feed")).toEqual([
      "error wrong-feed:left: Left gets the wrong signal at Rack Out 1",
    ]);
    expect(told(rigs.R77.show, "wrong-feed")).toEqual([
      "error wrong-feed:house-guest: House Channel 3 carries the wrong source",
    ]);
    expect(reasons(rigs.R77.show, "wrong-feed")).toEqual(["First Join 1 arrives there; Guest is planned."]);
  });
});

describe("after an edit", () => {
  test("[E1] [J3] who shares what lies behind a join is looked at again when one of its legs changes", () => {
    const off = (show: Show): Show => withDevice(show, "monitors", { powered: false });
    const before = analyse(rigs.R74.show);
    const after = reanalyse(off(rigs.R74.show), before);
    expect(after.findings).toEqual(analyse(after.show).findings);
    expect(after.findings.filter(({ check }) => check === "shared-block")).toEqual([]);
    const again = reanalyse(rigs.R74.show, after);
    expect(again.findings).toEqual(before.findings);
  });

  test("[E2] a rig's joins stay the same object where no signal changes", () => {
    const before = analyse(rigs.R74.show);
    const after = reanalyse(withMix(rigs.R74.show, "talk", { name: "Other" }), before);
    expect(after.arrivals.joins).toBe(before.arrivals.joins);
    expect(analyse(rigs.R70.show).arrivals.joins).toBeNull();
  });

  test("[J3] what comes to joins is the same on the other side of a parcel", () => {
    const sent = analyse(rigs.R77.show);
    const got = unpack(rigs.R77.show, pack(sent, null), null);
    expect(got.arrivals.joins).toEqual(sent.arrivals.joins);
  });
});
