/** From cells as they are seen to edits of the document: existing rows, unfinished ones, and new ones behind them. */
import type { BadCell, Column, Edit, Table } from "#engine";
import type { Draft } from "./lists.ts";

/** The rows that are seen: `order` names the table's rows, behind them stand the unfinished ones and one for new rows. */
export interface Seen {
  readonly table: Table;
  readonly order: readonly number[];
  readonly drafts: readonly Draft[];
}

export const rowsSeen = ({ table, order, drafts }: Seen): number =>
  order.length + drafts.length + (table.grows ? 1 : 0);

/** A text for a cell, by its place on the screen. */
export interface SeenWrite {
  readonly row: number;
  readonly column: number;
  readonly text: string;
}

export interface Outcome {
  readonly edits: readonly Edit[];
  readonly drafts: readonly Draft[];
  /** Cells that can't be read, by their place on the screen, with the heading of their column. */
  readonly bad: readonly SeenBad[];
  readonly added: number;
  readonly changed: number;
}

export interface SeenBad extends SeenWrite {
  readonly heading: string;
  readonly reason: string;
}

export function tellSeen({ table, order, drafts }: Seen, row: number, column: number): string {
  const known = order[row];
  if (known !== undefined) return table.tell(known, column);
  return drafts[row - order.length]?.get(table.columns[column]!.id) ?? "";
}

/** What a write comes to. Changes nothing itself. */
export function outcomeOf(seen: Seen, writes: readonly SeenWrite[]): Outcome {
  const { table, order, drafts } = seen;
  const first = table.keys.length;
  const known = writes.filter(({ row }) => row < order.length);
  const more = new Map<number, Map<string, string>>();
  for (const { row, column, text } of writes) {
    if (row < order.length) continue;
    const place = row - order.length;
    const cells = more.get(place) ?? new Map<string, string>(drafts[place]);
    const heading = table.columns[column]!.id;
    if (text.trim() === "") cells.delete(heading);
    else cells.set(heading, text);
    more.set(place, cells);
  }
  const columnOf = new Map(table.columns.map(({ id }, index) => [id, index]));
  const written = table.write([
    ...known.map((write) => ({ ...write, row: order[write.row]! })),
    ...[...more].flatMap(([place, cells]) =>
      [...cells].map(([id, text]) => ({ row: first + place, column: columnOf.get(id)!, text })),
    ),
  ]);
  const unfinished = new Map(written.unfinished.map((each) => [each.row - first, each]));
  const left: Draft[] = [];
  const last = Math.max(drafts.length - 1, ...more.keys());
  for (let place = 0; place <= last; place++) {
    const cells = more.get(place);
    const draft = drafts[place];
    if (!cells && draft) left.push(draft);
    if (cells && cells.size > 0 && unfinished.has(place)) left.push(cells);
  }
  const seenAt = new Map(order.map((row, index) => [row, index]));
  const place = (row: number): number => (row < first ? seenAt.get(row)! : order.length + row - first);
  const bad = [
    ...written.bad,
    ...[...unfinished.values()].map((each): BadCell => {
      const text = more.get(each.row - first)?.get(table.columns[each.column]!.id) ?? "";
      return { ...each, text };
    }),
  ];
  return {
    edits: written.edits,
    drafts: left,
    bad: bad
      .map((cell) => ({ ...cell, row: place(cell.row), heading: table.columns[cell.column]!.name }))
      .sort((a, b) => a.row - b.row || a.column - b.column),
    added: written.added,
    changed: written.changed,
  };
}

/** Where pasted cells go: from the cell on, one cell over the whole area; what would stand past the last column is left out. */
export function pasted(
  seen: Seen,
  area: { readonly top: number; readonly left: number; readonly bottom: number; readonly right: number },
  cells: readonly (readonly string[])[],
): { readonly writes: readonly SeenWrite[]; readonly beyond: number } {
  const writes: SeenWrite[] = [];
  const { table, order, drafts } = seen;
  const most = table.grows ? Infinity : order.length + drafts.length;
  const height = Math.max(cells.length, area.bottom - area.top + 1);
  const single = cells.length === 1 && cells[0]!.length === 1;
  // A selection that holds the pasted rows several times over is filled with them again and again.
  const rows = height % cells.length === 0 ? height : cells.length;
  let beyond = 0;
  for (let n = 0; n < rows; n++) {
    const line = cells[n % cells.length]!;
    const width = single ? area.right - area.left + 1 : line.length;
    for (let m = 0; m < width; m++) {
      const text = line[single ? 0 : m]!;
      const [row, column] = [area.top + n, area.left + m];
      if (row >= most || column >= table.columns.length) beyond++;
      else if (canWrite(seen, row, column) || tellSeen(seen, row, column) !== text)
        writes.push({ row, column, text });
    }
  }
  return { writes, beyond };
}

export function canWrite({ table, order }: Seen, row: number, column: number): boolean {
  const known = order[row];
  return known === undefined ? !table.columns[column]!.readOnly : !table.isFixed(known, column);
}

export const columnTitle = ({ name, readOnly }: Column): string => (readOnly ? `${name}, told only` : name);
