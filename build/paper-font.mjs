/**
 * `node build/paper-font.mjs`: the typeface of papers as data, from the package that ships it whole. It is parted by
 * scripts, so that a page carries only what it needs, and keeps of its features only the kerning, so that no rule of the
 * typeface swaps a letter for another. Writes, all from the same outlines,
 *
 * - `assets/fonts/paper-font.json`, what goes into pages of SVG and HTML;
 * - `assets/fonts/paper-pdf.json`, what goes into a PDF: outlines, which glyph a letter is, widths and kerning;
 * - `engine/paperwork/generated/widths.ts`, how wide each letter is.
 *
 * Run it when the package changes; nothing else does.
 */
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { create } from "fontkit";
import { format } from "oxfmt";
import subsetFont from "subset-font";
import { PlainStop, ROOT, runScript } from "./lib/project.mjs";

const WEIGHTS = /** @type {const} */ ([
  { weight: 400, name: "Inter-Regular" },
  { weight: 700, name: "Inter-Bold" },
]);

/**
 * First and last letter of each stretch. What papers say by themselves (arrows, signs of comparison, primes) is in the
 * first, so that an ordinary paper carries two files. The last takes all that is left.
 *
 * @type {Readonly<Record<string, readonly (readonly [number, number])[]>>}
 */
const PARTS = {
  latin: [
    [0x20, 0x7e],
    [0xa0, 0xff],
    [0x131, 0x131],
    [0x152, 0x153],
    [0x2c6, 0x2c6],
    [0x2da, 0x2da],
    [0x2dc, 0x2dc],
    [0x2000, 0x206f],
    [0x20ac, 0x20ac],
    [0x2116, 0x2116],
    [0x2122, 0x2122],
    [0x2126, 0x2126],
    [0x2190, 0x2195],
    [0x2212, 0x2212],
    [0x221e, 0x221e],
    [0x2248, 0x2248],
    [0x2260, 0x2260],
    [0x2264, 0x2265],
    [0x2713, 0x2713],
  ],
  "latin-ext": [
    [0x100, 0x2ff],
    [0x1d00, 0x1dbf],
    [0x1e00, 0x1eff],
    [0x2c60, 0x2c7f],
    [0xa720, 0xa7ff],
    [0xab30, 0xab6f],
  ],
  greek: [
    [0x370, 0x3ff],
    [0x1f00, 0x1fff],
  ],
  cyrillic: [
    [0x400, 0x52f],
    [0x1c80, 0x1c8f],
    [0xa640, 0xa69f],
  ],
  symbols: [[0x20a0, 0xdfff]],
};

/**
 * Marks that stand on the letter before them need more than widths and kerning, and letters of private use are what each
 * program makes of them. Spaces of no width are left to who sets the text.
 *
 * @param {number} code
 */
const isLetter = (code) => !/[\p{M}\p{C}\p{Zl}\p{Zp}]/u.test(String.fromCodePoint(code));

/** A printer's and a PDF's unit of width: thousandths of the size. @param {number} value @param {number} perEm */
const thousandths = (value, perEm) => Math.round((value / perEm) * 100_000) / 100;

await runScript(async () => {
  const from = join(ROOT, "node_modules/inter-ui/web");
  const faces = [];
  const forPages = [];
  for (const { weight, name } of WEIGHTS) {
    const whole = await readFile(join(from, `${name}.woff2`));
    const known = open(await subsetFont(whole, undefined, { keepAllGlyphs: true, targetFormat: "sfnt" }));
    const left = new Set(known.characterSet.filter(isLetter));
    for (const [part, stretches] of Object.entries(PARTS)) {
      const letters = [...left]
        .filter((code) => stretches.some(([first, last]) => code >= first && code <= last))
        .sort((a, b) => a - b);
      for (const code of letters) left.delete(code);
      const text = String.fromCodePoint(...letters);
      const options = { keepFeatures: ["kern"], noHinting: true };
      const ttf = await subsetFont(whole, text, { ...options, targetFormat: "truetype" });
      const woff2 = await subsetFont(whole, text, { ...options, targetFormat: "woff2" });
      forPages.push({ weight, range: rangeOf(letters), woff2: woff2.toString("base64") });
      faces.push({ weight, name, part, ...measured(open(ttf), letters), ttf: ttf.toString("base64") });
    }
  }
  await writeJson("assets/fonts/paper-font.json", forPages);
  await writeJson("assets/fonts/paper-pdf.json", faces);
  const widths = widthsOf(faces);
  const code = `/** Made by build/paper-font.mjs: advance widths of the paper typeface in thousandths of its size. */
export const STRETCHES: readonly {
  readonly from: number;
  readonly regular: readonly number[];
  readonly bold: readonly number[];
}[] = ${JSON.stringify(widths)};
`;
  await writeFile(
    join(ROOT, "engine/paperwork/generated/widths.ts"),
    (await format("code.ts", code, { printWidth: 110 })).code,
  );
  return 0;
});

/** @param {Buffer} file */
function open(file) {
  const font = create(file);
  if (!("glyphForCodePoint" in font)) throw new PlainStop("the typeface is a collection");
  return font;
}

/** @param {string} path @param {unknown} value */
async function writeJson(path, value) {
  const { code } = await format("data.json", JSON.stringify(value), { printWidth: 110 });
  await writeFile(join(ROOT, path), code);
}

/** As CSS tells a `unicode-range`. @param {readonly number[]} letters */
function rangeOf(letters) {
  const hex = (/** @type {number} */ code) => code.toString(16).toUpperCase().padStart(4, "0");
  return stretchesOf(letters)
    .map(([first, last]) => `U+${hex(first)}${first === last ? "" : `-${hex(last)}`}`)
    .join(",");
}

/** @param {readonly number[]} letters In order. @returns {[first: number, last: number][]} */
function stretchesOf(letters) {
  /** @type {[number, number][]} */
  const stretches = [];
  for (const code of letters) {
    const open = stretches.at(-1);
    if (open && open[1] === code - 1) open[1] = code;
    else stretches.push([code, code]);
  }
  return stretches;
}

/**
 * What a PDF has to know of a face. `kerning` is told by classes: letters that kern alike before others share a row,
 * those that kern alike behind others a column.
 *
 * @param {ReturnType<typeof open>} font
 * @param {readonly number[]} letters
 */
function measured(font, letters) {
  const perEm = font.unitsPerEm;
  const glyphs = letters.map((code) => font.glyphForCodePoint(code));
  const table = letters.map((first, n) =>
    letters.map((second) => {
      const { positions } = font.layout(String.fromCodePoint(first, second));
      return thousandths((positions[0]?.xAdvance ?? 0) - (glyphs[n]?.advanceWidth ?? 0), perEm);
    }),
  );
  const rows = classesOf(table);
  const columns = classesOf(letters.map((_, second) => rows.members.map((row) => row[second] ?? 0)));
  const { bbox } = font;
  return {
    letters: String.fromCodePoint(...letters),
    glyphs: glyphs.map(({ id }) => id),
    widths: glyphs.map(({ advanceWidth }) => thousandths(advanceWidth, perEm)),
    kerning: {
      before: rows.classes,
      behind: columns.classes,
      by: rows.members.map((_, row) => columns.members.map((column) => column[row] ?? 0)),
    },
    box: [bbox.minX, bbox.minY, bbox.maxX, bbox.maxY].map((value) => Math.round((value / perEm) * 1000)),
    ascent: Math.round((font.ascent / perEm) * 1000),
    descent: Math.round((font.descent / perEm) * 1000),
    capHeight: Math.round((font.capHeight / perEm) * 1000),
  };
}

/** Equal lists as one class each. @param {readonly (readonly number[])[]} lists */
function classesOf(lists) {
  /** @type {Map<string, number>} */
  const known = new Map();
  /** @type {(readonly number[])[]} */
  const members = [];
  const classes = lists.map((list) => {
    const key = list.join();
    const at = known.get(key) ?? members.push(list) - 1;
    known.set(key, at);
    return at;
  });
  return { classes, members };
}

/** @param {readonly { weight: number, letters: string, widths: readonly number[] }[]} faces */
function widthsOf(faces) {
  /** @param {number} weight */
  const of = (weight) =>
    new Map(
      faces
        .filter((face) => face.weight === weight)
        .flatMap(({ letters, widths }) =>
          [...letters].map(
            (letter, n) => /** @type {const} */ ([letter.codePointAt(0) ?? 0, widths[n] ?? 0]),
          ),
        ),
    );
  const [regular, bold] = [of(400), of(700)];
  return stretchesOf([...regular.keys()].filter((code) => bold.has(code)).sort((a, b) => a - b)).map(
    ([from, to]) => {
      const codes = Array.from({ length: to - from + 1 }, (_, n) => from + n);
      return {
        from,
        regular: codes.map((code) => Math.round(regular.get(code) ?? 0)),
        bold: codes.map((code) => Math.round(bold.get(code) ?? 0)),
      };
    },
  );
}
