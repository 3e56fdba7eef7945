/** Answers the page's messages, after looking at who sent them and what is in them. */
import { ipcMain } from "electron";
import type { IpcMainEvent, IpcMainInvokeEvent } from "electron";
import type { MenuEntry, WindowState } from "#engine";
import { CALL_NAMES, argumentsFit, invoke, isMenu, isWindowState } from "../contract/calls.ts";
import type { CallName, Calls } from "../contract/calls.ts";
import { SEND, callChannel } from "../contract/channels.ts";
import { isAppUrl } from "./app-protocol.ts";

export interface PageMessages {
  setWindow(state: WindowState): void;
  setMenu(entries: readonly MenuEntry[]): void;
  savedBeforeClose(request: number, mayClose: boolean): void;
}

type Sender = Pick<IpcMainEvent | IpcMainInvokeEvent, "senderFrame">;

/** Only the top frame of a window that shows the app's page may ask for anything. */
export function isTrusted({ senderFrame }: Sender): boolean {
  return senderFrame !== null && senderFrame.parent === null && isAppUrl(senderFrame.url);
}

export function answerPage(backend: Calls, page: PageMessages): void {
  for (const name of CALL_NAMES) answerCall(backend, name);

  listen(SEND.setWindow, (state) => {
    if (isWindowState(state)) page.setWindow(state);
  });
  listen(SEND.setMenu, (entries) => {
    if (isMenu(entries)) page.setMenu(entries);
  });
  listen(SEND.savedBeforeClose, (request, mayClose) => {
    if (typeof request === "number") page.savedBeforeClose(request, mayClose === true);
  });
}

function answerCall<Name extends CallName>(backend: Calls, name: Name): void {
  ipcMain.handle(callChannel(name), (event, ...args: unknown[]) => {
    // Neither can come from our own page, so there is nobody to write a friendly line for.
    if (!isTrusted(event)) throw new Error(`${name}: not from the app's page`);
    if (!argumentsFit(name, args)) throw new Error(`${name}: wrong arguments`);
    return invoke(backend, name, args);
  });
}

function listen(channel: string, take: (...args: readonly unknown[]) => void): void {
  ipcMain.on(channel, (event, ...args: unknown[]) => {
    if (isTrusted(event)) take(...args);
  });
}
