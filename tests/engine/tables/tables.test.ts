/** Channels, mixes, outputs, cables and devices as tables. Expected values are worked out by hand from the small rig. */
import { describe, expect, test } from "vitest";
import {
  analyse,
  applyEdits,
  CATALOGUE,
  tableOf,
  TABLES,
  type Mix,
  type Show,
  type Table,
  type TableId,
} from "#engine";
import { demo } from "../demo.ts";
import { smallShow } from "../../renderer/small-show.ts";

const open = (id: TableId, show: Show): Table => tableOf(id, show, analyse(show));

const column = (table: Table, id: string): number => {
  const index = table.columns.findIndex((each) => each.id === id);
  expect(index).toBeGreaterThanOrEqual(0);
  return index;
};

const cell = (show: Show, id: TableId, row: number, name: string): string => {
  const table = open(id, show);
  return table.tell(row, column(table, name));
};

const write = (show: Show, id: TableId, row: number, cells: Readonly<Record<string, string>>) => {
  const table = open(id, show);
  return table.write(
    Object.entries(cells).map(([name, text]) => ({ row, column: column(table, name), text })),
  );
};

function after(show: Show, id: TableId, row: number, cells: Readonly<Record<string, string>>): Show {
  const { edits, bad, unfinished } = write(show, id, row, cells);
  expect([bad, unfinished]).toEqual([[], []]);
  return applyEdits(show, edits);
}

const reason = (show: Show, id: TableId, row: number, cells: Readonly<Record<string, string>>): string => {
  const { bad, unfinished } = write(show, id, row, cells);
  return [...bad, ...unfinished].map((each) => each.reason).join(" ");
};

describe("every table of the demo", () => {
  test.each(TABLES)("[L1] %s: what a cell tells is read as the same again", (id) => {
    const show = demo();
    const table = open(id, show);
    expect(table.keys.length).toBeGreaterThan(0);
    // One cell at a time is emptied of its told text first by a blank before it, so that it is read and not passed over.
    for (let row = 0; row < table.keys.length; row += 3) {
      for (let place = 0; place < table.columns.length; place++) {
        const text = table.tell(row, place);
        if (text === "" || table.isFixed(row, place)) continue;
        if (["name", "want", "notes", "tag"].includes(table.columns[place]!.id)) continue;
        const { edits, bad } = table.write([{ row, column: place, text: ` ${text}` }]);
        expect(bad).toEqual([]);
        expect(edits).toEqual([]);
      }
    }
  });
});

describe("channels", () => {
  test("a new row stands on the next channel of the console, and bears its source's name", () => {
    const show = smallShow();
    const [first] = show.channels;
    const next = after(show, "channels", show.channels.length, { source: show.sources[0]!.name });
    expect(next.channels.at(-1)).toMatchObject({
      console: first!.console,
      number: Math.max(...show.channels.map(({ number }) => number)) + 1,
      name: show.sources[0]!.name,
      source: show.sources[0]!.id,
    });
  });

  test("[L4] a number that another row has is refused", () => {
    const show = after(smallShow(), "channels", smallShow().channels.length, { number: "9", name: "Spare" });
    const last = show.channels.length - 1;
    expect(reason(show, "channels", last, { number: "1" })).toBe(
      `Channel 1 of FOH console is ${show.channels[0]!.name}’s already.`,
    );
  });
});

describe("mixes", () => {
  test.each([
    ["1-8 post, 12 pre", "1–8 post, 12 pre"],
    ["1, 3, 5 pre", "1, 3, 5 pre"],
    ["1–4", "1–4 post"],
    ["1 pre, 2", "1 pre, 2 post"],
    ["Channel 3, ch 4 post", "3–4 post"],
    ["2, 1 post", "2, 1 post"],
    ["", ""],
  ])("[L5] members “%s” are told as “%s”", (typed, told) => {
    expect(cell(after(smallShow(), "mixes", 0, { members: typed }), "mixes", 0, "members")).toBe(told);
  });

  test.each([
    ["1–30", "Channel has 1–24: “1–30” isn’t among them."],
    ["all", "“all” is no number: write “1–8 post, 12 pre”."],
    ["Mix 3", "“Mix” can’t go into this bus; Channel can."],
    ["1, 1–3", "1 stands there twice."],
  ])("members “%s” are refused", (typed, why) => {
    expect(reason(smallShow(), "mixes", 0, { members: typed })).toBe(why);
  });

  test("[L3] a new stereo mix starts on an odd bus", () => {
    // The small rig has one mix, mono on bus 1: the next is 2, the next odd one 3.
    const show = smallShow();
    expect(show.mixes.map(({ first, width }) => [first, width])).toEqual([[1, 1]]);
    const next = after(show, "mixes", 1, { name: "Ears", width: "stereo" });
    expect(next.mixes[1]).toMatchObject({ name: "Ears", first: 3, width: 2, members: [] });
  });
});

describe("outputs", () => {
  const rowOf = (show: Show, jack: string): number => {
    const table = open("outputs", show);
    return table.keys.findIndex((_, row) => table.tell(row, column(table, "jack")) === jack);
  };

  test("what arrives is told with its owner", () => {
    // Mix 1 of the console is on link 1 slot 1, which the box hands to output 1.
    const show = smallShow();
    const row = rowOf(show, "Stage box 1");
    expect(cell(show, "outputs", row, "arrives")).toBe(`FOH console Mix 1 “${show.mixes[0]!.name}”`);
    expect(cell(show, "outputs", row, "owner")).toBe("FOH console");
  });

  test("typing a tap makes a want named after its mix; clearing the name takes it back", () => {
    const show: Show = { ...smallShow(), wants: [] };
    const row = rowOf(show, "Stage box 3");
    const wanted = after(show, "outputs", row, { from: show.mixes[0]!.name });
    expect(wanted.wants).toEqual([
      {
        id: "want",
        name: show.mixes[0]!.name,
        to: { device: "box", group: "out", number: 3 },
        from: { device: "foh", group: "mix", number: 1 },
      },
    ]);
    expect(after(wanted, "outputs", row, { want: "" }).wants).toEqual([]);
  });

  test("[L3] a want that is called as one mix is comes from it, unless it comes from elsewhere or two mixes are", () => {
    const show: Show = { ...smallShow(), wants: [] };
    const [mix] = show.mixes;
    const row = rowOf(show, "Stage box 3");
    const tap = { device: "foh", group: "mix", number: 1 };
    const fromOf = (next: Show) => next.wants[0]!.from;
    expect(fromOf(after(show, "outputs", row, { want: mix!.name.toUpperCase() }))).toEqual(tap);
    expect(fromOf(after(show, "outputs", row, { want: "Somebody’s wedge" }))).toBeUndefined();
    expect(fromOf(after(show, "outputs", row, { want: mix!.name, from: "FOH console Mix 5" }))).toMatchObject(
      {
        number: 5,
      },
    );
    const rows = open("outputs", show).keys.length;
    expect(fromOf(after(show, "outputs", rows, { jack: "Stage box 3", want: mix!.name }))).toEqual(tap);
    const twice: Show = { ...show, mixes: [mix!, { ...mix!, id: "other" as Mix["id"], first: 7 }] };
    expect(fromOf(after(twice, "outputs", row, { want: mix!.name }))).toBeUndefined();
  });

  test("[L1] whatever is offered as a tap is read as one, and what a mix is called comes first", () => {
    const show: Show = { ...smallShow(), wants: [] };
    const table = open("outputs", show);
    const row = rowOf(show, "Stage box 3");
    const offered = table.choices(row, column(table, "from")) ?? [];
    expect(offered[0]).toBe(show.mixes[0]!.name);
    // 12 mixes, of a console with as many; and no channel, which an output can't be fed from.
    expect(offered.filter((text) => /^FOH console Mix \d+$/.test(text))).toHaveLength(12);
    expect(offered.filter((text) => /channel/i.test(text))).toEqual([]);
    for (const text of offered)
      expect(after(show, "outputs", row, { from: text }).wants[0]?.from).toBeDefined();
  });

  test("a second want on a jack has a row of its own", () => {
    const show: Show = { ...smallShow(), wants: [] };
    const rows = open("outputs", show).keys.length;
    const first = after(show, "outputs", rowOf(show, "Stage box 3"), { want: "Wedge" });
    const both = after(first, "outputs", rows, { jack: "Stage box 3", want: "Fill" });
    expect(open("outputs", both).keys).toHaveLength(rows + 1);
    expect(cell(both, "outputs", rowOf(both, "Stage box 3") + 1, "want")).toBe("Fill");
  });
});

describe("cables", () => {
  test("[L3] a new cable needs both ends, and takes the kind that its port takes first", () => {
    const show = smallShow();
    const row = show.cables.length;
    const { edits, unfinished } = write(show, "cables", row, { tag: "L2", from: "FOH console Link 2" });
    expect(edits).toEqual([]);
    expect(unfinished.map((each) => each.reason)).toEqual([
      "A port or jack is needed here, such as “Stage left Link A”.",
    ]);
    const next = after(show, "cables", row, {
      tag: "L2",
      from: "FOH console Link 2",
      to: "Stage box Link B",
    });
    // Left out, the tag is the next that no cable has: L1 is the rig's own.
    const ends = { from: "FOH console Link 2", to: "Stage box Link B" };
    expect(after(show, "cables", row, ends).cables.at(-1)!.tag).toBe("L2");
    expect(next.cables.at(-1)).toMatchObject({
      tag: "L2",
      ways: 1,
      ends: [
        { device: "foh", group: "link2", first: 1 },
        { device: "box", group: "b", first: 1 },
      ],
    });
  });

  test.each([
    ["metric", "75", 75],
    ["metric", "75 m", 75],
    ["metric", "12,5", 12.5],
    // 1 ft = 0.3048 m exactly: 250 ft = 76.2 m.
    ["metric", "250 ft", 76.2],
    ["imperial", "250", 76.2],
    ["imperial", "10 m", 10],
  ] as const)("%s: length “%s” is %d m", (units, text, length) => {
    const show: Show = { ...smallShow(), settings: { ...smallShow().settings, units } };
    expect(after(show, "cables", 0, { length: text }).cables[0]!.length).toBe(length);
  });

  test("metres that are told in feet come back as the same metres", () => {
    const base = smallShow();
    for (const length of [0.5, 1, 7.25, 30, 75, 99.999]) {
      const settings = { ...base.settings, units: "imperial" as const };
      const show = applyEdits({ ...base, settings }, [
        { kind: "put", list: "cables", record: { ...base.cables[0]!, length: length as never } },
      ]);
      const text = cell(show, "cables", 0, "length");
      expect(after({ ...base, settings }, "cables", 0, { length: text }).cables[0]!.length).toBe(length);
    }
  });
});

describe("devices", () => {
  test.each([
    ["rate", "96", { sampleRate: 96000 }],
    ["rate", "44,1 kHz", { sampleRate: 44100 }],
    ["power", "off", { powered: false }],
    ["clock", "internal", { clock: "internal" }],
    ["position", "2", { position: 2 }],
    ["notes", "spare in the truck", { notes: "spare in the truck" }],
  ])("%s: “%s”", (name, text, fields) => {
    expect(after(smallShow(), "devices", 1, { [name]: text }).devices[1]).toMatchObject(fields);
  });

  test("a type of the catalogue comes into the show with the device that is made one", () => {
    const show = smallShow();
    const own = new Set(show.types.map(({ name }) => name));
    const fresh = CATALOGUE.find(({ name }) => !own.has(name))!;
    const table = open("devices", show);
    expect(table.choices(0, column(table, "type"))).toContain(fresh.name);
    const next = after(show, "devices", 0, { type: fresh.name });
    expect(next.types).toEqual([...show.types, fresh]);
    expect(next.devices[0]).toMatchObject({ type: fresh.id, mode: fresh.modes[0]!.id });
    // A mode that only the new type has can be named in the same row.
    const boxed = CATALOGUE.find(({ name, modes }) => !own.has(name) && modes.length > 1)!;
    const mode = boxed.modes.at(-1)!;
    const both = after(show, "devices", 0, { type: boxed.name, mode: mode.name });
    expect(both.devices[0]).toMatchObject({ type: boxed.id, mode: mode.id });
  });

  test("a mode is one of the device's own", () => {
    const show = smallShow();
    expect(after(show, "devices", 1, { mode: "two consoles" }).devices[1]!.mode).toBe("two");
    expect(reason(show, "devices", 1, { mode: "Five consoles" })).toContain(
      "There is no mode “Five consoles”.",
    );
  });

  test("deleting a device takes its cables along", () => {
    const show = smallShow();
    const next = applyEdits(show, open("devices", show).remove([1]));
    expect(next.devices.map(({ id }) => id)).toEqual(["foh"]);
    expect(next.cables).toEqual([]);
  });
});
