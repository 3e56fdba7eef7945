/**
 * Copy, cut and paste of cells where the grid itself hasn't the keys: from the menu, and by key after a press on something
 * else of the window. By key they come as the page's clipboard events, as the grid's own do.
 */
import { typing } from "../commands/keys.ts";
import { gridAtHand } from "./at-hand.ts";

/** What was copied in this window, for where the page may not ask. */
let own = "";

/** Of a clipboard event: the grid that it is about, unless the grid has it itself or somebody else has. */
function concerned(event: ClipboardEvent) {
  const grid = gridAtHand();
  if (!grid || event.defaultPrevented || typing(event.target) || typing(document.activeElement)) return null;
  return document.querySelector("[role=dialog],[role=alertdialog],[role=menu]") ? null : grid;
}

export function listenToListClipboard(): () => void {
  const copy = (event: ClipboardEvent): void => {
    const grid = concerned(event);
    if (!grid || (globalThis.getSelection?.()?.toString() ?? "") !== "") return;
    own = grid.texts();
    event.clipboardData?.setData("text/plain", own);
    event.preventDefault();
    if (event.type === "cut") grid.clear();
    grid.focus();
  };
  const paste = (event: ClipboardEvent): void => {
    const grid = concerned(event);
    if (!grid) return;
    event.preventDefault();
    grid.focus();
    grid.paste(event.clipboardData?.getData("text/plain") ?? "");
  };
  window.addEventListener("copy", copy);
  window.addEventListener("cut", copy);
  window.addEventListener("paste", paste);
  return () => {
    window.removeEventListener("copy", copy);
    window.removeEventListener("cut", copy);
    window.removeEventListener("paste", paste);
  };
}

export async function copyCells(): Promise<void> {
  const grid = gridAtHand();
  if (!grid) return;
  own = grid.texts();
  try {
    await navigator.clipboard.writeText(own);
  } catch {
    // Refused: it can be pasted in this window all the same.
  }
}

export async function cutCells(): Promise<void> {
  const copied = copyCells();
  // Not when the clipboard has it: by then other cells may be chosen.
  gridAtHand()?.clear();
  await copied;
}

export async function pasteCells(): Promise<void> {
  let text = own;
  try {
    text = (await navigator.clipboard.readText()) || own;
  } catch {
    // Refused likewise.
  }
  gridAtHand()?.paste(text);
}
