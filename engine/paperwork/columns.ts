/** How wide the columns of a table come out. */
import { markWidth } from "./pen.ts";
import type { CellLike, PaperCell, PaperColumn, PaperTable } from "./block.ts";
import type { OwnerMarks } from "./page.ts";
import { longestPiece, paperWidth } from "./type.ts";

/** Millimetres left of a cell's text and right of it. */
export const PAD = 1.2;
const LONGEST_WORD = 40;
const WIDEST = 110;
const TICK = 7;
const BLANK = 24;

export const cellOf = (cell: CellLike | undefined): PaperCell =>
  typeof cell === "object" ? cell : { text: cell ?? "" };

/** The table without the columns that may be left out and say nothing. */
export function withoutEmpty(table: PaperTable): PaperTable {
  const says = (n: number): boolean =>
    table.rows.some(({ cells }) => {
      const { text, owners } = cellOf(cells[n]);
      return text !== "" || (owners?.length ?? 0) > 0;
    });
  const kept = table.columns.map((column, n) => !column.isOptional || says(n));
  return {
    ...table,
    columns: table.columns.filter((_, n) => kept[n]),
    rows: table.rows.map((row) => ({
      ...row,
      cells: table.columns.map((_, n) => row.cells[n] ?? "").filter((_, n) => kept[n]),
    })),
  };
}

/** The text as it is set: with the mark of a value that nobody has confirmed. */
export const setText = ({ text, assumed }: PaperCell): string => (assumed ? `${text}*` : text);

/** Millimetres that stand before a cell's text: its owners' marks and its digits' colours. */
export function leadWidth(cell: PaperCell, points: number, marks: OwnerMarks): number {
  let width = 0;
  for (const owner of cell.owners ?? []) {
    const mark = marks.get(owner);
    if (mark) width += markWidth(mark, points) + 0.8;
  }
  return width;
}

/**
 * Widths that add up to `room`, or to less where no column may grow. Where all texts fit on one line, what is left goes
 * by the columns' shares; else what a column has beyond its least gives way in proportion, and where not even that is
 * enough, all do.
 */
export function columnWidths(table: PaperTable, room: number, points: number, marks: OwnerMarks): number[] {
  const sizes = table.columns.map((column, n) => sizeOf(table, column, n, points, marks));
  const least = sum(sizes.map(({ least: width }) => width));
  const natural = sum(sizes.map(({ natural: width }) => width));
  if (natural <= room) {
    const shares = table.columns.map(({ grow, kind }) => grow ?? (kind === "tick" ? 0 : 1));
    const whole = sum(shares);
    return sizes.map(({ natural: width }, n) =>
      whole === 0 ? width : width + ((room - natural) * shares[n]!) / whole,
    );
  }
  if (least <= room) {
    const part = (room - least) / (natural - least);
    return sizes.map((size) => size.least + (size.natural - size.least) * part);
  }
  return sizes.map((size) => (size.least * room) / least);
}

function sizeOf(
  table: PaperTable,
  column: PaperColumn,
  n: number,
  points: number,
  marks: OwnerMarks,
): { least: number; natural: number } {
  let word = longestPiece(column.title, points, true);
  let whole = paperWidth(column.title, points, true);
  if (column.kind === "tick")
    return { least: Math.max(TICK, word + 2 * PAD), natural: Math.max(TICK, whole + 2 * PAD) };
  for (const row of table.rows) {
    const cell = cellOf(row.cells[n]);
    if (cell.text === "" && !cell.owners) continue;
    const lead = leadWidth(cell, points, marks);
    const bold = cell.strong ?? row.strong;
    word = Math.max(word, lead + longestPiece(setText(cell), points, bold));
    whole = Math.max(whole, lead + paperWidth(setText(cell), points, bold));
  }
  const least = column.least ?? Math.min(word, LONGEST_WORD) + 2 * PAD;
  const natural = Math.min(whole, WIDEST) + 2 * PAD;
  return column.kind === "blank"
    ? { least: Math.max(least, BLANK), natural: Math.max(natural, BLANK) }
    : { least, natural: Math.max(least, natural) };
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
