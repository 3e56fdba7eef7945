/** What stands on pages that are cut or measured: lines of text that fit, swatches of figures, cut marks, the measure. */
import type { Rect } from "../../layout/geometry.ts";
import { DIGIT_COLOURS } from "../digits.ts";
import { INK, PT, SMALLEST } from "../page.ts";
import { line } from "../pen.ts";
import { element } from "../svg.ts";
import { fitMiddle, longestPiece, paperWidth, wrapped } from "../type.ts";

/** Lines that are set one below the other. */
export interface SetText {
  readonly lines: readonly string[];
  readonly points: number;
  readonly bold: boolean;
}

/** From one baseline to the next, in millimetres. */
export const leading = (points: number): number => 1.2 * points * PT;

export const heightOf = ({ lines, points }: SetText): number => lines.length * leading(points);

/** The text in at most `most` lines with no word broken, in the first size in which that can be; null where in none. */
export function setWhole(
  text: string,
  sizes: readonly number[],
  room: number,
  most: number,
  bold = false,
): SetText | null {
  for (const points of sizes) {
    const lines = wrapped(text, points, room, bold);
    if (lines.length <= most && longestPiece(text, points, bold) <= room) return { lines, points, bold };
  }
  return null;
}

/** The same; where it can't be whole, in the last size, with words broken or the text's middle left out. */
export function setFitting(
  text: string,
  sizes: readonly number[],
  room: number,
  most: number,
  bold = false,
): SetText {
  const whole = setWhole(text, sizes, room, most, bold);
  if (whole) return whole;
  const points = sizes.at(-1)!;
  let lines = wrapped(text, points, room, bold);
  for (let share = 1; lines.length > most; share -= 0.02) {
    lines = wrapped(fitMiddle(text, points, most * room * share, bold), points, room, bold);
  }
  return { lines, points, bold };
}

/** Draws lines from `y` down, and tells where they end. */
export function drawText({ lines, points, bold }: SetText, x: number, y: number, fill = INK): string {
  return lines
    .map((words, n) => line(words, x, y + (n + 0.8) * leading(points), { points, bold, fill }))
    .join("");
}

const SWATCH_PAD = 0.6;
const SWATCH_GAP = 0.5;

const swatchWidth = (digit: string, points: number): number =>
  paperWidth(DIGIT_COLOURS[Number(digit)]!.letters, points, true) + 2 * SWATCH_PAD;

/** Millimetres that the swatches of some figures take. */
export const digitsWidth = (digits: string, points = SMALLEST): number =>
  [...digits].reduce((width, digit) => width + swatchWidth(digit, points) + SWATCH_GAP, -SWATCH_GAP);

/**
 * The figures' colours from `x` on, each with its letters, whose baseline is at `y`. They stand apart: green beside yellow
 * is the mark of the protective earth (IEC 60445).
 */
export function drawDigits(digits: string, x: number, y: number, points = SMALLEST): string {
  let left = x;
  return [...digits]
    .map((digit) => {
      const { letters, fill, ink } = DIGIT_COLOURS[Number(digit)]!;
      const width = swatchWidth(digit, points);
      const rect = { x: left, y: y - 1.0 * points * PT, width, height: 1.28 * points * PT };
      left += width + SWATCH_GAP;
      return (
        element("rect", { ...rect, fill, stroke: INK, "stroke-width": 0.15 }) +
        line(letters, rect.x + width / 2, y, { points, bold: true, fill: ink, anchor: "middle" })
      );
    })
    .join("");
}

export const stroke = (
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  width = 0.2,
  dashes?: string,
): string =>
  element("line", { x1, y1, x2, y2, stroke: INK, "stroke-width": width, "stroke-dasharray": dashes });

/** Marks at the corners of what is cut out, outside of it: `off` millimetres away and `long` millimetres long. */
export function cutMarks({ x, y, width, height }: Rect, off = 0.6, long = 3): string {
  const [right, bottom] = [x + width, y + height];
  return [
    [x - off - long, y, x - off, y],
    [right + off, y, right + off + long, y],
    [x - off - long, bottom, x - off, bottom],
    [right + off, bottom, right + off + long, bottom],
    [x, y - off - 1.5, x, y - off],
    [right, y - off - 1.5, right, y - off],
    [x, bottom + off, x, bottom + off + 1.5],
    [right, bottom + off, right, bottom + off + 1.5],
  ]
    .map(([x1, y1, x2, y2]) => stroke(x1!, y1!, x2!, y2!, 0.15))
    .join("");
}

const MEASURE = 100;
/** Millimetres of a page's height that the measure takes. */
export const MEASURE_HEIGHT = 6;

/** A measure of exactly 100 mm, by which the user sees whether the printer has scaled the page. */
export function measure(x: number, y: number): string {
  const ticks = Array.from({ length: 11 }, (_, n) =>
    stroke(x + (n * MEASURE) / 10, y, x + (n * MEASURE) / 10, y - (n % 10 === 0 ? 3.2 : 1.6), 0.2),
  );
  return (
    stroke(x, y, x + MEASURE, y, 0.2) +
    ticks.join("") +
    line("Measure this: 100 mm. Print at 100 %, not fitted to the page.", x + MEASURE + 3, y, {
      points: 8,
      bold: true,
    })
  );
}
