/**
 * Tables as CSV files (RFC 4180). A spreadsheet runs a cell that starts as a formula does, so such a cell gets an
 * apostrophe in front, which reading takes away again: what was written comes back as it was, whatever it is.
 */
import type { Table } from "./table.ts";

/** What makes a line of a cell a formula: these signs, also full width, after spaces, apostrophes and unseen signs. */
const FORMULA = /^['\s\p{Cc}\p{Cf}]*[=+\-@＝＋－＠|%]/u;
const NUMBER = /^-?\d+(?:\.\d+)?$/;
const LINES = /(\r\n|\r|\n)/;

/** Line by line, since some programs take each line of a cell for a cell. */
const byLine = (cell: string, change: (line: string) => string): string =>
  cell
    .split(LINES)
    .map((part, n) => (n % 2 === 0 ? change(part) : part))
    .join("");

/** A cell that no program runs. Plain numbers such as `-12.5` stay numbers. */
export const harmless = (cell: string): string =>
  byLine(cell, (line) => (FORMULA.test(line) && !NUMBER.test(line) ? `'${line}` : line));

/** The cell that `harmless` was given; other cells stay as they are. */
export const asWritten = (cell: string): string =>
  byLine(cell, (line) => (line.startsWith("'") && FORMULA.test(line.slice(1)) ? line.slice(1) : line));

const quoted = (cell: string): string =>
  /[",;\t\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;

/** The whole table, its headings first. A byte order mark tells spreadsheets that it is UTF-8. */
export function csvOf(table: Table): string {
  const line = (cells: readonly string[]): string => cells.map((cell) => quoted(harmless(cell))).join(",");
  const rows = table.keys.map((_, row) => table.columns.map((_column, column) => table.tell(row, column)));
  const headings = table.columns.map(({ name }) => name);
  return `\ufeff${[headings, ...rows].map((cells) => `${line(cells)}\r\n`).join("")}`;
}
