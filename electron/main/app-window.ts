/** The app's one window: its page, title, menu, and what stands in the way of closing it. */
import { BrowserWindow, Menu } from "electron";
import type { MenuEntry, WindowState } from "#engine";
import { TELL } from "../contract/channels.ts";
import { windowTitle } from "../contract/window-title.ts";
import { APP_URL } from "./app-protocol.ts";
import { CloseGuard } from "./close-guard.ts";
import type { Questions } from "./dialogs.ts";
import { PAGE_PREFERENCES } from "./hardening.ts";
import type { PageMessages } from "./ipc.ts";
import { menuTemplate } from "./menu.ts";

export interface AppWindowOptions {
  readonly preload: string;
  readonly questions: Questions;
  /** The user doesn't want the changes that were not saved. */
  readonly discardWork: () => Promise<void>;
}

export class AppWindow implements PageMessages {
  readonly browserWindow: BrowserWindow;
  readonly #questions: Questions;
  readonly #guard: CloseGuard;
  readonly #saves = new Map<number, (mayClose: boolean) => void>();
  #saveCount = 0;

  constructor({ preload, questions, discardWork }: AppWindowOptions) {
    this.#questions = questions;
    this.#guard = new CloseGuard({
      ask: (title) => questions.unsaved(title),
      save: () => this.#askPageToSave(),
      discard: discardWork,
    });
    this.browserWindow = new BrowserWindow({
      width: 1440,
      height: 900,
      minWidth: 800,
      minHeight: 500,
      title: "Hopline",
      show: false,
      webPreferences: { ...PAGE_PREFERENCES, preload },
    });
    this.#watch();
    // Until the page says what it has: Electron's own menu would bring developer tools, and a reload past the guard.
    this.setMenu([]);
  }

  /** Loads the page, which then opens the start file. */
  async load(): Promise<void> {
    await this.browserWindow.loadURL(APP_URL);
  }

  /** Starts over with whatever the start file is now, unless the user wants to keep what is open. */
  async startOver(): Promise<void> {
    this.show();
    if (!(await this.#guard.mayLeave())) return;
    this.#guard.follow({ title: "", modified: false });
    await this.load();
  }

  show(): void {
    if (this.browserWindow.isMinimized()) this.browserWindow.restore();
    this.browserWindow.show();
    this.browserWindow.focus();
  }

  setWindow(state: WindowState): void {
    this.#guard.follow(state);
    this.browserWindow.setTitle(windowTitle(state));
    if (process.platform === "darwin") {
      this.browserWindow.setDocumentEdited(state.modified);
      this.browserWindow.setRepresentedFilename(state.path ?? "");
    }
  }

  setMenu(entries: readonly MenuEntry[]): void {
    const template = menuTemplate(entries, {
      platform: process.platform,
      onCommand: (id) => this.browserWindow.webContents.send(TELL.command, id),
    });
    Menu.setApplicationMenu(Menu.buildFromTemplate(template));
  }

  savedBeforeClose(request: number, mayClose: boolean): void {
    this.#saves.get(request)?.(mayClose);
    this.#saves.delete(request);
  }

  #watch(): void {
    const window = this.browserWindow;
    window.once("ready-to-show", () => window.show());
    // The title follows the show, not the page's title element.
    window.on("page-title-updated", (event) => event.preventDefault());
    window.on("close", (event) => {
      if (this.#guard.isOpen) return;
      event.preventDefault();
      void this.#guard.mayLeave().then((mayLeave) => mayLeave && window.destroy());
    });
    window.on("unresponsive", () => {
      void this.#questions.unresponsive().then((wait) => wait || window.destroy());
    });
    window.webContents.on("render-process-gone", (_event, { reason }) => {
      this.#giveUpSaves();
      if (reason === "clean-exit" || window.isDestroyed()) return;
      // What the page had can't be saved any more; its recovery copy can be had.
      this.#guard.follow({ title: "", modified: false });
      void this.#questions.crashed().then((again) => (again ? this.load() : window.destroy()));
    });
  }

  #askPageToSave(): Promise<boolean> {
    const request = ++this.#saveCount;
    return new Promise((resolve) => {
      this.#saves.set(request, resolve);
      this.browserWindow.webContents.send(TELL.saveBeforeClose, request);
    });
  }

  #giveUpSaves(): void {
    for (const resolve of this.#saves.values()) resolve(false);
    this.#saves.clear();
  }
}
