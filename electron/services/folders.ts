/** Folders as the in-app chooser shows them: subfolders and shows, nothing else. */
import { dirname, join } from "node:path";
import { err, ok } from "#engine";
import type { FolderEntry, FolderListing, HostResult } from "#engine";
import type { FileSystem } from "./file-system.ts";
import { SHOW_EXTENSION, absolute } from "./files.ts";
import { readFailure } from "./host-error.ts";

export async function listFolder(fs: FileSystem, path: string): Promise<HostResult<FolderListing>> {
  const place = absolute(path);
  if (!place.ok) return place;
  const folder = place.value;
  try {
    const parent = dirname(folder);
    return ok({
      path: folder,
      parent: parent === folder ? null : parent,
      entries: await entriesOf(fs, folder),
    });
  } catch (error) {
    return err(readFailure(folder, error));
  }
}

async function entriesOf(fs: FileSystem, folder: string): Promise<readonly FolderEntry[]> {
  const found = await fs.readdir(folder, { withFileTypes: true });
  const visible = found.filter((entry) => !entry.name.startsWith("."));
  const entries = await Promise.all(
    visible.map(async (entry): Promise<FolderEntry | undefined> => {
      const path = join(folder, entry.name);
      // A link is what it leads to; one that leads nowhere is left out.
      const target = entry.isSymbolicLink() ? await fs.stat(path).catch(() => undefined) : entry;
      if (target?.isDirectory()) return { name: entry.name, path, kind: "folder" };
      const isShow = target?.isFile() && entry.name.toLowerCase().endsWith(SHOW_EXTENSION);
      return isShow ? { name: entry.name, path, kind: "show" } : undefined;
    }),
  );
  return entries.filter((entry) => entry !== undefined).sort(byKindAndName);
}

/** As people sort: `Day 2` before `Day 10`. */
const { compare } = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

const byKindAndName = (a: FolderEntry, b: FolderEntry): number =>
  a.kind === b.kind ? compare(a.name, b.name) : a.kind === "folder" ? -1 : 1;
