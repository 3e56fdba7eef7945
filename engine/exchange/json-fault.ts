/**
 * Where a text stops being JSON, and what is wrong there in plain words. The parser's own message depends on its version,
 * quotes the file and often names no place; this one is asked only once the parser has refused the text.
 */

export interface JsonFault {
  /** Counted from 1. */
  readonly line: number;
  readonly column: number;
  readonly what: string;
}

/** A fault at an offset of the text. */
interface At {
  readonly at: number;
  readonly what: string;
}

const EARLY = "the file ends too early";

/** Null where the text is JSON as RFC 8259 has it. Takes any depth, since it keeps a stack of its own. */
export function jsonFault(text: string): JsonFault | null {
  const fault = scan(text);
  if (!fault) return null;
  let line = 1;
  let start = 0;
  for (let at = text.indexOf("\n"); at >= 0 && at < fault.at; at = text.indexOf("\n", at + 1)) {
    line++;
    start = at + 1;
  }
  return { line, column: fault.at - start + 1, what: fault.what };
}

/** What may come next: a value; a value or the end of an empty list; a field's name; the same or the end; what follows a value. */
type Due = "value" | "value or ]" | "name" | "name or }" | "after";

function scan(text: string): At | null {
  const open: ("[" | "{")[] = [];
  let due: Due = "value";
  for (let at = skipSpace(text, 0); ; at = skipSpace(text, at)) {
    const char = text[at];
    if (due === "after" && open.length === 0) {
      return char === undefined ? null : { at, what: "something stands after the end of the show" };
    }
    if (char === undefined) return { at, what: EARLY };
    const inside = open.at(-1);
    if (due === "after") {
      if (char === ",") due = inside === "{" ? "name" : "value";
      else if (char === (inside === "{" ? "}" : "]")) open.pop();
      else return { at, what: `a comma or a closing ${inside === "{" ? "brace" : "bracket"} is missing` };
      at++;
      continue;
    }
    if ((due === "value or ]" && char === "]") || (due === "name or }" && char === "}")) {
      open.pop();
      due = "after";
      at++;
      continue;
    }
    if (due === "name" || due === "name or }") {
      if (char !== '"') return { at, what: "the name of a field, in double quotes, is missing" };
      const end = stringEnd(text, at);
      if (typeof end !== "number") return end;
      at = skipSpace(text, end);
      if (text[at] !== ":")
        return { at, what: at < text.length ? "a colon is missing after a field's name" : EARLY };
      due = "value";
      at++;
      continue;
    }
    if (char === "[" || char === "{") {
      open.push(char);
      due = char === "[" ? "value or ]" : "name or }";
      at++;
      continue;
    }
    const end = plainEnd(text, at);
    if (typeof end !== "number") return end;
    at = end;
    due = "after";
  }
}

function skipSpace(text: string, from: number): number {
  let at = from;
  while (text[at] === " " || text[at] === "\n" || text[at] === "\r" || text[at] === "\t") at++;
  return at;
}

/** The end of a text, a number or one of the three words that starts at `at`. */
function plainEnd(text: string, at: number): number | At {
  const char = text[at]!;
  if (char === '"') return stringEnd(text, at);
  if (char === "-" || isDigit(char)) return numberEnd(text, at);
  const word = ["true", "false", "null"].find((each) => text.startsWith(each, at));
  if (word) return at + word.length;
  if (["true", "false", "null"].some((each) => each.startsWith(text.slice(at)))) {
    return { at: text.length, what: EARLY };
  }
  return { at, what: "a value is missing, or written as JSON has none" };
}

function stringEnd(text: string, start: number): number | At {
  for (let at = start + 1; at < text.length; at++) {
    const char = text[at]!;
    if (char === '"') return at + 1;
    if (char < " ") return { at, what: "a line break or control character stands inside a text" };
    if (char !== "\\") continue;
    const escaped = text[at + 1];
    if (escaped === undefined) break;
    if (escaped === "u") {
      const digits = text.slice(at + 2, at + 6);
      if (!/^[0-9a-fA-F]*$/.test(digits))
        return { at, what: "a backslash is followed by what JSON doesn't know" };
      if (digits.length < 4) break;
      at += 5;
    } else if ('"\\/bfnrt'.includes(escaped)) at++;
    else return { at, what: "a backslash is followed by what JSON doesn't know" };
  }
  return { at: text.length, what: "a text has no closing quote" };
}

const isDigit = (char: string | undefined): boolean => char !== undefined && char >= "0" && char <= "9";

function numberEnd(text: string, start: number): number | At {
  let at = start;
  const digits = (): boolean => {
    const from = at;
    while (isDigit(text[at])) at++;
    return at > from;
  };
  const bad = (): At => ({
    at,
    what: at < text.length ? "a number isn't written as JSON writes numbers" : EARLY,
  });
  if (text[at] === "-") at++;
  if (text[at] === "0") at++;
  else if (!digits()) return bad();
  if (isDigit(text[at])) return bad();
  if (text[at] === ".") {
    at++;
    if (!digits()) return bad();
  }
  if (text[at] === "e" || text[at] === "E") {
    at++;
    if (text[at] === "+" || text[at] === "-") at++;
    if (!digits()) return bad();
  }
  return at;
}
