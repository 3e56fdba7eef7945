/** Papers: chosen in their dialog, looked at, and made into a PDF beside the show. Outside help: poppler-utils. */
import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Locator, Page } from "@playwright/test";
import { expect, menu, readShow, test } from "./app.ts";

const papers = (page: Page): Locator => page.getByRole("dialog", { name: "Papers" });
/** Counting goes on in the page's thread, beside whatever else the machine does. */
const LONG = { timeout: 60_000 };

async function openPapers(page: Page): Promise<Locator> {
  await page.keyboard.press("ControlOrMeta+p");
  await papers(page).waitFor();
  return papers(page);
}

/** Chooses these kinds and no others. */
async function choose(page: Page, ...kinds: readonly string[]): Promise<void> {
  await papers(page).getByRole("button", { name: "None", exact: true }).click();
  for (const kind of kinds) await papers(page).getByRole("checkbox", { name: kind, exact: true }).check();
}

/** Makes the PDF and waits until it is told where it is. */
async function makePdf(page: Page, path: string): Promise<number> {
  const button = papers(page).getByRole("button", { name: /^Make PDF of \d+ pages?$/ });
  await expect(button).toBeEnabled(LONG);
  const pages = Number(/\d+/.exec((await button.textContent())!)![0]);
  await button.click();
  await expect(page.getByText(`in ${path}`)).toBeVisible(LONG);
  return pages;
}

/** A tool of poppler-utils on a file; null where it isn't installed. */
function poppler(tool: string, ...args: readonly string[]): string | null {
  try {
    return execFileSync(tool, args, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
}

test("papers are chosen, made into a PDF beside the show, and remembered in it; the same again is the same bytes", async ({
  app: { page, showFile },
}) => {
  test.slow();
  const show = readShow(showFile);
  const first = join(dirname(showFile), `${show.title} papers.pdf`);
  await menu(page, "File", /^Papers/);
  await choose(page, "Input lists", "Findings");
  await papers(page).getByLabel("Author").fill("A. Tech");
  await papers(page).getByLabel("Author").press("Enter");
  await expect(papers(page).getByText("Mark revision B when they are printed")).toBeVisible();
  const pages = await makePdf(page, first);
  await expect(papers(page)).toBeHidden();

  const info = poppler("pdfinfo", first);
  test.skip(info === null, "not run: poppler-utils isn't installed");
  expect(info).toMatch(new RegExp(`^Pages: +${pages}$`, "m"));
  expect(info).toMatch(/^Author: +A\. Tech$/m);
  // ISO 216: lists are on A4, half of the diagram's A3.
  expect(info).toMatch(/^Page size: .*A4/m);
  const text = poppler("pdftotext", "-layout", first, "-")!;
  // Every channel that is planned stands on its console's list, and each page names the revision that was marked.
  for (const { name } of show.channels) expect(text).toContain(name);
  expect(text.match(/revision B, /g)).toHaveLength(pages);
  const [, , ...fonts] = poppler("pdffonts", first)!.trimEnd().split("\n");
  for (const font of fonts) expect(font).toMatch(/ yes yes yes /);
  const outline = poppler("pdftohtml", "-xml", "-i", "-stdout", first)!;
  expect(outline).toMatch(/<outline>\s*<item page="1">Input lists<\/item>/);

  // What was chosen is there again. Nothing has changed since the revision, so none is marked, and the papers are alike.
  await openPapers(page);
  await expect(papers(page).getByText("Nothing has changed since the last revision")).toBeVisible();
  await expect(papers(page).getByRole("checkbox", { name: "Findings" })).toBeChecked();
  await expect(papers(page).getByRole("checkbox", { name: "Cable schedule" })).not.toBeChecked();
  await expect(papers(page).getByLabel("Author")).toHaveValue("A. Tech");
  const second = join(dirname(showFile), `${show.title} papers (2).pdf`);
  await makePdf(page, second);
  expect(readFileSync(second).equals(readFileSync(first))).toBe(true);

  await page.keyboard.press("ControlOrMeta+s");
  await expect
    .poll(() => readShow(showFile).paperwork)
    .toEqual({
      author: "A. Tech",
      sheets: ["inputs", "findings"],
    });
  const { revisions } = readShow(showFile);
  expect(revisions.map(({ name }) => name)).toEqual(["A", "B"]);
  expect(revisions.at(-1)?.note).toBe(`printed: ${pages} pages of Input lists, Findings`);
});

test("a print that is called off leaves no file, no browser and no revision", async ({
  app: { page, showFile },
}) => {
  test.slow();
  await openPapers(page);
  await choose(page, "Input lists");
  // Letters that the paper typeface lacks: a browser sets the papers, which takes its time.
  await papers(page).getByLabel("Author").fill("舞台");
  const button = papers(page).getByRole("button", { name: /^Make PDF of/ });
  await expect(button).toBeEnabled(LONG);
  await button.click();
  await papers(page)
    .getByText(/^Printing \d+ pages…$/)
    .waitFor();
  await papers(page).getByRole("button", { name: "Cancel" }).click();
  // The dialog is back as it was.
  await expect(button).toBeEnabled(LONG);
  await expect(papers(page).getByRole("alert")).toHaveCount(0);
  await page.keyboard.press("Escape");
  await expect(papers(page)).toBeHidden();
  expect(readdirSync(dirname(showFile)).filter((name) => name.endsWith(".pdf"))).toEqual([]);
  await expect(page.getByRole("banner").getByText("as in the file")).toBeVisible();
});

test("pages are looked at as they come out: turned by keys, and each a file of its own", async ({
  app: { page, showFile },
}) => {
  test.slow();
  await openPapers(page);
  await papers(page)
    .getByRole("button", { name: /^Input lists/ })
    .click();
  const desk = papers(page).getByRole("group", { name: "Page; arrow keys turn" });
  await expect(desk.getByRole("img", { name: "Input list: Front of house, page 1 of 2" })).toBeVisible(LONG);
  await desk.press("ArrowRight");
  await expect(desk.getByRole("img", { name: "Input list: Front of house, page 2 of 2" })).toBeVisible(LONG);
  await desk.press("PageDown");
  await expect(desk.getByRole("img", { name: /^Input list: Monitors, page 1/ })).toBeVisible(LONG);
  await desk.press("ArrowLeft");
  await expect(desk.getByRole("img", { name: "Input list: Front of house, page 2 of 2" })).toBeVisible(LONG);
  // Drawn, not only named.
  expect(
    await desk.getByRole("img").evaluate((image: HTMLImageElement) => image.naturalWidth),
  ).toBeGreaterThan(500);

  const folder = dirname(showFile);
  const file = (name: string): string => join(folder, `${readShow(showFile).title} ${name}`);
  const asFile = papers(page).getByRole("group", { name: "This page as a file" });
  await asFile.getByRole("button", { name: "SVG" }).click();
  const svg = file("Input list Front of house page 2.svg");
  await expect.poll(() => existsSync(svg)).toBe(true);
  expect(readFileSync(svg, "utf8")).toMatch(/^<svg[^>]*>.*font\/woff2/);
  await asFile.getByRole("button", { name: "PNG" }).click();
  const png = file("Input list Front of house page 2.png");
  await expect.poll(() => existsSync(png), LONG).toBe(true);
  // PNG, third edition, 5.3 and 11.2.1: eight bytes, then IHDR with width and height. A4 at 300 to the inch.
  const bytes = readFileSync(png);
  expect([bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual([2480, 3508]);
  await asFile.getByRole("button", { name: "CSV of the table" }).click();
  const csv = file("Input list Front of house.csv");
  await expect.poll(() => existsSync(csv)).toBe(true);
  expect(readFileSync(csv, "utf8")).toContain("Kick in");
});
