/** The grid's logic without a page: selection, clipboard text, counting on, order. */
import { afterEach, describe, expect, test, vi } from "vitest";
import { analyse, id, tableOf, type Show, type SourceId } from "#engine";
import { showStage } from "../../renderer/state/ui.ts";
import { takeInHand, type GridHandle } from "../../renderer/tables/at-hand.ts";
import { cutCells } from "../../renderer/tables/clipboard.ts";
import { cellsOf, counted, tsvOf } from "../../renderer/tables/cells.ts";
import { RowLooks } from "../../renderer/tables/rows.ts";
import { areaOf, at, carried, moved, ordered, stepped } from "../../renderer/tables/selection.ts";
import type { Seen } from "../../renderer/tables/write.ts";
import { smallShow } from "./small-show.ts";

const EXTENT = { rows: 10, whole: 9, columns: 4 };
const press = (key: string, shift = false, command = false) => ({ key, shift, command });

describe("moving", () => {
  test.each([
    ["ArrowDown", press("ArrowDown"), 3, 1],
    ["ArrowUp", press("ArrowUp"), 1, 1],
    ["Home", press("Home"), 2, 0],
    ["End", press("End"), 2, 3],
    ["Mod+End", press("End", false, true), 9, 3],
    ["PageDown", press("PageDown"), 7, 1],
  ])("%s", (_name, key, row, column) => {
    expect(moved(at(2, 1), key, EXTENT, 5)).toEqual(at(row, column));
  });

  test("Shift keeps the other corner", () => {
    const once = moved(at(2, 1), press("ArrowDown", true), EXTENT, 5)!;
    const twice = moved(once, press("ArrowRight", true), EXTENT, 5)!;
    expect(areaOf(twice)).toEqual({ top: 2, bottom: 3, left: 1, right: 2 });
  });

  test("the row for new ones is no part of what is chosen to the end", () => {
    const all = moved(at(2, 1), press("ArrowDown", true, true), EXTENT, 5)!;
    expect(areaOf(all)).toEqual({ top: 2, bottom: 8, left: 1, right: 1 });
    expect(moved(all, press("ArrowDown", true, true), EXTENT, 5)).toEqual(all);
    expect(areaOf(moved(at(2, 1), press("a", false, true), EXTENT, 5)!)).toMatchObject({ top: 0, bottom: 8 });
    const empty = { rows: 1, whole: 0, columns: 4 };
    expect(moved(at(0, 1), press("ArrowDown", true, true), empty, 5)).toEqual(at(0, 1));
    expect(moved(at(0, 1), press("a", false, true), empty, 5)).toMatchObject({ cursor: { row: 0 } });
  });

  test.each([
    ["Mod+Up to the first row", press("ArrowUp", false, true), 0, 2],
    ["Mod+Left to the first column", press("ArrowLeft", false, true), 4, 0],
    ["Mod+Right to the last column", press("ArrowRight", false, true), 4, 3],
    ["Mod+Home to the first cell", press("Home", false, true), 0, 0],
    ["PageUp by what is in view", press("PageUp"), 1, 2],
    ["left", press("ArrowLeft"), 4, 1],
  ])("%s", (_, key, row, column) => {
    expect(moved(at(4, 2), key, EXTENT, 3)).toEqual(at(row, column));
  });

  test("an a by itself is typed, and from the row for new ones Shift and the end stay there", () => {
    expect(moved(at(2, 1), press("a"), EXTENT, 5)).toBeNull();
    expect(areaOf(moved(at(9, 1), press("ArrowDown", true, true), EXTENT, 5)!)).toMatchObject({
      top: 9,
      bottom: 9,
    });
  });

  test("Enter goes down and up in its column, and stops at the edges", () => {
    expect(stepped(at(2, 3), "Enter", false, EXTENT)).toEqual(at(3, 3));
    expect(stepped(at(2, 3), "Enter", true, EXTENT)).toEqual(at(1, 3));
    expect(stepped(at(9, 3), "Enter", false, EXTENT)).toEqual(at(9, 3));
    expect(stepped(at(0, 1), "Tab", true, EXTENT)).toEqual(at(0, 0));
  });

  test("nothing leads past the edges", () => {
    expect(moved(at(0, 0), press("ArrowUp"), EXTENT, 5)).toEqual(at(0, 0));
    expect(moved(at(9, 3), press("PageDown"), EXTENT, 5)).toEqual(at(9, 3));
  });

  test("Tab goes on in the next row, and out of the table at its end", () => {
    expect(stepped(at(2, 3), "Tab", false, EXTENT)).toEqual(at(3, 0));
    expect(stepped(at(3, 0), "Tab", true, EXTENT)).toEqual(at(2, 3));
    expect(stepped(at(9, 3), "Tab", false, EXTENT)).toBeNull();
    expect(stepped(at(0, 0), "Tab", true, EXTENT)).toBeNull();
  });
});

describe("clipboard text", () => {
  test.each([
    [
      "a\tb\nc\td\n",
      [
        ["a", "b"],
        ["c", "d"],
      ],
    ],
    [
      "a\tb\r\nc\td",
      [
        ["a", "b"],
        ["c", "d"],
      ],
    ],
    [
      "a\t\n\tb",
      [
        ["a", ""],
        ["", "b"],
      ],
    ],
    ["a\rb", [["a"], ["b"]]],
    ["a\t\r\nb", [["a", ""], ["b"]]],
    ['"two\nlines"\tx', [["two\nlines", "x"]]],
    ['"say ""now"""\t1', [['say "now"', "1"]]],
    ['6" nail\t2', [['6" nail', "2"]]],
    ['"open\tx', [['"open', "x"]]],
    ["a\n\nb", [["a"], [""], ["b"]]],
    ["", []],
    ["a\t", [["a", ""]]],
  ])("%j", (text, cells) => {
    expect(cellsOf(text)).toEqual(cells);
  });

  test("what is copied is pasted as the same", () => {
    const cells = [
      ["plain", 'with "quotes"', ""],
      ["a\ttab", "two\nlines", '"'],
    ];
    expect(cellsOf(tsvOf(cells))).toEqual(cells);
  });
});

describe("counting on", () => {
  test.each([
    ["Vox 1", 1, "Vox 2"],
    ["Stage left 5", 3, "Stage left 8"],
    ["C07", 1, "C08"],
    ["C099", 1, "C100"],
    ["9", 1, "10"],
    ["Kick", 4, "Kick"],
    ["1–8", 1, "1–8"],
    ["5, 17", 1, "5, 17"],
    ["Tracks 2A", 1, "Tracks 3A"],
    ["", 2, ""],
  ])("%s, %i on: %s", (text, by, expected) => {
    expect(counted(text, by)).toBe(expected);
  });
});

describe("order", () => {
  const texts = [
    ["Vox 10", "b"],
    ["Vox 2", "a"],
    ["", "c"],
    ["kick", "b"],
  ];
  const table = {
    keys: ["k0", "k1", "k2", "k3"],
    tell: (row: number, column: number) => texts[row]![column]!,
  };

  test("numbers in texts count as numbers, empty cells stand last either way", () => {
    expect(ordered(table, 2, { column: 0, down: false }, "")).toEqual([3, 1, 0, 2]);
    expect(ordered(table, 2, { column: 0, down: true }, "")).toEqual([0, 1, 3, 2]);
  });

  test("the filter looks in every column", () => {
    expect(ordered(table, 2, null, "VOX")).toEqual([0, 1]);
    expect(ordered(table, 2, null, "c")).toEqual([2, 3]);
    expect(ordered(table, 2, null, " vox ")).toEqual([0, 1]);
    expect(ordered(table, 2, null, "  ")).toEqual([0, 1, 2, 3]);
    expect(ordered(table, 2, { column: 0, down: false }, "b")).toEqual([3, 0]);
  });

  test("rows that say the same stay in the table's order, sorted up or down", () => {
    expect(ordered(table, 2, { column: 1, down: false }, "")).toEqual([1, 0, 3, 2]);
    expect(ordered(table, 2, { column: 1, down: true }, "")).toEqual([2, 0, 3, 1]);
  });

  test("after an edit nothing moves but what is new", () => {
    const order = { shown: ["k3", "k1"], known: new Set(["k0", "k1", "k3"]) };
    expect(carried(order, ["k0", "k3", "k9"])).toEqual([1, 2]);
  });
});

describe("rows from one document to the next", () => {
  const seenOf = (show: Show): Seen => {
    const table = tableOf("inputs", show, analyse(show), null);
    return { table, order: [...table.keys.keys()], drafts: [] };
  };

  test("a row that an edit leaves alone keeps its object, and so do the headings", () => {
    const small = smallShow();
    const [source] = small.sources;
    const show = {
      ...small,
      sources: [source!, { ...source!, id: id<SourceId>("another"), name: "Second" }],
    };
    const looks = new RowLooks();
    const before = seenOf(show);
    const columns = looks.columnsOf(before.table);
    expect(looks.row(before, 0).texts[0]).toBe(source!.name);
    const second = looks.row(before, 1);

    const sources = show.sources.map((source, n) => (n === 0 ? { ...source, name: "Another name" } : source));
    const after = seenOf({ ...show, sources });
    expect(looks.columnsOf(after.table)).toBe(columns);
    expect(looks.row(after, 0).texts[0]).toBe("Another name");
    expect(looks.row(after, 1)).toBe(second);
  });

  test("headings that say something else are drawn anew, and so is a row whose owner is another one", () => {
    const show = smallShow();
    const looks = new RowLooks();
    const cables = (units: "metric" | "imperial"): Seen => {
      const own = { ...show, settings: { ...show.settings, units } };
      const table = tableOf("cables", own, analyse(own), null);
      return { table, order: [0], drafts: [] };
    };
    expect(looks.columnsOf(cables("metric").table).map(({ name }) => name)).toContain("Length m");
    expect(looks.columnsOf(cables("imperial").table).map(({ name }) => name)).toContain("Length ft");

    const outputs = (own: Show): Seen => {
      const table = tableOf("outputs", own, analyse(own), null);
      return { table, order: [...table.keys.keys()], drafts: [] };
    };
    const rows = new RowLooks();
    const fed = rows.row(outputs(show), 0);
    expect(fed.owners).toContain("foh");
    const off = { ...show, devices: show.devices.map((each) => ({ ...each, routing: [] })) };
    expect(rows.row(outputs(off), 0).owners).not.toContain("foh");
    expect(fed.writable).toContain(false);
  });

  test("the last row makes a new one, those before it may be unfinished", () => {
    const looks = new RowLooks();
    const plain = seenOf(smallShow());
    const many = plain.order.length;
    const seen: Seen = { ...plain, drafts: [new Map([[plain.table.columns[0]!.id, "Half"]])] };
    expect(looks.row(seen, many - 1)).toMatchObject({ isDraft: false, isNew: false });
    expect(looks.row(seen, many)).toMatchObject({ isDraft: true, isNew: false });
    expect(looks.row(seen, many).texts[0]).toBe("Half");
    expect(looks.row(seen, many + 1)).toMatchObject({ isDraft: false, isNew: true });
  });
});

describe("cutting from the menu", () => {
  afterEach(() => {
    vi.unstubAllGlobals();
    showStage("canvas");
  });

  test("clears the cells that were chosen then, however long the clipboard takes", () => {
    const writeText = vi.fn(() => new Promise<void>(() => {}));
    vi.stubGlobal("navigator", { clipboard: { writeText } });
    const clear = vi.fn();
    showStage("lists");
    const letGo = takeInHand({ current: { texts: () => "Kick\t1", clear } as unknown as GridHandle });
    void cutCells();
    expect(writeText).toHaveBeenCalledWith("Kick\t1");
    expect(clear).toHaveBeenCalledTimes(1);
    letGo();
  });
});
