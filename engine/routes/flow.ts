/** How much can get from some vertices to others at most, where every edge has a capacity: Dinic's algorithm (1970). */
import { bucketsOf, type Buckets } from "../wiring/buckets.ts";
import { cableGraph } from "../wiring/cuts.ts";
import type { Wiring } from "../wiring/wiring.ts";

/** A directed edge. */
export interface Arc {
  readonly from: number;
  readonly to: number;
  readonly capacity: number;
}

export interface Flow {
  readonly value: number;
  /** For each arc what flows over it. */
  readonly over: Int32Array;
  /** The sources' side of a smallest cut: the arcs that leave it are all full, and are what stands in the way. */
  readonly cut: readonly number[];
}

/** Slots that can get from some devices to others at most, over all cables together (G4); devices by their index. */
export function slotFlow(wiring: Wiring, from: readonly number[], to: readonly number[]): Flow {
  const { order, edges, cables } = cableGraph(wiring);
  const arcs = edges.flatMap(([a, b], n): Arc[] => [
    { from: a, to: b, capacity: cables[n]!.there },
    { from: b, to: a, capacity: cables[n]!.back },
  ]);
  return maxFlow(order, arcs, from, to);
}

/**
 * The largest flow from any of `sources` to any of `sinks`, which must not meet. Whole numbers only. Level by level with
 * stacks of its own; at most vertices² × edges steps.
 */
export function maxFlow(
  order: number,
  arcs: readonly Arc[],
  sources: readonly number[],
  sinks: readonly number[],
): Flow {
  const net = residual(order, arcs);
  const { room } = net;
  const level = new Int32Array(order);
  const isSink = new Uint8Array(order);
  for (const sink of sinks) isSink[sink] = 1;
  let value = 0;
  while (levels(net, sources, isSink, level)) {
    const next = net.start.slice();
    for (const source of sources) {
      for (let pushed = push(net, source, isSink, level, next); pushed > 0;) {
        value += pushed;
        pushed = push(net, source, isSink, level, next);
      }
    }
  }
  return {
    value,
    over: Int32Array.from(arcs, ({ capacity }, n) => Math.max(0, capacity - room[2 * n]!)),
    cut: Array.from(level.keys()).filter((vertex) => level[vertex]! >= 0),
  };
}

/** Arc n and its reverse stand at 2n and 2n + 1; `list[start[v] … start[v + 1]]` are those that leave v. */
interface Residual extends Buckets {
  readonly head: Int32Array;
  readonly room: Int32Array;
}

function residual(order: number, arcs: readonly Arc[]): Residual {
  const head = new Int32Array(2 * arcs.length);
  const tail = new Int32Array(2 * arcs.length);
  const room = new Int32Array(2 * arcs.length);
  arcs.forEach(({ from, to, capacity }, n) => {
    tail[2 * n] = head[2 * n + 1] = from;
    head[2 * n] = tail[2 * n + 1] = to;
    room[2 * n] = capacity;
  });
  return { ...bucketsOf(tail, order), head, room };
}

/** Numbers each vertex by its distance from the sources over arcs with room; −1: out of reach. False: no sink in reach. */
function levels(
  { start, list, head, room }: Residual,
  sources: readonly number[],
  isSink: Uint8Array,
  level: Int32Array,
): boolean {
  level.fill(-1);
  for (const source of sources) level[source] = 0;
  const queue = [...new Set(sources)];
  let found = false;
  for (const at of queue) {
    if (isSink[at]) found = true;
    for (let n = start[at]!; n < start[at + 1]!; n++) {
      const arc = list[n]!;
      const to = head[arc]!;
      if (room[arc]! <= 0 || level[to]! >= 0) continue;
      level[to] = level[at]! + 1;
      queue.push(to);
    }
  }
  return found;
}

/** Sends as much as one path takes from the source to a sink, level by level; 0 where no path is left. */
function push(
  { start, list, head, room }: Residual,
  source: number,
  isSink: Uint8Array,
  level: Int32Array,
  next: Int32Array,
): number {
  const path: number[] = [];
  for (let at = source; ;) {
    if (isSink[at]) {
      const most = path.reduce((least, arc) => Math.min(least, room[arc]!), Infinity);
      for (const arc of path) {
        room[arc]! -= most;
        // The reverse arc stands beside its arc.
        room[arc ^ 1]! += most;
      }
      return path.length > 0 ? most : 0;
    }
    while (next[at]! < start[at + 1]!) {
      const arc = list[next[at]!]!;
      if (room[arc]! > 0 && level[head[arc]!] === level[at]! + 1) break;
      next[at]!++;
    }
    if (next[at]! < start[at + 1]!) {
      const arc = list[next[at]!]!;
      path.push(arc);
      at = head[arc]!;
      continue;
    }
    // A dead end: back to where it was entered, and never that way again.
    const last = path.pop();
    if (last === undefined) return 0;
    at = head[last ^ 1]!;
    next[at]!++;
  }
}
