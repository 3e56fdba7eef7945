/** Cells as text between programs, and cells that count on. No React and no table in it. */

/** Rows of cells as a spreadsheet takes them from the clipboard: tabs between cells, quotes where a cell needs them. */
export const tsvOf = (rows: readonly (readonly string[])[]): string =>
  rows.map((row) => row.map(quoted).join("\t")).join("\n");

const quoted = (cell: string): string => (/[\t\n\r"]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);

/**
 * What a spreadsheet put on the clipboard, as rows of cells. A cell that starts with a quote runs to its closing quote,
 * over tabs and line breaks; a quote that never closes is a quote. The empty line that most programs end with is none.
 */
export function cellsOf(text: string): readonly (readonly string[])[] {
  const rows: string[][] = [[]];
  let at = 0;
  while (at < text.length) {
    const { cell, next } = cellAt(text, at);
    rows.at(-1)!.push(cell);
    at = next;
    if (text[at] === "\t") {
      at++;
      // A tab at the very end has an empty cell behind it.
      if (at === text.length || text[at] === "\n" || text[at] === "\r") rows.at(-1)!.push("");
      if (at === text.length) break;
      if (text[at] !== "\n" && text[at] !== "\r") continue;
    }
    if (text[at] === "\r" && text[at + 1] === "\n") at++;
    if (text[at] === "\r" || text[at] === "\n") {
      at++;
      rows.push([]);
    }
  }
  if (rows.at(-1)!.length === 0) rows.pop();
  return rows.map((row) => (row.length === 0 ? [""] : row));
}

function cellAt(text: string, at: number): { readonly cell: string; readonly next: number } {
  if (text[at] === '"') {
    const found = /^"((?:[^"]|"")*)"(?=[\t\r\n]|$)/.exec(text.slice(at));
    if (found) return { cell: found[1]!.replaceAll('""', '"'), next: at + found[0].length };
  }
  let end = at;
  while (end < text.length && text[end] !== "\t" && text[end] !== "\n" && text[end] !== "\r") end++;
  return { cell: text.slice(at, end), next: end };
}

/** The text `by` places on: `Vox 1` → `Vox 2`, `C07` → `C08`. One without a number at its end, or with several, stays. */
export function counted(text: string, by: number): string {
  const [, head, digits, tail] = /^(.*?)(\d+)(\s*|[AB])$/.exec(text) ?? [];
  if (head === undefined || digits === undefined || /[\d][\s]*[,;–-]\s*$/.test(head)) return text;
  const next = Number(digits) + by;
  if (!Number.isSafeInteger(next) || next < 0) return text;
  return `${head}${String(next).padStart(digits.length, "0")}${tail ?? ""}`;
}
