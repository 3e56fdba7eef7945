/** The store of `contract.ts`: document with undo, focus, file state. Knows no DOM and no host. */
import { applyPatches, type Patch } from "immer";
import { createStore, useStore, type StoreApi } from "zustand";
import { analyse, reframe, type Analysis, type Show } from "#engine";
import { inThread, type MakeAnalyst } from "./analyst.ts";
import { blankShow } from "./blank.ts";
import { applyChange } from "./changes.ts";
import type { AppState, FileState, Focus } from "./contract.ts";
import { inWorker } from "../worker/analyst.ts";
import { engineThread, takeBegun } from "../worker/thread.ts";
import { devicesToReveal, litBy, UNLIT } from "./lit.ts";
import { when } from "./when.ts";

interface HistoryStep {
  readonly label: string;
  readonly patches: readonly Patch[];
  readonly inverse: readonly Patch[];
  /** Revisions on both sides of the step, by which undoing back to the saved state is known as such. */
  readonly before: number;
  readonly after: number;
}

/** Steps that undo remembers; patches are small, but a show day is long. */
const MOST_STEPS = 1000;

const NO_FILE: FileState = { path: null, stamp: null, savedAt: null, saving: false, trouble: null };

export type AppStore = StoreApi<AppState>;

export function createAppStore(first: Show = blankShow(), makeAnalyst: MakeAnalyst = inThread): AppStore {
  let past: HistoryStep[] = [];
  let future: HistoryStep[] = [];
  let lastRevision = 0;
  let savedRevision = 0;
  /** Takes the changes that are made while it is there, in place of the document. */
  let rehearsed: Show | null = null;

  return createStore<AppState>((set, get) => {
    const start = analyse(first);
    const analyst = makeAnalyst(start, (analysis) => {
      // One that was asked for before the document went on says nothing any more.
      if (analysis.show === get().show) set({ ...seen(analysis, get().focus), foundIn: analysis.show });
    });
    const seen = (analysis: Analysis, focus: Focus | null): Pick<AppState, "analysis" | "focus" | "lit"> => ({
      analysis,
      focus,
      lit: litBy(analysis, focus),
    });

    /**
     * The document with what follows from it. Where the analysis takes its time, all that is drawn stays that of the
     * document before, unless the edit changes no signal: then it is drawn at once.
     */
    const withDocument = (show: Show, revision: number, focus: Focus | null): Partial<AppState> => {
      const { analysis: before, foundIn } = get();
      const known = analyst.ask(show);
      const analysis = known ?? reframe(show, before) ?? before;
      return {
        show,
        foundIn: known ? show : foundIn,
        ...seen(analysis, focus),
        revision,
        modified: revision !== savedRevision,
        undoLabel: past.at(-1)?.label ?? null,
        redoLabel: future.at(-1)?.label ?? null,
      };
    };

    return {
      show: first,
      analysis: start,
      foundIn: first,
      file: NO_FILE,
      modified: false,
      focus: null,
      lit: UNLIT,
      reveal: null,
      scheme: "system",
      undoLabel: null,
      redoLabel: null,
      revision: 0,

      change(change, label) {
        if (rehearsed) {
          rehearsed = applyChange(rehearsed, change)?.show ?? rehearsed;
          return;
        }
        const { show, revision, focus } = get();
        const changed = applyChange(show, change);
        if (!changed) return;
        const after = ++lastRevision;
        const { patches, inverse } = changed;
        past = [...past.slice(-MOST_STEPS + 1), { label, patches, inverse, before: revision, after }];
        future = [];
        set(withDocument(changed.show, after, focus));
      },

      undo() {
        const step = past.at(-1);
        if (!step) return;
        past = past.slice(0, -1);
        future = [...future, step];
        set(withDocument(applyPatches(get().show, step.inverse), step.before, get().focus));
      },

      redo() {
        const step = future.at(-1);
        if (!step) return;
        future = future.slice(0, -1);
        past = [...past, step];
        set(withDocument(applyPatches(get().show, step.patches), step.after, get().focus));
      },

      rehearse(edit) {
        rehearsed = get().show;
        try {
          edit();
          return rehearsed;
        } finally {
          rehearsed = null;
        }
      },

      look(focus, reveal = false) {
        const { analysis, showOnCanvas } = get();
        const lit = litBy(analysis, focus);
        set({ focus, lit });
        if (reveal) showOnCanvas(devicesToReveal(focus, lit));
      },

      showOnCanvas(devices) {
        if (devices.length > 0) set({ reveal: { devices, serial: (get().reveal?.serial ?? 0) + 1 } });
      },

      replace(show, file, modified) {
        past = [];
        future = [];
        const revision = ++lastRevision;
        savedRevision = modified ? -1 : revision;
        set({ ...withDocument(show, revision, null), file: { ...NO_FILE, ...file }, reveal: null });
      },

      noteFile(file) {
        set({ file: { ...get().file, ...file } });
      },

      noteSaved(revision, file) {
        savedRevision = revision;
        set({
          file: { ...file, saving: false, trouble: null },
          modified: get().revision !== savedRevision,
        });
      },

      setScheme(scheme) {
        set({ scheme });
      },

      read: (...asked) => analyst.read(...asked),
      tryType: (type) => analyst.tryType(get().show, type),
      patch: (what) => analyst.patch(get().show, what),
      findWay: (...asked) => analyst.findWay(...asked),
    };
  });
}

/** The window's own store. Where there are no workers, as in a test, the engine runs in this thread. */
export const app: AppStore = createAppStore(blankShow(), ownAnalyst());

function ownAnalyst(): MakeAnalyst {
  const thread = engineThread();
  return thread ? inWorker(thread, takeBegun) : inThread;
}

/** What arrives where, or what is found, is still that of the document before an edit. */
export const isBehind = (): boolean => !isAnalysed(app.getState());

const isAnalysed = ({ foundIn, show }: AppState): boolean => foundIn === show;

/** At once, or when what arrives where is known. */
export const onceAnalysed = (run: () => void): void => when(app, isAnalysed, run);

/** A record as it is now: what is drawn may still be what it was before an edit, which must not come back with the next. */
export const latest = <Each extends { readonly id: string }>(
  list: (show: Show) => readonly Each[],
  drawn: Each,
): Each => list(app.getState().show).find(({ id }) => id === drawn.id) ?? drawn;

/** Reads the part of the state that a component needs, and renders again only when that part is another one. */
export function useApp<Part>(select: (state: AppState) => Part): Part {
  return useStore(app, select);
}
