/** Where the canvas looks, for those who put something on it. The canvas says so while it is on the page. */
import type { DeviceId, Point } from "#engine";
import type { Rect } from "#engine/layout/geometry.ts";
import { around, rectsOf } from "#engine/build/room.ts";
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

/** Goes to devices, unless they are in view already. */
export function bringIntoSight(devices: readonly DeviceId[]): void {
  const seen = present?.view();
  if (!seen) return;
  const rects = rectsOf(app.getState().show);
  const area = around(devices.flatMap((id) => rects.get(id) ?? []));
  if (!area) return;
  const inside =
    area.x >= seen.x &&
    area.y >= seen.y &&
    area.x + area.width <= seen.x + seen.width &&
    area.y + area.height <= seen.y + seen.height;
  if (inside) present?.stay();
  else present?.goTo(area);
}
