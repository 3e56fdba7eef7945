/**
 * Sets what a sheet says on pages: a head that names it, blocks one below the other, tables that go on over the page
 * with their headings, a foot that says of when it is. Nothing is cut: a text that is too long for its line takes more.
 */
import type { Block, PaperRow, PaperTable } from "./block.ts";
import { cellOf, columnWidths, leadWidth, PAD, setText, withoutEmpty } from "./columns.ts";
import { FOOT, furnished, HEAD, legendHeight, MARGIN, marksOf, type Face } from "./furniture.ts";
import {
  INK,
  LINE,
  ON_STAGE,
  PALE,
  pageSize,
  PT,
  SOFT,
  type Orientation,
  type OwnerMarks,
  type Page,
  type PaperJob,
  type Sheet,
} from "./page.ts";
import { line, ownerMark, markWidth } from "./pen.ts";
import type { SheetEntry, SheetKind } from "./sheets/entry.ts";
import { element } from "./svg.ts";
import { wrapped } from "./type.ts";

export interface Flow {
  readonly id: string;
  readonly title: string;
  /** Beside the title: the device's type, the place. */
  readonly note?: string;
  readonly orientation: Orientation;
  readonly blocks: readonly Block[];
}

/** All of a table is read on stage, so all of it is set in what is read there. */
const TEXT = ON_STAGE;
const LEADING = 1.28 * TEXT * PT;
/** Above and below the lines of a row. */
const ROW_PAD = 0.9;
const HEADING = 12;
const BOX = 3.4;

/** A sheet of a show that is one flow. What it says is put together when the sheet is made. */
export const flowEntry = (
  kind: SheetKind,
  { blocks, ...flow }: Omit<Flow, "blocks"> & { readonly blocks: () => readonly Block[] },
): SheetEntry => ({
  id: flow.id,
  kind,
  title: flow.title,
  make: (job) => flowSheet(job, { ...flow, blocks: blocks() }),
});

/** One thing that can't be parted by the end of a page. */
interface Piece {
  readonly height: number;
  /** Stands on one page with what follows it. */
  readonly joined: boolean;
  readonly assumed: number;
  readonly draw: (y: number) => string;
  /** Repeated at the head of a page that starts within its table. */
  readonly head?: Piece;
  readonly isBreak?: boolean;
}

/** The sheet that a flow makes. Always at least one page. */
export function flowSheet(job: PaperJob, flow: Flow): Sheet {
  const size = pageSize(job.listPaper ?? job.paper, flow.orientation);
  const marks = marksOf(job);
  const mentioned = mentions(flow.blocks);
  const face: Face = {
    size,
    title: flow.title,
    note: flow.note ?? "",
    owners: [...marks.values()].filter(({ device }) => mentioned.has(device)),
  };
  const room = size.width - 2 * MARGIN;
  const top = HEAD + legendHeight(face);
  const bottom = size.height - FOOT;
  const setter: Setter = { room, marks };
  const pieces = flow.blocks.flatMap((block) => piecesOf(setter, block));
  const bodies = paged(pieces, top, bottom);
  const pages = bodies.map(({ body, assumed }, n): Page => ({
    ...size,
    svg: furnished(job, face, { number: n + 1, of: bodies.length, assumed }, body),
  }));
  const tables = flow.blocks.flatMap((block) => (block.kind === "table" ? [block.table] : []));
  return { id: flow.id, title: flow.title, pages, tables };
}

function mentions(blocks: readonly Block[]): ReadonlySet<string> {
  const found = new Set<string>();
  for (const block of blocks) {
    if (block.kind !== "table") continue;
    for (const row of block.table.rows) {
      for (const cell of row.cells) for (const owner of cellOf(cell).owners ?? []) found.add(owner);
    }
  }
  return found;
}

interface Body {
  body: string;
  assumed: number;
}

/** The pieces on pages: each where it fits whole, with what it must not be parted from. */
function paged(pieces: readonly Piece[], top: number, bottom: number): Body[] {
  const bodies: Body[] = [{ body: "", assumed: 0 }];
  let y = top;
  const put = (piece: Piece): void => {
    const page = bodies.at(-1)!;
    page.body += piece.draw(y);
    page.assumed += piece.assumed;
    y += piece.height;
  };
  const turn = (): void => {
    bodies.push({ body: "", assumed: 0 });
    y = top;
  };
  for (let n = 0; n < pieces.length; n++) {
    const piece = pieces[n]!;
    if (piece.isBreak) {
      if (y > top) turn();
      continue;
    }
    if (y > top && y + heightOfJoined(pieces, n) > bottom) {
      turn();
      if (piece.head) put(piece.head);
    }
    put(piece);
  }
  return bodies;
}

/** Of a piece and of all that must stand on the same page below it. */
function heightOfJoined(pieces: readonly Piece[], from: number): number {
  let height = 0;
  for (let n = from; n < pieces.length; n++) {
    height += pieces[n]!.height;
    if (!pieces[n]!.joined) break;
  }
  return height;
}

interface Setter {
  readonly room: number;
  readonly marks: OwnerMarks;
}

function piecesOf(setter: Setter, block: Block): Piece[] {
  switch (block.kind) {
    case "heading":
      return [headingPiece(setter, block.text, block.note ?? "")];
    case "text":
      return [textPiece(setter, block.text)];
    case "caution":
      return [cautionPiece(setter, block.lines)];
    case "table":
      return tablePieces(setter, block.table);
    case "break":
      return [{ height: 0, joined: false, assumed: 0, draw: () => "", isBreak: true }];
    default:
      return block satisfies never;
  }
}

function headingPiece({ room }: Setter, heading: string, note: string): Piece {
  const lines = wrapped(heading, HEADING, room, true);
  const notes = note === "" ? [] : wrapped(note, TEXT, room);
  const leading = 1.25 * HEADING * PT;
  const height = 4 + lines.length * leading + notes.length * LEADING + 1.2;
  return {
    height,
    joined: true,
    assumed: 0,
    draw: (y) =>
      lines
        .map((words, n) => line(words, MARGIN, y + 4 + (n + 0.8) * leading, { points: HEADING, bold: true }))
        .join("") +
      notes
        .map((words, n) =>
          line(words, MARGIN, y + 4 + lines.length * leading + (n + 0.8) * LEADING, {
            points: TEXT,
            fill: SOFT,
          }),
        )
        .join(""),
  };
}

function textPiece({ room }: Setter, words: string): Piece {
  const lines = wrapped(words, TEXT, Math.min(room, 170));
  return {
    height: lines.length * LEADING + 2,
    joined: false,
    assumed: 0,
    draw: (y) =>
      lines.map((each, n) => line(each, MARGIN, y + (n + 0.85) * LEADING, { points: TEXT })).join(""),
  };
}

/** A frame with a bar: what may hurt somebody stands out on a copy in black and white too. */
function cautionPiece({ room }: Setter, told: readonly string[]): Piece {
  const lines = told.flatMap((each) => wrapped(each, TEXT, room - 12));
  const height = (lines.length + 1) * LEADING + 4;
  return {
    height: height + 3,
    joined: false,
    assumed: 0,
    draw: (y) =>
      element("rect", {
        x: MARGIN,
        y: y + 1,
        width: room,
        height,
        fill: "none",
        stroke: INK,
        "stroke-width": 0.5,
      }) +
      element("rect", { x: MARGIN, y: y + 1, width: 3, height, fill: INK }) +
      line("Caution", MARGIN + 6, y + 2.6 + 0.85 * LEADING, { points: TEXT, bold: true }) +
      lines
        .map((each, n) => line(each, MARGIN + 6, y + 2.6 + (n + 1.85) * LEADING, { points: TEXT }))
        .join(""),
  };
}

function tablePieces(setter: Setter, whole: PaperTable): Piece[] {
  const table = withoutEmpty(whole);
  const title = table.title === "" ? [] : [headingPiece(setter, table.title, "")];
  if (table.rows.length === 0) return [...title, textPiece(setter, table.empty)];
  const widths = columnWidths(table, setter.room, TEXT, setter.marks);
  const lefts = widths.map((_, n) => MARGIN + widths.slice(0, n).reduce((sum, width) => sum + width, 0));
  // Lines and groups are as wide as the table.
  const across: Setter = { ...setter, room: widths.reduce((sum, width) => sum + width, 0) };
  const head = headPiece(across, table, widths, lefts);
  const pieces: Piece[] = [...title, head];
  let group = "";
  for (const row of table.rows) {
    let again = head;
    if (row.group !== undefined && row.group !== group) {
      group = row.group;
      pieces.push(groupPiece(across, group, head));
    } else if (group !== "") again = together(head, groupPiece(across, `${group}, continued`, head));
    pieces.push(rowPiece(across, table, row, widths, lefts, again));
  }
  return pieces;
}

const together = (first: Piece, second: Piece): Piece => ({
  height: first.height + second.height,
  joined: true,
  assumed: first.assumed + second.assumed,
  draw: (y) => first.draw(y) + second.draw(y + first.height),
});

function headPiece(
  { room }: Setter,
  { columns }: PaperTable,
  widths: readonly number[],
  lefts: readonly number[],
): Piece {
  const titles = columns.map(({ title }, n) => wrapped(title, TEXT, widths[n]! - 2 * PAD, true));
  const height = Math.max(...titles.map((lines) => lines.length)) * LEADING + 2 * ROW_PAD;
  return {
    height,
    joined: true,
    assumed: 0,
    draw: (y) =>
      titles
        .map((lines, n) => {
          const right = columns[n]!.kind === "number";
          const x = right ? lefts[n]! + widths[n]! - PAD : lefts[n]! + PAD;
          return lines
            .map((words, m) =>
              line(words, x, y + ROW_PAD + height - 2 * ROW_PAD - (lines.length - m - 0.78) * LEADING, {
                points: TEXT,
                bold: true,
                anchor: right ? "end" : "start",
              }),
            )
            .join("");
        })
        .join("") + rule(y + height, room, 0.35, INK),
  };
}

function groupPiece({ room }: Setter, words: string, head: Piece): Piece {
  const lines = wrapped(words, TEXT, room - 2 * PAD, true);
  const height = lines.length * LEADING + 2 * ROW_PAD;
  return {
    height,
    joined: true,
    assumed: 0,
    head,
    draw: (y) =>
      element("rect", { x: MARGIN, y, width: room, height, fill: PALE }) +
      lines
        .map((each, n) =>
          line(each, MARGIN + PAD, y + ROW_PAD + (n + 0.78) * LEADING, { points: TEXT, bold: true }),
        )
        .join("") +
      rule(y + height, room, 0.2, INK),
  };
}

function rowPiece(
  { room, marks }: Setter,
  { columns }: PaperTable,
  row: PaperRow,
  widths: readonly number[],
  lefts: readonly number[],
  head: Piece,
): Piece {
  const cells = columns.map((_, n) => {
    const cell = cellOf(row.cells[n]);
    const bold = cell.strong ?? row.strong ?? false;
    const lead = leadWidth(cell, TEXT, marks);
    const lines = wrapped(setText(cell), TEXT, Math.max(widths[n]! - 2 * PAD - lead, 2), bold);
    return { cell, bold, lead, lines };
  });
  const height = Math.max(...cells.map(({ lines }) => lines.length)) * LEADING + 2 * ROW_PAD;
  return {
    height,
    joined: false,
    assumed: cells.filter(({ cell }) => cell.assumed).length,
    head,
    draw: (y) =>
      cells
        .map(({ cell, bold, lead, lines }, n) => {
          const { kind } = columns[n]!;
          const [left, width] = [lefts[n]!, widths[n]!];
          const base = y + ROW_PAD + 0.78 * LEADING;
          if (kind === "tick" && row.idle) return "";
          if (kind === "tick")
            return tickBox(left + (width - BOX) / 2, y + (ROW_PAD + 0.5 * LEADING) - BOX / 2);
          let x = left + PAD;
          let drawn = "";
          for (const owner of cell.owners ?? []) {
            const mark = marks.get(owner);
            if (!mark) continue;
            drawn += ownerMark(mark, x, base, TEXT);
            x += markWidth(mark, TEXT) + 0.8;
          }
          const right = kind === "number";
          const at = right ? left + width - PAD : left + PAD + lead;
          drawn += lines
            .map((words, m) =>
              line(words, at, base + m * LEADING, {
                points: TEXT,
                bold,
                anchor: right ? "end" : "start",
                fill: cell.soft ? SOFT : INK,
              }),
            )
            .join("");
          if (kind === "blank" && cell.text === "") {
            drawn += element("line", {
              x1: left + PAD,
              y1: y + height - ROW_PAD,
              x2: left + width - PAD,
              y2: y + height - ROW_PAD,
              stroke: SOFT,
              "stroke-width": 0.2,
              "stroke-dasharray": "0.6 0.6",
            });
          }
          return drawn;
        })
        .join("") + rule(y + height, room, 0.12, LINE),
  };
}

const tickBox = (x: number, y: number): string =>
  element("rect", { x, y, width: BOX, height: BOX, fill: "none", stroke: INK, "stroke-width": 0.35 });

const rule = (y: number, room: number, width: number, stroke: string): string =>
  element("line", { x1: MARGIN, y1: y, x2: MARGIN + room, y2: y, stroke, "stroke-width": width });
