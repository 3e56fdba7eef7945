/** Every sheet with a hostile text in every field of the show, opened in a browser that nothing holds back. */
import { chromium, type Browser } from "playwright";
import { afterAll, beforeAll, expect, it, onTestFinished } from "vitest";
import { analyse, sheetEntries } from "#engine";
import { QUIET_SWITCHES, findBrowser, sandboxSwitches } from "../../electron/services/find-browser.mjs";
import { demo } from "../engine/demo.ts";
import { MARKUP, withText } from "../engine/payload.ts";

let browser: Browser;
beforeAll(async () => {
  const executablePath = findBrowser();
  browser = await chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    args: [...sandboxSwitches(), ...QUIET_SWITCHES, "--disable-gpu"],
  });
});
afterAll(() => browser.close());

const DRAWN = new Set([
  "svg",
  "title",
  "g",
  "rect",
  "path",
  "line",
  "polyline",
  "polygon",
  "circle",
  "text",
  "tspan",
]);

it.each(MARKUP)("[Q3] %j stays text on every sheet: nothing runs, nothing is fetched", async (text) => {
  const analysis = analyse(withText(demo("starter-club"), text));
  const job = { analysis, paper: "A4", date: "2026-11-26", author: text } as const;
  const svgs: string[] = [];
  for (const entry of sheetEntries(analysis)) {
    const { pages } = await entry.make(job, {});
    svgs.push(...pages.map(({ svg }) => svg));
  }
  expect(svgs.length).toBeGreaterThan(5);
  const page = await browser.newPage();
  onTestFinished(() => page.close());
  const heard: string[] = [];
  page.on("dialog", (dialog) => {
    heard.push(`dialog ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on("request", (request) => heard.push(`request ${request.url()}`));
  page.on("console", (message) => heard.push(`console ${message.text()}`));
  page.on("pageerror", (error) => heard.push(`error ${error.message}`));
  // No policy here: what could run, would.
  await page.setContent(`<!doctype html><title>sheets</title>${svgs.join("")}`);
  const found = await page.evaluate((files) => {
    const told = new Set<string>();
    for (const element of document.body.querySelectorAll("*")) {
      told.add(element.localName);
      for (const { name, value } of element.attributes) {
        if (/^on/i.test(name) || /href/i.test(name) || /url\(/.test(value)) told.add(`${name}=${value}`);
      }
    }
    // As files of their own, which are read as XML.
    const broken = files.filter(
      (svg) => new DOMParser().parseFromString(svg, "image/svg+xml").querySelector("parsererror") !== null,
    );
    return { told: [...told], broken: broken.length };
  }, svgs);
  expect(found.told.filter((name) => !DRAWN.has(name))).toEqual([]);
  expect(found.broken).toBe(0);
  expect(heard).toEqual([]);
});
