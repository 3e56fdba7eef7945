/**
 * Copies of unsaved work, apart from the shows' own files: one for each show, in the app's data folder. File names are
 * hashes of the show's id, since an id from a file could be any text, a path among them.
 */
import { createHash } from "node:crypto";
import { join } from "node:path";
import { err, ok } from "#engine";
import type { HostResult, Recovery } from "#engine";
import { nullable, record, text } from "../contract/check.ts";
import type { Check } from "../contract/check.ts";
import { MAX_SHOW_BYTES } from "../contract/calls.ts";
import type { Clock, FileSystem } from "./file-system.ts";
import { writeFailure } from "./host-error.ts";
import type { SafeWriter } from "./safe-write.ts";

const COPY_NAME = /^[0-9a-f]{64}\.json$/;

const isTime: Check<number> = (value): value is number => typeof value === "number" && Number.isFinite(value);
const isRecovery = record<Recovery>({
  showId: text(200),
  title: text(1000),
  path: nullable(text(4096)),
  text: text(MAX_SHOW_BYTES),
  unfinished: nullable(text(MAX_SHOW_BYTES)),
  writtenAt: isTime,
});

export class RecoveryCopies {
  readonly #fs: FileSystem;
  readonly #clock: Clock;
  readonly #writer: SafeWriter;
  readonly folder: string;

  constructor(fs: FileSystem, clock: Clock, writer: SafeWriter, dataFolder: string) {
    this.#fs = fs;
    this.#clock = clock;
    this.#writer = writer;
    this.folder = join(dataFolder, "recovery");
  }

  /** Value: when the copy was safely on disk. */
  async write(copy: Omit<Recovery, "writtenAt">): Promise<HostResult<number>> {
    const path = this.#pathOf(copy.showId);
    try {
      await this.#fs.mkdir(this.folder, { recursive: true });
    } catch (error) {
      return err(writeFailure(this.folder, error));
    }
    const writtenAt = this.#clock.now();
    const bytes = Buffer.from(JSON.stringify({ ...copy, writtenAt } satisfies Recovery));
    const written = await this.#writer.write(path, bytes, { expect: null });
    return written.ok ? ok(writtenAt) : written;
  }

  /** All copies, newest first. One that can't be read is passed over and stays where it is. */
  async list(): Promise<readonly Recovery[]> {
    const names = await this.#fs.readdir(this.folder).catch(() => []);
    const copies = await Promise.all(
      names.filter((name) => COPY_NAME.test(name)).map((name) => this.#read(name)),
    );
    return copies.filter((copy) => copy !== undefined).sort((a, b) => b.writtenAt - a.writtenAt);
  }

  drop(showId: string): Promise<HostResult<null>> {
    return this.#writer.remove(this.#pathOf(showId));
  }

  async #read(name: string): Promise<Recovery | undefined> {
    try {
      const found: unknown = JSON.parse(await this.#fs.readFile(join(this.folder, name), "utf8"));
      // Copies of an earlier version have no word of what was unfinished.
      const copy = typeof found === "object" ? { unfinished: null, ...found } : found;
      return isRecovery(copy) ? copy : undefined;
    } catch {
      return undefined;
    }
  }

  #pathOf(showId: string): string {
    return join(this.folder, `${createHash("sha256").update(showId).digest("hex")}.json`);
  }
}
