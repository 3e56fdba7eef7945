/** The three depths of zoom, and the size of text at each. */

export type Depth = "far" | "middle" | "near";

export interface Level {
  readonly depth: Depth;
  /**
   * Canvas units that a pixel of the screen takes at the low end of the present step of zoom. Text of `n × unit` is at
   * least n pixels high, and never a third more: it grows in steps, so panning and small zooms redraw nothing.
   */
  readonly unit: number;
}

export const LEAST_ZOOM = 0.08;
export const MOST_ZOOM = 4;

/** Where a depth begins on the way in, and where it ends on the way out: between them whatever is shown stays. */
const MIDDLE = { from: 0.66, to: 0.6 } as const;
const NEAR = { from: 1.5, to: 1.38 } as const;
const STEP = 1.28;

export function depthAt(zoom: number, former: Depth | null): Depth {
  const middle = zoom >= (former === "middle" || former === "near" ? MIDDLE.to : MIDDLE.from);
  const near = zoom >= (former === "near" ? NEAR.to : NEAR.from);
  return near ? "near" : middle ? "middle" : "far";
}

/** The same object as before while nothing changes. */
export function levelAt(zoom: number, former: Level | null): Level {
  const depth = depthAt(zoom, former?.depth ?? null);
  const step = Math.floor(Math.log(zoom) / Math.log(STEP) + 1e-9);
  // Within the overlap of two depths the step may lie below the zoom at which the depth ends.
  const least = depth === "near" ? NEAR.to : depth === "middle" ? MIDDLE.to : 0;
  const unit = 1 / Math.max(STEP ** step, Math.min(least, zoom));
  return former && former.depth === depth && former.unit === unit ? former : { depth, unit };
}
