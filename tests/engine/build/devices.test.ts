/** B1–B4: devices and places put in, named, moved and resized. */
import { describe, expect, test } from "vitest";
import { addDevice, addPlace, movedToPlace, renamed, resizedPlace, stemOf } from "#engine/build/devices.ts";
import { typesToAdd } from "#engine/build/types.ts";
import { CATALOGUE, catalogueType } from "#engine/catalog/types.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { loadShow } from "#engine/exchange/load.ts";
import { overlap, placeRect, rectsOf } from "#engine/build/room.ts";
import { id, type TypeId } from "#engine/model/ids.ts";
import type { Place, Show } from "#engine/model/show.ts";
import { after, blank, device, found, place, rig } from "./support.ts";

const BOX = catalogueType("box-32-16");
const MIDDLE = { x: 500, y: 400 };

const holds = (show: Show, { at, size }: Place, name: string): boolean => {
  const rect = rectsOf(show).get(show.devices.find((one) => one.name === name)!.id)!;
  return (
    rect.x >= at.x &&
    rect.y >= at.y &&
    rect.x + rect.width <= at.x + size.width &&
    rect.y + rect.height <= at.y + size.height
  );
};

describe("a device", () => {
  test("[B1] in a blank show: its type comes along, and a place is made around it", () => {
    const added = addDevice(blank(), BOX, MIDDLE);
    const show = after(blank(), added.edits);
    expect(show.types).toEqual([BOX]);
    expect(show.places.map(({ name }) => name)).toEqual(["Place 1"]);
    expect(show.devices).toEqual([
      {
        id: "stage-box-1",
        name: "Stage box 1",
        type: "box-32-16",
        place: show.places[0]!.id,
        // 620 × 230, its corner on the grid of 10.
        at: { x: 190, y: 290 },
        // The first of the type's modes: one console.
        mode: "one",
        position: 1,
        powered: true,
        routing: [],
      },
    ]);
    expect(holds(show, show.places[0]!, "Stage box 1")).toBe(true);
    expect(loadShow(saveShow(show)).ok).toBe(true);
  });

  test("[B1] where its place would grow over another, it takes a spot where it doesn't", () => {
    // Two places side by side with 20 units between; the first is 680 wide, which a second box (620) beside its own
    // would make grow to the right, over the other. Below it there is room.
    const one = after(blank(), addDevice(blank(), BOX, MIDDLE).edits);
    const [first] = one.places;
    const right = first!.at.x + first!.size.width + 20;
    const beside: Place = {
      ...first!,
      id: place("beside"),
      name: "Beside",
      at: { x: right, y: first!.at.y },
    };
    const show = { ...one, places: [...one.places, beside] };
    const corner = { x: right - 30, y: first!.at.y + first!.size.height / 2 };
    const two = after(show, addDevice(show, BOX, corner).edits);
    const [a, b] = two.places.map(placeRect);
    expect(two.devices[1]!.place).toBe(first!.id);
    expect(holds(two, two.places[0]!, "Stage box 2")).toBe(true);
    expect(overlap(a!, b!)).toBe(false);
  });

  test("[B1] the next one takes the next number, the same type, the place under it, and a free spot", () => {
    const one = after(blank(), addDevice(blank(), BOX, MIDDLE).edits);
    const two = after(one, addDevice(one, BOX, MIDDLE).edits);
    expect(two.devices.map(({ name }) => name)).toEqual(["Stage box 1", "Stage box 2"]);
    expect(two.types).toHaveLength(1);
    expect(two.places).toHaveLength(1);
    expect(two.devices[1]!.place).toBe(two.places[0]!.id);
    const [a, b] = [...rectsOf(two).values()];
    // 40 units are left between nodes for cables.
    expect(overlap(a!, b!, 39)).toBe(false);
    expect(holds(two, two.places[0]!, "Stage box 2")).toBe(true);
  });

  test("[B1] away from every place it gets one of its own; told one, it goes there", () => {
    const one = after(blank(), addDevice(blank(), BOX, MIDDLE).edits);
    const far = addDevice(one, BOX, { x: 5000, y: 5000 });
    expect(far.place.name).toBe("Place 2");
    const into = addDevice(one, BOX, { x: 5000, y: 5000 }, { into: one.places[0]!.id });
    expect(into.place.id).toBe(one.places[0]!.id);
    expect(after(one, into.edits).places).toHaveLength(1);
  });

  test("[B1] a new place lies clear of the one that it was dropped beside", () => {
    const one = after(blank(), addDevice(blank(), BOX, MIDDLE).edits);
    const { at, size } = one.places[0]!;
    // Just below the first place, where half of the device would still be within it.
    const middle = { x: at.x + size.width / 2, y: at.y + size.height + 5 };
    const two = after(one, addDevice(one, BOX, middle).edits);
    expect(two.places).toHaveLength(2);
    const [first, second] = two.places.map(placeRect);
    // 20 units lie between places; 19 are less than that.
    expect(overlap(first!, second!, 19)).toBe(false);
    expect(holds(two, two.places[1]!, "Stage box 2")).toBe(true);
    // No further away than need be: the nearest is straight below, at most a step of 20 off the gap.
    expect(second!.x).toBe(first!.x);
    expect(second!.y - (at.y + size.height)).toBeLessThan(20 + 20);
  });

  test("[B1] another type of the same id stays what it is, and the new one gets an id of its own", () => {
    const own = { ...BOX, name: "Ours" };
    const show = { ...blank(), types: [own] };
    const with2 = after(show, addDevice(show, BOX, MIDDLE).edits);
    expect(with2.types.map((type) => [type.id, type.name])).toEqual([
      ["box-32-16", "Ours"],
      ["box-32-16-2", "Stage box 32 in, 16 out"],
    ]);
    expect(with2.devices[0]!.type).toBe("box-32-16-2");
    // A second one of it uses the type that is there now.
    expect(after(with2, addDevice(with2, BOX, MIDDLE).edits).types).toHaveLength(2);
  });

  test("[B1] a type whose first mode is for a later chain position starts in the one for the first", () => {
    const breakout = catalogueType("breakout-16");
    const modes = [...breakout.modes].reverse();
    const turned = { ...breakout, id: id<TypeId>("turned"), modes };
    // "stage-later" is for positions 2 to 4, "stage-first" for 1.
    expect(modes[0]!.positions).toEqual([2, 3, 4]);
    expect(addDevice(blank(), turned, MIDDLE).device.mode).toBe("stage-first");
  });

  test("[B1] an id that a kept revision has is not given again", () => {
    const one = after(blank(), addDevice(blank(), BOX, MIDDLE).edits);
    const { format: _f, version: _v, id: _i, lineChecks: _l, revisions: _r, ...was } = one;
    const show = { ...blank(), revisions: [{ name: "A", date: "2026-01-01", note: "", was }] };
    expect(addDevice(show, BOX, MIDDLE).device).toMatchObject({ id: "stage-box-1-2", name: "Stage box 1" });
  });

  test("[B1] every type of the catalogue: a show that loads, without an error or a warning", () => {
    for (const type of CATALOGUE) {
      const show = after(blank(), addDevice(blank(), type, MIDDLE).edits);
      expect(loadShow(saveShow(show)).ok, type.id).toBe(true);
      expect(found(show, "dangling"), type.id).toEqual([]);
      expect(found(show, "chain"), type.id).toEqual([]);
    }
  });

  test.each([
    ["console-48", "Console"],
    ["box-16-8", "Stage box"],
    ["aes10-interface-src", "AES10 coax interface with rate converter"],
    ["aes67-switch", "AES67 switch"],
    ["wedge", "Powered wedge"],
    ["recorder-64", "Recorder"],
  ])("[B1] %s is called %s", (type, name) => {
    expect(stemOf(catalogueType(type))).toBe(name);
  });

  test("[B1] the types to choose from are the show's own, then those of the catalogue that it lacks", () => {
    const own = { ...BOX, name: "Ours" };
    const list = typesToAdd({ ...blank(), types: [own] });
    expect(list[0]).toBe(own);
    expect(list).toHaveLength(CATALOGUE.length);
    expect(new Set(list.map((type) => type.id)).size).toBe(list.length);
  });
});

describe("a place", () => {
  test("[B2] is put clear of other places and of devices", () => {
    let show = after(blank(), addDevice(blank(), BOX, MIDDLE).edits);
    for (let n = 0; n < 4; n++) show = after(show, addPlace(show, MIDDLE).edits);
    expect(show.places.map(({ name }) => name)).toEqual([1, 2, 3, 4, 5].map((n) => `Place ${n}`));
    const rects = show.places.map(placeRect);
    rects.forEach((a, n) => rects.slice(n + 1).forEach((b) => expect(overlap(a, b)).toBe(false)));
    expect(after(show, addPlace(show, MIDDLE, "Truck").edits).places.at(-1)!.name).toBe("Truck");
  });

  test("[B2] resized, it never becomes smaller than its devices", () => {
    const show = after(blank(), addDevice(blank(), BOX, MIDDLE).edits);
    const small = after(
      show,
      resizedPlace(show, show.places[0]!.id, { x: 490, y: 390, width: 10, height: 10 }),
    );
    expect(holds(small, small.places[0]!, "Stage box 1")).toBe(true);
    const large = after(
      show,
      resizedPlace(show, show.places[0]!.id, { x: -3, y: 4, width: 2003, height: 1998 }),
    );
    // Snapped to the grid of 10.
    expect(placeRect(large.places[0]!)).toEqual({ x: 0, y: 0, width: 2000, height: 2000 });
    expect(resizedPlace(show, place("nowhere"), { x: 0, y: 0, width: 9, height: 9 })).toEqual([]);
  });
});

describe("names", () => {
  test("[B3] outer space goes, and an empty name changes nothing", () => {
    const show = after(blank(), addDevice(blank(), BOX, MIDDLE).edits);
    const box = { kind: "device", id: device("stage-box-1") } as const;
    expect(after(show, renamed(show, box, "  Stage left ")).devices[0]!.name).toBe("Stage left");
    expect(renamed(show, box, "  ")).toEqual([]);
    expect(renamed(show, { kind: "device", id: device("gone") }, "A")).toEqual([]);
    const there = { kind: "place", id: show.places[0]!.id } as const;
    expect(after(show, renamed(show, there, "Stage")).places[0]!.name).toBe("Stage");
  });
});

describe("devices moved to a place", () => {
  test("[B4] what stands outside it is set down inside, side by side; what is in it already stays", () => {
    const base = rig({
      devices: {
        a: { name: "A", type: "wedge" },
        b: { name: "B", type: "wedge" },
        c: { name: "C", type: "wedge" },
      },
    });
    const show: Show = {
      ...base,
      places: [
        ...base.places,
        { id: place("pit"), name: "Pit", at: { x: 0, y: 3000 }, size: { width: 300, height: 200 } },
      ],
    };
    const moved = after(show, movedToPlace(show, [device("a"), device("b")], place("pit")));
    expect(moved.devices.map((one) => one.place)).toEqual(["pit", "pit", "stage"]);
    expect(moved.devices[2]).toBe(show.devices[2]);
    const pit = moved.places.find(({ name }) => name === "Pit")!;
    expect(holds(moved, pit, "A") && holds(moved, pit, "B")).toBe(true);
    const rects = rectsOf(moved);
    expect(overlap(rects.get(device("a"))!, rects.get(device("b"))!)).toBe(false);
    expect(movedToPlace(show, [device("a")], place("stage"))).toEqual([]);
    expect(movedToPlace(show, [device("a")], place("gone"))).toEqual([]);
  });
});
