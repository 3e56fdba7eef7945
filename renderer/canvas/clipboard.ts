/**
 * Copy, cut and paste of devices. By key they come as the page's own clipboard events, which ask for no permission; from
 * a menu the page has to ask, and where it may not, what was copied in this window is still there.
 */
import { copiedText, cutChosen, pasteText } from "./build.ts";
import { typing } from "../commands/keys.ts";

let own = "";

/** Events that are about the canvas: not a field's, and not those of text that is selected on the page. */
function concernsCanvas(event: ClipboardEvent): boolean {
  if (event.defaultPrevented || typing(event.target) || typing(document.activeElement)) return false;
  if (document.querySelector("[role=dialog],[role=alertdialog],[role=menu]")) return false;
  const active = document.activeElement;
  return active === null || active === document.body || active.closest(".canvas") !== null;
}

const textSelected = (): boolean => (globalThis.getSelection?.()?.toString() ?? "") !== "";

export function listenToClipboard(): () => void {
  const copy = (event: ClipboardEvent): boolean => {
    if (!concernsCanvas(event) || textSelected()) return false;
    const text = copiedText();
    if (text === null) return false;
    own = text;
    event.clipboardData?.setData("text/plain", text);
    event.preventDefault();
    return true;
  };
  const onCut = (event: ClipboardEvent): void => {
    if (copy(event)) cutChosen();
  };
  const onPaste = (event: ClipboardEvent): void => {
    if (!concernsCanvas(event)) return;
    event.preventDefault();
    pasteText(event.clipboardData?.getData("text/plain") ?? "");
  };
  window.addEventListener("copy", copy);
  window.addEventListener("cut", onCut);
  window.addEventListener("paste", onPaste);
  return () => {
    window.removeEventListener("copy", copy);
    window.removeEventListener("cut", onCut);
    window.removeEventListener("paste", onPaste);
  };
}

export async function copyByMenu(): Promise<void> {
  const text = copiedText();
  if (text === null) return;
  own = text;
  try {
    await navigator.clipboard.writeText(text);
  } catch {
    // Refused: it can be pasted in this window all the same.
  }
}

export async function cutByMenu(): Promise<void> {
  if (copiedText() === null) return;
  const copied = copyByMenu();
  // Not when the clipboard has it: by then other devices may be chosen.
  cutChosen();
  await copied;
}

export async function pasteByMenu(): Promise<void> {
  let text = own;
  try {
    text = (await navigator.clipboard.readText()) || own;
  } catch {
    // Refused likewise.
  }
  pasteText(text);
}
