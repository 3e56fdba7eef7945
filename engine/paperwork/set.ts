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
