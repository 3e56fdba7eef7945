/**
 * Parallel wires side by side. The search lets wires share a line; here each stretch that isn't tied to a jack moves
 * across within the free room around it, so that neighbours keep a distance and the order that crosses least.
 */
import type { Point } from "../../model/show.ts";
import { CLEARANCE, type Box } from "./scene.ts";
import { straightened } from "./search.ts";

/** The distance between neighbours, and what it may shrink to where the room is short. */
const LANES = [10, 8, 6, 4.5, 3, 2] as const;
/** Stretches further apart than this leave each other alone. */
const REACH = 16;

interface Stretch {
  readonly wire: number;
  /** Its first point is this one of the wire. */
  readonly index: number;
  readonly a: number;
  readonly b: number;
  /** Where the wire comes from at the ends of lower and of higher coordinate: −1 lower, 1 higher, 0 a jack. */
  readonly fromA: number;
  readonly fromB: number;
  readonly low: number;
  readonly high: number;
  at: number;
}

/** The same wires with their lanes taken apart; wires come and go in the order given. */
export function spreadLanes(
  boxes: readonly Box[],
  wires: readonly (readonly Point[])[],
): (readonly Point[])[] {
  const moved = wires.map((points) => points.map(({ x, y }) => ({ x, y })));
  spread(boxes, moved, "x");
  spread(boxes, moved, "y");
  return moved.map(straightened);
}

type Axis = "x" | "y";
type Moving = { x: number; y: number };

/** `axis`: the coordinate that changes; stretches run along the other one. */
function spread(boxes: readonly Box[], wires: Moving[][], axis: Axis): void {
  const along: Axis = axis === "x" ? "y" : "x";
  const stretches: Stretch[] = [];
  wires.forEach((points, wire) => {
    for (let index = 0; index + 1 < points.length; index++) {
      const from = points[index]!;
      const to = points[index + 1]!;
      if (from[axis] !== to[axis] || from[along] === to[along]) continue;
      const tied = index === 0 || index + 2 === points.length;
      const forward = from[along] < to[along];
      const turn = (beyond: Moving | undefined): number =>
        beyond ? Math.sign(beyond[axis] - from[axis]) : 0;
      const before = turn(points[index - 1]);
      const after = turn(points[index + 2]);
      const a = Math.min(from[along], to[along]);
      const b = Math.max(from[along], to[along]);
      const room = tied ? { low: from[axis], high: from[axis] } : roomAround(boxes, axis, from[axis], a, b);
      stretches.push({
        wire,
        index,
        a,
        b,
        fromA: forward ? before : after,
        fromB: forward ? after : before,
        ...room,
        at: from[axis],
      });
    }
  });
  for (const neighbours of clusters(stretches)) separate(neighbours);
  for (const { wire, index, at } of stretches) {
    wires[wire]![index]![axis] = at;
    wires[wire]![index + 1]![axis] = at;
  }
}

const SIZE = { x: "width", y: "height" } as const;

function roomAround(
  boxes: readonly Box[],
  axis: Axis,
  at: number,
  a: number,
  b: number,
): { readonly low: number; readonly high: number } {
  const along: Axis = axis === "x" ? "y" : "x";
  let low = at - 60;
  let high = at + 60;
  for (const box of boxes) {
    if (box[along] - CLEARANCE >= b || box[along] + box[SIZE[along]] + CLEARANCE <= a) continue;
    const near = box[axis] - CLEARANCE;
    const far = box[axis] + box[SIZE[axis]] + CLEARANCE;
    if (far <= at) low = Math.max(low, far);
    else if (near >= at) high = Math.min(high, near);
    // A wire that no way was found for lies across a box and stays where it is.
    else return { low: at, high: at };
  }
  return { low, high };
}

const overlap = (one: Stretch, other: Stretch): boolean => one.a < other.b + 4 && other.a < one.b + 4;

/** Stretches that have to heed each other, directly or by others between them. */
function clusters(stretches: readonly Stretch[]): Stretch[][] {
  const sorted = [...stretches].sort((one, other) => one.at - other.at || one.wire - other.wire);
  const group = sorted.map((_, index) => index);
  const find = (index: number): number => {
    while (group[index] !== index) index = group[index] = group[group[index]!]!;
    return index;
  };
  for (let i = 0; i < sorted.length; i++) {
    for (let j = i + 1; j < sorted.length && sorted[j]!.at - sorted[i]!.at < REACH; j++) {
      if (overlap(sorted[i]!, sorted[j]!)) group[find(j)] = find(i);
    }
  }
  const found = new Map<number, Stretch[]>();
  sorted.forEach((stretch, index) => {
    const root = find(index);
    const members = found.get(root);
    if (members) members.push(stretch);
    else found.set(root, [stretch]);
  });
  return [...found.values()].filter((members) => members.length > 1);
}

function separate(members: Stretch[]): void {
  const order = inOrder(members);
  for (const lane of LANES) {
    const places = placed(order, lane);
    if (!places) continue;
    order.forEach((stretch, index) => (stretch.at = places[index]!));
    return;
  }
}

/** Ascending by place; those on one line in the order that crosses least. */
function inOrder(members: readonly Stretch[]): Stretch[] {
  const wins = new Map(members.map((stretch) => [stretch, 0]));
  for (const one of members) {
    for (const other of members) {
      if (one !== other && one.at === other.at && overlap(one, other) && lower(one, other) < 0)
        wins.set(one, wins.get(one)! + 1);
    }
  }
  return [...members].sort(
    (one, other) => one.at - other.at || wins.get(other)! - wins.get(one)! || one.wire - other.wire,
  );
}

/**
 * Negative where `one` belongs on the lower side of `other`. At each end the stretch that ends first, within the
 * other's length, must lie on the side to which its wire turns off.
 */
function lower(one: Stretch, other: Stretch): number {
  const atA = one.a === other.a ? one.fromA - other.fromA : one.a > other.a ? one.fromA : -other.fromA;
  const atB = one.b === other.b ? one.fromB - other.fromB : one.b < other.b ? one.fromB : -other.fromB;
  return atA + atB;
}

/** A place for each that keeps `lane` between neighbours and everyone in its room; null where there isn't the room. */
function placed(order: readonly Stretch[], lane: number): readonly number[] | null {
  const latest = order.map(({ high }) => high);
  for (let i = order.length - 1; i >= 0; i--) {
    for (let j = i + 1; j < order.length; j++) {
      if (overlap(order[i]!, order[j]!)) latest[i] = Math.min(latest[i]!, latest[j]! - lane);
    }
  }
  const wished = order.map((stretch) => {
    const sameLine = order.filter((other) => other.at === stretch.at && overlap(stretch, other));
    return stretch.at + (sameLine.indexOf(stretch) - (sameLine.length - 1) / 2) * lane;
  });
  const places: number[] = [];
  for (let i = 0; i < order.length; i++) {
    const stretch = order[i]!;
    let earliest = stretch.low;
    for (let j = 0; j < i; j++) {
      if (overlap(order[j]!, stretch)) earliest = Math.max(earliest, places[j]! + lane);
    }
    if (earliest > latest[i]! + 0.001) {
      // Two stretches tied to their jacks can't be moved apart; all others can.
      if (stretch.low !== stretch.high) return null;
      earliest = stretch.low;
    }
    const place = Math.min(Math.max(wished[i]!, earliest), Math.max(earliest, latest[i]!));
    places.push(stretch.low === stretch.high ? stretch.low : place);
  }
  return places;
}
