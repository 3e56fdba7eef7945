/** B15, B16: devices in line and at even distances; a rig set down where a layout puts it. */
import { describe, expect, test } from "vitest";
import { aligned, distributed, dropped, tidied, tidyTask } from "#engine/build/arrange.ts";
import { rectsOf } from "#engine/build/room.ts";
import type { Show } from "#engine/model/show.ts";
import { after, device, place, rig } from "./support.ts";

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

/**
 *   A 0–400 │ 40 free │ B 440–840     each 300 high, C 40 below A; a loudspeaker's node is 160 × 80,
 *   ────────┘         └──────────     a place keeps 30 around it, 70 above, and 20 to the next place
 *   C 0–400
 */
describe("dropping", () => {
  const area = (name: string, x: number, y: number) => ({
    id: place(name),
    name,
    at: { x, y },
    size: { width: 400, height: 300 },
  });
  const two = rig({ devices: { one: { name: "One", type: "wedge" }, two: { name: "Two", type: "wedge" } } });
  const neighbours: Show = {
    ...two,
    places: [area("A", 0, 0), area("B", 440, 0), area("C", 0, 340)],
    devices: two.devices.map((each, n) => ({ ...each, place: place("A"), at: { x: 30, y: 70 + 100 * n } })),
  };
  const drop = (x: number, y: number) => {
    const { devices, places } = dropped(neighbours, new Map([[device("one"), { x, y }]]));
    const grown = places.map(({ id, at: { x: left, y: top }, size }) =>
      [id, left, top, size.width, size.height].join(" "),
    );
    return [devices.map((each) => each.place).join(), ...grown];
  };

  test.each([
    ["within its place", 200, 100, ["A"]],
    ["close to the border: the margin gives way to the neighbour", 250, 100, ["A", "A 0 0 420 300"]],
    ["further than the place can go: it stays as it is", 300, 100, ["A"]],
    ["between two places", 330, 100, ["A"]],
    ["on free ground: its place follows", 100, -400, ["A", "A 0 -470 400 770"]],
    ["past a neighbour: the place would lie over it", 100, 700, ["A"]],
    ["in a neighbour that can't grow around it", 380, 100, ["B"]],
    ["in a neighbour that can", 430, 250, ["B", "B 420 0 420 360"]],
    ["where it stood", 30, 70, [""]],
  ])("[B17] %s", (_, x, y, expected) => {
    expect(drop(x, y)).toEqual(expected);
  });

  test("[B17] two places that lie over each other already may go on doing so, and keep their own", () => {
    const over: Show = {
      ...neighbours,
      places: [area("A", 0, 0), area("B", 350, 0)],
    };
    const { devices, places } = dropped(over, new Map([[device("one"), { x: 300, y: 100 }]]));
    expect(devices.map((each) => each.place)).toEqual(["A"]);
    expect(places.map(({ size }) => size.width)).toEqual([490]);
  });

  test("[B15] [B17] a place grows for aligned devices only as far as it is clear of its neighbours", () => {
    const wide: Show = {
      ...neighbours,
      devices: neighbours.devices.map((each, n) => ({
        ...each,
        at: { x: n === 0 ? 30 : 250, y: 70 + 100 * n },
      })),
    };
    const lined = after(wide, aligned(wide, [device("one"), device("two")], "right"));
    expect(lined.devices.map((each) => each.at.x)).toEqual([250, 250]);
    expect(lined.places.map(({ size }) => size.width)).toEqual([420, 400, 400]);
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
