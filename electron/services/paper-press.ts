/**
 * Papers to PDF. Pages are set by Hopline itself; where one has letters that the paper typeface lacks, a browser sets the
 * whole set, since it takes such letters from the machine's own typefaces.
 */
import { promises as fs } from "node:fs";
import { join } from "node:path";
import { err, ok } from "#engine";
import type { HostResult, PaperFont, PrintRequest } from "#engine";
import { paperHtml } from "#engine/paperwork/html.ts";
import { hostError } from "./host-error.ts";
import { UnknownDrawing } from "./paper-page.ts";
import { paperPdf } from "./paper-pdf.ts";
import { PaperType, type PaperFace } from "./paper-type.ts";
import { finishPdf } from "./pdf-finish.ts";
import { CANCELLED, type PdfPrinter } from "./printing.ts";

export type PrintJob = Pick<PrintRequest, "pages" | "facts">;

export class PaperPress {
  readonly #assets: string;
  readonly #printer: PdfPrinter;
  #faces: Promise<readonly PaperFace[]> | null = null;

  /** `assets`: the folder of what comes with the app. */
  constructor(assets: string, printer: PdfPrinter) {
    this.#assets = assets;
    this.#printer = printer;
  }

  /** A print that is called off answers `cancelled`. */
  async pdf({ pages, facts }: PrintJob, signal: AbortSignal): Promise<HostResult<Uint8Array>> {
    if (signal.aborted) return err(CANCELLED);
    try {
      this.#faces ??= this.#read<readonly PaperFace[]>("paper-pdf.json");
      const type = new PaperType(await this.#faces);
      const { bytes, lacking } = await paperPdf(pages, facts, type, signal);
      if (lacking.length > 0) return await this.#printed({ pages, facts }, lacking, signal);
      return bytes === null ? err(CANCELLED) : ok(bytes);
    } catch (error) {
      this.#faces = null;
      if (error instanceof UnknownDrawing) return err(cannot(`The PDF was not made: ${error.message}.`));
      if (error instanceof MissingFont) return err(cannot(`The PDF was not made: ${error.message}`));
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
      throw new MissingFont(`the typeface of papers is missing: ${path} can't be read.`);
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
  if (rest > 0) return `${names.join(", ")} and ${rest} other ${rest === 1 ? "letter" : "letters"}`;
  return names.length === 1 ? names[0]! : `${names.slice(0, -1).join(", ")} and ${names.at(-1)!}`;
}
