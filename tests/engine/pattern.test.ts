/** The schema's patterns as the validators ask for them, against the regular expressions that they stand for. */
import fc from "fast-check";
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { patternOf } from "#engine/exchange/pattern.ts";

const schema = readFileSync(new URL("../../assets/schema/hopline-show.schema.json", import.meta.url), "utf8");
const sources = new Set(Array.from(schema.matchAll(/"pattern": ("(?:[^"\\]|\\.)*")/g), ([, text]) => text!));

/** A character that takes two places, each of its halves alone, a letter beyond ASCII, a line break. */
const ODD = ["\u{1D11E}", "\uD834", "\uDD1E", "é", "\n", " ", "/", "", "."];

test.each(Array.from(sources, (text) => JSON.parse(text) as string))("[X3] what %s allows", (source) => {
  const pattern = patternOf(source, "u");
  const expression = new RegExp(source, "u");
  const texts = fc.oneof(
    fc.string({ unit: "binary", maxLength: 300 }),
    fc.stringMatching(/^[A-Za-z0-9._:-]{0,140}$/),
    fc.tuple(fc.nat(210), fc.constantFrom("a", "9", ...ODD)).map(([count, unit]) => unit.repeat(count)),
    fc
      .tuple(fc.stringMatching(/^[A-Za-z0-9._-]{0,70}$/), fc.constantFrom(...ODD), fc.nat(70))
      .map(([text, odd, at]) => text.slice(0, at) + odd + text.slice(at)),
  );
  fc.assert(
    fc.property(texts, (text) => pattern.test(text) === expression.test(text)),
    { numRuns: 2000, seed: 20261126 },
  );
});

test("[X3] the ends of what a pattern counts", () => {
  const name = patternOf("^[\\s\\S]{1,200}$", "u");
  expect(["", "a", "a".repeat(200), "a".repeat(201)].map((text) => name.test(text))).toEqual([
    false,
    true,
    true,
    false,
  ]);
  // A clef is one character in two places.
  expect(["\u{1D11E}".repeat(200), "\u{1D11E}".repeat(201)].map((text) => name.test(text))).toEqual([
    true,
    false,
  ]);
  const id = patternOf("^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$", "u");
  expect(["", "a", "-a", "a-", "a é", "a".repeat(64), "a".repeat(65)].map((text) => id.test(text))).toEqual([
    false,
    true,
    false,
    true,
    false,
    true,
    false,
  ]);
});
