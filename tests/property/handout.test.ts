/** The hand-out beside the traces on random rigs. */
import { expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { handoutData } from "#engine/exchange/handout.ts";
import { unpack } from "../../renderer/handout/rig.ts";
import { handoutDifferences } from "../engine/handout-differences.ts";
import { randomRig } from "./random-rig.ts";

const SEEDS = 80;

test(`[V6] of every jack, channel and tap it tells what the trace tells; rigs of seeds 1 to ${SEEDS}`, () => {
  const wrong = Array.from({ length: SEEDS }, (_, n) => n + 1).flatMap((seed) => {
    const { show, away } = randomRig(seed);
    const analysis = analyse(show, away);
    return handoutDifferences(analysis, unpack(handoutData(analysis, "2026-11-26"))).map(
      (line) => `seed ${seed}: ${line}`,
    );
  });
  expect(wrong.slice(0, 10)).toEqual([]);
});
