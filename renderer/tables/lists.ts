/** What the lists look like: which table, sorted and filtered how, and rows that aren't whole yet. Not of the document. */
import { createStore, useStore } from "zustand";
import type { TableId } from "#engine";
import type { Sort } from "./selection.ts";

export interface ListState {
  readonly table: TableId;
  readonly filter: string;
  readonly sort: Sort | null;
  /** Cells of new rows that lack something, by table. */
  readonly drafts: Readonly<Partial<Record<TableId, readonly Draft[]>>>;
}

/** By column. */
export type Draft = ReadonlyMap<string, string>;

export const lists = createStore<ListState>(() => ({
  table: "inputs",
  filter: "",
  sort: null,
  drafts: {},
}));

export const useLists = <Part>(select: (state: ListState) => Part): Part => useStore(lists, select);

export const showTable = (table: TableId): void =>
  lists.setState((state) => (state.table === table ? state : { table, filter: "", sort: null }));

export const setDrafts = (table: TableId, drafts: readonly Draft[]): void =>
  lists.setState((state) => ({ drafts: { ...state.drafts, [table]: drafts } }));
