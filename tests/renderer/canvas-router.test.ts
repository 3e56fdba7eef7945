import { describe, expect, it } from "vitest";
import type { Point } from "#engine";
import { placeBars } from "#engine/layout/router/bars.ts";
import { marksAlong, plainWay, roundedPath } from "#engine/layout/router/path.ts";
import { routeScene, touches, type Routed } from "#engine/layout/router/router.ts";
import type { Box, Scene, Wire, WireEnd } from "#engine/layout/router/scene.ts";

/** A small generator of our own, so that a seed means the same on every machine. */
function random(seed: number): () => number {
  let state = seed * 2654435761 + 1;
  return () => {
    state = (Math.imul(state ^ (state >>> 15), 2246822519) + 0x9e3779b9) | 0;
    return ((state ^ (state >>> 13)) >>> 0) / 2 ** 32;
  };
}

const beside = (box: Box, row: number): WireEnd => ({
  box: box.id,
  anchors: [
    { side: "left", x: 0, y: row },
    { side: "right", x: box.width, y: row },
  ],
});

const allAround = (box: Box, column: number, row: number): WireEnd => ({
  box: box.id,
  anchors: [
    ...beside(box, row).anchors,
    { side: "bottom", x: column, y: box.height },
    { side: "top", x: column, y: 0 },
  ],
});

/** Boxes of mixed sizes on a loose lattice, at least 40 apart, with wires between any two of them. */
function sceneOf(seed: number, boxCount: number, wireCount: number): Scene {
  const next = random(seed);
  const columns = Math.ceil(Math.sqrt(boxCount));
  const boxes = Array.from({ length: boxCount }, (_, n): Box => {
    const width = 160 + Math.floor(next() * 30) * 10;
    const height = 80 + Math.floor(next() * 16) * 10;
    const x = (n % columns) * 520 + Math.floor((next() * (480 - width)) / 10) * 10;
    const y = Math.floor(n / columns) * 300 + Math.floor((next() * (260 - height)) / 10) * 10;
    return { id: `box ${n}`, x, y, width, height };
  });
  const wires = Array.from({ length: wireCount }, (_, n): Wire => {
    const a = boxes[Math.floor(next() * boxCount)]!;
    let b = boxes[Math.floor(next() * boxCount)]!;
    if (a === b) b = boxes[(boxes.indexOf(a) + 1) % boxCount]!;
    const end = (box: Box): WireEnd =>
      next() < 0.5
        ? beside(box, 40 + Math.floor(next() * 5) * 8)
        : allAround(box, 20 + Math.floor(next() * 10) * 10, 40 + Math.floor(next() * 5) * 8);
    return { id: `wire ${n}`, ends: [end(a), end(b)] };
  });
  return { boxes, wires };
}

const isAnchor = (point: Point, end: WireEnd, boxes: readonly Box[]): boolean => {
  const box = boxes.find(({ id }) => id === end.box)!;
  return end.anchors.some(({ x, y }) => box.x + x === point.x && box.y + y === point.y);
};

function expectSound({ scene, routes }: Routed): void {
  for (const wire of scene.wires) {
    const { points, boxedIn } = routes.get(wire.id)!;
    expect(boxedIn, wire.id).toBe(false);
    for (let n = 1; n < points.length; n++) {
      const [a, b] = [points[n - 1]!, points[n]!];
      expect(a.x === b.x || a.y === b.y, `${wire.id} is level or upright`).toBe(true);
    }
    expect(isAnchor(points[0]!, wire.ends[0], scene.boxes), `${wire.id} starts at its anchor`).toBe(true);
    expect(isAnchor(points.at(-1)!, wire.ends[1], scene.boxes), `${wire.id} ends at its anchor`).toBe(true);
    const crossed = scene.boxes.filter((box) => touches(points, box, -0.5));
    expect(crossed, `${wire.id} crosses no box`).toEqual([]);
  }
}

describe("the router", () => {
  it.each(Array.from({ length: 25 }, (_, n) => n + 1))("crosses no box, seed %i", (seed) => {
    expectSound(routeScene(sceneOf(seed, 20, 40)));
  });

  it("gives the same ways for the same scene", () => {
    const points = (): unknown => [...routeScene(sceneOf(7, 20, 40)).routes];
    expect(points()).toEqual(points());
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8])("searches only what a move touches, seed %i", (seed) => {
    const scene = sceneOf(seed, 30, 50);
    const before = routeScene(scene);
    const moved = scene.boxes[seed]!;
    const boxes = scene.boxes.map((box) => (box === moved ? { ...box, x: box.x + 20, y: box.y + 10 } : box));
    const after = routeScene({ ...scene, boxes }, before);
    expectSound(after);
    const attached = scene.wires.filter(({ ends }) => ends.some(({ box }) => box === moved.id));
    expect(after.searched).toBeGreaterThanOrEqual(attached.length);
    expect(after.searched).toBeLessThan(scene.wires.length / 2);
    const kept = scene.wires.filter(({ id }) => after.ways.get(id) === before.ways.get(id));
    expect(kept).toHaveLength(scene.wires.length - after.searched);
    expect(routeScene({ ...scene, boxes }, after).searched).toBe(0);
  });

  it("takes cables that run along each other apart, and in the order that doesn't cross", () => {
    const boxes: Box[] = [
      { id: "left", x: 0, y: 0, width: 200, height: 300 },
      { id: "right", x: 500, y: 200, width: 200, height: 300 },
    ];
    const wires = [0, 1, 2, 3].map((n): Wire => ({
      id: `wire ${n}`,
      ends: [
        { box: "left", anchors: [{ side: "right", x: 200, y: 100 + n * 22 }] },
        { box: "right", anchors: [{ side: "left", x: 0, y: 100 + n * 22 }] },
      ],
    }));
    const { routes } = routeScene({ boxes, wires });
    const uprights = wires.map(({ id }) => routes.get(id)!.points[1]!.x);
    expect([...uprights].sort((a, b) => b - a)).toEqual(uprights);
    for (let n = 1; n < 4; n++) expect(uprights[n - 1]! - uprights[n]!).toBeGreaterThanOrEqual(6);
  });

  it("leaves a box straight, and goes around what stands between", () => {
    const boxes: Box[] = [
      { id: "a", x: 0, y: 0, width: 100, height: 100 },
      { id: "wall", x: 200, y: -200, width: 100, height: 500 },
      { id: "b", x: 400, y: 0, width: 100, height: 100 },
    ];
    const wires: Wire[] = [
      {
        id: "w",
        ends: [
          { box: "a", anchors: [{ side: "right", x: 100, y: 50 }] },
          { box: "b", anchors: [{ side: "left", x: 0, y: 50 }] },
        ],
      },
    ];
    const { points } = routeScene({ boxes, wires }).routes.get("w")!;
    expect(points[0]).toEqual({ x: 100, y: 50 });
    expect(points[1]!.x).toBeGreaterThan(100);
    expect(points[1]!.y).toBe(50);
    expect(points).toHaveLength(6);
  });

  it("falls back to a plain way where an end has no room at all", () => {
    const boxes: Box[] = [
      { id: "a", x: 0, y: 0, width: 100, height: 100 },
      { id: "b", x: 102, y: 0, width: 100, height: 100 },
    ];
    const wires: Wire[] = [
      {
        id: "w",
        ends: [
          { box: "a", anchors: [{ side: "right", x: 100, y: 50 }] },
          { box: "b", anchors: [{ side: "left", x: 0, y: 50 }] },
        ],
      },
    ];
    const route = routeScene({ boxes, wires }).routes.get("w")!;
    expect(route.boxedIn).toBe(true);
    expect(route.points.length).toBeGreaterThanOrEqual(2);
  });

  it("leaves out wires whose box isn't there", () => {
    const { boxes, wires } = sceneOf(3, 6, 6);
    const { routes } = routeScene({ boxes: boxes.slice(1), wires });
    expect([...routes.keys()]).toEqual(
      wires.filter(({ ends }) => ends.every(({ box }) => box !== "box 0")).map(({ id }) => id),
    );
  });

  it("crosses no box where 200 wires run among 60", () => {
    expectSound(routeScene(sceneOf(11, 60, 200)));
  });

  it("keeps off names where there is another way", () => {
    const boxes: Box[] = [
      { id: "a", x: 0, y: 0, width: 100, height: 100 },
      { id: "b", x: 400, y: 300, width: 100, height: 100 },
    ];
    const wires: Wire[] = [{ id: "w", ends: [beside(boxes[0]!, 50), beside(boxes[1]!, 50)] }];
    const name = { x: 110, y: 320, width: 270, height: 60 };
    const { points } = routeScene({ boxes, wires, quiet: [name] }).routes.get("w")!;
    expect(touches(points, name, 0)).toBe(false);
  });
});

describe("bars", () => {
  it("stand on their wire, clear of boxes, and stay where nothing changed", () => {
    const scene = sceneOf(5, 20, 30);
    const routed = routeScene(scene);
    const sizes = new Map(scene.wires.map(({ id }) => [id, { length: 80, breadth: 20 }]));
    const bars = placeBars(scene, routed.routes, sizes, null);
    expect(bars.size).toBe(30);
    for (const [id, { x, y }] of bars) {
      const { points } = routed.routes.get(id)!;
      expect(touches(points, { x, y, width: 0, height: 0 }, 15), id).toBe(true);
    }
    expect(placeBars(scene, routed.routes, sizes, { routes: routed.routes, bars })).toEqual(bars);
  });
});

describe("paths", () => {
  it("rounds corners, less where an arm is short", () => {
    const path = roundedPath([
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 100, y: 6 },
    ]);
    expect(path).toBe("M0 0L97 0Q100 0 100 3L100 6");
  });

  it("marks the direction on every long stretch, and at least once", () => {
    const marks = marksAlong(
      [
        { x: 0, y: 0 },
        { x: 200, y: 0 },
        { x: 200, y: -30 },
      ],
      80,
    );
    expect(marks.map(({ angle }) => angle)).toEqual([0, 0]);
    expect(
      marksAlong(
        [
          { x: 0, y: 0 },
          { x: 0, y: 10 },
        ],
        80,
      ),
    ).toHaveLength(1);
  });

  it("previews a dragged cable in level and upright pieces", () => {
    for (const sides of [
      ["right", "left"],
      ["bottom", "top"],
      ["right", "top"],
    ] as const) {
      const points = plainWay({ x: 0, y: 0 }, sides[0], { x: 100, y: 70 }, sides[1]);
      for (let n = 1; n < points.length; n++) {
        const [a, b] = [points[n - 1]!, points[n]!];
        expect(a.x === b.x || a.y === b.y).toBe(true);
      }
    }
  });
});
