/** Columns of names such as `Link 1 out 17–24`, which read badly when they break. */
import { PAD } from "../columns.ts";
import { ON_STAGE } from "../page.ts";
import { paperWidth } from "../type.ts";

/** The widest that a column is made for its texts’ sake, in millimetres. */
const WIDEST = 42;

/** How wide a column must be, in millimetres, for bold texts to stand on one line each, as far as that is reasonable. */
export const unbroken = (texts: readonly string[]): number =>
  texts.reduce((widest, text) => Math.max(widest, Math.min(paperWidth(text, ON_STAGE, true), WIDEST)), 0) +
  2 * PAD +
  0.1;
