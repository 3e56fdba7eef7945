/** The reference as a graph of the graph library, and walks on it that use nothing but the library's own edges. */
import { DirectedGraph } from "graphology";
import { referenceOf, type RefAway, type RefEnd } from "./reference.ts";
import type { Show } from "#engine/model/show.ts";

interface NodeFacts {
  readonly end: RefEnd | null;
  readonly cable: string | null;
  readonly side: string;
  readonly join: boolean;
}

interface EdgeFacts {
  readonly kind: "feed" | "mix";
  readonly delay: number;
}

export type RigGraph = DirectedGraph<NodeFacts, EdgeFacts>;

/** Signal runs along the edges: feeder → terminal, member → tap. */
export function graphOf(show: Show, away?: RefAway): RigGraph {
  const { nodes, mixes } = referenceOf(show, away);
  const graph: RigGraph = new DirectedGraph<NodeFacts, EdgeFacts>();
  for (const { key, end, cable, side, join } of nodes.values())
    graph.addNode(key, { end, cable, side, join });
  // A feeder that isn't a terminal of the rig would throw here, which is what should happen.
  for (const { key, feeder, delay } of nodes.values()) {
    if (feeder !== null) graph.addDirectedEdge(feeder, key, { kind: "feed", delay });
  }
  for (const { from, to, delay } of mixes) graph.addDirectedEdge(from, to, { kind: "mix", delay });
  return graph;
}

export interface GraphWalk {
  readonly root: string;
  readonly end: RefEnd | "loop";
  readonly steps: number;
  readonly delay: number;
  /** For a loop: its terminals, in the order in which the walk upstream meets them. */
  readonly cycle: readonly string[];
  /** The terminals that were passed, from the target to the root; empty in a loop. */
  readonly way: readonly string[];
}

/** Upstream from a terminal, against the feed edges, to where nothing feeds or a terminal comes twice. */
export function walkUp(graph: RigGraph, target: string): GraphWalk {
  const passed: string[] = [target];
  const seen = new Set(passed);
  let delay = 0;
  for (;;) {
    const at = passed.at(-1)!;
    const edge = graph.findInEdge(at, (_edge, facts) => facts.kind === "feed");
    if (edge === undefined) {
      const end = graph.getNodeAttribute(at, "end");
      if (end === null) throw new Error(`${at} has neither a feeder nor an end`);
      return { root: at, end, steps: passed.length - 1, delay, cycle: [], way: passed };
    }
    delay += graph.getEdgeAttribute(edge, "delay");
    const next = graph.source(edge);
    if (seen.has(next)) {
      return {
        root: next,
        end: "loop",
        steps: 0,
        delay: 0,
        cycle: passed.slice(passed.indexOf(next)),
        way: [],
      };
    }
    seen.add(next);
    passed.push(next);
  }
}

/** Every terminal that the signal of `start` comes to, downstream; the start itself left out. */
export function reachDown(graph: RigGraph, start: string, throughMixes: boolean): ReadonlySet<string> {
  const reached = new Set<string>();
  const open = [start];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    graph.forEachOutEdge(at, (_edge, facts, _source, target) => {
      if (facts.kind === "mix" && !throughMixes) return;
      if (target === start || reached.has(target)) return;
      reached.add(target);
      open.push(target);
    });
  }
  return reached;
}

/** What arrives at a terminal: where its walk upstream ends, behind a join where the walks of all its legs do. */
export function arrivingAt(graph: RigGraph, target: string): readonly GraphWalk[] {
  const arriving: GraphWalk[] = [];
  const opened = new Set<string>();
  const open = [target];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const walk = walkUp(graph, at);
    if (walk.end !== "tap" && walk.end !== "source") continue;
    if (!graph.getNodeAttribute(walk.root, "join")) arriving.push(walk);
    else if (!opened.has(walk.root)) {
      opened.add(walk.root);
      graph.forEachInEdge(walk.root, (_edge, _facts, leg) => void open.push(leg));
    }
  }
  return arriving;
}

/** Upstream as a trace is told: through joins that nothing arrives at, over the leg that J2 names. */
export function walkOn(graph: RigGraph, target: string): GraphWalk {
  const first = walkUp(graph, target);
  const isJoin = ({ end, root }: GraphWalk): boolean => end === "tap" && graph.getNodeAttribute(root, "join");
  if (!isJoin(first) || arrivingAt(graph, first.root).length > 0) return first;
  const stops: GraphWalk[] = [];
  const opened = new Set([first.root]);
  // Breadth first: each join's legs in their order, then those of the joins behind them.
  for (let row = [first]; row.length > 0;) {
    const next: GraphWalk[] = [];
    for (const before of row) {
      graph.forEachInEdge(before.root, (edge, _facts, leg) => {
        const walk = onward(before, graph.getEdgeAttribute(edge, "delay"), walkUp(graph, leg));
        if (walk.end === "loop") return;
        if (!isJoin(walk)) stops.push(walk);
        else if (!opened.has(walk.root)) {
          opened.add(walk.root);
          next.push(walk);
        }
      });
    }
    row = next;
  }
  const hasPlug = ({ end, root }: GraphWalk): boolean =>
    end !== "not-plugged" || graph.getNodeAttribute(root, "cable") !== null;
  return stops.find(hasPlug) ?? stops[0] ?? roundAndRound(graph, first.root);
}

function onward(before: GraphWalk, delay: number, walk: GraphWalk): GraphWalk {
  return {
    ...walk,
    steps: before.steps + 1 + walk.steps,
    delay: before.delay + delay + walk.delay,
    way: [...before.way, ...walk.way],
  };
}

/** Over the first leg of each join until a terminal comes twice. */
function roundAndRound(graph: RigGraph, join: string): GraphWalk {
  const passed: string[] = [];
  let at = join;
  while (!passed.includes(at)) {
    passed.push(at);
    const feeds = graph.inEdges(at);
    at = graph.source(feeds[0]!);
  }
  return { root: at, end: "loop", steps: 0, delay: 0, cycle: passed.slice(passed.indexOf(at)), way: [] };
}
