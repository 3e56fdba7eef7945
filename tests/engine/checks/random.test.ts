/** What must hold of the findings on any rig. The seed stands in the test's name. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import { plannedFeeds } from "#engine/findings/feeds.ts";
import { applyEdits } from "#engine/model/edit.ts";
import { arrivesAt } from "#engine/trace/owners.ts";
import { findTerminal } from "#engine/trace/terminal.ts";
import { stepsOf } from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { randomRig } from "../../property/random-rig.ts";

const SEEDS = Array.from({ length: 40 }, (_, n) => n + 1);
/** The checks that tell of a feed that doesn't arrive. */
const DARK = ["dark-feed", "loop", "clock-mismatch", "clock-source"];

describe("findings on random rigs", () => {
  test.each(SEEDS)(
    "[F1] [F4] [F15] [F16] each dark want is told once, behind a join for each leg, and no other, seed %i",
    (seed) => {
      const { show } = randomRig(seed);
      const { wiring, arrivals, findings } = analyse(show);
      const told = findings
        .filter(({ check, severity }) => DARK.includes(check) && severity === "error")
        .flatMap(({ wants }) => wants);
      const dark = show.wants.filter(({ to }) => {
        const jack = findTerminal(wiring, to);
        if (jack === null) return false;
        // A join can have several legs that stop, each for a cause of its own.
        const joined = arrivals.joins?.get(arrivals.root[jack]!);
        return joined ? joined.roots.length === 0 : traceOf(wiring, jack).verdict.kind !== "arrives";
      });
      const once = told.filter((id) => !behindJoin(id) || told.indexOf(id) === told.lastIndexOf(id));
      const more = new Set(told.filter((id) => !once.includes(id)));
      expect([...once, ...more].sort()).toEqual(dark.map(({ id }) => id).sort());

      function behindJoin(want: string): boolean {
        const jack = findTerminal(wiring, show.wants.find(({ id }) => id === want)!.to)!;
        return arrivals.joins?.has(arrivals.root[jack]!) ?? false;
      }
    },
  );

  test.each(SEEDS)("every finding has an id and words of its own, seed %i", (seed) => {
    const { findings } = analyse(randomRig(seed).show);
    expect(new Set(findings.map(({ id }) => id)).size).toBe(findings.length);
    for (const { title, reason } of findings)
      expect(`${title} ${reason}`).not.toMatch(/undefined|NaN|\[object| {2}/);
  });

  test.each(SEEDS)("[F23] agrees with the parts of the traces, seed %i", (seed) => {
    const { wiring, arrivals, findings } = analyse(randomRig(seed).show);
    const resting = plannedFeeds(wiring).flatMap(({ want, terminal }) => {
      if (want === null) return [];
      const trace = traceOf(wiring, terminal);
      const parts = stepsOf(trace).flatMap((step) => step.parts);
      const rests = parts.some(({ provenance }) => provenance === "assumed");
      return arrivesAt(wiring, arrivals, terminal) && rests ? [want] : [];
    });
    expect(findings.find(({ check }) => check === "assumed-path")?.wants ?? []).toEqual(resting);
  });

  test.each(SEEDS.slice(0, 8))(
    "[F27] what is offered clears its finding and adds no error, seed %i",
    (seed) => {
      const { show } = randomRig(seed);
      const before = analyse(show);
      const errors = new Set(
        before.findings.flatMap(({ id, severity }) => (severity === "error" ? [id] : [])),
      );
      for (const finding of before.findings.slice(0, 12)) {
        for (const { edits } of fixesOf(before, finding)) {
          const after = analyse(applyEdits(show, edits)).findings;
          expect(after.map(({ id }) => id)).not.toContain(finding.id);
          expect(after.filter(({ id, severity }) => severity === "error" && !errors.has(id))).toEqual([]);
        }
      }
    },
  );
});
