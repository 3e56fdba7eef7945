/**
 * Cut vertices, bridges and largest flows against the textbooks, against `cytoscape` in process, and against Debian's
 * `python3-networkx` where the machine has it; nothing is installed for that here.
 */
import { execFileSync } from "node:child_process";
import cytoscape from "cytoscape";
import { describe, expect, test } from "vitest";
import { maxFlow, type Arc } from "#engine/routes/flow.ts";
import { compile } from "#engine/wiring/compile.ts";
import { cableGraph, cutsOf, type Graph } from "#engine/wiring/cuts.ts";
import { Dice, randomRig } from "../property/random-rig.ts";
import { BARBELL, CUBE, ICOSAHEDRON, K5, KARATE, PETERSEN, randomGraph } from "./graphs.ts";

const bridgesOf = (graph: Graph): (readonly [number, number])[] =>
  cutsOf(graph).bridges.map((edge) => graph.edges[edge]!);

describe("textbook answers", () => {
  test("[G2] [G3] barbell of two complete graphs of four: cut vertices 3, 4, 5, 6 (networkx documentation)", () => {
    expect(cutsOf(BARBELL).vertices).toEqual([3, 4, 5, 6]);
    expect(bridgesOf(BARBELL)).toEqual([
      [3, 4],
      [4, 5],
      [5, 6],
    ]);
  });

  test("[G2] [G3] karate club: 34 members, 78 ties, one cut vertex and one bridge (Zachary 1977)", () => {
    expect([KARATE.order, KARATE.edges.length]).toEqual([34, 78]);
    expect(cutsOf(KARATE).vertices).toEqual([0]);
    expect(bridgesOf(KARATE)).toEqual([[0, 11]]);
  });

  test("[G4] the flow network of Cormen et al., Introduction to Algorithms, fig. 26.1 (number from memory): 23", () => {
    const [s, t] = [0, 5];
    const arcs: Arc[] = (
      [
        [s, 1, 16],
        [s, 2, 13],
        [1, 3, 12],
        [2, 1, 4],
        [3, 2, 9],
        [2, 4, 14],
        [4, 3, 7],
        [3, t, 20],
        [4, t, 4],
      ] as const
    ).map(([from, to, capacity]) => ({ from, to, capacity }));
    const { value, cut } = maxFlow(6, arcs, [s], [t]);
    expect([value, cut]).toEqual([23, [s, 1, 2, 4]]);
  });

  test("[G4] icosahedron: five ways from 0 to 6 that share no edge, and five that share no corner (networkx documentation; Menger)", () => {
    expect(ICOSAHEDRON.edges.length).toBe(30);
    expect([edgeWays(ICOSAHEDRON, 0, 6), vertexWays(ICOSAHEDRON, 0, 6)]).toEqual([5, 5]);
  });

  test.each([
    { name: "Petersen graph", graph: PETERSEN, connectivity: 3 },
    { name: "cube", graph: CUBE, connectivity: 3 },
    { name: "complete graph of five", graph: K5, connectivity: 4 },
  ])("[G4] $name: connectivity $connectivity (standard)", ({ graph, connectivity }) => {
    const pairs = Array.from({ length: graph.order - 1 }, (_, n) => n + 1);
    expect(Math.min(...pairs.map((to) => edgeWays(graph, 0, to)))).toBe(connectivity);
    // Between vertices that are no neighbours; in a complete graph there are none, and n − 1 by convention.
    const apart = pairs.filter(
      (to) => !graph.edges.some(([a, b]) => (a === 0 && b === to) || (b === 0 && a === to)),
    );
    const ways = apart.map((to) => vertexWays(graph, 0, to));
    expect(Math.min(graph.order - 1, ...ways)).toBe(connectivity);
    expect(cutsOf(graph)).toEqual({ vertices: [], bridges: [] });
  });
});

/** Ways that share no edge: every edge takes one each way. */
const edgeWays = ({ order, edges }: Graph, from: number, to: number): number =>
  maxFlow(
    order,
    edges.flatMap(([a, b]): Arc[] => [
      { from: a, to: b, capacity: 1 },
      { from: b, to: a, capacity: 1 },
    ]),
    [from],
    [to],
  ).value;

/** Ways that share no vertex but their ends: vertex v comes in at 2v and goes out at 2v + 1, and takes one. */
const vertexWays = ({ order, edges }: Graph, from: number, to: number): number =>
  maxFlow(
    2 * order,
    [
      ...Array.from({ length: order }, (_, v): Arc => ({ from: 2 * v, to: 2 * v + 1, capacity: 1 })),
      ...edges.flatMap(([a, b]): Arc[] => [
        { from: 2 * a + 1, to: 2 * b, capacity: 1 },
        { from: 2 * b + 1, to: 2 * a, capacity: 1 },
      ]),
    ],
    [2 * from + 1],
    [2 * to],
  ).value;

const range = (first: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, n) => first + n);

/** Random graphs, and the cable graphs of random rigs. */
const GRAPHS = range(1, 300).map((seed) => ({ name: `graph ${seed}`, graph: randomGraph(seed) }));
const RIGS = range(1, 200).map((seed) => {
  const { show, away } = randomRig(seed);
  return { name: `rig ${seed}`, graph: cableGraph(compile(show, away)) as Graph };
});
const ALL = [...GRAPHS, ...RIGS];
const SEEDS = "graphs of seeds 1 to 300, rigs of seeds 1 to 200";

/** One undirected edge each for what joins two different vertices; `[a, b]` with the lower first. */
const simple = ({ edges }: Graph): readonly string[] => [
  ...new Set(edges.filter(([a, b]) => a !== b).map(([a, b]) => `${Math.min(a, b)}-${Math.max(a, b)}`)),
];

describe("cut vertices against cytoscape", () => {
  test(`[G2] its biconnected components cut at the same vertices; ${SEEDS}`, () => {
    let cuts = 0;
    const wrong = ALL.flatMap(({ name, graph }) => {
      const cy = cytoscape({
        headless: true,
        elements: [
          ...range(0, graph.order).map((v) => ({ data: { id: `v${v}` } })),
          ...simple(graph).map((edge) => {
            const [source, target] = edge.split("-");
            return { data: { id: edge, source: `v${source}`, target: `v${target}` } };
          }),
        ],
      });
      const { cut } = cy.elements().hopcroftTarjanBiconnected();
      const expected = cut
        .nodes()
        .map((node) => Number(node.id().slice(1)))
        .sort((a, b) => a - b);
      const got = cutsOf(graph).vertices;
      cuts += got.length;
      return got.join() === expected.join()
        ? []
        : [`${name}: cytoscape ${expected.join()}, engine ${got.join()}`];
    });
    expect(wrong.slice(0, 10)).toEqual([]);
    expect(cuts).toBeGreaterThan(500);
  });
});

/** Random capacities on the edges of a graph, both ways unlike, and one or two sources and sinks. */
function network(
  graph: Graph,
  seed: number,
): { readonly arcs: readonly Arc[]; readonly from: number[]; readonly to: number[] } {
  const dice = new Dice(seed);
  const arcs = graph.edges.flatMap(([a, b]): Arc[] => [
    { from: a, to: b, capacity: dice.whole(0, 48) },
    { from: b, to: a, capacity: dice.whole(0, 48) },
  ]);
  const ends = dice.shuffled(range(0, graph.order));
  const many = Math.max(1, Math.min(2, Math.floor(graph.order / 2)));
  return { arcs, from: ends.slice(0, many), to: ends.slice(many, 2 * many) };
}

const PYTHON = `
import json, sys
import networkx as nx
answers = []
for case in json.load(sys.stdin):
    graph = nx.MultiGraph()
    graph.add_nodes_from(range(case["order"]))
    graph.add_edges_from((a, b) for a, b in case["edges"] if a != b)
    simple = nx.Graph(graph)
    bridges = [sorted(e) for e in nx.bridges(simple) if graph.number_of_edges(*e) == 1]
    flow = nx.DiGraph()
    flow.add_nodes_from(list(range(case["order"])) + ["s", "t"])
    for a, b, capacity in case["arcs"]:
        if flow.has_edge(a, b):
            flow[a][b]["capacity"] += capacity
        else:
            flow.add_edge(a, b, capacity=capacity)
    for v in case["from"]:
        flow.add_edge("s", v)
    for v in case["to"]:
        flow.add_edge(v, "t")
    answers.append({
        "cuts": sorted(nx.articulation_points(simple)),
        "bridges": sorted(bridges),
        "flow": nx.maximum_flow_value(flow, "s", "t"),
    })
json.dump(answers, sys.stdout)
`;

interface Answer {
  readonly cuts: readonly number[];
  readonly bridges: readonly (readonly number[])[];
  readonly flow: number;
}

function python(script: string, input: string): string | null {
  try {
    return execFileSync("python3", ["-c", script], {
      input,
      encoding: "utf8",
      maxBuffer: 1e8,
      stdio: ["pipe", "pipe", "ignore"],
    });
  } catch {
    return null;
  }
}

const NETWORKX = python("import networkx", "") !== null;

describe("cuts and flows against networkx", () => {
  const title = `[G2] [G3] [G4] cut vertices, bridges and largest flows agree; ${SEEDS}`;
  test.skipIf(!NETWORKX)(NETWORKX ? title : `${title} – not run: no python3-networkx`, () => {
    const cases = ALL.filter(({ graph }) => graph.order > 1).map((each, n) => ({
      ...each,
      ...network(each.graph, n + 1),
    }));
    const told = python(
      PYTHON,
      JSON.stringify(
        cases.map(({ graph, arcs, from, to }) => ({
          order: graph.order,
          edges: graph.edges,
          arcs: arcs.filter((arc) => arc.from !== arc.to).map((arc) => [arc.from, arc.to, arc.capacity]),
          from,
          to,
        })),
      ),
    );
    if (told === null) throw new Error("networkx is there and gave no answer");
    const answers = JSON.parse(told) as readonly Answer[];
    expect(answers.length).toBe(cases.length);
    const wrong = cases.flatMap(({ name, graph, arcs, from, to }, n) => {
      const { cuts, bridges, flow } = answers[n]!;
      const got = cutsOf(graph).vertices;
      const ours = bridgesOf(graph)
        .map(([a, b]) => `${Math.min(a, b)}-${Math.max(a, b)}`)
        .sort();
      const theirs = bridges.map(([a, b]) => `${a}-${b}`).sort();
      const { value } = maxFlow(graph.order, arcs, from, to);
      return [
        ...(got.join() === cuts.join() ? [] : [`${name}: cuts ${cuts.join()}, engine ${got.join()}`]),
        ...(ours.join() === theirs.join()
          ? []
          : [`${name}: bridges ${theirs.join()}, engine ${ours.join()}`]),
        ...(value === flow ? [] : [`${name}: flow ${flow}, engine ${value}`]),
      ];
    });
    expect(wrong.slice(0, 10)).toEqual([]);
    expect(answers.filter(({ flow }) => flow > 0).length).toBeGreaterThan(100);
  });
});

describe("what the flow says of itself", () => {
  test(`[G4] the arcs that leave its cut hold just what flows, so no larger flow is possible; ${SEEDS}`, () => {
    const wrong = ALL.filter(({ graph }) => graph.order > 1).flatMap(({ name, graph }, n) => {
      const { arcs, from, to } = network(graph, n + 1);
      const { value, cut } = maxFlow(graph.order, arcs, from, to);
      const side = new Set(cut);
      const leaving = arcs.filter((arc) => side.has(arc.from) && !side.has(arc.to));
      const held = leaving.reduce((sum, { capacity }) => sum + capacity, 0);
      const apart = from.every((v) => side.has(v)) && !to.some((v) => side.has(v));
      return held === value && apart ? [] : [`${name}: flow ${value}, cut ${held}`];
    });
    expect(wrong.slice(0, 10)).toEqual([]);
  });
});
