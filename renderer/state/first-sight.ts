/**
 * The show that the window opens with, from when it is read until it is known what arrives where. The canvas draws its
 * places and devices by name meanwhile, so that a window isn't empty while the engine is at work. Nothing can be done
 * to it yet: the document is still the one before.
 */
import { createStore, useStore } from "zustand";
import type { Show } from "#engine";
import { app, useApp } from "./store.ts";

const sight = createStore<{ readonly show: Show | null }>(() => ({ show: null }));

/** A show is seen, and not yet the document. */
export const isSeenOnly = (): boolean => sight.getState().show !== null;

export function afterFirstSight(run: () => void): void {
  const stop = sight.subscribe(({ show }) => {
    if (show) return;
    stop();
    // The document comes within the same turn.
    queueMicrotask(run);
  });
}

/** Null once the show is the document. */
export const useFirstSight = (): Show | null => useStore(sight, ({ show }) => show);

/** A part of the show that the canvas draws. */
export function useDrawn<Part>(select: (show: Show) => Part): Part {
  const seen = useFirstSight();
  return useApp((state) => select(seen ?? state.analysis.show));
}

/** Until the window has its document. False: there is nothing to see. */
export function catchSight(show: Show | null): boolean {
  if (!show) return false;
  sight.setState({ show });
  const stop = app.subscribe((state, before) => {
    if (state.show === before.show) return;
    stop();
    endSight();
  });
  return true;
}

/** Where nothing comes of it, too: the file was refused after all. */
export const endSight = (): void => {
  if (sight.getState().show) sight.setState({ show: null });
};
