/** What the router is asked and what it answers. Plain data: the router knows neither devices nor a page. */
import type { Point } from "../../model/show.ts";
import type { Anchor, NodeSide, Rect } from "../geometry.ts";

/** Something that no wire may cross. */
export interface Box extends Rect {
  readonly id: string;
}

/** One end of a wire: the box that it is plugged in, and where it may leave it, relative to the box. */
export interface WireEnd {
  readonly box: string;
  readonly anchors: readonly Anchor[];
}

export interface Wire {
  readonly id: string;
  readonly ends: readonly [WireEnd, WireEnd];
}

export interface Scene {
  readonly boxes: readonly Box[];
  readonly wires: readonly Wire[];
  /** Where names stand: wires and bars keep off where that costs them little. */
  readonly quiet?: readonly Rect[];
}

/** Points from the first end to the second; every stretch is level or upright. */
export interface Route {
  readonly points: readonly Point[];
  readonly sides: readonly [NodeSide, NodeSide];
  /** No way was free: the route is a plain one that may cross boxes. */
  readonly boxedIn: boolean;
}

/** How far a wire runs straight out of its box, and the lane that it then prefers to take around boxes. */
export const MARGIN = 20;
/** No wire comes closer to a box than this, but where it is plugged in. */
export const CLEARANCE = 6;

export const OUTWARD: Readonly<Record<NodeSide, Point>> = {
  left: { x: -1, y: 0 },
  right: { x: 1, y: 0 },
  top: { x: 0, y: -1 },
  bottom: { x: 0, y: 1 },
};
