/** Numbers that are typed into the show's settings. */
import { expect, test } from "vitest";
import { readNumber } from "../../renderer/inspector/show-settings.ts";

test.each([
  ["21.5", 21.5],
  ["21,5", 21.5],
  [" −10 ", -10],
  ["", ""],
  ["61", null],
  ["warm", null],
  ["1e999", null],
])("%j is read as %j", (text, value) => {
  expect(readNumber(text, -60, 60)).toBe(value);
});
