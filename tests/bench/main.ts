/**
 * Measures the engine against the numbers that it has to reach: `npm run bench`, with `--json` for machines.
 *
 * Every number is a ratio of two things done in this process on this machine, in turns, so that it means the same
 * everywhere: one round of the one, one round of the other, and so on; the ratio is that of their medians. What each
 * side does stands beside it. Nothing is taken from an earlier run.
 */
import { DirectedGraph } from "graphology";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { analyse, type Analysis } from "#engine/analysis.ts";
import { loadShow } from "#engine/exchange/load.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { findAll } from "#engine/findings/checks.ts";
import type { Show } from "#engine/model/show.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { outputJacks } from "#engine/trace/owners.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { compile } from "#engine/wiring/compile.ts";
import type { Wiring } from "#engine/wiring/wiring.ts";
import { benchRig, census, type RigName } from "./rigs.ts";

interface Ratio {
  readonly name: string;
  readonly value: number;
  readonly bar: number;
  readonly better: "lower" | "higher";
}

/** Results are added up here and printed at the end, so that no run can be optimised away. */
let kept = 0;

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
};

function timeOf(run: () => number): number {
  const start = performance.now();
  kept += run();
  return performance.now() - start;
}

/** Median times of each side, in milliseconds, their rounds taken in turns after a warm-up that isn't counted. */
function inTurns(rounds: number, ...sides: (() => number)[]): readonly number[] {
  const times: number[][] = sides.map(() => []);
  for (let round = -Math.ceil(rounds / 4); round < rounds; round++) {
    sides.forEach((side, n) => {
      const time = timeOf(side);
      if (round >= 0) times[n]!.push(time);
    });
  }
  return times.map(median);
}

/** Terminals of all output jacks of a rig. */
function targetsOf(wiring: Wiring): Int32Array {
  const targets: number[] = [];
  for (const wired of wiring.devices) {
    if (!wired) continue;
    for (const { span, first } of outputJacks(wired)) {
      for (let n = 0; n < span.count; n++) targets.push(first + n);
    }
  }
  return Int32Array.from(targets);
}

/** The barest there is: from each target up the feeders to the root, adding up the delays. */
function chase({ feeder, delay }: Wiring, targets: Int32Array): number {
  let sum = 0;
  for (let n = 0; n < targets.length; n++) {
    let at = targets[n]!;
    let next = feeder[at]!;
    while (next >= 0) {
      sum += delay[at]!;
      at = next;
      next = feeder[at]!;
    }
    sum += at;
  }
  return sum;
}

/** The same feeders as edges of the graph library, delays as their attributes. */
function graphOf({ feeder, delay, size }: Wiring): DirectedGraph<object, { readonly delay: number }> {
  const graph = new DirectedGraph<object, { readonly delay: number }>();
  for (let terminal = 0; terminal < size; terminal++) graph.addNode(terminal);
  feeder.forEach((from, terminal) => {
    if (from >= 0) graph.addDirectedEdge(from, terminal, { delay: delay[terminal]! });
  });
  return graph;
}

/** The chase again, over the graph: each terminal has at most one edge in. */
function walkGraph(
  graph: DirectedGraph<object, { readonly delay: number }>,
  targets: readonly string[],
): number {
  let sum = 0;
  for (const target of targets) {
    let at = target;
    for (;;) {
      let next: string | null = null;
      graph.forEachInEdge(at, (_edge, attributes, source) => {
        sum += attributes.delay;
        next = source;
      });
      if (next === null) break;
      at = next;
    }
    sum += Number(at);
  }
  return sum;
}

/** How far the traces go: a bench on signals that stop at the first jack would prove little. */
function distances(
  wiring: Wiring,
  targets: Int32Array,
): { readonly arrive: number; readonly threeToEight: number } {
  let [arrive, threeToEight] = [0, 0];
  for (const target of targets) {
    const { verdict, hops } = traceOf(wiring, target);
    if (verdict.kind !== "arrives") continue;
    arrive++;
    if (hops.length >= 3 && hops.length <= 8) threeToEight++;
  }
  return { arrive: arrive / targets.length, threeToEight: threeToEight / targets.length };
}

const gc = ((): (() => void) => {
  setFlagsFromString("--expose-gc");
  return runInNewContext("gc") as () => void;
})();

/** Bytes that the engine holds for an open show, typed arrays included: what is left once everything else is gone. */
function bytesHeld(open: () => Analysis): number {
  const used = (): number => {
    for (let n = 0; n < 3; n++) gc();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  };
  const before = used();
  const held = open();
  const after = used();
  kept += held.wiring.size;
  return after - before;
}

function openShow(text: string): Analysis {
  const loaded = loadShow(text);
  if (!loaded.ok) throw new Error(`the generated rig doesn't load: ${loaded.error.message}`);
  return analyse(loaded.value);
}

/** A document after one edit: one device is switched on or off; the others are the same objects as before. */
function edited(show: Show, round: number): Show {
  const devices = [...show.devices];
  const at = round % devices.length;
  const device = devices[at]!;
  devices[at] = { ...device, powered: round % 2 === 0, routing: [...device.routing] };
  return { ...show, devices };
}

interface Line {
  readonly ratio: Ratio;
  /** What the two sides took, or held. */
  readonly told: string;
}

function measure(say: (text: string) => void): readonly Line[] {
  const lines: Line[] = [];
  const add = (name: string, value: number, bar: number, better: Ratio["better"], told: string): void => {
    lines.push({ ratio: { name, value: Math.round(value * 100) / 100, bar, better }, told });
    const met = better === "lower" ? value <= bar : value >= bar;
    say(
      `  ${met ? "met   " : "MISSED"} ${name}: ${value.toFixed(2)} (bar ${better === "lower" ? "at most" : "at least"} ${bar})  ${told}`,
    );
  };
  const shown = (time: number): string => `${time.toPrecision(3)} ms`;

  for (const name of ["club", "festival", "arena week"] satisfies RigName[]) {
    const show = benchRig(name);
    const text = saveShow(show);
    const wiring = compile(show);
    const targets = targetsOf(wiring);
    const { arrive, threeToEight } = distances(wiring, targets);
    const { consoles, devices, jacks } = census(show);
    say(
      `${name}: ${consoles} consoles, ${devices} devices, ${jacks} jacks, ${wiring.size} terminals, file of ` +
        `${(text.length / 1e6).toFixed(2)} MB; of ${targets.length} output jacks ${Math.round(arrive * 100)} % arrive, ` +
        `${Math.round(threeToEight * 100)} % over 3 to 8 hops`,
    );
    const graph = graphOf(wiring);
    const everywhere = Int32Array.from({ length: wiring.size }, (_, terminal) => terminal);
    const keys = (terminals: Int32Array): readonly string[] => Array.from(terminals, String);
    const [allKeys, jackKeys] = [keys(everywhere), keys(targets)];
    // All go the same ways; were they not to, the times would compare different work.
    const same = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.abs(a);
    const found = arrivals(wiring);
    const told =
      found.root.reduce((sum, root) => sum + root, 0) + found.delay.reduce((sum, time) => sum + time, 0);
    if (!same(chase(wiring, everywhere), told)) throw new Error("the chase and the arrays end elsewhere");
    if (!same(told, walkGraph(graph, allKeys))) throw new Error("the chase and the graph walk end elsewhere");

    // A round of the small rig would be too short to time, so each side does it several times over.
    const times = name === "club" ? 40 : name === "festival" ? 8 : 2;
    const often = (run: () => number) => (): number => {
      let sum = 0;
      for (let n = 0; n < times; n++) sum += run();
      return sum;
    };
    const [bareAll, arrays, libraryAll, bareJacks, evidence, libraryJacks] = inTurns(
      21,
      // Every terminal of the rig, three ways. The bare chase: root and summed delay, nothing stored.
      often(() => chase(wiring, everywhere)),
      // The engine's arrays: root, steps and delay of each, stored in arrays made anew. It need not go a way twice.
      often(() => arrivals(wiring).root.length),
      // The graph library: root and summed delay.
      often(() => walkGraph(graph, allKeys)),
      // Every output jack, three ways. The bare chase again.
      often(() => chase(wiring, targets)),
      // The engine's traces as evidence: all hops, steps, settings, delays and their provenance, as objects.
      often(() => {
        let hops = 0;
        for (const target of targets) hops += traceOf(wiring, target).hops.length;
        return hops;
      }),
      // The graph library again.
      often(() => walkGraph(graph, jackKeys)),
    ) as [number, number, number, number, number, number];
    const against = (a: number, b: number): string => `${shown(a / times)} against ${shown(b / times)}`;
    add(
      `trace ${name}: every terminal, engine / bare chase`,
      arrays / bareAll,
      3,
      "lower",
      against(arrays, bareAll),
    );
    add(
      `trace ${name}: every terminal, graph library / engine`,
      libraryAll / arrays,
      20,
      "higher",
      against(libraryAll, arrays),
    );
    add(
      `trace ${name}: every output jack as evidence, engine / bare chase`,
      evidence / bareJacks,
      3,
      "lower",
      against(evidence, bareJacks),
    );
    add(
      `trace ${name}: every output jack as evidence, graph library / engine`,
      libraryJacks / evidence,
      20,
      "higher",
      against(libraryJacks, evidence),
    );

    const parts = {
      load: [] as number[],
      compile: [] as number[],
      arrays: [] as number[],
      findings: [] as number[],
    };
    const part = <Value>(times: number[], run: () => Value): Value => {
      const start = performance.now();
      const value = run();
      times.push(performance.now() - start);
      return value;
    };
    const [parse, open] = inTurns(
      name === "arena week" ? 15 : 25,
      // What anyone pays to read the file at all.
      () => (JSON.parse(text) as Show).devices.length,
      // Text to checked show, wiring, traces and findings.
      () => openShow(text).findings.length,
      // The same once more in its parts, for those who look for the time.
      () => {
        const loaded = part(parts.load, () => loadShow(text));
        if (!loaded.ok) return 0;
        const fresh = part(parts.compile, () => compile(loaded.value));
        const ends = part(parts.arrays, () => arrivals(fresh));
        return part(parts.findings, () => findAll({ wiring: fresh, arrivals: ends })).length;
      },
    ) as [number, number];
    add(
      `open ${name}: load and analyse / JSON.parse`,
      open / parse,
      2,
      "lower",
      `${shown(open)} against ${shown(parse)}; ` +
        Object.entries(parts)
          .map(([what, times]) => `${what} ${shown(median(times))}`)
          .join(", "),
    );

    const held = bytesHeld(() => openShow(text));
    add(
      `memory ${name}: held / file`,
      held / text.length,
      10,
      "lower",
      `${(held / 1e6).toFixed(1)} MB for ${(text.length / 1e6).toFixed(2)} MB`,
    );

    if (name === "festival") {
      // Today an edit analyses the whole show again; types and their layouts are kept, being the same objects.
      const edits: number[] = [];
      for (let round = -20; round < 100; round++) {
        const after = edited(show, round + 20);
        const time = timeOf(() => analyse(after).findings.length);
        if (round >= 0) edits.push(time);
      }
      edits.sort((a, b) => a - b);
      add("edit festival: milliseconds, median", median(edits), 8, "lower", "whole show analysed again");
      add(
        "edit festival: milliseconds, 95th percentile",
        edits[94]!,
        16,
        "lower",
        "whole show analysed again",
      );
    }
  }
  return lines;
}

const json = process.argv.includes("--json");
const lines = measure(json ? () => undefined : (text) => console.log(text));
if (json) {
  console.log(JSON.stringify({ format: "hopline.bench/1", ratios: lines.map(({ ratio }) => ratio) }));
} else {
  console.log(`(${Math.round(kept) % 1000} kept, so that nothing was left out)`);
}
