/** W22 to W25, F33: inserts by outside jacks. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { bank, group, wired } from "#engine/catalog/parts.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import type { MixSection } from "#engine/model/device-type.ts";
import { applyEdits } from "#engine/model/edit.ts";
import type { Show } from "#engine/model/show.ts";
import { latencies } from "#engine/trace/latency.ts";
import { membersOf } from "#engine/trace/members.ts";
import { decidedBy } from "#engine/trace/told.ts";
import { stepsOf } from "#engine/trace/trace.ts";
import { rig } from "./rigs/build.ts";
import * as rigs from "./rigs/index.ts";
import { type } from "./rigs/types.ts";
import { Bench, expectTraces, tellSteps, type Rig } from "./tell.ts";
import { findingsOf, reasons, told, withDevice } from "./checks/told.ts";
import { offered, whole } from "./checks/whole.ts";

const members = (rig: Rig, tap: string): readonly string[] => {
  const bench = new Bench(rig);
  return membersOf(bench.wiring, bench.at(tap)).map(
    ({ member, step }) => `${bench.name(member)}, ${step.delay} ms, ${decidedBy(bench.wiring, step)}`,
  );
};

describe("an insert that is out", () => {
  test("[W22] its send carries the channel or the bus, its return is fed and goes nowhere", () => {
    expect(members(rigs.R70, "House Channel send 1")).toEqual(["House Channel 1, 0 ms, insert send"]);
    expect(members(rigs.R70, "House Mix send 1")).toEqual(["House Mix 1, 0 ms, insert send"]);
    expectTraces(rigs.R70, [
      "House Channel return 1 ← House Channel send 1, 3 hops",
      "House Mix return 2: nothing assigned at House Mix return 2, 1 hop",
      "House Mix 1 ← House Mix 1, 1 hop",
      "House Local out 1 ← House Mix 1, 1 hop",
    ]);
    expect(members(rigs.R70, "House Mix 1")).toEqual([
      "House Channel 1, 0.6 ms, Band, pre fader",
      "House Channel 2, 0.6 ms, Band, post fader",
    ]);
  });
});

describe("an insert in a channel", () => {
  test("[W23] mixes and direct outs take the return, told as the channel was; the send takes the channel", () => {
    expect(members(rigs.R71, "House Mix 1")).toEqual([
      "House Channel return 1, 0.6 ms, Band, pre fader",
      "House Channel 2, 0.6 ms, Band, post fader",
    ]);
    expect(members(rigs.R71, "House Direct out 1")).toEqual(["House Channel return 1, 0.6 ms, direct out"]);
    expect(members(rigs.R71, "House Channel send 1")).toEqual(["House Channel 1, 0 ms, insert send"]);
    expect(findingsOf(rigs.R71.show, "insert", "wrong-feed", "dark-feed")).toEqual([]);
  });

  test("[W25] the source's longest way goes out and back once, with one pass through the mixer (the generic types' own times)", () => {
    const { wiring, arrivals } = analyse(rigs.R71.show);
    const bench = new Bench(rigs.R71);
    const found = latencies(wiring, arrivals)(bench.at("House Local out 1"))!;
    // In and out of the console, of the rack and of the console again; two cables of 2 m at 5 ns a metre.
    expect(found.time).toBeCloseTo(3 * (0.3 + 0.25) + 2 * 0.00001 + 0.6, 9);
    expect(found.taps.map((tap) => bench.name(tap))).toEqual(["House Channel send 1", "House Mix 1"]);
  });
});

describe("an insert in a bus", () => {
  test("[W24] the bus comes from its return, and what went into it goes to its send", () => {
    expectTraces(rigs.R72, [
      "House Mix 1 ← House Mix send 1, 3 hops",
      "House Local out 1 ← House Mix send 1, 3 hops",
    ]);
    expect(members(rigs.R72, "House Mix send 1")).toEqual([
      "House Channel 1, 0.6 ms, Band, pre fader",
      "House Channel 2, 0.6 ms, Band, post fader",
    ]);
    expect(members(rigs.R72, "House Mix 1")).toEqual([]);
    expect(members(rigs.R72, "House Matrix 1")).toEqual(["House Mix 1, 0 ms, Zone, post fader"]);
    const bench = new Bench(rigs.R72);
    const trace = bench.trace("House Mix 1");
    expect(tellSteps(rigs.R72.show, trace).at(-1)).toBe("House Mix 1: insert mix-return 1 x1");
    expect(decidedBy(bench.wiring, stepsOf(trace).at(-1)!)).toBe("insert in");
  });

  test("[F2] a want from the bus is right where the bus itself comes from", () => {
    expect(findingsOf(rigs.R72.show, "wrong-feed", "dark-feed", "insert")).toEqual([]);
    const other = {
      ...rigs.R72.show,
      wants: [{ ...rigs.R72.show.wants[0]!, from: rigs.R72.show.wants[1]!.from! }],
    };
    expect(told(other, "wrong-feed")).toEqual([
      "error wrong-feed:wedge: Wedge gets the wrong signal at House Local out 1",
    ]);
  });
});

describe("findings", () => {
  test("[F33] what doesn't come back, and what isn't there", () => {
    expect(told(rigs.R73.show, "insert")).toEqual([
      "error insert:dark:house: House Channel 2; House Mix 3 are silent behind an insert",
      "error insert:lost:house: House has inserts in that it doesn't have",
    ]);
    expect(reasons(rigs.R73.show, "insert")).toEqual([
      "The insert is in, and nothing arrives at House Channel return 2; House Mix return 3.",
      "No insert returns there: “mtx” 1.",
    ]);
  });

  test("[F33] what comes back from elsewhere than its own send", () => {
    const show = withDevice(rigs.R71.show, "house", {
      routing: rigs.R71.show.devices[0]!.routing.map((setting) =>
        setting.to.group === "ch-return" ? { ...setting, from: { ...setting.from, first: 2 } } : setting,
      ),
    });
    expect(told(show, "insert")).toEqual([
      "warning insert:elsewhere:house: What comes back from the insert of House Channel 1 isn't what went out",
    ]);
  });

  test("[F33] [F27] the way out takes just those at fault out", () => {
    const before = analyse(rigs.R73.show);
    const found = before.findings.filter(({ check }) => check === "insert");
    const fixes = found.flatMap((finding) => fixesOf(before, finding));
    expect(fixes.map(({ label }) => label)).toEqual([
      "Take 2 inserts of House out",
      "Take the insert of House out",
    ]);
    expect(applyEdits(rigs.R73.show, fixes[0]!.edits).devices[0]!.inserts).toEqual([
      { group: "ch-return", first: 1, count: 1 },
      { group: "mtx", first: 1, count: 1 },
    ]);
  });

  const house = (inserts: readonly string[], set: readonly string[]): Show =>
    rig({
      devices: { house: { name: "House", type: "console-24", inserts, set } },
      sources: ["Talk: house.in.1", "Guest: house.in.2"],
    });

  test("[F33] one and more that are silent, each with its channel and its return", () => {
    expect(whole(house(["ch-return 3"], []), "insert")).toEqual([
      "error insert:dark:house: House Channel 3 is silent behind an insert",
      "The insert is in, and nothing arrives at House Channel return 3.",
      "at House Channel 3, House Channel return 3; devices house",
    ]);
    expect(offered(house(["ch-return 3"], []), "insert")).toEqual([
      "Take the insert of House out",
      "  devices house inserts: none",
    ]);
    const split = house(["ch-return 1 x4", "mtx 1"], ["ch-return 2 < in 1", "ch-return 4 < in 2"]);
    expect(offered(split, "insert", "insert:dark:house")).toEqual([
      "Take 2 inserts of House out",
      '  devices house inserts: [{"group":"ch-return","first":2,"count":1},{"group":"ch-return","first":4,"count":1},{"group":"mtx","first":1,"count":1}]',
    ]);
  });

  test("[F33] one and more that bring something else back, told by what does and what should", () => {
    const show = house(["ch-return 5 x2"], ["ch-return 5 < in 2", "ch-return 6 < in 1"]);
    expect(whole(show, "insert")).toEqual([
      "warning insert:elsewhere:house: What comes back from the inserts of House Channel 5–6 isn't what went out",
      "House Local in 2 arrives at House Channel return 5; its own send is House Channel send 5.",
      "at House Channel 5, House Channel return 5, House Channel 6, House Channel return 6; devices house",
    ]);
    expect(offered(show, "insert")).toEqual(["Take 2 inserts of House out", "  devices house inserts: none"]);
  });

  test("[F33] those that the device doesn't have, and the way out, which leaves the others in", () => {
    const show = house(["mtx 1 x2", "ch-return 1", "ch-return 30"], ["ch-return 1 < in 1"]);
    expect(whole(show, "insert").slice(0, 3)).toEqual([
      "error insert:lost:house: House has inserts in that it doesn't have",
      "No insert returns there: “mtx” 1–2, “ch-return” 30.",
      "devices house",
    ]);
    expect(offered(show, "insert", "insert:lost:house")).toEqual([
      "Take 2 inserts of House out",
      '  devices house inserts: [{"group":"ch-return","first":1,"count":1}]',
    ]);
  });

  test("[F33] a return without a send can't get the wrong signal back", () => {
    const section = (name: string, role: "channel" | "return", from: readonly string[]): MixSection => ({
      id: group(name),
      name,
      role,
      count: 2,
      from: from.map(group),
      block: 2,
    });
    const half = type("half", {
      banks: [bank("in", "In", "in", 2, "XLR", "line")],
      mixer: {
        sections: [section("ch", "channel", []), section("ret", "return", ["ch"])],
        processing: { value: 0, unit: "ms", provenance: "assumed" },
      },
      rules: [wired("ret", 1, "in", 1, 2)],
    });
    const show = rig({
      types: [half],
      devices: {
        house: { name: "House", type: "console-24" },
        half: { name: "Half", type: "half", inserts: ["ret 1"] },
      },
      sources: ["Talk: half.in.1"],
    });
    expect(whole(show, "insert")).toEqual([]);
  });
});
