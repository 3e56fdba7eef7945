/** What is typed into the show's settings, and how long it may be. */
import { expect, test } from "vitest";
import { loadShow } from "#engine";
import {
  readNumber,
  readTemperature,
  shownTemperature,
  temperatureNeeded,
} from "../../renderer/inspector/show-settings.ts";
import { LONGEST, tooLong } from "../../renderer/words/limits.ts";
import { smallShow } from "./small-show.ts";

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

// Water freezes at 32 °F and boils at 212 °F; the two scales meet at −40 (by definition of the degrees).
test.each([
  ["32", 0],
  ["68", 20],
  ["-40", -40],
  ["140", 60],
  ["141", null],
  ["−77", null],
  ["", ""],
  ["warm", null],
])("under feet, %j is kept as %j °C", (text, value) => {
  expect(readTemperature(text, "imperial")).toBe(value);
});

test("what is typed in °F shows again as it was typed; what was told in °C, to a tenth of a degree", () => {
  for (let tenths = -760; tenths <= 1400; tenths++) {
    const text = String(tenths / 10);
    expect(shownTemperature(readTemperature(text, "imperial") as number, "imperial")).toBe(text);
  }
  expect(shownTemperature(21.5, "metric")).toBe("21.5");
  expect(shownTemperature(21.5, "imperial")).toBe("70.7");
  expect(temperatureNeeded("imperial")).toBe("A temperature from −76 to 140 °F is needed.");
  expect(temperatureNeeded("metric")).toBe("A temperature from −60 to 60 °C is needed.");
});

test("a text as long as the file takes it is taken; one character more is refused with both numbers", () => {
  expect(tooLong("x".repeat(200), LONGEST.name)).toBeUndefined();
  expect(tooLong("x".repeat(201), LONGEST.name)).toBe("At most 200 characters are kept here; this has 201.");
  // A character outside the basic plane is one, though JavaScript counts two.
  expect(tooLong("\u{1F3A4}".repeat(200), LONGEST.name)).toBeUndefined();
  const show = { ...smallShow(), title: "\u{1F3A4}".repeat(LONGEST.name), notes: "n".repeat(LONGEST.note) };
  expect(loadShow(JSON.stringify(show)).ok).toBe(true);
  expect(loadShow(JSON.stringify({ ...show, title: `${show.title}x` })).ok).toBe(false);
  expect(loadShow(JSON.stringify({ ...show, notes: `${show.notes}x` })).ok).toBe(false);
});
