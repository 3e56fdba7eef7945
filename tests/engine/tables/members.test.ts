/** The members of mixes as a matrix. Expected values are worked out by hand from the small rig. */
import { describe, expect, test } from "vitest";
import {
  analyse,
  applyEdits,
  desksWithMixes,
  guessMapping,
  id,
  planImport,
  tableOf,
  type DeviceId,
  type GroupId,
  type Mix,
  type MixId,
  type Show,
  type Table,
} from "#engine";
import { BOX, CONSOLE, smallShow, WEDGE_MIX } from "../../renderer/small-show.ts";

const mix = (key: string, group: string, first: number, name: string, more: Partial<Mix> = {}): Mix => ({
  id: id<MixId>(key),
  console: CONSOLE,
  group: id<GroupId>(group),
  first,
  width: 1,
  name,
  members: [],
  ...more,
});

/** Wedge on mix 1, ears on mixes 3 and 4, the left main, and a matrix. */
const show = (): Show => ({
  ...smallShow(),
  mixes: [
    ...smallShow().mixes,
    mix("ears", "mix", 3, "Ears", { width: 2 }),
    mix("left", "main", 1, "Main left"),
    mix("fill", "mtx", 1, "Fill"),
  ],
});
const open = (of: Show = show(), desk: DeviceId | null = null): Table =>
  tableOf("members", of, analyse(of), desk);

const rowOf = (table: Table, channel: string): number => {
  const row = table.keys.findIndex((_, n) => table.tell(n, 0) === channel);
  expect(row, channel).toBeGreaterThanOrEqual(0);
  return row;
};
const columnOf = (table: Table, name: string): number => {
  const column = table.columns.findIndex((each) => each.name === name);
  expect(column, name).toBeGreaterThanOrEqual(0);
  return column;
};

function put(of: Show, cells: readonly (readonly [string, string, string])[]): Show {
  const table = open(of);
  const { edits, bad } = table.write(
    cells.map(([channel, name, text]) => ({
      row: rowOf(table, channel),
      column: columnOf(table, name),
      text,
    })),
  );
  expect(bad).toEqual([]);
  return applyEdits(of, edits);
}

const membersOf = (of: Show, key: string): readonly string[] =>
  of.mixes
    .find((each) => each.id === key)!
    .members.map(({ group, number, tap }) => `${group} ${number} ${tap}`);

describe("[L9] the matrix of members", () => {
  test("has what the console's buses may take down, and its mixes across", () => {
    const table = open();
    expect(table.columns.map(({ name }) => name)).toEqual([
      "Channel",
      "Name",
      "Wedge",
      "Ears",
      "Main left",
      "Fill",
    ]);
    // 24 channels; 12 mixes, for the main and the matrix; 3 mains, for the matrix. Nothing takes direct outs.
    expect(table.keys).toHaveLength(24 + 12 + 3);
    const lead = rowOf(table, "Channel 1");
    expect(table.columns.map((_, column) => table.tell(lead, column))).toEqual([
      "Channel 1",
      "Lead",
      "pre",
      "",
      "",
      "",
    ]);
    expect(table.tell(rowOf(table, "Mix 4"), 1)).toBe("Ears R");
    expect(table.tell(rowOf(table, "Main 1"), 1)).toBe("Main left");
  });

  test("a cell is written as post, pre or nothing, also by signs that lists have", () => {
    let of = put(show(), [
      ["Channel 2", "Wedge", "post"],
      ["Channel 3", "Wedge", "x"],
      ["Channel 4", "Wedge", "pre fader"],
      ["Mix 1", "Main left", "Pre"],
    ]);
    expect(membersOf(of, WEDGE_MIX)).toEqual(["ch 1 pre", "ch 2 post", "ch 3 post", "ch 4 pre"]);
    expect(membersOf(of, "left")).toEqual(["mix 1 pre"]);
    of = put(of, [
      ["Channel 1", "Wedge", ""],
      ["Channel 3", "Wedge", "none"],
      ["Channel 2", "Wedge", "pre"],
    ]);
    expect(membersOf(of, WEDGE_MIX)).toEqual(["ch 2 pre", "ch 4 pre"]);
  });

  test("a new member stands before those that come after it, and the others keep their order", () => {
    const members = [5, 2, 9].map((number) => ({ group: id<GroupId>("ch"), number, tap: "post" as const }));
    const of = { ...show(), mixes: show().mixes.map((each) => ({ ...each, members })) };
    // The first that comes after 4 is 5, at the very front; after 7 it is 9; 12 comes behind all.
    expect(membersOf(put(of, [["Channel 4", "Wedge", "post"]]), WEDGE_MIX)[0]).toBe("ch 4 post");
    expect(membersOf(put(of, [["Channel 7", "Wedge", "pre"]]), WEDGE_MIX)).toEqual([
      "ch 5 post",
      "ch 2 post",
      "ch 7 pre",
      "ch 9 post",
    ]);
    expect(membersOf(put(of, [["Channel 12", "Wedge", "post"]]), WEDGE_MIX).at(-1)).toBe("ch 12 post");
  });

  test("what a bus doesn't take can't be written, but what stands there can be taken out", () => {
    // A matrix takes mains and mixes, no channels (F19).
    const of = {
      ...show(),
      mixes: show().mixes.map((each) =>
        each.id === "fill"
          ? { ...each, members: [{ group: id<GroupId>("ch"), number: 2, tap: "post" as const }] }
          : each,
      ),
    };
    const table = open(of);
    const fill = columnOf(table, "Fill");
    expect(table.isFixed(rowOf(table, "Channel 1"), fill)).toBe(true);
    expect(table.next(rowOf(table, "Channel 1"), fill)).toBeNull();
    expect(table.tell(rowOf(table, "Channel 2"), fill)).toBe("post");
    expect(membersOf(put(of, [["Channel 2", "Fill", ""]]), "fill")).toEqual([]);
  });

  test("the space bar goes from nothing over post and pre to nothing", () => {
    const at = (of: Show) => open(of).next(rowOf(open(of), "Channel 1"), columnOf(open(of), "Ears"));
    let of = show();
    const seen: string[] = [];
    for (let n = 0; n < 3; n++) {
      const next = at(of)!;
      seen.push(next);
      of = put(of, [["Channel 1", "Ears", next]]);
    }
    expect(seen).toEqual(["post", "pre", ""]);
    expect(membersOf(of, "ears")).toEqual([]);
  });

  test("a cell that is no tap is told with what it can be", () => {
    const table = open();
    const { edits, bad } = table.write([{ row: 0, column: columnOf(table, "Ears"), text: "loud" }]);
    expect(edits).toEqual([]);
    expect(bad.map(({ reason }) => reason)).toEqual([
      "“loud” isn’t known here. It can be post, pre or nothing.",
    ]);
  });

  test("mixes of one name, and of none, are told apart by their buses", () => {
    const of: Show = {
      ...show(),
      mixes: [
        mix("a", "mix", 1, "Wedge"),
        mix("b", "mix", 2, "wedge"),
        mix("c", "main", 1, ""),
        mix("d", "mtx", 2, "Name"),
      ],
    };
    expect(open(of).columns.map(({ name }) => name)).toEqual([
      "Channel",
      "Name",
      "Wedge Mix 1",
      "wedge Mix 2",
      "Main 1",
      "Name Matrix 2",
    ]);
  });

  test("shows the console that is asked for, else the first with mixes; with none it is empty", () => {
    expect(desksWithMixes(show())).toEqual([CONSOLE]);
    expect(open(show(), BOX).columns).toHaveLength(6);
    const bare = open({ ...show(), mixes: [] });
    expect([bare.keys.length, bare.columns.length, bare.grows]).toEqual([0, 2, false]);
  });

  test("of a list from elsewhere a channel that isn't there is told, not dropped", () => {
    const table = open();
    const mapping = guessMapping(table, ["Channel", "Wedge"])!;
    const { bad, changes } = planImport(
      table,
      [
        ["Channel 2", "post"],
        ["Channel 99", "post"],
      ],
      mapping,
      false,
    );
    expect(changes.map(({ line, after }) => [line, after])).toEqual([[1, "post"]]);
    expect(bad.map(({ line, reason }) => [line, reason])).toEqual([
      [2, "FOH console has no “Channel 99” that a mix may take."],
    ]);
  });
});
