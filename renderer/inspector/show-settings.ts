/** What can be typed into the show's settings. */

/** Least and most, in °C, as the file's schema has it. */
export const TEMPERATURES = [-60, 60] as const;

/** A number within bounds, a comma for its point allowed; `""` where nothing stands there; null where it is none. */
export function readNumber(text: string, least: number, most: number): number | "" | null {
  const plain = text.trim().replace(",", ".").replace("\u2212", "-");
  if (plain === "") return "";
  const value = Number(plain);
  return Number.isFinite(value) && value >= least && value <= most ? value : null;
}
