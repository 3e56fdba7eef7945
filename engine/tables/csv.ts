/**
 * Tables as CSV files (RFC 4180). A spreadsheet runs a cell that starts as a formula does, so such a cell gets an
 * apostrophe in front, which reading takes away again: what was written comes back as it was, whatever it is.
 */
import type { Table } from "./table.ts";

/** What makes a part of a cell a formula: these signs, also full width, after spaces, quotes and unseen signs. */
const FORMULA = /^['"\s\p{Cc}\p{Cf}]*[=+\-@＝＋－＠|%]/u;
const NUMBER = /^-?\d+(?:\.\d+)?$/;
/** Where some programs begin a new cell, quotes or not: at a line's end, and at a semicolon where commas are decimal signs. */
const PARTS = /(\r\n|\r|\n|;)/;

const byPart = (cell: string, change: (part: string) => string): string =>
  cell
    .split(PARTS)
    .map((part, n) => (n % 2 === 0 ? change(part) : part))
    .join("");

/** A cell that no program runs. Plain numbers such as `-12.5` stay numbers. */
export const harmless = (cell: string): string =>
  NUMBER.test(cell) ? cell : byPart(cell, (part) => (FORMULA.test(part) ? `'${part}` : part));

/** The cell that `harmless` was given; other cells stay as they are. */
export const asWritten = (cell: string): string =>
  byPart(cell, (part) => (part.startsWith("'") && FORMULA.test(part.slice(1)) ? part.slice(1) : part));

const quoted = (cell: string): string =>
  /[",;\t\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;

/** Rows of cells, the headings first. A byte order mark tells spreadsheets that it is UTF-8. */
export function csvOfRows(rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => cells.map((cell) => quoted(harmless(cell))).join(",");
  return `\ufeff${rows.map((cells) => `${line(cells)}\r\n`).join("")}`;
}

/** The whole table, its headings first. */
export function csvOf(table: Table): string {
  const rows = table.keys.map((_, row) => table.columns.map((_column, column) => table.tell(row, column)));
  return csvOfRows([table.columns.map(({ name }) => name), ...rows]);
}
