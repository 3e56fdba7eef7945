/** The input list. Expected values are worked out by hand from the small rig's drawing. */
import { describe, expect, test } from "vitest";
import { analyse, applyEdits, tableOf, type Show, type Table } from "#engine";
import { smallShow } from "../../renderer/small-show.ts";

const column = (table: Table, id: string): number => table.columns.findIndex((each) => each.id === id);

/** The show with texts written into rows, by column id; what can't be read fails the test. */
function written(show: Show, rows: Readonly<Record<number, Readonly<Record<string, string>>>>): Show {
  const table = tableOf("inputs", show, analyse(show));
  const result = table.write(
    Object.entries(rows).flatMap(([row, cells]) =>
      Object.entries(cells).map(([id, text]) => ({ row: Number(row), column: column(table, id), text })),
    ),
  );
  expect(result.bad).toEqual([]);
  expect(result.unfinished).toEqual([]);
  return applyEdits(show, result.edits);
}

const told = (show: Show, row: number): readonly string[] => {
  const table = tableOf("inputs", show, analyse(show));
  return table.columns.map((_, index) => table.tell(row, index));
};

describe("the input list", () => {
  test("tells a source, its jack and its channel at the console", () => {
    // small-show.ts: a vocal microphone in the box's jack 1, on channel 1 of the FOH console.
    const [name, kind, jack] = told(smallShow(), 0);
    expect([name, kind, jack]).toEqual([smallShow().sources[0]!.name, "microphone", "Stage box 1"]);
  });

  test("tells a jack of a box whose name ends in a number with the group's name, and reads both", () => {
    const { devices, ...show } = smallShow();
    const numbered = {
      ...show,
      devices: devices.map((device) =>
        device.name === "Stage box" ? { ...device, name: "Stage box 2" } : device,
      ),
    };
    expect(told(numbered, 0)[2]).toBe("Stage box 2 In 1");
    const moved = written(numbered, { 0: { jack: "Stage box 2 7" } });
    expect(moved.sources[0]!.at).toEqual({ ...smallShow().sources[0]!.at, number: 7 });
  });

  test("[L3] a new row needs no more than a name: it stands in the next jack, as a microphone", () => {
    const show = written(smallShow(), { 1: { name: "Snare" } });
    expect(show.sources).toHaveLength(2);
    expect(show.sources[1]).toMatchObject({
      name: "Snare",
      kind: "microphone",
      phantom: false,
      at: { ...smallShow().sources[0]!.at, number: 2 },
    });
  });

  test.each([
    ["Stage box 7", 7],
    ["stage box / in 7", 7],
    ["Stage box In 7", 7],
    ["STAGE BOX: mic in 7", 7],
  ])("“%s” is jack %i of the box", (text, number) => {
    const show = written(smallShow(), { 0: { jack: text } });
    expect(show.sources[0]!.at).toEqual({ ...smallShow().sources[0]!.at, number });
  });

  test.each([
    ["jack", "Stage box 17", "Stage box has no In 17; it has 1–16."],
    ["jack", "Stage bocks 5", "No device is called “Stage bocks 5”. Is Stage box meant?"],
    ["jack", "Stage box", "Stage box has In 1–16: say which."],
    ["kind", "trumpet", "“trumpet” isn't known here. It can be microphone, DI, line, playback or talkback."],
    ["gain", "loud", "“loud” is no level in dB, such as 32 or -12.5."],
    ["phantom", "maybe", "“maybe” is neither yes nor no."],
    ["name", " ", "A name is needed here."],
    ["channel:foh", "25", "FOH console: “25” is no channel; there are 1–24."],
  ])("[L2] %s: “%s” is refused with a reason, and nothing changes", (id, text, reason) => {
    const table = tableOf("inputs", smallShow(), analyse(smallShow()));
    const { edits, bad } = table.write([{ row: 0, column: column(table, id), text }]);
    expect(bad.map((cell) => cell.reason)).toEqual([reason]);
    expect(edits).toEqual([]);
  });

  test.each([
    ["Dynamic", "microphone"],
    ["condenser", "microphone"],
    ["Radio", "microphone"],
    ["Active DI", "DI"],
    ["track", "playback"],
  ])("what input lists call “%s” is a %s", (text, kind) => {
    expect(written(smallShow(), { 0: { kind: "line" } }).sources[0]!.kind).toBe("line");
    expect(
      written(written(smallShow(), { 0: { kind: "line" } }), { 0: { kind: text } }).sources[0]!.kind,
    ).toBe(kind);
  });

  test.each([
    ["32", 32],
    ["+6 dB", 6],
    ["−12,5", -12.5],
  ])("gain “%s” is %d dB", (text, gain) => {
    expect(written(smallShow(), { 0: { gain: text } }).sources[0]!.gain).toBe(gain);
  });

  test("[L4] two sources change channels in one go, each with its plan's own trim", () => {
    const two = written(smallShow(), { 1: { name: "Snare", "channel:foh": "2" } });
    const [first, second] = two.channels;
    const trimmed: Show = { ...two, channels: [{ ...first!, trim: -3 }, second!] };
    const swapped = written(trimmed, { 0: { "channel:foh": "2" }, 1: { "channel:foh": "1" } });
    expect(swapped.channels.map(({ number, trim }) => [number, trim ?? 0])).toEqual([
      [2, -3],
      [1, 0],
    ]);
  });

  test("a channel that is another source's is refused, and both stay where they are", () => {
    const two = written(smallShow(), { 1: { name: "Snare", "channel:foh": "2" } });
    const table = tableOf("inputs", two, analyse(two));
    const { edits, bad } = table.write([{ row: 1, column: column(table, "channel:foh"), text: "1" }]);
    expect(edits).toEqual([]);
    expect(bad.map(({ row, reason }) => [row, reason])).toEqual([
      [1, `Channel 1 of FOH console is planned for ${two.sources[0]!.name}.`],
    ]);
  });

  test("deleting an input takes its planned channels along", () => {
    const show = smallShow();
    const after = applyEdits(show, tableOf("inputs", show, analyse(show)).remove([0]));
    expect(after.sources).toEqual([]);
    expect(after.channels.filter(({ source }) => source !== undefined)).toEqual([]);
  });
});
