/** `HostApi` for a page of Electron's window: each method is a message to the main process. */
import type { HostApi } from "#engine";
import { CALL_NAMES } from "../contract/calls.ts";
import type { Calls } from "../contract/calls.ts";
import { SEND, TELL, callChannel } from "../contract/channels.ts";

/** The part of Electron's `ipcRenderer` that the bridge needs. The page never gets hold of it. */
export interface Messages {
  invoke(channel: string, ...args: readonly unknown[]): Promise<unknown>;
  send(channel: string, ...args: readonly unknown[]): void;
  on(channel: string, listener: (event: unknown, ...args: unknown[]) => void): unknown;
}

export function createBridge(messages: Messages): HostApi {
  const commandListeners = new Set<(commandId: string) => void>();
  let saveBeforeClose: (() => Promise<boolean>) | undefined;

  messages.on(TELL.command, (_event, commandId) => {
    for (const listener of commandListeners) listener(String(commandId));
  });
  messages.on(TELL.saveBeforeClose, (_event, request) => {
    const answer = (mayClose: boolean) => messages.send(SEND.savedBeforeClose, request, mayClose);
    // A page that can't save, or fails to, keeps its window: the user can still choose not to save.
    Promise.resolve(saveBeforeClose?.() ?? false).then(
      (mayClose) => answer(mayClose === true),
      () => answer(false),
    );
  });

  // One method for each name of the table, and the table has each name of the type.
  const calls = Object.fromEntries(
    CALL_NAMES.map((name) => [
      name,
      (...args: readonly unknown[]) => messages.invoke(callChannel(name), ...args),
    ]),
  ) as unknown as Calls;

  return {
    ...calls,
    kind: "electron",
    dialogs: "native",
    setWindow: (state) => messages.send(SEND.setWindow, state),
    setMenu: (entries) => messages.send(SEND.setMenu, entries),
    onCommand: (listener) => {
      commandListeners.add(listener);
      return () => void commandListeners.delete(listener);
    },
    onSaveBeforeClose: (listener) => {
      saveBeforeClose = listener;
      return () => {
        if (saveBeforeClose === listener) saveBeforeClose = undefined;
      };
    },
  };
}
