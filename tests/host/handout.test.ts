/**
 * The hand-out in a browser, the size of a phone: what it shows of a jack, axe-core's rules, and that no text of a show runs
 * or has anything fetched.
 */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium, type Browser, type Page } from "playwright";
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from "vitest";
import { analyse, type Show } from "#engine";
import { handoutHtml } from "#engine/exchange/handout-html.ts";
import { QUIET_SWITCHES, findBrowser, sandboxSwitches } from "../../electron/services/find-browser.mjs";
import { demo } from "../engine/demo.ts";
import { MARKUP, withText } from "../engine/payload.ts";
import { axeFaults } from "./support/axe.ts";
import { tempFolder } from "./support/temp.ts";

const DATE = "2026-11-26";
const executablePath = findBrowser();
let browser: Browser;
beforeAll(async () => {
  browser = await chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    args: [...sandboxSwitches(), ...QUIET_SWITCHES, "--disable-gpu"],
  });
});
afterAll(() => browser.close());

interface Opened {
  readonly page: Page;
  /** Dialogs, requests, errors and lines on the console. */
  readonly heard: readonly string[];
}

/** The hand-out as a file on a phone. */
async function open(show: Show, colorScheme: "light" | "dark" = "light", date = DATE): Promise<Opened> {
  const file = join(tempFolder(), "handout.html");
  writeFileSync(file, handoutHtml(analyse(show), date));
  const context = await browser.newContext({
    viewport: { width: 360, height: 740 },
    hasTouch: true,
    isMobile: true,
    colorScheme,
  });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  const heard: string[] = [];
  const address = pathToFileURL(file).href;
  page.on("dialog", (dialog) => {
    heard.push(`dialog ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on("request", (request) => {
    const url = request.url();
    if (url.split("#")[0] !== address && url !== "data:,") heard.push(`request ${url}`);
  });
  page.on("pageerror", (error) => heard.push(`error ${error.message}`));
  page.on("console", (message) => heard.push(`console ${message.text()}`));
  page.on("popup", () => heard.push("popup"));
  await page.goto(address);
  return { page, heard };
}

const search = (page: Page) => page.getByRole("searchbox");

describe("on a phone", () => {
  it("[V7] finds a jack, and shows where its signal comes from, hop by hop", async () => {
    const { page, heard } = await open(demo());
    await search(page).fill("ears rack out 12");
    await page.locator("main li a").first().click();
    expect(await page.locator("h1").innerText()).toContain("Ears Keys right");
    expect(await page.locator(".verdict").innerText()).toMatch(
      /arrives\s+from Ears Keys, Monitors Mix 20 · Owner: Monitors · 0\.438 ms/,
    );
    expect(await page.locator(".way .device").allInnerTexts()).toEqual([
      "Monitors",
      "Front of house",
      "Stage left",
      "Ears rack",
    ]);
    expect(await page.locator(".way .cable").allInnerTexts()).toEqual([
      "cable L2, Cat 5e, shielded, 80 m",
      "cable L1, Cat 5e, shielded, 75 m",
      "cable P1, Cat 5e, shielded, 20 m",
    ]);
    // The phone's own way back leads to the start.
    await page.goBack();
    await page.getByRole("heading", { name: "By place" }).waitFor();
    expect(heard).toEqual([]);
  });

  it("[V7] goes from a place to a box to a jack by its lists", async () => {
    const { page } = await open(demo());
    await page.locator("summary", { hasText: "Stage left" }).click();
    await page.getByRole("link", { name: "Stage left", exact: false }).first().click();
    await page.getByRole("link", { name: "Wedge 1 Centre left" }).click();
    expect(await page.locator(".soft").first().innerText()).toBe("Stage left Out 9");
  });

  it("[V7] says why a jack is dark", async () => {
    const { page } = await open(demo("quayside-faults"));
    await search(page).fill("ears rack out 12");
    await page.locator("main li a").first().click();
    expect(await page.locator(".verdict.bad").innerText()).toMatch(
      /nothing assigned\s+nothing is assigned to Front of house Link 1 out 44/,
    );
  });

  it("[V7] nothing is wider than the phone, and what is touched is at least 44 pixels high", async () => {
    const { page } = await open(withText(demo("starter-club"), "Averyverylongnamewithoutanyspace".repeat(4)));
    for (const part of ["#", "#d0", "#n5"]) {
      await page.evaluate((to) => (location.hash = to), part);
      const { width, low } = await page.evaluate(() => ({
        width: document.documentElement.scrollWidth,
        low: [...document.querySelectorAll("a, input, summary")]
          .map((element) => element.getBoundingClientRect().height)
          .filter((height) => height > 0 && height < 44),
      }));
      expect({ width, low }).toEqual({ width: 360, low: [] });
    }
  });

  it.each(["light", "dark"] as const)("[V7] axe-core finds nothing, %s", async (scheme) => {
    const { page } = await open(demo("quayside-faults"), scheme);
    await page.locator("summary").first().click();
    expect(await axeFaults(page)).toEqual([]);
    for (const query of ["ears rack out 12", "stage left"]) {
      await search(page).fill(query);
      expect(await axeFaults(page)).toEqual([]);
      await page.locator("main li a").first().click();
      expect(await axeFaults(page)).toEqual([]);
    }
  });
});

describe("texts that would run", () => {
  it.each(MARKUP)("[V5] %j in every field: no dialog, no request, nothing on the console", async (text) => {
    const { page, heard } = await open(withText(demo("starter-club"), text), "light", text);
    for (const summary of await page.locator("summary").all()) await summary.click();
    for (const to of ["#d0", "#d3", "#n0", "#n40"]) {
      await page.evaluate((hash) => (location.hash = hash), to);
      await page.locator("h1").waitFor();
    }
    await search(page).fill(text.replaceAll(/[\r\n]/g, " "));
    await page.locator("main p").first().waitFor();
    expect(heard).toEqual([]);
    expect(await page.locator("main script, main img, main svg, main iframe").count()).toBe(0);
  });

  it("[V5] a script that isn't its own doesn't run there", async () => {
    const { page, heard } = await open(demo("starter-club"));
    await page.evaluate(() => {
      const script = document.createElement("script");
      script.textContent = "alert(1)";
      document.body.append(script);
    });
    expect(heard.filter((line) => line.startsWith("dialog"))).toEqual([]);
    expect(heard.filter((line) => line.includes("Content Security Policy")).length).toBeGreaterThan(0);
  });
});
