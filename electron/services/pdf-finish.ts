/** What a browser's PDF lacks: an outline, who made it, and dates that don't depend on when it was printed. */
import type * as PdfLib from "@cantoo/pdf-lib";
import type { PDFContext, PDFDocument, PDFNumber, PDFRef } from "@cantoo/pdf-lib";
import { err, ok } from "#engine";
import type { HostResult, PdfBookmark, PdfFacts } from "#engine";
import { hostError } from "./host-error.ts";

/** Named as the program behind the file, without a version: the same show and date give the same bytes. */
const MAKER = "Hopline";

export async function finishPdf(bytes: Uint8Array, facts: PdfFacts): Promise<HostResult<Uint8Array>> {
  try {
    // Loaded when it is needed: most runs of a host print nothing.
    const lib = await import("@cantoo/pdf-lib");
    const pdf = await lib.PDFDocument.load(bytes, { updateMetadata: false });
    addFacts(lib, pdf, facts);
    return ok(await pdf.save({ addDefaultPage: false }));
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return err(
      hostError(
        "cannot-print",
        `The PDF was not made: what was printed can't be read (${reason}). Try again.`,
      ),
    );
  }
}

/** Outline, title, author and dates; and that it is printed at the size that it has, since labels are measured. */
export function addFacts(lib: typeof PdfLib, pdf: PDFDocument, facts: PdfFacts): void {
  const day = new Date(`${facts.date}T00:00:00Z`);
  pdf.setTitle(facts.title, { showInWindowTitleBar: true });
  if (facts.author !== "") pdf.setAuthor(facts.author);
  pdf.setCreator(MAKER);
  pdf.setProducer(MAKER);
  pdf.setCreationDate(day);
  pdf.setModificationDate(day);
  pdf.setLanguage("en");
  pdf.catalog.getOrCreateViewerPreferences().setPrintScaling(lib.PrintScaling.None);
  addOutline(lib, pdf, facts.outline);
}

/** ISO 32000-1, 12.3.3: a tree of items, each linked with its neighbours and its parent. */
function addOutline(lib: typeof PdfLib, pdf: PDFDocument, outline: readonly PdfBookmark[]): void {
  const { PDFName } = lib;
  const pages = pdf.getPages().map(({ ref }) => ref);
  if (outline.length === 0 || pages.length === 0) return;
  const root = pdf.context.nextRef();
  const shown = addItems(lib, pdf.context, pages, root, outline);
  pdf.context.assign(root, pdf.context.obj({ Type: "Outlines", ...shown }));
  pdf.catalog.set(PDFName.of("Outlines"), root);
  // Opens with the outline beside the pages.
  pdf.catalog.set(PDFName.of("PageMode"), PDFName.of("UseOutlines"));
}

interface Shown {
  readonly First: PDFRef;
  readonly Last: PDFRef;
  readonly Count: PDFNumber;
}

/** The items of one level, all of them folded but the first level. What their parent has to say of them. */
function addItems(
  lib: typeof PdfLib,
  context: PDFContext,
  pages: readonly PDFRef[],
  parent: PDFRef,
  items: readonly PdfBookmark[],
): Shown {
  const { PDFHexString, PDFNumber: Whole } = lib;
  const refs = items.map(() => context.nextRef());
  items.forEach(({ title, page, below }, n) => {
    const target = pages[Math.min(page, pages.length - 1)]!;
    const inner = below.length > 0 ? addItems(lib, context, pages, refs[n]!, below) : null;
    context.assign(
      refs[n]!,
      context.obj({
        Title: PDFHexString.fromText(title),
        Parent: parent,
        Dest: [target, "Fit"],
        ...(n > 0 ? { Prev: refs[n - 1]! } : {}),
        ...(n + 1 < refs.length ? { Next: refs[n + 1]! } : {}),
        // Below zero: there are so many, folded.
        ...(inner ? { ...inner, Count: Whole.of(-below.length) } : {}),
      }),
    );
  });
  return { First: refs[0]!, Last: refs.at(-1)!, Count: Whole.of(items.length) };
}
