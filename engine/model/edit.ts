/** Changes of the document, record by record. Every fix, and later every route, is a list of these. */
import type { LineCheck, Paperwork, Settings, Show } from "./show.ts";

/** The lists of a show whose records are known by an id. */
export type ListName =
  | "places"
  | "types"
  | "devices"
  | "cables"
  | "sources"
  | "channels"
  | "mixes"
  | "wants"
  | OptionalList;

/** Lists that a show leaves out where they would be empty. */
type OptionalList = "streams" | "groups";

export type RecordOf<List extends ListName> = NonNullable<Show[List]>[number];

/** Puts a record in place of the one with its id, adds it at the end where there is none, or takes it away. */
export type RecordEdit = {
  readonly [List in ListName]:
    | { readonly kind: "put"; readonly list: List; readonly record: RecordOf<List> }
    | { readonly kind: "remove"; readonly list: List; readonly id: RecordOf<List>["id"] };
}[ListName];

/** Line checks have no id, so their list is replaced as a whole. */
export type Edit =
  | RecordEdit
  | { readonly kind: "settings"; readonly settings: Settings }
  | { readonly kind: "paperwork"; readonly paperwork: Paperwork }
  | { readonly kind: "line-checks"; readonly lineChecks: readonly LineCheck[] };

interface Known {
  readonly id: string;
}

/** Applies the edits in order. What they don't touch stays the same object. */
export function applyEdits(show: Show, edits: readonly Edit[]): Show {
  return edits.reduce(applyEdit, show);
}

function applyEdit(show: Show, edit: Edit): Show {
  if (edit.kind === "settings") return { ...show, settings: edit.settings };
  if (edit.kind === "paperwork") return { ...show, paperwork: edit.paperwork };
  if (edit.kind === "line-checks") return { ...show, lineChecks: edit.lineChecks };
  const records: readonly Known[] = show[edit.list] ?? [];
  const after = edit.kind === "put" ? put(records, edit.record) : drop(records, edit.id);
  if (after.length > 0 || !isOptional(edit.list)) return { ...show, [edit.list]: after };
  const { [edit.list]: _none, ...rest } = show;
  return rest;
}

const isOptional = (list: ListName): list is OptionalList => list === "streams" || list === "groups";

function put(records: readonly Known[], record: Known): readonly Known[] {
  const at = records.findIndex(({ id }) => id === record.id);
  return at === -1 ? [...records, record] : records.with(at, record);
}

const drop = (records: readonly Known[], gone: string): readonly Known[] =>
  records.filter(({ id }) => id !== gone);
