/**
 * Stands in for the `electron` module where there is no Electron: message channels that clone what they carry, and
 * recorders for the rest. Tests of the main process put it in place with `vi.mock("electron", …)`.
 */
import { EventEmitter } from "node:events";

export interface Frame {
  readonly url: string;
  readonly parent: Frame | null;
}

type Listener = (event: { senderFrame: Frame | null }, ...args: unknown[]) => unknown;

const APP_FRAME: Frame = { url: "hopline-app://app/index.html", parent: null };

/** The wire between `ipcMain` and `ipcRenderer`. Errors cross it as Electron's do: with their message only. */
class Wire {
  #handlers = new Map<string, Listener>();
  #listeners = new EventEmitter();
  #page = new EventEmitter();
  /** The frame that the page's messages come from. */
  sender: Frame | null = APP_FRAME;

  reset(): void {
    this.#handlers.clear();
    this.#listeners.removeAllListeners();
    this.#page.removeAllListeners();
    this.sender = APP_FRAME;
  }

  readonly ipcMain = {
    handle: (channel: string, listener: Listener): void => {
      if (this.#handlers.has(channel)) throw new Error(`second handler for ${channel}`);
      this.#handlers.set(channel, listener);
    },
    on: (channel: string, listener: Listener): void => void this.#listeners.on(channel, listener),
  };

  readonly ipcRenderer = {
    invoke: async (channel: string, ...args: readonly unknown[]): Promise<unknown> => {
      const handler = this.#handlers.get(channel);
      if (!handler) throw new Error(`no handler registered for '${channel}'`);
      return structuredClone(await handler({ senderFrame: this.sender }, ...structuredClone([...args])));
    },
    send: (channel: string, ...args: readonly unknown[]): void => {
      this.#listeners.emit(channel, { senderFrame: this.sender }, ...structuredClone([...args]));
    },
    on: (channel: string, listener: (event: unknown, ...args: unknown[]) => void): void => {
      this.#page.on(channel, listener);
    },
  };

  /** What `webContents.send` does. */
  tellPage(channel: string, ...args: readonly unknown[]): void {
    this.#page.emit(channel, {}, ...structuredClone([...args]));
  }
}

export const wire = new Wire();

/** A window's page: what was refused, loaded and printed there. */
export class WebContents extends EventEmitter {
  windowOpen: (() => { action: string }) | undefined;
  url = "";
  readonly printed: unknown[] = [];
  /** What printing gives; a test may put a promise of its own here. */
  static pdf: () => Promise<Uint8Array> = () => Promise.resolve(new Uint8Array([1]));

  setWindowOpenHandler(handler: () => { action: string }): void {
    this.windowOpen = handler;
  }
  send(channel: string, ...args: readonly unknown[]): void {
    wire.tellPage(channel, ...args);
  }
  getURL(): string {
    return this.url;
  }
  printToPDF(options: unknown): Promise<Uint8Array> {
    this.printed.push(options);
    return WebContents.pdf();
  }
}

export class BrowserWindow extends EventEmitter {
  static readonly all: BrowserWindow[] = [];
  readonly webContents = new WebContents();
  readonly loaded: string[] = [];
  title = "";
  destroyed = false;
  edited: boolean | undefined;

  constructor(readonly options: { webPreferences?: Record<string, unknown>; show?: boolean }) {
    super();
    BrowserWindow.all.push(this);
    app.emit("web-contents-created", {}, this.webContents);
  }
  loadURL(url: string): Promise<void> {
    this.loaded.push(url);
    this.webContents.url = url;
    return Promise.resolve();
  }
  setTitle(title: string): void {
    this.title = title;
  }
  setDocumentEdited(edited: boolean): void {
    this.edited = edited;
  }
  setRepresentedFilename(): void {}
  isMinimized(): boolean {
    return false;
  }
  isDestroyed(): boolean {
    return this.destroyed;
  }
  restore(): void {}
  show(): void {}
  focus(): void {}
  destroy(): void {
    this.destroyed = true;
    this.emit("closed");
  }
}

export type Handler = (request: { url: string; method: string }) => Response | Promise<Response>;

/** A session: the handlers that were set on it. */
export class Session extends EventEmitter {
  permissionRequest:
    | ((contents: WebContents, permission: string, decide: (yes: boolean) => void) => void)
    | null = null;
  permissionCheck: ((contents: null, permission: string, origin: string) => boolean) | null = null;
  device: (() => boolean) | null = null;
  beforeRequest: ((details: { url: string }, decide: (answer: { cancel: boolean }) => void) => void) | null =
    null;
  readonly handlers = new Map<string, Handler>();
  readonly protocol = {
    handle: (scheme: string, handler: Handler): void => void this.handlers.set(scheme, handler),
  };
  readonly webRequest = {
    onBeforeRequest: (listener: NonNullable<Session["beforeRequest"]>): void => {
      this.beforeRequest = listener;
    },
  };
  setPermissionRequestHandler(handler: Session["permissionRequest"]): void {
    this.permissionRequest = handler;
  }
  setPermissionCheckHandler(handler: Session["permissionCheck"]): void {
    this.permissionCheck = handler;
  }
  setDevicePermissionHandler(handler: Session["device"]): void {
    this.device = handler;
  }
}

const partitions = new Map<string, Session>();
export const session = {
  defaultSession: new Session(),
  fromPartition: (name: string): Session => {
    const found = partitions.get(name) ?? new Session();
    partitions.set(name, found);
    return found;
  },
};

export const app = Object.assign(new EventEmitter(), { quit: () => {} });
export const Menu = { setApplicationMenu: () => {}, buildFromTemplate: (template: unknown) => template };
export const ipcMain = wire.ipcMain;
export const ipcRenderer = wire.ipcRenderer;
export const dialog = {};
export const contextBridge = {
  exposed: new Map<string, unknown>(),
  exposeInMainWorld: (name: string, api: unknown): void => void contextBridge.exposed.set(name, api),
};
