/**
 * The boxes of a signal-flow diagram as they are set: how large each is, where its lines of text stand and where its
 * cables leave. All sizes are millimetres on paper at the diagram's own scale, at which nothing is smaller than 7 pt.
 *
 * What is written along a cable (its tag, and at one end its kind and length) belongs to the box that it leaves: a strip
 * beside the box is kept free for it. So no text can lie on another, whatever way the cables take.
 */
import type { Rect } from "../../layout/geometry.ts";
import type { OwnerMark } from "../owner-marks.ts";
import { SMALLEST } from "../page.ts";
import { markWidth } from "../pen.ts";
import { fitMiddle, paperWidth, wrapped } from "../type.ts";
import type { Item, ItemRow, Part, Plug } from "./items.ts";

export const NAME = 9;
export const TEXT = SMALLEST;

/** From one line of small text to the next, and of names. */
export const LINE = 3.3;
const NAME_LINE = 4.1;
const PAD = 1.3;
const LEAST = 22;
/** Names of more lines are shortened in the middle. */
const NAME_LINES = 2;
/** Between what stands left and right in one box. */
const APART = 5;
/** Above and below a cable that goes on elsewhere, which has a line of text below it as well. */
const MARKED = { above: 2, below: 4.8 } as const;
/** Of tags, marks and names along a cable. */
const TAG_ROOM = 26;
const MARK_ROOM = 58;
/** From the box to the text along a cable: room for an arrow. */
export const ARROW = 2.4;

export type Side = "west" | "east";

/** How wide boxes are: `room` the most that lines take before they wrap, `beside` the most that two columns take. */
export interface Width {
  readonly room: number;
  readonly beside: number;
}

export const USUAL: Width = { room: 48, beside: 48 };
/** Where a page is full in its width, and where it is in its height. */
export const LESS: Width = { room: 41, beside: 41 };
export const NARROW: Width = { room: 35, beside: 35 };
export const WIDE: Width = { room: 62, beside: 84 };

/** Where a cable goes, as its end is labelled. */
export interface End {
  readonly plug: Plug;
  readonly side: Side;
  /** Along the cable: its tag, in bold, and what else there is to say. */
  readonly tag: string;
  readonly about: string;
  /**
   * Where it goes on, where that isn't drawn on the page: the mark in bold, and the place in words. `room` is kept free
   * for it, in millimetres, since marks get their names when everything is laid out.
   */
  readonly mark: { readonly name: string; readonly words: string; readonly room: number } | null;
}

/** A text, or an owner's mark, with its place relative to the item. */
export type Piece =
  | {
      readonly kind: "text";
      readonly text: string;
      readonly x: number;
      /** The baseline. */
      readonly y: number;
      readonly points: number;
      readonly bold: boolean;
      readonly soft: boolean;
    }
  | {
      readonly kind: "owner";
      readonly owner: number;
      readonly x: number;
      readonly y: number;
      readonly points: number;
    }
  /** What comes straight from sources, or not at all. */
  | { readonly kind: "sources" | "nothing"; readonly x: number; readonly y: number; readonly width: number };

/** Where a cable leaves: from the box at `box` to the edge of the strip at `edge`. */
export interface Stub {
  readonly plug: Plug;
  readonly side: Side;
  readonly y: number;
  readonly box: number;
  readonly edge: number;
  readonly marked: boolean;
}

export interface Shape {
  readonly item: Item;
  /** What it was set with. */
  readonly set: Width;
  /** With the strips. */
  readonly width: number;
  readonly height: number;
  readonly box: Rect;
  readonly pieces: readonly Piece[];
  readonly stubs: readonly Stub[];
  /** Heights of the lines that part the rows of a stack, and the head from the rows. */
  readonly rules: readonly number[];
  /** How many of the printed values rest on an assumed number. */
  readonly assumed: number;
  /** Texts that were shortened, whole. */
  readonly shortened: readonly { readonly short: string; readonly whole: string }[];
}

/** What a shape is set with. */
export interface Setting {
  readonly owners: ReadonlyMap<number, OwnerMark>;
  readonly width: Width;
  /** Null: the cable isn't drawn. */
  readonly end: (plug: Plug) => End | null;
}

/** The widths of plain marks, which have no letter. */
const PLAIN = 4.2;
const GAP = 0.7;
const PART_GAP = 2;

interface Atom {
  readonly pieces: readonly Piece[];
  readonly width: number;
  /** Room before it in a line. */
  readonly before: number;
}

interface SetRow {
  readonly row: ItemRow;
  readonly end: End | null;
  readonly lines: readonly { readonly atoms: readonly Atom[]; readonly width: number }[];
  readonly width: number;
  /** From the row's middle, where its cable leaves. */
  readonly above: number;
  readonly below: number;
}

export function shapeOf(item: Item, setting: Setting): Shape {
  const { room } = setting.width;
  const shortened: { short: string; whole: string }[] = [];
  const short = (whole: string, points: number, room: number, bold = false): string => {
    const text = fitMiddle(whole, points, room, bold);
    if (text !== whole) shortened.push({ short: text, whole });
    return text;
  };
  const mark = item.stack ? undefined : setting.owners.get(item.devices[0]!);
  const badge = mark ? markWidth(mark, NAME) + 2 : 0;
  const names = nameLines(item.name, room - badge);
  const details = detailLines(item.details);
  const rows = item.rows.map((row) => setRow(row, row.plug && setting.end(row.plug), setting, short));
  const left = rows.filter(({ end }) => end?.side !== "east");
  const right = rows.filter(({ end }) => end?.side === "east");
  const widest = (some: readonly SetRow[]): number => Math.max(0, ...some.map(({ width }) => width));
  const head = Math.max(
    ...names.map((name) => paperWidth(name, NAME, true) + badge),
    ...details.map((detail) => paperWidth(detail, TEXT)),
  );
  const beside = widest(left) + APART + widest(right);
  const columns = left.length > 0 && right.length > 0 && beside <= Math.max(head, setting.width.beside);
  const inner = Math.max(LEAST, head, columns ? beside : widest(rows));
  const boxWidth = inner + 2 * PAD;

  // The strips.
  const ends = rows.flatMap(({ end }) => end ?? []);
  const written = ends.map((end) => endPieces(end, short));
  const strip = (side: Side): number =>
    Math.max(
      0,
      ...ends.map((end, n) => (end.side === side ? written[n]!.width + ARROW + (end.mark ? ARROW : 0.8) : 0)),
    );
  const boxLeft = strip("west");
  const width = boxLeft + boxWidth + strip("east");

  const pieces: Piece[] = [];
  const stubs: Stub[] = [];
  const rules: number[] = [];
  let y = PAD;
  for (const name of names) {
    pieces.push(textPiece(name, boxLeft + PAD, y + 3.1, NAME, true));
    y += NAME_LINE;
  }
  if (mark)
    pieces.push({
      kind: "owner",
      owner: item.devices[0]!,
      x: boxLeft + boxWidth - PAD - markWidth(mark, NAME),
      y: PAD + 3.1,
      points: NAME,
    });
  for (const detail of details) {
    pieces.push(textPiece(detail, boxLeft + PAD, y + 2.4, TEXT, false, true));
    y += LINE - 0.2;
  }
  y += 0.9;
  if (rows.length > 0) {
    rules.push(y);
    y += 0.7;
  }
  const top = y;
  let bottom = y;
  const put = (row: SetRow, at: number): number => {
    const across = row.end?.side === "east";
    const middle = at + row.above;
    const text = middle - (row.lines.length * LINE) / 2;
    row.lines.forEach((line, n) => {
      const start = across ? boxLeft + boxWidth - PAD - line.width : boxLeft + PAD;
      pieces.push(...placed(line.atoms, start, text + n * LINE + 2.4));
    });
    if (row.end) {
      const west = row.end.side === "west";
      const box = west ? boxLeft : boxLeft + boxWidth;
      stubs.push({
        plug: row.end.plug,
        side: row.end.side,
        y: middle,
        box,
        edge: west ? 0 : width,
        marked: row.end.mark !== null,
      });
      const { along, below } = written[ends.indexOf(row.end)]!;
      const start = (wide: number): number => (west ? box - ARROW - wide : box + ARROW);
      pieces.push(...placed(along.atoms, start(along.width), middle - 0.7));
      pieces.push(...placed(below.atoms, start(below.width), middle + 2.7));
    }
    return middle + row.below;
  };
  if (columns) {
    let l = top;
    for (const row of left) l = put(row, l);
    let r = top;
    for (const row of right) r = put(row, r);
    bottom = Math.max(l, r);
  } else {
    rows.forEach((row, n) => {
      if (item.stack && n > 0) rules.push(bottom);
      bottom = put(row, bottom);
    });
  }
  const height = bottom + 0.8;
  return {
    item,
    set: setting.width,
    width,
    height,
    box: { x: boxLeft, y: 0, width: boxWidth, height },
    pieces,
    stubs,
    rules,
    assumed: rows.reduce(
      (sum, { row }) => sum + row.told.flatMap(({ parts }) => parts).filter(({ assumed }) => assumed).length,
      0,
    ),
    shortened,
  };

  function nameLines(name: string, room: number): string[] {
    const lines = wrapped(name, NAME, room, true);
    if (lines.length <= NAME_LINES) return lines;
    // As much as two lines hold, in one piece, is shortened; then it wraps anew.
    const one = fitMiddle(name, NAME, room * 1.7, true);
    const again = wrapped(one, NAME, room, true);
    const taken = again.length <= NAME_LINES ? again : [fitMiddle(name, NAME, room, true)];
    shortened.push({ short: taken.join(" "), whole: name });
    return taken;
  }

  /** As many details in a line as fit. */
  function detailLines(all: readonly string[]): string[] {
    const lines: string[] = [];
    for (const detail of all) {
      const joined = lines.length > 0 ? `${lines.at(-1)} · ${detail}` : detail;
      if (lines.length > 0 && paperWidth(joined, TEXT) <= room * 0.85) lines[lines.length - 1] = joined;
      else {
        const parts = wrapped(detail, TEXT, room);
        lines.push(...(parts.length <= 2 ? parts : [short(detail, TEXT, room)]));
      }
    }
    return lines;
  }
}

type Short = (whole: string, points: number, room: number, bold?: boolean) => string;

function setRow(row: ItemRow, end: End | null, setting: Setting, short: Short): SetRow {
  const { room } = setting.width;
  const lines: { atoms: Atom[]; width: number }[] = [];
  for (const [n, { label, parts }] of row.told.entries()) {
    const atoms: Atom[] = [];
    const most = parts.length > 0 ? 22 : room;
    for (const piece of parts.length > 0 ? [short(label, TEXT, most)] : wrapped(label, TEXT, most))
      atoms.push(textAtom(piece, 0, false, true));
    atoms.push(...parts.flatMap((part) => partAtoms(part, setting)));
    if (row.name !== "" && n === row.told.length - 1) {
      const name = short(row.name, TEXT, room - 8, true);
      atoms.push(textAtom(name, PART_GAP, true, false));
    }
    lines.push(...linesOf(atoms, room));
  }
  if (row.told.length === 0)
    lines.push(...linesOf([textAtom(short(row.name, TEXT, room, true), 0, true, false)], room));
  const half = (lines.length * LINE) / 2;
  return {
    row,
    end,
    lines,
    width: Math.max(0, ...lines.map(({ width }) => width)),
    above: Math.max(half, end?.mark ? MARKED.above : 0),
    below: Math.max(half, end?.mark ? MARKED.below : 0),
  };
}

const INDENT = 3;

const shifted = (atom: Atom, by: number): Atom =>
  by === 0
    ? atom
    : {
        ...atom,
        pieces: atom.pieces.map((piece) => ({ ...piece, x: piece.x + by })),
        width: atom.width + by,
      };

function linesOf(atoms: readonly Atom[], room: number): { atoms: Atom[]; width: number }[] {
  const lines: { atoms: Atom[]; width: number }[] = [];
  for (const atom of atoms) {
    const last = lines.at(-1);
    if (last && last.width + atom.before + atom.width <= room) {
      last.atoms.push(atom);
      last.width += atom.before + atom.width;
    } else {
      // What goes on in another line stands in a little.
      const indent = lines.length > 0 ? INDENT : 0;
      lines.push({ atoms: [shifted(atom, indent)], width: atom.width + indent });
    }
  }
  return lines;
}

function partAtoms(part: Part, { owners }: Setting): Atom[] {
  const marks: Piece[] = [];
  let width = 0;
  for (const owner of part.owners) {
    const mark = owners.get(owner);
    if (!mark) continue;
    marks.push({ kind: "owner", owner, x: width, y: 0, points: TEXT });
    width += markWidth(mark, TEXT) + GAP;
  }
  if (marks.length === 0) {
    marks.push({ kind: part.arrives ? "sources" : "nothing", x: 0, y: 0, width: PLAIN });
    width = PLAIN + GAP;
  }
  const delay = part.delay === "" ? [] : [`${part.delay}${part.assumed ? "*" : ""}`];
  return [...part.numbers.split(/(?<=,) /), ...delay].map((text, n) => {
    const wide = paperWidth(text, TEXT);
    const isDelay = delay.length > 0 && text === delay[0];
    const pieces = [...(n === 0 ? marks : []), textPiece(text, n === 0 ? width : 0, 0, TEXT, false, isDelay)];
    return { pieces, width: wide + (n === 0 ? width : 0), before: n === 0 ? PART_GAP : 0.8 };
  });
}

const textPiece = (
  text: string,
  x: number,
  y: number,
  points: number,
  bold: boolean,
  soft = false,
): Piece => ({
  kind: "text",
  text,
  x,
  y,
  points,
  bold,
  soft,
});

const textAtom = (text: string, before: number, bold: boolean, soft: boolean): Atom => ({
  pieces: [textPiece(text, 0, 0, TEXT, bold, soft)],
  width: paperWidth(text, TEXT, bold),
  before,
});

function placed(atoms: readonly Atom[], x: number, y: number): Piece[] {
  let at = x;
  return atoms.flatMap(({ pieces, width, before }, n) => {
    const start = at + (n === 0 ? 0 : before);
    at = start + width;
    return pieces.map((piece) => ({ ...piece, x: piece.x + start, y: piece.y + y }));
  });
}

/** What is written along a cable, above and below it. */
function endPieces(
  { tag, about, mark }: End,
  short: Short,
): {
  readonly along: { readonly atoms: readonly Atom[]; readonly width: number };
  readonly below: { readonly atoms: readonly Atom[]; readonly width: number };
  readonly width: number;
} {
  const run = (bold: string, room: number, rest: string, most: number) => {
    const atoms = [
      ...(bold === "" ? [] : [textAtom(short(bold, TEXT, room, true), 0, true, false)]),
      ...(rest === "" ? [] : [textAtom(short(rest, TEXT, most), bold === "" ? 0 : 1, false, false)]),
    ];
    return { atoms, width: atoms.reduce((sum, atom, n) => sum + atom.width + (n > 0 ? atom.before : 0), 0) };
  };
  const along = run(tag, TAG_ROOM, about, MARK_ROOM);
  const below = mark ? run(mark.name, TAG_ROOM, mark.words, MARK_ROOM) : { atoms: [], width: 0 };
  return { along, below, width: Math.max(along.width, below.width, mark?.room ?? 0) };
}
