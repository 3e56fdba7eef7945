/** Pages of papers to PNG, by an installed browser that is started once for all of them and spoken to over a pipe. */
import { spawn } from "node:child_process";
import type { ChildProcess } from "node:child_process";
import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Readable, Writable } from "node:stream";
import { pathToFileURL } from "node:url";
import { err, ok } from "#engine";
import type { HostResult } from "#engine";
import { PAPER_POLICY } from "./content-security.ts";
import { QUIET_SWITCHES, findBrowser, sandboxSwitches } from "./find-browser.mjs";
import { hostError } from "./host-error.ts";

/** A page as it is painted. */
export interface PaintJob {
  /** A whole `svg` element, its typeface in it. */
  readonly svg: string;
  /** Millimetres. */
  readonly width: number;
  readonly height: number;
}

/** No page takes longer. */
const PAINT_LIMIT_MS = 60_000;
/** CSS pixels of an inch, by definition. */
const PER_MM = 96 / 25.4;
/** Larger ones no browser paints. */
export const MOST_PIXELS = 16_000;

/** A page's size at a scale, in pixels; scale 1 is 96 to the inch. Pages are whole pixels at scale 1. */
export const pixelsOf = (
  { width, height }: Pick<PaintJob, "width" | "height">,
  scale: number,
): { readonly width: number; readonly height: number } => ({
  width: Math.round(Math.round(width * PER_MM) * scale),
  height: Math.round(Math.round(height * PER_MM) * scale),
});

const cannot = (message: string): HostResult<never> => err(hostError("cannot-print", message));

export class BrowserPainter {
  readonly #find: () => string | undefined;
  readonly #limitMs: number;

  constructor({
    find = findBrowser,
    limitMs = PAINT_LIMIT_MS,
  }: { readonly find?: () => string | undefined; readonly limitMs?: number } = {}) {
    this.#find = find;
    this.#limitMs = limitMs;
  }

  /** One PNG for each page, all or none. */
  async paint(pages: readonly PaintJob[], scale: number): Promise<HostResult<readonly Uint8Array[]>> {
    const browser = this.#find();
    if (browser === undefined) {
      return cannot(
        "A picture can't be made here: there is no Chrome, Chromium or Edge on this machine. Install one, or export SVG instead.",
      );
    }
    const folder = await fs.mkdtemp(join(tmpdir(), "hopline-paint-"));
    const child = start(browser, folder);
    try {
      return ok(await new Painter(child, folder, this.#limitMs).paintAll(pages, scale));
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      return cannot(`The picture was not made: ${browser} ${reason}. Export SVG instead.`);
    } finally {
      await end(child);
      // Its helpers may hold the profile for a moment longer than the browser lives.
      await fs
        .rm(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 })
        .catch(() => undefined);
    }
  }
}

// In a group of its own, since some browsers are started by a script that stays in front of them.
const GROUPED = process.platform !== "win32";

const start = (browser: string, folder: string): ChildProcess =>
  spawn(
    browser,
    [
      "--headless",
      ...sandboxSwitches(),
      ...QUIET_SWITCHES,
      "--disable-gpu",
      "--disable-extensions",
      "--hide-scrollbars",
      `--user-data-dir=${join(folder, "profile")}`,
      "--remote-debugging-pipe",
      "about:blank",
    ],
    { stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"], windowsHide: true, detached: GROUPED },
  );

function end(child: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return resolve();
    child.once("exit", () => resolve());
    try {
      if (GROUPED) process.kill(-child.pid, "SIGKILL");
      else child.kill("SIGKILL");
    } catch {
      // It ended by itself a moment ago.
      resolve();
    }
  });
}

type Params = Readonly<Record<string, unknown>>;
interface Answer {
  readonly id?: number;
  readonly method?: string;
  readonly sessionId?: string;
  readonly result?: Params;
  readonly error?: { readonly message: string };
}

interface Waiting {
  readonly resolve: (result: Params) => void;
  readonly reject: (reason: Error) => void;
}

/** The browser's own protocol for tools: JSON messages with a zero byte after each. */
class Painter {
  readonly #folder: string;
  readonly #limitMs: number;
  readonly #to: Writable;
  readonly #calls = new Map<number, Waiting>();
  #events: { readonly method: string; readonly waiting: Waiting }[] = [];
  #last = 0;
  #ended: Error | null = null;

  constructor(child: ChildProcess, folder: string, limitMs: number) {
    this.#folder = folder;
    this.#limitMs = limitMs;
    this.#to = child.stdio[3] as Writable;
    const from = child.stdio[4] as Readable;
    const fail = (why: string) => () => this.#fail(new Error(why));
    child.on("error", fail("can't be started"));
    child.on("exit", fail("ended too early"));
    // What is written to a browser that has just died; its exit says so.
    this.#to.on("error", fail("ended too early"));
    from.on("error", fail("ended too early"));
    let rest: Buffer[] = [];
    from.on("data", (chunk: Buffer) => {
      let at = 0;
      for (let zero = chunk.indexOf(0); zero >= 0; zero = chunk.indexOf(0, at)) {
        rest.push(chunk.subarray(at, zero));
        this.#hear(Buffer.concat(rest).toString("utf8"));
        rest = [];
        at = zero + 1;
      }
      rest.push(chunk.subarray(at));
    });
  }

  async paintAll(pages: readonly PaintJob[], scale: number): Promise<readonly Uint8Array[]> {
    const { targetId } = await this.#call("Target.createTarget", { url: "about:blank" });
    const { sessionId } = await this.#call("Target.attachToTarget", { targetId, flatten: true });
    const session = String(sessionId);
    await this.#call("Page.enable", {}, session);
    const painted: Uint8Array[] = [];
    for (const page of pages) painted.push(await this.#paint(page, scale, session));
    return painted;
  }

  async #paint(page: PaintJob, scale: number, session: string): Promise<Uint8Array> {
    const file = join(this.#folder, "page.html");
    const { width, height } = pixelsOf(page, 1);
    await fs.writeFile(file, paintedPage(page.svg, width, height), { mode: 0o600 });
    const loaded = this.#event("Page.loadEventFired");
    await this.#call("Page.navigate", { url: pathToFileURL(file).href }, session);
    await loaded;
    await this.#call(
      "Runtime.evaluate",
      { expression: "document.fonts.ready.then(() => 0)", awaitPromise: true },
      session,
    );
    const { data } = await this.#call(
      "Page.captureScreenshot",
      { format: "png", captureBeyondViewport: true, clip: { x: 0, y: 0, width, height, scale } },
      session,
    );
    return Buffer.from(String(data), "base64");
  }

  #call(method: string, params: Params, sessionId?: string): Promise<Params> {
    const id = ++this.#last;
    return this.#within((waiting) => {
      this.#calls.set(id, waiting);
      this.#to.write(`${JSON.stringify({ id, method, params, ...(sessionId ? { sessionId } : {}) })}\0`);
    });
  }

  #event(method: string): Promise<Params> {
    return this.#within((waiting) => this.#events.push({ method, waiting }));
  }

  #within(begin: (waiting: Waiting) => void): Promise<Params> {
    return new Promise((resolve, reject) => {
      if (this.#ended) return reject(this.#ended);
      const seconds = Math.round(this.#limitMs / 1000);
      const timer = setTimeout(
        () => this.#fail(new Error(`took longer than ${seconds} s for a page`)),
        this.#limitMs,
      );
      const done =
        <Value>(answer: (value: Value) => void) =>
        (value: Value): void => {
          clearTimeout(timer);
          answer(value);
        };
      begin({ resolve: done(resolve), reject: done(reject) });
    });
  }

  #hear(text: string): void {
    const { id, method, result, error } = JSON.parse(text) as Answer;
    if (method !== undefined) {
      const heard = this.#events.filter((each) => each.method === method);
      this.#events = this.#events.filter((each) => each.method !== method);
      for (const { waiting } of heard) waiting.resolve({});
    }
    if (id === undefined) return;
    const waiting = this.#calls.get(id);
    this.#calls.delete(id);
    if (error) waiting?.reject(new Error(`says “${error.message}”`));
    else waiting?.resolve(result ?? {});
  }

  #fail(reason: Error): void {
    this.#ended ??= reason;
    for (const waiting of this.#calls.values()) waiting.reject(reason);
    for (const { waiting } of this.#events) waiting.reject(reason);
    this.#calls.clear();
    this.#events = [];
  }
}

const paintedPage = (svg: string, width: number, height: number): string =>
  [
    "<!doctype html>",
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${PAPER_POLICY}">`,
    `<style>html,body{margin:0;background:#fff}svg{display:block;width:${width}px;height:${height}px}</style>`,
    svg,
  ].join("\n");
