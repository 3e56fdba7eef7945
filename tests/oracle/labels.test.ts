/**
 * Labels measured on what goes to a printer: the PDF is read back by poppler (`pdftocairo` for lines, `pdftotext` for
 * words), which knows nothing of Hopline.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { id, type DeviceId } from "#engine/model/ids.ts";
import { PAPERS, type Paper } from "#engine/model/show.ts";
import { stripSheets, USUAL_STRIPS } from "#engine/paperwork/labels/strips.ts";
import { tagSheets, USUAL_TAGS } from "#engine/paperwork/labels/tags.ts";
import type { Sheet } from "#engine/paperwork/page.ts";
import { PaperPress } from "../../electron/services/paper-press.ts";
import { BrowserPrinter } from "../../electron/services/printing.ts";
import { demo } from "../engine/demo.ts";

const POPPLER = ["pdftocairo", "pdftotext", "pdfinfo"].every(
  (program) => spawnSync(program, ["-v"]).error === undefined,
);
const BECAUSE = POPPLER ? "" : " – not run: no poppler-utils";

/** Without a browser: what it can't set itself fails. */
const PRESS = new PaperPress(
  fileURLToPath(new URL("../../assets", import.meta.url)),
  new BrowserPrinter({ find: () => undefined }),
);

const folder = mkdtempSync(join(tmpdir(), "hopline-labels-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function printed(name: string, sheets: readonly Sheet[]): Promise<string> {
  const pdf = await PRESS.pdf(
    {
      pages: sheets.flatMap(({ pages }) => pages),
      facts: { title: name, author: "", date: "2026-11-26", outline: [] },
    },
    new AbortController().signal,
  );
  if (!pdf.ok) throw new Error(pdf.error.message);
  const path = join(folder, `${name}.pdf`);
  writeFileSync(path, pdf.value);
  return path;
}

function told(program: string, ...words: string[]): string {
  const { stdout, status } = spawnSync(program, words, { encoding: "utf8", maxBuffer: 100_000_000 });
  if (status !== 0) throw new Error(`${program} ended with ${status}`);
  return stdout;
}

/** A point of a PDF is 1/72 inch. */
const mm = (points: number): number => (points * 25.4) / 72;

interface Drawn {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly isFilledWhite: boolean;
  readonly isFilled: boolean;
}

/** Level lines and rectangles of a page, in millimetres from its upper left corner. */
function shapesOn(pdf: string, page: number): readonly Drawn[] {
  // Told not to: it would scale the page to a paper of whole points.
  const svg = told(
    "pdftocairo",
    "-svg",
    "-noshrink",
    "-nocenter",
    "-f",
    `${page}`,
    "-l",
    `${page}`,
    pdf,
    "-",
  );
  const paths = svg.matchAll(
    /<path style="([^"]*)" d="(M [-\d. LZM]*)"(?: transform="matrix\(([^)]*)\)")?\/>/g,
  );
  return [...paths].flatMap(([, style, d, matrix]) => {
    if (!style!.includes("stroke-width")) return [];
    const [a = 1, b = 0, c = 0, e = 1, left = 0, top = 0] = matrix?.split(",").map(Number) ?? [];
    const points = [...d!.matchAll(/[ML] ([-\d.]+) ([-\d.]+)/g)].map(([, x, y]) => ({
      x: mm(a * Number(x) + c * Number(y) + left),
      y: mm(b * Number(x) + e * Number(y) + top),
    }));
    const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)];
    const [x, y] = [Math.min(...xs), Math.min(...ys)];
    return [
      {
        x,
        y,
        width: Math.max(...xs) - x,
        height: Math.max(...ys) - y,
        isFilled: !style!.includes("fill:none"),
        isFilledWhite: style!.includes("fill:rgb(100%,100%,100%)"),
      },
    ];
  });
}

interface Word {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function wordsOn(pdf: string, page: number): readonly Word[] {
  const html = told("pdftotext", "-bbox", "-f", `${page}`, "-l", `${page}`, pdf, "-");
  return [
    ...html.matchAll(
      /<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)<\/word>/g,
    ),
  ].map(([, left, top, right, bottom, text]) => ({
    text: text!,
    left: mm(Number(left)),
    right: mm(Number(right)),
    top: mm(Number(top)),
    bottom: mm(Number(bottom)),
  }));
}

/** Papers lying, in millimetres: ISO 216, and ANSI/ASME Y14.1 (8.5 × 11 and 11 × 17 in). */
const LYING: Readonly<Record<Paper, readonly [number, number]>> = {
  A4: [297, 210],
  A3: [420, 297],
  Letter: [279.4, 215.9],
  Tabloid: [431.8, 279.4],
};

const near = (value: number, within: number) => ({
  asymmetricMatch: (other: unknown) => typeof other === "number" && Math.abs(other - value) <= within,
  toAsymmetricMatcher: () => `${value} ± ${within}`,
});

describe.skipIf(!POPPLER)(`strips measured in the PDF${BECAUSE}`, () => {
  const analysis = analyse(demo());
  const ROWS = [8, 12, 16] as const;
  const cases = PAPERS.flatMap((paper) => ROWS.map((perRow) => ({ paper, perRow })));
  let pdf = "";

  beforeAll(async () => {
    // The ears rack has one bank of 16 jacks: a page for each case.
    const sheets = cases.flatMap(({ paper, perRow }) =>
      stripSheets(
        { analysis, paper, date: "2026-11-26", author: "" },
        { ...USUAL_STRIPS, perRow, by: "device", devices: [id<DeviceId>("ears")] },
      ),
    );
    expect(sheets.flatMap(({ pages }) => pages)).toHaveLength(cases.length);
    pdf = await printed("strips", sheets);
  });

  test.each(cases)(
    "$perRow jacks on $paper: the panel of IEC 60297, jacks in even pitch, a true measure",
    ({ paper, perRow }) => {
      const page = cases.findIndex((each) => each.paper === paper && each.perRow === perRow) + 1;
      const [width, height] = LYING[paper];
      const info = told("pdfinfo", "-f", `${page}`, "-l", `${page}`, pdf);
      const size = /size:\s+([\d.]+) x ([\d.]+) pts/
        .exec(info)!
        .slice(1)
        .map((side) => mm(Number(side)));
      expect(size).toEqual([near(width, 0.01), near(height, 0.01)]);

      const shapes = shapesOn(pdf, page);
      // Frames are 20 mm high and not filled; each strip of the page is two of them, one below the other.
      const frames = shapes
        .filter((shape) => Math.abs(shape.height - 20) < 0.05 && !shape.isFilled && shape.width > 50)
        .sort((a, b) => a.y - b.y);
      const strips = Math.ceil(16 / perRow);
      expect(frames).toHaveLength(2 * strips);
      const cells = shapes
        .filter((shape) => Math.abs(shape.height - 20) < 0.05 && shape.isFilledWhite)
        .sort((a, b) => a.y - b.y || a.x - b.x);
      expect(cells).toHaveLength(16);
      // 450 mm between the posts, shared evenly: 56.25, 37.5 or 28.125 mm.
      const pitch = 450 / perRow;
      for (let strip = 0; strip < strips; strip++) {
        const [first, second] = [frames[2 * strip]!, frames[2 * strip + 1]!];
        // IEC 60297: 482.6 mm.
        expect(first.width + second.width).toEqual(near(482.6, 0.2));
        for (const frame of [first, second]) {
          expect(frame.x).toBeGreaterThan(5);
          expect(frame.x + frame.width).toBeLessThan(width - 5);
          const within = cells.filter(({ y }) => Math.abs(y - frame.y) < 0.1);
          within.forEach((cell, n) => {
            // What is left of 482.6 mm at each side is an ear of 16.3 mm.
            const left = (frame === first ? 16.3 : 0) + n * pitch;
            expect(cell.x - frame.x).toEqual(near(left, 0.1));
            expect(cell.width).toEqual(near(pitch, 0.1));
          });
        }
      }
      expect(shapes.filter((shape) => shape.height < 0.01 && Math.abs(shape.width - 100) < 0.1)).toHaveLength(
        1,
      );

      // Each jack's number stands in its cell, from the same distance of its left edge on.
      const words = wordsOn(pdf, page);
      const offsets = cells.map((cell, n) => {
        const inside = words.filter(
          ({ text, left, right, top }) =>
            text === `${n + 1}` &&
            left >= cell.x &&
            right <= cell.x + cell.width &&
            top > cell.y - 1 &&
            top < cell.y + 3,
        );
        return (inside[0]?.left ?? Number.NaN) - cell.x;
      });
      expect(offsets).toEqual(offsets.map(() => near(1.1, 0.1)));
    },
  );
});

describe.skipIf(!POPPLER)(`label sheets measured in the PDF${BECAUSE}`, () => {
  const analysis = analyse(demo());
  const cases = [
    // Common practice, from memory: size, number and the gap between columns; the rest of the paper is margin, halved.
    { on: "a4-21", paper: [210, 297], labels: [3, 7], size: [63.5, 38.1], gap: 2.5 },
    { on: "a4-24", paper: [210, 297], labels: [3, 8], size: [70, 37], gap: 0 },
    { on: "a4-65", paper: [210, 297], labels: [5, 13], size: [38.1, 21.2], gap: 2.5 },
    { on: "letter-30", paper: [215.9, 279.4], labels: [3, 10], size: [66.675, 25.4], gap: 3.175 },
  ] as const;

  let pdf = "";
  /** The check page of each kind of sheet. */
  const checks: number[] = [];

  beforeAll(async () => {
    const job = { analysis, paper: "A4", date: "2026-11-26", author: "" } as const;
    const sheets = cases.flatMap(({ on }) => tagSheets(job, { ...USUAL_TAGS, on }));
    let page = 1;
    for (const { pages } of sheets) {
      checks.push(page);
      page += pages.length;
    }
    pdf = await printed("tags", sheets);
  });

  test.each(cases)(
    "$on: outlines on the check page, every word on its label",
    ({ on, paper, labels, size, gap }) => {
      const check = checks[cases.findIndex((each) => each.on === on)]!;
      const [columns, rows] = labels;
      const left = (paper[0] - columns * size[0] - (columns - 1) * gap) / 2;
      const top = (paper[1] - rows * size[1]) / 2;
      const outlines = shapesOn(pdf, check)
        .filter(
          ({ width, height, isFilled }) =>
            !isFilled && Math.abs(width - size[0]) < 0.1 && Math.abs(height - size[1]) < 0.1,
        )
        .sort((a, b) => Math.round(a.y - b.y) || a.x - b.x);
      expect(outlines).toHaveLength(columns * rows);
      outlines.forEach(({ x, y }, n) => {
        expect(x).toEqual(near(left + (n % columns) * (size[0] + gap), 0.1));
        expect(y).toEqual(near(top + Math.floor(n / columns) * size[1], 0.1));
      });
      // 53 cables, two tags each; words of the measure stand below the labels.
      const pages = Math.ceil(106 / (columns * rows));
      const tags: string[] = [];
      for (let page = check + 1; page <= check + pages; page++) {
        const bottom = top + rows * size[1];
        for (const word of wordsOn(pdf, page).filter((each) => each.top < bottom)) {
          const home = outlines.filter(
            ({ x, y, width, height }) =>
              word.left >= x &&
              word.right <= x + width &&
              word.top >= y - 0.5 &&
              word.bottom <= y + height + 0.5,
          );
          expect(home, word.text).toHaveLength(1);
          tags.push(word.text);
        }
      }
      for (const tag of ["L1", "W12", "A8"]) expect(tags.filter((text) => text === tag)).toHaveLength(2);
    },
  );
});
