/** The host calls, answered by the services. Both hosts put it to their page; they differ in the dialogs. */
import { err, ok } from "#engine";
import type { HostResult } from "#engine";
import type { Calls } from "../contract/calls.ts";
import { exportPath, writeExport } from "./exports.ts";
import type { Replace } from "./exports.ts";
import { listFolder } from "./folders.ts";
import { hostError } from "./host-error.ts";
import type { Services } from "./services.ts";

/** Native file dialogs. Null: the user thought better of it. Choosing a taken name there asks about replacing. */
export interface Dialogs {
  pickOpen(): Promise<string | null>;
  pickSave(suggestedName: string): Promise<string | null>;
}

export interface BackendOptions {
  readonly services: Services;
  /** Null where the page shows a chooser of its own. */
  readonly dialogs: Dialogs | null;
  /** The show that a page opens when it starts. */
  readonly startFile: () => string | null;
}

export interface Backend extends Calls {
  /** Drops the recovery copy of the show that was worked on last: the user chose not to keep the changes. */
  discardWork(): Promise<void>;
  /** Calls off whatever is being printed: the host is about to end. */
  endPrints(): void;
}

const noDialogs = hostError(
  "failed",
  "There is no file dialog here. Choose the file in Hopline's own chooser.",
);

export function createBackend({ services, dialogs, startFile }: BackendOptions): Backend {
  const { fs, files, recents, recovery, openShows, press, writer } = services;
  let lastShow: string | null = null;
  const prints = new Map<string, AbortController>();

  /** Where an export goes, and whether the user agreed to replace what is there. */
  async function target(
    path: string | null,
    suggestedName: string,
  ): Promise<HostResult<{ readonly path: string; readonly replace: Replace } | null>> {
    if (path !== null) return ok({ path, replace: "keep" });
    if (dialogs === null) return err(noDialogs);
    const picked = await dialogs.pickSave(suggestedName);
    return ok(picked === null ? null : { path: picked, replace: "replace" });
  }

  return {
    startFile: async () => ok(startFile()),
    pickOpen: async () => (dialogs ? ok(await dialogs.pickOpen()) : err(noDialogs)),
    pickSave: async (suggestedName) => (dialogs ? ok(await dialogs.pickSave(suggestedName)) : err(noDialogs)),
    listFolder: (path) => listFolder(fs, path ?? services.documents),
    open: (path) => files.open(path),
    save: (request) => files.save(request),
    watchFile: async ({ window, path, stamp }) => {
      const others = await openShows.note(window, path);
      if (path === null || stamp === null) return ok({ others, onDisk: { kind: "same" } });
      const onDisk = await files.onDisk(path, stamp);
      return onDisk.ok ? ok({ others, onDisk: onDisk.value }) : onDisk;
    },
    demos: () => services.demos(),
    recent: async () => ok(await recents.list()),
    noteRecent: (path, title) => recents.note(path, title),
    writeRecovery: (copy) => {
      lastShow = copy.showId;
      return recovery.write(copy);
    },
    recoveries: async () => ok(await recovery.list()),
    dropRecovery: (showId) => recovery.drop(showId),
    exportBytes: async ({ bytes, path, suggestedName }) => {
      const to = await target(path, suggestedName);
      if (!to.ok || to.value === null) return to as HostResult<null>;
      return writeExport(writer, to.value.path, bytes, to.value.replace);
    },
    printPdf: async ({ job, pages, facts, path, suggestedName }) => {
      const to = await target(path, suggestedName);
      if (!to.ok || to.value === null) return to as HostResult<null>;
      // Before the work, not after it.
      const allowed = exportPath(to.value.path);
      if (!allowed.ok) return allowed;
      const stop = new AbortController();
      prints.set(job, stop);
      try {
        const pdf = await press.pdf({ pages, facts }, stop.signal);
        return pdf.ok ? await writeExport(writer, to.value.path, pdf.value, to.value.replace) : pdf;
      } finally {
        prints.delete(job);
      }
    },
    cancelPrint: async (job) => {
      prints.get(job)?.abort();
      return ok(null);
    },
    endPrints: () => {
      for (const stop of prints.values()) stop.abort();
    },
    discardWork: async () => {
      if (lastShow !== null) await recovery.drop(lastShow);
    },
  };
}
