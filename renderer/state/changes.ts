/** The one way in which a document changes: `Change` in, new show and the patches both ways out. */
import { castDraft, enablePatches, produceWithPatches, type Draft, type Patch } from "immer";
import {
  applyEdits,
  assigned,
  markRevision,
  never,
  type Assignment,
  type Device,
  type Edit,
  type Show,
} from "#engine";
import type { Change } from "./contract.ts";

enablePatches();

export interface Changed {
  readonly show: Show;
  readonly patches: readonly Patch[];
  readonly inverse: readonly Patch[];
}

/** Null where the show would stay as it is; also where what the change names isn't in the show. */
export function applyChange(show: Show, change: Change): Changed | null {
  if (change.kind === "edits") return applyRecords(show, change.edits);
  if (change.kind === "mark-revision") {
    const edited = applyEdits(show, change.edits ?? []);
    return replaced(show, markRevision(edited, change.name, change.date, change.note));
  }
  const [next, patches, inverse] = produceWithPatches(show, (draft) => edit(draft, change));
  return patches.length === 0 ? null : { show: next, patches, inverse };
}

/** Edits of whole records are the engine's to apply; what they don't touch stays the same object. */
function applyRecords(show: Show, edits: readonly Edit[]): Changed | null {
  const edited = applyEdits(show, edits);
  return saysTheSame(show, edited) ? null : replaced(show, edited);
}

/**
 * Edits make new objects even where these say the same as before. Of a large show only the few records that aren't the
 * same objects are read.
 */
function saysTheSame(before: Show, after: Show): boolean {
  const keys = new Set([...Object.keys(before), ...Object.keys(after)]) as ReadonlySet<keyof Show>;
  return [...keys].every((key) => {
    const [then, now] = [before[key], after[key]];
    if (then === now) return true;
    if (!Array.isArray(then) || !Array.isArray(now)) return isAlike(then, now);
    return then.length === now.length && then.every((record, place) => isAlike(record, now[place]));
  });
}

const isAlike = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);

/** The whole show as one patch, which shares all that stayed the same; a patch of a part of it would copy that part. */
function replaced(show: Show, by: Show): Changed {
  const [next, patches, inverse] = produceWithPatches(show, () => castDraft(by));
  return { show: next, patches, inverse };
}

function edit(draft: Draft<Show>, change: Exclude<Change, { kind: "edits" | "mark-revision" }>): void {
  switch (change.kind) {
    case "move-devices":
      for (const { device, at } of change.to) {
        const found = draft.devices.find(({ id }) => id === device);
        if (found) moveTo(found.at, at);
      }
      return;
    case "move-place": {
      const place = draft.places.find(({ id }) => id === change.place);
      if (place) moveTo(place.at, change.at);
      return;
    }
    case "rename-device": {
      const device = draft.devices.find(({ id }) => id === change.device);
      if (device) device.name = change.name;
      return;
    }
    case "edit-device": {
      const device = draft.devices.find(({ id }) => id === change.device);
      if (device) setFields(device, change.set);
      return;
    }
    case "edit-cable": {
      const cable = draft.cables.find(({ id }) => id === change.cable);
      if (cable) setFields(cable, change.set);
      return;
    }
    case "assign": {
      const device = draft.devices.find(({ id }) => id === change.device);
      if (!device) return;
      const before = JSON.stringify(device.routing);
      const after = assigned(device.routing as Device["routing"], change);
      if (JSON.stringify(after) !== before) device.routing = after as Draft<Assignment>[];
      return;
    }
    case "set-title":
      draft.title = change.title;
      return;
    case "set-words":
      Object.assign(draft, change.words);
      return;
    default:
      never(change);
  }
}

/** Sets the numbers and not the object, so that a move back to where it was is no change. */
function moveTo(at: { x: number; y: number }, to: { readonly x: number; readonly y: number }): void {
  at.x = to.x;
  at.y = to.y;
}

/** An optional field that is set to undefined goes from the file. */
function setFields<Target extends object>(target: Target, set: object): void {
  for (const [key, value] of Object.entries(set)) {
    if (value === undefined) delete (target as Record<string, unknown>)[key];
    else (target as Record<string, unknown>)[key] = value;
  }
}
