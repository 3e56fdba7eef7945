/**
 * The wiring's files as other programs read them: GraphML by `graphology` and, where the machine has it, by Python's
 * `networkx`; DOT by Graphviz itself (its own parser and graph library, compiled to WebAssembly). What they read is compared
 * with `reference.ts`, which shares no code with the wiring, and with the engine's own walks downstream.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Graphviz } from "@hpcc-js/wasm-graphviz";
import Graph from "graphology";
import { parse } from "graphology-graphml";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { analyse, type Analysis } from "#engine/analysis.ts";
import { dot } from "#engine/exchange/dot.ts";
import { graphml } from "#engine/exchange/graphml.ts";
import { gather, once } from "#engine/model/once.ts";
import type { Show } from "#engine/model/show.ts";
import { reachOf } from "#engine/trace/reach.ts";
import { findTerminal, terminalOf } from "#engine/trace/terminal.ts";
import { cableGraph } from "#engine/wiring/cuts.ts";
import { demo } from "../engine/demo.ts";
import { randomRig } from "../property/random-rig.ts";
import { graphOf, reachDown, walkOn, type RigGraph } from "./graph.ts";
import { keyOf, type RefSide } from "./reference.ts";

interface Rig {
  readonly name: string;
  readonly analysis: Analysis;
  readonly reference: RigGraph;
}

const named = (["quayside", "starter-club"] as const).map((name): Rig => {
  const show = demo(name);
  return { name, analysis: analyse(show), reference: graphOf(show) };
});
const SEEDS = Number(process.env["HOPLINE_RIGS"] ?? 40);
const random = Array.from({ length: SEEDS }, (_, n): Rig => {
  const { show, away } = randomRig(n + 1);
  return { name: `seed ${n + 1}`, analysis: analyse(show, away), reference: graphOf(show, away) };
});
const RIGS = [...named, ...random];
const TOLD = `demo, club and rigs of seeds 1 to ${SEEDS}`;

/** A file as a program read it: vertices by the reference's keys, edges as pairs of them, what is said of each vertex. */
interface Read {
  readonly nodes: ReadonlyMap<string, Readonly<Record<string, unknown>>>;
  readonly edges: readonly (readonly [from: string, to: string, told: Readonly<Record<string, unknown>>])[];
}

const pairs = (edges: Iterable<readonly [string, string, ...unknown[]]>): readonly string[] =>
  [...new Set([...edges].map(([from, to]) => `${from} > ${to}`))].sort();

const keyOfTold = (told: Readonly<Record<string, unknown>>): string =>
  keyOf(String(told["device_id"]), String(told["bank_id"]), told["side"] as RefSide, Number(told["number"]));

function readGraphml(text: string): Read {
  const graph = parse(Graph, text);
  const keys = new Map<string, string>();
  const nodes = new Map<string, Readonly<Record<string, unknown>>>();
  graph.forEachNode((node, told) => {
    keys.set(node, keyOfTold(told));
    nodes.set(keyOfTold(told), told);
  });
  return {
    nodes,
    edges: graph.mapEdges((_edge, told, from, to) => [keys.get(from)!, keys.get(to)!, told] as const),
  };
}

type DotGraph = ReturnType<Graphviz["createGraph"]>;
let graphviz: Graphviz;
beforeAll(async () => {
  graphviz = await Graphviz.load();
});

/** The text that a quoted value stands for, as `dot.ts` states it. */
const plain = (value: string): string =>
  value.replaceAll(/\\(.)/g, (_all, sign: string) => (sign === "n" ? "\n" : sign));

function withDot<Answer>(text: string, ask: (graph: DotGraph) => Answer): Answer {
  const graph = graphviz.createGraph().read(text);
  try {
    return ask(graph);
  } finally {
    graph.delete();
  }
}

const ATTRIBUTES = ["device_id", "bank_id", "side", "number", "verdict", "source", "full_name"];

const readDot = (text: string): Read =>
  withDot(text, (graph) => {
    const keys = new Map<string, string>();
    const nodes = new Map<string, Readonly<Record<string, unknown>>>();
    for (const node of graph.nodeNames()) {
      const told = Object.fromEntries(ATTRIBUTES.map((name) => [name, plain(graph.getNodeAttr(node, name))]));
      keys.set(node, keyOfTold(told));
      nodes.set(keyOfTold(told), told);
    }
    return {
      nodes,
      edges: graph
        .edges()
        .map(({ tail, head, key }) => [
          keys.get(tail)!,
          keys.get(head)!,
          { delay_ms: Number(graph.getEdgeAttr(tail, head, key, "delay_ms")) },
        ]),
    };
  });

/** Vertices that have an edge, hold a source or are wanted, and all edges, of the reference. */
const expectedOf = once(
  ({ reference, analysis: { show } }: Rig): { nodes: string[]; edges: readonly string[] } => {
    const nodes = new Set(reference.filterNodes((node) => reference.degree(node) > 0));
    // A record that names a port means what it receives.
    const sides: readonly RefSide[] = ["jack", "bus", "receive", "send"];
    const held = (at: { readonly device: string; readonly group: string; readonly number: number }): void => {
      const key = sides
        .map((side) => keyOf(at.device, at.group, side, at.number))
        .find((each) => reference.hasNode(each));
      if (key !== undefined) nodes.add(key);
    };
    for (const { at } of show.sources) if (isBank(show, at, "in")) held(at);
    for (const { to } of show.wants) held(to);
    return {
      nodes: [...nodes].sort(),
      edges: pairs(reference.mapEdges((_edge, _told, from, to) => [from, to] as const)),
    };
  },
);

/** What a file must say of a rig: verdicts by vertex, times by edge, and what each source reaches. Three readers ask. */
const factsOf = once(({ reference, analysis: { wiring, show } }: Rig) => {
  const verdicts = new Map<string, string>();
  reference.forEachNode((key) => {
    const { end } = walkOn(reference, key);
    verdicts.set(
      key,
      end === "tap" || end === "source" ? "arrives" : end.startsWith("mismatch") ? "mismatch" : end,
    );
  });
  const times = new Map<string, number>();
  reference.forEachEdge((_edge, { delay }, from, to) => times.set(`${from} > ${to}`, delay));
  const reached = new Map<string, Reached>();
  for (const { at } of show.sources) {
    const start = findTerminal(wiring, at);
    if (start === null) continue;
    const { device, group, side, number } = terminalOf(wiring, start);
    const key = keyOf(device, group, side, number);
    const { traces, complete } = reachOf(wiring, start);
    reached.set(key, {
      walked: reachDown(reference, key, true),
      ends: new Set(
        traces.map(({ target }) => keyOf(target.device, target.group, target.side, target.number)),
      ),
      complete,
    });
  }
  return { verdicts, times, reached };
});

/** By the reference's walk, and by the engine's for the jacks that it names. */
interface Reached {
  readonly walked: ReadonlySet<string>;
  readonly ends: ReadonlySet<string>;
  readonly complete: boolean;
}

const same = (a: ReadonlySet<string>, b: ReadonlySet<string>): boolean =>
  a.size === b.size && [...a].every((each) => b.has(each));

/** Everything downstream of a vertex, the vertex itself left out. */
function below(edges: Read["edges"]): (start: string) => ReadonlySet<string> {
  const next = new Map<string, string[]>();
  for (const [from, to] of edges) gather(next, from, to);
  return (start) => {
    const met = new Set<string>([start]);
    for (const at of met) for (const to of next.get(at) ?? []) met.add(to);
    met.delete(start);
    return met;
  };
}

/** One line for each disagreement. */
function differences(rig: Rig, read: Read): string[] {
  const wrong: string[] = [];
  const expected = expectedOf(rig);
  const nodes = [...read.nodes.keys()].sort();
  if (nodes.join() !== expected.nodes.join()) {
    const odd = [
      ...nodes.filter((node) => !expected.nodes.includes(node)).map((node) => `+${node}`),
      ...expected.nodes.filter((node) => !read.nodes.has(node)).map((node) => `-${node}`),
    ];
    wrong.push(`vertices: ${nodes.length} for ${expected.nodes.length}: ${odd.slice(0, 5).join(" ")}`);
  }
  if (pairs(read.edges).join() !== expected.edges.join()) {
    wrong.push(`edges: ${pairs(read.edges).length} for ${expected.edges.length}`);
  }
  const { verdicts, times, reached } = factsOf(rig);
  for (const [key, told] of read.nodes) {
    const verdict = verdicts.get(key);
    if (told["verdict"] !== verdict) wrong.push(`${key}: ${String(told["verdict"])} for ${verdict}`);
  }
  for (const [from, to, { delay_ms: delay }] of read.edges) {
    const known = times.get(`${from} > ${to}`)!;
    if (!(Math.abs(Number(delay) - known) < 1e-6))
      wrong.push(`${from} > ${to}: ${String(delay)} ms for ${known}`);
  }
  const reach = below(read.edges);
  for (const [key, { walked, ends, complete }] of reached) {
    if (!read.nodes.has(key)) continue;
    const met = reach(key);
    if (!same(met, walked)) wrong.push(`${key} reaches another set`);
    const missing = [...ends].find((end) => !met.has(end));
    if (missing) wrong.push(`${key} doesn't reach ${missing}`);
    const outputs = [...met].filter((node) => isOutput(rig, node));
    if (complete && outputs.some((node) => !ends.has(node)))
      wrong.push(`${key} reaches more than the engine says`);
  }
  return wrong.map((line) => `${rig.name}: ${line}`);
}

function isBank(
  show: Show,
  at: { readonly device: string; readonly group: string },
  way: "in" | "out",
): boolean {
  const type = show.devices.find(({ id }) => id === at.device)?.type;
  const bank = show.types.find(({ id }) => id === type)?.banks.find(({ id }) => id === at.group);
  return bank?.direction === way;
}

const isOutput = ({ analysis: { show } }: Rig, key: string): boolean => {
  const [device, group, side] = key.split("/") as [string, string, string];
  return side === "jack" && isBank(show, { device, group }, "out");
};

describe("GraphML", () => {
  test(`[V2] [V3] graphology reads the reference's vertices, edges, verdicts, delays and reach; ${TOLD}`, () => {
    const wrong = RIGS.flatMap((rig) => differences(rig, readGraphml(graphml(rig.analysis))));
    expect(wrong.slice(0, 10)).toEqual([]);
  });

  test(`[V4] graphology reads the devices and the live cables between them; ${TOLD}`, () => {
    const wrong = RIGS.flatMap((rig) => {
      const graph = parse(Graph, graphml(rig.analysis, "cables"));
      const { order, edges } = cableGraph(rig.analysis.wiring);
      const expected = edges.map(([a, b]) => `d${a} d${b}`).sort();
      const got = graph.mapEdges((_edge, _told, a, b) => `${a} ${b}`).sort();
      return graph.order === order && !graph.directedSize && got.join() === expected.join()
        ? []
        : [`${rig.name}: ${got.join(", ")} for ${expected.join(", ")}`];
    });
    expect(wrong.slice(0, 10)).toEqual([]);
  });
});

describe("DOT", () => {
  test(`[V2] [V3] Graphviz reads the reference's vertices, edges, verdicts, delays and reach; ${TOLD}`, () => {
    const wrong = RIGS.flatMap((rig) => differences(rig, readDot(dot(rig.analysis))));
    expect(wrong.slice(0, 10)).toEqual([]);
  });

  test(`[V4] Graphviz reads the devices and the live cables between them, places as clusters; ${TOLD}`, () => {
    const wrong = RIGS.flatMap((rig) =>
      withDot(dot(rig.analysis, "cables"), (graph) => {
        const { edges } = cableGraph(rig.analysis.wiring);
        const { devices, places } = rig.analysis.show;
        const got = graph.edges().map(({ tail, head }) => `${tail} ${head}`);
        const held = places.filter(({ id }) => devices.some(({ place }) => place === id));
        return graph.nodeCount() === devices.length &&
          graph.subgraphCount() === held.length &&
          got.toSorted().join() ===
            edges
              .map(([a, b]) => `d${a} d${b}`)
              .sort()
              .join()
          ? []
          : [`${rig.name}: ${got.join(", ")}`];
      }),
    );
    expect(wrong.slice(0, 10)).toEqual([]);
  });

  test("[V4] Graphviz draws the demo's cables: every device's name stands in the picture", () => {
    const { analysis } = named[0]!;
    const svg = graphviz.layout(dot(analysis, "cables"), "svg", "dot");
    const texts = new Set(
      [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) =>
        text!.replaceAll(/&#(\d+);/g, (_all, code: string) => String.fromCharCode(Number(code))),
      ),
    );
    expect(analysis.show.devices.filter(({ name }) => !texts.has(name))).toEqual([]);
  });
});

const PYTHON = `
import json, sys
import networkx as nx
answers = []
for path in json.load(sys.stdin):
    graph = nx.read_graphml(path)
    sources = [n for n, told in graph.nodes(data=True) if "source" in told]
    answers.append({
        "nodes": graph.number_of_nodes(),
        "edges": sorted({f"{a} > {b}" for a, b in graph.edges()}),
        "reach": {n: sorted(nx.descendants(graph, n)) for n in sources},
    })
json.dump(answers, sys.stdout)
`;

interface Answer {
  readonly nodes: number;
  readonly edges: readonly string[];
  readonly reach: Readonly<Record<string, readonly string[]>>;
}

function python(script: string, input: string): string | null {
  try {
    return execFileSync("python3", ["-c", script], {
      input,
      encoding: "utf8",
      maxBuffer: 1e9,
      stdio: ["pipe", "pipe", "ignore"],
    });
  } catch {
    return null;
  }
}

const NETWORKX = python("import networkx", "") !== null;
let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "hopline-graphs-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("GraphML, networkx", () => {
  const title = `[V2] [V3] the same vertices and edges, and what lies below each source; ${TOLD}`;
  test.skipIf(!NETWORKX)(NETWORKX ? title : `${title} – not run: no python3-networkx`, () => {
    const files = RIGS.map(({ analysis }, n) => {
      const path = join(folder, `${n}.graphml`);
      writeFileSync(path, graphml(analysis));
      return path;
    });
    const answers = JSON.parse(python(PYTHON, JSON.stringify(files))!) as readonly Answer[];
    const wrong = RIGS.flatMap((rig, n) => {
      const { nodes, edges, reach } = answers[n]!;
      const { wiring } = rig.analysis;
      const key = (id: string): string => {
        const { device, group, side, number } = terminalOf(wiring, Number(id.slice(1)));
        return keyOf(device, group, side, number);
      };
      const expected = expectedOf(rig);
      const got = edges.map((edge) => edge.split(" > ").map(key).join(" > ")).sort();
      const lines: string[] = [];
      if (nodes !== expected.nodes.length) lines.push(`${nodes} vertices for ${expected.nodes.length}`);
      if (got.join() !== expected.edges.join()) lines.push("other edges");
      for (const [start, met] of Object.entries(reach)) {
        const walked = reachDown(rig.reference, key(start), true);
        if (!same(new Set(met.map(key)), walked)) lines.push(`${key(start)} reaches another set`);
      }
      return lines.map((line) => `${rig.name}: ${line}`);
    });
    expect(answers).toHaveLength(RIGS.length);
    expect(wrong.slice(0, 10)).toEqual([]);
  });
});
