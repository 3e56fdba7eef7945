import { afterEach, expect, test } from "vitest";
import { rectsOf } from "#engine/build/room.ts";
import type { Rect } from "#engine/layout/geometry.ts";
import { bringIntoSight, setStage } from "../../renderer/canvas/stage.ts";
import { app } from "../../renderer/state/store.ts";
import { BOX, smallShow } from "./small-show.ts";

let done: (() => void) | null = null;
afterEach(() => done?.());

/** What the canvas does for the box while it looks at a part of it. */
function seenFrom(view: (box: Rect) => Rect): string {
  app.getState().replace(smallShow(), {}, false);
  const box = rectsOf(app.getState().show).get(BOX)!;
  let did = "";
  done = setStage({
    at: () => null,
    view: () => view(box),
    goTo: () => (did += "goes"),
    stay: () => (did += "stays"),
    focus: () => {},
    pan: () => {},
  });
  bringIntoSight([BOX]);
  return did;
}

// Two hundredths of a view 2,000 wide are 40.
test("a device at the very edge of the view is brought into sight, one that stands clear of it isn't", () => {
  const from = (left: number) => (box: Rect) => ({
    x: box.x - left,
    y: box.y - 500,
    width: 2000,
    height: 1500,
  });
  expect(seenFrom(from(39))).toBe("goes");
  expect(seenFrom(from(41))).toBe("stays");
});
