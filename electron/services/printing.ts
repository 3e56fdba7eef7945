/** HTML to PDF by a browser's engine, for papers in letters that the paper typeface lacks. Electron has one in it. */
import { spawn } from "node:child_process";
import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { err, ok } from "#engine";
import type { HostResult } from "#engine";
import { PAPER_POLICY } from "./content-security.ts";
import { QUIET_SWITCHES, findBrowser, sandboxSwitches } from "./find-browser.mjs";
import { hostError } from "./host-error.ts";

export interface PdfPrinter {
  /** The pages of an HTML document as PDF, as the engine gives it. A print that is called off answers `cancelled`. */
  print(html: string, signal: AbortSignal): Promise<HostResult<Uint8Array>>;
}

/** A large set of sheets takes seconds; what takes longer than this will not come. */
export const PRINT_LIMIT_MS = 180_000;

export const CANCELLED = hostError("cancelled", "The PDF was not made: printing was cancelled.");

/**
 * The page as it is printed. The policy stands before everything else: what the parser meets first opens the head, so it
 * holds for all that follows.
 */
export function printablePage(html: string): string {
  return [
    "<!doctype html>",
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${PAPER_POLICY}">`,
    html.replace(/^\s*<!doctype[^>]*>/i, ""),
  ].join("\n");
}

/** Whether the bytes are a PDF to its last line, as a browser that died while writing doesn't leave it. */
export function isPdf(bytes: Uint8Array): boolean {
  const text = (from: number, to?: number): string =>
    Buffer.from(bytes.subarray(from, to)).toString("latin1");
  return text(0, 5) === "%PDF-" && text(-32).trimEnd().endsWith("%%EOF");
}

/** Prints with an installed browser that runs for this one paper, without a window, in a profile of its own. */
export class BrowserPrinter implements PdfPrinter {
  readonly #find: () => string | undefined;
  readonly #limitMs: number;

  constructor({
    find = findBrowser,
    limitMs = PRINT_LIMIT_MS,
  }: { find?: () => string | undefined; limitMs?: number } = {}) {
    this.#find = find;
    this.#limitMs = limitMs;
  }

  async print(html: string, signal: AbortSignal): Promise<HostResult<Uint8Array>> {
    const browser = this.#find();
    if (browser === undefined) {
      return err(
        hostError(
          "cannot-print",
          "A PDF can't be made here: there is no Chrome, Chromium or Edge on this machine. Install one, or export SVG or HTML instead.",
        ),
      );
    }
    const folder = await fs.mkdtemp(join(tmpdir(), "hopline-print-"));
    try {
      const page = join(folder, "page.html");
      const pdf = join(folder, "page.pdf");
      await fs.writeFile(page, printablePage(html), { mode: 0o600 });
      const ended = await runToEnd(
        browser,
        [
          "--headless",
          ...sandboxSwitches(),
          ...QUIET_SWITCHES,
          "--disable-gpu",
          "--disable-extensions",
          `--user-data-dir=${join(folder, "profile")}`,
          "--no-pdf-header-footer",
          // Tags for each text make the file 25 times as large.
          "--disable-pdf-tagging",
          // Printing waits until the page's own typeface is there; without it now and then some text was set before.
          "--virtual-time-budget=10000",
          `--print-to-pdf=${pdf}`,
          pathToFileURL(page).href,
        ],
        this.#limitMs,
        signal,
      );
      if (ended === "cancelled") return err(CANCELLED);
      if (ended === "too slow") {
        return err(
          hostError(
            "cannot-print",
            `The PDF was not made: the browser took longer than ${Math.round(this.#limitMs / 1000)} s. Try fewer sheets at a time.`,
          ),
        );
      }
      const bytes = await fs.readFile(pdf).catch(() => undefined);
      if (!bytes || !isPdf(bytes)) {
        return err(
          hostError(
            "cannot-print",
            `The PDF was not made: ${browser} gave none. Export SVG or HTML instead.`,
          ),
        );
      }
      return ok(bytes);
    } finally {
      // Its helpers may hold the profile for a moment longer than the browser lives.
      await fs
        .rm(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 })
        .catch(() => undefined);
    }
  }
}

type Ending = "ended" | "too slow" | "cancelled";

/** How the program ended. Its exit code says little: what counts is the file that it was to write. */
function runToEnd(
  program: string,
  args: readonly string[],
  limitMs: number,
  signal: AbortSignal,
): Promise<Ending> {
  return new Promise((resolve) => {
    if (signal.aborted) return resolve("cancelled");
    // In a group of its own, since some browsers are started by a script that stays in front of them.
    const grouped = process.platform !== "win32";
    const child = spawn(program, args, { stdio: "ignore", windowsHide: true, detached: grouped });
    const kill = (): void => {
      try {
        if (grouped && child.pid !== undefined) process.kill(-child.pid, "SIGKILL");
        else child.kill("SIGKILL");
      } catch {
        // It ended by itself a moment ago.
      }
    };
    let ending: Ending = "ended";
    const stop = (why: Ending) => () => {
      ending = why;
      kill();
    };
    const onAbort = stop("cancelled");
    const timer = setTimeout(stop("too slow"), limitMs);
    signal.addEventListener("abort", onAbort);
    const end = (): void => {
      clearTimeout(timer);
      signal.removeEventListener("abort", onAbort);
      resolve(ending);
    };
    child.on("error", end);
    child.on("exit", end);
  });
}
