/** Which show the app starts with. */
import { isAbsolute, resolve } from "node:path";

/**
 * The file that a command line names, as an absolute path. A development start names the app's folder before it, and
 * switches for Chromium may stand anywhere.
 */
export function fileArgument(
  argv: readonly string[],
  isPackaged: boolean,
  folder: string,
): string | undefined {
  const names = argv.slice(1).filter((arg) => arg !== "" && !arg.startsWith("-"));
  const named = names[isPackaged ? 0 : 1];
  return named === undefined ? undefined : resolve(folder, named);
}

/** What a second start hands to the first; it comes from another process, so it is looked at. */
export function fileOf(data: unknown): string | undefined {
  const file = typeof data === "object" && data !== null && "file" in data ? data.file : undefined;
  return typeof file === "string" && isAbsolute(file) ? file : undefined;
}
