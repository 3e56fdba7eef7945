/** Edits of whole records: put, replaced, taken out, in lists that a show always has and in those that it may lack. */
import { describe, expect, test } from "vitest";
import { applyEdits, type Edit } from "#engine/model/edit.ts";
import { id, type ArrivalGroupId, type StreamId } from "#engine/model/ids.ts";
import type { ArrivalGroup, Stream } from "#engine/model/show.ts";
import { rig } from "./rigs/build.ts";

const show = rig({ devices: { house: { name: "House", type: "console-24" } } });
const end = { device: show.devices[0]!.id, group: id<never>("link1"), first: 1 };
const stream: Stream = { id: id<StreamId>("s"), name: "S", from: end, channels: 8, packetTime: 1, to: [] };
const group: ArrivalGroup = { id: id<ArrivalGroupId>("g"), name: "G", members: [] };

const CASES: readonly (readonly [put: Edit, remove: Edit])[] = [
  [
    { kind: "put", list: "streams", record: stream },
    { kind: "remove", list: "streams", id: stream.id },
  ],
  [
    { kind: "put", list: "groups", record: group },
    { kind: "remove", list: "groups", id: group.id },
  ],
];

describe("lists that a show may leave out", () => {
  test.each(CASES)("are made by the first record and go with the last, case %#", (put, remove) => {
    const there = applyEdits(show, [put]);
    expect(there).not.toEqual(show);
    expect(applyEdits(there, [put])).toEqual(there);
    expect(applyEdits(there, [remove])).toEqual(show);
    expect(applyEdits(show, [remove])).toEqual(show);
  });

  test("a record that is there is replaced where it stands", () => {
    const other = { ...group, id: id<ArrivalGroupId>("h") };
    const both = applyEdits(show, [
      { kind: "put", list: "groups", record: group },
      { kind: "put", list: "groups", record: other },
      { kind: "put", list: "groups", record: { ...group, name: "New" } },
    ]);
    expect(both.groups).toEqual([{ ...group, name: "New" }, other]);
    expect(applyEdits(both, [{ kind: "remove", list: "groups", id: group.id }]).groups).toEqual([other]);
  });
});
