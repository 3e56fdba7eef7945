/** Writing SVG as text. No field of a show reaches a page but through `text` and `attributes`. */
import { round } from "../model/units.ts";

type Value = string | number | undefined;

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Characters that XML 1.0 has no way to write, halves of a surrogate pair among them. */
const FORBIDDEN =
  // eslint-disable-next-line no-control-regex -- these are what it is about
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** The text with what can't be written anywhere replaced. */
export const printable = (value: string): string => value.replaceAll(FORBIDDEN, "\ufffd");

/** Most texts have nothing that has to be looked at twice. */
const PLAIN = /^[ !#-%(-;=?-\ud7ff\ue000-\ufffd]*$/;

export const escaped = (value: string): string =>
  PLAIN.test(value) ? value : printable(value).replaceAll(/[&<>"']/g, (letter) => ESCAPES[letter]!);

/** A hundredth of a unit is finer than any printer. */
export const number = (value: number): string => String(round(value, 2));

function attributes(values: Readonly<Record<string, Value>>): string {
  // A set of papers has a million of them.
  let said = "";
  for (const name of Object.keys(values)) {
    const value = values[name];
    if (value !== undefined)
      said += ` ${name}="${typeof value === "number" ? number(value) : escaped(value)}"`;
  }
  return said;
}

/** An element around parts that are SVG already. */
export function element(name: string, values: Readonly<Record<string, Value>>, ...parts: string[]): string {
  const inside = parts.join("");
  return inside === ""
    ? `<${name}${attributes(values)}/>`
    : `<${name}${attributes(values)}>${inside}</${name}>`;
}

/** A line of text with its baseline at `x`, `y`. */
export const text = (value: string, values: Readonly<Record<string, Value>>): string =>
  element("text", values, escaped(value));
