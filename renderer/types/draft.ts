/**
 * A type in the making. A draft isn't the document: while its jacks and rules are half changed no device may follow them.
 * So it has an undo of its own, and becomes one step of the document when it is used.
 */
import { sameData, type DeviceType, type TypeId } from "#engine";

interface Step {
  /** What was done, as in `Undo adding a bank`. */
  readonly label: string;
  /** The type on the other side of the step. */
  readonly type: DeviceType;
}

export interface Draft {
  readonly type: DeviceType;
  /** What it was begun from; null for what isn't in the show yet. */
  readonly base: DeviceType | null;
  readonly past: readonly Step[];
  readonly future: readonly Step[];
}

/** Steps that a draft's undo remembers. Types share what didn't change, so a step is small. */
const MOST_STEPS = 300;

export const draftOf = (type: DeviceType, base: DeviceType | null): Draft => ({
  type,
  base,
  past: [],
  future: [],
});

/** The draft after an edit; the same draft where that says nothing new. */
export function edited(draft: Draft, type: DeviceType, label: string): Draft {
  if (sameData(draft.type, type)) return draft;
  const past = [...draft.past.slice(-MOST_STEPS + 1), { label, type: draft.type }];
  return { ...draft, type, past, future: [] };
}

export function undone(draft: Draft): Draft {
  const step = draft.past.at(-1);
  if (!step) return draft;
  return {
    ...draft,
    type: step.type,
    past: draft.past.slice(0, -1),
    future: [...draft.future, { label: step.label, type: draft.type }],
  };
}

export function redone(draft: Draft): Draft {
  const step = draft.future.at(-1);
  if (!step) return draft;
  return {
    ...draft,
    type: step.type,
    past: [...draft.past, { label: step.label, type: draft.type }],
    future: draft.future.slice(0, -1),
  };
}

/** Whether it says something else than what it was begun from. */
export const isChanged = ({ type, base }: Draft): boolean => base === null || !sameData(type, base);

/** The drafts of one show. */
export type Drafts = ReadonlyMap<TypeId, Draft>;

/** Drafts as a text that outlives the window, without their undo. */
export function packDrafts(drafts: Drafts): string {
  return JSON.stringify([...drafts.values()].map(({ type, base }) => ({ type, base })));
}

/** What `packDrafts` wrote; whatever isn't that is passed over. `check` says whether a type reads as one. */
export function unpackDrafts(text: string | null, check: (type: unknown) => DeviceType | null): Drafts {
  const drafts = new Map<TypeId, Draft>();
  let entries: unknown;
  try {
    entries = JSON.parse(text ?? "[]");
  } catch {
    return drafts;
  }
  if (!Array.isArray(entries)) return drafts;
  for (const entry of entries as unknown[]) {
    if (typeof entry !== "object" || entry === null) continue;
    const { type, base } = entry as { readonly type?: unknown; readonly base?: unknown };
    const read = check(type);
    if (read) drafts.set(read.id, draftOf(read, base === null ? null : check(base)));
  }
  return drafts;
}
