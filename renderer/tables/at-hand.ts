/** The grid that is on the screen, for commands, and for keys that nothing else on the page has. */
import { giveKeys } from "../parts/give-keys.ts";
import { ui } from "../state/ui.ts";

export interface GridHandle {
  focus(): void;
  /** The chosen cells as text for a spreadsheet. */
  texts(): string;
  clear(): void;
  paste(text: string): void;
  fillDown(): void;
  chooseAll(): void;
  removeRows(): void;
}

/** By reference, for each time that the grid is drawn it has another handle. */
let present: { readonly current: GridHandle } | null = null;

/** Returns what takes it back. */
export function takeInHand(grid: { readonly current: GridHandle }): () => void {
  present = grid;
  return () => {
    if (present === grid) present = null;
  };
}

export const gridAtHand = (): GridHandle | null =>
  ui.getState().stage === "lists" && present ? present.current : null;

/** Once what is on its way to the page is there. */
export const focusGridSoon = (): void => giveKeys(() => gridAtHand()?.focus());
