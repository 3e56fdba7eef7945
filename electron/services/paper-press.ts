/**
 * Papers to PDF. Pages are set by Hopline itself; where one has letters that the paper typeface lacks, a browser sets the
 * whole set, since it takes such letters from the machine's own typefaces.
 */
import { promises as fs } from "node:fs";
import { join } from "node:path";
import { err, ok } from "#engine";
import type { HostResult, PaperFont, PrintRequest } from "#engine";
import { counted, listOf } from "#engine/findings/describe.ts";
import { paperHtml } from "#engine/paperwork/html.ts";
import type { Page } from "#engine/paperwork/page.ts";
import { hostError } from "./host-error.ts";
import { UnknownDrawing } from "./paper-page.ts";
import { paperPdf, pdfLibrary, setPage, type SetPage } from "./paper-pdf.ts";
import { PaperType, type PaperFace } from "./paper-type.ts";
import { finishPdf } from "./pdf-finish.ts";
import { CANCELLED, type PdfPrinter } from "./printing.ts";

export type PrintJob = Pick<PrintRequest, "pages" | "facts">;

/** Others have their turn this often, so that a print can be called off: milliseconds. */
const SLICE = 20;

const breathe = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

export class PaperPress {
  readonly #assets: string;
  readonly #printer: PdfPrinter;
  #type: Promise<PaperType> | null = null;
  /** Pages that were set before they were asked for. */
  readonly #set = new WeakMap<Page, SetPage>();

  /** `assets`: the folder of what comes with the app. */
  constructor(assets: string, printer: PdfPrinter) {
    this.#assets = assets;
    this.#printer = printer;
  }

  /** Sets a page ahead, while other pages are still being made. What is wrong with it is told when the PDF is asked for. */
  async prepare(page: Page): Promise<void> {
    try {
      this.#set.set(page, setPage(page, await this.#typeface()));
    } catch {
      // It will be met again.
    }
  }

  /** Loads what puts the file together, for whoever has time now and none later. */
  async ready(): Promise<void> {
    await pdfLibrary();
  }

  /** A print that is called off answers `cancelled`. */
  async pdf({ pages, facts }: PrintJob, signal: AbortSignal): Promise<HostResult<Uint8Array>> {
    if (signal.aborted) return err(CANCELLED);
    try {
      const type = await this.#typeface();
      const set: SetPage[] = [];
      let since = performance.now();
      for (const page of pages) {
        if (signal.aborted) return err(CANCELLED);
        set.push(this.#set.get(page) ?? setPage(page, type));
        if (performance.now() - since < SLICE) continue;
        await breathe();
        since = performance.now();
      }
      const lacking = new Set(set.flatMap((each) => [...each.lacking]));
      if (lacking.size > 0) return await this.#printed({ pages, facts }, [...lacking], signal);
      const bytes = await paperPdf(pages, set, facts, type);
      return signal.aborted ? err(CANCELLED) : ok(bytes);
    } catch (error) {
      if (error instanceof UnknownDrawing || error instanceof MissingFont)
        return err(cannot(`The PDF was not made: ${error.message}.`));
      throw error;
    }
  }

  async #typeface(): Promise<PaperType> {
    this.#type ??= this.#read<readonly PaperFace[]>("paper-pdf.json").then((faces) => new PaperType(faces));
    try {
      return await this.#type;
    } catch (error) {
      // It may be there the next time.
      this.#type = null;
      throw error;
    }
  }

  async #printed(
    { pages, facts }: PrintJob,
    lacking: readonly string[],
    signal: AbortSignal,
  ): Promise<HostResult<Uint8Array>> {
    const fonts = await this.#read<readonly PaperFont[]>("paper-font.json");
    const printed = await this.#printer.print(paperHtml(facts.title, pages, fonts), signal);
    if (printed.ok) {
      const finished = await finishPdf(printed.value, facts);
      return signal.aborted ? err(CANCELLED) : finished;
    }
    if (printed.error.code !== "cannot-print") return printed;
    return err(
      cannot(
        `The typeface of papers has no ${told(lacking)}, so a browser has to set them. ${printed.error.message}`,
      ),
    );
  }

  async #read<Fonts>(name: string): Promise<Fonts> {
    const path = join(this.#assets, "fonts", name);
    try {
      return JSON.parse(await fs.readFile(path, "utf8")) as Fonts;
    } catch {
      throw new MissingFont(`the typeface of papers is missing: ${path} can't be read`);
    }
  }
}

class MissingFont extends Error {
  override readonly name = "MissingFont";
}

const cannot = (message: string) => hostError("cannot-print", message);

/** So many letters are told by name. */
const MOST_TOLD = 5;

/** `“舞” (U+821E), “台” (U+53F0) and 3 other letters` */
function told(letters: readonly string[]): string {
  const names = letters
    .slice(0, MOST_TOLD)
    .map((letter) => `“${letter}” (U+${letter.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0")})`);
  const rest = letters.length - names.length;
  return rest > 0 ? `${names.join(", ")} and ${counted(rest, "other letter")}` : listOf(names, MOST_TOLD);
}
