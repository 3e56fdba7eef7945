/** The shows opened last, newest first. A convenience: losing the list must never keep a show from opening. */
import { join } from "node:path";
import { ok } from "#engine";
import type { HostResult, RecentFile } from "#engine";
import { list, record, text } from "../contract/check.ts";
import type { Check } from "../contract/check.ts";
import type { Clock, FileSystem } from "./file-system.ts";
import { KeyedQueue } from "./queue.ts";
import type { SafeWriter } from "./safe-write.ts";

const MAX_RECENTS = 20;

const isTime: Check<number> = (value): value is number => typeof value === "number" && Number.isFinite(value);
const isRecents = list(record<RecentFile>({ path: text(4096), title: text(1000), openedAt: isTime }), 1000);

export class Recents {
  readonly #fs: FileSystem;
  readonly #clock: Clock;
  readonly #writer: SafeWriter;
  readonly #dataFolder: string;
  readonly #queue = new KeyedQueue();

  constructor(fs: FileSystem, clock: Clock, writer: SafeWriter, dataFolder: string) {
    this.#fs = fs;
    this.#clock = clock;
    this.#writer = writer;
    this.#dataFolder = dataFolder;
  }

  get #file(): string {
    return join(this.#dataFolder, "recent.json");
  }

  /** A list that can't be read is an empty one; the next note writes a good one. */
  async list(): Promise<readonly RecentFile[]> {
    try {
      const found: unknown = JSON.parse(await this.#fs.readFile(this.#file, "utf8"));
      return isRecents(found) ? found : [];
    } catch {
      return [];
    }
  }

  note(path: string, title: string): Promise<HostResult<null>> {
    // Read, change, write: two notes at once would lose one.
    return this.#queue.run(this.#file, async () => {
      const others = (await this.list()).filter((recent) => recent.path !== path);
      const recents = [{ path, title, openedAt: this.#clock.now() }, ...others].slice(0, MAX_RECENTS);
      await this.#fs.mkdir(this.#dataFolder, { recursive: true }).catch(() => undefined);
      const bytes = Buffer.from(JSON.stringify(recents, null, 2));
      const written = await this.#writer.write(this.#file, bytes, { expect: null });
      return written.ok ? ok(null) : written;
    });
  }
}
