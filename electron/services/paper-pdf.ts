/** Papers as a PDF without a browser: each page's drawing instructions, and the letters that they use. */
import { deflateSync } from "node:zlib";
import type * as PdfLib from "@cantoo/pdf-lib";
import type { PDFDocument, PDFRef } from "@cantoo/pdf-lib";
import type { PdfFacts } from "#engine";
import type { Page } from "#engine/paperwork/page.ts";
import { addFacts } from "./pdf-finish.ts";
import { drawingOf, faceName, opacityName, POINTS, type Inks } from "./paper-page.ts";
import type { PaperFace, PaperType } from "./paper-type.ts";

/** A page as it goes into the file. */
export interface SetPage {
  /** Its instructions, deflated. */
  readonly content: Uint8Array;
  readonly faces: ReadonlySet<number>;
  readonly opacities: ReadonlySet<number>;
  /** Letters that were to be set and that the typeface lacks. */
  readonly lacking: ReadonlySet<string>;
}

/** Throws `UnknownDrawing` on a page that isn't one of ours. */
export function setPage(page: Page, type: PaperType): SetPage {
  const inks: Inks = { type, faces: new Set(), opacities: new Set(), lacking: new Set() };
  return { content: deflateSync(drawingOf(page, inks)), ...inks };
}

/** Loaded when it is needed: most runs of a host print nothing. */
export const pdfLibrary = (): Promise<typeof PdfLib> => import("@cantoo/pdf-lib");

/** The same pages and facts give the same bytes. */
export async function paperPdf(
  pages: readonly Page[],
  set: readonly SetPage[],
  facts: PdfFacts,
  type: PaperType,
): Promise<Uint8Array> {
  const lib = await pdfLibrary();
  const pdf = await lib.PDFDocument.create({ updateMetadata: false });
  const { context } = pdf;
  const resources = context.register(
    context.obj({
      Font: Object.fromEntries(
        used(set.map(({ faces }) => faces)).map((n) => [faceName(n), addFace(lib, pdf, type.faces[n]!, n)]),
      ),
      ExtGState: Object.fromEntries(
        used(set.map(({ opacities }) => opacities)).map((each) => [
          opacityName(each),
          context.obj({ Type: "ExtGState", CA: each / 100 }),
        ]),
      ),
    }),
  );
  pages.forEach(({ width, height }, n) => {
    const page = pdf.addPage([points(width), points(height)]);
    page.node.set(lib.PDFName.of("Resources"), resources);
    page.node.set(lib.PDFName.of("Contents"), addStream(lib, pdf, set[n]!.content, {}));
  });
  addFacts(lib, pdf, facts);
  return pdf.save({ addDefaultPage: false });
}

/** All of them, each once, in order. */
const used = (sets: readonly ReadonlySet<number>[]): readonly number[] =>
  [...new Set(sets.flatMap((each) => [...each]))].sort((a, b) => a - b);

const points = (millimetres: number): number => Math.round(millimetres * POINTS * 1e4) / 1e4;

/** A stream that is deflated already. */
function addStream(
  lib: typeof PdfLib,
  { context }: PDFDocument,
  bytes: Uint8Array,
  entries: Readonly<Record<string, number>>,
): PDFRef {
  const dict = context.obj({ ...entries, Filter: "FlateDecode", Length: bytes.length });
  return context.register(lib.PDFRawStream.of(dict, bytes));
}

/** ISO 32000-1, 9.7: a composite font, its letters by their own codes, so that each is told by its own Unicode. */
function addFace(lib: typeof PdfLib, pdf: PDFDocument, face: PaperFace, n: number): PDFRef {
  const { context } = pdf;
  // 9.6.4: six letters before the name say that it is a part of the typeface.
  const name = `HOPLN${String.fromCharCode(65 + n)}+${face.name}`;
  const file = Buffer.from(face.ttf, "base64");
  const descriptor = context.register(
    context.obj({
      Type: "FontDescriptor",
      FontName: name,
      // Symbolic: its letters aren't those of one Latin table.
      Flags: 4,
      FontBBox: [...face.box],
      ItalicAngle: 0,
      Ascent: face.ascent,
      Descent: face.descent,
      CapHeight: face.capHeight,
      StemV: face.weight === 700 ? 140 : 85,
      FontFile2: addStream(lib, pdf, deflateSync(file), { Length1: file.length }),
    }),
  );
  const glyphs = Buffer.alloc(2 * (face.glyphs.length + 1));
  face.glyphs.forEach((glyph, at) => glyphs.writeUInt16BE(glyph, 2 * (at + 1)));
  const letters = context.register(
    context.obj({
      Type: "Font",
      Subtype: "CIDFontType2",
      BaseFont: name,
      CIDSystemInfo: {
        Registry: lib.PDFString.of("Adobe"),
        Ordering: lib.PDFString.of("Identity"),
        Supplement: 0,
      },
      FontDescriptor: descriptor,
      DW: 0,
      W: [1, [...face.widths]],
      CIDToGIDMap: addStream(lib, pdf, deflateSync(glyphs), {}),
    }),
  );
  return context.register(
    context.obj({
      Type: "Font",
      Subtype: "Type0",
      BaseFont: name,
      Encoding: "Identity-H",
      DescendantFonts: [letters],
      ToUnicode: addStream(lib, pdf, deflateSync(toUnicode(face)), {}),
    }),
  );
}

/** Most entries that one section of the table may have (9.10.3). */
const SECTION = 100;

/** 9.10.3: what each code stands for, so that text is found and copied. */
function toUnicode({ letters }: PaperFace): string {
  const entries = [...letters].map(
    (letter, at) =>
      `<${hex(at + 1)}> <${[...Array(letter.length).keys()].map((k) => hex(letter.charCodeAt(k))).join("")}>`,
  );
  const sections: string[] = [];
  for (let from = 0; from < entries.length; from += SECTION) {
    const some = entries.slice(from, from + SECTION);
    sections.push(`${some.length} beginbfchar\n${some.join("\n")}\nendbfchar`);
  }
  return [
    "/CIDInit /ProcSet findresource begin",
    "12 dict begin",
    "begincmap",
    "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def",
    "/CMapName /Adobe-Identity-UCS def",
    "/CMapType 2 def",
    "1 begincodespacerange\n<0000> <ffff>\nendcodespacerange",
    ...sections,
    "endcmap",
    "CMapName currentdict /CMap defineresource pop",
    "end\nend",
  ].join("\n");
}

const hex = (code: number): string => code.toString(16).padStart(4, "0");
