/** Native dialogs over a window, in the words of the app. */
import { existsSync } from "node:fs";
import { basename, extname } from "node:path";
import { dialog } from "electron";
import type { BrowserWindow, FileFilter } from "electron";
import type { Dialogs } from "../services/backend.ts";
import type { Answer } from "./close-guard.ts";

const SHOWS: FileFilter = { name: "Hopline shows", extensions: ["hopline"] };

const CLOSE_ANSWERS: readonly Answer[] = ["save", "discard", "cancel"];

/** What else the app asks the user. */
export interface Questions {
  unsaved(title: string): Promise<Answer>;
  /** The page's process ended; whether to open it again. */
  crashed(): Promise<boolean>;
  /** The page doesn't answer; whether to wait. */
  unresponsive(): Promise<boolean>;
}

export function nativeDialogs(window: () => BrowserWindow): Dialogs & Questions {
  return {
    pickOpen: async () => {
      const { canceled, filePaths } = await dialog.showOpenDialog(window(), {
        title: "Open show",
        filters: [SHOWS],
        properties: ["openFile"],
      });
      return canceled ? null : (filePaths[0] ?? null);
    },
    pickSave: async (suggestedName) => {
      const extension = extname(suggestedName);
      const { canceled, filePath } = await dialog.showSaveDialog(window(), {
        title: extension === ".hopline" ? "Save show" : "Export",
        defaultPath: suggestedName,
        filters: [
          extension === ".hopline"
            ? SHOWS
            : { name: extension.slice(1).toUpperCase(), extensions: [extension.slice(1)] },
        ],
        properties: ["showOverwriteConfirmation", "createDirectory"],
      });
      if (canceled || !filePath) return null;
      const complete = extname(filePath).toLowerCase() === extension ? filePath : filePath + extension;
      // The dialog asked about the name as it was typed, without the ending.
      const unasked = complete !== filePath && existsSync(complete);
      return unasked && !(await confirmReplace(window(), complete)) ? null : complete;
    },
    unsaved: async (title) => {
      const { response } = await dialog.showMessageBox(window(), {
        type: "warning",
        message: `Save the changes to “${title}”?`,
        detail: "Without saving, they are lost.",
        buttons: ["Save", "Don’t save", "Cancel"],
        defaultId: 0,
        cancelId: 2,
        noLink: true,
      });
      return CLOSE_ANSWERS[response] ?? "cancel";
    },
    crashed: async () => {
      const { response } = await dialog.showMessageBox(window(), {
        type: "error",
        message: "Hopline’s window stopped working.",
        detail:
          "What you had not saved is kept in a recovery copy, which is offered when the window opens again.",
        buttons: ["Open again", "Quit"],
        defaultId: 0,
        cancelId: 1,
        noLink: true,
      });
      return response === 0;
    },
    unresponsive: async () => {
      const { response } = await dialog.showMessageBox(window(), {
        type: "warning",
        message: "Hopline is busy and does not answer.",
        detail: "If you close it, what you had not saved is kept in a recovery copy.",
        buttons: ["Wait", "Close"],
        defaultId: 0,
        cancelId: 0,
        noLink: true,
      });
      return response === 0;
    },
  };
}

async function confirmReplace(window: BrowserWindow, path: string): Promise<boolean> {
  const { response } = await dialog.showMessageBox(window, {
    type: "warning",
    message: `“${basename(path)}” is there already. Replace it?`,
    buttons: ["Replace", "Cancel"],
    defaultId: 1,
    cancelId: 1,
    noLink: true,
  });
  return response === 0;
}
