/**
 * Tables as CSV and back. What a cell may not start with is what spreadsheets take for a formula: `=`, `+`, `-`, `@` and
 * tab or carriage return before them (OWASP, "CSV Injection"), and the full-width forms of the signs.
 */
import { describe, expect, test } from "vitest";
import {
  analyse,
  applyEdits,
  asWritten,
  csvOf,
  guessMapping,
  harmless,
  planImport,
  tableOf,
  type Show,
} from "#engine";
import { smallShow } from "../../renderer/small-show.ts";

describe("a cell that no program runs", () => {
  test.each([
    ["=1+1", "'=1+1"],
    [" =1", "' =1"],
    ["＝1", "'＝1"],
    ["@x", "'@x"],
    ["+1", "'+1"],
    ["-x", "'-x"],
    ["\t=1", "'\t=1"],
    ["\u200b=1", "'\u200b=1"],
    ["'=1", "''=1"],
    ["Kick\n=1", "Kick\n'=1"],
    ["-12.5", "-12.5"],
    ["-7", "-7"],
    ["Kick", "Kick"],
    ["'n' roll", "'n' roll"],
    ["", ""],
  ])("[L7] %j is written as %j, and read as it was", (cell, written) => {
    expect(harmless(cell)).toBe(written);
    expect(asWritten(written)).toBe(cell);
  });
});

test("[L7] a table is written with its headings, cells with commas in quotes", () => {
  const show = smallShow();
  const named: Show = {
    ...show,
    sources: [{ ...show.sources[0]!, name: 'Vocal, "main"', kind: "DI", phantom: true, gain: -6 }],
    channels: [],
  };
  const [headings, row, end] = csvOf(tableOf("inputs", named, analyse(named))).split("\r\n");
  expect(headings).toBe("\ufeffSource,Kind,Plugged in,48 V,Preamp owner,Gain dB,FOH console");
  expect(row!.startsWith('"Vocal, ""main""",DI,Stage box 1,yes,')).toBe(true);
  expect(end).toBe("");
});

describe("a list from elsewhere", () => {
  const table = (show: Show = smallShow()) => tableOf("inputs", show, analyse(show));

  test("[L8] columns are known by their headings, in other words too", () => {
    // Source, kind, box and jack as one place, phantom; the foreign column is left out.
    expect(guessMapping(table(), ["Instrument", "MIC/DI", "Box", "Jack", "+48", "Stand"])).toEqual([
      0,
      1,
      2,
      2,
      3,
      null,
    ]);
    expect(guessMapping(table(), ["Kick", "Stage box 1"])).toBeNull();
  });

  test("[L8] rows are known again by name, else by jack; the rest is new", () => {
    const show = smallShow();
    const plan = planImport(
      table(show),
      [
        [show.sources[0]!.name, "DI", "Stage box", "1"],
        ["Hat", "mic", "Stage box", "5"],
        ["Tom", "drum", "Stage box", "6"],
        ["Bass", "di", "Stage box", "60"],
      ],
      [0, 1, 2, 2],
      false,
    );
    expect(plan.written).toMatchObject({ added: 2, changed: 1 });
    expect(plan.bad.map(({ line, heading, text }) => [line, heading, text])).toEqual([
      [3, "Kind", "drum"],
      [4, "Plugged in", "Stage box 60"],
    ]);
    const after = applyEdits(show, plan.written.edits);
    expect(after.sources.map(({ name, kind, at }) => [name, kind, at.number])).toEqual([
      [show.sources[0]!.name, "DI", 1],
      ["Hat", "microphone", 5],
      ["Tom", "microphone", 6],
    ]);
  });

  test("[L8] an empty cell changes nothing unless it is to clear", () => {
    const base = smallShow();
    const show: Show = { ...base, sources: [{ ...base.sources[0]!, gain: 30 }] };
    const list = [[show.sources[0]!.name, ""]];
    expect(planImport(table(show), list, [0, 5], false)).toMatchObject({ same: 1, changes: [] });
    const cleared = planImport(table(show), list, [0, 5], true);
    expect(applyEdits(show, cleared.written.edits).sources[0]).not.toHaveProperty("gain");
  });
});
