/**
 * Sheets of labels by size: so many across and down, so large, so far apart. The usual ones are told by what they are; any
 * other sheet is told by its measures.
 */
import type { Rect } from "../../layout/geometry.ts";
import type { Paper } from "../../model/show.ts";
import { pageSize, type Orientation } from "../page.ts";

/** All lengths in millimetres. */
export interface LabelGrid {
  /** How the sheet is told: `21 a sheet, 63.5 × 38.1 mm, A4`. */
  readonly name: string;
  readonly paper: Paper;
  readonly orientation: Orientation;
  readonly columns: number;
  readonly rows: number;
  readonly width: number;
  readonly height: number;
  /** From the paper's left and top edge to the first label. */
  readonly left: number;
  readonly top: number;
  /** From one label's left edge to the next one's, and from top edge to top edge. */
  readonly across: number;
  readonly down: number;
}

/** Least size of a label that a cable tag can be read on. */
export const LEAST_LABEL = { width: 35, height: 19 } as const;

const inch = (value: number): number => value * 25.4;

/** Labels that stand in the middle of the paper, `gap` apart across and touching down. */
function centred(
  size: string,
  paper: Paper,
  [columns, rows]: readonly [number, number],
  [width, height]: readonly [number, number],
  gap: number,
): LabelGrid {
  const sheet = pageSize(paper, "upright");
  const across = width + gap;
  return {
    name: `${columns * rows} a sheet, ${size}, ${paper}`,
    paper,
    orientation: "upright",
    columns,
    rows,
    width,
    height,
    left: (sheet.width - (columns - 1) * across - width) / 2,
    top: (sheet.height - rows * height) / 2,
    across,
    down: height,
  };
}

/**
 * Common sheets. Sizes and numbers are common practice, from memory, margins follow from labels that stand in the middle:
 * no standard gives them, so a sheet is to be held against the check page before it is printed on.
 */
export const LABEL_GRIDS = {
  "a4-21": centred("63.5 × 38.1 mm", "A4", [3, 7], [63.5, 38.1], 2.5),
  "a4-24": centred("70 × 37 mm", "A4", [3, 8], [70, 37], 0),
  "a4-24-gap": centred("63.5 × 33.9 mm", "A4", [3, 8], [63.5, 33.9], 2.5),
  "a4-14": centred("99.1 × 38.1 mm", "A4", [2, 7], [99.1, 38.1], 2.5),
  "a4-40": centred("48.5 × 25.4 mm", "A4", [4, 10], [48.5, 25.4], 0),
  "a4-65": centred("38.1 × 21.2 mm", "A4", [5, 13], [38.1, 21.2], 2.5),
  "letter-30": centred(
    "66.7 × 25.4 mm (2 5/8 × 1 in)",
    "Letter",
    [3, 10],
    [inch(2.625), inch(1)],
    inch(0.125),
  ),
  "letter-20": centred("101.6 × 25.4 mm (4 × 1 in)", "Letter", [2, 10], [inch(4), inch(1)], inch(0.1875)),
  "letter-10": centred("101.6 × 50.8 mm (4 × 2 in)", "Letter", [2, 5], [inch(4), inch(2)], inch(0.1875)),
} as const satisfies Readonly<Record<string, LabelGrid>>;

export type LabelGridId = keyof typeof LABEL_GRIDS;

/** How many labels a sheet has. */
export const labelsOn = ({ columns, rows }: LabelGrid): number => columns * rows;

/** The place of label `n` of a sheet, counted from 0, row by row. */
export function labelRect({ columns, left, top, across, down, width, height }: LabelGrid, n: number): Rect {
  return {
    x: left + (n % columns) * across,
    y: top + Math.floor(n / columns) * down,
    width,
    height,
  };
}

/** A hundredth of a millimetre: what measures in inches leave over. */
const SLACK = 0.01;

/** Why nothing can be printed on such a sheet, in one line; null where it can. */
export function gridFault(grid: LabelGrid): string | null {
  const { columns, rows, width, height, left, top, across, down } = grid;
  const whole = [columns, rows].every((count) => Number.isInteger(count) && count >= 1 && count <= 100);
  if (!whole) return "A label sheet has 1 to 100 labels across, and as many down.";
  if (![width, height, left, top, across, down].every((length) => Number.isFinite(length) && length >= 0)) {
    return "The measures of a label sheet are lengths in millimetres.";
  }
  if (width < LEAST_LABEL.width || height < LEAST_LABEL.height) {
    return `A cable tag needs a label of at least ${LEAST_LABEL.width} × ${LEAST_LABEL.height} mm.`;
  }
  if ((columns > 1 && across < width - SLACK) || (rows > 1 && down < height - SLACK)) {
    return "The labels lie over each other: the pitch is less than the label.";
  }
  const page = pageSize(grid.paper, grid.orientation);
  const right = left + (columns - 1) * across + width;
  const bottom = top + (rows - 1) * down + height;
  if (right > page.width + SLACK) {
    return `The labels are ${(right - page.width).toFixed(1)} mm wider than ${grid.paper}.`;
  }
  if (bottom > page.height + SLACK) {
    return `The labels are ${(bottom - page.height).toFixed(1)} mm higher than ${grid.paper}.`;
  }
  return null;
}
