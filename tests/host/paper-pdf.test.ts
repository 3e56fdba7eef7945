/**
 * Papers to PDF without a browser. What comes out is held against two programs that know nothing of Hopline: poppler reads
 * it, and Chromium prints the same pages, which have to look the same.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { inflateSync } from "node:zlib";
import { PDFArray, PDFDict, PDFDocument, PDFName, PDFRawStream } from "@cantoo/pdf-lib";
import { beforeAll, describe, expect, it } from "vitest";
import { err, outlineOf, type HostResult, type PdfFacts } from "#engine";
import { paperHtml } from "#engine/paperwork/html.ts";
import { PAPER_FONT, type Page } from "#engine/paperwork/page.ts";
import { line } from "#engine/paperwork/pen.ts";
import { paperWidth } from "#engine/paperwork/type.ts";
import { drawingOf, UnknownDrawing } from "../../electron/services/paper-page.ts";
import { PaperPress } from "../../electron/services/paper-press.ts";
import { PaperType, type PaperFace } from "../../electron/services/paper-type.ts";
import { BrowserPrinter, CANCELLED, type PdfPrinter } from "../../electron/services/printing.ts";
import { hostError } from "../../electron/services/host-error.ts";
import { paperFonts, setOf } from "./support/paper-set.ts";
import { NO_POPPLER, poppler, popplerBytes } from "./support/poppler.ts";
import { tempFolder } from "./support/temp.ts";
import { codeOf, lineOf, valueOf } from "./support/values.ts";

const ASSETS = new URL("../../assets", import.meta.url).pathname;
const FACES = JSON.parse(readFileSync(join(ASSETS, "fonts/paper-pdf.json"), "utf8")) as readonly PaperFace[];
const GOES_ON = new AbortController().signal;

const FACTS: PdfFacts = { title: "Tour", author: "", date: "2026-11-26", outline: [] };

/** A page of 100 × 50 mm. */
const page = (inner: string, attributes = ""): Page => ({
  width: 100,
  height: 50,
  svg: `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50" font-family="${PAPER_FONT.replaceAll("'", "&#39;")}" fill="#191d20"${attributes}><title>x</title>${inner}</svg>`,
});

const TYPE = new PaperType(FACES);
const inks = () => ({
  type: TYPE,
  faces: new Set<number>(),
  opacities: new Set<number>(),
  lacking: new Set<string>(),
});
/** The page's instructions, without the first, which sets millimetres. */
const drawn = (inner: string): readonly string[] => drawingOf(page(inner), inks()).split("\n").slice(1);

/** A printer that must not be asked. */
const NO_PRINTER: PdfPrinter = { print: () => Promise.reject(new Error("a browser was asked")) };
const PRESS = new PaperPress(ASSETS, NO_PRINTER);

const pdfOf = async (pages: readonly Page[], facts = FACTS, press = PRESS): Promise<Uint8Array> =>
  valueOf(await press.pdf({ pages, facts }, GOES_ON));

function written(bytes: Uint8Array): string {
  const path = join(tempFolder(), "x.pdf");
  writeFileSync(path, bytes);
  return path;
}

const textOf = (path: string): string => poppler("pdftotext", "-layout", path, "-")!;

describe("[H45] what papers are drawn with", () => {
  it.each(["quayside", "quayside-faults", "starter-club", "starter-festival", "starter-theatre", "club"])(
    "every page of %s is made of it, in letters of the paper typeface",
    { timeout: 300_000 },
    async (name) => {
      const used = inks();
      const pages = (await setOf(name)).flatMap(({ sheet }) => sheet.pages);
      expect(pages.length).toBeGreaterThan(10);
      for (const each of pages) drawingOf(each, used);
      expect([...used.lacking]).toEqual([]);
    },
  );

  const unknown: readonly (readonly [string, string])[] = [
    ["an element", '<ellipse cx="1" cy="1" rx="1" ry="1"/>'],
    ["an element of JavaScript's own", "<constructor/>"],
    ["a script", "<script>1</script>"],
    ["an attribute", '<rect x="1" y="1" width="1" height="1" filter="url(#x)"/>'],
    ["an attribute twice", '<rect x="1" x="2" y="1" width="1" height="1"/>'],
    ["a size that is missing", '<rect x="1" y="1" width="1"/>'],
    ["a size in words", '<rect x="1" y="1" width="wide" height="1"/>'],
    ["a number with an exponent", '<rect x="1" y="1" width="1e3" height="1"/>'],
    ["a colour by name", '<rect x="1" y="1" width="1" height="1" fill="red"/>'],
    ["a colour with more in it", '<rect x="1" y="1" width="1" height="1" fill="#fff rg"/>'],
    ["another transform", '<g transform="scale(2)"></g>'],
    ["another path", '<path d="M1 1A2 2 0 0 1 3 3"/>'],
    ["a path with too few numbers", '<path d="M1"/>'],
    ["dashes in words", '<line x1="0" y1="0" x2="1" y2="1" stroke="#000" stroke-dasharray="long"/>'],
    ["an anchor", '<text x="1" y="1" font-size="3" text-anchor="left">x</text>'],
    ["a weight", '<text x="1" y="1" font-size="3" font-weight="500">x</text>'],
    ["an element within a text", '<text x="1" y="1" font-size="3"><tspan>x</tspan></text>'],
    ["an entity", '<text x="1" y="1" font-size="3">&nbsp;</text>'],
    ["words outside of a text", "words"],
    ["something within a rectangle", '<rect x="1" y="1" width="1" height="1"><title>x</title></rect>'],
    ["a page within a page", '<svg viewBox="0 0 100 50"></svg>'],
    ["an end too many", "</g>"],
    ["an end that is missing", "<g>"],
    ["an end of another", "<g></svg>"],
    ["a comment", "<!-- x -->"],
    ["an element that breaks off", '<rect x="1'],
  ];
  it.each(unknown)("%s that isn't of the set is refused", async (_what, inner) => {
    expect(() => drawn(inner)).toThrow(UnknownDrawing);
    const refused = await PRESS.pdf({ pages: [page(inner)], facts: FACTS }, GOES_ON);
    expect(codeOf(refused)).toBe("cannot-print");
    expect(lineOf(refused)).toMatch(/^The PDF was not made: a page has /);
  });

  it("a page of another size than it says, one that begins otherwise or goes on behind its end is refused", () => {
    const whole = page("");
    expect(() => drawingOf({ ...whole, width: 101 }, inks())).toThrow("viewBox");
    expect(() => drawingOf({ ...whole, svg: "<g></g>" }, inks())).toThrow("no svg element");
    expect(() => drawingOf({ ...whole, svg: `${whole.svg}<g></g>` }, inks())).toThrow("behind its end");
    expect(() => drawingOf({ ...whole, svg: "" }, inks())).toThrow(UnknownDrawing);
  });

  // ISO 32000-1, 8.5: re, m, l, c, h build a path; f fills, S strokes, B does both; rg, RG, w, d say how.
  it("shapes are what SVG says of them", () => {
    expect(drawn('<rect x="1" y="2" width="3" height="4"/>')).toEqual([
      "0.098 0.1137 0.1255 rg",
      "1 2 3 4 re f",
    ]);
    expect(drawn('<rect x="1" y="2" width="3" height="4" fill="none"/>')).toEqual([]);
    expect(
      drawn(
        '<rect x="1" y="2" width="3" height="4" fill="#fff" stroke="#000" stroke-width="0.5" stroke-dasharray="1.5 1"/>',
      ),
    ).toEqual(["1 1 1 rg", "0 0 0 RG", "0.5 w", "[1.5 1] 0 d", "1 2 3 4 re B"]);
    // Lines are never filled, and a width of 0 is none: a PDF's thinnest line would be drawn.
    expect(drawn('<line x1="1" y1="2" x2="3" y2="4" stroke="#f00"/>')).toEqual([
      "1 0 0 RG",
      "1 w",
      "1 2 m 3 4 l S",
    ]);
    expect(drawn('<line x1="1" y1="2" x2="3" y2="4" stroke="#f00" stroke-width="0"/>')).toEqual([]);
    // A curve of one handle at (3, 0) from (0, 0) to (3, 3): handles at two thirds, (2, 0) and (3, 1).
    expect(drawn('<path d="M0 0Q3 0 3 3L9 9Z" fill="#00f"/>')).toEqual([
      "0 0 1 rg",
      "0 0 m 2 0 3 1 3 3 c 9 9 l h f",
    ]);
  });

  it("nothing is said twice, and what a group says ends with it", () => {
    const rect = (fill: string): string => `<rect x="1" y="1" width="1" height="1" fill="${fill}"/>`;
    const path = "1 1 1 1 re f";
    expect(drawn(rect("#000") + rect("#000"))).toEqual(["0 0 0 rg", path, path]);
    // A quarter turn against the clock about (10, 20), where y counts downwards: (x, y) goes to (y − 10, 30 − x).
    expect(
      drawn(
        `${rect("#000")}<g transform="rotate(-90 10 20)">${rect("#fff")}</g>${rect("#000")}${rect("#fff")}`,
      ),
    ).toEqual(["0 0 0 rg", path, "q 0 -1 1 0 -10 30 cm", "1 1 1 rg", path, "Q", path, "1 1 1 rg", path]);
    expect(drawn(`<g>${rect("#fff")}</g>${rect("#fff")}`)).toEqual(["1 1 1 rg", path, path]);
  });

  it("lines are as opaque as they say, and opaque again after", () => {
    const stroke = (opacity: string): string =>
      `<line x1="0" y1="0" x2="1" y2="1" stroke="#000" stroke-width="1"${opacity}/>`;
    const used = inks();
    const said = drawingOf(page(stroke(' stroke-opacity="0.7"') + stroke("")), used);
    expect(said.split("\n").slice(3)).toEqual(["/A70 gs", "0 0 m 1 1 l S", "/A100 gs", "0 0 m 1 1 l S"]);
    expect([...used.opacities]).toEqual([70, 100]);
  });
});

describe("[H45] letters", () => {
  const type = TYPE;
  /** Thousandths of the size. */
  const widthOf = (text: string, bold = false): number => type.line(text, bold ? 700 : 400).width;

  it("are as wide as the engine says, but for kerning, which draws them together", () => {
    for (const bold of [false, true]) {
      for (const text of ["nnnn", "Stage left 17–24", "К3 Ελλάς Łódź", "AVAVAV → To. P."]) {
        const set = (widthOf(text, bold) / 1000) * 9 * (25.4 / 72);
        const engine = paperWidth(text, 9, bold);
        expect(set).toBeLessThanOrEqual(engine * 1.001);
        expect(set).toBeGreaterThan(engine * 0.9);
      }
    }
    expect(widthOf("AV")).toBeLessThan(widthOf("A") + widthOf("V"));
    expect(widthOf("nn")).toBeCloseTo(2 * widthOf("n"), 6);
  });

  it("white space counts as one space, and what is not to be seen is not drawn", () => {
    expect(type.line(" a \n\t b ", 400)).toEqual(type.line("a b", 400));
    expect(type.line("so\u00adft\u200b", 400)).toEqual(type.line("soft", 400));
    expect(type.line(" \n", 400)).toEqual({ runs: [], width: 0, lacking: [] });
  });

  it("a letter with its mark apart is the letter that has it, and one that nobody has is lacking", () => {
    expect(type.line("Zu\u0308rich", 400)).toEqual(type.line("Zürich", 400));
    expect(type.line("舞台 ok x\u0329", 700).lacking).toEqual(["舞", "台", "\u0329"]);
    expect(type.line("舞x", 400)).toEqual({ ...type.line("x", 400), lacking: ["舞"] });
  });
});

describe("[H16] a PDF without a browser, as poppler reads it", () => {
  const words = (text: string, y: number, bold = false): string => line(text, 10, y, { points: 9, bold });

  it("its typeface is in it, only the parts that are used, and every letter is the one that was meant", async ({
    skip,
  }) => {
    // Latin, Greek and Cyrillic letters that look alike, and spaces that do: each comes back as itself.
    const said = ["A Α А 17–24", "“K3” → page 4 · 110 Ω, ±0.2 µs × 2 ≥ 1", "Łódź Čeština Ελλάδα Україна ①"];
    const path = written(await pdfOf([page(said.map((text, n) => words(text, 10 + 8 * n)).join(""))]));
    const fonts = poppler("pdffonts", path);
    if (fonts === null) return skip(NO_POPPLER);
    const rows = fonts.trimEnd().split("\n").slice(2);
    expect(rows).toHaveLength(5);
    // Name, type, encoding; embedded, a subset, with a table of letters.
    for (const row of rows) {
      expect(row).toMatch(/^[A-Z]{6}\+Inter-Regular +CID TrueType +Identity-H +yes yes yes /);
    }
    const text = textOf(path);
    for (const each of said) expect(text).toContain(each);
    const bold = written(await pdfOf([page(words("Bold", 10, true))]));
    expect(poppler("pdffonts", bold)!.trimEnd().split("\n").slice(2)).toEqual([
      expect.stringMatching(/\+Inter-Bold /),
    ]);
  });

  it("words stand where they were set, from the left, about the middle and to the right", async ({
    skip,
  }) => {
    const at = (anchor: "start" | "middle" | "end", y: number): string =>
      line("Avenue", 50, y, { points: 12, anchor });
    const path = written(await pdfOf([page(at("start", 10) + at("middle", 20) + at("end", 30))]));
    const html = poppler("pdftotext", "-bbox", path, "-");
    if (html === null) return skip(NO_POPPLER);
    const boxes = [...html.matchAll(/<word xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)"/g)].map(
      ([, left, right]) => [(Number(left) * 25.4) / 72, (Number(right) * 25.4) / 72] as const,
    );
    expect(boxes).toHaveLength(3);
    const [start, middle, end] = boxes as [(typeof boxes)[0], (typeof boxes)[0], (typeof boxes)[0]];
    expect(start[0]).toBeCloseTo(50, 1);
    expect((middle[0] + middle[1]) / 2).toBeCloseTo(50, 1);
    expect(end[1]).toBeCloseTo(50, 1);
  });

  it("its pages have the very size that they say, each its own", async () => {
    const svg = (width: number, height: number): Page => ({
      width,
      height,
      svg: page("").svg.replace("0 0 100 50", `0 0 ${width} ${height}`),
    });
    const pdf = await PDFDocument.load(await pdfOf([svg(210, 297), svg(431.8, 279.4)]));
    // ISO 216: 210 × 297 mm; ANSI/ASME Y14.1: 17 × 11 in. 72 points to the inch of 25.4 mm.
    expect(pdf.getPages().map((each) => each.getSize())).toEqual([
      {
        width: expect.closeTo((210 / 25.4) * 72, 3) as number,
        height: expect.closeTo((297 / 25.4) * 72, 3) as number,
      },
      { width: expect.closeTo(1224, 3) as number, height: expect.closeTo(792, 3) as number },
    ]);
  });

  it("asks to be printed as large as it is: labels are measured", async () => {
    const pdf = await PDFDocument.load(await pdfOf([page("")]));
    expect(pdf.catalog.getViewerPreferences()?.getPrintScaling()).toBe("None");
  });

  it("no text can say anything to the reader of the file", async () => {
    const hostile = ") Tj ET Q q ( \\) %";
    const pdf = await PDFDocument.load(await pdfOf([page(words(hostile, 10) + words("<~>]TJ", 20))]));
    const contents = pdf.getPages()[0]!.node.lookup(PDFName.of("Contents"));
    if (!(contents instanceof PDFRawStream)) throw new Error("a page without instructions");
    const said = inflateSync(contents.contents).toString("latin1");
    // Letters are told by numbers only.
    expect(said.replaceAll(/\[[<>0-9a-f.-]*\] TJ/g, "TJ")).toMatch(/^[-\d. cmMrgBTFfJE/\n]*$/);
  });
});

describe("[H45] letters that the typeface lacks", () => {
  const SET = [page(line("Kick", 10, 10, { points: 9 })), page(line("舞台 Left", 10, 10, { points: 9 }))];

  it("have a browser set all pages, each page one and the letters in it", async ({ skip }) => {
    const path = written(await pdfOf(SET, FACTS, new PaperPress(ASSETS, new BrowserPrinter())));
    if (poppler("pdfinfo", path) === null) return skip(NO_POPPLER);
    expect(poppler("pdfinfo", path)).toMatch(/^Pages: +2$/m);
    expect(textOf(path)).toMatch(/Kick[^]*Left/);
  });

  it("without a browser: one line names them and the way out", async () => {
    const press = new PaperPress(ASSETS, new BrowserPrinter({ find: () => undefined }));
    const refused = await press.pdf({ pages: SET, facts: FACTS }, GOES_ON);
    expect(codeOf(refused)).toBe("cannot-print");
    expect(lineOf(refused)).toBe(
      "The typeface of papers has no “舞” (U+821E) and “台” (U+53F0), so a browser has to set them. A PDF can't be made here: there is no Chrome, Chromium or Edge on this machine. Install one, or export SVG or HTML instead.",
    );
    const many = await press.pdf(
      { pages: [page(line("一二三四五六七", 10, 10, { points: 9 }))], facts: FACTS },
      GOES_ON,
    );
    expect(lineOf(many)).toContain("“五” (U+4E94) and 2 other letters, so");
  });

  it("are told whether the page was set ahead or not, as is what papers don't use", async () => {
    const press = new PaperPress(ASSETS, new BrowserPrinter({ find: () => undefined }));
    const strange = page("<b></b>");
    for (const each of [...SET, strange]) await press.prepare(each);
    expect(lineOf(await press.pdf({ pages: SET, facts: FACTS }, GOES_ON))).toContain(
      "“舞” (U+821E) and “台”",
    );
    expect(lineOf(await press.pdf({ pages: [strange], facts: FACTS }, GOES_ON))).toContain("the element <b>");
  });

  it("[H17] a print that is called off there answers so", async () => {
    const printer: PdfPrinter = { print: () => Promise.resolve(err(CANCELLED)) };
    const answer = await new PaperPress(ASSETS, printer).pdf({ pages: SET, facts: FACTS }, GOES_ON);
    expect(codeOf(answer)).toBe("cancelled");
  });
});

describe("[H15] [H17] a PDF that can't be, or isn't wanted any more", () => {
  const many = Array.from({ length: 50 }, (_, n) => page(line(`Page ${n}`, 10, 10, { points: 9 })));

  it("is called off before, and between two pages", async () => {
    const before = AbortSignal.abort();
    expect(codeOf(await PRESS.pdf({ pages: many, facts: FACTS }, before))).toBe("cancelled");
    const stop = new AbortController();
    const pages = many.map((each, n) => ({
      ...each,
      get svg() {
        if (n === 20) stop.abort();
        return each.svg;
      },
    }));
    const answer: HostResult<unknown> = await PRESS.pdf({ pages, facts: FACTS }, stop.signal);
    expect([codeOf(answer), lineOf(answer)]).toEqual([
      "cancelled",
      "The PDF was not made: printing was cancelled.",
    ]);
  });

  it("without the typeface: one line names the file, and it is looked for again the next time", async () => {
    const press = new PaperPress(tempFolder(), NO_PRINTER);
    const refused = await press.pdf({ pages: many, facts: FACTS }, GOES_ON);
    expect(codeOf(refused)).toBe("cannot-print");
    expect(lineOf(refused)).toMatch(/typeface of papers is missing: .*paper-pdf\.json can't be read\.$/);
  });

  it("a browser that fails says what the line says, with the letters it was for", async () => {
    const printer: PdfPrinter = {
      print: () => Promise.resolve(err(hostError("cannot-print", "The PDF was not made: it died."))),
    };
    const refused = await new PaperPress(ASSETS, printer).pdf(
      { pages: [page(line("舞", 10, 10, { points: 9 }))], facts: FACTS },
      GOES_ON,
    );
    expect(lineOf(refused)).toBe(
      "The typeface of papers has no “舞” (U+821E), so a browser has to set them. The PDF was not made: it died.",
    );
  });
});

describe("[H46] beside Chromium's PDF of the same pages", () => {
  const DPI = 72;
  /** Pixels; at 72 to the inch a cell is 4.2 mm wide. */
  const CELL = 12;
  /** Of 255: edges fall on other parts of a pixel, most on small black fields. A word that is missing or moved makes more. */
  const MOST = 21;

  interface Grey {
    readonly width: number;
    readonly height: number;
    readonly pixels: Buffer;
  }

  function painted(path: string, n: number): Grey {
    const file = popplerBytes("pdftoppm", "-r", `${DPI}`, "-gray", "-f", `${n}`, "-l", `${n}`, path)!;
    const [head, width, height] = /^P5\s(\d+) (\d+)\s\d+\s/.exec(file.subarray(0, 60).toString("latin1"))!;
    return { width: Number(width), height: Number(height), pixels: file.subarray(head.length) };
  }

  /** Where the two pages differ, by the mean of each cell. */
  function differences(a: Grey, b: Grey): readonly string[] {
    const [width, height] = [Math.min(a.width, b.width), Math.min(a.height, b.height)];
    const found: string[] = [];
    for (let y = 0; y + CELL <= height; y += CELL) {
      for (let x = 0; x + CELL <= width; x += CELL) {
        let sum = 0;
        for (let row = y; row < y + CELL; row++) {
          for (let column = x; column < x + CELL; column++) {
            sum += a.pixels[row * a.width + column]! - b.pixels[row * b.width + column]!;
          }
        }
        const by = Math.abs(sum) / CELL / CELL;
        if (by > MOST) found.push(`at ${x}, ${y} by ${by.toFixed(1)}`);
      }
    }
    return found;
  }

  const printed = async (pages: readonly Page[]): Promise<string> =>
    written(valueOf(await new BrowserPrinter().print(paperHtml("x", pages, paperFonts), GOES_ON)));

  it("the first page of every sheet of the demo looks the same", { timeout: 300_000 }, async ({ skip }) => {
    if (poppler("pdftoppm", "-v") === null) return skip(NO_POPPLER);
    const made = await setOf("quayside");
    const pages = made.flatMap(({ sheet }) => sheet.pages.slice(0, 1));
    expect(pages.length).toBeGreaterThan(40);
    const [ours, theirs] = [written(await pdfOf(pages)), await printed(pages)];
    const faults: string[] = [];
    pages.forEach((_, n) => {
      const [a, b] = [painted(ours, n + 1), painted(theirs, n + 1)];
      // Chromium lays pages out in whole pixels.
      expect(Math.abs(a.width - b.width)).toBeLessThanOrEqual(1);
      for (const each of differences(a, b)) faults.push(`page ${n + 1} ${each}`);
    });
    expect(faults).toEqual([]);
  });

  it("the check can fail", async ({ skip }) => {
    if (poppler("pdftoppm", "-v") === null) return skip(NO_POPPLER);
    const at = (x: number, bold = false): readonly Page[] => [
      page(line("Kick in, snare top", x, 20, { points: 9, bold })),
    ];
    const [same, moved, gone] = await Promise.all(
      [at(10), at(14), [page("")]].map(async (pages) => painted(written(await pdfOf(pages)), 1)),
    );
    const theirs = painted(await printed(at(10)), 1);
    expect(differences(same!, theirs)).toEqual([]);
    expect(differences(moved!, theirs)).not.toEqual([]);
    expect(differences(gone!, theirs)).not.toEqual([]);
  });
});

describe("[H43] the same pages give the same bytes", () => {
  let pages: readonly Page[] = [];
  let facts = FACTS;
  beforeAll(async () => {
    const made = await setOf("starter-club");
    pages = made.flatMap(({ sheet }) => sheet.pages);
    facts = { ...FACTS, outline: outlineOf(made) };
  }, 60_000);

  it("from two presses, and another day gives others", async () => {
    const first = Buffer.from(await pdfOf(pages, facts));
    expect(first.equals(await pdfOf(pages, facts, new PaperPress(ASSETS, NO_PRINTER)))).toBe(true);
    expect(first.equals(await pdfOf(pages, { ...facts, date: "2026-11-27" }))).toBe(false);
  });

  it("whether pages were set ahead or not", async () => {
    const press = new PaperPress(ASSETS, NO_PRINTER);
    for (const each of pages.slice(3)) await press.prepare(each);
    expect(Buffer.from(await pdfOf(pages, facts, press)).equals(await pdfOf(pages, facts))).toBe(true);
  });

  it("letters are told once for all pages", async () => {
    const pdf = await PDFDocument.load(await pdfOf(pages, facts));
    const fonts = new Set(
      pdf
        .getPages()
        .map((each) => each.node.lookup(PDFName.of("Resources"), PDFDict).get(PDFName.of("Font"))),
    );
    expect(fonts.size).toBe(1);
    expect(pdf.getPages()[0]!.node.get(PDFName.of("Annots")) instanceof PDFArray).toBe(false);
  });
});
