/** Papers to PDF in the browser host: the page that is printed, and an installed browser that prints it. */
import { chmodSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import type { Paper } from "#engine";
import { BrowserPrinter, isPdf, printablePage } from "../../electron/services/printing.ts";
import type { PrintJob } from "../../electron/services/printing.ts";
import { tempFolder } from "./support/temp.ts";
import { codeOf, lineOf, valueOf } from "./support/values.ts";

vi.mock("electron", () => import("./support/stand-in-electron.ts"));

const job = (html: string, rest: Partial<PrintJob> = {}): PrintJob => ({
  html,
  paper: "A4",
  landscape: false,
  ...rest,
});

/** Sheets and their size in points, as the PDF's page tree tells them. */
function sheetsOf(pdf: Uint8Array): { count: number; size: readonly number[] } {
  const text = Buffer.from(pdf).toString("latin1");
  const count = Number(/\/Count (\d+)/.exec(text)?.[1]);
  const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(text)?.slice(1) ?? [];
  return { count, size: box.map((side) => Math.round(Number(side))) };
}

function isRunning(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch {
    return false;
  }
}

const leftovers = () => readdirSync(tmpdir()).filter((name) => name.startsWith("hopline-print-"));

describe("[H14] the page that is printed", () => {
  it("has the policy and the paper before anything of its own", () => {
    const page = printablePage(
      job("<!DOCTYPE html>\n<html><head><title>Plan</title></head></html>", { paper: "A3", landscape: true }),
    );
    const policy = page.indexOf("Content-Security-Policy");
    expect(policy).toBeGreaterThan(0);
    expect(policy).toBeLessThan(page.indexOf("<html>"));
    expect(page).toContain("@page { size: A3 landscape; }");
    expect(page.match(/<!doctype/gi)).toHaveLength(1);
  });

  const SIZES: readonly (readonly [Paper, "upright" | "across", number, number])[] = [
    ["A4", "upright", 595, 842],
    ["A3", "across", 1191, 842],
    ["Letter", "upright", 612, 792],
    ["Tabloid", "upright", 792, 1224],
    ["Tabloid", "across", 1224, 792],
  ];

  it.each(SIZES)("comes out on %s, %s", async (paper, orientation, width, height) => {
    const landscape = orientation === "across";
    const pdf = valueOf(await new BrowserPrinter().print(job("<p>Sheet</p>", { paper, landscape })));
    // Points, to the point: browsers round to whole device pixels.
    const near = (side: number) => expect.closeTo(side, -0.4) as number;
    expect(sheetsOf(pdf)).toEqual({ count: 1, size: [near(width), near(height)] });
  });

  it("keeps a size that it asks for itself", async () => {
    const pdf = valueOf(
      await new BrowserPrinter().print(job("<style>@page { size: 300pt 200pt }</style><p>Label</p>")),
    );
    expect(sheetsOf(pdf).size).toEqual([300, 200]);
  });

  it("runs no script and fetches nothing", async () => {
    const folder = tempFolder();
    const sheets = '<div style="break-before: page">more</div>'.repeat(4);
    writeFileSync(join(folder, "more.css"), "p { break-after: page; display: block }");
    const html = `<p>one</p><p>two</p>
      <script>document.body.innerHTML += ${JSON.stringify(sheets)};</script>
      <img src="x" onerror='document.body.innerHTML += ${JSON.stringify(sheets.replaceAll('"', "&quot;"))}'>
      <link rel="stylesheet" href="file://${folder}/more.css">`;
    expect(sheetsOf(valueOf(await new BrowserPrinter().print(job(html)))).count).toBe(1);
    // The check can fail: the same sheets in the page itself do come out.
    expect(sheetsOf(valueOf(await new BrowserPrinter().print(job(`<p>one</p>${sheets}`)))).count).toBe(5);
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
    ["a browser that never ends", () => program("exec sleep 600"), "took longer"],
  ];

  it.each(failing)("%s: one line, and nothing left behind", async (_name, find, line) => {
    const before = leftovers();
    const browser = find();
    const refused = await new BrowserPrinter({
      find: () => browser,
      limitMs: line === "took longer" ? 50 : 20_000,
    }).print(job("x"));
    expect(codeOf(refused)).toBe("cannot-print");
    expect(lineOf(refused)).toContain(line);
    expect(leftovers().filter((name) => !before.includes(name))).toEqual([]);
  });

  it("a browser that took too long is not left running", async () => {
    const note = join(tempFolder(), "pid");
    const slow = program(`echo $$ > ${note}; exec sleep 600`);
    // The limit counts from the start, so it must leave the time to write the note.
    await new BrowserPrinter({ find: () => slow, limitMs: 2_000 }).print(job("x"));
    const pid = Number(readFileSync(note, "utf8"));
    expect(pid).toBeGreaterThan(1);
    await expect.poll(() => isRunning(pid)).toBe(false);
  });

  it("tells a PDF from what is none", () => {
    expect(isPdf(Buffer.from("%PDF-1.7\n"))).toBe(true);
    for (const other of ["", "%PD", "<html>"]) expect(isPdf(Buffer.from(other))).toBe(false);
  });
});
