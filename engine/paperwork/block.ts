/** What a sheet says, before it is set: headings, cautions and tables, which `flow.ts` lays on pages. */
import type { DeviceId } from "../model/ids.ts";

export interface PaperCell {
  readonly text: string;
  /** Drawn before the text as letter, colour and hatch. */
  readonly owners?: readonly DeviceId[];
  readonly strong?: boolean;
  readonly soft?: boolean;
  /** Rests on a value that nobody has confirmed: marked, and counted at the foot of the page. */
  readonly assumed?: boolean;
}

/** A text alone is a plain cell. */
export type CellLike = string | PaperCell;

export interface PaperColumn {
  readonly title: string;
  /** `tick` draws an empty box to be ticked by hand; `blank` a line to write on. */
  readonly kind?: "text" | "number" | "tick" | "blank";
  /** Share of the width that is left once every column has its least. Left out: 1; 0 keeps it at its least. */
  readonly grow?: number;
  /** Least width in millimetres. Left out: as wide as its longest word, at most 40. */
  readonly least?: number;
  /** Left out on paper where no row says anything in it. */
  readonly isOptional?: boolean;
}

export interface PaperRow {
  readonly cells: readonly CellLike[];
  /** A line across the table above this row, told in words: a new block, a new box. */
  readonly group?: string;
  readonly strong?: boolean;
  /** There is nothing to be done here: no box to tick. */
  readonly idle?: boolean;
}

export interface PaperTable {
  readonly title: string;
  readonly columns: readonly PaperColumn[];
  readonly rows: readonly PaperRow[];
  /** What stands there where there are no rows. */
  readonly empty: string;
}

export type Block =
  | { readonly kind: "heading"; readonly text: string; readonly note?: string }
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "caution"; readonly lines: readonly string[] }
  | { readonly kind: "table"; readonly table: PaperTable }
  /** The next block starts on a new page. */
  | { readonly kind: "break" };
