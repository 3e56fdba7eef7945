/** The cheapest way of one wire over the grid: A* over points and the direction in which they are reached. */
import type { Point } from "../../model/show.ts";
import type { Anchor, NodeSide, Rect } from "../geometry.ts";
import {
  blockedOnLevel,
  blockedOnUpright,
  indexOf,
  isFree,
  withLines,
  type Grid,
  type Lines,
} from "./lines.ts";
import { CLEARANCE, MARGIN, OUTWARD, type Box, type WireEnd } from "./scene.ts";
import type { Traffic } from "./traffic.ts";

/** What a way costs besides its length. Bends and crossings are what makes a diagram hard to follow. */
const BEND = 50;
const CROSSING = 36;
const SHARED = 0.25;
/** For each unit of length over a name: worth a detour of a few bends, not one around the rig. */
const DISTURBED = 1.5;
/**
 * What is left of a way counts for a little more than it can cost at least. Ways may come out that much dearer than the
 * best one, and the search looks at a fraction of the points.
 */
const HASTE = 1.25;
/** Over the header of a node a wire reads badly, so the top is the last choice. */
const SIDE_COST: Readonly<Record<NodeSide, number>> = { left: 0, right: 0, bottom: 0, top: 60 };

interface Stub {
  readonly anchor: Point;
  readonly side: NodeSide;
  /** The point from which the wire may turn. */
  readonly out: Point;
}

export interface Found {
  readonly points: readonly Point[];
  readonly sides: readonly [NodeSide, NodeSide];
}

export function findWay(
  grid: Grid,
  ends: readonly [WireEnd, WireEnd],
  traffic: Traffic,
  quiet: readonly Rect[] = [],
): Found | null {
  const [starts, goals] = ends.map((end) => stubsOf(grid.boxes, end)) as [Stub[], Stub[]];
  if (starts.length === 0 || goals.length === 0) return null;
  const stubs = [...starts, ...goals];
  const upright = withLines(
    grid.upright,
    stubs.map(({ out }) => out.x),
    (x) => blockedOnUpright(grid.boxes, x),
  );
  const level = withLines(
    grid.level,
    stubs.map(({ out }) => out.y),
    (y) => blockedOnLevel(grid.boxes, y),
  );
  return search(upright, level, starts, goals, traffic, quiet);
}

/** The ends' straight pieces. One that would run into the next box is shortened; one with no room is left out. */
function stubsOf(boxes: readonly Box[], end: WireEnd): Stub[] {
  const box = boxes.find(({ id }) => id === end.box);
  if (!box) return [];
  return end.anchors.flatMap((at): Stub[] => {
    const anchor = { x: box.x + at.x, y: box.y + at.y };
    const length = Math.min(MARGIN, roomAhead(boxes, box, anchor, at) / 2);
    if (length < CLEARANCE) return [];
    const { x, y } = OUTWARD[at.side];
    return [{ anchor, side: at.side, out: { x: anchor.x + x * length, y: anchor.y + y * length } }];
  });
}

function roomAhead(boxes: readonly Box[], own: Box, anchor: Point, { side }: Anchor): number {
  const { x: dx, y: dy } = OUTWARD[side];
  let room = Infinity;
  for (const box of boxes) {
    if (box === own) continue;
    const beside = dx !== 0 ? anchor.y - box.y : anchor.x - box.x;
    const breadth = dx !== 0 ? box.height : box.width;
    if (beside <= -CLEARANCE || beside >= breadth + CLEARANCE) continue;
    const near =
      dx !== 0
        ? dx > 0
          ? box.x - anchor.x
          : anchor.x - (box.x + box.width)
        : dy > 0
          ? box.y - anchor.y
          : anchor.y - (box.y + box.height);
    const far = near + (dx !== 0 ? box.width : box.height);
    // A box that the anchor lies in leaves no room at all; one behind it doesn't matter.
    if (far > 0) room = Math.min(room, Math.max(0, near));
  }
  return room;
}

const HORIZONTAL = 0;
const VERTICAL = 1;
const axisOf = (side: NodeSide): 0 | 1 => (side === "left" || side === "right" ? HORIZONTAL : VERTICAL);

/** Working memory, kept between searches; a stamp tells which entries belong to the present one. */
let memory = {
  size: 0,
  cost: new Float64Array(),
  from: new Int32Array(),
  stamp: new Int32Array(),
  done: new Int32Array(),
};
let stampNow = 0;

function reserve(size: number): typeof memory {
  if (memory.size < size) {
    memory = {
      size,
      cost: new Float64Array(size),
      from: new Int32Array(size),
      stamp: new Int32Array(size),
      done: new Int32Array(size),
    };
  }
  stampNow++;
  return memory;
}

function search(
  upright: Lines,
  level: Lines,
  starts: readonly Stub[],
  goals: readonly Stub[],
  traffic: Traffic,
  quiet: readonly Rect[],
): Found | null {
  const xs = upright.at;
  const ys = level.at;
  const columns = xs.length;
  const rows = ys.length;
  const { cost, from, stamp, done } = reserve(columns * rows * 2);
  heap.clear();
  const pointAt = (stub: Stub): number => indexOf(ys, stub.out.y) * columns + indexOf(xs, stub.out.x);
  const goalPoints = goals.map(pointAt);
  const startOf = new Map<number, Stub>();

  /** Never more than what is left: the way to the nearest goal, and a bend where it can't be straight. */
  const left = (x: number, y: number, axis: number): number => {
    let least = Infinity;
    for (let n = 0; n < goals.length; n++) {
      const { out } = goals[n]!;
      const dx = Math.abs(out.x - x);
      const dy = Math.abs(out.y - y);
      const bends = dx > 0 && dy > 0 ? 1 : (axis === HORIZONTAL ? dy : dx) > 0 ? 1 : 0;
      const here = dx + dy + bends * BEND;
      if (here < least) least = here;
    }
    return least;
  };
  const offer = (state: number, price: number, source: number): void => {
    if (stamp[state] === stampNow && cost[state]! <= price) return;
    stamp[state] = stampNow;
    cost[state] = price;
    from[state] = source;
    const point = state >> 1;
    const column = point % columns;
    heap.push(price + HASTE * left(xs[column]!, ys[(point - column) / columns]!, state & 1), state);
  };

  for (const stub of starts) {
    const state = pointAt(stub) * 2 + axisOf(stub.side);
    if (stamp[state] === stampNow && cost[state]! <= SIDE_COST[stub.side]) continue;
    startOf.set(state, stub);
    offer(state, SIDE_COST[stub.side], -1);
  }

  let best = Infinity;
  let bestState = -1;
  let bestGoal = -1;
  for (;;) {
    const state = heap.pop();
    if (state < 0 || heap.key >= best) break;
    if (done[state] === stampNow) continue;
    done[state] = stampNow;
    const axis = state & 1;
    const point = state >> 1;
    const column = point % columns;
    const row = (point - column) / columns;
    const x = xs[column]!;
    const y = ys[row]!;
    const spent = cost[state]!;

    for (let index = 0; index < goals.length; index++) {
      if (goalPoints[index] !== point) continue;
      const { side } = goals[index]!;
      const total = spent + SIDE_COST[side] + (axisOf(side) === axis ? 0 : BEND);
      if (total < best) {
        best = total;
        bestState = state;
        bestGoal = index;
      }
    }

    for (const step of STEPS) {
      const along = step.axis;
      const nextColumn = column + step.x;
      const nextRow = row + step.y;
      if (nextColumn < 0 || nextRow < 0 || nextColumn >= columns || nextRow >= rows) continue;
      const nextX = xs[nextColumn]!;
      const nextY = ys[nextRow]!;
      const free =
        along === HORIZONTAL
          ? isFree(level.blocked[row]!, x, nextX)
          : isFree(upright.blocked[column]!, y, nextY);
      if (!free) continue;
      const target = (nextRow * columns + nextColumn) * 2 + along;
      if (done[target] === stampNow) continue;
      const plain = spent + Math.abs(nextX - x) + Math.abs(nextY - y) + (along === axis ? 0 : BEND);
      // Looking at the traffic is most of the work, and often the way is too dear already.
      if (plain >= best || (stamp[target] === stampNow && cost[target]! <= plain)) continue;
      const crossed =
        along === HORIZONTAL ? traffic.upright.crossings(y, x, nextX) : traffic.level.crossings(x, y, nextY);
      const shared =
        along === HORIZONTAL ? traffic.level.shared(y, x, nextX) : traffic.upright.shared(x, y, nextY);
      const disturbed = lengthIn(quiet, x, y, nextX, nextY);
      offer(target, plain + crossed * CROSSING + shared * SHARED + disturbed * DISTURBED, state);
    }
  }
  if (bestState < 0) return null;

  const points: Point[] = [];
  let state = bestState;
  let first = state;
  for (; state >= 0; state = from[state]!) {
    const point = state >> 1;
    points.unshift({ x: xs[point % columns]!, y: ys[Math.floor(point / columns)]! });
    first = state;
  }
  const start = startOf.get(first)!;
  const goal = goals[bestGoal]!;
  return {
    points: straightened([start.anchor, ...points, goal.anchor]),
    sides: [start.side, goal.side],
  };
}

/** How much of a move lies within rectangles. */
function lengthIn(rects: readonly Rect[], x: number, y: number, nextX: number, nextY: number): number {
  let length = 0;
  for (const rect of rects) {
    const level = y === nextY;
    const across = level ? y - rect.y : x - rect.x;
    if (across <= 0 || across >= (level ? rect.height : rect.width)) continue;
    const start = level ? rect.x : rect.y;
    const from = Math.max(start, level ? Math.min(x, nextX) : Math.min(y, nextY));
    const to = Math.min(
      start + (level ? rect.width : rect.height),
      level ? Math.max(x, nextX) : Math.max(y, nextY),
    );
    if (to > from) length += to - from;
  }
  return length;
}

const STEPS = [
  { axis: HORIZONTAL, x: -1, y: 0 },
  { axis: HORIZONTAL, x: 1, y: 0 },
  { axis: VERTICAL, x: 0, y: -1 },
  { axis: VERTICAL, x: 0, y: 1 },
] as const;

/** Without points that stand twice or amid a straight stretch. */
export function straightened(points: readonly Point[]): readonly Point[] {
  const kept: Point[] = [];
  for (const point of points) {
    const last = kept.at(-1);
    if (last && last.x === point.x && last.y === point.y) continue;
    const before = kept.at(-2);
    const straight =
      last &&
      before &&
      ((before.x === last.x && last.x === point.x) || (before.y === last.y && last.y === point.y));
    if (straight) kept.pop();
    kept.push(point);
  }
  return kept;
}

/** A binary heap of numbers by key; of equal keys the one that came first is taken first, so a search has one outcome. */
class Heap {
  /** Of the entry taken last. */
  key = 0;
  private size = 0;
  private pushed = 0;
  private keys = new Float64Array(4096);
  private orders = new Int32Array(4096);
  private values = new Int32Array(4096);

  clear(): void {
    this.size = 0;
    this.pushed = 0;
  }

  push(key: number, value: number): void {
    if (this.size === this.keys.length) this.grow();
    const { keys, orders, values } = this;
    const order = this.pushed++;
    let at = this.size++;
    // The new entry came last, so among equals it stays below its parent.
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (keys[parent]! <= key) break;
      keys[at] = keys[parent]!;
      orders[at] = orders[parent]!;
      values[at] = values[parent]!;
      at = parent;
    }
    keys[at] = key;
    orders[at] = order;
    values[at] = value;
  }

  /** The value with the least key, or −1. */
  pop(): number {
    const { keys, orders, values } = this;
    if (this.size === 0) return -1;
    this.key = keys[0]!;
    const top = values[0]!;
    const size = --this.size;
    const key = keys[size]!;
    const order = orders[size]!;
    const value = values[size]!;
    let at = 0;
    for (;;) {
      let child = at * 2 + 1;
      if (child >= size) break;
      const beside = child + 1;
      if (
        beside < size &&
        (keys[beside]! < keys[child]! || (keys[beside] === keys[child] && orders[beside]! < orders[child]!))
      )
        child = beside;
      if (keys[child]! > key || (keys[child] === key && orders[child]! > order)) break;
      keys[at] = keys[child]!;
      orders[at] = orders[child]!;
      values[at] = values[child]!;
      at = child;
    }
    keys[at] = key;
    orders[at] = order;
    values[at] = value;
    return top;
  }

  private grow(): void {
    const twice = <T extends Float64Array | Int32Array>(old: T, next: T): T => {
      next.set(old);
      return next;
    };
    const size = this.keys.length * 2;
    this.keys = twice(this.keys, new Float64Array(size));
    this.orders = twice(this.orders, new Int32Array(size));
    this.values = twice(this.values, new Int32Array(size));
  }
}

const heap = new Heap();
