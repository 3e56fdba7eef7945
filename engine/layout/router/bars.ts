/** Where along its way each wire shows its bar: on a straight stretch, clear of boxes and of other bars. */
import type { Point } from "../../model/show.ts";
import type { Rect } from "../geometry.ts";
import { distance, lengthOf } from "./path.ts";
import type { Route, Scene } from "./scene.ts";

export interface BarSize {
  /** Along the wire. */
  readonly length: number;
  /** Across it. */
  readonly breadth: number;
}

export interface BarPlace extends Point {
  /** Centre of the bar is (x, y). */
  readonly upright: boolean;
  /** The second end of the wire lies in the direction of lower coordinates. */
  readonly reversed: boolean;
}

/** Bars of routes that are as before stay where they were, unless a box has come in their way. */
export function placeBars(
  { boxes, quiet = [] }: Pick<Scene, "boxes" | "quiet">,
  routes: ReadonlyMap<string, Route>,
  sizes: ReadonlyMap<string, BarSize>,
  former: {
    readonly routes: ReadonlyMap<string, Route>;
    readonly bars: ReadonlyMap<string, BarPlace>;
  } | null,
): ReadonlyMap<string, BarPlace> {
  const places = new Map<string, BarPlace>();
  const taken: Rect[] = [];
  for (const [wire, route] of routes) {
    const size = sizes.get(wire);
    const old = former?.bars.get(wire);
    if (!size || !old || former?.routes.get(wire) !== route) continue;
    const rect = rectOf(old, size);
    if (boxes.some((box) => area(box, rect) > 0)) continue;
    places.set(wire, old);
    taken.push(rect);
  }
  // Long bars are the hardest to place.
  const missing = [...routes]
    .flatMap(([wire, route]) => {
      const size = sizes.get(wire);
      return size && !places.has(wire) ? [{ wire, route, size }] : [];
    })
    .sort((a, b) => b.size.length - a.size.length || (a.wire < b.wire ? -1 : 1));
  for (const { wire, route, size } of missing) {
    const place = bestPlace(boxes, quiet, route, size, taken);
    if (!place) continue;
    places.set(wire, place);
    taken.push(rectOf(place, size));
  }
  return places;
}

const STEP = 20;
/** What sums of the same costs in another order may differ by. */
const ROUNDING = 1e-6;
/** How far a bar may stand beside its wire instead of on it, to keep off a box that the wire passes closely. */
const ASIDE = [0, 7, -7, 14, -14] as const;

function bestPlace(
  boxes: readonly Rect[],
  quiet: readonly Rect[],
  { points }: Route,
  size: BarSize,
  taken: readonly Rect[],
): BarPlace | null {
  const total = lengthOf(points);
  let best: { readonly place: BarPlace; readonly cost: number } | null = null;
  let walked = 0;
  for (let n = 1; n < points.length; n++) {
    const from = points[n - 1]!;
    const to = points[n]!;
    const length = distance(from, to);
    const upright = from.x === to.x;
    const reversed = upright ? to.y < from.y : to.x < from.x;
    const slack = length - size.length;
    const count = slack > 0 ? Math.floor(slack / STEP) + 1 : 1;
    for (let k = 0; k < count; k++) {
      const along = length / 2 + (slack > 0 ? (k - (count - 1) / 2) * STEP : 0);
      const part = length === 0 ? 0 : along / length;
      for (const aside of ASIDE) {
        const place = {
          x: from.x + (to.x - from.x) * part + (upright ? aside : 0),
          y: from.y + (to.y - from.y) * part + (upright ? 0 : aside),
          upright,
          reversed,
        };
        // Most places are too dear before it is known what they would cover, which is the bulk of the work.
        const least =
          Math.max(0, -slack) * 8 +
          (upright ? 30 : 0) +
          Math.abs(aside) * 4 +
          Math.abs(walked + along - total / 2) * 0.2;
        if (best && least > best.cost + ROUNDING) continue;
        const rect = rectOf(place, size);
        const cost =
          covered(boxes, rect) * 50 +
          covered(taken, rect) * 10 +
          covered(quiet, rect) * 2 +
          Math.max(0, -slack) * 8 +
          (upright ? 30 : 0) +
          Math.abs(aside) * 4 +
          Math.abs(walked + along - total / 2) * 0.2;
        if (!best || cost < best.cost) best = { place, cost };
      }
    }
    walked += length;
  }
  return best?.place ?? null;
}

function covered(rects: readonly Rect[], rect: Rect): number {
  let sum = 0;
  for (const other of rects) sum += area(other, rect);
  return sum;
}

function rectOf({ x, y, upright }: BarPlace, { length, breadth }: BarSize): Rect {
  const width = upright ? breadth : length;
  const height = upright ? length : breadth;
  return { x: x - width / 2, y: y - height / 2, width, height };
}

function area(a: Rect, b: Rect): number {
  const width = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const height = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return width > 0 && height > 0 ? width * height : 0;
}
