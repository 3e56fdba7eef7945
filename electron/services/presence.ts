/**
 * Which shows are open in which windows, so that a second window on a file is noticed before it is saved over. Windows say
 * so again and again; one that falls silent is gone. Each program of Hopline keeps its windows in a file of its own in the
 * data folder, where the others look: a browser host beside Electron, or two browser hosts.
 */
import { randomUUID } from "node:crypto";
import { hostname } from "node:os";
import { join } from "node:path";
import { list, record, text } from "../contract/check.ts";
import type { Check } from "../contract/check.ts";
import type { Clock, FileSystem } from "./file-system.ts";
import { systemCode } from "./host-error.ts";
import type { SafeWriter } from "./safe-write.ts";

/** Browsers let hidden pages' clocks tick once a minute. */
export const SILENCE_MS = 90_000;
/** The file need not be written at every word of a window: what it says is this old at most. */
const REWRITE_MS = 20_000;
/** Nobody's any more, whatever its number says. */
const STALE_MS = 24 * 60 * 60 * 1000;

interface OpenShow {
  readonly window: string;
  /** Links followed. */
  readonly path: string;
  readonly seenAt: number;
}

interface Program {
  readonly pid: number;
  /** A process number says nothing of another machine's programs, where the data folder is shared. */
  readonly machine: string;
  readonly shows: readonly OpenShow[];
}

const isNumber: Check<number> = (value): value is number =>
  typeof value === "number" && Number.isFinite(value);
const isProgram = record<Program>({
  pid: isNumber,
  machine: text(300),
  shows: list(record<OpenShow>({ window: text(200), path: text(4096), seenAt: isNumber }), 1000),
});

export interface Self {
  readonly pid: number;
  readonly machine: string;
  isRunning(pid: number): boolean;
}

export const thisProcess: Self = {
  pid: process.pid,
  machine: hostname(),
  isRunning: (pid) => {
    try {
      process.kill(pid, 0);
      return true;
    } catch (error) {
      // Another user's process is there, too.
      return systemCode(error) === "EPERM";
    }
  },
};

export class OpenShows {
  readonly #fs: FileSystem;
  readonly #clock: Clock;
  readonly #writer: SafeWriter;
  readonly #self: Self;
  readonly #name = `${randomUUID()}.json`;
  readonly folder: string;
  #shows: readonly OpenShow[] = [];
  #written: readonly OpenShow[] = [];

  constructor(fs: FileSystem, clock: Clock, writer: SafeWriter, dataFolder: string, self: Self) {
    this.#fs = fs;
    this.#clock = clock;
    this.#writer = writer;
    this.#self = self;
    this.folder = join(dataFolder, "open");
  }

  /** Notes what a window has open (null: nothing from a file). Value: how many other windows have the same file open. */
  async note(window: string, path: string | null): Promise<number> {
    const now = this.#clock.now();
    // By whatever name it is called. A file that is gone has its name only.
    const real = path === null ? null : await this.#fs.realpath(path).catch(() => path);
    this.#shows = [
      ...this.#shows.filter((show) => show.window !== window && now - show.seenAt < SILENCE_MS),
      ...(real === null ? [] : [{ window, path: real, seenAt: now }]),
    ];
    await this.#tellOthers(now);
    if (real === null) return 0;
    const elsewhere = (await this.#others(now)).flatMap(({ shows }) => shows);
    return [...this.#shows, ...elsewhere].filter(
      (show) => show.window !== window && show.path === real && now - show.seenAt < SILENCE_MS + REWRITE_MS,
    ).length;
  }

  async #tellOthers(now: number): Promise<void> {
    const key = (shows: readonly OpenShow[]): string =>
      shows.map((show) => JSON.stringify([show.window, show.path])).join();
    const fresh = this.#written.every(({ seenAt }) => now - seenAt < REWRITE_MS);
    if (fresh && key(this.#shows) === key(this.#written)) return;
    this.#written = this.#shows;
    const path = join(this.folder, this.#name);
    // What can't be told is no reason to stop anybody: the file on disk is looked at all the same.
    if (this.#shows.length === 0) return void (await this.#writer.remove(path));
    const program: Program = { pid: this.#self.pid, machine: this.#self.machine, shows: this.#shows };
    await this.#fs.mkdir(this.folder, { recursive: true }).catch(() => undefined);
    await this.#writer.write(path, Buffer.from(JSON.stringify(program)), { expect: null });
  }

  async #others(now: number): Promise<readonly Program[]> {
    const names = await this.#fs.readdir(this.folder).catch(() => []);
    const programs = await Promise.all(
      names
        .filter((name) => name.endsWith(".json") && name !== this.#name)
        .map((name) => this.#read(name, now)),
    );
    return programs.filter((program) => program !== undefined);
  }

  async #read(name: string, now: number): Promise<Program | undefined> {
    const path = join(this.folder, name);
    let program: unknown;
    try {
      program = JSON.parse(await this.#fs.readFile(path, "utf8"));
    } catch {
      return undefined;
    }
    if (!isProgram(program)) return undefined;
    const ended = program.machine === this.#self.machine && !this.#self.isRunning(program.pid);
    const stale = program.shows.every(({ seenAt }) => now - seenAt > STALE_MS);
    if (!ended && !stale) return program;
    await this.#writer.remove(path);
    return undefined;
  }
}
