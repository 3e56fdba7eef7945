/**
 * Digits told by colours, as cables and jacks are numbered with coloured sleeves: IEC 60062 gives each digit its colour
 * (from memory; the resistor code of every textbook), IEC 60757:2021 each colour its letters, so that black and white
 * reads. A swatch bears its letters always.
 */

export interface DigitColour {
  readonly name: string;
  /** IEC 60757. */
  readonly letters: string;
  readonly fill: string;
  /** For the letters. */
  readonly ink: string;
}

/** By digit, 0 to 9. */
export const DIGIT_COLOURS: readonly DigitColour[] = [
  { name: "black", letters: "BK", fill: "#000000", ink: "#ffffff" },
  { name: "brown", letters: "BN", fill: "#7a4419", ink: "#ffffff" },
  { name: "red", letters: "RD", fill: "#c8102e", ink: "#ffffff" },
  { name: "orange", letters: "OG", fill: "#ff8a1f", ink: "#000000" },
  { name: "yellow", letters: "YE", fill: "#ffe14d", ink: "#000000" },
  { name: "green", letters: "GN", fill: "#00753a", ink: "#ffffff" },
  { name: "blue", letters: "BU", fill: "#0057b8", ink: "#ffffff" },
  { name: "violet", letters: "VT", fill: "#74309c", ink: "#ffffff" },
  { name: "grey", letters: "GY", fill: "#a7abae", ink: "#000000" },
  { name: "white", letters: "WH", fill: "#ffffff", ink: "#000000" },
];

/** The figures at the end of a tag or name: `L12` → `12`, `Drums` → nothing. */
export const trailingDigits = (text: string): string => /\d*$/.exec(text.trim())?.[0] ?? "";

/** `BN RD`: the letters of each digit's colour; what is no digit is passed over. */
export const digitLetters = (digits: string): string =>
  [...digits].flatMap((digit) => (/\d/.test(digit) ? DIGIT_COLOURS[Number(digit)]!.letters : [])).join(" ");
