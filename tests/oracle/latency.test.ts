/**
 * The longest time to a terminal (D6) and what F30 tells of it, against a computation of its own on random rigs. Outside
 * help: the graph and its edges are `graphology`'s, made by `reference.ts`, which shares no code with the wiring. The
 * reading of D6 here is recursive, finds circles by who reaches whom, and goes round them edge by edge as often as there
 * are edges (Bellman and Ford's way), where the engine works forwards through an order of its own.
 */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import type { Show, Want } from "#engine/model/show.ts";
import { id, type WantId } from "#engine/model/ids.ts";
import { ms } from "#engine/model/units.ts";
import { latencies } from "#engine/trace/latency.ts";
import { findTerminal, terminalOf } from "#engine/trace/terminal.ts";
import { compile } from "#engine/wiring/compile.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { randomRig } from "../property/random-rig.ts";
import { arrivingAt, graphOf, walkUp, type GraphWalk, type RigGraph } from "./graph.ts";
import { keyOf } from "./reference.ts";

const RIGS = Number(process.env["HOPLINE_RIGS"] ?? 500);
/** A title for every so many rigs keeps the report short; a failure names its own seed. */
const BATCH = 50;
const seeds = Array.from({ length: RIGS }, (_, n) => n + 1);
const inBatches = (all: readonly number[]): readonly (readonly number[])[] =>
  Array.from({ length: Math.ceil(all.length / BATCH) }, (_, n) => all.slice(n * BATCH, (n + 1) * BATCH));
const batches = inBatches(seeds);
/** Whole analyses take longer than traces, so fewer rigs are asked. */
const FEWER = Math.ceil(RIGS / 4);

interface Longest {
  readonly time: number;
  /** Where it may be counted from: one, or several that take as long. */
  readonly origins: ReadonlySet<string>;
}

/** D6 by its words, for every terminal that is asked. */
class Reading {
  readonly #graph: RigGraph;
  readonly #times = new Map<string, Longest>();
  readonly #takes = new Map<string, readonly { readonly from: string; readonly delay: number }[]>();
  readonly #behind = new Map<string, ReadonlySet<string>>();
  /** Mixes that lay on a circle with others. */
  readonly round = new Set<string>();
  constructor(graph: RigGraph) {
    this.#graph = graph;
  }

  at(terminal: string): Longest | null {
    const walk = this.#arriving(terminal);
    if (!walk) return null;
    const { time, origins } = this.#to(walk.root);
    return { time: time + walk.delay, origins };
  }

  /** The walk up to a tap or source, where something arrives there. */
  #arriving(terminal: string): GraphWalk | null {
    const walk = walkUp(this.#graph, terminal);
    if (walk.end !== "tap" && walk.end !== "source") return null;
    return arrivingAt(this.#graph, walk.root).length > 0 ? walk : null;
  }

  /** The taps and sources that a tap takes, with the time from each. */
  #taken(tap: string): readonly { readonly from: string; readonly delay: number }[] {
    let taken = this.#takes.get(tap);
    if (!taken) {
      const list: { readonly from: string; readonly delay: number }[] = [];
      this.#graph.forEachInEdge(tap, (_edge, { kind, delay }, member) => {
        const walk = kind === "mix" ? this.#arriving(member) : null;
        if (walk) list.push({ from: walk.root, delay: walk.delay + delay });
      });
      this.#takes.set(tap, (taken = list));
    }
    return taken;
  }

  /** All taps and sources that a tap takes, over others too. */
  #upstream(tap: string): ReadonlySet<string> {
    let all = this.#behind.get(tap);
    if (!all) {
      const found = new Set<string>();
      const open = [tap];
      for (let at = open.pop(); at !== undefined; at = open.pop()) {
        for (const { from } of this.#taken(at)) {
          if (found.has(from)) continue;
          found.add(from);
          open.push(from);
        }
      }
      this.#behind.set(tap, (all = found));
    }
    return all;
  }

  #to(root: string): Longest {
    const known = this.#times.get(root);
    if (known) return known;
    const circle = [root, ...this.#upstream(root)].filter(
      (each, n, all) => all.indexOf(each) === n && (each === root || this.#upstream(each).has(root)),
    );
    if (circle.length > 1) for (const each of circle) this.round.add(each);
    let longest: Longest = { time: 0, origins: new Set([root]) };
    let enters = false;
    for (const entry of circle) {
      const way = this.#shortest(circle, entry, root);
      for (const { from, delay } of this.#taken(entry)) {
        if (circle.includes(from)) continue;
        const before = this.#to(from);
        const time = before.time + delay + way;
        if (!enters || time > longest.time + 1e-9) longest = { time, origins: before.origins };
        else if (time > longest.time - 1e-9)
          longest = { time: longest.time, origins: new Set([...longest.origins, ...before.origins]) };
        enters = true;
      }
    }
    this.#times.set(root, longest);
    return longest;
  }

  /** The time from one mix of a circle to another through as few of them as can be, of such ways the longest. */
  #shortest(circle: readonly string[], from: string, to: string): number {
    const best = new Map([[from, { mixes: 0, delay: 0 }]]);
    for (let round = 0; round < circle.length; round++) {
      const before = new Map(best);
      for (const tap of circle) {
        for (const edge of this.#taken(tap)) {
          const start = before.get(edge.from);
          if (!start) continue;
          const here = { mixes: start.mixes + 1, delay: start.delay + edge.delay };
          const there = best.get(tap);
          const better =
            !there || here.mixes < there.mixes || (here.mixes === there.mixes && here.delay > there.delay);
          if (better) best.set(tap, here);
        }
      }
    }
    return best.get(to)!.delay;
  }
}

describe("the longest time on random rigs", () => {
  let compared = 0;
  let throughMixes = 0;
  let round = 0;
  test.each(batches.map((batch) => ({ batch, from: batch[0], to: batch.at(-1) })))(
    "[D6] [J4] time and origin agree at every terminal; seeds $from to $to",
    ({ batch }) => {
      const wrong: string[] = [];
      for (const seed of batch) {
        const { show, away } = randomRig(seed);
        const wiring = compile(show, away);
        const reading = new Reading(graphOf(show, away));
        const longest = latencies(wiring, arrivals(wiring));
        const key = (at: number): string => {
          const { device, group, side, number } = terminalOf(wiring, at);
          return keyOf(device, group, side, number);
        };
        for (let at = 0; at < wiring.size; at++) {
          const expected = reading.at(key(at));
          const got = longest(at);
          const same =
            expected === null || got === null
              ? expected === got
              : Math.abs(expected.time - got.time) < 1e-9 && expected.origins.has(key(got.origin));
          if (!same)
            wrong.push(
              `seed ${seed}: ${key(at)}: ${expected?.time} from ${[...(expected?.origins ?? [])].join()}, engine ${got?.time} from ${got ? key(got.origin) : "nowhere"}`,
            );
          if (expected) compared++;
          if (got && got.taps.length > 1) throughMixes++;
        }
        round += reading.round.size;
      }
      expect(wrong.slice(0, 20)).toEqual([]);
    },
  );

  // A comparison proves nothing about ways that the rigs never have.
  test("[D6] through several mixes, and round circles of them, many times over", () => {
    expect({
      compared: compared > 20 * RIGS,
      throughMixes: throughMixes > RIGS,
      round: round > RIGS / 10,
    }).toEqual({
      compared: true,
      throughMixes: true,
      round: true,
    });
  });
});

describe("limits on random rigs", () => {
  let late = 0;
  let intime = 0;
  test.each(inBatches(seeds.slice(0, FEWER)).map((batch) => ({ batch, from: batch[0], to: batch.at(-1) })))(
    "[F30] every feed past its limit is told, and no other; seeds $from to $to",
    ({ batch }) => {
      const wrong: string[] = [];
      for (const seed of batch) {
        const { show: rig } = randomRig(seed);
        const jacks = compile(rig);
        const reading = new Reading(graphOf(rig));
        const wants: Want[] = [];
        for (let at = 0; at < jacks.size; at++) {
          const { side, ...to } = terminalOf(jacks, at);
          // Every third has a limit of its own, in the midst of the times that there are.
          const own = at % 3 === 0 ? { limit: ms(0.2 + (at % 7) / 3) } : {};
          if (side === "jack") wants.push({ id: id<WantId>(`w${at}`), name: `W${at}`, to, ...own });
        }
        const show: Show = { ...rig, wants, settings: { ...rig.settings, latencyLimit: ms(0.9) } };
        const expected = wants.filter(({ to, limit = 0.9 }) => {
          const { side } = terminalOf(jacks, findTerminal(jacks, to)!);
          const time = reading.at(keyOf(to.device, to.group, side, to.number))?.time;
          if (time === undefined) return false;
          if (time <= limit) intime++;
          return time > limit + 1e-9;
        });
        late += expected.length;
        const told = analyse(show)
          .findings.filter(({ check }) => check === "over-latency")
          .flatMap((finding) => finding.wants);
        const due = expected.map((want) => want.id);
        if ([...told].sort().join() !== [...due].sort().join())
          wrong.push(`seed ${seed}: due ${due.join(" ")}; told ${told.join(" ")}`);
      }
      expect(wrong.slice(0, 20)).toEqual([]);
    },
  );

  test("[F30] there are both", () => {
    expect([late > FEWER / 5, intime > FEWER]).toEqual([true, true]);
  });
});
