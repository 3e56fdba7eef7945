/** Keys and the host's own menu run the same commands as the menu bar. */
import type { HostApi } from "#engine";
import { app } from "../state/store.ts";
import { ui } from "../state/ui.ts";
import { editor } from "../types/editor.ts";
import { lists } from "../tables/lists.ts";
import {
  canWait,
  commandById,
  COMMANDS,
  isEnabled,
  menuEntries,
  runCommand,
  stateNow,
  type CommandContext,
} from "./commands.ts";
import { matches, onMac, thisPlatform, typing } from "./keys.ts";

export function listenToKeys(context: CommandContext): void {
  const mac = onMac(thisPlatform());
  window.addEventListener("keydown", (event) => {
    // An open dialog or menu has the keys to itself, and whatever used a key has said so.
    if (event.defaultPrevented || ui.getState().dialog !== null) return;
    if (event.target instanceof Element && event.target.closest("[role=menu],[role=dialog]")) return;
    const command = COMMANDS.find(
      ({ keys, inFields, keysBy }) =>
        keysBy !== "clipboard" &&
        (keysBy !== "canvas" || onCanvas(event.target)) &&
        keys?.some((chord) => matches(chord, event, mac)) &&
        (inFields || !typing(event.target)),
    );
    if (!command) return;
    if (!isEnabled(command, stateNow()) && !canWait(command)) {
      // Otherwise the browser would take the key: Ctrl+S offers to save the page.
      if (event.ctrlKey || event.metaKey) event.preventDefault();
      return;
    }
    event.preventDefault();
    runCommand(command, context);
  });
}

/** Where a key is about the rig: on the canvas, or where nothing in particular has the keys. */
const onCanvas = (target: EventTarget | null): boolean =>
  target === document.body || (target instanceof Element && target.closest(".canvas") !== null);

/** A host that has a menu bar of its own is told what is in it. */
export function listenToHostMenu(host: HostApi, context: CommandContext): void {
  // The page shows its own there, and to gather all commands at each keystroke would be for nothing.
  if (host.kind === "browser") return;
  let shown = "";
  const show = (): void => {
    const entries = menuEntries(stateNow());
    const text = JSON.stringify(entries);
    // The store changes with every look around; the menu seldom does.
    if (text === shown) return;
    shown = text;
    host.setMenu(entries);
  };
  show();
  app.subscribe(show);
  ui.subscribe((state, before) => (state.open !== before.open || state.stage !== before.stage) && show());
  // Undo is that of the type in the making while one is on the screen.
  editor.subscribe(show);
  lists.subscribe((state, before) => state.table !== before.table && show());
  host.onCommand((id) => {
    const command = commandById(id);
    // An open dialog has the window to itself, whoever the menu is of.
    if (command && ui.getState().dialog === null) runCommand(command, context);
  });
}
