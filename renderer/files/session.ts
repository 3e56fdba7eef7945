/**
 * What happens to files: new, open, save, save as, recover. No edit is ever dropped without a question, a file that
 * can't be read leaves the present show alone, and a save that failed says so until one has worked.
 */
import {
  saveShow,
  type FolderEntry,
  type HostApi,
  type HostError,
  type HostResult,
  type OpenedFile,
  type PrintRequest,
  type RecentFile,
  type Recovery,
  type Show,
  type ShowId,
} from "#engine";
import { blankShow } from "../state/blank.ts";
import { newShowId } from "../state/show-id.ts";
import type { FileState } from "../state/contract.ts";
import type { AppStore } from "../state/store.ts";
import { beginOpening, type Opening } from "./opening.ts";
import type { ConflictAnswer, RecoveryAnswer, UnsavedAnswer } from "../state/ui.ts";

/** Questions to the user and remarks to them; the window asks in dialogs, tests answer at once. */
export interface Talk {
  /** `before`: what the changes would be lost by, such as `opening another show`. */
  unsaved(title: string, before: string): Promise<UnsavedAnswer>;
  conflict(name: string): Promise<ConflictAnswer>;
  openPath(): Promise<string | null>;
  savePath(suggestedName: string): Promise<string | null>;
  recovery(copies: readonly Recovery[]): Promise<RecoveryAnswer>;
  problem(line: string): void;
  remark(line: string): void;
}

export interface Paper extends Pick<PrintRequest, "job" | "pages" | "facts"> {
  readonly name: string;
}

export interface Session {
  readonly host: HostApi;
  /** Opens what the window was started for, after offering what a crash left behind. */
  start(): Promise<void>;
  newShow(): Promise<void>;
  /** Null asks which. */
  openFile(path: string | null): Promise<void>;
  /** Demos and rigs to start from open as a show of their own that was never saved, so that they stay what they are. */
  openDemo(path: string): Promise<void>;
  /** A file that was dragged into the window. Where it lies isn't known, so it opens as a show that was never saved. */
  openDropped(name: string, text: string): Promise<void>;
  save(): Promise<boolean>;
  saveAs(): Promise<boolean>;
  /** The file as it lies on disk now, in place of what the window has of it. Asks where there are changes. */
  reload(): Promise<void>;
  /** Papers as PDF, `name.pdf`. Asks where in native dialogs; else beside the show. Null: thought better of it. */
  printPaper(paper: Paper): Promise<HostResult<string | null>>;
  /** Bytes as a file of their own, `title.ending`. `what` begins the remark that tells where it is. */
  exportBytes(title: string, ending: string, bytes: Uint8Array, what: string): Promise<void>;
  /** The same of a text. */
  exportText(title: string, ending: string, text: string, what: string): Promise<void>;
  /** One line for the user: something went wrong, or is worth knowing. */
  problem(line: string): void;
  remark(line: string): void;
  recent(): Promise<readonly RecentFile[]>;
  demos(): Promise<readonly FolderEntry[]>;
  /** Lets go of the copy for a show whose changes the user chose not to keep. */
  forgetRecovery(showId: string): Promise<void>;
}

export const fileName = (path: string): string => path.split(/[\\/]/).at(-1) || path;

/** `Untitled show.hopline`: a file name for a title, without what file systems refuse. */
export function fileNameFor(title: string, ending = "hopline"): string {
  const plain = title
    .replace(/[<>:"/\\|?*]|\p{Cc}/gu, " ")
    .replace(/\s+/g, " ")
    .trim();
  return `${plain.replace(/^\.+|\.+$/g, "").slice(0, 80) || "Show"}.${ending}`;
}

/**
 * `opening`: what the window was opened with, where that has been asked for already. `bringBack`: takes what a copy has
 * that isn't of the show, once that is open.
 */
export function createSession(
  host: HostApi,
  app: AppStore,
  talk: Talk,
  opening: () => Promise<Opening> = () => beginOpening(host),
  bringBack: (unfinished: string) => void = () => {},
): Session {
  /** One save at a time: two at once would each refuse the other's stamp. */
  let saving: Promise<boolean> = Promise.resolve(true);

  /** Counts what was to take the document's place: of two that are on their way the later one counts. */
  let wishes = 0;

  /** No save is under way any more: its answer is about the document that was saved. */
  async function settled(): Promise<void> {
    let last;
    do {
      last = saving;
      await last.catch(() => false);
    } while (last !== saving);
  }

  /** The revision whose changes may go, if it has any; null: the user stays. */
  async function mayLeave(before: string): Promise<number | null> {
    for (;;) {
      await settled();
      const { modified, show, revision } = app.getState();
      if (!modified) return revision;
      const answer = await talk.unsaved(show.title, before);
      if (answer === "discard") return revision;
      if (answer === "cancel" || !(await save())) return null;
    }
  }

  /** What takes the document's place. */
  interface Next {
    readonly show: Show;
    readonly file: Partial<FileState>;
    readonly modified: boolean;
  }

  /** Puts what `find` finds in the document's place. What is edited while it is on its way is asked about, too. */
  async function leaveFor(
    before: string,
    find: () => Promise<Next | null> | Next,
    own = ++wishes,
  ): Promise<boolean> {
    for (;;) {
      const agreed = await mayLeave(before);
      if (agreed === null) return false;
      const lastSave = saving;
      const next = await find();
      if (next === null || own !== wishes) return false;
      const { modified, revision } = app.getState();
      // A save meanwhile may have been to the very file.
      if (lastSave !== saving || (modified && revision !== agreed)) continue;
      put(next);
      return true;
    }
  }

  function put({ show, file, modified }: Next): void {
    const before = app.getState();
    before.replace(show, file, modified);
    // Only now: had nothing come in its place, the copy would be all that a crash leaves of it.
    if (before.modified && !modified) void forgetRecovery(before.show.id);
  }

  /** `as`: the id of a copy, which is a show that was never saved. `opened`: where the file has been fetched already. */
  async function read(
    path: string,
    as: ShowId | null,
    opened?: HostResult<OpenedFile>,
  ): Promise<Next | null> {
    const file = opened ?? (await host.open(path));
    if (!file.ok) {
      talk.problem(file.error.message);
      return null;
    }
    const loaded = await app.getState().read(file.value.text, as);
    if (!loaded.ok) {
      talk.problem(`“${fileName(path)}” can't be opened. ${sentence(loaded.error.message)}`);
      return null;
    }
    const show = loaded.value;
    if (as !== null) return { show, file: {}, modified: false };
    return { show, file: { path: file.value.path, stamp: file.value.stamp }, modified: false };
  }

  function noteOpened(): void {
    const { file, show } = app.getState();
    if (file.path !== null) void host.noteRecent(file.path, show.title);
  }

  async function openFrom(path: string, as: ShowId | null): Promise<void> {
    if (await leaveFor("opening another show", () => read(path, as))) noteOpened();
  }

  function save(): Promise<boolean> {
    saving = saving.then(saveNow, saveNow);
    return saving;
  }

  async function saveNow(): Promise<boolean> {
    const { path, stamp } = app.getState().file;
    return path === null ? saveToNew() : write(path, stamp);
  }

  async function saveToNew(): Promise<boolean> {
    const path = await talk.savePath(fileNameFor(app.getState().show.title));
    if (path === null) return false;
    // The chooser has asked about a file that is there already.
    return write(path, null);
  }

  async function write(path: string, expect: string | null): Promise<boolean> {
    const { show, revision, noteFile } = app.getState();
    noteFile({ saving: true });
    const saved = await host.save({ path, text: saveShow(show), expect });
    if (saved.ok) {
      app.getState().noteSaved(revision, {
        path: saved.value.path,
        stamp: saved.value.stamp,
        savedAt: saved.value.savedAt,
      });
      void host.noteRecent(saved.value.path, show.title);
      return true;
    }
    if (saved.error.code === "changed-on-disk") {
      app.getState().noteFile({ saving: false, trouble: "not saved: changed on disk" });
      return resolveConflict(path);
    }
    app.getState().noteFile({ saving: false, trouble: troubleOf(saved.error) });
    talk.problem(saved.error.message);
    return false;
  }

  async function resolveConflict(path: string): Promise<boolean> {
    switch (await talk.conflict(fileName(path))) {
      case "overwrite":
        return write(path, null);
      case "save-as":
        return saveToNew();
      case "reload": {
        const { revision } = app.getState();
        const next = await read(path, null);
        if (next === null) return false;
        // Edited since: that is no part of what was to be dropped.
        if (app.getState().revision !== revision) return resolveConflict(path);
        put(next);
        noteOpened();
        return false;
      }
      case "cancel":
        return false;
    }
  }

  /** Where a paper goes without a native dialog: the show's own folder, or the documents where it has none. */
  async function besideShow(name: string): Promise<string | null> {
    const { path } = app.getState().file;
    if (path !== null) return path.slice(0, path.length - fileName(path).length) + name;
    const documents = await host.listFolder(null);
    if (!documents.ok) return null;
    const folder = documents.value.path;
    return `${folder}${folder.includes("\\") ? "\\" : "/"}${name}`;
  }

  /** Null lets a native dialog ask. */
  const placeFor = (name: string): Promise<string | null> =>
    host.dialogs === "native" ? Promise.resolve(null) : besideShow(name);

  async function exportBytes(title: string, ending: string, bytes: Uint8Array, what: string): Promise<void> {
    const suggestedName = fileNameFor(title, ending);
    const written = await host.exportBytes({ suggestedName, bytes, path: await placeFor(suggestedName) });
    if (!written.ok) talk.problem(written.error.message);
    else if (written.value !== null) talk.remark(`${what} is in ${written.value}`);
  }

  async function forgetRecovery(showId: string): Promise<void> {
    await host.dropRecovery(showId);
  }

  async function offerRecovery(found: HostResult<readonly Recovery[]>): Promise<boolean> {
    if (!found.ok || found.value.length === 0) return false;
    const answer = await talk.recovery(found.value);
    return answer.kind === "restore" && restore(answer.copy);
  }

  async function restore(copy: Recovery): Promise<boolean> {
    const inFile = copy.text === "" ? copy.path : null;
    const back = await leaveFor("opening another show", () =>
      inFile === null ? restored(copy) : read(inFile, null),
    );
    if (!back) return false;
    if (copy.unfinished !== null) bringBack(copy.unfinished);
    const { title } = app.getState().show;
    talk.remark(
      inFile === null
        ? `The unsaved work on “${title}” is back. Save it to keep it.`
        : `What was begun in “${title}” is back.`,
    );
    return true;
  }

  async function restored(copy: Recovery): Promise<Next | null> {
    const loaded = await app.getState().read(copy.text, null);
    if (!loaded.ok) {
      talk.problem(`The copy of “${copy.title}” can't be opened. ${sentence(loaded.error.message)}`);
      return null;
    }
    // With the stamp that the file has now, a save will notice if it becomes another one after this.
    const onDisk = copy.path === null ? null : await host.open(copy.path);
    const stamp = onDisk?.ok ? onDisk.value.stamp : null;
    return { show: loaded.value, file: { path: copy.path, stamp }, modified: true };
  }

  return {
    host,

    async start() {
      const own = ++wishes;
      const { copies, start, file, as } = await opening();
      const isOvertaken = own !== wishes;
      if (await offerRecovery(copies)) return;
      if (!start.ok) return talk.problem(start.error.message);
      const path = start.value;
      if (path === null || isOvertaken) return;
      const find = (): Promise<Next | null> => read(path, as, file ?? undefined);
      if (await leaveFor("opening another show", find)) noteOpened();
    },

    async newShow() {
      await leaveFor("starting a new show", () => ({ show: blankShow(), file: {}, modified: false }));
    },

    async openFile(path) {
      // Asked after choosing: whoever thinks better of choosing was never bothered.
      const chosen = path ?? (await talk.openPath());
      if (chosen !== null) await openFrom(chosen, null);
    },

    openDemo: (path) => openFrom(path, newShowId()),

    async openDropped(name, text) {
      const own = ++wishes;
      const loaded = await app.getState().read(text, null);
      if (!loaded.ok) return talk.problem(`“${name}” can't be opened. ${sentence(loaded.error.message)}`);
      const next: Next = { show: loaded.value, file: {}, modified: false };
      if (await leaveFor("opening another show", () => next, own))
        talk.remark(`“${name}” is open as a copy. Save it to say where it goes.`);
    },

    save,

    saveAs() {
      saving = saving.then(saveToNew, saveToNew);
      return saving;
    },

    async reload() {
      const { path } = app.getState().file;
      if (path === null) return;
      if (!app.getState().modified) return openFrom(path, null);
      // One of its answers saves.
      saving = saving.then(
        () => resolveConflict(path),
        () => resolveConflict(path),
      );
      await saving;
    },

    async printPaper({ name, job, pages, facts }) {
      const suggestedName = fileNameFor(name, "pdf");
      const path = await placeFor(suggestedName);
      return host.printPdf({ job, suggestedName, pages, facts, path });
    },

    exportBytes,

    exportText: (title, ending, text, what) =>
      exportBytes(title, ending, new TextEncoder().encode(text), what),

    problem: talk.problem,
    remark: talk.remark,

    async recent() {
      const found = await host.recent();
      return found.ok ? found.value : [];
    },

    async demos() {
      const found = await host.demos();
      return found.ok ? found.value : [];
    },

    forgetRecovery,
  };
}

/** The short form that stands in the bar until a save has worked. */
function troubleOf({ code }: HostError): string {
  const why: Partial<Record<HostError["code"], string>> = {
    "disk-full": "disk full",
    "read-only": "disk is read-only",
    "not-writable": "no permission to write there",
    "not-found": "folder is gone",
    "too-large": "too large",
    unreachable: "host has stopped",
  };
  return `not saved: ${why[code] ?? "see message"}`;
}

const sentence = (text: string): string => {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
};
