/**
 * Makes sheets and keeps them, so that the preview, the count of pages and the print share the work. Who makes them is
 * handed in; some are asked for ahead, so that whoever it is always has one to make.
 */
import type { Sheet } from "#engine/paperwork/page.ts";
import type { MadeSheet } from "#engine/paperwork/set.ts";
import type { SheetEntry } from "#engine/paperwork/sheets/entry.ts";

export interface Maker {
  /** Rejects where a sheet can't be made, which is a bug of ours. */
  make(entry: SheetEntry): Promise<Sheet>;
  /** Null where it was stopped. `progress` hears of the sheets and pages that are there. */
  all(
    entries: readonly SheetEntry[],
    signal: AbortSignal,
    progress: (sheets: number, pages: number) => void,
  ): Promise<readonly MadeSheet[] | null>;
}

/** So many sheets are asked for at a time: while diagrams wait for the layout library, lists are made. */
const AHEAD = 16;

/** Longest time between two words of progress, in milliseconds. */
const SLICE = 12;

const breathe = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

export function createMaker(makeSheet: (entry: SheetEntry) => Promise<Sheet>): Maker {
  const made = new Map<string, Promise<Sheet>>();

  function make(entry: SheetEntry): Promise<Sheet> {
    const known = made.get(entry.id);
    if (known) return known;
    const sheet = makeSheet(entry);
    made.set(entry.id, sheet);
    // Told to whoever waits for it.
    sheet.catch(() => undefined);
    return sheet;
  }

  return {
    make,
    async all(entries, signal, progress) {
      const sheets: MadeSheet[] = [];
      let pages = 0;
      let since = performance.now();
      for (const [n, entry] of entries.entries()) {
        if (signal.aborted) return null;
        for (const next of entries.slice(n, n + AHEAD)) void make(next);
        const sheet = await make(entry);
        sheets.push({ kind: entry.kind, sheet });
        pages += sheet.pages.length;
        if (performance.now() - since < SLICE) continue;
        progress(sheets.length, pages);
        await breathe();
        since = performance.now();
      }
      if (signal.aborted) return null;
      progress(sheets.length, pages);
      return sheets;
    },
  };
}
