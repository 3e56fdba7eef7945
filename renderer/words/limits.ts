/** How long texts may be, as the file's schema has it. A longer one is refused with the reason; nothing is cut unasked. */
export const LONGEST = { name: 200, note: 20_000 } as const;

/** Why a name can't be taken. `needed`: what is said where there is none. */
export const nameRefusal = (name: string, needed: string): string | undefined =>
  name === "" ? needed : tooLong(name, LONGEST.name);

/** Why a text can't be taken; undefined where it can. What counts is characters, as the schema counts them. */
export function tooLong(text: string, most: number): string | undefined {
  if (text.length <= most) return undefined;
  const count = [...text].length;
  if (count <= most) return undefined;
  return `At most ${most.toLocaleString("en-GB")} characters are kept here; this has ${count.toLocaleString("en-GB")}.`;
}
