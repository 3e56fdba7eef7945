/**
 * The lists of a show as tables: columns that tell and read cells as text, rows that stand for records, and what is
 * written into cells as edits. The screen's grid, paste, import and export all go through here.
 */
import type { Edit } from "../model/edit.ts";
import type { CableId, DeviceId, MixId, SourceId } from "../model/ids.ts";
import type { Show, TerminalRef } from "../model/show.ts";
import { Work } from "./work.ts";

export interface Column {
  /** Stable within the table, such as `name` or `channel:foh`. */
  readonly id: string;
  /** The heading. */
  readonly name: string;
  /** A usual width, in characters. */
  readonly width: number;
  /** Figures stand at the right. */
  readonly figures: boolean;
  /** Filling down counts the number at the end of the text on. */
  readonly counts: boolean;
  /** The width stands, however long the heading is. */
  readonly slim: boolean;
  /** Told, never typed. */
  readonly readOnly: boolean;
  /** Other headings that lists from elsewhere give it, in small letters. */
  readonly also: readonly string[];
}

/** A text for one cell. Rows past the last are new ones. */
export interface CellWrite {
  readonly row: number;
  readonly column: number;
  readonly text: string;
}

/** A cell that couldn't be read, and why. Its place is that of its write. */
export interface BadCell extends CellWrite {
  readonly reason: string;
}

export interface Written {
  readonly edits: readonly Edit[];
  readonly bad: readonly BadCell[];
  /** New rows that aren't whole yet, each with what it lacks first. Nothing of them is among the edits. */
  readonly unfinished: readonly { readonly row: number; readonly column: number; readonly reason: string }[];
  readonly added: number;
  readonly changed: number;
}

/** What a row stands for. */
export type RowSubject =
  | { readonly kind: "source"; readonly source: SourceId }
  | { readonly kind: "terminal"; readonly at: TerminalRef }
  /** A channel or bus of a mixer. */
  | { readonly kind: "bus"; readonly at: TerminalRef }
  | { readonly kind: "mix"; readonly mix: MixId }
  | { readonly kind: "cable"; readonly cable: CableId }
  | { readonly kind: "device"; readonly device: DeviceId };

export interface Table {
  readonly id: TableId;
  readonly name: string;
  /** What one row is called, and several. */
  readonly one: string;
  readonly many: string;
  readonly columns: readonly Column[];
  /** Stable names of the rows, in the show's order. */
  readonly keys: readonly string[];
  /** Rows can be typed at the end. */
  readonly grows: boolean;
  readonly shrinks: boolean;
  /** How to begin, for a table with no row. */
  readonly empty: string;
  /** Columns by which a row of a list from elsewhere is known again: all of them, else those of one set alone. */
  readonly known: readonly (readonly string[])[];
  /** Columns that one column of a list from elsewhere may fill together. */
  readonly together: readonly ColumnsTogether[];
  tell(row: number, column: number): string;
  /** What may stand in the cell where that is a closed list; `row` past the last means a new one. */
  choices(row: number, column: number): readonly string[] | null;
  /** Whether the cell can't be written. */
  isFixed(row: number, column: number): boolean;
  /** What the space bar makes of the cell; null: nothing. */
  next(row: number, column: number): string | null;
  /** The device whose colour the cell bears. */
  owner(row: number, column: number): DeviceId | null;
  subject(row: number): RowSubject;
  write(writes: readonly CellWrite[]): Written;
  /** Takes rows out, with what of the show speaks of them only. */
  remove(rows: readonly number[]): readonly Edit[];
}

export interface ColumnsTogether {
  readonly name: string;
  /** Headings that lists from elsewhere give it, in small letters. */
  readonly also: readonly string[];
  /** Places in `columns`. */
  readonly columns: readonly number[];
}

export const TABLES = ["inputs", "channels", "mixes", "members", "outputs", "cables", "devices"] as const;
export type TableId = (typeof TABLES)[number];

export interface ColumnSpec<Row> {
  readonly id: string;
  readonly name: string;
  readonly width: number;
  readonly figures?: boolean;
  readonly counts?: boolean;
  readonly slim?: boolean;
  readonly also?: readonly string[];
  readonly tell: (row: Row) => string;
  /** Writes the cell into the work, or says why not. Left out: the column is told only. */
  readonly write?: (work: Work, key: string, text: string) => string | null;
  readonly choices?: (row: Row | null) => readonly string[];
  readonly isFixed?: (row: Row) => boolean;
  readonly owner?: (row: Row) => DeviceId | null;
  readonly next?: (row: Row) => string;
}

/** Cells of a new row by their columns. */
export type NewCells = ReadonlyMap<string, string>;

export type Created =
  | { readonly ok: true; readonly key: string; readonly used: readonly string[] }
  | { readonly ok: false; readonly column: string; readonly reason: string };

export interface TableSpec<Row> {
  readonly id: TableId;
  readonly name: string;
  readonly one: string;
  readonly many: string;
  readonly empty: string;
  readonly known: readonly (readonly string[])[];
  /** Columns by their ids. */
  readonly together?: readonly (Omit<ColumnsTogether, "columns"> & { readonly columns: readonly string[] })[];
  readonly show: Show;
  readonly rows: readonly Row[];
  readonly key: (row: Row) => string;
  readonly columns: readonly ColumnSpec<Row>[];
  readonly subject: (row: Row) => RowSubject;
  /** Makes the record of a new row of the cells that it can't be without; `used` names their columns. */
  readonly create?: (work: Work, cells: NewCells) => Created;
  /** False: what `create` says is for lists from elsewhere alone. */
  readonly grows?: boolean;
  readonly remove?: (work: Work, row: Row) => void;
  /** In place of `remove`, where the engine knows already what goes with the records. */
  readonly removed?: (rows: readonly Row[]) => readonly Edit[];
  /** What can only be seen once every cell is written; takes back what it complains of. */
  readonly settle?: (work: Work, touched: ReadonlySet<string>) => readonly Complaint[];
}

export interface Complaint {
  readonly key: string;
  readonly column: string;
  readonly reason: string;
}

export function makeTable<Row>(spec: TableSpec<Row>): Table {
  const { rows, columns, show } = spec;
  const columnAt = new Map(columns.map(({ id }, index) => [id, index]));
  const tell = (row: number, column: number): string => columns[column]!.tell(rows[row]!);
  const isFixed = (row: number, column: number): boolean => {
    const { write, isFixed: fixes } = columns[column]!;
    const record = rows[row];
    return write === undefined || (record !== undefined && (fixes?.(record) ?? false));
  };

  function write(writes: readonly CellWrite[]): Written {
    const work = new Work(show);
    const bad: BadCell[] = [];
    const unfinished: { row: number; column: number; reason: string }[] = [];
    const rowOf = new Map<string, number>();
    let [added, changed] = [0, 0];
    const put = (key: string, cell: CellWrite): boolean => {
      const reason = isFixed(cell.row, cell.column)
        ? `${columns[cell.column]!.name} can’t be typed here.`
        : columns[cell.column]!.write!(work, key, cell.text);
      if (reason !== null) bad.push({ ...cell, reason });
      return reason === null;
    };
    for (const [row, cells] of byRow(writes)) {
      const record = rows[row];
      if (record !== undefined) {
        const key = spec.key(record);
        const differing = cells.filter(({ column, text }) => text !== tell(row, column));
        if (differing.length === 0) continue;
        rowOf.set(key, row);
        if (differing.map((cell) => put(key, cell)).includes(true)) changed++;
        continue;
      }
      const typed = cells.filter(({ text }) => text.trim() !== "");
      if (typed.length === 0) continue;
      const made = spec.create?.(work, new Map(typed.map(({ column, text }) => [columns[column]!.id, text])));
      if (!made) continue;
      if (!made.ok) {
        unfinished.push({ row, column: columnAt.get(made.column) ?? 0, reason: made.reason });
        continue;
      }
      added++;
      rowOf.set(made.key, row);
      for (const cell of typed) if (!made.used.includes(columns[cell.column]!.id)) put(made.key, cell);
    }
    const complaints = spec.settle?.(work, new Set(rowOf.keys())) ?? [];
    for (const { key, column, reason } of complaints) {
      const at = { row: rowOf.get(key) ?? 0, column: columnAt.get(column) ?? 0 };
      const text = writes.find((cell) => cell.row === at.row && cell.column === at.column)?.text ?? "";
      bad.push({ ...at, text, reason });
    }
    return { edits: work.edits(), bad, unfinished, added, changed };
  }

  return {
    id: spec.id,
    name: spec.name,
    one: spec.one,
    many: spec.many,
    empty: spec.empty,
    known: spec.known,
    together: (spec.together ?? []).flatMap(({ columns: ids, ...each }) => {
      const columns = ids.map((id) => spec.columns.findIndex((column) => column.id === id));
      return columns.length === 0 ? [] : [{ ...each, columns }];
    }),
    columns: columns.map(
      ({ id, name, width, figures = false, counts = false, slim = false, also = [], write: writes }) => ({
        id,
        name,
        width,
        figures,
        counts,
        slim,
        also,
        readOnly: writes === undefined,
      }),
    ),
    keys: rows.map(spec.key),
    grows: spec.grows ?? spec.create !== undefined,
    shrinks: spec.remove !== undefined || spec.removed !== undefined,
    tell,
    choices: (row, column) => columns[column]!.choices?.(rows[row] ?? null) ?? null,
    isFixed,
    next: (row, column) => {
      const record = rows[row];
      const change = columns[column]!.next;
      return record !== undefined && change && !isFixed(row, column) ? change(record) : null;
    },
    owner: (row, column) => columns[column]!.owner?.(rows[row]!) ?? null,
    subject: (row) => spec.subject(rows[row]!),
    write,
    remove(numbers) {
      if (spec.removed) return spec.removed(numbers.flatMap((number) => rows[number] ?? []));
      const work = new Work(show);
      for (const number of numbers) {
        const row = rows[number];
        if (row !== undefined) spec.remove?.(work, row);
      }
      return work.edits();
    },
  };
}

/** The writes row by row in ascending order, those of a row in the order of the columns; of two on one cell the later. */
function byRow(writes: readonly CellWrite[]): readonly (readonly [number, readonly CellWrite[]])[] {
  const rows = new Map<number, Map<number, CellWrite>>();
  for (const cell of writes) {
    const row = rows.get(cell.row) ?? new Map<number, CellWrite>();
    row.set(cell.column, cell);
    rows.set(cell.row, row);
  }
  return [...rows]
    .sort(([a], [b]) => a - b)
    .map(([row, cells]) => [row, [...cells.values()].sort((a, b) => a.column - b.column)] as const);
}

/** The write of a column that changes a field or two of its record. */
export const field =
  <Record extends { readonly id: string }>(
    get: (work: Work, key: string) => Record | undefined,
    put: (work: Work, record: Record) => void,
  ) =>
  (change: (record: Record, text: string, work: Work) => Record | string) =>
  (work: Work, key: string, text: string): string | null => {
    const record = get(work, key);
    if (!record) return "This row is gone.";
    const next = change(record, text, work);
    if (typeof next === "string") return next;
    put(work, next);
    return null;
  };
