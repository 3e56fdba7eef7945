/**
 * The rig as devices joined by cables, and its single points of failure: the devices and cables without which it falls
 * into parts. The G rules of SPEC.md.
 */
import { bucketsOf } from "./buckets.ts";
import type { Wiring } from "./wiring.ts";
import { linkSlots } from "./join.ts";
import type { PluggedCable, Plugs } from "./plugs.ts";

/** Vertices are numbered from 0; two vertices may be joined more than once. */
export interface Graph {
  readonly order: number;
  readonly edges: readonly (readonly [a: number, b: number])[];
}

/** Vertices are devices by their index in the show. */
export interface CableGraph extends Graph {
  /** For each edge the cable's index in the show, and the slots or signals that it carries from a to b and back. */
  readonly cables: readonly { readonly cable: number; readonly there: number; readonly back: number }[];
}

export interface Cuts {
  /** In ascending order. */
  readonly vertices: readonly number[];
  /** Indices of edges, in ascending order. */
  readonly bridges: readonly number[];
}

/** A vertex for each device, an edge for each live cable that joins two devices that are on (G1). */
export function cableGraph({ devices, plugs }: Wiring): CableGraph {
  const edges: (readonly [number, number])[] = [];
  const cables: CableGraph["cables"][number][] = [];
  for (const plugged of plugs.cables) {
    const joined = joinedBy(plugged, plugs);
    if (!joined) continue;
    edges.push(joined.ends);
    cables.push({ cable: plugged.index, there: joined.there, back: joined.back });
  }
  return { order: devices.length, edges, cables };
}

interface Joined {
  readonly ends: readonly [number, number];
  readonly there: number;
  readonly back: number;
}

function joinedBy(plugged: PluggedCable, plugs: Plugs): Joined | null {
  const { join, live, cable } = plugged;
  if (!live || join.kind === "misfit") return null;
  const [a, b] = join.kind === "link" ? join.ends : [join.from, join.to];
  if (a.device === b.device || !a.device.device.powered || !b.device.device.powered) return null;
  const ends = [a.device.index, b.device.index] as const;
  if (join.kind === "jacks") {
    const { from, to } = join;
    const jacks = Math.min(cable.ways, from.bank.count - from.first + 1, to.bank.count - to.first + 1);
    return jacks > 0 ? { ends, there: jacks * Math.min(from.bank.perJack, to.bank.perJack), back: 0 } : null;
  }
  const [near, far] = join.ends;
  const plug = plugs.ofPort(near.device.index, near.port.id);
  if (plug?.cable !== plugged || !plug.far) return null;
  return { ends, there: linkSlots(near, far), back: linkSlots(far, near) };
}

const UNSEEN = -1;

/**
 * Cut vertices and bridges by depth-first numbers and low links (Hopcroft and Tarjan 1973), with a stack of its own,
 * since a chain can be as long as the rig has devices. Linear in vertices and edges. Parallel edges are no bridges.
 */
export function cutsOf({ order, edges }: Graph): Cuts {
  const { start, edge } = adjacency(order, edges);
  const number = new Int32Array(order).fill(UNSEEN);
  const low = new Int32Array(order);
  const cut = new Uint8Array(order);
  const next = start.slice();
  /** The edge by which a vertex was found. */
  const by = new Int32Array(order).fill(UNSEEN);
  const bridges: number[] = [];
  const path: number[] = [];
  let count = 0;
  for (let root = 0; root < order; root++) {
    if (number[root] !== UNSEEN) continue;
    let children = 0;
    number[root] = low[root] = count++;
    path.push(root);
    while (path.length > 0) {
      const at = path.at(-1)!;
      if (next[at]! < start[at + 1]!) {
        const taken = edge[next[at]!++]!;
        if (taken === by[at]) continue;
        const to = across(edges[taken]!, at);
        if (number[to] !== UNSEEN) {
          low[at] = Math.min(low[at]!, number[to]!);
          continue;
        }
        if (at === root) children++;
        number[to] = low[to] = count++;
        by[to] = taken;
        path.push(to);
        continue;
      }
      path.pop();
      const above = path.at(-1);
      if (above === undefined) continue;
      low[above] = Math.min(low[above]!, low[at]!);
      if (low[at]! > number[above]!) bridges.push(by[at]!);
      if (above !== root && low[at]! >= number[above]!) cut[above] = 1;
    }
    if (children > 1) cut[root] = 1;
  }
  const vertices = Array.from(cut.keys()).filter((vertex) => cut[vertex] === 1);
  return { vertices, bridges: bridges.sort((a, b) => a - b) };
}

const across = ([a, b]: readonly [number, number], at: number): number => (a === at ? b : a);

/** For each vertex its edges: `edge[start[v] … start[v + 1]]`. An edge from a vertex to itself stands there twice. */
function adjacency(
  order: number,
  edges: Graph["edges"],
): { readonly start: Int32Array; readonly edge: Int32Array } {
  const { start, list } = bucketsOf(Int32Array.from(edges.flat()), order);
  // Each edge has two ends, one after the other.
  return { start, edge: list.map((end) => end >> 1) };
}
