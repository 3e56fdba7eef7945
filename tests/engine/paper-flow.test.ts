/** How sheets are set on pages: widths of text, lines, tables over several pages, what stands around them. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { analyse, loadShow, type Show } from "#engine";
import type { Block } from "#engine/paperwork/block.ts";
import { flowSheet } from "#engine/paperwork/flow.ts";
import { PT, SMALLEST, type PaperJob } from "#engine/paperwork/page.ts";
import { fitMiddle, paperWidth, wrapped } from "#engine/paperwork/type.ts";
import { sheetEntries, sheetsNamed } from "#engine/paperwork/sheets/sheets.ts";

function showAt(path: string): Show {
  const loaded = loadShow(readFileSync(new URL(`../../assets/demo/${path}`, import.meta.url), "utf8"));
  if (!loaded.ok) throw new Error(loaded.error.message);
  return loaded.value;
}

const job = (path = "quayside.hopline"): PaperJob => ({
  analysis: analyse(showAt(path)),
  paper: "A4",
  date: "2026-11-26",
  author: "",
});

const table = (rows: number): Block => ({
  kind: "table",
  table: {
    title: "Jacks",
    columns: [{ title: "Jack", grow: 0 }, { title: "Feed" }],
    rows: Array.from({ length: rows }, (_, n) => ({ cells: [`Out ${n + 1}`, `Wedge ${n + 1}`] })),
    empty: "None.",
  },
});

const textsOf = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) => text!);

describe("[Q1] text is as wide as the typeface makes it", () => {
  it("a digit of 9 points: 610 thousandths of 3.175 mm for a 2", () => {
    // The typeface's own advance width, 610 of 1000 units (generated/widths.ts); a point is 1/72 inch.
    expect(paperWidth("2", 9)).toBeCloseTo(0.61 * 9 * (25.4 / 72), 6);
  });

  it("a square for each letter that the typeface lacks, nothing for a mark that stands on another", () => {
    expect(paperWidth("舞台", 10)).toBeCloseTo(2 * 1.05 * 10 * PT, 6);
    expect(paperWidth("e\u0323", 10)).toBeCloseTo(paperWidth("e", 10), 6);
  });

  it("lines break between words, after hyphens, never in a range; a word that is too long breaks where it must", () => {
    const room = paperWidth("Stage left Out", 9);
    expect(wrapped("Stage left Out 17–24", 9, room)).toEqual(["Stage left Out", "17–24"]);
    const narrow = paperWidth("nnnn", 9);
    expect(wrapped("nnnnnnnnnn", 9, narrow)).toEqual(["nnnn", "nnnn", "nn"]);
  });

  it("what is shortened loses its middle and keeps its last letters", () => {
    const name = "Wedge of the second trombone 12";
    const short = fitMiddle(name, 9, 30);
    expect(short).toMatch(/^Wedge.*….*12$/);
    expect(paperWidth(short, 9)).toBeLessThanOrEqual(30);
    expect(fitMiddle(name, 9, 200)).toBe(name);
  });
});

describe("[Q2] a table goes on over the page", () => {
  const sheet = flowSheet(job(), { id: "x", title: "Outputs", orientation: "upright", blocks: [table(100)] });

  it("with its headings on each page and each row once", () => {
    expect(sheet.pages.length).toBeGreaterThan(1);
    for (const { svg } of sheet.pages) expect(textsOf(svg)).toContain("Feed");
    const rows = sheet.pages.flatMap(({ svg }) => textsOf(svg).filter((text) => /^Wedge \d+$/.test(text)));
    expect(rows).toEqual(Array.from({ length: 100 }, (_, n) => `Wedge ${n + 1}`));
  });

  it("numbered page by page, with show, revision and date on each", () => {
    sheet.pages.forEach(({ svg }, n) => {
      const texts = textsOf(svg);
      expect(texts).toContain(`page ${n + 1} of ${sheet.pages.length}`);
      expect(texts).toContain("Quayside Winter Concert");
      expect(texts.join(" ")).toMatch(/revision A, 2026-11-20.*printed 2026-11-26/);
    });
  });

  it("a heading never stands alone at the foot of a page", () => {
    // Rows fill the page to within a line of its end, wherever that is.
    for (let rows = 38; rows < 52; rows++) {
      const { pages } = flowSheet(job(), {
        id: "x",
        title: "Outputs",
        orientation: "upright",
        blocks: [table(rows), { kind: "heading", text: "Spare" }, { kind: "text", text: "None left." }],
      });
      const page = pages.find(({ svg }) => textsOf(svg).includes("Spare"))!;
      expect(textsOf(page.svg)).toContain("None left.");
    }
  });
});

describe("[Q3] what a field says stands on paper as text and nothing else", () => {
  it("markup in a cell is written out, and a lone surrogate becomes the sign for what can't be read", () => {
    const { pages } = flowSheet(job(), {
      id: "x",
      title: "<script>alert(1)</script>",
      orientation: "upright",
      blocks: [{ kind: "text", text: "a\ud800b & </text><image href='x'/>" }],
    });
    expect(pages[0]!.svg).not.toMatch(/<script|<image/);
    expect(pages[0]!.svg).toContain("a\ufffdb &amp; &lt;/text&gt;");
  });
});

describe("[Q4] every sheet of a show", () => {
  for (const file of ["quayside.hopline", "quayside-faults.hopline"]) {
    it(`is set in at least ${SMALLEST} points, on whole pages: ${file}`, async () => {
      const one = job(file);
      for (const entry of sheetEntries(one.analysis)) {
        const sheet = await entry.make(one, {});
        expect(sheet.pages.length, entry.id).toBeGreaterThan(0);
        for (const { svg } of sheet.pages) {
          const sizes = [...svg.matchAll(/<text[^>]* font-size="([\d.]+)"/g)].map(([, size]) => Number(size));
          // Sizes are written to a hundredth of a millimetre.
          for (const size of sizes) expect(size + 0.005, entry.id).toBeGreaterThanOrEqual(SMALLEST * PT);
        }
      }
    });
  }

  it("same show and date, same bytes", async () => {
    const make = async (): Promise<string> => {
      const one = job();
      const made = sheetEntries(one.analysis).map(async (entry) => entry.make(one, {}));
      return JSON.stringify(await Promise.all(made));
    };
    expect(await make()).toBe(await make());
  });

  it("is found by its id, its title or its kind; else the nearest names are told", () => {
    const entries = sheetEntries(job().analysis);
    for (const entry of entries) {
      // An id comes before a kind: `diagram` is the whole rig's.
      const isId = entries.some(({ id }) => id === entry.kind);
      for (const name of [entry.id, entry.title, ...(isId ? [] : [entry.kind])]) {
        const found = sheetsNamed(entries, name);
        expect(found.ok && found.value, name).toContain(entry);
      }
    }
    expect(sheetsNamed(entries, "fndings")).toEqual({
      ok: false,
      error: expect.stringMatching(/the show has no sheet "fndings"; nearest: .*"findings"/) as string,
    });
  });
});
