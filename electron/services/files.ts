/** Opening and saving shows. The text inside is none of this module's business. */
import { constants } from "node:fs";
import type { FileHandle } from "node:fs/promises";
import { extname, isAbsolute, normalize, relative, resolve } from "node:path";
import { err, ok } from "#engine";
import type { FileStamp, HostResult, OnDisk, OpenedFile, SaveRequest, SavedFile } from "#engine";
import { MAX_SHOW_BYTES } from "../contract/calls.ts";
import type { Clock, FileSystem } from "./file-system.ts";
import { hostError, quoted, readFailure, systemCode } from "./host-error.ts";
import type { SafeWriter } from "./safe-write.ts";
import { stampOf } from "./safe-write.ts";

export const SHOW_EXTENSION = ".hopline";

export class ShowFiles {
  readonly #fs: FileSystem;
  readonly #clock: Clock;
  readonly #writer: SafeWriter;
  readonly #assets: string;
  /** By path: how a file looked from outside when it was last read for `onDisk`, and what it held. */
  readonly #looks = new Map<string, { readonly look: string; readonly stamp: FileStamp }>();

  /** `assets` is the folder of what comes with the app; nothing is saved there. */
  constructor(fs: FileSystem, clock: Clock, writer: SafeWriter, assets: string) {
    this.#fs = fs;
    this.#clock = clock;
    this.#writer = writer;
    this.#assets = assets;
  }

  async open(path: string): Promise<HostResult<OpenedFile>> {
    const place = absolute(path);
    if (!place.ok) return place;
    try {
      const bytes = await this.#read(place.value);
      if (!bytes.ok) return bytes;
      const text = decode(bytes.value);
      if (text === undefined) {
        return err(
          hostError(
            "not-text",
            `${quoted(path)} is not a show: it holds something other than text. Choose a ${SHOW_EXTENSION} file.`,
          ),
        );
      }
      return ok({ path: place.value, text, stamp: stampOf(bytes.value) });
    } catch (error) {
      return err(readFailure(path, error));
    }
  }

  async save({ path, text, expect }: SaveRequest): Promise<HostResult<SavedFile>> {
    const place = absolute(path);
    if (!place.ok) return place;
    if (extname(path).toLowerCase() !== SHOW_EXTENSION) {
      return err(
        hostError(
          "not-writable",
          `${quoted(path)} was not saved: a show's name ends in ${SHOW_EXTENSION}. Add that to the name.`,
        ),
      );
    }
    if (isInside(this.#assets, place.value)) {
      return err(
        hostError(
          "read-only",
          `${quoted(path)} comes with Hopline and stays as it is. Choose Save as to keep your changes in a file of your own.`,
        ),
      );
    }
    const bytes = Buffer.from(text, "utf8");
    if (bytes.byteLength > MAX_SHOW_BYTES) return err(tooLarge(path, "saved"));
    const written = await this.#writer.write(place.value, bytes, { expect });
    return written.ok ? ok({ path: place.value, stamp: written.value, savedAt: this.#clock.now() }) : written;
  }

  /** Whether a file still has the content that `stamp` tells. It is read only where something about it has changed. */
  async onDisk(path: string, stamp: FileStamp): Promise<HostResult<OnDisk>> {
    const place = absolute(path);
    if (!place.ok) return place;
    try {
      const info = await this.#fs.stat(place.value);
      const look = `${info.ino} ${info.size} ${info.mtimeMs} ${info.ctimeMs}`;
      const known = this.#looks.get(place.value);
      let found = known?.look === look ? known.stamp : undefined;
      if (found === undefined) {
        const bytes = await this.#read(place.value);
        if (!bytes.ok) return bytes;
        found = stampOf(bytes.value);
        this.#looks.set(place.value, { look, stamp: found });
      }
      return ok(found === stamp ? { kind: "same" } : { kind: "changed", at: Math.round(info.mtimeMs) });
    } catch (error) {
      const gone = ["ENOENT", "ENOTDIR"].includes(systemCode(error));
      return gone ? ok({ kind: "gone" }) : err(readFailure(path, error));
    }
  }

  async #read(path: string): Promise<HostResult<Buffer>> {
    // Asked before opening: opening a pipe would wait for somebody to write into it.
    if (!(await this.#fs.stat(path)).isFile()) return err(notAFile(path));
    const handle = await this.#fs.open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    try {
      const info = await handle.stat();
      if (!info.isFile()) return err(notAFile(path));
      if (info.size > MAX_SHOW_BYTES) return err(tooLarge(path, "opened"));
      const bytes = await readAtMost(handle, MAX_SHOW_BYTES + 1);
      return bytes.byteLength > MAX_SHOW_BYTES ? err(tooLarge(path, "opened")) : ok(bytes);
    } finally {
      await handle.close();
    }
  }
}

/** Reads to the end, or to `limit`: a file may grow while it is read. */
async function readAtMost(handle: FileHandle, limit: number): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let length = 0;
  while (length < limit) {
    const { bytesRead, buffer } = await handle.read({
      buffer: Buffer.alloc(Math.min(1 << 20, limit - length)),
    });
    if (bytesRead === 0) break;
    chunks.push(buffer.subarray(0, bytesRead));
    length += bytesRead;
  }
  return Buffer.concat(chunks);
}

/** The text, without a byte order mark; undefined where the bytes aren't UTF-8 or hold a NUL. */
function decode(bytes: Uint8Array): string | undefined {
  if (bytes.includes(0)) return undefined;
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

/** Refuses relative paths: what they would be relative to is nothing that the user can see. */
export function absolute(path: string): HostResult<string> {
  return isAbsolute(path)
    ? ok(normalize(path))
    : err(
        hostError("not-found", `${quoted(path)} can't be found: the whole path is needed, with its folders.`),
      );
}

export function isInside(folder: string, path: string): boolean {
  const way = relative(resolve(folder), resolve(path));
  return way !== "" && !way.startsWith("..") && !isAbsolute(way);
}

const notAFile = (path: string) => hostError("not-a-file", `${quoted(path)} is not a file; choose a show.`);

const tooLarge = (path: string, doing: "opened" | "saved") =>
  hostError(
    "too-large",
    `${quoted(path)} was not ${doing}: it is larger than ${MAX_SHOW_BYTES / 1024 / 1024} MB, the most that a show may have.`,
  );
