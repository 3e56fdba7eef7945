/** Names of places from far: as large as they must be to be read, beside the devices and not on them. */
import { describe, expect, test } from "vitest";
import { id, type Place, type Show } from "#engine";
import { overlap, rectsOf } from "#engine/build/room.ts";
import { textWidth } from "#engine/layout/text.ts";
import { besidePlace, nameSpots } from "../../renderer/canvas/place-names.ts";
import { demo } from "../engine/demo.ts";
import { BOX, smallShow } from "./small-show.ts";

const LARGE: Place = {
  id: id("large"),
  name: "Far side",
  at: { x: 0, y: 0 },
  size: { width: 3000, height: 2000 },
};

/** One place, with the stage box in it. */
function withBoxAt(x: number, y: number, place: Place = LARGE): Show {
  const show = smallShow();
  const box = { ...show.devices.find((device) => device.id === BOX)!, place: place.id, at: { x, y } };
  return { ...show, places: [place], devices: [box] };
}

const spotOf = (show: Show, unit: number) => nameSpots(show, unit).get(LARGE.id);

describe("names of places", () => {
  // A strip holds 42 units. 13 pixels of 3.2 units are 41.6; 11 pixels of 10 units are 110, which at that zoom are 11 again.
  test("stand in their strip as long as they can be read there", () => {
    expect(nameSpots(withBoxAt(30, 70), 3.2).size).toBe(0);
  });

  test("from far are 11 pixels high, at the top where that is free", () => {
    expect(spotOf(withBoxAt(30, 900), 10)).toEqual({ top: 0, size: 110 });
  });

  test("rise above a device that stands under them, up to the border of it", () => {
    // 1.25 lines of 110 are 137.5, of which 70 are free above the box.
    expect(spotOf(withBoxAt(30, 70), 10)).toEqual({ top: -67.5, size: 110 });
  });

  test("take a smaller size where the next place's devices leave no more room", () => {
    const above = {
      ...smallShow().devices.find((device) => device.id === BOX)!,
      id: id<typeof BOX>("above"),
    };
    const show = withBoxAt(30, 70);
    const height = rectsOf({ ...show, devices: [above] }).get(above.id)!.height;
    // 120 units are free between the two: 9 pixels of 10 units take 112.5, 10 take 125.
    const both: Show = {
      ...show,
      devices: [...show.devices, { ...above, place: LARGE.id, at: { x: 30, y: -50 - height } }],
    };
    expect(spotOf(both, 10)).toEqual({ top: -42.5, size: 90 });
    // With less than that nothing is said, and the strip keeps it.
    const tight: Show = {
      ...both,
      devices: both.devices.map((each) =>
        each.id === above.id ? { ...each, at: { x: 30, y: -40 - height } } : each,
      ),
    };
    expect(spotOf(tight, 10)).toBeUndefined();
  });

  test("of a narrow place are whole in a smaller size, else cut in the largest", () => {
    const width = (pixels: number): number => textWidth("Far side", pixels * 10) * 1.12 + 8 + 28;
    const narrow = (room: number) =>
      spotOf(withBoxAt(30, 900, { ...LARGE, size: { width: room, height: 2000 } }), 10)?.size;
    expect(narrow(width(11) + 1)).toBe(110);
    expect(narrow(width(11) - 1)).toBe(100);
    expect(narrow(width(9) - 1)).toBe(110);
  });

  test("lie on no device and on no other name, in the demo from any distance", () => {
    const show = demo();
    for (const unit of [3.3, 5, 8, 12]) {
      const names = [...nameSpots(show, unit)].map(([place, { top, size }]) => {
        const { name, at, size: area } = show.places.find((each) => each.id === place)!;
        const width = Math.min(textWidth(name, size) * 1.12 + 8, area.width - 28);
        return { x: at.x + 14, y: at.y + top, width, height: size * 1.25 };
      });
      names.forEach((name, n) => {
        for (const [device, rect] of rectsOf(show)) expect(overlap(name, rect), device).toBe(false);
        for (const other of names.slice(n + 1)) expect(overlap(name, other)).toBe(false);
      });
    }
    // At 8 units a pixel, a 1024 window's view of a large site, all of them have room.
    expect(nameSpots(show, 5).size).toBe(show.places.length);
  });
});

test.each([
  ["Stage 3 breakout 1", "Stage 3 site", "…breakout 1"],
  ["stage left box", "Stage left", "…box"],
  ["Stage left", "Stage left", "Stage left"],
  ["Monitors", "Stage left", "Monitors"],
  ["Stage right", "Stage left", "…right"],
])("%s in %s has %s beside it", (name, place, told) => {
  expect(besidePlace(name, place)).toBe(told);
});
