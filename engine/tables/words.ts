/** Cells as people write them: each reader gives the value, or one plain line that says why it can't. */
import { nearest, plain } from "../trace/lookup.ts";
import { err, ok, type Result } from "../model/result.ts";

/** A value, or the reason in the user's words. */
export type Read<Value> = Result<Value, string>;

/** The longest name that a show's file holds, in characters. */
export const LONGEST_NAME = 200;

/** `Kick, Snare or Hat`. */
export const oneOf = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} or ${names.at(-1)}`;

/** A name as it was typed; of spaces alone there is none. */
export function readName(text: string, isNeeded: boolean): Read<string> {
  if (text.trim() === "") return isNeeded ? err("A name is needed here.") : ok("");
  if (text.length > LONGEST_NAME) return err(`A name has at most ${LONGEST_NAME} characters.`);
  return ok(text);
}

/** Signs that keyboards and spreadsheets put in place of a hyphen, and commas in place of points. */
const plainNumber = (text: string): string =>
  text
    .trim()
    .replaceAll(/[−–—﹣－]/g, "-")
    .replaceAll(/\s+/g, " ")
    .replace(/^(-?\d+),(\d+)/, "$1.$2");

/** A whole number between two others, both included. */
export function readWhole(text: string, least: number, most: number): Read<number> {
  const found = /^\+?(\d{1,9})(?:\.0+)?$/.exec(plainNumber(text));
  const number = Number(found?.[1]);
  if (!found || number < least || number > most)
    return err(`“${text.trim()}” is no whole number from ${least} to ${most}.`);
  return ok(number);
}

/** Decibels: `32`, `+6 dB`, `−12,5`. Null: the cell is empty. */
export function readDecibels(text: string, limit: number): Read<number | null> {
  const typed = plainNumber(text);
  if (typed === "") return ok(null);
  const found = /^([+-]?\d+(?:\.\d+)?) ?(?:db)?$/i.exec(typed);
  const number = Number(found?.[1]);
  if (!found || Math.abs(number) > limit)
    return err(`“${text.trim()}” is no level in dB, such as 32 or -12.5.`);
  return ok(number);
}

const YES = new Set(["yes", "y", "on", "true", "x", "1", "✓", "✔"]);
const NO = new Set(["", "no", "n", "off", "false", "0", "-", "none"]);

/** `more`: words of the column's own that mean yes, in small letters. */
export function readYes(text: string, more: readonly string[] = []): Read<boolean> {
  const typed = plainNumber(text).toLowerCase();
  if (YES.has(typed) || more.includes(typed)) return ok(true);
  return NO.has(typed) ? ok(false) : err(`“${text.trim()}” is neither yes nor no.`);
}

export interface Choice<Value> {
  readonly value: Value;
  /** The first is how it is told; the others are understood too. */
  readonly names: readonly string[];
}

/** One of a few: by a name, or by the start of one where only one starts so. */
export function readChoice<Value>(text: string, choices: readonly Choice<Value>[]): Read<Value> {
  const typed = plain(text);
  const exact = choices.find(({ names }) => names.some((name) => plain(name) === typed));
  if (exact) return ok(exact.value);
  const started =
    typed === "" ? [] : choices.filter(({ names }) => names.some((name) => plain(name).startsWith(typed)));
  const [only, ...others] = started;
  if (only && others.length === 0) return ok(only.value);
  const names = (started.length > 0 ? started : choices).map((choice) => choice.names[0]!);
  if (names.length === 0) return err("There is nothing to choose from here.");
  const shown = names.length > 8 ? nearest(typed, names) : names;
  const hint = shown.length > 0 ? ` It can be ${oneOf(shown)}.` : "";
  return err(typed === "" ? `Something is needed here.${hint}` : `“${text.trim()}” isn't known here.${hint}`);
}

export const tellChoice = <Value>(value: Value, choices: readonly Choice<Value>[]): string =>
  choices.find((choice) => choice.value === value)?.names[0] ?? String(value);

/**
 * Records by name. Where two have the same name, or one has none, the id tells them apart: `Kick #source-3`.
 */
export interface Book {
  tell(id: string): string;
  /** The id of the record that a text names. */
  find(text: string): Read<string>;
  readonly names: readonly string[];
}

/** `what`: what the records are, for an error: `device`, `source`. */
export function bookOf(
  records: readonly { readonly id: string; readonly name: string }[],
  what: string,
): Book {
  const byName = new Map<string, string[]>();
  const byId = new Map(records.map((record) => [record.id, record]));
  for (const { id, name } of records) {
    const key = plain(name);
    const there = byName.get(key);
    if (there) there.push(id);
    else byName.set(key, [id]);
  }
  const tell = (id: string): string => {
    const name = byId.get(id)?.name ?? "";
    const key = plain(name);
    const isPlain = key !== "" && byName.get(key)!.length === 1 && !/#\S+$/.test(name);
    return isPlain ? name : `${name} #${id}`.trim();
  };
  return {
    tell,
    find(text) {
      const known = byName.get(plain(text)) ?? [];
      if (known.length === 1) return ok(known[0]!);
      const id = /#(\S+)$/.exec(text.trim())?.[1];
      if (id !== undefined && byId.has(id)) return ok(id);
      if (known.length > 1)
        return err(`There are ${known.length} called “${text.trim()}”: ${oneOf(known.map(tell))}.`);
      const alike = nearest(
        plain(text),
        records.map(({ name }) => name),
      );
      const hint = alike.length > 0 ? ` Is ${oneOf(alike)} meant?` : "";
      return err(`There is no ${what} “${text.trim()}”.${hint}`);
    },
    names: records.map(({ id }) => tell(id)),
  };
}
