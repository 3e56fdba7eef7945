/** The typeface of papers as data, fetched when the first paper is made. */
import type { PaperFont } from "#engine/paperwork/html.ts";

let fonts: Promise<readonly PaperFont[]> | null = null;

export const paperFonts = (): Promise<readonly PaperFont[]> =>
  (fonts ??= import("../../assets/fonts/paper-font.json").then(({ default: files }) => files));
