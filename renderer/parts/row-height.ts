/** Heights of rows that are counted: what a finger points at is taller. `theme/touch.css` does the same for the rest. */
import { useSyncExternalStore } from "react";

const coarse = globalThis.matchMedia?.("(pointer: coarse)");

const subscribe = (changed: () => void): (() => void) => {
  coarse?.addEventListener("change", changed);
  return () => coarse?.removeEventListener("change", changed);
};

/** Pixels that a finger needs. */
const FINGER = 44;

/** A row's height in pixels: as given, or as tall as a finger where one is what points. */
export const useRowHeight = (height: number): number =>
  useSyncExternalStore(subscribe, () => (coarse?.matches ? Math.max(height, FINGER) : height));
