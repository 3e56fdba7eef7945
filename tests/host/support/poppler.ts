/** Debian's `poppler-utils`, which reads PDF and knows nothing of Hopline. */
import { execFileSync } from "node:child_process";

export const NO_POPPLER = "not run: poppler-utils isn't installed";

/** What a tool says of a file, or null where it isn't installed. */
export function poppler(tool: string, ...args: readonly string[]): string | null {
  return popplerBytes(tool, ...args)?.toString("utf8") ?? null;
}

export function popplerBytes(tool: string, ...args: readonly string[]): Buffer | null {
  try {
    return execFileSync(tool, args, { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 28 });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
}
