/** The cheapest way of one wire over the grid: A* over points and the direction in which they are reached. */
import type { Point } from "#engine";
import type { Anchor, NodeSide } from "../geometry.ts";
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

export function findWay(grid: Grid, ends: readonly [WireEnd, WireEnd], traffic: Traffic): Found | null {
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
  return search(upright, level, starts, goals, traffic);
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
): Found | null {
  const xs = upright.at;
  const ys = level.at;
  const columns = xs.length;
  const rows = ys.length;
  const { cost, from, stamp, done } = reserve(columns * rows * 2);
  const heap = new Heap();
  const pointAt = (stub: Stub): number => indexOf(ys, stub.out.y) * columns + indexOf(xs, stub.out.x);
  const goalPoints = goals.map(pointAt);
  const startOf = new Map<number, Stub>();

  /** Never more than what is left: the way to the nearest goal, and a bend where it can't be straight. */
  const left = (x: number, y: number, axis: number): number => {
    let least = Infinity;
    for (const { out } of goals) {
      const dx = Math.abs(out.x - x);
      const dy = Math.abs(out.y - y);
      const bends = dx > 0 && dy > 0 ? 1 : (axis === HORIZONTAL ? dy : dx) > 0 ? 1 : 0;
      least = Math.min(least, dx + dy + bends * BEND);
    }
    return least;
  };
  const offer = (state: number, price: number, source: number): void => {
    if (stamp[state] === stampNow && cost[state]! <= price) return;
    stamp[state] = stampNow;
    cost[state] = price;
    from[state] = source;
    const point = state >> 1;
    heap.push(price + left(xs[point % columns]!, ys[Math.floor(point / columns)]!, state & 1), state);
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
    const next = heap.pop();
    if (next === null || next.key >= best) break;
    const state = next.value;
    if (done[state] === stampNow) continue;
    done[state] = stampNow;
    const axis = state & 1;
    const point = state >> 1;
    const column = point % columns;
    const row = (point - column) / columns;
    const x = xs[column]!;
    const y = ys[row]!;
    const spent = cost[state]!;

    goalPoints.forEach((goal, index) => {
      if (goal !== point) return;
      const { side } = goals[index]!;
      const total = spent + SIDE_COST[side] + (axisOf(side) === axis ? 0 : BEND);
      if (total < best) {
        best = total;
        bestState = state;
        bestGoal = index;
      }
    });

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
      const length = Math.abs(nextX - x) + Math.abs(nextY - y);
      const crossed =
        along === HORIZONTAL ? traffic.upright.crossings(y, x, nextX) : traffic.level.crossings(x, y, nextY);
      const shared =
        along === HORIZONTAL ? traffic.level.shared(y, x, nextX) : traffic.upright.shared(x, y, nextY);
      const bend = along === axis ? 0 : BEND;
      offer(target, spent + length + bend + crossed * CROSSING + shared * SHARED, state);
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

/** A binary heap; of equal keys the one that came first is taken first, so that a search has one outcome. */
class Heap {
  private readonly keys: number[] = [];
  private readonly orders: number[] = [];
  private readonly values: number[] = [];
  private pushed = 0;

  push(key: number, value: number): void {
    let at = this.keys.length;
    this.keys.push(key);
    this.orders.push(this.pushed++);
    this.values.push(value);
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (!this.before(at, parent)) break;
      this.swap(at, parent);
      at = parent;
    }
  }

  pop(): { readonly key: number; readonly value: number } | null {
    const { keys, orders, values } = this;
    if (keys.length === 0) return null;
    const top = { key: keys[0]!, value: values[0]! };
    this.swap(0, keys.length - 1);
    keys.pop();
    orders.pop();
    values.pop();
    for (let at = 0; ;) {
      const child = at * 2 + 1;
      if (child >= keys.length) break;
      const least = child + 1 < keys.length && this.before(child + 1, child) ? child + 1 : child;
      if (!this.before(least, at)) break;
      this.swap(least, at);
      at = least;
    }
    return top;
  }

  private before(a: number, b: number): boolean {
    const ka = this.keys[a]!;
    const kb = this.keys[b]!;
    return ka < kb || (ka === kb && this.orders[a]! < this.orders[b]!);
  }

  private swap(a: number, b: number): void {
    for (const list of [this.keys, this.orders, this.values]) {
      const kept = list[a]!;
      list[a] = list[b]!;
      list[b] = kept;
    }
  }
}
