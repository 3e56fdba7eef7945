/**
 * What was begun and is in no document yet: rows of lists that still lack a cell, and device types in the making. The
 * recovery copy takes it along, or a kill would cost it.
 */
import type { TableId } from "#engine";
import { TABLES } from "#engine";
import { app } from "../state/store.ts";
import { lists, type Draft } from "../tables/lists.ts";
import { bringDrafts, draftsNow, editor } from "../types/editor.ts";

export interface Unfinished {
  /** Null: nothing. */
  now(): string | null;
  subscribe(listener: () => void): () => void;
}

interface Packed {
  readonly rows: readonly (readonly [TableId, readonly (readonly (readonly [string, string])[])[]])[];
  /** As the type editor packs them. */
  readonly types: string | null;
}

/** `types`: those in the making, too, where the window's own storage doesn't last beyond the host. */
export function unfinishedWork({ types }: { readonly types: boolean }): Unfinished {
  return {
    now() {
      const rows = TABLES.flatMap((table) => {
        const drafts = lists.getState().drafts[table] ?? [];
        return drafts.length === 0 ? [] : [[table, drafts.map((draft) => [...draft])] as const];
      });
      const packed: Packed = { rows, types: types ? draftsNow(app.getState().show.id) : null };
      return rows.length === 0 && packed.types === null ? null : JSON.stringify(packed);
    },
    subscribe(listener) {
      const rows = lists.subscribe((state, before) => state.drafts !== before.drafts && listener());
      const drafts = editor.subscribe((state, before) => state.drafts !== before.drafts && listener());
      return () => (rows(), drafts());
    },
  };
}

/** Rows that were begun in another show are none of this one. */
export function followRows(): void {
  app.subscribe((state, before) => state.show.id !== before.show.id && lists.setState({ drafts: {} }));
}

/** Brings back what `now` told, into the show that is open. What doesn't read as that is passed over. */
export function bringBack(text: string): void {
  const found = read(text);
  if (!found) return;
  const rows = TABLES.flatMap((table) => {
    const drafts = (Array.isArray(found.rows) ? found.rows : []).find((entry) => entry?.[0] === table)?.[1];
    return Array.isArray(drafts) ? [[table, drafts.map(draftOf)] as const] : [];
  });
  lists.setState({ drafts: Object.fromEntries(rows) });
  if (typeof found.types === "string") bringDrafts(app.getState().show, found.types);
}

function read(text: string): Partial<Packed> | null {
  try {
    const found: unknown = JSON.parse(text);
    return typeof found === "object" ? found : null;
  } catch {
    return null;
  }
}

const draftOf = (cells: unknown): Draft =>
  new Map(
    (Array.isArray(cells) ? (cells as readonly unknown[]) : []).filter(
      (cell): cell is readonly [string, string] =>
        Array.isArray(cell) && typeof cell[0] === "string" && typeof cell[1] === "string",
    ),
  );
