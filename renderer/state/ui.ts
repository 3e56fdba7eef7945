/** How the window is laid out, and which dialog is open. Neither document nor focus. */
import { createStore, useStore } from "zustand";
import type { CableEnd, CableId, DeviceId, PlaceId, Recovery, TableId, TypeChange } from "#engine";
import type { Block } from "../routing/ends.ts";
import type { AppStore } from "./store.ts";
import { when } from "./when.ts";

export const PANELS = ["rig", "sources", "outputs", "delays", "findings", "gear"] as const;
export type PanelId = (typeof PANELS)[number];

/** What the middle of the window shows. */
export const STAGES = ["canvas", "lists", "types"] as const;
export type StageId = (typeof STAGES)[number];

/** Parts of the window whose size is dragged. */
export type Part = "side" | "inspector" | "strip";

export interface Limits {
  readonly least: number;
  readonly most: number;
}
export const LIMITS: Readonly<Record<Part, Limits>> = {
  side: { least: 200, most: 560 },
  inspector: { least: 220, most: 560 },
  strip: { least: 120, most: 560 },
};

export type UnsavedAnswer = "save" | "discard" | "cancel";
export type ConflictAnswer = "overwrite" | "save-as" | "reload" | "cancel";
export type RecoveryAnswer =
  | { readonly kind: "restore"; readonly copy: Recovery }
  | { readonly kind: "later" };

/** What becomes of a file's type where the show has another one of its id. */
export type TypeFileAnswer = "version" | "copy" | "cancel";

export type Dialog =
  | {
      readonly kind: "unsaved";
      readonly title: string;
      readonly before: string;
      readonly answer: (choice: UnsavedAnswer) => void;
    }
  | {
      readonly kind: "conflict";
      readonly name: string;
      readonly answer: (choice: ConflictAnswer) => void;
    }
  | { readonly kind: "open-file"; readonly answer: (path: string | null) => void }
  | {
      readonly kind: "save-file";
      readonly purpose: string;
      readonly suggested: string;
      readonly extension: string;
      readonly answer: (path: string | null) => void;
    }
  | {
      readonly kind: "recovery";
      readonly copies: readonly Recovery[];
      readonly answer: (choice: RecoveryAnswer) => void;
    }
  /** What is known of the two ends beforehand. */
  | { readonly kind: "route"; readonly from: Block | null; readonly to: Block | null }
  | {
      readonly kind: "use-type";
      readonly name: string;
      readonly change: TypeChange;
      readonly answer: (yes: boolean) => void;
    }
  | {
      readonly kind: "import-type";
      readonly name: string;
      readonly present: string;
      readonly answer: (choice: TypeFileAnswer) => void;
    }
  | { readonly kind: "rename-show" }
  | {
      readonly kind: "import-list";
      readonly table: TableId;
      readonly file?: { readonly name: string; readonly text: string };
    }
  | { readonly kind: "patch-list"; readonly what: "channels" | "wants" }
  | { readonly kind: "rename-device"; readonly device: DeviceId }
  | { readonly kind: "rename-place"; readonly place: PlaceId }
  | { readonly kind: "rename-cable"; readonly cable: CableId }
  | { readonly kind: "add-place" }
  | { readonly kind: "places" }
  | { readonly kind: "remove-place"; readonly place: PlaceId }
  /** What an end can be plugged in. `from`: an end, or a device whose ends are to choose from first. */
  | {
      readonly kind: "plug";
      readonly from: CableEnd | DeviceId;
      readonly moving: { readonly cable: CableId; readonly side: 0 | 1 } | null;
      readonly only?: DeviceId;
    }
  | { readonly kind: "mark-revision" }
  | { readonly kind: "paper" }
  | { readonly kind: "words" }
  | { readonly kind: "checks" }
  | { readonly kind: "keys" }
  | { readonly kind: "legend" };

export interface UiState {
  readonly stage: StageId;
  readonly panel: PanelId;
  readonly open: Readonly<Record<Part, boolean>>;
  readonly size: Readonly<Record<Part, number>>;
  readonly dialog: Dialog | null;
  /** The guide to writing a type stands beside the form that it tells of. */
  readonly typeGuide: boolean;
  /** Which stop of the tour is shown; null: no tour. */
  readonly tour: number | null;
  /** Text in the search field; null: closed. */
  readonly search: string | null;
  /** Which of the lit traces the hop strip shows. */
  readonly branch: number;
  /** How often the gear was asked for by command; each time its field takes the keys. */
  readonly askedForGear: number;
  /** Rows of the panels that the user opened or closed, against what they are at first. */
  readonly opened: ReadonlyMap<string, boolean>;
}

/** Below this the panels start narrower, and nothing of the layout is remembered. */
export const NARROW = 1180;
/** Below this the inspector starts closed, so that the canvas keeps room to work in. */
const ROOMY = 1560;

const REMEMBERED = "hopline.layout";

type Remembered = Pick<UiState, "panel" | "open" | "size">;

function initial(): Remembered {
  const width = globalThis.innerWidth ?? 1440;
  const narrow = width < NARROW;
  const fresh: Remembered = {
    panel: "outputs",
    open: { side: true, inspector: width >= ROOMY, strip: true },
    size: { side: narrow ? 252 : 304, inspector: narrow ? 264 : 304, strip: narrow ? 212 : 224 },
  };
  return narrow ? fresh : { ...fresh, ...remembered() };
}

/** What a wide window looked like last time. Whatever doesn't read as that is passed over. */
function remembered(): Partial<Remembered> {
  try {
    const found = JSON.parse(globalThis.localStorage?.getItem(REMEMBERED) ?? "{}") as Partial<Remembered>;
    const numbers = Object.keys(LIMITS).every((part) => typeof found.size?.[part as Part] === "number");
    const flags = Object.keys(LIMITS).every((part) => typeof found.open?.[part as Part] === "boolean");
    if (!numbers || !flags || !PANELS.includes(found.panel as PanelId)) return {};
    return { panel: found.panel!, open: found.open!, size: found.size! };
  } catch {
    return {};
  }
}

export const ui = createStore<UiState>(() => ({
  ...initial(),
  stage: "canvas",
  typeGuide: false,
  dialog: null,
  tour: null,
  search: null,
  branch: 0,
  askedForGear: 0,
  opened: new Map(),
}));

/** The first time that something is looked at, the inspector opens to tell of it. After that it is the user's. */
export function openInspectorOnFirstLook(app: AppStore): void {
  const stop = app.subscribe(({ focus }) => {
    if (focus === null) return;
    stop();
    if (globalThis.innerWidth >= NARROW) setOpen("inspector", true);
  });
}

export function rememberLayout(): void {
  ui.subscribe(({ panel, open, size }, before) => {
    if (panel === before.panel && open === before.open && size === before.size) return;
    if (globalThis.innerWidth < NARROW) return;
    try {
      globalThis.localStorage.setItem(REMEMBERED, JSON.stringify({ panel, open, size }));
    } catch {
      // A full or closed storage costs the layout of next time and nothing else.
    }
  });
}

export function useUi<Part>(select: (state: UiState) => Part): Part {
  return useStore(ui, select);
}

export function resize(part: Part, size: number): void {
  const { least, most } = LIMITS[part];
  ui.setState((state) => ({
    size: { ...state.size, [part]: Math.min(most, Math.max(least, Math.round(size))) },
  }));
}

export function setOpen(part: Part, open: boolean): void {
  ui.setState((state) => (state.open[part] === open ? state : { open: { ...state.open, [part]: open } }));
}

export function setOpened(keys: readonly string[], open: boolean): void {
  const { opened } = ui.getState();
  if (keys.every((key) => opened.get(key) === open)) return;
  ui.setState({ opened: new Map([...opened, ...keys.map((key) => [key, open] as const)]) });
}

export function showPanel(panel: PanelId): void {
  ui.setState((state) => ({ panel, open: { ...state.open, side: true } }));
}

export function showStage(stage: StageId): void {
  ui.setState((state) => (state.stage === stage ? state : { stage }));
}

/** Opens a dialog and waits for its answer. What the user has open is left to the user; the question comes after it. */
export function ask<Answer>(make: (answer: (choice: Answer) => void) => Dialog): Promise<Answer> {
  return new Promise((resolve) => {
    const dialog = make((choice) => {
      if (ui.getState().dialog === dialog) ui.setState({ dialog: null });
      resolve(choice);
    });
    afterDialog(() => ui.setState({ dialog }));
  });
}

/** At once, or when the dialog that is open has gone: in its place it would never be answered. */
export const afterDialog = (run: () => void): void => when(ui, ({ dialog }) => dialog === null, run);
