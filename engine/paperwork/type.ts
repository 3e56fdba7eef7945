/** The paper typeface: how wide text comes out, how it breaks into lines, how it is shortened. */
import { STRETCHES } from "./generated/widths.ts";
import { PT } from "./page.ts";

/** Letters that the typeface lacks come from whatever the machine has; in East Asian ones a letter is a square. */
const UNKNOWN = 1050;

/** Marks that stand on the letter before them, and what joins letters. */
const MARKS = /^(?:\p{M}|[\u00ad\u200b-\u200f\u2060])$/u;

/** Widths of the letters below this code, as far as they were met. A set of papers asks for the same few a million times. */
const USUAL = 0x3000;
const REGULAR = new Int16Array(USUAL).fill(-1);
const BOLD = new Int16Array(USUAL).fill(-1);

function letterWidth(code: number, bold: boolean): number {
  if (code >= USUAL) return widthInTable(code, bold);
  const known = bold ? BOLD : REGULAR;
  const width = known[code]!;
  return width >= 0 ? width : (known[code] = widthInTable(code, bold));
}

function widthInTable(code: number, bold: boolean): number {
  for (const { from, regular, bold: heavy } of STRETCHES) {
    if (code < from || code - from >= regular.length) continue;
    const width = (bold ? heavy : regular)[code - from]!;
    if (width > 0) return width;
  }
  return MARKS.test(String.fromCodePoint(code)) ? 0 : UNKNOWN;
}

/** Width in millimetres of a line of text set in `points`, to within a hair: kerning only makes it narrower. */
export function paperWidth(text: string, points: number, bold = false): number {
  let width = 0;
  for (let at = 0; at < text.length; at++) {
    const code = text.codePointAt(at)!;
    width += letterWidth(code, bold);
    if (code > 0xffff) at++;
  }
  return (width / 1000) * points * PT;
}

/**
 * The text, or as much of it as fits `room` millimetres with its middle left out: neighbours in a rig differ mostly in
 * their first and their last letters. Empty where not even one letter and the ellipsis fit.
 */
export function fitMiddle(text: string, points: number, room: number, bold = false): string {
  if (paperWidth(text, points, bold) <= room) return text;
  const letters = [...text];
  for (let kept = letters.length - 1; kept > 0; kept--) {
    const tail = Math.floor(kept * 0.45);
    const head = letters
      .slice(0, kept - tail)
      .join("")
      .trimEnd();
    const end = letters
      .slice(letters.length - tail)
      .join("")
      .trimStart();
    const short = `${head}…${tail > 0 ? end : ""}`;
    if (paperWidth(short, points, bold) <= room) return short;
  }
  return "";
}

/** Adding up widths in another order may leave this much, in millimetres. */
const HAIR = 1e-6;

/** Where a line may break: after a space, a hyphen or a stroke, and never in a range such as `17–24`. */
const PIECES = /[^\s\-/]*[\s\-/]+|[^\s\-/]+$/g;

/** The text in lines of at most `room` millimetres. A word that is longer than a line is broken where it must. */
export function wrapped(text: string, points: number, room: number, bold = false): string[] {
  const lines: string[] = [];
  const most = room + HAIR;
  let line = "";
  const close = (): void => {
    if (line.trim() !== "") lines.push(line.trim());
    line = "";
  };
  for (const part of text.split("\n")) {
    for (const piece of part.match(PIECES) ?? []) {
      if (paperWidth((line + piece).trim(), points, bold) > most) close();
      if (paperWidth(piece.trim(), points, bold) <= most) {
        line += piece;
        continue;
      }
      for (const letter of piece) {
        if (line !== "" && paperWidth((line + letter).trim(), points, bold) > most) close();
        line += letter;
      }
    }
    close();
  }
  return lines.length > 0 ? lines : [""];
}

/** The widest of the pieces that a text breaks into, in millimetres. */
export const longestPiece = (text: string, points: number, bold = false): number =>
  Math.max(0, ...(text.match(PIECES) ?? []).map((piece) => paperWidth(piece.trim(), points, bold)));
