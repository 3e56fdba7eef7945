/**
 * What a host does for the app. Two implement it on the same services: Electron, and the browser host where no
 * Electron binary can be had. The renderer knows this contract and neither of them.
 *
 * Texts are whole `.hopline` files; the host never looks inside. Paths are absolute.
 */
import type { Result } from "../model/result.ts";
import type { Page } from "../paperwork/page.ts";

/** Closed list of what goes wrong with files and printing, each with a sentence for the user. */
export type HostErrorCode =
  | "not-found"
  | "not-a-file"
  | "not-readable"
  | "not-writable"
  | "too-large"
  | "not-text"
  | "disk-full"
  | "read-only"
  | "changed-on-disk"
  | "cannot-print"
  /** The user called a print off. */
  | "cancelled"
  | "unreachable"
  | "failed";

export interface HostError {
  readonly code: HostErrorCode;
  /** One plain line, in the user's words: what happened, to which file, and a way on. */
  readonly message: string;
}

export type HostResult<Value> = Result<Value, HostError>;

/**
 * Identity of a file's content as last read or written. A save that carries it is refused with `changed-on-disk`
 * where the file has become another one since, so that two windows never overwrite each other unasked.
 */
export type FileStamp = string;

export interface OpenedFile {
  readonly path: string;
  readonly text: string;
  readonly stamp: FileStamp;
}

export interface SavedFile {
  readonly path: string;
  readonly stamp: FileStamp;
  /** When the file was safely on disk: milliseconds since 1970. */
  readonly savedAt: number;
}

export interface SaveRequest {
  readonly path: string;
  readonly text: string;
  /** The stamp that the file must still have; null overwrites whatever is there. */
  readonly expect: FileStamp | null;
}

/** What a window has open. It says so every few seconds, and with nulls when it goes. */
export interface WatchRequest {
  /** Of the window's own making, the same for as long as it lives. */
  readonly window: string;
  /** Null: the show has no file. */
  readonly path: string | null;
  /** The file's stamp as the window knows it; null: it doesn't, so nothing is compared. */
  readonly stamp: FileStamp | null;
}

/** A window's file as it lies on disk now. */
export type OnDisk =
  | { readonly kind: "same" }
  /** Another content than the window's stamp tells. `at`: when it was written, milliseconds since 1970. */
  | { readonly kind: "changed"; readonly at: number }
  | { readonly kind: "gone" };

export interface FileNews {
  /** How many other windows have the file open. */
  readonly others: number;
  readonly onDisk: OnDisk;
}

export interface RecentFile {
  readonly path: string;
  readonly title: string;
  readonly openedAt: number;
}

export interface FolderEntry {
  readonly name: string;
  readonly path: string;
  readonly kind: "folder" | "show";
}

export interface FolderListing {
  readonly path: string;
  readonly parent: string | null;
  readonly entries: readonly FolderEntry[];
}

/** A copy kept apart from the file, so that a crash loses nothing. One for each show. */
export interface Recovery {
  readonly showId: string;
  readonly title: string;
  /** Where the show was last saved; null if it never was. */
  readonly path: string | null;
  /** Empty where the file has all of the show, and only something unfinished is kept. */
  readonly text: string;
  /** What the window had begun and no show has yet, in its own words; null: nothing. */
  readonly unfinished: string | null;
  readonly writtenAt: number;
}

export interface ExportRequest {
  readonly suggestedName: string;
  readonly bytes: Uint8Array;
  /** Where to write it; null asks the user in a native dialog. */
  readonly path: string | null;
}

/** A line of a PDF's outline. */
export interface PdfBookmark {
  readonly title: string;
  /** Counted from 0. */
  readonly page: number;
  readonly below: readonly PdfBookmark[];
}

/** What a PDF says of itself. The same facts and pages give the same bytes. */
export interface PdfFacts {
  readonly title: string;
  /** Empty where nobody is named. */
  readonly author: string;
  /** `2026-11-26`: the day that the file tells as its own, whenever it was written. */
  readonly date: string;
  /** At most three levels. */
  readonly outline: readonly PdfBookmark[];
}

export interface PrintRequest {
  /** Made up by the page; `cancelPrint` names it. */
  readonly job: string;
  readonly suggestedName: string;
  readonly pages: readonly Page[];
  readonly facts: PdfFacts;
  readonly path: string | null;
}

export interface WindowState {
  readonly title: string;
  readonly path: string | null;
  readonly modified: boolean;
}

/** An entry of the native menu. The renderer's command records are the one source of these. */
export type MenuEntry =
  | {
      readonly kind: "command";
      readonly id: string;
      readonly label: string;
      readonly keys: string;
      readonly enabled: boolean;
    }
  | { readonly kind: "separator" }
  | { readonly kind: "submenu"; readonly label: string; readonly entries: readonly MenuEntry[] };

export interface HostApi {
  readonly kind: "electron" | "browser";
  /** `in-app`: the renderer shows a chooser of its own over `listFolder`. */
  readonly dialogs: "native" | "in-app";
  /** Path of the show that the app was started with (a file argument or the demo), or null. */
  startFile(): Promise<HostResult<string | null>>;
  /** Native dialogs only. Null: the user thought better of it. */
  pickOpen(): Promise<HostResult<string | null>>;
  pickSave(suggestedName: string): Promise<HostResult<string | null>>;
  /** Null lists the user's documents folder. Folders first, then `.hopline` files, each by name. */
  listFolder(path: string | null): Promise<HostResult<FolderListing>>;
  open(path: string): Promise<HostResult<OpenedFile>>;
  save(request: SaveRequest): Promise<HostResult<SavedFile>>;
  /** Notes what the window has open, and tells what others did to its file. */
  watchFile(request: WatchRequest): Promise<HostResult<FileNews>>;
  /** The demo shows that come with the app, by path. */
  demos(): Promise<HostResult<readonly FolderEntry[]>>;
  recent(): Promise<HostResult<readonly RecentFile[]>>;
  noteRecent(path: string, title: string): Promise<HostResult<null>>;
  writeRecovery(copy: Omit<Recovery, "writtenAt">): Promise<HostResult<number>>;
  recoveries(): Promise<HostResult<readonly Recovery[]>>;
  dropRecovery(showId: string): Promise<HostResult<null>>;
  /** Value: the path written, or null where the user thought better of it. */
  exportBytes(request: ExportRequest): Promise<HostResult<string | null>>;
  printPdf(request: PrintRequest): Promise<HostResult<string | null>>;
  /** Calls a print off, which then answers `cancelled` and leaves nothing behind. One that has ended stays as it is. */
  cancelPrint(job: string): Promise<HostResult<null>>;
  /** Title, modified mark and close guard follow this. */
  setWindow(state: WindowState): void;
  setMenu(entries: readonly MenuEntry[]): void;
  /** A command chosen from the native menu. Returns the way to stop listening. */
  onCommand(listener: (commandId: string) => void): () => void;
  /** The user closes a modified window and chose to save: save, then say whether it may close. */
  onSaveBeforeClose(listener: () => Promise<boolean>): () => void;
}

/** Name under which a host puts its `HostApi` on the renderer's global object. */
export const HOST_GLOBAL = "hoplineHost";
