/** Downstream: where a signal goes, over every branch. */
import { describe, expect, test } from "vitest";
import { arrivals, LOOP } from "#engine/trace/arrivals.ts";
import { membersOf } from "#engine/trace/members.ts";
import { MOST_BRANCHES, reachOf } from "#engine/trace/reach.ts";
import { terminalOf } from "#engine/trace/terminal.ts";
import { stepsOf } from "#engine/trace/trace.ts";
import { State, type Wiring } from "#engine/wiring/wiring.ts";
import { rig } from "./rigs/build.ts";
import * as rigs from "./rigs/index.ts";
import { Bench, nameOf } from "./tell.ts";

describe("reach", () => {
  test("[R1] lists output jacks, and input jacks with nothing behind them", () => {
    expect(new Bench(rigs.R42).reach("House Main 1")).toEqual([
      "House Local out 1 ← House Main 1, 1 hop",
      "Amp Out 1 ← House Main 1, 2 hops",
      "Cabinet In 1 ← House Main 1, 3 hops",
    ]);
    // A wedge's input has its thru behind it.
    expect(new Bench(rigs.R36).reach("House Main 3")).toEqual([
      "House Local out 3 ← House Main 3, 1 hop",
      "Wedge 2 Thru 1 ← House Main 3, 2 hops",
      "Wedge 3 Thru 1 ← House Main 3, 2 hops",
    ]);
    expect(new Bench(rigs.R14).reach("House Direct out 24")).toEqual([
      "Recorder Track 24 ← House Direct out 24, 3 hops",
    ]);
  });

  test("[R1] passes channels and mixes", () => {
    expect(new Bench(rigs.R11).reach("House Mix 1")).toEqual([
      "Player 2 Phones 1A ← House Mix 1, 4 hops",
      "Player 2 Phones 1B ← House Mix 1, 4 hops",
    ]);
    // Player 1 hears its channel nowhere: no mix takes it.
    expect(new Bench(rigs.R11).reach("Player 1 Channel 1")).toEqual([]);
    expect(new Bench(rigs.R33).reach("Split In 1")).toEqual([
      "Split Direct 1 ← Vocal at Split In 1, 1 hop",
      "Split Isolated 1 ← Vocal at Split In 1, 1 hop",
      "House Local out 1 ← Vocal at Split In 1, 3 hops",
      "Monitors Local out 1 ← Vocal at Split In 1, 3 hops",
      "Monitors Local out 2 ← Vocal at Split In 1, 3 hops",
    ]);
  });

  test("[R1] starts anywhere: from the middle of a way it tells what lies behind", () => {
    expect(new Bench(rigs.R02).reach("House Link 2 in 35")).toEqual([
      "Ears rack Out 3 ← House Link 2 in 35, 3 hops",
    ]);
    expect(new Bench(rigs.R02).reach("House Link 2 in 1")).toEqual([]);
  });

  test("[R1] a jack that it starts at isn't one that it reaches", () => {
    const bench = new Bench(rigs.R42);
    const { traces } = reachOf(bench.wiring, bench.at("House Local out 1"));
    expect(traces.map(({ target }) => nameOf(bench.show, target))).toEqual(["Amp Out 1", "Cabinet In 1"]);
  });

  test("[R1] an input jack with nothing behind it is an end, whatever stands behind its neighbour", () => {
    const bench = new Bench({
      show: rig({
        devices: {
          monitors: { name: "Monitors", type: "console-24", set: ["out 1 x2 < mix 1"] },
          house: { name: "House", type: "console-24", set: ["ch 2 < in 2"] },
        },
        cables: ["X1: monitors.out.1 - house.in.1", "X2: monitors.out.2 - house.in.2"],
      }),
    });
    expect(bench.reach("Monitors Mix 1")).toEqual([
      "Monitors Local out 1 ← Monitors Mix 1, 1 hop",
      "House Local in 1 ← Monitors Mix 1, 2 hops",
    ]);
    expect(bench.reach("Monitors Mix 2")).toEqual(["Monitors Local out 2 ← Monitors Mix 2, 1 hop"]);
  });

  test("[R2] every branch has its trace, in the order of jacks and then of the way taken", () => {
    const bench = new Bench(rigs.R12);
    const ways = reachOf(bench.wiring, bench.at("House Local in 1")).traces.map(
      (trace) =>
        `${nameOf(bench.show, trace.target)}: ${stepsOf(trace)
          .flatMap((step) => (step.kind === "mixed" ? [step.mix] : []))
          .join(" ")}`,
    );
    expect(ways).toEqual([
      // To the matrix from the mains, once through mix 1 and once straight.
      "House Local out 1: wedge main delay",
      "House Local out 1: main delay",
      "House Local out 2: ears",
    ]);
  });

  test("[R2] a branch ends where it would pass a terminal twice", () => {
    expect(new Bench(rigs.R40).reach("House Local in 1")).toEqual([
      "House Local out 1 ← House Local in 1, 1 hop",
      "House Local out 2 ← House Local in 1, 1 hop",
    ]);
    expect(new Bench(rigs.R43).reach("Monitors Link 2 in 1")).toEqual([
      "House Local out 1 ← Monitors Link 2 in 1, 2 hops",
    ]);
  });

  test("[R2] past the most branches that anyone would read, it says that there are more", () => {
    // Every mix hears every channel, every main and matrix every mix: the ways multiply.
    const all = (group: string, count: number): string =>
      Array.from({ length: count }, (_, n) => `${group} ${n + 1}`).join(", ");
    const { show } = {
      show: rig({
        devices: {
          house: {
            name: "House",
            type: "console-96",
            set: ["ch 1 x8 < in 1", "out 1 x8 < mtx 1", "link1 1 x16 < mtx 1"],
          },
          monitors: {
            name: "Monitors",
            type: "console-96",
            clock: "link1",
            set: ["ch 1 x16 < link1 1", "out 1 x8 < mtx 1"],
          },
        },
        cables: ["T1: house.link1 - monitors.link1"],
        mixes: ["house", "monitors"].flatMap((console) => [
          ...Array.from(
            { length: 12 },
            (_, n) => `${console} mix ${n + 1}: ${console}.mix.${n + 1} < ${all("ch", 8)}`,
          ),
          `${console} main: ${console}.main.1+2 < ${all("mix", 12)}`,
          ...Array.from(
            { length: 8 },
            (_, n) => `${console} mtx ${n + 1}: ${console}.mtx.${n + 1} < main 1, main 2`,
          ),
        ]),
      }),
    };
    const bench = new Bench({ show });
    const reach = reachOf(bench.wiring, bench.at("House Local in 1"));
    expect(reach.complete).toBe(false);
    expect(reach.traces.length).toBe(MOST_BRANCHES);
    expect(reachOf(bench.wiring, bench.at("Monitors Mix 1")).complete).toBe(true);
  });

  test("[R3] a jack is reached without a mix exactly where its trace has the start as its root", () => {
    let compared = 0;
    for (const [name, rig] of rigs.RIGS) {
      const { wiring } = new Bench(rig);
      const { root: roots } = arrivals(wiring);
      const rootOf = Array.from(roots, (at) => (at === LOOP ? "" : JSON.stringify(terminalOf(wiring, at))));
      const ends = endsOf(wiring);
      for (let start = 0; start < wiring.size; start++) {
        if (wiring.state[start] !== State.tap && wiring.state[start] !== State.source) continue;
        const plain = reachOf(wiring, start).traces.filter((trace) =>
          stepsOf(trace).every(({ kind }) => kind !== "mixed"),
        );
        const root = JSON.stringify(terminalOf(wiring, start));
        const expected = ends.filter(({ at }) => at !== start && rootOf[at] === root).map(({ told }) => told);
        expect(
          plain.map(({ target }) => JSON.stringify(target)),
          `${name} from ${root}`,
        ).toEqual(expected);
        compared += expected.length;
      }
    }
    expect(compared).toBeGreaterThan(300);
  });

  test("[R3] through mixes, a jack is reached exactly where its tap's members lead back to the start", () => {
    let mixed = 0;
    const wrong: string[] = [];
    for (const name of ["R11", "R12", "R33", "R74", "R77"]) {
      const { wiring } = new Bench(rigs.RIGS.get(name)!);
      const ends = endsOf(wiring);
      for (let start = 0; start < wiring.size; start++) {
        const reached = new Set(reachOf(wiring, start).traces.map(({ target }) => JSON.stringify(target)));
        for (const { at, told } of ends) {
          if (at === start) continue;
          const leads = leadsBack(wiring, at, start, new Set());
          if (reached.has(told) !== leads) wrong.push(`${name} ${start} to ${at}`);
          if (leads) mixed++;
        }
      }
    }
    expect(wrong.slice(0, 10)).toEqual([]);
    expect(mixed).toBeGreaterThan(100);
  });
});

const endsOf = (wiring: Wiring): readonly { readonly at: number; readonly told: string }[] =>
  Array.from({ length: wiring.size }, (_, at) => at)
    .filter((at) => isEnd(wiring, at))
    .map((at) => ({ at, told: JSON.stringify(terminalOf(wiring, at)) }));

/** An output jack, or an input jack that feeds nothing, no join either. */
function isEnd(wiring: Wiring, at: number): boolean {
  const { device, group, side } = terminalOf(wiring, at);
  if (side !== "jack") return false;
  const { type } = wiring.show.devices.find(({ id }) => id === device)!;
  const bank = wiring.show.types.find(({ id }) => id === type)!.banks.find(({ id }) => id === group)!;
  return bank.direction === "out" || !(wiring.feeder.includes(at) || wiring.mixInto.terminal.includes(at));
}

/** Upstream over feeders and members, every way there is. */
function leadsBack(wiring: Wiring, at: number, start: number, passed: Set<number>): boolean {
  if (at === start) return true;
  if (passed.has(at)) return false;
  passed.add(at);
  const feeder = wiring.feeder[at]!;
  if (feeder >= 0) return leadsBack(wiring, feeder, start, passed);
  return membersOf(wiring, at).some(({ member }) => leadsBack(wiring, member, start, passed));
}
