/** Where wires already run, so that later ones can count what they would cross and whom they would run along. */
import type { Point } from "../../model/show.ts";

/** Wide enough that a move touches few of them, narrow enough that each holds few stretches. */
const BUCKET = 32;
/** Closer than this counts as the same lane. */
const LANE_NEAR = 4;

/** Stretches of one direction in buckets by their place across it, as at, from, to, at, from, to … */
class Bundle {
  private readonly buckets = new Map<number, number[]>();

  add(at: number, a: number, b: number): void {
    const key = Math.floor(at / BUCKET);
    let bucket = this.buckets.get(key);
    if (!bucket) this.buckets.set(key, (bucket = []));
    bucket.push(at, Math.min(a, b), Math.max(a, b));
  }

  /** How many stretches a move from `a` to `b` at `along` crosses. */
  crossings(along: number, a: number, b: number): number {
    const low = a < b ? a : b;
    const high = a < b ? b : a;
    const last = Math.floor(high / BUCKET);
    let count = 0;
    for (let key = Math.floor(low / BUCKET); key <= last; key++) {
      const bucket = this.buckets.get(key);
      if (!bucket) continue;
      for (let n = 0; n < bucket.length; n += 3) {
        const at = bucket[n]!;
        if (at > low && at <= high && along > bucket[n + 1]! && along < bucket[n + 2]!) count++;
      }
    }
    return count;
  }

  /** Over which length a move from `a` to `b` at `at` would share its lane with others. */
  shared(at: number, a: number, b: number): number {
    const bucket = this.buckets.get(Math.floor(at / BUCKET));
    if (!bucket) return 0;
    const low = a < b ? a : b;
    const high = a < b ? b : a;
    let length = 0;
    for (let n = 0; n < bucket.length; n += 3) {
      if (Math.abs(bucket[n]! - at) >= LANE_NEAR) continue;
      const from = bucket[n + 1]! > low ? bucket[n + 1]! : low;
      const to = bucket[n + 2]! < high ? bucket[n + 2]! : high;
      if (to > from) length += to - from;
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
