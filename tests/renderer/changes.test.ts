import { applyPatches } from "immer";
import { describe, expect, test } from "vitest";
import { id, type Assignment, type GroupId, type ModeId } from "#engine";
import { assigned } from "#engine/model/routing.ts";
import { applyChange } from "../../renderer/state/changes.ts";
import type { Change } from "../../renderer/state/contract.ts";
import { smallShow, BOX, CONSOLE, LINK_CABLE, STAGE } from "./small-show.ts";

const group = (text: string): GroupId => id<GroupId>(text);

const CHANGES: readonly { readonly name: string; readonly change: Change }[] = [
  { name: "move-devices", change: { kind: "move-devices", to: [{ device: BOX, at: { x: 7, y: 9 } }] } },
  { name: "move-place", change: { kind: "move-place", place: STAGE, at: { x: -40, y: 3 } } },
  { name: "rename-device", change: { kind: "rename-device", device: BOX, name: "Drum riser" } },
  {
    name: "edit-device sets",
    change: { kind: "edit-device", device: BOX, set: { mode: id<ModeId>("two") } },
  },
  {
    name: "edit-device takes away",
    change: { kind: "edit-device", device: CONSOLE, set: { notes: undefined, powered: false } },
  },
  {
    name: "edit-cable",
    change: { kind: "edit-cable", cable: LINK_CABLE, set: { length: undefined, tag: "X9" } },
  },
  {
    name: "assign",
    change: {
      kind: "assign",
      device: CONSOLE,
      to: { group: group("link1"), first: 9 },
      count: 8,
      from: { group: group("mix"), first: 1 },
    },
  },
  {
    name: "edits",
    change: {
      kind: "edits",
      edits: [
        { kind: "remove", list: "wants", id: id("w1") },
        { kind: "put", list: "places", record: { ...smallShow().places[0]!, name: "Control" } },
      ],
    },
  },
  { name: "set-title", change: { kind: "set-title", title: "Second night" } },
  { name: "set-words", change: { kind: "set-words", words: { venue: "Harbour hall", notes: "Rain plan" } } },
];

describe("a change of the document", () => {
  test.each(CHANGES)("$name: the inverse patches bring back the show as it was", ({ change }) => {
    const before = smallShow();
    const changed = applyChange(before, change)!;
    expect(changed.show).not.toEqual(before);
    expect(before).toEqual(smallShow());
    expect(applyPatches(changed.show, changed.inverse)).toEqual(before);
    expect(applyPatches(before, changed.patches)).toEqual(changed.show);
  });

  test.each(CHANGES)("$name: doing it again changes nothing", ({ change }) => {
    const { show } = applyChange(smallShow(), change)!;
    expect(applyChange(show, change)).toBeNull();
  });

  test("what isn't in the show can't be changed", () => {
    expect(applyChange(smallShow(), { kind: "rename-device", device: id("gone"), name: "x" })).toBeNull();
  });

  test("an optional setting that is taken back leaves the file, not an empty place in it", () => {
    const { show } = applyChange(smallShow(), {
      kind: "edit-cable",
      cable: LINK_CABLE,
      set: { length: undefined },
    })!;
    expect(Object.keys(show.cables[0]!)).not.toContain("length");
  });
});

describe("a change concerns what it names", () => {
  const changed = (change: Change) => applyChange(smallShow(), change)!.show;
  const before = smallShow();

  test("devices and places go where they are told to, both ways, and no others", () => {
    const moved = changed({ kind: "move-devices", to: [{ device: BOX, at: { x: 7, y: 9 } }] });
    expect(moved.devices.map(({ id: device, at }) => [device, at])).toEqual([
      [CONSOLE, { x: 20, y: 20 }],
      [BOX, { x: 7, y: 9 }],
    ]);
    const place = changed({ kind: "move-place", place: STAGE, at: { x: -40, y: 3 } });
    expect(place.places.map(({ at }) => at)).toEqual([
      { x: 0, y: 0 },
      { x: -40, y: 3 },
    ]);
  });

  test("names and settings of one device are its own", () => {
    const renamed = changed({ kind: "rename-device", device: BOX, name: "Drum riser" });
    expect(renamed.devices.map(({ name }) => name)).toEqual(["FOH console", "Drum riser"]);
    const off = changed({ kind: "edit-device", device: BOX, set: { powered: false } });
    expect(off.devices.map(({ powered }) => powered)).toEqual([true, false]);
    const routed = changed({
      kind: "assign",
      device: CONSOLE,
      to: { group: group("link1"), first: 9 },
      count: 8,
      from: { group: group("mix"), first: 1 },
    });
    expect(routed.devices[0]!.routing).toContainEqual({
      to: { group: group("link1"), first: 9 },
      from: { group: group("mix"), first: 1 },
      count: 8,
    });
    expect(routed.devices[1]).toEqual(before.devices[1]);
  });

  test.each<Change>([
    { kind: "move-devices", to: [{ device: id("gone"), at: { x: 1, y: 1 } }] },
    { kind: "move-place", place: id("gone"), at: { x: 1, y: 1 } },
    { kind: "edit-device", device: id("gone"), set: { powered: false } },
    { kind: "edit-cable", cable: id("gone"), set: { tag: "X" } },
    { kind: "assign", device: id("gone"), to: { group: group("out"), first: 1 }, count: 1, from: null },
  ])("%j names nothing that there is, and changes nothing", (change) => {
    expect(applyChange(smallShow(), change)).toBeNull();
  });

  test("edits that say what the show says are none; one row more or less is one", () => {
    const [vocal] = before.sources;
    const put = (record: NonNullable<typeof vocal>): Change => ({
      kind: "edits",
      edits: [{ kind: "put", list: "sources", record }],
    });
    expect(applyChange(before, put({ ...vocal! }))).toBeNull();
    expect(applyChange(before, put({ ...vocal!, id: id("second") }))!.show.sources).toHaveLength(2);
    const settings = { ...before.settings };
    expect(applyChange(before, { kind: "edits", edits: [{ kind: "settings", settings }] })).toBeNull();
    const feet: Change = {
      kind: "edits",
      edits: [{ kind: "settings", settings: { ...settings, units: "imperial" } }],
    };
    expect(applyChange(before, feet)!.show.settings.units).toBe("imperial");
  });
});

describe("marking a revision", () => {
  const mark: Change = { kind: "mark-revision", name: "B", date: "2026-11-25", note: "as hung" };

  test("is one step that holds the show as it was; the way back and forth shares all of it", () => {
    const before = smallShow();
    const { show, patches, inverse } = applyChange(before, mark)!;
    const { lineChecks, revisions, format, version, id: _id, ...was } = before;
    expect(show).toEqual({
      ...before,
      revisions: [...revisions, { name: "B", date: "2026-11-25", note: "as hung", was }],
    });
    expect(applyPatches(show, inverse)).toBe(before);
    const again = applyPatches(before, patches);
    expect(again).toEqual(show);
    expect(again.revisions.at(-1)!.was!.devices).toBe(before.devices);
    expect([lineChecks, format, version]).toEqual([[], "hopline.show", 1]);
  });

  test("keeps what it was through later edits, and edits that change nothing stay none", () => {
    const { show } = applyChange(smallShow(), mark)!;
    const { show: renamed } = applyChange(show, { kind: "rename-device", device: BOX, name: "Riser" })!;
    expect(renamed.revisions.at(-1)!.was).toEqual(show.revisions.at(-1)!.was);
    expect(renamed.revisions.at(-1)!.was!.cables).toBe(renamed.cables);
    const put = { kind: "put", list: "places", record: { ...smallShow().places[0]! } } as const;
    expect(applyChange(show, { kind: "edits", edits: [put] })).toBeNull();
  });
});

describe("assigning a run", () => {
  const entry = (toFirst: number, from: string, fromFirst: number, count: number): Assignment => ({
    to: { group: group("out"), first: toFirst },
    from: { group: group(from), first: fromFirst },
    count,
  });
  const to = (first: number) => ({ group: group("out"), first });
  const from = (name: string, first: number) => ({ group: group(name), first });

  test("cuts it out of a longer run and keeps both ends", () => {
    expect(assigned([entry(1, "mix", 1, 16)], { to: to(5), count: 4, from: from("mtx", 1) })).toEqual([
      entry(1, "mix", 1, 4),
      entry(5, "mtx", 1, 4),
      entry(9, "mix", 9, 8),
    ]);
  });

  test("joins runs that go on in step", () => {
    expect(assigned([entry(1, "mix", 1, 8)], { to: to(9), count: 8, from: from("mix", 9) })).toEqual([
      entry(1, "mix", 1, 16),
    ]);
  });

  test("null leaves the run unassigned", () => {
    expect(assigned([entry(1, "mix", 1, 8)], { to: to(1), count: 8, from: null })).toEqual([]);
  });

  test("a source with fewer terminals than the run clears the rest of it", () => {
    expect(
      assigned([entry(1, "mix", 1, 8)], { to: to(1), count: 3, clear: 8, from: from("main", 1) }),
    ).toEqual([entry(1, "main", 1, 3)]);
  });

  test("leaves the settings of other destinations, and their order", () => {
    const other: Assignment = { ...entry(1, "mix", 1, 8), to: { group: group("link1"), first: 1 } };
    const last: Assignment = { ...other, to: { group: group("link2"), first: 1 } };
    expect(
      assigned([other, entry(1, "mix", 1, 8), last], { to: to(1), count: 8, from: from("mix", 9) }),
    ).toEqual([other, entry(1, "mix", 9, 8), last]);
  });
});
