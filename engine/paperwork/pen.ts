/** Drawing on paper: lines of text in points, and the mark of an owner. Places and sizes are millimetres. */
import type { Rect } from "../layout/geometry.ts";
import { hatchPath } from "./hatch.ts";
import { hatchOf, OWNER_COLOURS, type OwnerMark } from "./owner-marks.ts";
import { INK, PT } from "./page.ts";
import { element, text } from "./svg.ts";
import { paperWidth } from "./type.ts";

export interface Ink {
  readonly fill: string;
  /** What reads on `fill`. */
  readonly ink: string;
  /** The same colour for a line on white. */
  readonly edge: string;
}

/** Ink on white: the light scheme's colours, which are the colour-blind-safe ones of the screen. */
const INKS: readonly Ink[] = [
  { fill: "#0072b2", ink: "#ffffff", edge: "#00659e" },
  { fill: "#e69f00", ink: "#191d20", edge: "#9a6700" },
  { fill: "#00976d", ink: "#04140e", edge: "#007a58" },
  { fill: "#cc79a7", ink: "#1f0c16", edge: "#a8487c" },
  { fill: "#d55e00", ink: "#180a00", edge: "#b34f00" },
  { fill: "#56b4e9", ink: "#06141d", edge: "#2279ac" },
  { fill: "#d8c800", ink: "#191700", edge: "#7b7100" },
  { fill: "#6d7479", ink: "#ffffff", edge: "#5a6166" },
];

export const inkOf = ({ index }: OwnerMark): Ink => INKS[index % OWNER_COLOURS]!;

export interface LineStyle {
  readonly points: number;
  readonly bold?: boolean;
  readonly fill?: string;
  readonly anchor?: "start" | "middle" | "end";
}

/** A line of text whose baseline starts, ends or has its middle at `x`, `y`. */
export const line = (
  value: string,
  x: number,
  y: number,
  { points, bold, fill, anchor }: LineStyle,
): string =>
  value === ""
    ? ""
    : text(value, {
        x,
        y,
        "font-size": points * PT,
        "font-weight": bold ? 700 : undefined,
        fill: fill === INK ? undefined : fill,
        "text-anchor": anchor === "start" ? undefined : anchor,
      });

/** Millimetres between the lines of a hatch. */
const HATCH = 0.9;

/** A rectangle in an owner's colour and hatch. */
export function ownedRect(mark: OwnerMark, rect: Rect): string {
  const { fill, ink } = inkOf(mark);
  const lines = hatchPath(hatchOf(mark.index), rect, HATCH);
  const hatch = { d: lines, stroke: ink, "stroke-opacity": 0.7, "stroke-width": 0.15, fill: "none" };
  return element("rect", { ...rect, fill }) + (lines === "" ? "" : element("path", hatch));
}

/** How wide an owner's mark is, in millimetres, when its letter is set in `points`. */
export const markWidth = (mark: OwnerMark, points: number): number =>
  Math.max(paperWidth(mark.letter, points, true) + 0.55 * points * PT, 1.7 * points * PT);

/** An owner's mark: colour, hatch and letter, whose letter's baseline is at `y`. */
export function ownerMark(mark: OwnerMark, x: number, y: number, points: number): string {
  const size = points * PT;
  const width = markWidth(mark, points);
  const rect = { x, y: y - 0.95 * size, width, height: 1.2 * size };
  const letter = paperWidth(mark.letter, points, true) + 0.3 * size;
  const { fill, ink, edge } = inkOf(mark);
  return (
    ownedRect(mark, rect) +
    element("rect", {
      x: x + (width - letter) / 2,
      y: rect.y + 0.06 * size,
      width: letter,
      height: 1.08 * size,
      fill,
    }) +
    element("rect", { ...rect, fill: "none", stroke: edge, "stroke-width": 0.15 }) +
    line(mark.letter, x + width / 2, y, { points, bold: true, fill: ink, anchor: "middle" })
  );
}
