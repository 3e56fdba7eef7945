/**
 * Revisions in the file. Each is told by what differs from the one after it, the last by what differs from the show: so
 * an edit of the show changes the line of the last revision only, and what several share and the show has lost stands
 * there once.
 *
 * Of a list that differs there is `order`, where other records stood there or in another order, and `records`, those that
 * read otherwise or are gone. `order` has an id for one record and `first:last` for a run of records that stand one
 * after the other in the list that is compared with. Texts and settings that differ stand whole.
 */
import type { ListName } from "../model/edit.ts";
import { err, ok, type Result } from "../model/result.ts";
import { CONTENT_LISTS, contentOf } from "../model/revisions.ts";
import type { Revision, Show, ShowContent } from "../model/show.ts";
import type { Fault } from "./validate.ts";

interface Refused extends Fault {
  readonly code: "invalid" | "hostile";
}

interface Known {
  readonly id: string;
}
type List = readonly Known[];

export interface PackedList {
  readonly order?: readonly string[];
  readonly records?: List;
}

/** What differed, as the file has it. What it doesn't name is as in the revision after it. */
export type PackedContent = Partial<Pick<ShowContent, "title" | "venue" | "notes" | "settings">> & {
  readonly [Name in ListName]?: PackedList;
} & {
  /** Lists that weren't there, and are in the revision after it. */
  readonly without?: readonly ListName[];
};

export type PackedRevision = Omit<Revision, "was"> & { readonly was?: PackedContent };

/** Entries of lists that revisions may hold beside the show's own: some 8 MB of references. */
export const MOST_KEPT = 1_000_000;

const listOf = (content: ShowContent, name: ListName): List | undefined => content[name];

const same = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);

/** Where each id stands in a list. */
const placesIn = (list: List): ReadonlyMap<string, number> => new Map(list.map(({ id }, n) => [id, n]));

export function packRevisions(show: Show): readonly PackedRevision[] {
  let after = contentOf(show);
  const packed = show.revisions.toReversed().map(({ was, ...told }): PackedRevision => {
    if (!was) return told;
    const entry = { ...told, was: packContent(was, after) };
    after = was;
    return entry;
  });
  return packed.reverse();
}

function packContent(was: ShowContent, after: ShowContent): PackedContent {
  const packed: Record<string, unknown> = {};
  for (const name of ["title", "venue", "notes", "settings"] as const) {
    if (!same(was[name], after[name])) packed[name] = was[name];
  }
  const without: ListName[] = [];
  for (const name of CONTENT_LISTS) {
    const list = listOf(was, name);
    const base = listOf(after, name);
    if (list) {
      const entry = packList(list, base ?? []) ?? (base ? null : { order: [] });
      if (entry) packed[name] = entry;
    } else if (base) without.push(name);
  }
  return without.length > 0 ? { ...packed, without } : packed;
}

/** Null where the two lists read the same. */
function packList(list: List, base: List): PackedList | null {
  if (list === base) return null;
  const at = placesIn(base);
  const records = list.filter((record) => {
    const other = at.get(record.id);
    return other === undefined || !same(base[other], record);
  });
  const inOrder = list.length === base.length && list.every(({ id }, n) => id === base[n]!.id);
  if (inOrder && records.length === 0) return null;
  return { ...(inOrder ? {} : { order: runs(list, at) }), ...(records.length > 0 ? { records } : {}) };
}

/** Ids, with runs of records that are neighbours in the other list as `first:last`. */
function runs(list: List, at: ReadonlyMap<string, number>): readonly string[] {
  const order: string[] = [];
  for (let start = 0; start < list.length;) {
    const first = at.get(list[start]!.id);
    let end = start + 1;
    if (first !== undefined) {
      while (end < list.length && at.get(list[end]!.id) === first + end - start) end++;
    }
    order.push(end === start + 1 ? list[start]!.id : `${list[start]!.id}:${list[end - 1]!.id}`);
    start = end;
  }
  return order;
}

/** The revisions of a file that has passed the schema, with what each holds. `path` of a fault begins at the file. */
export function unpackRevisions(
  show: Omit<Show, "revisions">,
  packed: readonly PackedRevision[],
): Result<readonly Revision[], Refused> {
  const revisions: Revision[] = [];
  let after = contentOf({ ...show, revisions: [] });
  let room = MOST_KEPT;
  for (let index = packed.length - 1; index >= 0; index--) {
    const { was, ...told } = packed[index]!;
    if (!was) {
      revisions.push(told);
      continue;
    }
    const content = unpackContent(was, after, room, `revisions[${index}].was`);
    if (!content.ok) return content;
    room = content.value.room;
    after = content.value.content;
    revisions.push({ ...told, was: after });
  }
  return ok(revisions.reverse());
}

function unpackContent(
  { without = [], ...packed }: PackedContent,
  after: ShowContent,
  most: number,
  path: string,
): Result<{ readonly content: ShowContent; readonly room: number }, Refused> {
  let room = most;
  const lists: Partial<Record<ListName, List>> = {};
  for (const name of CONTENT_LISTS) {
    const entry = packed[name];
    const base = listOf(after, name);
    if (without.includes(name)) {
      if (entry)
        return err({ code: "invalid", path: `${path}.${name}`, message: 'is named in "without" too' });
      continue;
    }
    if (!entry) {
      if (base) lists[name] = base;
      continue;
    }
    const list = unpackList(entry, base ?? [], room, `${path}.${name}`);
    if (!list.ok) return list;
    lists[name] = list.value;
    room -= list.value.length;
  }
  const { title, venue, notes, settings } = { ...after, ...packed };
  return ok({ content: { title, venue, notes, settings, ...lists } as unknown as ShowContent, room });
}

function unpackList(
  { order, records = [] }: PackedList,
  base: List,
  room: number,
  path: string,
): Result<List, Refused> {
  const at = placesIn(base);
  const own = new Map(records.map((record) => [record.id, record]));
  const list: Known[] = [];
  const placed = new Uint8Array(base.length);
  const news = new Set<string>();
  const fault = (where: string, message: string): Result<never, Refused> =>
    err({ code: "invalid", path: `${path}${where}`, message });
  for (const [index, [first, last]] of spans(order, base)) {
    const here = `.order[${index}]`;
    const start = at.get(first);
    if (start === undefined && first === last) {
      const record = own.get(first);
      if (!record) return fault(here, `names a record that isn't there: "${first}"`);
      if (news.has(first)) return fault(here, `"${first}" stands there twice`);
      news.add(first);
      list.push(record);
      continue;
    }
    const end = at.get(last);
    if (start === undefined || end === undefined || end < start)
      return fault(here, `"${first}:${last}" is no run of records`);
    if (list.length + end - start >= room)
      return err({ code: "hostile", path, message: `the revisions hold more than ${MOST_KEPT} entries` });
    for (let n = start; n <= end; n++) {
      const record = base[n]!;
      if (placed[n]) return fault(here, `"${record.id}" stands there twice`);
      placed[n] = 1;
      list.push(own.size > 0 ? (own.get(record.id) ?? record) : record);
    }
  }
  const idle = records.findIndex(({ id }) => !news.has(id) && !placed[at.get(id) ?? -1]);
  return idle < 0 ? ok(list) : fault(`.records[${idle}]`, "has no place in the order");
}

/** The runs of an order, numbered; without one, the whole list. */
function* spans(
  order: readonly string[] | undefined,
  base: List,
): Generator<readonly [number, readonly [string, string]]> {
  if (order) {
    for (const [index, entry] of order.entries()) {
      const [first, last = first] = entry.split(":") as [string, string?];
      yield [index, [first, last]];
    }
  } else if (base.length > 0) yield [0, [base[0]!.id, base.at(-1)!.id]];
}
