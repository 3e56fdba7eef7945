/** How wide text comes out, without asking a page: good to a few percent for the app's typeface. */

const NARROW = new Set("iljtfrI.,:;'|!()[] ");
const WIDE = new Set("mwMW@%—");

function letterWidth(letter: string): number {
  if (NARROW.has(letter)) return 0.34;
  if (WIDE.has(letter)) return 0.88;
  // Figures are set in one width.
  if (letter >= "0" && letter <= "9") return 0.62;
  return letter >= "A" && letter <= "Z" ? 0.68 : 0.56;
}

export function textWidth(text: string, size: number): number {
  let width = 0;
  for (const letter of text) width += letterWidth(letter);
  return width * size;
}

/** The text, or as much of its beginning as fits with an ellipsis; empty where not even two letters would. */
export function fitted(text: string, size: number, room: number): string {
  if (textWidth(text, size) <= room) return text;
  let width = letterWidth("m") * size;
  let kept = "";
  for (const letter of text) {
    width += letterWidth(letter) * size;
    if (width > room) break;
    kept += letter;
  }
  kept = kept.trimEnd();
  return kept.length < 2 ? "" : `${kept}…`;
}

/** The same in the weight of names. */
export const BOLD = 1.12;

/** How many lines a text takes when it breaks between words, or Infinity where a word is too long. */
export function lineCount(text: string, size: number, room: number): number {
  let lines = 1;
  let used = 0;
  for (const word of text.split(/[ -]/)) {
    const width = textWidth(word, size);
    if (width > room) return Infinity;
    if (used > 0 && used + width + 0.3 * size > room) {
      lines++;
      used = width;
    } else used += (used > 0 ? 0.3 * size : 0) + width;
  }
  return lines;
}

/** Words that tell neighbours apart, in the short form that every patch list uses. */
const SHORT: ReadonlyMap<string, string> = new Map([
  ["left", "L"],
  ["right", "R"],
  ["centre", "C"],
  ["center", "C"],
  ["top", "T"],
  ["bottom", "B"],
]);

/**
 * A label for a cell. Where it doesn't fit, its last word is kept, since that is mostly what tells it from its
 * neighbours: `Overhead left` → `Overh… L`, `Wedge mix 3` → `Wedge… 3`, `Wedge 12` → `W 12`.
 */
export function fittedLabel(text: string, size: number, room: number): string {
  if (textWidth(text, size) <= room) return text;
  const words = text.split(" ");
  const shortened = words.map((word, n) => (n === 0 ? word : (SHORT.get(word.toLowerCase()) ?? word)));
  const short = shortened.join(" ");
  if (textWidth(short, size) <= room) return short;
  const last = shortened.at(-1)!;
  if (words.length > 1 && last.length <= 4) {
    const head = fitted(shortened.slice(0, -1).join(" "), size, room - textWidth(` ${last}`, size));
    if (head) return `${head} ${last}`;
    // Where not even that fits, initials tell more than the first letters of a word that all neighbours share.
    const initials = `${words
      .slice(0, -1)
      .map((word) => word[0])
      .join("")} ${last}`;
    if (textWidth(initials, size) <= room) return initials;
  }
  return fitted(short, size, room);
}
