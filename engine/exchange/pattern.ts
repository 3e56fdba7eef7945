/**
 * The patterns of a schema, as the generated validators ask for them. A file has a hundred thousand texts to be tested, and
 * a regular expression takes longer to be called than most of them take to be read; so the two forms that nearly all of
 * them have are answered without one. What they can't tell they leave to it.
 */
export interface Pattern {
  test(text: string): boolean;
}

/** Answers as `new RegExp(source, flags)` does; `flags` are those of JSON Schema, "u". */
export function patternOf(source: string, flags: string): Pattern {
  const expression = new RegExp(source, flags);
  const sized = /^\^\[\\s\\S\]\{(\d+),(\d+)\}\$$/.exec(source);
  if (sized) return anyOf(expression, Number(sized[1]), Number(sized[2]));
  const word = /^\^(\[[^\]]+\])(\[[^\]]+\])\{0,(\d+)\}\$$/.exec(source);
  if (word)
    return wordOf(expression, charsOf(word[1]!, flags), charsOf(word[2]!, flags), 1 + Number(word[3]));
  return expression;
}

/** Any characters, from `least` to `most` of them. One can take two places of a text, so a short text may be too short. */
const anyOf = (expression: RegExp, least: number, most: number): Pattern => ({
  test: (text) => (text.length >= 2 * least && text.length <= most) || expression.test(text),
});

/** One of `first`, then some of `rest`, `most` in all. */
function wordOf(expression: RegExp, first: Uint8Array, rest: Uint8Array, most: number): Pattern {
  let last: string | null = null;
  return {
    test(text) {
      // Neighbours in a list mostly name the same group or console.
      if (text === last) return true;
      const { length } = text;
      if (length > most || first[text.charCodeAt(0)] !== 1) return expression.test(text);
      for (let n = 1; n < length; n++) if (rest[text.charCodeAt(n)] !== 1) return expression.test(text);
      last = text;
      return true;
    },
  };
}

/** By its code whether a character of ASCII belongs to a class. */
function charsOf(characters: string, flags: string): Uint8Array {
  const expression = new RegExp(`^${characters}$`, flags);
  return Uint8Array.from({ length: 128 }, (_, code) => (expression.test(String.fromCharCode(code)) ? 1 : 0));
}
