/** B15, B16: devices in line and at even distances; a rig set down where a layout puts it. */
import { describe, expect, test } from "vitest";
import { aligned, distributed, tidied, tidyTask } from "#engine/build/arrange.ts";
import { rectsOf } from "#engine/build/room.ts";
import type { Show } from "#engine/model/show.ts";
import { after, device, rig } from "./support.ts";

const base = rig({
  devices: {
    foh: { name: "FOH", type: "console-24" },
    box: { name: "Box", type: "box-16-8" },
    wedge: { name: "Wedge", type: "wedge" },
    spare: { name: "Spare", type: "wedge" },
  },
  cables: ["X1: box.out.1 - wedge.in.1, microphone", "L1: box.a - foh.link1, 50 m"],
});
const SPOTS = [
  { x: 100, y: 100 },
  { x: 900, y: 350 },
  { x: 1500, y: 90 },
  { x: 300, y: 800 },
];
const show: Show = { ...base, devices: base.devices.map((one, n) => ({ ...one, at: SPOTS[n]! })) };
const three = [device("foh"), device("box"), device("wedge")];
const at = (of: Show, axis: "x" | "y"): readonly number[] => of.devices.map((one) => one.at[axis]);

describe("aligning", () => {
  test("[B15] edges come on the line of the outermost one, middles on that of the area; others stay", () => {
    const left = after(show, aligned(show, three, "left"));
    expect(at(left, "x")).toEqual([100, 100, 100, 300]);
    expect(at(left, "y")).toEqual([100, 350, 90, 800]);
    expect(at(after(show, aligned(show, three, "top")), "y")).toEqual([90, 90, 90, 800]);
    const rects = rectsOf(show);
    const [foh, box, wedge] = three.map((one) => rects.get(one)!);
    const right = 1500 + wedge!.width;
    expect(at(after(show, aligned(show, three, "right")), "x")).toEqual([
      right - foh!.width,
      right - box!.width,
      1500,
      300,
    ]);
    const lowest = Math.max(100 + foh!.height, 350 + box!.height);
    const bottoms = after(show, aligned(show, three, "bottom"));
    const lows = [...rectsOf(bottoms).values()].slice(0, 3).map(({ y, height }) => y + height);
    expect(lows).toEqual([lowest, lowest, lowest]);
    const centred = [...rectsOf(after(show, aligned(show, three, "centre"))).values()].slice(0, 3);
    const middles = centred.map(({ x, width }) => x + width / 2);
    // On the grid of 10, so within half of it.
    for (const x of middles) expect(Math.abs(x - (100 + right) / 2)).toBeLessThanOrEqual(5);
  });

  test("[B15] one device has nothing to be aligned with", () => {
    expect(aligned(show, [device("foh")], "left")).toEqual([]);
  });

  test("[B15] the same free space between neighbours, the outer ones where they are", () => {
    const even = after(show, distributed(show, three, "across"));
    const rects = three.map((one) => rectsOf(even).get(one)!);
    expect(rects[0]!.x).toBe(100);
    expect(rects[2]!.x).toBe(1500);
    const gaps = [rects[1]!.x - rects[0]!.x - rects[0]!.width, rects[2]!.x - rects[1]!.x - rects[1]!.width];
    expect(Math.abs(gaps[0]! - gaps[1]!)).toBeLessThanOrEqual(10);
    expect(at(even, "y")).toEqual(at(show, "y"));
    expect(distributed(show, three.slice(0, 2), "down")).toEqual([]);
  });
});

describe("tidying", () => {
  test("[B16] the task: devices by place, cables pointing from the consoles outwards", () => {
    const task = tidyTask(show, []);
    expect(task.places.map(({ id, devices }) => [id, devices.map((one) => one.id)])).toEqual([
      ["stage", ["foh", "box", "wedge", "spare"]],
    ]);
    expect(task.wires.map(({ from, to }) => [from, to])).toEqual([
      ["box", "wedge"],
      ["foh", "box"],
    ]);
    expect(task.at).toEqual({ x: 100, y: 90 });
    // Of a part only what lies between its devices.
    expect(tidyTask(show, [device("foh"), device("wedge")]).wires).toEqual([]);
  });

  test("[B16] the whole rig: places lie around their devices, on the grid", () => {
    const to = new Map(show.devices.map(({ id }, n) => [id, { x: 1003 + 700 * n, y: 2004 }]));
    const tidy = after(show, tidied(show, [], to));
    expect(at(tidy, "x")).toEqual([1000, 1700, 2400, 3100]);
    expect(at(tidy, "y")).toEqual([2000, 2000, 2000, 2000]);
    const [place] = tidy.places;
    const rects = [...rectsOf(tidy).values()];
    expect(place!.at.x).toBeLessThan(1000);
    expect(place!.at.x + place!.size.width).toBeGreaterThan(3100 + rects[3]!.width);
    expect(place!.size.width).toBeLessThan(show.places[0]!.size.width + 1000);
  });

  test("[B16] a part of it: the place only grows", () => {
    const part = after(
      show,
      tidied(show, [device("spare")], new Map([[device("spare"), { x: 4000, y: 800 }]])),
    );
    expect(part.places[0]!.at).toEqual(show.places[0]!.at);
    expect(part.places[0]!.size.width).toBeGreaterThan(4000);
    expect(part.devices.slice(0, 3)).toEqual(show.devices.slice(0, 3));
  });
});
