/**
 * What differs between two states of a document, for the way to the worker. Documents share the records that an edit
 * left alone, so that a difference is found by comparing objects and is as small as the edit.
 */
import type { Show } from "#engine";

/** Lists that no analysis looks at. */
const UNREAD = new Set<keyof Show>(["lineChecks", "revisions"]);

/** A list as runs of records that stand in it before, `[first, count]`, and records that are new. */
export type ListDelta = readonly (readonly [first: number, count: number] | { readonly record: unknown })[];

export interface ShowDelta {
  /** Null: absent. */
  readonly values: Readonly<Record<string, unknown>>;
  readonly lists: Readonly<Record<string, ListDelta>>;
  readonly gone: readonly string[];
}

const isList = (value: unknown): value is readonly object[] => Array.isArray(value);

export function deltaOf(before: Show | null, after: Show): ShowDelta {
  const values: Record<string, unknown> = {};
  const lists: Record<string, ListDelta> = {};
  const known = before as Readonly<Record<string, unknown>> | null;
  for (const [key, value] of Object.entries(after)) {
    const then = known?.[key];
    if (UNREAD.has(key as keyof Show)) values[key] = [];
    else if (then === value) continue;
    else if (isList(value)) lists[key] = listDelta(isList(then) ? then : [], value);
    else values[key] = value;
  }
  const gone = Object.keys(before ?? {}).filter((key) => !(key in after));
  return { values, lists, gone };
}

function listDelta(before: readonly object[], after: readonly object[]): ListDelta {
  const placeOf = new Map(before.map((record, place) => [record, place]));
  const runs: ([number, number] | { readonly record: unknown })[] = [];
  for (const record of after) {
    const place = placeOf.get(record);
    const last = runs.at(-1);
    if (place === undefined) runs.push({ record });
    else if (Array.isArray(last) && last[0] + last[1] === place) last[1]++;
    else runs.push([place, 1]);
  }
  return runs;
}

/** The document after the edit. What the delta doesn't name stays the same object. */
export function applyDelta(before: Show | null, { values, lists, gone }: ShowDelta): Show {
  const show: Record<string, unknown> = { ...before, ...values };
  for (const [key, runs] of Object.entries(lists)) {
    const then = (before as Readonly<Record<string, unknown>> | null)?.[key];
    const records = isList(then) ? then : [];
    show[key] = runs.flatMap((run) =>
      "record" in run ? [run.record] : records.slice(run[0], run[0] + run[1]),
    );
  }
  for (const key of gone) delete show[key];
  return show as unknown as Show;
}
