/**
 * An analysis after an edit says the same as one from scratch. Random rigs, 200 random edits each; the seeds stand in the
 * titles, and those that once failed are kept. `HOPLINE_RIGS=10000 npm test` makes more runs.
 */
import { describe, expect, test } from "vitest";
import { analyse, reanalyse } from "#engine/analysis.ts";
import type { Show } from "#engine/model/show.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { differences } from "./differences.ts";
import { randomEdit } from "./random-edits.ts";
import { Dice, randomRig } from "./random-rig.ts";

const STEPS = 200;
const RUNS = Math.ceil(Number(process.env["HOPLINE_RIGS"] ?? 500) / 25);
const FIRST = 2_000_001;
/** Seeds that failed once. */
const FAILED_ONCE: readonly number[] = [];
const seeds = [...FAILED_ONCE, ...Array.from({ length: RUNS }, (_, n) => FIRST + n)];
const SEEDS = `seeds ${[...FAILED_ONCE, ""].join(", ")}${FIRST} to ${FIRST + RUNS - 1}`;

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
