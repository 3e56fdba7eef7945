/**
 * An analysis after an edit says the same as one from scratch. Random rigs, 200 random edits each; the seeds stand in the
 * titles, and those that once failed are kept. `HOPLINE_RIGS=10000 npm test` makes more runs.
 */
import { describe, expect, test } from "vitest";
import { analyse, reanalyse, type Analysis } from "#engine/analysis.ts";
import type { Show } from "#engine/model/show.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { randomEdit } from "./random-edits.ts";
import { Dice, randomRig } from "./random-rig.ts";

const STEPS = 200;
const RUNS = Math.ceil(Number(process.env["HOPLINE_RIGS"] ?? 500) / 25);
const FIRST = 2_000_001;
/** Seeds that failed once. */
const FAILED_ONCE: readonly number[] = [];
const seeds = [...FAILED_ONCE, ...Array.from({ length: RUNS }, (_, n) => FIRST + n)];
const SEEDS = `seeds ${[...FAILED_ONCE, ""].join(", ")}${FIRST} to ${FIRST + RUNS - 1}`;

const ARRAYS = [
  "feeder",
  "state",
  "edge",
  "setting",
  "delay",
  "sourceAt",
  "deviceOf",
  "downStart",
  "downList",
  "leaders",
] as const;

/** Where two analyses of one show differ; empty where they say the same. */
function differences(again: Analysis, anew: Analysis): string[] {
  const wrong: string[] = [];
  const compare = (what: string, a: ArrayLike<number>, b: ArrayLike<number>): void => {
    if (a.length !== b.length) wrong.push(`${what}: ${a.length} entries for ${b.length}`);
    for (let n = 0; n < a.length; n++) {
      if (a[n] !== b[n]) return void wrong.push(`${what}[${n}] is ${a[n]} and should be ${b[n]}`);
    }
  };
  for (const name of ARRAYS) compare(name, again.wiring[name], anew.wiring[name]);
  for (const table of ["mixInto", "mixOutOf"] as const) {
    for (const part of ["start", "terminal", "mix"] as const) {
      compare(`${table}.${part}`, again.wiring[table][part], anew.wiring[table][part]);
    }
  }
  for (const name of ["root", "steps", "delay"] as const)
    compare(name, again.arrivals[name], anew.arrivals[name]);
  const joins = ({ arrivals }: Analysis): string => JSON.stringify([...(arrivals.joins ?? [])]);
  if (joins(again) !== joins(anew)) wrong.push("what comes to joins differs");
  again.findings.forEach((finding, n) => {
    const told = JSON.stringify(finding);
    const due = JSON.stringify(anew.findings[n]);
    if (told !== due) wrong.push(`finding ${n} is ${told} and should be ${due}`);
  });
  if (again.findings.length !== anew.findings.length)
    wrong.push(`${again.findings.length} findings for ${anew.findings.length}`);
  return wrong;
}

describe("after an edit", () => {
  test(`[E1] ${STEPS} edits, each analysed again = analysed from scratch; ${SEEDS}`, () => {
    let reused = 0;
    for (const seed of seeds) {
      const dice = new Dice(seed);
      let { show } = randomRig(seed);
      let analysis = analyse(show);
      const earlier: Show[] = [];
      for (let step = 0; step < STEPS; step++) {
        const edit = randomEdit(dice, show, earlier.slice(-20));
        earlier.push(show);
        show = edit.show;
        const before = analysis;
        analysis = reanalyse(show, before);
        if (analysis.foundBy.some((found, n) => found.length > 0 && found === before.foundBy[n])) reused++;
        const wrong = differences(analysis, analyse(show));
        expect(wrong.slice(0, 3), `seed ${seed}, step ${step}: ${edit.did}`).toEqual([]);
        // The objects behind the arrays are those of this state, too.
        for (let at = 0; at < analysis.wiring.size; at += 17) traceOf(analysis.wiring, at);
      }
    }
    // Were nothing ever reused, the comparison would prove nothing.
    expect(reused).toBeGreaterThan((seeds.length * STEPS) / 4);
  });
});
