/** Papers to PDF with Electron's own engine: a hidden window without script, in a session without network. */
import { BrowserWindow, session } from "electron";
import { err, ok } from "#engine/model/result.ts";
import type { HostResult } from "#engine";
import { PAPER_POLICY } from "../services/content-security.ts";
import { hostError } from "../services/host-error.ts";
import { CANCELLED, PRINT_LIMIT_MS, printablePage } from "../services/printing.ts";
import type { PdfPrinter } from "../services/printing.ts";
import { SCHEME } from "./app-protocol.ts";
import { PAGE_PREFERENCES, hardenSession } from "./hardening.ts";

/** In memory only, and apart from the app's own. */
const PAPER_PARTITION = "paper";
const PAPER_ORIGIN = `${SCHEME}://paper`;

export const PAPER_PREFERENCES = {
  ...PAGE_PREFERENCES,
  javascript: false,
  partition: PAPER_PARTITION,
} as const;

export class ElectronPrinter implements PdfPrinter {
  readonly #pages = new Map<string, string>();
  readonly #limitMs: number;
  #count = 0;

  constructor(limitMs: number = PRINT_LIMIT_MS) {
    this.#limitMs = limitMs;
  }

  /** Once the app is ready: the session of papers knows no page but those that are being printed. */
  start(): void {
    const papers = session.fromPartition(PAPER_PARTITION);
    hardenSession(papers);
    papers.protocol.handle(SCHEME, ({ url }) => {
      const html = this.#pages.get(url);
      return new Response(html ?? null, {
        status: html === undefined ? 404 : 200,
        headers: { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": PAPER_POLICY },
      });
    });
  }

  async print(html: string, signal: AbortSignal): Promise<HostResult<Uint8Array>> {
    if (signal.aborted) return err(CANCELLED);
    const url = `${PAPER_ORIGIN}/${++this.#count}`;
    this.#pages.set(url, printablePage(html));
    const window = new BrowserWindow({ show: false, webPreferences: PAPER_PREFERENCES });
    let timer: NodeJS.Timeout | undefined;
    try {
      const stopped = new Promise<"too slow" | "cancelled">((resolve) => {
        timer = setTimeout(() => resolve("too slow"), this.#limitMs);
        signal.addEventListener("abort", () => resolve("cancelled"), { once: true });
      });
      // Electron answers nothing where the process that prints dies.
      const died = new Promise<never>((_resolve, reject) => {
        window.webContents.on("render-process-gone", () => reject(new Error("the printing page crashed")));
      });
      const pdf = await Promise.race([this.#printPage(window, url), stopped, died]);
      if (pdf === "cancelled") return err(CANCELLED);
      return pdf === "too slow"
        ? err(
            hostError(
              "cannot-print",
              `The PDF was not made: it took longer than ${Math.round(this.#limitMs / 1000)} s. Try fewer sheets at a time.`,
            ),
          )
        : ok(pdf);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      return err(
        hostError(
          "cannot-print",
          `The PDF was not made (${reason}). Try again, or export SVG or HTML instead.`,
        ),
      );
    } finally {
      clearTimeout(timer);
      this.#pages.delete(url);
      window.destroy();
    }
  }

  async #printPage(window: BrowserWindow, url: string): Promise<Uint8Array> {
    await window.loadURL(url);
    return window.webContents.printToPDF({
      printBackground: true,
      preferCSSPageSize: true,
      // As the browser host prints: tags for each text make the file 25 times as large.
      generateTaggedPDF: false,
    });
  }
}
