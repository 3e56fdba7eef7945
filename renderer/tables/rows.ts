/**
 * What the rows of a grid say, kept from one document to the next: a row whose cells say the same keeps its object, so
 * that an edit draws the rows anew that it changed, and scrolling those that come into view.
 */
import type { Column, DeviceId, Table } from "#engine";
import { canWrite, tellSeen, type Seen } from "./write.ts";

export interface RowLook {
  readonly texts: readonly string[];
  readonly owners: readonly (DeviceId | null)[];
  readonly writable: readonly boolean[];
  /** Written only in part, so not in the document yet. */
  readonly isDraft: boolean;
  /** The last one, which makes a new row. */
  readonly isNew: boolean;
}

export class RowLooks {
  private seen: Seen | null = null;
  private columns: readonly Column[] = [];
  private rows = new Map<number, RowLook>();
  private before = new Map<number, RowLook>();

  /** The headings; the same list as before while they say the same. */
  columnsOf({ columns }: Table): readonly Column[] {
    const same =
      columns.length === this.columns.length && columns.every((column, n) => alike(column, this.columns[n]!));
    return same ? this.columns : (this.columns = columns);
  }

  row(seen: Seen, row: number): RowLook {
    if (this.seen !== seen) {
      this.seen = seen;
      this.before = this.rows;
      this.rows = new Map();
    }
    let look = this.rows.get(row);
    if (look) return look;
    look = lookOf(seen, row);
    const former = this.before.get(row);
    if (former && sameRow(former, look)) look = former;
    this.rows.set(row, look);
    return look;
  }
}

function lookOf(seen: Seen, row: number): RowLook {
  const { table, order, drafts } = seen;
  const known = order[row];
  const columns = table.columns.map((_, index) => index);
  return {
    texts: columns.map((index) => tellSeen(seen, row, index)),
    owners: columns.map((index) => (known === undefined ? null : table.owner(known, index))),
    writable: columns.map((index) => canWrite(seen, row, index)),
    isDraft: row >= order.length && row < order.length + drafts.length,
    isNew: row >= order.length + drafts.length,
  };
}

const alike = (a: Column, b: Column): boolean =>
  a.id === b.id &&
  a.name === b.name &&
  a.width === b.width &&
  a.figures === b.figures &&
  a.counts === b.counts &&
  a.slim === b.slim &&
  a.readOnly === b.readOnly;

const sameList = <T>(a: readonly T[], b: readonly T[]): boolean =>
  a.length === b.length && a.every((value, n) => value === b[n]);

const sameRow = (a: RowLook, b: RowLook): boolean =>
  a.isDraft === b.isDraft &&
  a.isNew === b.isNew &&
  sameList(a.texts, b.texts) &&
  sameList(a.owners, b.owners) &&
  sameList(a.writable, b.writable);
