/**
 * Hatches as plain lines. An SVG pattern says the same in one element, but printers' engines unfold it into one object
 * for every tile: a sheet of them makes a PDF of tens of megabytes.
 */
import type { Rect } from "../layout/geometry.ts";
import { number } from "./svg.ts";

/** Directions of lines, by the owner's hatch: see `HATCHES`, which are the same on the screen. */
type Direction = "level" | "upright" | "rising" | "falling" | "dots";

const DIRECTIONS: readonly (readonly Direction[])[] = [
  [],
  ["rising"],
  ["level"],
  ["falling"],
  ["upright"],
  ["level", "upright"],
  ["dots"],
  ["rising", "falling"],
];

/** The lines of a hatch within a rectangle, `spacing` apart, as the `d` of a path; empty for the plain one. */
export function hatchPath(hatch: number, rect: Rect, spacing: number): string {
  return (DIRECTIONS[hatch % DIRECTIONS.length] ?? [])
    .flatMap((direction) => linesIn(direction, rect, spacing))
    .map(([x1, y1, x2, y2]) => `M${number(x1)} ${number(y1)}L${number(x2)} ${number(y2)}`)
    .join("");
}

type Line = readonly [x1: number, y1: number, x2: number, y2: number];

function linesIn(direction: Direction, { x, y, width, height }: Rect, spacing: number): Line[] {
  const [right, bottom] = [x + width, y + height];
  switch (direction) {
    case "level":
      return steps(height, spacing).map((at) => [x, y + at, right, y + at]);
    case "upright":
      return steps(width, spacing).map((at) => [x + at, y, x + at, bottom]);
    case "dots":
      return steps(height, spacing).flatMap((down) =>
        steps(width, spacing).map((along): Line => [
          x + along - spacing / 6,
          y + down,
          x + along + spacing / 6,
          y + down,
        ]),
      );
    // Both slants go by where they leave the top edge, or where they would if it were longer.
    case "falling":
      return steps(width + height, spacing).map((at) => {
        const start = at - height;
        return [
          x + Math.max(start, 0),
          y + Math.max(-start, 0),
          x + Math.min(at, width),
          y + Math.min(width - start, height),
        ];
      });
    case "rising":
      return steps(width + height, spacing).map((at) => [
        x + Math.min(at, width),
        y + Math.max(at - width, 0),
        x + Math.max(at - height, 0),
        y + Math.min(at, height),
      ]);
  }
}

/** Places along a length, the first half a spacing in. */
function steps(length: number, spacing: number): number[] {
  const places: number[] = [];
  for (let at = spacing / 2; at < length; at += spacing) places.push(at);
  return places;
}
