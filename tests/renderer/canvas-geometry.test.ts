import { describe, expect, it } from "vitest";
import { CATALOGUE, layoutOf, type DeviceType } from "#engine";
import {
  anchorsOf,
  cellRect,
  GRID,
  hitNode,
  nodeGeometry,
  nodeSize,
  runRects,
  spanBlocks,
  type Rect,
} from "#engine/layout/geometry.ts";

const cellsOf = (type: DeviceType): { readonly key: string; readonly rect: Rect }[] =>
  nodeGeometry(type).groups.flatMap(({ id, spans }) =>
    spans.flatMap((at) =>
      Array.from({ length: at.span.count }, (_, index) => ({
        key: `${id} ${at.span.side} ${index + 1}`,
        rect: cellRect(at, index + 1),
      })),
    ),
  );

const overlap = (a: Rect, b: Rect): boolean =>
  a.x + 0.01 < b.x + b.width &&
  b.x + 0.01 < a.x + a.width &&
  a.y + 0.01 < b.y + b.height &&
  b.y + 0.01 < a.y + a.height;

const named = (name: string): DeviceType => CATALOGUE.find(({ id }) => id === name)!;

describe.each(CATALOGUE.map((type) => [type.id, type] as const))("node geometry of %s", (_, type) => {
  it("has one cell for each terminal, and none covers another", () => {
    const cells = cellsOf(type);
    expect(cells).toHaveLength(layoutOf(type).size);
    for (const [index, { key, rect }] of cells.entries()) {
      const covered = cells.slice(index + 1).find((other) => overlap(rect, other.rect));
      expect(covered, key).toBeUndefined();
    }
  });

  it("keeps everything inside a node whose size is in whole grid steps", () => {
    const { width, height, groups } = nodeGeometry(type);
    expect([width % GRID, height % GRID]).toEqual([0, 0]);
    const rects = [...cellsOf(type).map(({ rect }) => rect), ...groups.map(({ label }) => label)];
    for (const rect of rects) {
      expect(rect.x).toBeGreaterThanOrEqual(0);
      expect(rect.x + rect.width).toBeLessThanOrEqual(width);
      expect(rect.y + rect.height).toBeLessThanOrEqual(height);
    }
  });

  it("finds each cell by a point on it", () => {
    for (const { groups } of [nodeGeometry(type)]) {
      for (const { id, spans } of groups) {
        for (const at of spans) {
          for (let number = 1; number <= at.span.count; number++) {
            const rect = cellRect(at, number);
            const hit = hitNode(nodeGeometry(type), rect.x + rect.width / 2, rect.y + rect.height / 2);
            expect(hit?.group.id).toBe(id);
            expect(hit?.cell).toEqual({ at, number });
          }
        }
      }
    }
  });

  it("covers each block with rectangles that hold its cells", () => {
    for (const at of nodeGeometry(type).groups.flatMap(({ spans }) => spans)) {
      for (const { first, last } of spanBlocks(at.span)) {
        const rects = runRects(at, first, last);
        for (let number = first; number <= last; number++) {
          const cell = cellRect(at, number);
          expect(rects.some((rect) => overlap(cell, rect))).toBe(true);
        }
      }
    }
  });

  it("puts anchors on the border of the side they name", () => {
    const { width, height } = nodeSize(type);
    for (const port of type.ports) {
      const anchors = anchorsOf(type, port.id, 1, 1);
      expect(anchors.map(({ side }) => side)).toEqual(["left", "right"]);
    }
    for (const bank of type.banks) {
      for (let jack = 1; jack <= bank.count; jack++) {
        for (const { side, x, y } of anchorsOf(type, bank.id, jack, 1)) {
          if (side === "left") expect(x).toBe(0);
          if (side === "right") expect(x).toBe(width);
          if (side === "top") expect(y).toBe(0);
          if (side === "bottom") expect(y).toBe(height);
          expect(y).toBeGreaterThanOrEqual(0);
          expect(y).toBeLessThanOrEqual(height);
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(width);
        }
      }
    }
  });
});

describe("node sizes", () => {
  it("keeps loudspeakers small and the largest console no larger than a desk", () => {
    expect(nodeSize(named("wedge"))).toEqual({ width: 160, height: 80 });
    const desk = nodeSize(named("console-96"));
    expect(desk.width).toBeLessThanOrEqual(620);
    expect(desk.height).toBeLessThanOrEqual(340);
  });

  it("puts the ports of one device at heights of their own", () => {
    for (const type of CATALOGUE) {
      const heights = type.ports.map(({ id }) => anchorsOf(type, id, 1, 1)[0]!.y);
      expect(new Set(heights).size).toBe(heights.length);
    }
  });

  it("lists the sizes of the catalogue", () => {
    const sizes = CATALOGUE.map((type) => {
      const { width, height, form } = nodeGeometry(type);
      return `${type.id} ${form} ${width}×${height}`;
    });
    expect(sizes).toMatchInlineSnapshot(`
      [
        "console-24 wide 620×390",
        "console-48 wide 620×320",
        "console-96 wide 620×340",
        "box-32-16 wide 620×230",
        "box-16-8 narrow 370×250",
        "breakout-16 narrow 370×210",
        "split-16 narrow 370×200",
        "join-8 narrow 370×160",
        "aes10-interface narrow 370×160",
        "aes10-interface-src narrow 370×160",
        "aes3-converter narrow 370×160",
        "aes67-endpoint narrow 370×150",
        "aes67-switch wide 620×440",
        "processor-8 narrow 370×110",
        "ear-transmitter compact 230×80",
        "wedge compact 160×80",
        "loudspeaker compact 160×80",
        "personal-mixer narrow 210×190",
        "recorder-64 narrow 370×160",
      ]
    `);
  });
});
