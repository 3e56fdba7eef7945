/** What the editor's commands do with the show: use a version, take a file in, give one out. */
import {
  addDevice,
  breaksNothing,
  checkType,
  hasErrors,
  copyOfType,
  loadType,
  saveType,
  standingOf,
  TYPE_EXTENSION,
  MOST_TYPE_CHARACTERS,
  type DeviceType,
  type TypeId,
} from "#engine";
import type { Session } from "../files/session.ts";
import { app } from "../state/store.ts";
import { ask, showStage, type TypeFileAnswer } from "../state/ui.ts";
import { isChanged } from "./draft.ts";
import { beginDraft, followShow, noteUsed, openDraftNow, openType, takenTypes } from "./editor.ts";

/** Opens the editor, on a type of the show if one is named. */
export function showTypes(type: TypeId | null): void {
  followShow(app.getState().show);
  if (type !== null) openType(type);
  showStage("types");
}

/** Whether the open draft is something new and without errors. */
export function canUse(): boolean {
  const draft = openDraftNow();
  if (!draft || hasErrors(checkType(draft.type))) return false;
  return isChanged(draft) || !app.getState().show.types.some(({ id }) => id === draft.type.id);
}

/** One that is on its way, whose question may not have come up yet. */
let taking: Promise<void> | null = null;

/** Puts the open draft in the show as one step, once the user has seen what it breaks. Pressed twice it is one, too. */
export const takeVersion = (): Promise<void> =>
  (taking ??= takeOpen().finally(() => {
    taking = null;
  }));

async function takeOpen(): Promise<void> {
  const draft = openDraftNow();
  if (!draft) return;
  const { show } = app.getState();
  const { type } = draft;
  const change = await app.getState().tryType(type);
  // What was edited meanwhile may break, too.
  if (app.getState().show !== show || openDraftNow()?.type !== type) return takeOpen();
  if (!breaksNothing(change)) {
    const yes = await ask<boolean>((answer) => ({ kind: "use-type", name: type.name, change, answer }));
    if (!yes) return;
  }
  app.getState().change({ kind: "edits", edits: change.edits }, `using ${type.name}`);
  noteUsed(type.id);
}

/** A device of a type of the show, beside what is there. */
export function placeDevice(type: DeviceType): void {
  const { show, change, look } = app.getState();
  const right = Math.max(0, ...show.places.map(({ at, size }) => at.x + size.width));
  const { edits, device } = addDevice(show, type, { x: right + 400, y: 300 });
  change({ kind: "edits", edits }, `adding ${device.name}`);
  showStage("canvas");
  look({ kind: "device", device: device.id }, true);
}

/** Writes a type to a file of its own. */
export const exportType = (session: Session, type: DeviceType): Promise<void> =>
  session.exportText(type.name, TYPE_EXTENSION.slice(1), saveType(type), "The type");

/** Reads a file that the user chose, and offers its type where the show has another one of its id. */
export async function importType(session: Session, file: File): Promise<void> {
  const text = await textOf(file);
  const loaded = text === null ? null : loadType(text);
  if (loaded === null || !loaded.ok) {
    const why =
      loaded === null ? "It holds something other than text, or too much of it" : loaded.error.message;
    session.problem(`“${file.name}” can't be taken in. ${why.charAt(0).toUpperCase()}${why.slice(1)}.`);
    return;
  }
  await takeIn(session, loaded.value);
}

async function textOf(file: File): Promise<string | null> {
  // A character takes four bytes at most.
  if (file.size > 4 * MOST_TYPE_CHARACTERS) return null;
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
    return text.includes("\0") ? null : text;
  } catch {
    return null;
  }
}

async function takeIn(session: Session, type: DeviceType): Promise<void> {
  const { show } = app.getState();
  const standing = standingOf(show, type);
  switch (standing.kind) {
    case "new":
      return beginDraft(type);
    case "same":
      openType(type.id);
      return session.remark(`The show has “${type.name}” already, just as it is in the file.`);
    case "other": {
      const choice = await ask<TypeFileAnswer>((answer) => ({
        kind: "import-type",
        name: type.name,
        present: standing.present.name,
        answer,
      }));
      if (choice === "version") beginDraft(type, standing.present);
      if (choice === "copy") beginDraft(copyOfType(type, takenTypes()));
    }
  }
}
