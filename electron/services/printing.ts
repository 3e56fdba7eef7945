/** Papers to PDF. Electron and the browser host print with an engine of their own; the page they print is the same. */
import { spawn } from "node:child_process";
import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { err, ok } from "#engine";
import type { HostResult, PrintRequest } from "#engine";
import { PAPER_POLICY } from "./content-security.ts";
import { QUIET_SWITCHES, findBrowser, sandboxSwitches } from "./find-browser.mjs";
import { hostError } from "./host-error.ts";

export type PrintJob = Pick<PrintRequest, "html" | "paper" | "landscape">;

export interface PdfPrinter {
  print(job: PrintJob): Promise<HostResult<Uint8Array>>;
}

/** A large set of sheets takes seconds; what takes longer than this will not come. */
export const PRINT_LIMIT_MS = 90_000;

/** CSS has no name for Tabloid. */
const PAGE_SIZES = { A4: "A4", A3: "A3", Letter: "letter", Tabloid: "11in 17in" } as const;

/**
 * The page as it is printed. The policy and the paper size stand before everything else: what the parser meets first
 * opens the head, so the policy holds for all that follows, and the page's own `@page` rules still win.
 */
export function printablePage({ html, paper, landscape }: PrintJob): string {
  const size = paper === "Tabloid" && landscape ? "17in 11in" : PAGE_SIZES[paper];
  const orientation = paper === "Tabloid" ? "" : landscape ? " landscape" : " portrait";
  return [
    "<!doctype html>",
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${PAPER_POLICY}">`,
    `<style>@page { size: ${size}${orientation}; }</style>`,
    html.replace(/^\s*<!doctype[^>]*>/i, ""),
  ].join("\n");
}

export const isPdf = (bytes: Uint8Array): boolean =>
  Buffer.from(bytes.subarray(0, 5)).toString("latin1") === "%PDF-";

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

  async print(job: PrintJob): Promise<HostResult<Uint8Array>> {
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
      await fs.writeFile(page, printablePage(job), { mode: 0o600 });
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
          `--print-to-pdf=${pdf}`,
          pathToFileURL(page).href,
        ],
        this.#limitMs,
      );
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

/** How the program ended. Its exit code says little: what counts is the file that it was to write. */
function runToEnd(program: string, args: readonly string[], limitMs: number): Promise<"ended" | "too slow"> {
  return new Promise((resolve) => {
    const child = spawn(program, args, { stdio: "ignore", windowsHide: true });
    const timer = setTimeout(() => {
      child.kill("SIGKILL");
      resolve("too slow");
    }, limitMs);
    const end = () => {
      clearTimeout(timer);
      resolve("ended");
    };
    child.on("error", end);
    child.on("exit", end);
  });
}
