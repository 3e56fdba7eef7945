/** The real file system with one thing wrong with it. */
import { promises } from "node:fs";
import type { FileHandle } from "node:fs/promises";
import type { Clock, FileSystem } from "../../../electron/services/file-system.ts";

export const systemError = (code: string): Error => Object.assign(new Error(`${code}: on purpose`), { code });

/** `promises` with some of its functions replaced; each replacement gets the real one. */
export function faultyFileSystem(faults: {
  readonly [Name in keyof FileSystem]?: (real: FileSystem[Name]) => FileSystem[Name];
}): FileSystem {
  const replaced = Object.entries(faults).map(([name, replace]) => {
    const real = promises[name as keyof FileSystem];
    return [name, (replace as (real: unknown) => unknown)(real)];
  });
  return { ...promises, ...(Object.fromEntries(replaced) as Partial<FileSystem>) };
}

/** A file system whose handles for writing have some methods replaced. */
export function faultyHandles(faults: {
  readonly [Name in "writeFile" | "sync" | "stat" | "chmod" | "close"]?: (
    handle: FileHandle,
  ) => FileHandle[Name];
}): FileSystem {
  return faultyFileSystem({
    open: (real) => async (path, flags, mode) => {
      const handle = await real(path, flags, mode);
      if (flags !== "wx") return handle;
      return new Proxy(handle, {
        get(target, name) {
          const replace = faults[name as keyof typeof faults];
          if (replace) return replace(target);
          const value: unknown = Reflect.get(target, name, target);
          return typeof value === "function" ? (value as () => unknown).bind(target) : value;
        },
      });
    },
  });
}

/** A clock that stands until somebody waits, and then is there at once. */
export function quickClock(start = 1_000_000): Clock & { readonly waits: readonly number[] } {
  let now = start;
  const waits: number[] = [];
  return {
    waits,
    now: () => now,
    wait: (milliseconds) => {
      waits.push(milliseconds);
      now += milliseconds;
      return Promise.resolve();
    },
  };
}
