/**
 * The sparse grid that wires are searched on: upright and level lines a margin away from each box, and half-way between
 * close neighbours. A line knows the stretches of it that boxes block.
 */
import { CLEARANCE, MARGIN, type Box } from "./scene.ts";

/** Blocked stretches of one line as start, end, start, end …; sorted, and joined where they overlap. */
export type Blocked = readonly number[];

export interface Lines {
  /** Where the lines stand, ascending. */
  readonly at: readonly number[];
  readonly blocked: readonly Blocked[];
}

export interface Grid {
  readonly boxes: readonly Box[];
  readonly upright: Lines;
  readonly level: Lines;
}

/** In a wider gap the lines beside the boxes on both sides are enough. */
const NARROW = 3 * MARGIN;

export function gridOf(boxes: readonly Box[]): Grid {
  const xs = new Set<number>();
  const ys = new Set<number>();
  for (const box of boxes) {
    xs.add(box.x - MARGIN).add(box.x + box.width + MARGIN);
    ys.add(box.y - MARGIN).add(box.y + box.height + MARGIN);
    const right = nextBeside(box, boxes);
    if (right !== null && right - box.x - box.width < NARROW) xs.add((box.x + box.width + right) / 2);
    const below = nextBelow(box, boxes);
    if (below !== null && below - box.y - box.height < NARROW) ys.add((box.y + box.height + below) / 2);
  }
  const lines = (set: ReadonlySet<number>, blocked: (at: number) => Blocked): Lines => {
    const at = [...set].sort((a, b) => a - b);
    return { at, blocked: at.map(blocked) };
  };
  return {
    boxes,
    upright: lines(xs, (x) => blockedOnUpright(boxes, x)),
    level: lines(ys, (y) => blockedOnLevel(boxes, y)),
  };
}

/** Left edge of the nearest box to the right that faces this one. */
function nextBeside(box: Box, boxes: readonly Box[]): number | null {
  let nearest: number | null = null;
  for (const other of boxes) {
    if (other.x < box.x + box.width) continue;
    if (other.y > box.y + box.height + MARGIN || other.y + other.height < box.y - MARGIN) continue;
    if (nearest === null || other.x < nearest) nearest = other.x;
  }
  return nearest;
}

function nextBelow(box: Box, boxes: readonly Box[]): number | null {
  let nearest: number | null = null;
  for (const other of boxes) {
    if (other.y < box.y + box.height) continue;
    if (other.x > box.x + box.width + MARGIN || other.x + other.width < box.x - MARGIN) continue;
    if (nearest === null || other.y < nearest) nearest = other.y;
  }
  return nearest;
}

export function blockedOnUpright(boxes: readonly Box[], x: number): Blocked {
  const found: [number, number][] = [];
  for (const box of boxes) {
    if (x > box.x - CLEARANCE && x < box.x + box.width + CLEARANCE)
      found.push([box.y - CLEARANCE, box.y + box.height + CLEARANCE]);
  }
  return joined(found);
}

export function blockedOnLevel(boxes: readonly Box[], y: number): Blocked {
  const found: [number, number][] = [];
  for (const box of boxes) {
    if (y > box.y - CLEARANCE && y < box.y + box.height + CLEARANCE)
      found.push([box.x - CLEARANCE, box.x + box.width + CLEARANCE]);
  }
  return joined(found);
}

function joined(found: [number, number][]): Blocked {
  found.sort((a, b) => a[0] - b[0]);
  const flat: number[] = [];
  for (const [from, to] of found) {
    const last = flat.length - 1;
    if (last > 0 && from <= flat[last]!) flat[last] = Math.max(flat[last]!, to);
    else flat.push(from, to);
  }
  return flat;
}

/** Whether the stretch between two places of a line is free; it may touch what is blocked. */
export function isFree(blocked: Blocked, a: number, b: number): boolean {
  const from = a < b ? a : b;
  const to = a < b ? b : a;
  for (let n = 0; n < blocked.length; n += 2) {
    if (blocked[n]! >= to) return true;
    if (blocked[n + 1]! > from) return false;
  }
  return true;
}

/** The lines with more of them put in, for the ends of one wire. */
export function withLines(lines: Lines, more: readonly number[], blocked: (at: number) => Blocked): Lines {
  const fresh = [...new Set(more)].filter((at) => !holds(lines.at, at)).sort((a, b) => a - b);
  if (fresh.length === 0) return lines;
  const at: number[] = [];
  const stretches: Blocked[] = [];
  let next = 0;
  lines.at.forEach((known, index) => {
    while (next < fresh.length && fresh[next]! < known) {
      at.push(fresh[next]!);
      stretches.push(blocked(fresh[next++]!));
    }
    at.push(known);
    stretches.push(lines.blocked[index]!);
  });
  for (; next < fresh.length; next++) {
    at.push(fresh[next]!);
    stretches.push(blocked(fresh[next]!));
  }
  return { at, blocked: stretches };
}

/** Index of a line that is known to be there. */
export function indexOf(at: readonly number[], value: number): number {
  let low = 0;
  let high = at.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const here = at[middle]!;
    if (here === value) return middle;
    if (here < value) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}

const holds = (at: readonly number[], value: number): boolean => indexOf(at, value) >= 0;
