/** Where things stand on the canvas while a rig is built: free spots, and places that are large enough. */
import { GRID, type Rect, type Size } from "../layout/geometry.ts";
import { sizeOf, typesOf } from "../layout/scene.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Place, Point, Show } from "../model/show.ts";

/** What stays free around a device for cables, as `nodeSize` asks for. */
export const GAP = 40;
/** Between two places. */
export const CLEAR = 20;
/** A place's border keeps this far off its devices; at the top there is room for its name. */
const MARGIN = 30;
const HEAD = 70;
/** A place without devices. */
export const FRESH_PLACE: Size = { width: 640, height: 400 };
const LEAST_PLACE: Size = { width: 200, height: 140 };

/** To the grid; the sum makes a plain 0 of −0. */
export const snap = (value: number): number => Math.round(value / GRID) * GRID + 0;

export const overlap = (a: Rect, b: Rect, gap = 0): boolean =>
  a.x < b.x + b.width + gap &&
  b.x < a.x + a.width + gap &&
  a.y < b.y + b.height + gap &&
  b.y < a.y + a.height + gap;

export const placeRect = ({ at, size }: Place): Rect => ({ ...at, ...size });

/** The devices' nodes. */
export function rectsOf(show: Show): ReadonlyMap<DeviceId, Rect> {
  const types = typesOf(show);
  return new Map(show.devices.map((device) => [device.id, { ...device.at, ...sizeOf(types, device) }]));
}

/** The topmost place under a point: the last one in the show's order. */
export function placeAt(show: Show, { x, y }: Point): Place | null {
  const under = ({ at, size }: Place): boolean =>
    x >= at.x && x < at.x + size.width && y >= at.y && y < at.y + size.height;
  return show.places.findLast(under) ?? null;
}

/** The least rectangle around all of them; null for none. */
export function around(rects: readonly Rect[]): Rect | null {
  if (rects.length === 0) return null;
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y, width, height } of rects) {
    left = Math.min(left, x);
    top = Math.min(top, y);
    right = Math.max(right, x + width);
    bottom = Math.max(bottom, y + height);
  }
  return { x: left, y: top, width: right - left, height: bottom - top };
}

/** The area that a place needs around devices; null where there are none. */
export function roomFor(devices: readonly Rect[]): Rect | null {
  const box = around(devices);
  return (
    box && {
      x: box.x - MARGIN,
      y: box.y - HEAD,
      width: box.width + 2 * MARGIN,
      height: box.height + HEAD + MARGIN,
    }
  );
}

/** The place, grown so that it holds the devices; the same object where it does already. */
export function grown(place: Place, devices: readonly Rect[]): Place {
  const own = placeRect(place);
  const needed = roomFor(devices);
  const all = needed && around([own, needed]);
  if (!all) return place;
  const same = all.x === own.x && all.y === own.y && all.width === own.width && all.height === own.height;
  return same ? place : placeOn(place, all);
}

const placeOn = (place: Place, { x, y, width, height }: Rect): Place => ({
  ...place,
  at: { x, y },
  size: { width, height },
});

/** The other places that a place is clear of now. */
function clearOf(show: Show, place: Place): readonly Rect[] {
  const now = placeRect(place);
  return show.places
    .filter(({ id }) => id !== place.id)
    .map(placeRect)
    .filter((other) => !overlap(now, other));
}

/** Whether a place can grow around a device on a spot without lying over another place that it is clear of now. */
export function growsClear(show: Show, place: Place): (device: Rect) => boolean {
  const others = clearOf(show, place);
  return (device) => {
    const then = placeRect(grown(place, [device]));
    return !others.some((other) => overlap(then, other));
  };
}

/**
 * The place, grown for each of the devices that it can hold without lying over a place that it is clear of now; its
 * margins give way before that. What it can't reach so stays outside. The same object where it stays as it is.
 */
export function grownClear(show: Show, place: Place, devices: readonly Rect[]): Place {
  const others = clearOf(show, place);
  return devices.reduce((so: Place, device) => {
    const wished = grown(so, [device]);
    if (wished === so) return so;
    const own = placeRect(so);
    const area = others.reduce((rect, other) => cutClear(rect, own, other, device), placeRect(wished));
    if (!holds(area, device)) return so;
    return placeOn(so, area);
  }, place);
}

const holds = (outer: Rect, inner: Rect): boolean =>
  inner.x >= outer.x &&
  inner.y >= outer.y &&
  inner.x + inner.width <= outer.x + outer.width &&
  inner.y + inner.height <= outer.y + outer.height;

/**
 * A rectangle that grew from `own` around a device, cut back from another that `own` is clear of: where there is a choice,
 * so that it still holds the device, then on the side that costs it least.
 */
function cutClear(rect: Rect, own: Rect, other: Rect, device: Rect): Rect {
  if (!overlap(rect, other, CLEAR)) return rect;
  const { x, y, width, height } = rect;
  const [right, bottom] = [x + width, y + height];
  // Never further back than `own`, which may be nearer to the other by itself.
  const edges: Rect[] = [];
  if (other.x >= own.x + own.width) {
    const to = Math.max(own.x + own.width, Math.min(right, other.x - CLEAR));
    edges.push({ ...rect, width: to - x });
  }
  if (other.x + other.width <= own.x) {
    const from = Math.min(own.x, Math.max(x, other.x + other.width + CLEAR));
    edges.push({ ...rect, x: from, width: right - from });
  }
  if (other.y >= own.y + own.height) {
    const to = Math.max(own.y + own.height, Math.min(bottom, other.y - CLEAR));
    edges.push({ ...rect, height: to - y });
  }
  if (other.y + other.height <= own.y) {
    const from = Math.min(own.y, Math.max(y, other.y + other.height + CLEAR));
    edges.push({ ...rect, y: from, height: bottom - from });
  }
  const worth = (one: Rect): number => (holds(one, device) ? 1e12 : 0) + one.width * one.height;
  return edges.reduce((best, one) => (worth(one) > worth(best) ? one : best), edges[0] ?? own);
}

/** A rectangle for a place: at least the least, and around all of its devices. */
export function fitted(wished: Rect, devices: readonly Rect[]): Rect {
  const least = {
    ...wished,
    width: Math.max(LEAST_PLACE.width, wished.width),
    height: Math.max(LEAST_PLACE.height, wished.height),
  };
  const box = around(devices);
  // Whoever drew a place tighter than it would grow by itself may have it so, down to the devices themselves.
  return box ? around([least, box])! : least;
}

/**
 * The spot nearest to a point at which a node of this size overlaps nothing that is taken. Looked for ring by ring, in a
 * fixed order; after so many rings the rig is past being looked at, and what is left is to the right of everything.
 * `fits`: what else the spot is to be good for, where there is one such.
 */
export function freeSpot(
  size: Size,
  wished: Point,
  taken: readonly Rect[],
  gap = GAP,
  fits: ((at: Rect) => boolean) | null = null,
): Point {
  const start = { x: snap(wished.x), y: snap(wished.y) };
  const isFree = (x: number, y: number): boolean =>
    !taken.some((rect) => overlap({ ...size, x, y }, rect, gap)) && (fits?.({ ...size, x, y }) ?? true);
  for (let ring = 0; ring < RINGS; ring++) {
    let best: (Point & { readonly far: number }) | null = null;
    for (let i = -ring; i <= ring; i++) {
      for (let j = -ring; j <= ring; j++) {
        if (Math.max(Math.abs(i), Math.abs(j)) !== ring) continue;
        const [x, y] = [start.x + i * STEP, start.y + j * STEP];
        // Right and down before left and up, as one reads on.
        const far = Math.hypot(i, j) + (i < 0 ? 0.2 : 0) + (j < 0 ? 0.1 : 0);
        if ((!best || far < best.far) && isFree(x, y)) best = { x, y, far };
      }
    }
    if (best) return { x: best.x, y: best.y };
  }
  if (fits) return freeSpot(size, wished, taken, gap);
  const all = around(taken);
  return all ? { x: snap(all.x + all.width + gap), y: start.y } : start;
}

const STEP = 20;
const RINGS = 80;
