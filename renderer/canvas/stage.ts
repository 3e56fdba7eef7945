/** Where the canvas looks, for those who put something on it. The canvas says so while it is on the page. */
import type { DeviceId, Point } from "#engine";
import type { Rect } from "#engine/layout/geometry.ts";
import { around, placeRect, rectsOf } from "#engine/build/room.ts";
import { app } from "../state/store.ts";

export interface Stage {
  /** From the page to the canvas; null where the point isn't on it. */
  readonly at: (page: Point) => Point | null;
  /** The part of the canvas that is in view, in canvas units. */
  readonly view: () => Rect;
  /** Goes to an area, no nearer than it looks now. Needs no nodes, which come later than the document. */
  readonly goTo: (area: Rect) => void;
  /** Ends a move of the view that is still under way. */
  readonly stay: () => void;
  readonly focus: () => void;
  /** Moves the view by so many pixels. */
  readonly pan: (by: Point) => void;
}

let present: Stage | null = null;

/** Returns what takes it back. */
export function setStage(stage: Stage): () => void {
  present = stage;
  return () => {
    if (present === stage) present = null;
  };
}

export const stageAt = (page: Point): Point | null => present?.at(page) ?? null;

export const panStage = (by: Point): void => present?.pan(by);

export const focusStage = (): void => present?.focus();

/** Whether keys go to the canvas, or to nothing in particular. */
export function canvasHasKeys(): boolean {
  const active = globalThis.document?.activeElement ?? null;
  return active === null || active === document.body || active.closest(".canvas") !== null;
}

/** The middle of what is in view; on a window that shows no canvas, of the rig's first screen. */
export function middleOfView(): Point {
  const rect = present?.view() ?? { x: 0, y: 0, width: 1200, height: 800 };
  return { x: rect.x + rect.width / 2, y: rect.y + rect.height / 2 };
}

export const goToArea = (area: Rect): void => present?.goTo(area);

/**
 * Goes to devices, unless they are in view already. What was in view whole stays there, or a device that is added would
 * take the place of the one that it is to be joined to; not where all would be too small to work on.
 */
export function bringIntoSight(devices: readonly DeviceId[]): void {
  const seen = present?.view();
  if (!seen) return;
  const { show } = app.getState();
  const rects = rectsOf(show);
  const area = around(devices.flatMap((id) => rects.get(id) ?? []));
  if (!area) return;
  if (within(grown(area, seen.width * EDGE), seen)) return present?.stay();
  const wanted = new Set(devices);
  const kept = show.devices.filter(({ id }) => wanted.has(id) || within(rects.get(id)!, seen));
  const places = new Set(kept.map(({ place }) => place));
  const all = around([area, ...show.places.filter(({ id }) => places.has(id)).map(placeRect)]);
  const small = !all || all.width > MOST_SIGHT.width || all.height > MOST_SIGHT.height;
  present?.goTo(small ? area : all);
}

/** A device isn't in view while its sockets stand at the very edge; a part of the view's width. */
const EDGE = 0.02;

const grown = ({ x, y, width, height }: Rect, by: number): Rect => ({
  x: x - by,
  y: y - by,
  width: width + 2 * by,
  height: height + 2 * by,
});

/** What can still be worked on at a glance, in canvas units: some six consoles. */
const MOST_SIGHT = { width: 2400, height: 1600 } as const;

const within = (inner: Rect, outer: Rect): boolean =>
  inner.x >= outer.x &&
  inner.y >= outer.y &&
  inner.x + inner.width <= outer.x + outer.width &&
  inner.y + inner.height <= outer.y + outer.height;
