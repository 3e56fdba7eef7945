/**
 * Tables as CSV and back. What a cell may not start with is what spreadsheets take for a formula: `=`, `+`, `-`, `@` and
 * tab or carriage return before them (OWASP, "CSV Injection"), and the full-width forms of the signs.
 */
import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, test } from "vitest";
import {
  analyse,
  applyEdits,
  asWritten,
  csvOf,
  guessMapping,
  harmless,
  planImport,
  tableByHeadings,
  tableOf,
  TABLES,
  id,
  type DeviceId,
  type Show,
} from "#engine";
import { tableCsv } from "#engine/exchange/table-csv.ts";
import type { PaperTable } from "#engine/paperwork/block.ts";
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
    ["a;=1", "a;'=1"],
    ["a; b", "a; b"],
    ['"=1', `'"=1`],
    ["Kick\n-1", "Kick\n'-1"],
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
  expect(headings).toBe("\ufeffSource,Kind,Plugged in,48 V,Preamp owner,Gain dB,FOH console ch");
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

  test.each([
    // Of two that know as many the one that is shown, here the inputs, is meant.
    [["Tag", "Length"], "cables"],
    [["Mix", "Console", "Bus", "Notes of the band"], "mixes"],
    [["Jack"], "inputs"],
    [["Box and jack", "Wanted", "Limit"], "outputs"],
    [["Kick", "Snare"], "inputs"],
  ])("[L8] a list headed %j is one of %s", (headings, id) => {
    const show = smallShow();
    const tables = TABLES.map((each) => tableOf(each, show, analyse(show)));
    expect(tableByHeadings(tables, headings)?.id).toBe(id);
  });

  test("[L8] one column of channel numbers is that of every console", () => {
    const base = smallShow();
    const [desk] = base.devices;
    const second = { ...desk!, id: id<DeviceId>("mon"), name: "Monitors", routing: [] };
    const two = { ...base, devices: [...base.devices, second] };
    // Columns: source, kind, plugged in, 48 V, owner, gain, one for each console.
    expect(guessMapping(table(two), ["Ch", "Name"])).toEqual([[6, 7], 0]);
    expect(guessMapping(table(two), ["#", "Name"])).toEqual([[6, 7], 0]);
    expect(guessMapping(table(), ["Channel", "Name"])).toEqual([[6], 0]);
    // A console's own heading goes before.
    expect(guessMapping(table(two), ["Monitors", "FOH console ch"])).toEqual([7, 6]);
    const plan = planImport(table(two), [["4", "Hat"]], [[6, 7], 0], false);
    const after = applyEdits(two, plan.written.edits);
    const added = after.channels.filter(({ name }) => name === "Hat");
    expect(added.map(({ console, number }) => [console, number])).toEqual([
      ["foh", 4],
      ["mon", 4],
    ]);
  });

  test("[L8] a bus’s number is known from what else is called so", () => {
    const mixes = tableOf("mixes", smallShow(), analyse(smallShow()));
    const columns = mixes.columns.map(({ name }) => name);
    const told = guessMapping(mixes, ["Mix", "Console", "Bus", "Mono/Stereo", "Bus type"])!;
    expect(told.map((at) => columns[at as number])).toEqual([
      "Mix",
      "Console",
      "Bus no.",
      "Width",
      "Bus type",
    ]);
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

describe("tables of papers", () => {
  const names: Readonly<Record<string, string>> = { foh: "Front of house", mon: "Monitors" };
  const csv = (table: PaperTable): string => tableCsv(table, (device) => names[device]!);
  const read = (text: string): string[][] =>
    // Papa Parse, a reader of its own.
    Papa.parse<string[]>(text.slice(1), { delimiter: "," })
      .data.slice(0, -1)
      .map((row) => row.map(asWritten));
  const device = (name: string): DeviceId => id<DeviceId>(name);

  test("[L7] what paper tells without words has columns of its own: groups, owners, assumed values", () => {
    const table: PaperTable = {
      title: "Outputs",
      columns: [{ title: "Jack" }, { title: "From" }, { title: "Length" }, { title: "Done", kind: "tick" }],
      rows: [
        {
          group: "Stage left",
          cells: ["Out 1", { text: "Mix 9", owners: [device("mon")] }, { text: "75 m", assumed: true }],
        },
        { cells: ["Out 2", { text: "Mix 1", owners: [device("foh"), device("mon")] }, "20 m", ""] },
        { group: "Ears rack", cells: ["Out 1", "–", "=1+1", ""] },
      ],
      empty: "",
    };
    expect(csv(table)).toBe(
      [
        "\ufeffGroup,Jack,From,From: owner,Length,Done,Assumed",
        "Stage left,Out 1,Mix 9,Monitors,75 m,,Length",
        "Stage left,Out 2,Mix 1,Front of house + Monitors,20 m,,",
        "Ears rack,Out 1,–,,'=1+1,,",
        "",
      ].join("\r\n"),
    );
  });

  test("[L7] an owner whose name stands in the cell is not told twice", () => {
    const cell = { text: "Monitors", owners: [device("mon")] };
    expect(csv({ title: "", columns: [{ title: "Owner" }], rows: [{ cells: [cell] }], empty: "" })).toBe(
      "\ufeffOwner\r\nMonitors\r\n",
    );
  });

  /** A start of a formula, of OWASP's list and beyond it, before and after what programs pass over. */
  const SIGNS = [
    "=",
    "+",
    "-",
    "@",
    "\t=",
    "\r=",
    "\n=",
    " =",
    "＝",
    "＋",
    "－",
    "＠",
    "|",
    "%",
    "'=",
    "\u00a0=",
    "\ufeff=",
    "\u200e=",
  ];
  const PAYLOADS = SIGNS.flatMap((sign) => [
    `${sign}1+1`,
    `${sign}cmd|' /C calc'!A0`,
    `Kick\n${sign}1`,
    `a;${sign}1;b`,
    `"${sign}1`,
    `",${sign}1,"`,
  ]);

  test("[L7] no cell of any text runs in a spreadsheet of any separator, and each is read as it was", () => {
    const table: PaperTable = {
      title: "Payloads",
      columns: [{ title: "=Sign" }, { title: "Text" }],
      rows: PAYLOADS.map((text) => ({ group: text, cells: [text, "x"] })),
      empty: "",
    };
    const text = csv(table);
    expect(read(text)).toEqual([["Group", "=Sign", "Text"], ...PAYLOADS.map((each) => [each, each, "x"])]);
    // A program may split at lines and separators without a thought for quotes. No piece may begin as a formula does.
    const pieces = text
      .split(/[\r\n;]/)
      .flatMap((line) => [line, ...(Papa.parse<string[]>(line, { delimiter: "," }).data[0] ?? [])]);
    const running = pieces.filter((piece) => /^[\s\u200e\ufeff"]*[=+\-@＝＋－＠|%]/.test(piece));
    expect(running).toEqual([]);
  });

  test("[L7] any rows are read as they were: 500 random ones, signs of formulas and separators among them", () => {
    const cell = fc.oneof(
      fc.string({ unit: "binary", maxLength: 12 }).map((text) => text.replaceAll(/[\ud800-\udfff]/g, "x")),
      fc.string({
        unit: fc.constantFrom("=", "+", "-", "'", '"', ",", ";", "\n", "\r", "\t", " ", "1", "a"),
        maxLength: 8,
      }),
    );
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 2 }), { maxLength: 6 }), (rows) => {
        const table = {
          title: "",
          columns: [{ title: "A" }, { title: "B" }],
          rows: rows.map((cells) => ({ cells })),
          empty: "",
        };
        expect(read(csv(table))).toEqual([["A", "B"], ...rows]);
      }),
      { numRuns: 500, seed: 5 },
    );
  });
});
