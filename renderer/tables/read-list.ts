/** Files and clipboard text as rows of cells. */
import Papa from "papaparse";

export const SEPARATORS = [",", ";", "\t"] as const;
export type Separator = (typeof SEPARATORS)[number];

export const SEPARATOR_NAMES: Readonly<Record<Separator, string>> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
};

/** Rows past this are not read; no show has as many of anything. */
const MOST_ROWS = 20_000;
/** The largest file that is looked into, in bytes. */
export const LARGEST_LIST = 10_000_000;

export interface ReadList {
  readonly rows: readonly (readonly string[])[];
  /** One plain line where something of the text couldn't be read as it stands. */
  readonly trouble: string | null;
}

/** The separator with which most of the first lines come apart into the same number of cells, more than one. */
export function guessSeparator(text: string): Separator {
  const scores = SEPARATORS.map((separator) => {
    const { rows } = readList(firstLines(text), separator);
    const counts = new Map<number, number>();
    for (const { length } of rows) if (length > 1) counts.set(length, (counts.get(length) ?? 0) + 1);
    return { separator, score: Math.max(0, ...counts.values()) };
  });
  return scores.reduce((best, each) => (each.score > best.score ? each : best)).separator;
}

const firstLines = (text: string): string => text.split(/\r\n|\r|\n/, 30).join("\n");

export function readList(text: string, separator: Separator): ReadList {
  // Cells by their places and never by their headings: a heading may be called `__proto__`, or stand there twice.
  const { data, errors } = Papa.parse<string[]>(text.replace(/^\ufeff/, ""), {
    delimiter: separator,
    header: false,
    skipEmptyLines: "greedy",
    preview: MOST_ROWS + 1,
  });
  const quotes = errors.find(({ type }) => type === "Quotes");
  const trouble = quotes
    ? `Line ${(quotes.row ?? 0) + 1}: a quotation mark opens and never closes.`
    : data.length > MOST_ROWS
      ? `Only the first ${MOST_ROWS} rows are read.`
      : null;
  return { rows: data.slice(0, MOST_ROWS), trouble };
}

/** What the bytes of a file say: UTF-8 or UTF-16 where they are, else the old Western encoding of spreadsheets. */
export function decoded(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}
