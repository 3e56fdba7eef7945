/** Numbers as the crew writes them on a patch list. */
import { describe, expect, test } from "vitest";
import { numbersIn, ranges } from "#engine/trace/terminal.ts";

describe("numbers in a text", () => {
  test.each([
    ["1–8, 11", [1, 2, 3, 4, 5, 6, 7, 8, 11]],
    ["1-3", [1, 2, 3]],
    ["1 - 3;7 5", [1, 2, 3, 5, 7]],
    ["5, 5, 4", [4, 5]],
    ["1,,2", [1, 2]],
    ["48", [48]],
    ["  ", []],
  ])("%s", (text, numbers) => {
    expect(numbersIn(text, 48)).toEqual(numbers);
  });

  test.each(["49", "40–49", "0", "8–1", "1–", "–4", "a", "1a", "1.5", "1e1", "12345678"])(
    "%s is refused",
    (text) => {
      expect(numbersIn(text, 48)).toBeNull();
    },
  );

  test("what ranges write is read again", () => {
    for (let mask = 0; mask < 256; mask++) {
      const numbers = Array.from({ length: 8 }, (_, n) => n + 1).filter((n) => mask & (1 << (n - 1)));
      expect(numbersIn(ranges(numbers), 8)).toEqual(numbers);
    }
  });
});
