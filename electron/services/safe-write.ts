/**
 * Replaces a file's content so that at every moment the disk holds either all of the old or all of the new. An honest
 * answer comes first: "saved" means that the bytes were read back from the file and are the ones meant.
 */
import { constants } from "node:fs";
import type { FileHandle } from "node:fs/promises";
import { createHash, randomBytes } from "node:crypto";
import { basename, dirname, join } from "node:path";
import { err, ok } from "#engine";
import type { FileStamp, HostError, HostResult } from "#engine";
import type { Clock, FileSystem } from "./file-system.ts";
import { hostError, quoted, systemCode, writeFailure } from "./host-error.ts";
import { KeyedQueue } from "./queue.ts";

/** Virus scanners and sync tools hold a file for a moment after it changed; Windows then refuses the rename. */
const RENAME_PATIENCE_MS = 10_000;
const RENAME_PAUSE_MS = 100;
const MOMENTARY = new Set(["EPERM", "EACCES", "EBUSY"]);

/** A leftover may belong to a save that another window is just doing, so only old ones are swept. */
const LEFTOVER_AGE_MS = 60 * 60 * 1000;
const LEFTOVER_NAME = /^\.hopline-[0-9a-f]{24}\.tmp$/;

/** What may be at the path: a file with this stamp, anything, or nothing. */
type Expected = { readonly stamp: FileStamp } | "anything" | "nothing";

/** Content only: a file that was touched or copied back is still the same show. */
export const stampOf = (bytes: Uint8Array): FileStamp =>
  `sha256:${createHash("sha256").update(bytes).digest("hex")}`;

export class SafeWriter {
  readonly #fs: FileSystem;
  readonly #clock: Clock;
  readonly #lookups = new KeyedQueue();
  readonly #queue = new KeyedQueue();

  constructor(fs: FileSystem, clock: Clock) {
    this.#fs = fs;
    this.#clock = clock;
  }

  /**
   * Writes `bytes` to `path`; the value is the new content's stamp. With `expect`, only over a file that still has that
   * stamp. Writes to one file queue up.
   */
  async write(
    path: string,
    bytes: Uint8Array,
    { expect }: { readonly expect: FileStamp | null },
  ): Promise<HostResult<FileStamp>> {
    try {
      return await this.#enqueue(path, bytes, expect === null ? "anything" : { stamp: expect });
    } catch (error) {
      return err(writeFailure(path, error));
    }
  }

  /** Writes a file where there is none. The value is null where the name is taken; what has it is left alone. */
  async writeNew(path: string, bytes: Uint8Array): Promise<HostResult<FileStamp | null>> {
    try {
      return await this.#enqueue(path, bytes, "nothing");
    } catch (error) {
      return systemCode(error) === "EEXIST" ? ok(null) : err(writeFailure(path, error));
    }
  }

  /** Removes a file, after the writes to it that are under way. One that is not there is removed already. */
  async remove(path: string): Promise<HostResult<null>> {
    try {
      const real = await this.#lookups.run(path, () => this.#realPath(path));
      await this.#queue.run(real, () => this.#fs.unlink(real));
    } catch (error) {
      if (systemCode(error) !== "ENOENT") return err(writeFailure(path, error));
    }
    return ok(null);
  }

  /** Resolves once no write is under way. */
  async idle(): Promise<void> {
    // A lookup that ends puts its write in the queue.
    await this.#lookups.idle();
    await this.#queue.idle();
  }

  /** Removes what a crash in the middle of a write left in `folder`. */
  async sweep(folder: string): Promise<void> {
    const names = await this.#fs.readdir(folder).catch(() => []);
    for (const name of names) {
      if (!LEFTOVER_NAME.test(name)) continue;
      const path = join(folder, name);
      try {
        const { mtimeMs } = await this.#fs.stat(path);
        if (this.#clock.now() - mtimeMs > LEFTOVER_AGE_MS) await this.#fs.unlink(path);
      } catch {
        // Another window was quicker, or the folder is read-only: nothing depends on the sweep.
      }
    }
  }

  /** The file behind links, so that a linked show stays a link. A new file is real in its real folder. */
  async #realPath(path: string): Promise<string> {
    try {
      return await this.#fs.realpath(path);
    } catch (error) {
      if (systemCode(error) !== "ENOENT") throw error;
      return join(await this.#fs.realpath(dirname(path)), basename(path));
    }
  }

  async #enqueue(path: string, bytes: Uint8Array, expected: Expected): Promise<HostResult<FileStamp>> {
    // Looking up takes its time, now more, now less; writes by the same name must not overtake each other meanwhile.
    const real = await this.#lookups.run(path, () => this.#realPath(path));
    return this.#queue.run(real, () => this.#replace(path, real, bytes, expected));
  }

  async #replace(
    path: string,
    real: string,
    bytes: Uint8Array,
    expected: Expected,
  ): Promise<HostResult<FileStamp>> {
    const existing = await this.#fs.stat(real).catch((error: unknown) => {
      if (systemCode(error) === "ENOENT") return undefined;
      throw error;
    });
    if (existing && expected === "nothing") throw Object.assign(new Error("taken"), { code: "EEXIST" });
    if (existing && !existing.isFile()) {
      return err(
        hostError("not-a-file", `${quoted(path)} was not saved: that is not a file. Use another name.`),
      );
    }
    // A rename would replace a write-protected file without a word; its protection is somebody's wish.
    if (existing) await this.#fs.access(real, constants.W_OK);

    const temp = join(dirname(real), `.hopline-${randomBytes(12).toString("hex")}.tmp`);
    try {
      await this.#writeTemp(temp, bytes, existing?.mode);
      if (typeof expected === "object") {
        const refusal = await this.#unexpected(path, real, expected.stamp);
        if (refusal) return err(refusal);
      }
      await (expected === "nothing" ? this.#renameToFree(temp, real) : this.#rename(temp, real));
    } finally {
      // After the rename there's nothing of that name. Before it, the write's own error is the one to tell.
      await this.#fs.unlink(temp).catch(() => undefined);
    }
    await this.#syncFolder(dirname(real));

    const written = await this.#fs.readFile(real);
    if (!written.equals(bytes)) {
      return err(
        hostError(
          "failed",
          `${quoted(path)} was written, but reads back differently: the disk may be faulty. Save it to another disk.`,
        ),
      );
    }
    return ok(stampOf(bytes));
  }

  async #writeTemp(temp: string, bytes: Uint8Array, mode: number | undefined): Promise<void> {
    const handle = await this.#fs.open(temp, "wx", mode === undefined ? 0o666 : mode & 0o777);
    try {
      await handle.writeFile(bytes);
      await handle.sync();
      const { size } = await handle.stat();
      // Some network disks take a write that doesn't fit without an error.
      if (size !== bytes.byteLength) throw Object.assign(new Error("short write"), { code: "ENOSPC" });
      if (mode !== undefined) await keepMode(handle, mode);
    } finally {
      await handle.close();
    }
  }

  /** Why the file may not be replaced, where the caller expects a content that it no longer has. */
  async #unexpected(path: string, real: string, stamp: FileStamp): Promise<HostError | undefined> {
    try {
      if (stampOf(await this.#fs.readFile(real)) === stamp) return undefined;
    } catch (error) {
      if (systemCode(error) !== "ENOENT") throw error;
      return hostError(
        "changed-on-disk",
        `${quoted(path)} was not saved: it is not there any more (moved, renamed or deleted). Save it again to put it back, or choose Save as.`,
      );
    }
    return hostError(
      "changed-on-disk",
      `${quoted(path)} was not saved: the file has changed since it was opened, perhaps in another window. Overwrite it, or choose Save as to keep both.`,
    );
  }

  /** Takes a name that must be free with an empty file, which the rename replaces at once. */
  async #renameToFree(temp: string, real: string): Promise<void> {
    await (await this.#fs.open(real, "wx")).close();
    try {
      await this.#rename(temp, real);
    } catch (error) {
      await this.#fs.unlink(real).catch(() => undefined);
      throw error;
    }
  }

  async #rename(temp: string, real: string): Promise<void> {
    const giveUpAt = this.#clock.now() + RENAME_PATIENCE_MS;
    for (;;) {
      try {
        await this.#fs.rename(temp, real);
        return;
      } catch (error) {
        if (!MOMENTARY.has(systemCode(error)) || this.#clock.now() >= giveUpAt) throw error;
        await this.#clock.wait(RENAME_PAUSE_MS);
      }
    }
  }

  /** Makes the rename last through a power cut. Windows and some network disks can't; the data itself is synced. */
  async #syncFolder(folder: string): Promise<void> {
    try {
      const handle = await this.#fs.open(folder, "r");
      try {
        await handle.sync();
      } finally {
        await handle.close();
      }
    } catch {
      // Nothing to be done, and nothing wrong with the file.
    }
  }
}

/** The mask of the process cuts the mode at creation. Sticks and network disks without modes refuse; no loss. */
async function keepMode(handle: FileHandle, mode: number): Promise<void> {
  await handle.chmod(mode & 0o7777).catch(() => undefined);
}
