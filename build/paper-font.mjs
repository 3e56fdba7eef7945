/// <reference lib="dom" />
/**
 * `node build/paper-font.mjs`: the typeface of papers as data, from the package that ships it. Writes
 * `assets/fonts/paper-font.json`, the files that go into every PDF, SVG and HTML page, and
 * `engine/paperwork/generated/widths.ts`, how wide each letter is, as an installed browser measures it. Run it when the
 * package changes; nothing else does.
 */
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { chromium } from "playwright";
import { format } from "prettier";
import { findBrowser, QUIET_SWITCHES, sandboxSwitches } from "../electron/services/find-browser.mjs";
import { PlainStop, ROOT, runScript } from "./lib/project.mjs";

const SUBSETS = ["latin", "latin-ext", "greek", "cyrillic"];
const WEIGHTS = /** @type {const} */ ([400, 700]);

/** First and last letter of each stretch that is measured. Letters elsewhere count as wide ones. */
const STRETCHES = [
  [0x20, 0x7e],
  [0xa0, 0x17f],
  [0x370, 0x3ff],
  [0x400, 0x45f],
  [0x2010, 0x2030],
  [0x20ac, 0x20ac],
  [0x2122, 0x2122],
  [0x2190, 0x2193],
  [0x2212, 0x2212],
];

await runScript(async () => {
  const from = join(ROOT, "node_modules/@fontsource/inter");
  const ranges = JSON.parse(await readFile(join(from, "unicode.json"), "utf8"));
  const fonts = [];
  for (const subset of SUBSETS) {
    for (const weight of WEIGHTS) {
      const file = await readFile(join(from, "files", `inter-${subset}-${weight}-normal.woff2`));
      fonts.push({ weight, range: ranges[subset], woff2: file.toString("base64") });
    }
  }
  const executablePath = findBrowser();
  if (executablePath === undefined)
    throw new PlainStop("no Chrome, Chromium or Edge to measure letters with");
  const browser = await chromium.launch({
    executablePath,
    args: [...sandboxSwitches(), ...QUIET_SWITCHES, "--disable-gpu"],
  });
  const page = await browser.newPage();
  const measured = await page.evaluate(measure, { fonts, stretches: STRETCHES, weights: [...WEIGHTS] });
  await browser.close();

  const json = await format(JSON.stringify(fonts), { parser: "json" });
  await writeFile(join(ROOT, "assets/fonts/paper-font.json"), json);
  const code = `/** Made by build/paper-font.mjs: advance widths of the paper typeface in thousandths of its size; 0 where it has no such letter. */
export const STRETCHES: readonly {
  readonly from: number;
  readonly regular: readonly number[];
  readonly bold: readonly number[];
}[] = ${JSON.stringify(measured)};
`;
  await writeFile(
    join(ROOT, "engine/paperwork/generated/widths.ts"),
    await format(code, { parser: "typescript", printWidth: 110 }),
  );
  return 0;
});

/**
 * In the page, whose library the reference above is for. A letter that the typeface lacks comes out as wide as in a typeface that nobody has, so it is told by
 * measuring with two fallbacks of different widths.
 *
 * @param {{ fonts: { weight: number, range: string, woff2: string }[], stretches: number[][], weights: number[] }} job
 */
async function measure({ fonts, stretches, weights }) {
  for (const { weight, range, woff2 } of fonts) {
    const bytes = Uint8Array.from(atob(woff2), (letter) => letter.charCodeAt(0));
    const face = new FontFace("Measured", bytes, { weight: String(weight), unicodeRange: range });
    document.fonts.add(await face.load());
  }
  const context = /** @type {CanvasRenderingContext2D} */ (document.createElement("canvas").getContext("2d"));
  /** @param {string} letter @param {number} weight @param {string} fallback */
  const width = (letter, weight, fallback) => {
    context.font = `${weight} 1000px Measured, ${fallback}`;
    return Math.round(context.measureText(letter).width);
  };
  return stretches.map(([from = 0, to = 0]) => {
    const [regular, bold] = weights.map((weight) =>
      Array.from({ length: to - from + 1 }, (_, n) => {
        const letter = String.fromCodePoint(from + n);
        const [wide, narrow] = [width(letter, weight, "monospace"), width(letter, weight, "serif")];
        return wide === narrow ? wide : 0;
      }),
    );
    return { from, regular, bold };
  });
}
