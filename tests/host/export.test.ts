/**
 * `headless export` as a user calls it: what it writes where, what it says, and what it leaves when it can't. Files are
 * looked into by other programs: `papaparse`, `graphology`, Graphviz, poppler's `pdfinfo` and `pdftotext` where they are.
 */
import { execFile, execFileSync } from "node:child_process";
import {
  chmodSync,
  copyFileSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { Graphviz } from "@hpcc-js/wasm-graphviz";
import { Ajv } from "ajv";
import Graph from "graphology";
import { parse } from "graphology-graphml";
import Papa from "papaparse";
import { beforeAll, describe, expect, it } from "vitest";
import { analyse, asWritten, handoutHtml, saveShow, sheetEntries, TABLE_NAMES } from "#engine";
import type { ExportReport } from "../../electron/headless/export.ts";
import { ensureBuilt, outputOf } from "../../build/build.mjs";
import { ROOT } from "../../build/lib/project.mjs";
import { demo } from "../engine/demo.ts";
import { withText } from "../engine/payload.ts";
import { tempFolder } from "./support/temp.ts";

const DEMO = join(ROOT, "assets", "demo", "starter-club.hopline");
const SHOW = demo("starter-club");
const DATE = "2026-11-26";

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly error: string;
}

beforeAll(() => ensureBuilt(["headless"]), 240_000);

function run(words: readonly string[], env: Readonly<Record<string, string>> = {}): Promise<Ran> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [outputOf("headless"), "export", ...words],
      { maxBuffer: 1 << 28, env: { ...process.env, ...env } },
      (problem, out, error) => resolve({ code: problem ? Number(problem.code) : 0, out, error }),
    );
  });
}

const to = (format: string, out: string, ...words: string[]): Promise<Ran> =>
  run([DEMO, "--to", format, "--out", out, "--date", DATE, ...words]);

/** A program in a browser's place. */
function program(script: string): string {
  const path = join(tempFolder(), "browser");
  writeFileSync(path, `#!/bin/sh\n${script}\n`);
  chmodSync(path, 0o755);
  return path;
}

const NO_BROWSER = { HOPLINE_BROWSER: "/gone/browser" };
const textOf = (path: string): string => readFileSync(path, "utf8");

describe("[H41] what needs no browser, without one", () => {
  it("html is the hand-out", async () => {
    const file = join(tempFolder(), "x.html");
    const ran = await run([DEMO, "--to", "html", "--out", file, "--date", DATE], NO_BROWSER);
    expect(ran).toEqual({ code: 0, out: `wrote ${file}\n`, error: "" });
    expect(textOf(file)).toBe(handoutHtml(analyse(SHOW), DATE));
  });

  it("graphml and dot are the wiring, by signal unless cables are asked for", async () => {
    const folder = tempFolder();
    const [a, b] = [join(folder, "a.graphml"), join(folder, "b.dot")];
    expect((await run([DEMO, "--to", "graphml", "--out", a], NO_BROWSER)).code).toBe(0);
    expect((await run([DEMO, "--to", "dot", "--sheet", "cables", "--out", b], NO_BROWSER)).code).toBe(0);
    expect(parse(Graph, textOf(a)).directedSize).toBeGreaterThan(500);
    const graph = (await Graphviz.load()).createGraph().read(textOf(b));
    expect(graph.nodeCount()).toBe(SHOW.devices.length);
    graph.delete();
  });

  it("csv is every table of the papers and the six lists, each in a file, with nothing that runs", async () => {
    const folder = tempFolder();
    const show = withText(SHOW, "=1+1");
    const file = join(tempFolder(), "payload.hopline");
    writeFileSync(file, saveShow(show));
    const ran = await run([file, "--to", "csv", "--out", folder, "--json"], NO_BROWSER);
    expect(ran.error).toBe("");
    const { files } = JSON.parse(ran.out) as ExportReport;
    expect(readdirSync(folder)).toHaveLength(files.length);
    const sheets = new Set(files.flatMap((each) => each.sheets));
    for (const list of Object.keys(TABLE_NAMES)) expect(sheets).toContain(`list/${list}`);
    // All lists stand among the papers' tables too, but for those that are pictures.
    expect(sheets.size).toBeGreaterThan(8);
    let met = 0;
    for (const { path } of files) {
      const rows = Papa.parse<string[]>(textOf(path).slice(1), { delimiter: "," }).data;
      for (const cell of rows.flat()) {
        expect(cell, path).not.toMatch(/^[\s"]*[=+@＝＋＠|%]/);
        if (asWritten(cell) === "=1+1") met++;
      }
    }
    expect(met).toBeGreaterThan(50);
  });

  it("a diagram is the same where the code kept for the layout library is taken, refused and missing", async () => {
    const drawn = async (change: (kept: Buffer) => Buffer): Promise<string> => {
      const folder = tempFolder();
      const dist = dirname(outputOf("headless"));
      mkdirSync(join(folder, "dist"));
      symlinkSync(join(ROOT, "assets"), join(folder, "assets"));
      for (const name of readdirSync(dist).filter((each) => /^headless.*\.(js|bin)$/.test(each)))
        copyFileSync(join(dist, name), join(folder, "dist", name));
      const file = join(folder, "dist", "headless-layouts.bin");
      writeFileSync(file, change(readFileSync(file)));
      const svg = join(folder, "x.svg");
      const words = ["export", DEMO, "--to", "svg", "--sheet", "diagram", "--date", DATE, "--out", svg];
      execFileSync(process.execPath, [join(folder, "dist", "headless.js"), ...words]);
      return textOf(svg);
    };
    const codeIn = (kept: Buffer): number => 4 + kept.readUInt32LE(0);
    const taken = await drawn((kept) => {
      // What V8 made of the library is there to be taken.
      expect(kept.length - codeIn(kept)).toBeGreaterThan(500_000);
      return kept;
    });
    // V8 knows code of its own by its first bytes.
    const refused = await drawn((kept) => Buffer.from(kept).fill(0xff, codeIn(kept), codeIn(kept) + 16));
    const missing = await drawn((kept) => kept.subarray(0, codeIn(kept)));
    expect(taken).toContain("<svg");
    expect(refused).toBe(taken);
    expect(missing).toBe(taken);
  }, 60_000);

  it("svg of a sheet is a page each: numbered, or by name in a folder", async () => {
    const folder = tempFolder();
    const [entry] = sheetEntries(analyse(SHOW)).filter(({ kind }) => kind === "outputs by box");
    const made = await entry!.make({ analysis: analyse(SHOW), paper: "A4", date: DATE, author: "" }, {});
    const one = await run(
      [
        DEMO,
        "--to",
        "svg",
        "--sheet",
        entry!.title,
        "--paper",
        "a4",
        "--out",
        join(folder, "x.svg"),
        "--date",
        DATE,
      ],
      NO_BROWSER,
    );
    expect(one.code).toBe(0);
    const names = readdirSync(folder).sort();
    const count = made.pages.length;
    expect(names).toEqual(
      count === 1 ? ["x.svg"] : Array.from({ length: count }, (_, n) => `x-${n + 1}.svg`).sort(),
    );
    const first = textOf(join(folder, names[0]!));
    // The page itself, with its typeface in it.
    expect(first).toContain("@font-face");
    expect(first).toMatch(/^<svg [^>]*width="210mm" height="297mm"/);
    const into = join(folder, "into");
    mkdirSync(into);
    await run([DEMO, "--to", "svg", "--sheet", entry!.id, "--out", into], NO_BROWSER);
    expect(readdirSync(into).every((name) => name.startsWith(entry!.id.replaceAll("/", "-")))).toBe(true);
  });

  it("csv of a sheet by its name is that sheet's table and no list", async () => {
    const file = join(tempFolder(), "x.csv");
    const { out } = await to("csv", file, "--sheet", "ownership", "--json");
    expect((JSON.parse(out) as ExportReport).files.map(({ path, sheets }) => [path, sheets])).toEqual([
      [file, ["ownership"]],
    ]);
    const rows = Papa.parse<string[]>(textOf(file).slice(1), { delimiter: "," }).data;
    expect(rows[0]).toContain("Could break it");
  });

  it("a signal's diagram is asked for by its source or jack; what isn't there is said", async () => {
    const file = join(tempFolder(), "x.svg");
    const jack = "Stage box Out 1";
    expect((await to("svg", file, "--sheet", `signal/${jack}`)).error).toBe("");
    expect(textOf(file)).toContain(`Signal flow of ${jack}`);
    const { code, error } = await to("svg", file, "--sheet", `signal/${jack}x`);
    expect(code).toBe(2);
    expect(error).toMatch(/^hopline: [^\n]*\n$/);
    expect(error).toContain(`the show has no source or jack "${jack}x"; nearest: "signal/`);
  });

  it("[H45] pdf is the full set", async () => {
    const file = join(tempFolder(), "x.pdf");
    const ran = await run([DEMO, "--to", "pdf", "--out", file, "--date", DATE], NO_BROWSER);
    expect(ran).toEqual({ code: 0, out: `wrote ${file}\n`, error: "" });
    expect(textOf(file)).toMatch(/^%PDF-1\.\d/);
  });

  it.each([
    ["png", []],
    ["pdf", ["--author", "舞台"]],
  ])("%s %s says what is missing, in one line, and writes nothing", async (format, more) => {
    const folder = tempFolder();
    const file = join(folder, `x.${format}`);
    const words = [DEMO, "--to", format, "--sheet", "findings", ...more, "--out", file];
    const { code, out, error } = await run(words, NO_BROWSER);
    expect([code, out]).toEqual([2, ""]);
    expect(error).toMatch(
      /^hopline: [^\n]*A (PDF|picture) can't be made here: there is no Chrome, Chromium or Edge[^\n]*\n$/,
    );
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe("[H41] [H43] with a browser", () => {
  it("pdf is the full set; the same show, date and options give the same bytes", async () => {
    const folder = tempFolder();
    const [a, b] = [join(folder, "a.pdf"), join(folder, "b.pdf")];
    const first = await to("pdf", a, "--author", "A. Tech", "--json");
    expect(first.error).toBe("");
    const report = JSON.parse(first.out) as ExportReport;
    const schema = JSON.parse(textOf(join(ROOT, "assets", "schema", "export-1.schema.json"))) as object;
    const validate = new Ajv({ allowUnionTypes: true }).compile(schema);
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    expect(report.files[0]!.sheets).toEqual(sheetEntries(analyse(SHOW)).map(({ id }) => id));
    await to("pdf", b, "--author", "A. Tech");
    expect(readFileSync(a).equals(readFileSync(b))).toBe(true);
  });

  it("png is as large as the paper at the scale: A4 is 794 × 1123 pixels at 96 to the inch", async () => {
    const file = join(tempFolder(), "x.png");
    const { error } = await to("png", file, "--sheet", "findings", "--paper", "A4", "--scale", "1.5");
    expect(error).toBe("");
    const bytes = readFileSync(file);
    // The header chunk of PNG (ISO/IEC 15948): width and height in four bytes each.
    expect([bytes.toString("latin1", 1, 4), bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual([
      "PNG",
      expect.closeTo(794 * 1.5, -0.4) as number,
      expect.closeTo(1123 * 1.5, -0.4) as number,
    ]);
  });

  it("a look at another rig is told in the report", async () => {
    const file = join(tempFolder(), "x.dot");
    const { out } = await to("dot", file, "--at", `off:${SHOW.devices[0]!.name}`, "--json");
    expect((JSON.parse(out) as ExportReport).at).toEqual({ off: [SHOW.devices[0]!.name], pulled: [] });
    expect(textOf(file)).toContain('verdict="off"');
  });
});

describe("[H43] calls that can't be", () => {
  const cases: readonly (readonly [what: string, line: RegExp, words: readonly string[]])[] = [
    ["no format", /needs --to, one of pdf, svg/, ["--out", "OUT/x.pdf"]],
    [
      "another format",
      /"docx" can't be exported to; there are pdf, svg, png, csv, html, graphml, dot/,
      ["--to", "docx", "--out", "OUT/x.docx"],
    ],
    ["no path", /needs --out PATH/, ["--to", "dot"]],
    [
      "another ending",
      /ends in \.svg, or a folder that is there, not ".*x\.pdf"/,
      ["--to", "svg", "--out", "OUT/x.pdf"],
    ],
    [
      "a sheet with a slip",
      /no sheet "findigs"; nearest: "findings"/,
      ["--to", "svg", "--sheet", "findigs", "--out", "OUT/x.svg"],
    ],
    [
      "a sheet like none",
      /no sheet "zzz"; there are .*cables.*findings/,
      ["--to", "svg", "--sheet", "zzz", "--out", "OUT/x.svg"],
    ],
    [
      "a list with a slip",
      /no list "imputs"; nearest: list\/inputs/,
      ["--to", "csv", "--sheet", "list/imputs", "--out", "OUT/x.csv"],
    ],
    [
      "another level",
      /no sheet "places"; there are signals and cables/,
      ["--to", "dot", "--sheet", "places", "--out", "OUT/x.dot"],
    ],
    [
      "another paper",
      /no paper "A5"; there are A4, A3, Letter, Tabloid/,
      ["--to", "svg", "--paper", "A5", "--out", "OUT/x.svg"],
    ],
    [
      "no day",
      /--date needs a day such as 2026-11-26, not "2026-02-30"/,
      ["--to", "dot", "--date", "2026-02-30", "--out", "OUT/x.dot"],
    ],
    [
      "no scale",
      /--scale needs a number from 0\.1 to 20, not "big"/,
      ["--to", "png", "--scale", "big", "--out", "OUT/x.png"],
    ],
    [
      "a sheet of the hand-out",
      /takes no --sheet/,
      ["--to", "html", "--sheet", "inputs", "--out", "OUT/x.html"],
    ],
    ["a folder that isn't there", /folder .*gone\/ is not there/, ["--to", "dot", "--out", "OUT/gone/"]],
    [
      "a file in a folder that isn't there",
      /folder is not there/,
      ["--to", "dot", "--out", "OUT/gone/x.dot"],
    ],
  ];
  it.each(cases)("%s", async (_what, line, words) => {
    const folder = tempFolder();
    const { code, out, error } = await run([DEMO, ...words.map((word) => word.replace("OUT", folder))]);
    expect([code, out]).toEqual([2, ""]);
    expect(error).toMatch(line);
    expect(error).toMatch(/^hopline: [^\n]*\n$/);
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe("[H42] nothing half-written", () => {
  it("a file that was there is replaced whole, and stays where the export can't be made", async () => {
    const folder = tempFolder();
    const file = join(folder, "x.pdf");
    writeFileSync(file, "before");
    const broken = program("exit 1");
    // Its letters are none of the paper typeface, so that a browser has to set it.
    const words = [DEMO, "--to", "pdf", "--sheet", "findings", "--author", "舞台", "--out", file];
    const { code, error } = await run(words, { HOPLINE_BROWSER: broken });
    expect(code).toBe(2);
    expect(error).toMatch(
      /^hopline: The typeface of papers has no “舞” [^\n]* The PDF was not made: [^\n]*\n$/,
    );
    expect(textOf(file)).toBe("before");
    expect(readdirSync(folder)).toEqual(["x.pdf"]);
  });

  it("a path that is taken by a folder: one line, and what of the others is new is taken away again", async () => {
    const folder = tempFolder();
    mkdirSync(join(folder, "list-mixes.csv"));
    const { code, error } = await run([DEMO, "--to", "csv", "--out", folder]);
    expect(code).toBe(2);
    expect(error).toMatch(/^hopline: “list-mixes\.csv” was not saved[^\n]*\n$/);
    expect(readdirSync(folder)).toEqual(["list-mixes.csv"]);
  });

  it.each([
    ["dies at once", "exit 1"],
    ["dies when it is spoken to", "head -c 1 <&3 >/dev/null; exit 3"],
    ["talks nonsense", "printf '{}\\0' >&4; head -c 1 <&3 >/dev/null; exit 0"],
  ])("[H40] a browser that %s paints nothing: one line, and nothing left behind", async (_what, script) => {
    const folder = tempFolder();
    const left = (): readonly string[] =>
      readdirSync(tmpdir()).filter((name) => name.startsWith("hopline-paint-"));
    const before = left();
    const words = [DEMO, "--to", "png", "--sheet", "findings", "--out", join(folder, "x.png")];
    const { code, error } = await run(words, { HOPLINE_BROWSER: program(script) });
    expect(code).toBe(2);
    expect(error).toMatch(/^hopline: The picture was not made: .*ended too early\. Export SVG instead\.\n$/);
    expect(readdirSync(folder)).toEqual([]);
    expect(left().filter((name) => !before.includes(name))).toEqual([]);
  });
});

/** Null where the program isn't there. */
function poppler(name: string, ...words: string[]): string | null {
  try {
    return execFileSync(name, words, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });
  } catch {
    return null;
  }
}
const POPPLER = poppler("pdfinfo", "-v") !== null;

describe("[H41] the PDF as poppler reads it", () => {
  // ANSI/ASME Y14.1: size A, 8.5 × 11 inches, and size B, 11 × 17; a point of PDF is 1/72 inch (ISO 32000-1, 8.3.2.3).
  it.skipIf(!POPPLER).each([
    ["Letter", 612, 792],
    ["Tabloid", 792, 1224],
  ])("every page on %s is %d × %d points, upright or lying", async (paper, short, long) => {
    const file = join(tempFolder(), "x.pdf");
    expect((await to("pdf", file, "--paper", paper)).error).toBe("");
    const sizes = poppler("pdfinfo", "-l", "999", file)!.matchAll(
      /^Page +\d+ size: +([\d.]+) x ([\d.]+) pts/gm,
    );
    const met = new Set([...sizes].map(([, width, height]) => `${width} ${height}`));
    expect([...met].sort()).toEqual([`${long} ${short}`, `${short} ${long}`].sort());
  });

  const title = "pages of the paper's size, one for each page of the sheets, and every source in its text";
  it.skipIf(!POPPLER)(POPPLER ? title : `${title} – not run: no poppler-utils`, async () => {
    const file = join(tempFolder(), "x.pdf");
    const show = demo();
    const quayside = join(ROOT, "assets", "demo", "quayside.hopline");
    const words = [quayside, "--to", "pdf", "--sheet", "inputs", "--paper", "A4", "--out", file];
    expect((await run(words, NO_BROWSER)).error).toBe("");
    const analysis = analyse(show);
    const entries = sheetEntries(analysis).filter(({ kind }) => kind === "inputs");
    let pages = 0;
    for (const entry of entries) {
      const made = await entry.make({ analysis, paper: "A4", date: DATE, author: "" }, {});
      pages += made.pages.length;
    }
    const info = poppler("pdfinfo", file)!;
    expect(info).toMatch(new RegExp(`^Pages: +${pages}$`, "m"));
    // A4 is 595.28 × 841.89 points (ISO 216).
    expect(info).toMatch(/^Page size: +595\.27\d* x 841\.89 pts \(A4\)$/m);
    const said = poppler("pdftotext", "-layout", file, "-")!;
    const planned = show.sources.filter(({ id }) => show.channels.some(({ source }) => source === id));
    expect(planned.length).toBeGreaterThan(30);
    expect(planned.filter(({ name }) => !said.includes(name)).map(({ name }) => name)).toEqual([]);
  });
});
