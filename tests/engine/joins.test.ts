/** J1 to J5: passive joins. */
import { describe, expect, test } from "vitest";
import { analyse, reanalyse } from "#engine/analysis.ts";
import { allTraces } from "#engine/exchange/reports.ts";
import { preampsOf } from "#engine/findings/preamp.ts";
import type { Show } from "#engine/model/show.ts";
import { pack, unpack } from "#engine/parcel.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { latencies } from "#engine/trace/latency.ts";
import { arrivesAt, ownerIndex } from "#engine/trace/owners.ts";
import { membersOf } from "#engine/trace/reach.ts";
import { decidedBy } from "#engine/trace/told.ts";
import * as rigs from "./rigs/index.ts";
import { Bench, expectTraces, type Rig } from "./tell.ts";
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
      "Odd Out 2 ← Odd Join 2, 1 hop",
      "Odd Out 3: not wired at Odd Join 3 (mode normal), 1 hop",
    ]);
  });
});

describe("behind a join", () => {
  test("[J2] a trace ends there, whatever its legs bring; off it is off", () => {
    const lines = [
      "Rack Out 1 ← Join box Join 1, 2 hops",
      "Rack Out 2 ← Join box Join 2, 2 hops",
      "Rack Out 3 ← Join box Join 3, 2 hops",
    ];
    expectTraces(rigs.R74, lines);
    expectTraces(rigs.R76, lines);
    expectTraces({ show: withDevice(rigs.R74.show, "join", { powered: false }) }, [
      "Rack Out 1: off at Join box Out 1, 2 hops",
    ]);
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
