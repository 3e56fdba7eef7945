/** HTML to PDF by an installed browser, for papers in letters that the typeface lacks, and what every PDF says of itself. */
import { execFileSync } from "node:child_process";
import { chmodSync, existsSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { BrowserPrinter, isPdf, printablePage } from "../../electron/services/printing.ts";
import { finishPdf } from "../../electron/services/pdf-finish.ts";
import type { PdfFacts } from "#engine";
import { PAPER_FONT, type Page } from "#engine/paperwork/page.ts";
import { PaperPress } from "../../electron/services/paper-press.ts";
import { NO_POPPLER, poppler } from "./support/poppler.ts";
import { tempFolder } from "./support/temp.ts";
import { codeOf, lineOf, valueOf } from "./support/values.ts";

vi.mock("electron", () => import("./support/stand-in-electron.ts"));

const GOES_ON = new AbortController().signal;

const print = async (html: string): Promise<Uint8Array> =>
  valueOf(await new BrowserPrinter().print(html, GOES_ON));

/** Sheets and their sizes in points, as the PDF's page tree tells them. */
function sheetsOf(pdf: Uint8Array): { count: number; sizes: readonly (readonly number[])[] } {
  const text = Buffer.from(pdf).toString("latin1");
  const count = Number(/\/Count (\d+)/.exec(text)?.[1]);
  const sizes = [...text.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, width, height]) => [
    Math.round(Number(width)),
    Math.round(Number(height)),
  ]);
  return { count, sizes };
}

/** One that ended and that nobody has asked about yet (`Z`) runs no more. */
function isRunning(pid: number): boolean {
  try {
    const state = execFileSync("ps", ["-o", "stat=", "-p", String(pid)], { encoding: "utf8" }).trim();
    return state !== "" && !state.startsWith("Z");
  } catch {
    return false;
  }
}

const leftovers = () => readdirSync(tmpdir()).filter((name) => name.startsWith("hopline-print-"));

describe("[H14] the page that is printed", () => {
  it("has the policy before anything of its own", () => {
    const page = printablePage("<!DOCTYPE html>\n<html><head><title>Plan</title></head></html>");
    const policy = page.indexOf("Content-Security-Policy");
    expect(policy).toBeGreaterThan(0);
    expect(policy).toBeLessThan(page.indexOf("<html>"));
    expect(page.match(/<!doctype/gi)).toHaveLength(1);
  });

  it("comes out at the sizes that it says itself", async () => {
    // ISO 216: 210 × 297 mm and 420 × 297 mm; ANSI/ASME Y14.1: 11 × 17 in. Points of 1/72 in.
    const pdf = await print(`<style>
      @page a { size: 210mm 297mm } @page b { size: 420mm 297mm } @page c { size: 11in 17in }
      .a { page: a } .b { page: b } .c { page: c }
      </style><p class="a">A4</p><p class="b">A3</p><p class="c">Tabloid</p>`);
    // Points, to the point: browsers round to whole device pixels.
    const near = (side: number) => expect.closeTo(side, -0.4) as number;
    expect(sheetsOf(pdf)).toEqual({
      count: 3,
      sizes: [
        [near(595), near(842)],
        [near(1191), near(842)],
        [near(792), near(1224)],
      ],
    });
  });

  it("runs no script and fetches nothing", async () => {
    const folder = tempFolder();
    const sheets = '<div style="break-before: page">more</div>'.repeat(4);
    writeFileSync(join(folder, "more.css"), "p { break-after: page; display: block }");
    const html = `<p>one</p><p>two</p>
      <script>document.body.innerHTML += ${JSON.stringify(sheets)};</script>
      <img src="x" onerror='document.body.innerHTML += ${JSON.stringify(sheets.replaceAll('"', "&quot;"))}'>
      <link rel="stylesheet" href="file://${folder}/more.css">`;
    expect(sheetsOf(await print(html)).count).toBe(1);
    // The check can fail: the same sheets in the page itself do come out.
    expect(sheetsOf(await print(`<p>one</p>${sheets}`)).count).toBe(5);
  });
});

describe("[H15] printing that can't be", () => {
  /** A program in a browser's place. */
  function program(script: string): string {
    const path = join(tempFolder(), "browser");
    writeFileSync(path, `#!/bin/sh\n${script}\n`);
    chmodSync(path, 0o755);
    return path;
  }

  const failing: readonly (readonly [string, () => string | undefined, string])[] = [
    ["no browser", () => undefined, "no Chrome, Chromium or Edge"],
    ["a browser that is gone by now", () => "/gone/browser", "gave none"],
    ["a browser that fails", () => program("exit 1"), "gave none"],
    [
      "a browser that writes something else",
      () => program('for arg; do case $arg in --print-to-pdf=*) echo no > "${arg#*=}";; esac; done'),
      "gave none",
    ],
    [
      "a browser that dies while it writes",
      () =>
        program(
          'for arg; do case $arg in --print-to-pdf=*) echo "%PDF-1.4" > "${arg#*=}"; kill -9 $$;; esac; done',
        ),
      "gave none",
    ],
    ["a browser that never ends", () => program("exec sleep 600"), "took longer"],
  ];

  it.each(failing)("%s: one line, and nothing left behind", async (_name, find, line) => {
    const before = leftovers();
    const browser = find();
    const refused = await new BrowserPrinter({
      find: () => browser,
      limitMs: line === "took longer" ? 50 : 20_000,
    }).print("x", GOES_ON);
    expect(codeOf(refused)).toBe("cannot-print");
    expect(lineOf(refused)).toContain(line);
    expect(leftovers().filter((name) => !before.includes(name))).toEqual([]);
  });

  /** A browser behind a script that stays in front of it, as some packages start theirs; the note has its pid. */
  function lasting(): { readonly browser: string; readonly pid: () => number } {
    const note = join(tempFolder(), "pid");
    return {
      browser: program(`sleep 600 & echo $! > ${note}; wait`),
      pid: () => (existsSync(note) ? Number(readFileSync(note, "utf8")) : 0),
    };
  }

  it("a browser that took too long is not left running", async () => {
    const { browser, pid } = lasting();
    // The limit counts from the start, so it must leave the time to write the note.
    await new BrowserPrinter({ find: () => browser, limitMs: 2_000 }).print("x", GOES_ON);
    expect(pid()).toBeGreaterThan(1);
    await expect.poll(() => isRunning(pid())).toBe(false);
  });

  it("[H17] a print that is called off leaves neither browser nor folder", async () => {
    const before = leftovers();
    const { browser, pid } = lasting();
    const stop = new AbortController();
    const printing = new BrowserPrinter({ find: () => browser }).print("x", stop.signal);
    await expect.poll(pid, { timeout: 10_000 }).toBeGreaterThan(1);
    stop.abort();
    const answer = await printing;
    expect([codeOf(answer), lineOf(answer)]).toEqual([
      "cancelled",
      "The PDF was not made: printing was cancelled.",
    ]);
    await expect.poll(() => isRunning(pid())).toBe(false);
    expect(leftovers().filter((name) => !before.includes(name))).toEqual([]);
    expect(codeOf(await new BrowserPrinter({ find: () => browser }).print("x", stop.signal))).toBe(
      "cancelled",
    );
  });

  it("tells a whole PDF from what is none", () => {
    expect(isPdf(Buffer.from("%PDF-1.7\n1 0 obj\n%%EOF\n"))).toBe(true);
    for (const other of ["", "%PD", "<html>", "%PDF-1.7\n1 0 obj", "%%EOF"]) {
      expect(isPdf(Buffer.from(other)), other).toBe(false);
    }
  });
});

describe.each([
  { by: "set by Hopline", first: "Stage left 17–24" },
  { by: "set by a browser", first: "Stage left 17–24 舞台" },
])("[H16] the PDF $by", ({ first: words }) => {
  const FACTS: PdfFacts = {
    title: "Tour – Grüße, 舞台",
    author: "A. Tech",
    date: "2026-11-26",
    outline: [
      {
        title: "Input lists",
        page: 0,
        below: [
          { title: "Inputs at “FOH”", page: 0, below: [] },
          { title: "Inputs 舞台", page: 1, below: [] },
        ],
      },
      { title: "Findings", page: 2, below: [] },
    ],
  };
  const page = (words: string): Page => ({
    width: 210,
    height: 297,
    svg: `<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297" font-family="${PAPER_FONT.replaceAll("'", "&#39;")}"><text x="20" y="20" font-size="5">${words}</text></svg>`,
  });
  const pages = [page(words), page("Second"), page("Third")];
  const assets = new URL("../../assets", import.meta.url).pathname;
  const make = async (facts: PdfFacts): Promise<Buffer> =>
    Buffer.from(valueOf(await new PaperPress(assets, new BrowserPrinter()).pdf({ pages, facts }, GOES_ON)));

  it("is the same, byte for byte, for the same pages and day, and another for another day", async () => {
    const first = await make(FACTS);
    // A browser writes the second of printing into its file, so the two must not fall into one.
    const second = new Date().getSeconds();
    await expect.poll(() => new Date().getSeconds(), { timeout: 3_000 }).not.toBe(second);
    expect((await make(FACTS)).equals(first)).toBe(true);
    expect((await make({ ...FACTS, date: "2026-11-27" })).equals(first)).toBe(false);
  });

  it("says what it is, has its outline, its typeface and its words in it", async ({ skip }) => {
    const path = join(tempFolder(), "x.pdf");
    writeFileSync(path, await make(FACTS));
    const info = poppler("pdfinfo", "-isodates", path);
    if (info === null) return skip(NO_POPPLER);
    const facts = new Map(
      info.split("\n").map((line) => {
        const [name, ...rest] = line.split(":");
        return [name, rest.join(":").trim()] as const;
      }),
    );
    expect(facts.get("Title")).toBe("Tour – Grüße, 舞台");
    expect(facts.get("Author")).toBe("A. Tech");
    expect(facts.get("Creator")).toBe("Hopline");
    expect(facts.get("Producer")).toBe("Hopline");
    expect(facts.get("CreationDate")).toMatch(/^2026-11-26T00:00:00/);
    expect(facts.get("ModDate")).toMatch(/^2026-11-26T00:00:00/);
    expect(facts.get("Pages")).toBe("3");
    expect(facts.get("Page size")).toMatch(/A4/);

    // name, type, encoding, then whether it is embedded, a subset, and has a table of letters.
    const [, , ...rows] = poppler("pdffonts", path)!.trimEnd().split("\n");
    expect(rows.length).toBeGreaterThan(0);
    expect(rows.filter((row) => row.includes("Inter"))).not.toEqual([]);
    for (const row of rows) expect(row).toMatch(/ yes yes yes /);

    expect(poppler("pdftotext", "-layout", path, "-")).toContain("Stage left 17–24");

    const outline = /<outline>[\s\S]*<\/outline>/.exec(
      poppler("pdftohtml", "-xml", "-i", "-stdout", path)!,
    )?.[0];
    const lines = [...outline!.matchAll(/<item page="(\d+)">([^<]*)/g)].map(
      ([, at, title]) => `${at} ${title}`,
    );
    expect(lines).toEqual(["1 Input lists", "1 Inputs at “FOH”", "2 Inputs 舞台", "3 Findings"]);
  });
});

describe("[H16] the PDF of a browser", () => {
  it("that can't be read again is refused in one line", async () => {
    const refused = await finishPdf(Buffer.from("%PDF-1.4\nnothing\n%%EOF\n"), {
      title: "Tour",
      author: "",
      date: "2026-11-26",
      outline: [],
    });
    expect(codeOf(refused)).toBe("cannot-print");
    expect(lineOf(refused)).toMatch(/^The PDF was not made: [^\n]+$/);
  });
});
