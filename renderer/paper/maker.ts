/**
 * Makes sheets one at a time and keeps them, so that the preview, the count of pages and the print share the work. It
 * runs in the page's thread; between two sheets the window has its turn.
 */
import type { PaperJob, Sheet } from "#engine/paperwork/page.ts";
import type { MadeSheet } from "#engine/paperwork/set.ts";
import type { PaperTools, SheetEntry } from "#engine/paperwork/sheets/entry.ts";

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

/** Longest time that the window waits for its turn, in milliseconds, as far as sheets can be parted. */
const SLICE = 12;

const breathe = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

export function createMaker(job: PaperJob, tools: PaperTools): Maker {
  const made = new Map<string, Promise<Sheet>>();

  function make(entry: SheetEntry): Promise<Sheet> {
    const known = made.get(entry.id);
    if (known) return known;
    const sheet = new Promise<Sheet>((resolve) => resolve(entry.make(job, tools)));
    made.set(entry.id, sheet);
    return sheet;
  }

  return {
    make,
    async all(entries, signal, progress) {
      const sheets: MadeSheet[] = [];
      let pages = 0;
      let since = performance.now();
      for (const entry of entries) {
        if (signal.aborted) return null;
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
