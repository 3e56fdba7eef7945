/** Revisions: what the show was when each was marked. The records that haven't changed since are the same objects. */
import type { ListName } from "./edit.ts";
import type { Revision, Show, ShowContent } from "./show.ts";

/** Every list of a show's content. Written as a table, so that a new list of `Show` can't be left out. */
const LISTS: Readonly<Record<Exclude<keyof ShowContent, "title" | "venue" | "notes" | "settings">, true>> = {
  places: true,
  types: true,
  devices: true,
  cables: true,
  sources: true,
  channels: true,
  mixes: true,
  wants: true,
  streams: true,
  groups: true,
};
export const CONTENT_LISTS: readonly ListName[] = Object.keys(LISTS) as ListName[];

/** The show without what tells the file, its revisions, its line checks and its paperwork. Copies no list. */
export function contentOf(show: Show): ShowContent {
  const { format: _f, version: _v, id: _i, lineChecks: _l, revisions: _r, paperwork: _p, ...content } = show;
  return content;
}

/** Whether the show isn't what it was at its last revision. One that is a note and no more tells nothing. */
export function changedSinceRevision(show: Show): boolean {
  const was = show.revisions.at(-1)?.was;
  if (!was) return true;
  const is = contentOf(show);
  const keys = new Set([...Object.keys(was), ...Object.keys(is)] as (keyof ShowContent)[]);
  return [...keys].some(
    (key) => was[key] !== is[key] && JSON.stringify(was[key]) !== JSON.stringify(is[key]),
  );
}

/** The show with one revision more, which holds what the show is now. */
export const markRevision = (show: Show, name: string, date: string, note: string): Show => ({
  ...show,
  revisions: [...show.revisions, { name, date, note, was: contentOf(show) }],
});

/**
 * The show as it was at one of its revisions, with the revisions up to that one and no line checks. Null where the
 * revision is only a note.
 */
export function showAt(show: Show, revision: Revision): Show | null {
  if (!revision.was) return null;
  const { format, version, id, revisions } = show;
  return {
    format,
    version,
    id,
    ...revision.was,
    lineChecks: [],
    revisions: revisions.slice(0, revisions.indexOf(revision) + 1),
  };
}

/** A name for the next revision: `B` after `A`, `12` after `11`; `A` for the first, and empty where none follows. */
export function nextRevisionName(revisions: readonly Revision[]): string {
  const last = revisions.at(-1)?.name;
  if (last === undefined) return "A";
  const [, before, number] = /^(.*?)(\d{1,9})$/.exec(last) ?? [];
  if (number !== undefined) return `${before!}${Number(number) + 1}`;
  return /^[A-Y]$/i.test(last) ? String.fromCharCode(last.charCodeAt(0) + 1) : "";
}
