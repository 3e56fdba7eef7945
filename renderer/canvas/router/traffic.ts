/** Where wires already run, so that later ones can count what they would cross and whom they would run along. */
import type { Point } from "#engine";

/** Wide enough that a stretch lies in few of them, narrow enough that each holds few stretches. */
const BUCKET = 80;
/** Closer than this counts as the same lane. */
const LANE_NEAR = 4;

interface Stretch {
  /** Place across the direction that it runs in. */
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

/** Stretches of one direction, in buckets by their place across it. */
class Bundle {
  private readonly buckets = new Map<number, Stretch[]>();

  add(at: number, a: number, b: number): void {
    const key = Math.floor(at / BUCKET);
    const bucket = this.buckets.get(key);
    const stretch = { at, from: Math.min(a, b), to: Math.max(a, b) };
    if (bucket) bucket.push(stretch);
    else this.buckets.set(key, [stretch]);
  }

  /** How many stretches a move from `a` to `b` at `along` crosses. */
  crossings(along: number, a: number, b: number): number {
    const low = Math.min(a, b);
    const high = Math.max(a, b);
    let count = 0;
    for (let key = Math.floor(low / BUCKET); key <= Math.floor(high / BUCKET); key++) {
      for (const { at, from, to } of this.buckets.get(key) ?? []) {
        if (at > low && at <= high && along > from && along < to) count++;
      }
    }
    return count;
  }

  /** Over which length a move from `a` to `b` at `at` would share its lane with others. */
  shared(at: number, a: number, b: number): number {
    const low = Math.min(a, b);
    const high = Math.max(a, b);
    let length = 0;
    for (const stretch of this.buckets.get(Math.floor(at / BUCKET)) ?? []) {
      if (Math.abs(stretch.at - at) >= LANE_NEAR) continue;
      length += Math.max(0, Math.min(high, stretch.to) - Math.max(low, stretch.from));
    }
    return length;
  }
}

export class Traffic {
  readonly upright = new Bundle();
  readonly level = new Bundle();

  add(points: readonly Point[]): void {
    for (let n = 1; n < points.length; n++) {
      const a = points[n - 1]!;
      const b = points[n]!;
      if (a.x === b.x) this.upright.add(a.x, a.y, b.y);
      else this.level.add(a.y, a.x, b.x);
    }
  }
}
