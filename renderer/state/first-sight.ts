/**
 * The show that the window opens with, from when it is read until it is known what arrives where. The canvas draws its
 * places and devices by name meanwhile, so that a window isn't empty while the engine is at work. Nothing can be done
 * to it yet: the document is still the one before.
 */
import { createStore, useStore } from "zustand";
import type { Show } from "#engine";
import { app, useApp } from "./store.ts";
import { when } from "./when.ts";

interface Sight {
  readonly show: Show | null;
  /** The window's own show is on its way, whether there is anything of it to be seen yet or not. */
  readonly isComing: boolean;
}

const sight = createStore<Sight>(() => ({ show: null, isComing: false }));

/** From when the window begins until it has its document. */
export const awaitShow = (): void => sight.setState({ isComing: true });

export const isShowComing = (): boolean => sight.getState().isComing;

export const useShowComing = (): boolean => useStore(sight, ({ isComing }) => isComing);

/** At once, or when the window has its document. */
export function onceShowCame(run: () => void): void {
  if (!isShowComing()) return run();
  // The document comes within the same turn.
  when(
    sight,
    ({ isComing }) => !isComing,
    () => queueMicrotask(run),
  );
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
  sight.setState({ show, isComing: true });
  const stop = app.subscribe((state, before) => {
    if (state.show === before.show) return;
    stop();
    endSight();
  });
  return true;
}

/** Where nothing comes of it, too: the file was refused after all. */
export const endSight = (): void => {
  if (isShowComing()) sight.setState({ show: null, isComing: false });
};
