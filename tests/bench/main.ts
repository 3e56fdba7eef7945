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
import { analyse, reanalyse, type Analysis } from "#engine/analysis.ts";
import { loadShow } from "#engine/exchange/load.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { findAll } from "#engine/findings/checks.ts";
import type { Device, Show } from "#engine/model/show.ts";
import { metres } from "#engine/model/units.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { outputJacks } from "#engine/trace/owners.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { compile } from "#engine/wiring/compile.ts";
import type { Wiring } from "#engine/wiring/wiring.ts";
import { arenaTimes, benchRig, census, type RigName } from "./rigs.ts";

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

/**
 * Processor time of this process, all its threads, in milliseconds. On a machine that does other things as well, waiting
 * for one's turn isn't counted; on an idle one it is the time on the clock, and a little more where memory is cleared
 * by several threads.
 */
const now = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

function timeOf(run: () => number): number {
  const start = now();
  kept += run();
  return now() - start;
}

const gc = ((): (() => void) => {
  setFlagsFromString("--expose-gc");
  return runInNewContext("gc") as () => void;
})();

/** Milliseconds that a round takes at least, so that the clock's grain doesn't matter. */
const ROUND = 2;

/**
 * The median time of one run of each side, in milliseconds, their rounds taken in turns. A quick side runs several times
 * in its round. Rounds are short, so that one in which V8 happens to clear the whole heap is an outlier among them.
 */
function inTurns(rounds: number, ...sides: (() => number)[]): readonly number[] {
  // Once and before the warm-up: a forced clearing also throws compiled code away.
  gc();
  // Warm, then measured: the first runs are those of a compiler at work.
  const single = sides.map((side) => {
    const start = performance.now();
    for (let n = 0; n < 15 || (n < 2000 && performance.now() - start < 200); n++) kept += side();
    return median([timeOf(side), timeOf(side), timeOf(side), timeOf(side), timeOf(side)]);
  });
  const runs = single.map((time) => Math.ceil(ROUND / Math.max(time, 1e-3)));
  const times: number[][] = sides.map(() => []);
  for (let n = 0; n < rounds; n++) {
    sides.forEach((side, s) => {
      const many = runs[s]!;
      const time = timeOf(() => {
        let sum = 0;
        for (let run = 0; run < many; run++) sum += side();
        return sum;
      });
      times[s]!.push(time / many);
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

/**
 * Bytes that the engine holds for one open show, typed arrays included: what is there more with several of them open,
 * divided by their number, once everything else is gone.
 */
function bytesHeld(open: () => Analysis, copies: number): number {
  const used = (): number => {
    for (let n = 0; n < 4; n++) gc();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  };
  kept += open().wiring.size;
  const held: Analysis[] = [];
  const before = used();
  for (let n = 0; n < copies; n++) held.push(open());
  const after = used();
  for (const { wiring } of held) kept += wiring.size;
  return (after - before) / copies;
}

function openShow(text: string): Analysis {
  const loaded = loadShow(text);
  if (!loaded.ok) throw new Error(`the generated rig doesn't load: ${loaded.error.message}`);
  return analyse(loaded.value);
}

/**
 * A document after one more edit, of the sorts that a tech makes: a block routed elsewhere, a device off or on again, a
 * mix member more, a cable's length, a device moved or renamed. What it doesn't touch stays the same object.
 */
function edited(show: Show, round: number): Show {
  const pick = <Item>(list: readonly Item[]): number => (round * 7919) % list.length;
  const device = (set: (device: Device) => Partial<Device>): Show => {
    const at = pick(show.devices);
    const record = show.devices[at]!;
    return { ...show, devices: show.devices.with(at, { ...record, ...set(record) }) };
  };
  switch (round % 6) {
    case 0:
      return device(({ routing }) => ({ routing: [...routing.slice(1), ...routing.slice(0, 1)] }));
    case 1:
      return device(({ routing }) => ({ routing: routing.slice(0, -1) }));
    case 2:
      return device(({ powered }) => ({ powered: !powered }));
    case 3: {
      const at = pick(show.mixes);
      const mix = show.mixes[at]!;
      return { ...show, mixes: show.mixes.with(at, { ...mix, members: mix.members.slice(1) }) };
    }
    case 4: {
      const at = pick(show.cables);
      const cable = show.cables[at]!;
      return { ...show, cables: show.cables.with(at, { ...cable, length: metres(10 + (round % 60)) }) };
    }
    default:
      return device(({ name, at }) =>
        round % 2 === 0 ? { name: `${name}.` } : { at: { x: at.x + 10, y: at.y } },
      );
  }
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

  const traces = (name: RigName, wiring: Wiring, targets: Int32Array): void => {
    const everywhere = Int32Array.from({ length: wiring.size }, (_, terminal) => terminal);
    const keys = (terminals: Int32Array): readonly string[] => Array.from(terminals, String);
    // All go the same ways; were they not to, the times would compare different work.
    const same = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.abs(a);
    const found = arrivals(wiring);
    const told =
      found.root.reduce((sum, root) => sum + root, 0) + found.delay.reduce((sum, time) => sum + time, 0);
    if (!same(chase(wiring, everywhere), told)) throw new Error("the chase and the arrays end elsewhere");
    const against = (a: number, b: number): string => `${shown(a)} against ${shown(b)}`;

    // Every terminal of the rig. The engine's arrays: root, steps and delay of each, stored in arrays made anew. It need
    // not go a way twice.
    const inArrays = (): number => arrivals(wiring).root.length;
    // Every output jack. The engine's traces as evidence: all hops, steps, settings, delays and their provenance, as
    // objects.
    const asEvidence = (): number => {
      let hops = 0;
      for (const target of targets) hops += traceOf(wiring, target).hops.length;
      return hops;
    };
    // Against the bare chase from the same terminals: root and summed delay, nothing stored.
    const [engine, bare] = inTurns(21, inArrays, () => chase(wiring, everywhere)) as [number, number];
    const traced = `trace ${name}: every terminal`;
    add(`${traced}, engine / bare chase`, engine / bare, 3, "lower", against(engine, bare));
    // Against the graph library's walk from the same terminals: root and summed delay. Apart from the above, since the
    // library's many objects make every clearing of the memory slower.
    const graph = graphOf(wiring);
    const nodes = keys(everywhere);
    if (!same(told, walkGraph(graph, nodes))) throw new Error("the graph walk ends elsewhere");
    const [arrays, library] = inTurns(11, inArrays, () => walkGraph(graph, nodes)) as [number, number];
    add(`${traced}, graph library / engine`, library / arrays, 20, "higher", against(library, arrays));
    // What the app makes of one jack when somebody looks at it. It has no bar: nobody looks at all of them at once.
    const [evidence] = inTurns(11, asEvidence) as [number];
    say(
      `         every output jack with all its hops as objects: ${shown(evidence)}, ` +
        `${((1000 * evidence) / targets.length).toPrecision(3)} µs each`,
    );
  };

  for (const name of ["club", "festival", "arena week"] satisfies RigName[]) {
    // As the app has it: read from a file, and open all along.
    const text = saveShow(benchRig(name));
    const { show } = openShow(text);
    const wiring = compile(show);
    const targets = targetsOf(wiring);
    const { arrive, threeToEight } = distances(wiring, targets);
    const { consoles, devices, jacks } = census(show);
    say(
      `${name}: ${consoles} consoles, ${devices} devices, ${jacks} jacks, ${wiring.size} terminals, file of ` +
        `${(text.length / 1e6).toFixed(2)} MB; of ${targets.length} output jacks ${Math.round(arrive * 100)} % arrive, ` +
        `${Math.round(threeToEight * 100)} % over 3 to 8 hops`,
    );
    // Apart, so that the graph library's graph is gone before the show is opened.
    traces(name, wiring, targets);

    const parts = {
      load: [] as number[],
      compile: [] as number[],
      arrays: [] as number[],
      findings: [] as number[],
    };
    const part = <Value>(times: number[], run: () => Value): Value => {
      const start = now();
      const value = run();
      times.push(now() - start);
      return value;
    };
    const [parse, open] = inTurns(
      31,
      // What anyone pays to read the file at all.
      () => (JSON.parse(text) as Show).devices.length,
      // Text to checked show, wiring, traces and findings.
      () => openShow(text).findings.length,
    ) as [number, number];
    // The same once more in its parts, for those who look for the time.
    for (let n = 0; n < 9; n++) {
      const loaded = part(parts.load, () => loadShow(text));
      if (!loaded.ok) throw new Error(loaded.error.message);
      const fresh = part(parts.compile, () => compile(loaded.value));
      const ends = part(parts.arrays, () => arrivals(fresh));
      kept += part(parts.findings, () => findAll({ wiring: fresh, arrivals: ends })).length;
    }
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

    const held = bytesHeld(() => openShow(text), name === "club" ? 64 : name === "festival" ? 8 : 3);
    add(
      `memory ${name}: held / file`,
      held / text.length,
      10,
      "lower",
      `${(held / 1e6).toFixed(1)} MB for ${(text.length / 1e6).toFixed(2)} MB`,
    );

    if (name === "festival") {
      // One edit after another, each from the state before it, as in the app.
      const edits: number[] = [];
      let before = analyse(show);
      let document = show;
      for (let round = -60; round < 240; round++) {
        document = edited(document, round + 60);
        // On the clock: it is a person who waits.
        const start = performance.now();
        before = reanalyse(document, before);
        const time = performance.now() - start;
        kept += before.findings.length;
        if (round >= 0) edits.push(time);
      }
      edits.sort((a, b) => a - b);
      add("edit festival: milliseconds, median", median(edits), 8, "lower", "from the analysis before");
      add(
        "edit festival: milliseconds, 95th percentile",
        edits[Math.floor(edits.length * 0.95)]!,
        16,
        "lower",
        "from the analysis before",
      );
    }
  }
  growth(say, add, shown);
  return lines;
}

/** What a rig of four and of sixteen arenas takes for each terminal, against one arena. Linear work keeps it at 1. */
function growth(
  say: (text: string) => void,
  add: (name: string, value: number, bar: number, better: Ratio["better"], told: string) => void,
  shown: (time: number) => string,
): void {
  const sizes = [1, 4, 16].map((times) => {
    const show = arenaTimes(times);
    const start = analyse(show);
    // Fresh records, so that nothing is kept from the round before.
    const fresh = (): Show => structuredClone(show);
    const rounds = times === 16 ? 3 : 7;
    const whole: number[] = [];
    for (let round = 0; round < rounds; round++) {
      const anew = fresh();
      whole.push(timeOf(() => analyse(anew).findings.length));
    }
    // Apart, since the copies of the document make every clearing of the memory slower.
    gc();
    const edits: number[] = [];
    for (let round = 0; round < 4 * rounds; round++) {
      const document = edited(show, round);
      edits.push(timeOf(() => reanalyse(document, start).findings.length));
    }
    const { jacks } = census(show);
    const { size } = start.wiring;
    say(
      `${times} × arena week: ${jacks} jacks, ${size} terminals; analysed whole in ${shown(median(whole))}, after an edit in ${shown(median(edits))}`,
    );
    return { times, size, whole: median(whole), edit: median(edits) };
  });
  const [one, ...others] = sizes;
  for (const { times, size, whole } of others) {
    const each = whole / size / (one!.whole / one!.size);
    add(
      `growth: analyse ${times} × arena week / arena week, for each terminal`,
      each,
      1.5,
      "lower",
      "1 is linear",
    );
  }
}

const json = process.argv.includes("--json");
const lines = measure(json ? () => undefined : (text) => console.log(text));
if (json) {
  console.log(JSON.stringify({ format: "hopline.bench/1", ratios: lines.map(({ ratio }) => ratio) }));
} else {
  console.log(`(${Math.round(kept) % 1000} kept, so that nothing was left out)`);
}
