/** What the lists look like: which table, sorted and filtered how, and rows that aren't whole yet. Not of the document. */
import { createStore, useStore } from "zustand";
import type { DeviceId, TableId } from "#engine";
import type { Sort } from "./selection.ts";

export interface ListState {
  readonly table: TableId;
  readonly filter: string;
  readonly sort: Sort | null;
  /** Whose members the matrix shows; null: those of the first console that has mixes. */
  readonly desk: DeviceId | null;
  /** What was done last, and to which table: of the next it says nothing. */
  readonly said: { readonly of: TableId; readonly text: string };
  /** Widths of columns in pixels that the user gave them, by table and column. */
  readonly widths: Readonly<Record<string, number>>;
  /** Cells of new rows that lack something, by table. */
  readonly drafts: Readonly<Partial<Record<TableId, readonly Draft[]>>>;
}

/** By column. */
export type Draft = ReadonlyMap<string, string>;

const KEPT = "hopline.columns";

/** What this window's columns were before a reload. Whatever doesn't read as that is passed over. */
function keptWidths(): Readonly<Record<string, number>> {
  try {
    const found = JSON.parse(globalThis.sessionStorage?.getItem(KEPT) ?? "{}") as unknown;
    if (typeof found !== "object" || found === null) return {};
    return Object.fromEntries(
      Object.entries(found).filter(([, width]) => typeof width === "number" && isWidth(width)),
    ) as Record<string, number>;
  } catch {
    return {};
  }
}

const NARROWEST = 40;
const WIDEST = 800;

const isWidth = (width: number): boolean => width >= NARROWEST && width <= WIDEST;

/** Null gives the column its usual width back. */
export function setWidth(table: TableId, column: string, width: number | null): void {
  const key = `${table}:${column}`;
  lists.setState((state) => {
    const { [key]: _before, ...others } = state.widths;
    if (width === null) return { widths: others };
    return { widths: { ...others, [key]: Math.min(WIDEST, Math.max(NARROWEST, Math.round(width))) } };
  });
  try {
    globalThis.sessionStorage?.setItem(KEPT, JSON.stringify(lists.getState().widths));
  } catch {
    // A full or closed storage costs the widths after a reload and nothing else.
  }
}

export const lists = createStore<ListState>(() => ({
  table: "inputs",
  filter: "",
  sort: null,
  desk: null,
  said: { of: "inputs", text: "" },
  widths: keptWidths(),
  drafts: {},
}));

export const useLists = <Part>(select: (state: ListState) => Part): Part => useStore(lists, select);

export const showTable = (table: TableId): void =>
  lists.setState((state) => (state.table === table ? state : { table, filter: "", sort: null }));

export const sayOf = (of: TableId, text: string): void => lists.setState({ said: { of, text } });

export const setDrafts = (table: TableId, drafts: readonly Draft[]): void =>
  lists.setState((state) => ({ drafts: { ...state.drafts, [table]: drafts } }));
