/** A rig laid out by the library: whatever it answers, devices stand apart and in their places. */
import { expect, test } from "vitest";
import Elk from "elkjs/lib/elk.bundled.js";
import { applyEdits, tidied, tidyTask, type Show } from "#engine";
import { overlap, placeRect, rectsOf } from "#engine/build/room.ts";
import { graphOf, spotsOf } from "../../renderer/canvas/tidy.ts";
import { demo } from "../engine/demo.ts";

async function laidOut(show: Show): Promise<Show> {
  const task = tidyTask(show, []);
  return applyEdits(show, tidied(show, [], spotsOf(await new Elk().layout(graphOf(task)), task)));
}

test("the demo tidied up: no device on another, no place on another, each device in its place", async () => {
  const show = demo();
  const tidy = await laidOut(show);
  const rects = [...rectsOf(tidy)];
  rects.forEach(([id, a], n) =>
    rects.slice(n + 1).forEach(([other, b]) => expect(overlap(a, b), `${id} and ${other}`).toBe(false)),
  );
  const places = tidy.places.map(placeRect);
  places.forEach((a, n) => places.slice(n + 1).forEach((b) => expect(overlap(a, b)).toBe(false)));
  for (const device of tidy.devices) {
    const place = placeRect(tidy.places.find(({ id }) => id === device.place)!);
    const rect = rectsOf(tidy).get(device.id)!;
    expect(rect.x >= place.x && rect.y >= place.y, device.name).toBe(true);
    expect(rect.x + rect.width <= place.x + place.width, device.name).toBe(true);
    expect(rect.y + rect.height <= place.y + place.height, device.name).toBe(true);
  }
  // Nothing but where things stand is another.
  expect(tidy.devices.map(({ at: _at, ...rest }) => rest)).toEqual(
    show.devices.map(({ at: _at, ...rest }) => rest),
  );
  expect(await laidOut(show)).toEqual(tidy);
});
