/**
 * Brings an older file up to the version of today, one step for each version. A step gets the parsed file of version n
 * and returns that of version n + 1; it may trust `version` and nothing else, since the schema is checked afterwards. A
 * step that changes records changes those in `revisions[].was` too, which stand there as differences.
 */
import { SHOW_VERSION } from "../model/show.ts";

type File = Readonly<Record<string, unknown>>;

/** `STEPS.get(n)` takes a file of version n to n + 1. Version 1 is the first, so there is none yet. */
const STEPS: ReadonlyMap<number, (file: File) => File> = new Map();

export function migrate(
  file: File,
  version: number,
  to: number = SHOW_VERSION,
  steps: ReadonlyMap<number, (file: File) => File> = STEPS,
): File {
  let current = file;
  for (let from = version; from < to; from++) {
    const step = steps.get(from);
    if (!step) throw new Error(`no migration from file version ${from}`);
    current = { ...step(current), version: from + 1 };
  }
  return current;
}
