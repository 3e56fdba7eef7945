/** Which show the app starts with. */
import { isAbsolute, resolve } from "node:path";

/**
 * The file that a command line names, as an absolute path. A development start has the app's folder before it, and
 * Chromium adds switches of its own.
 */
export function fileArgument(
  argv: readonly string[],
  isPackaged: boolean,
  folder: string,
): string | undefined {
  const named = argv.slice(isPackaged ? 1 : 2).find((arg) => arg !== "" && !arg.startsWith("-"));
  if (named === undefined) return undefined;
  return isAbsolute(named) ? named : resolve(folder, named);
}

/** What a second start hands to the first; it comes from another process, so it is looked at. */
export function fileOf(data: unknown): string | undefined {
  const file = typeof data === "object" && data !== null && "file" in data ? data.file : undefined;
  return typeof file === "string" && isAbsolute(file) ? file : undefined;
}
