/** The type editor's own state: which type is open, its draft, and what the drawing and the trace look at. */
import { createStore, useStore } from "zustand";
import {
  CATALOGUE,
  copyOfType,
  loadType,
  saveType,
  SAMPLE_RATES,
  type DeviceType,
  type GroupId,
  type ModeId,
  type SampleRate,
  type Show,
  type ShowId,
  type Side,
  type TypeId,
} from "#engine";
import { app } from "../state/store.ts";
import {
  draftOf,
  edited,
  isChanged,
  packDrafts,
  redone,
  undone,
  unpackDrafts,
  type Draft,
  type Drafts,
} from "./draft.ts";
import { blankType } from "./parts.ts";

/** A jack, slot, channel or tap of the open type. */
export interface Spot {
  readonly group: GroupId;
  readonly side: Side;
  readonly number: number;
}

export interface EditorState {
  readonly show: ShowId | null;
  readonly drafts: Drafts;
  readonly open: TypeId | null;
  /** How the device on the bench is set. Null: the type's first mode. */
  readonly mode: ModeId | null;
  readonly position: number;
  readonly rate: SampleRate;
  readonly spot: Spot | null;
  /** A field to go to. `serial` makes the same one count again. */
  readonly jump: { readonly path: string; readonly serial: number } | null;
}

export const editor = createStore<EditorState>(() => ({
  show: null,
  drafts: new Map(),
  open: null,
  mode: null,
  position: 1,
  rate: 48000,
  spot: null,
  jump: null,
}));

export function useEditor<Part>(select: (state: EditorState) => Part): Part {
  return useStore(editor, select);
}

const KEPT = "hopline.type-drafts.";

const asType = (value: unknown): DeviceType | null => {
  if (typeof value !== "object" || value === null) return null;
  const loaded = loadType(saveType(value as DeviceType));
  return loaded.ok ? loaded.value : null;
};

/** Takes the drafts of another show in place of those of the one before, which stay kept. */
export function followShow({ id, settings }: Pick<Show, "id" | "settings">): void {
  if (editor.getState().show === id) return;
  let kept: string | null = null;
  try {
    kept = globalThis.localStorage?.getItem(KEPT + id) ?? null;
  } catch {
    // Without storage drafts last as long as the window.
  }
  editor.setState({
    show: id,
    drafts: unpackDrafts(kept, asType),
    open: null,
    mode: null,
    position: 1,
    rate: SAMPLE_RATES.includes(settings.sampleRate) ? settings.sampleRate : 48000,
    spot: null,
    jump: null,
  });
}

/** Drafts outlive the window, so that leaving or a crash costs nothing. */
function keep({ show, drafts }: Pick<EditorState, "show" | "drafts">): void {
  if (show === null) return;
  try {
    if (drafts.size === 0) globalThis.localStorage?.removeItem(KEPT + show);
    else globalThis.localStorage?.setItem(KEPT + show, packDrafts(drafts));
  } catch {
    // A full or closed storage: the drafts last as long as the window.
  }
}

/** The drafts of a show as a text, where there are any that say something else than the show; else null. */
export function draftsNow(of: ShowId): string | null {
  const { show, drafts } = editor.getState();
  const changed = new Map([...drafts].filter(([, draft]) => isChanged(draft)));
  return show === of && changed.size > 0 ? packDrafts(changed) : null;
}

/** Adds what `draftsNow` told to the drafts of the show. */
export function bringDrafts(show: Pick<Show, "id" | "settings">, packed: string): void {
  followShow(show);
  setDrafts((drafts) => unpackDrafts(packed, asType).forEach((draft, type) => drafts.set(type, draft)));
}

function setDrafts(change: (drafts: Map<TypeId, Draft>) => void, more: Partial<EditorState> = {}): void {
  const { show, drafts: before } = editor.getState();
  const drafts = new Map(before);
  change(drafts);
  editor.setState({ drafts, ...more });
  keep({ show, drafts });
}

/** The open type with its draft; one without changes is begun from the show. */
export function openDraft({ open, drafts }: EditorState, types: Show["types"]): Draft | null {
  if (open === null) return null;
  const draft = drafts.get(open);
  if (draft) return draft;
  const type = types.find(({ id }) => id === open);
  return type ? draftOf(type, type) : null;
}

export const openDraftNow = (): Draft | null => openDraft(editor.getState(), app.getState().show.types);

const LOOK = { mode: null, position: 1, spot: null, jump: null } as const;

export const openType = (type: TypeId): void => editor.setState({ open: type, ...LOOK });

/** Puts a draft in the list and opens it. */
export function beginDraft(type: DeviceType, base: DeviceType | null = null): void {
  setDrafts((drafts) => drafts.set(type.id, draftOf(type, base)), { open: type.id, ...LOOK });
  jumpTo("name");
}

/** Every type whose id or name is taken: the show's, the catalogue's, those in the making. */
export function takenTypes(): readonly DeviceType[] {
  const drafts = [...editor.getState().drafts.values()].map(({ type }) => type);
  return [...app.getState().show.types, ...CATALOGUE, ...drafts];
}

export const beginBlank = (): void => beginDraft(blankType(takenTypes()));
export const beginCopy = (type: DeviceType): void => beginDraft(copyOfType(type, takenTypes()));

/** Changes the open type. One call is one step of its undo. */
export function editType(change: (type: DeviceType) => DeviceType, label: string): void {
  const draft = openDraftNow();
  if (draft) put(edited(draft, change(draft.type), label));
}

function put(draft: Draft): void {
  setDrafts((drafts) => {
    // A type that is as in the show again needs no draft, but for its undo.
    if (isChanged(draft) || draft.past.length > 0 || draft.future.length > 0)
      drafts.set(draft.type.id, draft);
    else drafts.delete(draft.type.id);
  });
}

export function undoType(): void {
  const draft = openDraftNow();
  if (draft) put(undone(draft));
}

export function redoType(): void {
  const draft = openDraftNow();
  if (draft) put(redone(draft));
}

/** Lets a draft go: what is in the show stays as it is. */
export function dropDraft(type: TypeId): void {
  const inShow = app.getState().show.types.some(({ id }) => id === type);
  const { open } = editor.getState();
  setDrafts((drafts) => drafts.delete(type), open === type && !inShow ? { open: null } : {});
}

/** The draft was used: the show has it now. */
export const noteUsed = (type: TypeId): void => setDrafts((drafts) => drafts.delete(type));

let serial = 0;
export const jumpTo = (path: string): void => editor.setState({ jump: { path, serial: ++serial } });
