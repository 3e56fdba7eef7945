/**
 * The engine against an independent reading of the specification, walked by a graph library. Outside help: the walks are
 * `graphology`'s, the reading of the rules is `reference.ts`, which shares no code with the wiring.
 *
 * `HOPLINE_RIGS=20000 npm test` checks more rigs; the seeds of rigs that once failed are always among them.
 */
import { describe, expect, test } from "vitest";
import { arrivals, LOOP } from "#engine/trace/arrivals.ts";
import { outputBlocks, ownerIndex } from "#engine/trace/owners.ts";
import { reachOf } from "#engine/trace/reach.ts";
import { terminalOf, type Terminal } from "#engine/trace/terminal.ts";
import { gatekeepers, stepsOf, type Trace } from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { compile } from "#engine/wiring/compile.ts";
import type { Wiring } from "#engine/wiring/wiring.ts";
import { randomRig } from "../property/random-rig.ts";
import { arrivingAt, graphOf, reachDown, walkOn, walkUp, type GraphWalk, type RigGraph } from "./graph.ts";
import { keyOf } from "./reference.ts";

/**
 * Seeds that once told the two apart, kept for good. What the first runs found, before the generator knew networks,
 * stands as rigs of its own: R12, R28, R37, R38, R41, R53, R54.
 */
const FAILED_ONCE: readonly number[] = [];

const RIGS = Number(process.env["HOPLINE_RIGS"] ?? 500);
/** A title for every so many rigs keeps the report short; a failure names its own seed. */
const BATCH = 50;

const key = ({ device, group, side, number }: Terminal): string => keyOf(device, group, side, number);

/** A trace in the terms of the graph walk. */
function told(trace: Trace, steps: number): Omit<GraphWalk, "way"> {
  const { verdict, delay } = trace;
  if (verdict.kind === "loop") {
    return { root: key(verdict.cycle[0]!), end: "loop", steps: 0, delay: 0, cycle: verdict.cycle.map(key) };
  }
  if (verdict.kind === "arrives")
    return { root: key(verdict.origin.at), end: verdict.origin.kind, steps, delay, cycle: [] };
  const end = verdict.kind === "mismatch" ? (`mismatch-${verdict.why}` as const) : verdict.kind;
  return { root: key(verdict.at), end, steps, delay, cycle: [] };
}

/** Conversions are steps of a trace, but no edges of the graph; a stream's cables and switches are one edge together. */
const edgesOf = (trace: Trace): number => {
  const steps = stepsOf(trace).filter((step) => step.kind !== "converted");
  // Between two cables of one stream lies one switch.
  return steps.length - 2 * steps.filter((step) => step.kind === "streamed").length;
};

const near = (a: number, b: number): boolean => Math.abs(a - b) < 1e-9;

/** One line for each disagreement. */
function differences(wiring: Wiring, graph: RigGraph, seen: Map<string, number>): string[] {
  const wrong: string[] = [];
  const found = arrivals(wiring);
  if (graph.order !== wiring.size)
    return [`the graph has ${graph.order} terminals, the wiring ${wiring.size}`];
  for (let terminal = 0; terminal < wiring.size; terminal++) {
    const name = key(terminalOf(wiring, terminal));
    const expected = walkOn(graph, name);
    seen.set(expected.end, (seen.get(expected.end) ?? 0) + 1);
    const trace = traceOf(wiring, terminal);
    const got = told(trace, edgesOf(trace));
    const same =
      got.end === expected.end &&
      (expected.end === "loop"
        ? // One cycle, told from another start and the other way round.
          [...got.cycle].sort().join() === [...expected.cycle].sort().join()
        : got.root === expected.root && got.steps === expected.steps && near(got.delay, expected.delay));
    const { verdict } = trace;
    if (verdict.kind === "off" && graph.getNodeAttribute(key(verdict.at), "cable") !== verdict.cable)
      wrong.push(`${name}: off for cable ${verdict.cable}, which the graph doesn't say`);
    if (!same) wrong.push(`${name}: graph ${JSON.stringify(expected)}, trace ${JSON.stringify(got)}`);
    const root = found.root[terminal]!;
    // The arrays stop at every join.
    const chased = walkUp(graph, name);
    if (chased.root !== expected.root) seen.set("through a join", (seen.get("through a join") ?? 0) + 1);
    const inArrays =
      root === LOOP
        ? chased.end === "loop"
        : key(terminalOf(wiring, root)) === chased.root &&
          found.steps[terminal] === chased.steps &&
          near(found.delay[terminal]!, chased.delay);
    if (!inArrays) wrong.push(`${name}: graph ${JSON.stringify(chased)}, arrivals end at ${root}`);
    const passed = new Set<string>(gatekeepers(trace));
    for (const at of expected.way) {
      const [device] = at.split("/");
      if (!passed.has(device!)) wrong.push(`${name}: ${device} is on the way but no gatekeeper`);
    }
  }
  return wrong;
}

const seeds = [...FAILED_ONCE, ...Array.from({ length: RIGS }, (_, n) => n + 1)];
const batches = Array.from({ length: Math.ceil(seeds.length / BATCH) }, (_, n) =>
  seeds.slice(n * BATCH, (n + 1) * BATCH),
);

describe("traces against a graph library on random rigs", () => {
  const seen = new Map<string, number>();
  test.each(batches.map((batch) => ({ batch, from: batch[0], to: batch.at(-1) })))(
    "[T1] [T10] [T12] [T13] [J2] every terminal's walk upstream agrees in verdict, root, steps and delay; seeds $from to $to",
    ({ batch }) => {
      const wrong = batch.flatMap((seed) => {
        const { show, away } = randomRig(seed);
        return differences(compile(show, away), graphOf(show, away), seen).map(
          (line) => `seed ${seed}: ${line}`,
        );
      });
      expect(wrong.slice(0, 20)).toEqual([]);
    },
  );

  // A comparison proves nothing about verdicts that the rigs never have.
  test("[T1] the rigs have every verdict many times over", () => {
    const rare = [
      "tap",
      "source",
      "nothing-assigned",
      "not-plugged",
      "beyond-slots",
      "not-wired",
      "mismatch-rate",
      "mismatch-clock",
      "loop",
      "off",
      "unknown",
      "through a join",
    ].filter((end) => (seen.get(end) ?? 0) < RIGS / 5);
    expect(rare).toEqual([]);
  });
});

describe("reach against a graph library on random rigs", () => {
  test.each(batches.map((batch) => ({ batch, from: batch[0], to: batch.at(-1) })))(
    "[R1] [R3] jacks reached without mixes and through them agree; seeds $from to $to",
    ({ batch }) => {
      const wrong: string[] = [];
      for (const seed of batch) {
        const { show, away } = randomRig(seed);
        const wiring = compile(show, away);
        const graph = graphOf(show, away);
        for (let start = 0; start < wiring.size; start += 7) {
          const name = key(terminalOf(wiring, start));
          const reach = reachOf(wiring, start);
          if (!reach.complete) continue;
          const isEnd = (at: string): boolean => {
            if (graph.getNodeAttribute(at, "side") !== "jack") return false;
            const [device, group] = at.split("/");
            const type = show.types.find(
              ({ id }) => id === show.devices.find((each) => each.id === device)?.type,
            );
            const out = type?.banks.some((bank) => bank.id === group && bank.direction === "out");
            return out || graph.outDegree(at) === 0;
          };
          const compare = (what: string, got: readonly Trace[], mixes: boolean): void => {
            const expected = [...reachDown(graph, name, mixes)].filter(isEnd).sort();
            const jacks = [...new Set(got.map(({ target }) => key(target)))].sort();
            if (jacks.join() !== expected.join()) {
              wrong.push(
                `seed ${seed}: ${name} ${what}: graph ${expected.join(" ")}; reach ${jacks.join(" ")}`,
              );
            }
          };
          const plain = reach.traces.filter((trace) => stepsOf(trace).every(({ kind }) => kind !== "mixed"));
          compare("without mixes", plain, false);
          compare("through mixes", reach.traces, true);
        }
      }
      expect(wrong.slice(0, 20)).toEqual([]);
    },
  );
});

describe("owners against a graph library on random rigs", () => {
  let joined = 0;
  test.each(batches.map((batch) => ({ batch, from: batch[0], to: batch.at(-1) })))(
    "[O1] [O3] [J3] a block's owners and how much of it is fed agree; seeds $from to $to",
    ({ batch }) => {
      const wrong: string[] = [];
      for (const seed of batch) {
        const { show, away } = randomRig(seed);
        const wiring = compile(show, away);
        const graph = graphOf(show, away);
        const found = arrivals(wiring);
        for (const wired of wiring.devices) {
          if (!wired) continue;
          for (const { span, first, last, state, owners, fed } of outputBlocks(wiring, found, wired)) {
            if (span.side !== "jack") continue;
            const jacks = Array.from({ length: last - first + 1 }, (_, n) =>
              arrivingAt(graph, keyOf(wired.device.id, span.bank.id, "jack", first + n)),
            );
            const arriving = jacks.filter(({ length }) => length > 0);
            const ownersOf = (ends: readonly GraphWalk[]): ReadonlySet<string> =>
              new Set(ends.filter(({ end }) => end === "tap").map(({ root }) => root.split("/")[0]!));
            const expectedOwners = ownersOf(arriving.flat());
            const expected =
              arriving.length === 0
                ? "unfed"
                : expectedOwners.size > 1
                  ? "shared"
                  : arriving.length < jacks.length
                    ? "partly fed"
                    : expectedOwners.size === 0
                      ? "sources only"
                      : "one owner";
            const name = `seed ${seed}: ${wired.device.id}/${span.bank.id} ${first}–${last}`;
            if (state !== expected || fed !== arriving.length)
              wrong.push(`${name}: graph ${expected}, engine ${state}`);
            for (const [n, ends] of jacks.entries()) {
              const [one, ...more] = ownersOf(ends);
              // One device owns what it alone brings, and no source beside it.
              const alone = more.length === 0 && ends.every(({ end }) => end === "tap") ? one : undefined;
              const at = ownerIndex(wiring, found, wired.base + span.start + first - 1 + n);
              const told = wiring.devices[at]?.device.id;
              if (told !== alone) wrong.push(`${name}, jack ${first + n}: graph ${alone}, engine ${told}`);
              if (ends.length > 1) joined++;
            }
            if ([...owners].sort().join() !== [...expectedOwners].sort().join())
              wrong.push(`${name}: owners differ`);
          }
        }
      }
      expect(wrong.slice(0, 20)).toEqual([]);
    },
  );

  test("[J3] jacks get several signals over joins many times over", () => {
    expect(joined).toBeGreaterThan(RIGS / 5);
  });
});
