/**
 * Where the names of places stand. From near by each has its strip at the top of its place, which devices and cables keep
 * clear. From far that strip is thinner than letters can be read in: there a name is as large as on any map, and takes what
 * is free around the top of its place, so that it covers no device.
 */
import type { PlaceId, Show } from "#engine";
import { overlap, placeRect, rectsOf } from "#engine/build/room.ts";
import type { Rect } from "#engine/layout/geometry.ts";
import { BOLD, textWidth } from "#engine/layout/text.ts";

/** In canvas units, from the place's corner. */
export interface NameSpot {
  readonly top: number;
  readonly size: number;
}

/** What canvas.css gives a name where nothing is said here: 13 pixels, and no more than its strip holds. */
const PIXELS = 13;
const MOST = 42;
/** From far: what is wished for, and what can just be read. */
const FAR_PIXELS = [11, 10, 9] as const;
const LEFT = 14;
const PADDING = 8;
const LEADING = 1.25;

const known = new WeakMap<Show, Map<number, ReadonlyMap<PlaceId, NameSpot>>>();

/** The names that don't stand in their strip at a level of zoom (`Level.unit`). */
export function nameSpots(show: Show, unit: number): ReadonlyMap<PlaceId, NameSpot> {
  let levels = known.get(show);
  if (!levels) known.set(show, (levels = new Map()));
  let spots = levels.get(unit);
  if (!spots) levels.set(unit, (spots = PIXELS * unit <= MOST ? NONE : spotsAt(show, unit)));
  return spots;
}

const NONE: ReadonlyMap<PlaceId, NameSpot> = new Map();

function spotsAt(show: Show, unit: number): ReadonlyMap<PlaceId, NameSpot> {
  const taken = [...rectsOf(show).values()];
  const spots = new Map<PlaceId, NameSpot>();
  for (const place of show.places) {
    const area = placeRect(place);
    const spot = spotFor(place.name, area, unit, taken);
    if (!spot) continue;
    spots.set(place.id, { top: spot.top - area.y, size: spot.size });
    // The next name stands beside this one.
    taken.push(spot.rect);
  }
  return spots;
}

interface Found {
  readonly top: number;
  readonly size: number;
  readonly rect: Rect;
}

/** As large as it has room for whole; where it has none at all so large that its beginning can be read. */
function spotFor(name: string, area: Rect, unit: number, taken: readonly Rect[]): Found | null {
  const most = area.width - 2 * LEFT;
  for (const whole of [true, false]) {
    for (const pixels of FAR_PIXELS) {
      const size = pixels * unit;
      const width = textWidth(name, size) * BOLD + PADDING;
      if (size <= MOST || (whole && width > most)) continue;
      const height = size * LEADING;
      const rect = { x: area.x + LEFT, width: Math.min(width, most), height };
      const top = topFor(rect, area.y, taken);
      if (top !== null) return { top, size, rect: { ...rect, y: top } };
    }
  }
  return null;
}

/** At the top of the place, or above it as far as the first device in the way; null where something else is there. */
function topFor(name: Omit<Rect, "y">, y: number, taken: readonly Rect[]): number | null {
  const under = taken.filter((rect) => overlap({ ...name, y }, rect)).map((rect) => rect.y);
  if (under.length === 0) return y;
  const top = Math.min(...under) - name.height;
  return top > y - name.height && !taken.some((rect) => overlap({ ...name, y: top }, rect)) ? top : null;
}

/**
 * A device's name without the words that it begins with as its place does: `Stage 3 breakout 1` in `Stage 3 site` is
 * `…breakout 1`. The name itself where nothing would be left, or nothing goes.
 */
export function besidePlace(name: string, place: string): string {
  const words = name.split(" ");
  const known = place.toLowerCase().split(" ");
  const differs = words.findIndex((word, n) => word.toLowerCase() !== known[n]);
  return differs > 0 ? `…${words.slice(differs).join(" ")}` : name;
}
