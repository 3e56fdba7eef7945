/** Sheets that are handed out together: made one after the other, told in the outline by their kinds. */
import type { PdfBookmark } from "../exchange/host-api.ts";
import type { PaperJob, Sheet } from "./page.ts";
import { KIND_WORDS, type PaperTools, type SheetEntry, type SheetKind } from "./sheets/entry.ts";

export interface MadeSheet {
  readonly kind: SheetKind;
  readonly sheet: Sheet;
}

/** One sheet at a time, so that whoever asks can tell how far it is, let others work between, or stop. */
export async function* madeSheets(
  entries: readonly SheetEntry[],
  job: PaperJob,
  tools: PaperTools,
): AsyncGenerator<MadeSheet, void> {
  for (const entry of entries) yield { kind: entry.kind, sheet: await entry.make(job, tools) };
}

export const pagesOf = (made: readonly MadeSheet[]): number =>
  made.reduce((sum, { sheet }) => sum + sheet.pages.length, 0);

/** Sheets of one kind below its name; a kind of one sheet is that sheet. Pages are counted over the whole set. */
export function outlineOf(made: readonly MadeSheet[]): readonly PdfBookmark[] {
  const outline: { title: string; page: number; below: PdfBookmark[]; kind: SheetKind }[] = [];
  let page = 0;
  for (const { kind, sheet } of made) {
    const mark: PdfBookmark = { title: sheet.title, page, below: [] };
    page += sheet.pages.length;
    const last = outline.at(-1);
    if (last?.kind === kind) {
      if (last.below.length === 0) last.below.push({ title: last.title, page: last.page, below: [] });
      last.title = KIND_WORDS[kind].name;
      last.below.push(mark);
    } else outline.push({ kind, title: mark.title, page: mark.page, below: [] });
  }
  return outline.map(({ title, page: first, below }) => ({ title, page: first, below }));
}

/** Cut to size or stuck on, so they are printed apart from what is handed out on paper. */
const APART: ReadonlySet<SheetKind> = new Set(["jack strips", "cable tags"]);

export const usualSheets = (entries: readonly SheetEntry[]): readonly SheetEntry[] =>
  entries.filter(({ kind }) => !APART.has(kind));

/**
 * Names for the chosen sheets as a show keeps them: a kind of which all are chosen by its name, so that what the rig
 * gains later is chosen too; else one by one. A kind that has a sheet of its own name is never told by it.
 */
export function namesOfSheets(
  entries: readonly SheetEntry[],
  chosen: ReadonlySet<string>,
): readonly string[] {
  const ids = new Set(entries.map(({ id }) => id));
  return [...new Set(entries.map(({ kind }) => kind))].flatMap((kind) => {
    const all = entries.filter((entry) => entry.kind === kind);
    const some = all.filter(({ id }) => chosen.has(id)).map(({ id }) => id);
    return some.length === all.length && !ids.has(kind) ? [kind] : some;
  });
}

/** The sheets of those names, in the set's order. Names that nothing has any more are passed over. */
export function sheetsKept(entries: readonly SheetEntry[], names: readonly string[]): readonly SheetEntry[] {
  const kept = new Set(names);
  const ids = new Set(entries.map(({ id }) => id));
  return entries.filter(({ id, kind }) => kept.has(id) || (kept.has(kind) && !ids.has(kind)));
}
