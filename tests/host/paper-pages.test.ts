/**
 * Every page of every sheet of the demo, the rigs to start from and a generated rig, as a browser sets it: no two texts
 * overlap, none leaves the page, none is smaller than 7 points. Outside help: Chromium measures, not the engine's own
 * widths. `HOPLINE_PAGES=all` measures the large generated rigs too, which takes minutes.
 */
import { chromium, type Browser } from "playwright";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { paperHtml } from "#engine/paperwork/html.ts";
import { findBrowser, QUIET_SWITCHES, sandboxSwitches } from "../../electron/services/find-browser.mjs";
import type { RigName } from "../bench/rigs.ts";
import { paperFonts, setOf } from "./support/paper-set.ts";

const GENERATED: readonly RigName[] =
  process.env["HOPLINE_PAGES"] === "all" ? ["club", "festival", "arena week"] : ["club"];

/** More pages than these a browser takes long to lay out. */
const AT_ONCE = 200;

let browser: Browser;
beforeAll(async () => {
  const executablePath = findBrowser();
  if (!executablePath) throw new Error("no browser to measure with");
  browser = await chromium.launch({
    executablePath,
    args: [...sandboxSwitches(), ...QUIET_SWITCHES, "--disable-gpu"],
  });
});
afterAll(() => browser.close());

interface Measured {
  readonly texts: number;
  readonly pages: number;
  readonly faults: readonly string[];
}

/** What a page's texts do to each other. Runs in the browser. */
function measure(): Measured {
  const faults: string[] = [];
  let texts = 0;
  const pages = [...document.querySelectorAll("section > svg")];
  for (const svg of pages) {
    const title = svg.querySelector("title")?.textContent ?? "";
    const page = svg.getBoundingClientRect();
    const boxes = [...svg.querySelectorAll("text")].flatMap((text) => {
      const words = text.textContent ?? "";
      const { left, right, top, bottom } = text.getBoundingClientRect();
      if (words.trim() === "") return [];
      const scale = (text.getScreenCTM()?.a ?? 0) || Math.abs(text.getScreenCTM()?.b ?? 0);
      // CSS: 96 px are an inch, 72 points are an inch.
      const points = (Number.parseFloat(getComputedStyle(text).fontSize) * scale * 72) / 96;
      if (points < 6.99) faults.push(`${title}: “${words}” has ${points.toFixed(2)} pt`);
      // A box has room for accents and tails that are rarely both there; a letter's ink is smaller.
      const [lie, stand] = right - left >= bottom - top ? [0.5, points * 0.25] : [points * 0.25, 0.5];
      return [{ words, left: left + lie, right: right - lie, top: top + stand, bottom: bottom - stand }];
    });
    texts += boxes.length;
    boxes.forEach((box, n) => {
      if (box.left < page.left || box.right > page.right || box.top < page.top || box.bottom > page.bottom) {
        faults.push(`${title}: “${box.words}” leaves the page`);
      }
      for (const other of boxes.slice(n + 1)) {
        const apart =
          box.right <= other.left ||
          other.right <= box.left ||
          box.bottom <= other.top ||
          other.bottom <= box.top;
        if (!apart) faults.push(`${title}: “${box.words}” and “${other.words}” overlap`);
      }
    });
  }
  return { texts, pages: pages.length, faults };
}

async function measured(html: string): Promise<Measured> {
  const page = await browser.newPage();
  try {
    await page.setContent(html);
    await page.evaluate(() => document.fonts.ready.then(() => null));
    return await page.evaluate(measure);
  } finally {
    await page.close();
  }
}

describe("[H44] on no page two texts overlap, or one leaves it, or is too small to read", () => {
  test.for(["quayside", "starter-club", "starter-festival", "starter-theatre", ...GENERATED])(
    "%s",
    { timeout: 600_000 },
    async (name) => {
      const all = (await setOf(name)).flatMap(({ sheet }) => sheet.pages);
      let [texts, pages] = [0, 0];
      const faults: string[] = [];
      for (let from = 0; from < all.length; from += AT_ONCE) {
        const found = await measured(paperHtml(name, all.slice(from, from + AT_ONCE), paperFonts));
        texts += found.texts;
        pages += found.pages;
        faults.push(...found.faults);
      }
      expect(pages).toBe(all.length);
      expect(texts).toBeGreaterThan(pages * 5);
      expect(faults).toEqual([]);
    },
  );

  test("the check can fail", async () => {
    const svg = (inner: string) =>
      `<section><svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50" font-size="4"><title>x</title>${inner}</svg></section>`;
    const { faults } = await measured(
      svg(`<text x="10" y="10">One text</text><text x="20" y="11">another</text>`) +
        svg(`<text x="90" y="10">far too long for it</text>`) +
        svg(`<text x="10" y="10" font-size="2">small</text><text x="10" y="15">apart</text>`),
    );
    expect(faults).toEqual([
      "x: “One text” and “another” overlap",
      "x: “far too long for it” leaves the page",
      "x: “small” has 5.67 pt",
    ]);
  });
});
