/** The channels between Electron's main process and the preload script: one table for both ends. */
import type { CallName } from "./calls.ts";

/** `invoke` with the call's arguments; the answer is the call's own result. */
export const callChannel = (name: CallName): string => `hopline:call:${name}`;

/** From the page, with nothing to wait for. */
export const SEND = {
  setWindow: "hopline:set-window",
  setMenu: "hopline:set-menu",
  /** The answer to `saveBeforeClose`: its number, and whether the window may close. */
  savedBeforeClose: "hopline:saved-before-close",
} as const;

/** To the page. */
export const TELL = {
  /** A command of the native menu: its id. */
  command: "hopline:command",
  /** Save, then answer with the number that comes with this. */
  saveBeforeClose: "hopline:save-before-close",
} as const;
