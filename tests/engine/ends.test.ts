/** How traces end, told once for each end, against the traces one by one. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { LOOP } from "#engine/trace/arrivals.ts";
import { endsOf, type End } from "#engine/trace/ends.ts";
import { ownerThrough } from "#engine/trace/owners.ts";
import { originName, verdictText } from "#engine/trace/told.ts";
import { traceOf } from "#engine/trace/walk.ts";
import * as rigs from "./rigs/index.ts";

describe("ends", () => {
  for (const [name, { show, away }] of rigs.RIGS) {
    test(`${name}: each terminal's end says what its trace says, and those of one end share it`, () => {
      const analysis = analyse(show, away);
      const { wiring, arrivals } = analysis;
      const endOf = endsOf(analysis);
      const all = Array.from({ length: wiring.size }, (_, terminal) => terminal);
      const told = all.map((terminal): End => {
        const trace = traceOf(wiring, terminal);
        const { verdict } = trace;
        const owner = ownerThrough(wiring, arrivals, trace);
        return {
          verdict: verdict.kind,
          reason: verdictText(wiring, trace),
          origin: verdict.kind === "arrives" ? originName(wiring, verdict.origin) : "",
          owner: owner === null ? -1 : wiring.indexOf.get(owner)!,
        };
      });
      expect(all.map(endOf)).toEqual(told);
      const first = new Map<number, number>();
      for (const terminal of all) first.set(arrivals.root[terminal]!, terminal);
      first.delete(LOOP);
      const parted = all.filter((terminal) => {
        const other = first.get(arrivals.root[terminal]!);
        return other !== undefined && endOf(terminal) !== endOf(other);
      });
      expect(parted).toEqual([]);
    });
  }

  test("what is round a loop and hangs on it shares one end, wherever one begins", () => {
    const analysis = analyse(rigs.R43.show);
    const { wiring, arrivals } = analysis;
    const looped = Array.from(arrivals.root.keys()).filter((terminal) => arrivals.root[terminal] === LOOP);
    // Eight loops of four slots, and a jack that one of them feeds.
    expect(looped).toHaveLength(33);
    for (const order of [looped, looped.toReversed()]) {
      const endOf = endsOf(analysis);
      for (const terminal of order) {
        const above = wiring.feeder[terminal]!;
        expect(endOf(terminal)).toBe(endOf(above));
      }
    }
  });
});
