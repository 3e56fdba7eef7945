/** What must hold of the findings on any rig. The seed stands in the test's name. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { CABLES } from "#engine/catalog/cables.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import { plannedFeeds } from "#engine/findings/feeds.ts";
import { applyEdits } from "#engine/model/edit.ts";
import type { DeviceId, WantId } from "#engine/model/ids.ts";
import type { Want } from "#engine/model/show.ts";
import { arrivesAt } from "#engine/trace/owners.ts";
import { findTerminal, locate, terminalOf } from "#engine/trace/terminal.ts";
import { stepsOf } from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { compile } from "#engine/wiring/compile.ts";
import { isOutput } from "#engine/wiring/layout.ts";
import { Edge } from "#engine/wiring/wiring.ts";
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
        return jack !== null && traceOf(wiring, jack).verdict.kind !== "arrives";
      });
      // A join can have several legs that stop, each for a cause of its own.
      const once = told.filter((id) => !behindJoin(id) || told.indexOf(id) === told.lastIndexOf(id));
      const more = new Set(told.filter((id) => !once.includes(id)));
      expect([...once, ...more].sort()).toEqual(dark.map(({ id }) => id).sort());

      function behindJoin(want: string): boolean {
        const jack = findTerminal(wiring, show.wants.find(({ id }) => id === want)!.to)!;
        return arrivals.joins?.has(arrivals.root[jack]!) ?? false;
      }
    },
  );

  test.each(SEEDS)(
    "[F1] each output jack that only a cable hangs in is told where it is dark, seed %i",
    (seed) => {
      const { show } = randomRig(seed);
      // Without anything planned, what is told comes from the cables alone.
      const { wiring, arrivals, findings } = analyse({ ...show, wants: [], channels: [] });
      const told = findings
        .filter(({ check }) => check === "dark-feed")
        .flatMap(({ terminals, title }) =>
          // The jacks stand first, then where they stop.
          terminals.slice(0, title.includes(" feeds are dark") ? Number(title.split(" ")[0]) : 1),
        );
      const due = new Set<number>();
      for (let at = 0; at < wiring.size; at++) {
        const jack = wiring.feeder[at]!;
        if (isSpare(at)) continue;
        if (jack < 0 || wiring.edge[at] !== Edge.cable || !isOutput(locate(wiring, jack).span)) continue;
        const { kind } = traceOf(wiring, jack).verdict;
        if (!["arrives", "loop", "mismatch"].includes(kind) && !behindJoin(jack)) due.add(jack);
      }
      const plain = told
        .map((terminal) => findTerminal(wiring, terminal)!)
        .filter((jack) => !behindJoin(jack));
      expect(plain.sort((a, b) => a - b)).toEqual([...due].sort((a, b) => a - b));

      /** A way of a multicore that nothing was meant for, where another way carries something. */
      function isSpare(at: number): boolean {
        const { edge, setting } = wiring;
        const inCable = (other: number): boolean =>
          edge[other] === Edge.cable && setting[other] === setting[at] && isJack(other);
        if (!inCable(at) || show.cables[setting[at]!]!.ways === 1) return false;
        const { verdict } = traceOf(wiring, at);
        const waits =
          verdict.kind === "nothing-assigned" ||
          (verdict.kind === "not-plugged" && verdict.cable === null && verdict.at.side === "jack");
        const arrive = (other: number): boolean => traceOf(wiring, other).verdict.kind === "arrives";
        return waits && Array.from(edge.keys()).some((other) => inCable(other) && arrive(other));
      }

      function isJack(terminal: number): boolean {
        return locate(wiring, terminal).span.side === "jack";
      }

      function behindJoin(jack: number): boolean {
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

  test.each(SEEDS)("[F23] agrees with the parts of the traces, every jack wanted, seed %i", (seed) => {
    const { show } = randomRig(seed);
    const jacks = compile(show);
    const wants: Want[] = [];
    for (let at = 0; at < jacks.size; at++) {
      const { side, ...to } = terminalOf(jacks, at);
      if (side === "jack") wants.push({ id: `want${at}` as WantId, name: "", to });
    }
    const { wiring, arrivals, findings } = analyse({ ...show, wants });
    const resting: WantId[] = [];
    const devices = new Set<DeviceId>();
    const kinds = new Set<string>();
    for (const { want, terminal } of plannedFeeds(wiring)) {
      if (want === null || !arrivesAt(wiring, arrivals, terminal)) continue;
      const assumed = stepsOf(traceOf(wiring, terminal)).flatMap((step) =>
        step.parts.filter(({ provenance }) => provenance === "assumed").map((part) => ({ step, part })),
      );
      if (assumed.length > 0) resting.push(want);
      for (const { step, part } of assumed) {
        if (part.what === "cable" && step.kind === "cable") {
          kinds.add(CABLES[show.cables.find(({ id }) => id === step.cable)!.kind].name);
        } else devices.add((part.what === "link send" ? step.from : step.to).device);
      }
    }
    const finding = findings.find(({ check }) => check === "assumed-path");
    expect(finding?.wants ?? []).toEqual(resting);
    expect([...(finding?.devices ?? [])].sort()).toEqual([...devices].sort());
    for (const { name } of Object.values(CABLES)) {
      expect(
        /delay per metre of (.*)\. Put/.exec(finding?.reason ?? "")?.[1]?.includes(name) ?? false,
        name,
      ).toBe(kinds.has(name));
    }
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
