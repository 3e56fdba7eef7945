/** Which cells are chosen: a cursor, and the corner that the choice was drawn from. Rows and columns as they are seen. */

export interface Cell {
  readonly row: number;
  readonly column: number;
}

export interface Selection {
  readonly cursor: Cell;
  /** The other corner; the cursor itself where one cell is chosen. */
  readonly anchor: Cell;
}

export interface Extent {
  readonly rows: number;
  /** Rows without the one for new ones. */
  readonly whole: number;
  readonly columns: number;
}

/** First and last row and column, all included. */
export interface Area {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

export const areaOf = ({ cursor, anchor }: Selection): Area => ({
  top: Math.min(cursor.row, anchor.row),
  bottom: Math.max(cursor.row, anchor.row),
  left: Math.min(cursor.column, anchor.column),
  right: Math.max(cursor.column, anchor.column),
});

export const isOne = ({ cursor, anchor }: Selection): boolean =>
  cursor.row === anchor.row && cursor.column === anchor.column;

export const at = (row: number, column: number): Selection => ({
  cursor: { row, column },
  anchor: { row, column },
});

const clamp = (value: number, most: number): number => Math.max(0, Math.min(most, value));

export function within({ cursor, anchor }: Selection, { rows, columns }: Extent): Selection {
  const fit = (cell: Cell): Cell => ({
    row: clamp(cell.row, rows - 1),
    column: clamp(cell.column, columns - 1),
  });
  return { cursor: fit(cursor), anchor: fit(anchor) };
}

export interface Press {
  readonly key: string;
  readonly shift: boolean;
  /** The platform's own command key. */
  readonly command: boolean;
}

/** Where a key takes the selection; null where it is no key that moves. `page`: rows that are in view. */
export function moved(selection: Selection, press: Press, extent: Extent, page: number): Selection | null {
  const { cursor } = selection;
  const { key, shift, command } = press;
  const lastRow = extent.rows - 1;
  // What is chosen to the end leaves out the row for new ones.
  const end = shift && cursor.row < extent.whole ? extent.whole - 1 : lastRow;
  const lastColumn = extent.columns - 1;
  const to = (row: number, column: number): Selection => {
    const next = { row: clamp(row, lastRow), column: clamp(column, lastColumn) };
    return { cursor: next, anchor: shift ? selection.anchor : next };
  };
  switch (key) {
    case "ArrowUp":
      return to(command ? 0 : cursor.row - 1, cursor.column);
    case "ArrowDown":
      return to(command ? end : cursor.row + 1, cursor.column);
    case "ArrowLeft":
      return to(cursor.row, command ? 0 : cursor.column - 1);
    case "ArrowRight":
      return to(cursor.row, command ? lastColumn : cursor.column + 1);
    case "Home":
      return to(command ? 0 : cursor.row, 0);
    case "End":
      return to(command ? end : cursor.row, lastColumn);
    case "PageUp":
      return to(cursor.row - page, cursor.column);
    case "PageDown":
      return to(cursor.row + page, cursor.column);
    case "a":
      return command
        ? {
            anchor: { row: 0, column: 0 },
            cursor: { row: Math.max(0, extent.whole - 1), column: lastColumn },
          }
        : null;
    default:
      return null;
  }
}

/**
 * Enter goes down, Tab to the right and on in the next row; with Shift the other way. Null: Tab leads out of the table,
 * so that the keyboard can leave it.
 */
export function stepped(
  { cursor: { row, column } }: Selection,
  key: "Enter" | "Tab",
  back: boolean,
  { rows, columns }: Extent,
): Selection | null {
  const by = back ? -1 : 1;
  if (key === "Enter") return at(clamp(row + by, rows - 1), column);
  const place = row * columns + column + by;
  return place < 0 || place >= rows * columns ? null : at(Math.floor(place / columns), place % columns);
}

export interface Sort {
  readonly column: number;
  readonly down: boolean;
}

interface Told {
  readonly keys: readonly string[];
  tell(row: number, column: number): string;
}

const COLLATOR = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

/** The rows that are seen, in the order in which they are seen. `columns`: those that the filter looks in. */
export function ordered(table: Told, columns: number, sort: Sort | null, filter: string): readonly number[] {
  const wanted = filter.trim().toLowerCase();
  let rows = [...table.keys.keys()];
  if (wanted !== "") {
    rows = rows.filter((row) => {
      for (let column = 0; column < columns; column++) {
        if (table.tell(row, column).toLowerCase().includes(wanted)) return true;
      }
      return false;
    });
  }
  if (!sort) return rows;
  const texts = new Map(rows.map((row) => [row, table.tell(row, sort.column)]));
  return rows.sort((a, b) => {
    const [one, other] = [texts.get(a)!, texts.get(b)!];
    // Empty cells stand last either way.
    if ((one === "") !== (other === "")) return one === "" ? 1 : -1;
    return (sort.down ? -1 : 1) * COLLATOR.compare(one, other) || a - b;
  });
}

/** An order of rows, and all rows that there were when it was made. */
export interface Order {
  readonly shown: readonly string[];
  readonly known: ReadonlySet<string>;
}

/** The order of before after an edit: rows that went are left out, new ones stand at the end, nothing else moves. */
export function carried({ shown, known }: Order, keys: readonly string[]): readonly number[] {
  const rowOf = new Map(keys.map((key, row) => [key, row]));
  const kept = shown.flatMap((key) => rowOf.get(key) ?? []);
  return [...kept, ...[...keys.keys()].filter((row) => !known.has(keys[row]!))];
}
