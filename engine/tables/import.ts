/** A list from elsewhere against a table: which of its columns is which, which of its rows is which, and what would change. */
import { plain } from "../trace/lookup.ts";
import { asWritten } from "./csv.ts";
import type { CellWrite, Table, Written } from "./table.ts";

/**
 * For each column of the list the table's column, or those that it fills together; null: left out. Several may lead to
 * one, and are then joined.
 */
export type Mapping = readonly (number | readonly number[] | null)[];

/** By headings. Null where none of them is known, as where the list has no headings. */
export function guessMapping(table: Table, headings: readonly string[]): Mapping | null {
  // A list that was exported here may have two headings alike, such as consoles of one name.
  const isOwn =
    headings.length === table.columns.length &&
    headings.every((heading, n) => asWritten(heading) === table.columns[n]!.name);
  if (isOwn) return table.columns.map(({ readOnly }, column) => (readOnly ? null : column));
  // What stands above a column goes before what the program calls it.
  const names = table.columns.map(({ name, also }) => new Set([name, ...also].map(plain)));
  const ids = table.columns.map(({ id }) => new Set([plain(id)]));
  const placeIn = (sets: readonly ReadonlySet<string>[], wanted: string): number => {
    const exact = sets.findIndex((known) => known.has(wanted));
    return exact >= 0 ? exact : sets.findIndex((known) => [...known].some((one) => isAlike(one, wanted)));
  };
  const mapping = headings.map((heading): Mapping[number] => {
    const wanted = plain(heading);
    if (wanted === "") return null;
    const named = placeIn(names, wanted);
    const at = named >= 0 ? named : placeIn(ids, wanted);
    if (at >= 0) return table.columns[at]!.readOnly ? null : at;
    return table.together.find(({ also }) => also.includes(wanted))?.columns ?? null;
  });
  return mapping.some((column) => column !== null) ? mapping : null;
}

/** The table that knows most of the headings; of several that know as many the first. */
export function tableByHeadings(tables: readonly Table[], headings: readonly string[]): Table | undefined {
  const known = (table: Table): number =>
    (guessMapping(table, headings) ?? []).filter((column) => column !== null).length;
  const [first, ...others] = tables;
  return first && others.reduce((best, each) => (known(each) > known(best) ? each : best), first);
}

/** `Gain (dB)` is `Gain dB`, `Length [m]` is `Length m`. */
const isAlike = (one: string, other: string): boolean => {
  const bare = (text: string): string => text.replaceAll(/[^\p{L}\p{N}#]+/gu, " ").trim();
  return bare(one) !== "" && bare(one) === bare(other);
};

export interface ImportedCell {
  /** Row of the list, counted from 1, headings not counted. */
  readonly line: number;
  readonly heading: string;
  readonly before: string;
  readonly after: string;
}

export interface ImportPlan {
  readonly written: Written;
  /** Rows of the list that are rows of the table already and say the same. */
  readonly same: number;
  readonly changes: readonly ImportedCell[];
  /** What can't be read, and rows that lack something. */
  readonly bad: readonly (Omit<ImportedCell, "before" | "after"> & {
    readonly text: string;
    readonly reason: string;
  })[];
}

/**
 * What the list means for the table. Rows are known again by the columns that `table.known` names; `clears`: an empty cell
 * empties the table's.
 */
export function planImport(
  table: Table,
  list: readonly (readonly string[])[],
  mapping: Mapping,
  clears: boolean,
): ImportPlan {
  const rows = list.map((line) => cellsOf(line, mapping));
  const rowOf = matched(table, rows);
  const first = table.keys.length;
  const lineOf = new Map<number, number>();
  const writes: CellWrite[] = [];
  const changes: ImportedCell[] = [];
  let same = 0;
  rows.forEach((cells, line) => {
    const known = rowOf.get(line);
    const row = known ?? first + line;
    lineOf.set(row, line + 1);
    const before = writes.length;
    for (const [column, text] of cells) {
      if (text.trim() === "" && !(clears && known !== undefined)) continue;
      const was = known === undefined ? "" : table.tell(known, column);
      if (was === text || table.columns[column]!.readOnly) continue;
      if (known !== undefined && table.isFixed(known, column)) continue;
      writes.push({ row, column, text });
      changes.push({ line: line + 1, heading: table.columns[column]!.name, before: was, after: text });
    }
    if (known !== undefined && writes.length === before) same++;
  });
  const written = table.write(writes);
  const textAt = new Map(writes.map(({ row, column, text }) => [`${row}:${column}`, text]));
  const refused = [...written.bad, ...written.unfinished].map(({ row, column, reason }) => ({
    line: lineOf.get(row)!,
    heading: table.columns[column]!.name,
    text: textAt.get(`${row}:${column}`) ?? "",
    reason,
  }));
  const isRefused = new Set(refused.map(({ line, heading }) => `${line}:${heading}`));
  const unfinished = new Set(written.unfinished.map(({ row }) => lineOf.get(row)!));
  return {
    written,
    same,
    changes: changes.filter(
      ({ line, heading }) => !isRefused.has(`${line}:${heading}`) && !unfinished.has(line),
    ),
    bad: refused.sort((a, b) => a.line - b.line),
  };
}

/** The line's cells by the table's columns; those that lead to one column are joined with a space. */
function cellsOf(line: readonly string[], mapping: Mapping): ReadonlyMap<number, string> {
  const cells = new Map<number, string>();
  mapping.forEach((columns, n) => {
    const text = asWritten(line[n] ?? "");
    for (const column of columns === null ? [] : [columns].flat()) {
      const before = cells.get(column);
      cells.set(
        column,
        before === undefined ? text : [before, text].filter((part) => part.trim() !== "").join(" "),
      );
    }
  });
  return cells;
}

/**
 * The table's row of each line that it has already: first by all that rows are known by, then by less. Of several that
 * look the same the first is the first.
 */
function matched(table: Table, rows: readonly ReadonlyMap<number, string>[]): ReadonlyMap<number, number> {
  const place = (id: string): number => table.columns.findIndex((column) => column.id === id);
  const sets = table.known.map((ids) => ids.map(place));
  const found = new Map<number, number>();
  const taken = new Set<number>();
  for (const columns of [sets.flat(), ...sets]) {
    const open = new Map<string, number[]>();
    table.keys.forEach((_, row) => {
      if (taken.has(row)) return;
      const key = JSON.stringify(columns.map((column) => plain(table.tell(row, column))));
      const there = open.get(key);
      if (there) there.push(row);
      else open.set(key, [row]);
    });
    rows.forEach((cells, line) => {
      if (found.has(line) || !columns.every((column) => (cells.get(column) ?? "").trim() !== "")) return;
      const key = JSON.stringify(columns.map((column) => plain(cells.get(column)!)));
      const row = open.get(key)?.shift();
      if (row === undefined) return;
      found.set(line, row);
      taken.add(row);
    });
  }
  return found;
}
