/** The typeface of papers as a PDF needs it: which glyph a letter is, how wide it is, how letters stand beside each other. */

/** One script in one weight, as `build/paper-font.mjs` writes it. Measures are thousandths of the size. */
export interface PaperFace {
  readonly weight: 400 | 700;
  /** `Inter-Regular` */
  readonly name: string;
  /** `latin`, `greek`… */
  readonly part: string;
  /** All its letters; the lists go by their order. */
  readonly letters: string;
  readonly glyphs: readonly number[];
  readonly widths: readonly number[];
  /** Classes of letters before others and behind them, and what is added between two classes. */
  readonly kerning: {
    readonly before: readonly number[];
    readonly behind: readonly number[];
    readonly by: readonly (readonly number[])[];
  };
  readonly box: readonly [left: number, bottom: number, right: number, top: number];
  readonly ascent: number;
  readonly descent: number;
  readonly capHeight: number;
  /** Base64. */
  readonly ttf: string;
}

/** Letters of one face beside each other, as the operand of a PDF's `TJ`. */
export interface SetRun {
  /** Place in `PaperType.faces`. */
  readonly face: number;
  readonly shown: string;
}

export interface SetLine {
  readonly runs: readonly SetRun[];
  /** In thousandths of the size. */
  readonly width: number;
  /** Letters that the typeface lacks; they are left out. */
  readonly lacking: readonly string[];
}

/** Left out of a line: spaces of no width, marks of direction, a hyphen that no line breaks at. */
const SILENT = /[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]|\ufe0e|\ufe0f/g;

const EMPTY: SetLine = { runs: [], width: 0, lacking: [] };

export class PaperType {
  readonly faces: readonly PaperFace[];
  /** By weight and code point: the face, and the letter's place in it. */
  readonly #places: Readonly<Record<400 | 700, ReadonlyMap<number, readonly [face: number, letter: number]>>>;
  readonly #lines = { 400: new Map<string, SetLine>(), 700: new Map<string, SetLine>() };

  constructor(faces: readonly PaperFace[]) {
    this.faces = faces;
    const placesOf = (weight: 400 | 700) =>
      new Map(
        faces.flatMap((face, n) =>
          face.weight === weight
            ? [...face.letters].map((letter, at) => [letter.codePointAt(0)!, [n, at] as const] as const)
            : [],
        ),
      );
    this.#places = { 400: placesOf(400), 700: placesOf(700) };
  }

  /** A line of text. White space counts as one space, as in a page of SVG. */
  line(text: string, weight: 400 | 700): SetLine {
    const lines = this.#lines[weight];
    const known = lines.get(text);
    if (known) return known;
    const line = this.#set(text, weight);
    lines.set(text, line);
    return line;
  }

  #set(text: string, weight: 400 | 700): SetLine {
    const words = text
      .normalize("NFC")
      .replaceAll(SILENT, "")
      .replaceAll(/[ \t\r\n\u0085\u2028\u2029]+/g, " ")
      .replaceAll(/^ | $/g, "");
    if (words === "") return EMPTY;
    const runs: { face: number; shown: string }[] = [];
    const lacking: string[] = [];
    let width = 0;
    let before = -1;
    for (const letter of words) {
      const place = this.#places[weight].get(letter.codePointAt(0)!);
      if (!place) {
        lacking.push(letter);
        continue;
      }
      const [face, at] = place;
      const { widths, kerning } = this.faces[face]!;
      const last = runs.at(-1);
      if (last?.face === face) {
        const by = kerning.by[kerning.before[before]!]![kerning.behind[at]!]!;
        if (by !== 0) {
          width += by;
          last.shown += `>${-by}<`;
        }
        last.shown += codeOf(at);
      } else runs.push({ face, shown: codeOf(at) });
      width += widths[at]!;
      before = at;
    }
    return { runs: runs.map(({ face, shown }) => ({ face, shown: `[<${shown}>]` })), width, lacking };
  }
}

/** A letter's code in the PDF: its place in the face, from 1, since 0 is the letter that isn't there. */
const codeOf = (at: number): string => (at + 1).toString(16).padStart(4, "0");
