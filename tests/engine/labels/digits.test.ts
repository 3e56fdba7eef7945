/** Figures told by colours. */
import { describe, expect, test } from "vitest";
import { DIGIT_COLOURS, digitLetters, trailingDigits } from "#engine/paperwork/digits.ts";

describe("figures as colours", () => {
  test("[A1] each figure has the colour of IEC 60062 and the letters of IEC 60757", () => {
    // IEC 60062 (from memory: the code that resistors bear) and IEC 60757:2021, table 1.
    expect(DIGIT_COLOURS.map(({ name, letters }) => `${name} ${letters}`)).toEqual([
      "black BK",
      "brown BN",
      "red RD",
      "orange OG",
      "yellow YE",
      "green GN",
      "blue BU",
      "violet VT",
      "grey GY",
      "white WH",
    ]);
  });

  test("[A1] letters read on their colour: a contrast of 4.5 and more, as WCAG counts it", () => {
    const channel = (value: number): number =>
      value <= 0.03928 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
    const luminance = (colour: string): number => {
      const [red, green, blue] = [1, 3, 5].map((at) =>
        channel(Number.parseInt(colour.slice(at, at + 2), 16) / 255),
      );
      return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
    };
    for (const { name, fill, ink } of DIGIT_COLOURS) {
      const [light, dark] = [luminance(fill), luminance(ink)].sort((a, b) => b - a);
      expect((light! + 0.05) / (dark! + 0.05), name).toBeGreaterThanOrEqual(4.5);
    }
  });

  test.each([
    ["L12", "12"],
    ["Snake 7", "7"],
    ["W05 ", "05"],
    ["47", "47"],
    ["Drums", ""],
    ["M1a", ""],
    ["", ""],
  ])("[A1] of the tag %j the figures at the end count", (tag, digits) => {
    expect(trailingDigits(tag)).toBe(digits);
  });

  test("[A1] 12 is brown and red, 05 black and green", () => {
    expect(digitLetters("12")).toBe("BN RD");
    expect(digitLetters("05")).toBe("BK GN");
    expect(digitLetters("")).toBe("");
  });
});
