import { expect, test } from "vitest";
import { pinched } from "../../renderer/canvas/pinch.ts";

const VIEW = { x: 100, y: 50, zoom: 0.5 };
/** What a point on the canvas lies under, in canvas units. */
const under = ({ x, y, zoom }: typeof VIEW, at: { readonly x: number; readonly y: number }) => ({
  x: (at.x - x) / zoom,
  y: (at.y - y) / zoom,
});

test("two fingers twice as far apart make it twice as large, around what lies between them", () => {
  const middle = { x: 300, y: 250 };
  const now = pinched(VIEW, { middle, apart: 80 }, { middle, apart: 160 });
  expect(now.zoom).toBe(1);
  // (300 − 100) / 0.5 and (250 − 50) / 0.5.
  expect(under(VIEW, middle)).toEqual({ x: 400, y: 400 });
  expect(under(now, middle)).toEqual({ x: 400, y: 400 });
});

test("two fingers that go together take the view along", () => {
  const now = pinched(VIEW, { middle: { x: 10, y: 10 }, apart: 80 }, { middle: { x: 40, y: 0 }, apart: 80 });
  expect(now).toEqual({ x: 130, y: 40, zoom: 0.5 });
});

test("it grows and shrinks no further than by any other means, and then stands still", () => {
  const middle = { x: 300, y: 250 };
  const large = pinched(VIEW, { middle, apart: 1 }, { middle, apart: 10_000 });
  expect(pinched(large, { middle, apart: 80 }, { middle, apart: 160 })).toEqual(large);
  const small = pinched(VIEW, { middle, apart: 10_000 }, { middle, apart: 1 });
  expect(pinched(small, { middle, apart: 160 }, { middle, apart: 80 })).toEqual(small);
});
