/** The services that both hosts and the headless program are made of. */
import { promises } from "node:fs";
import { homedir } from "node:os";
import { dirname, join } from "node:path";
import { ok } from "#engine";
import type { FolderEntry, HostResult } from "#engine";
import { dataFolder } from "./data-folder.ts";
import { nodeFileSystem, systemClock } from "./file-system.ts";
import type { Clock, FileSystem } from "./file-system.ts";
import { ShowFiles } from "./files.ts";
import { listFolder } from "./folders.ts";
import { OpenShows, thisProcess } from "./presence.ts";
import type { Self } from "./presence.ts";
import { PaperPress } from "./paper-press.ts";
import { BrowserPrinter } from "./printing.ts";
import type { PdfPrinter } from "./printing.ts";
import { Recents } from "./recents.ts";
import { RecoveryCopies } from "./recovery.ts";
import { SafeWriter } from "./safe-write.ts";

export interface ServiceOptions {
  /** The folder of what comes with the app. */
  readonly assets: string;
  readonly data?: string;
  /** Where the in-app chooser starts. */
  readonly documents?: string;
  readonly fs?: FileSystem;
  readonly clock?: Clock;
  /** For papers in letters that the paper typeface lacks. */
  readonly printer?: PdfPrinter;
  /** The process that the services run in. */
  readonly self?: Self;
}

export interface Services {
  readonly fs: FileSystem;
  readonly writer: SafeWriter;
  readonly files: ShowFiles;
  readonly recents: Recents;
  readonly recovery: RecoveryCopies;
  readonly openShows: OpenShows;
  readonly press: PaperPress;
  readonly documents: string;
  demos(): Promise<HostResult<readonly FolderEntry[]>>;
  /** Clears up after a crash: temporary files beside the shows that were opened last, and beside the app's own. */
  sweep(): Promise<void>;
}

export function createServices({
  assets,
  data = dataFolder(),
  documents,
  fs = nodeFileSystem,
  clock = systemClock,
  printer = new BrowserPrinter(),
  self = thisProcess,
}: ServiceOptions): Services {
  const writer = new SafeWriter(fs, clock);
  const recents = new Recents(fs, clock, writer, data);
  const recovery = new RecoveryCopies(fs, clock, writer, data);
  const openShows = new OpenShows(fs, clock, writer, data, self);
  return {
    fs,
    writer,
    files: new ShowFiles(fs, clock, writer, assets),
    recents,
    recovery,
    openShows,
    press: new PaperPress(assets, printer),
    documents: documents ?? homedir(),
    demos: async () => {
      const listing = await listFolder(fs, join(assets, "demo"));
      return listing.ok ? ok(listing.value.entries.filter((entry) => entry.kind === "show")) : listing;
    },
    sweep: async () => {
      const shows = await recents.list();
      const folders = new Set([
        data,
        recovery.folder,
        openShows.folder,
        ...shows.map((show) => dirname(show.path)),
      ]);
      await Promise.all([...folders].map((folder) => writer.sweep(folder)));
    },
  };
}

/** The user's documents folder where there is one by that name, else their home. */
export async function documentsFolder(home = homedir()): Promise<string> {
  const documents = join(home, "Documents");
  const isFolder = await promises.stat(documents).then(
    (info) => info.isDirectory(),
    () => false,
  );
  return isFolder ? documents : home;
}
