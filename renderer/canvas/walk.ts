/** Where the arrow keys lead: from device to device, and from cell to cell within one. Pure. */
import type { DeviceId } from "#engine";
import { cellRect, runRects, type NodeGeometry, type Rect } from "#engine/layout/geometry.ts";
import type { SpanLook } from "./looks.ts";

export type Direction = "left" | "right" | "up" | "down";

export const ARROWS: Readonly<Record<string, Direction>> = {
  ArrowLeft: "left",
  ArrowRight: "right",
  ArrowUp: "up",
  ArrowDown: "down",
};

/** What stands nearest in a direction, straight ahead counting for more than aside. */
export function nearest<T>(from: Rect, others: Iterable<readonly [T, Rect]>, direction: Direction): T | null {
  const [x, y] = [from.x + from.width / 2, from.y + from.height / 2];
  let best: { readonly item: T; readonly cost: number } | null = null;
  for (const [item, rect] of others) {
    const dx = rect.x + rect.width / 2 - x;
    const dy = rect.y + rect.height / 2 - y;
    const level = direction === "left" || direction === "right";
    const ahead = direction === "left" ? -dx : direction === "right" ? dx : direction === "up" ? -dy : dy;
    if (ahead <= 0.5) continue;
    const aside = Math.max(
      0,
      Math.abs(level ? dy : dx) - (level ? (rect.height + from.height) / 2 : (rect.width + from.width) / 2),
    );
    const cost = ahead + aside * 3 + Math.abs(level ? dy : dx) * 0.3;
    if (!best || cost < best.cost) best = { item, cost };
  }
  return best?.item ?? null;
}

export interface Spot {
  readonly span: number;
  readonly first: number;
  readonly last: number;
}

/** The places that the keyboard stops at within a device: blocks, or single cells at the near depth. */
export function spotsOf(
  geometry: NodeGeometry,
  spans: readonly SpanLook[],
  single: boolean,
): readonly (readonly [Spot, Rect])[] {
  return geometry.groups.flatMap((group) =>
    group.spans.flatMap((at) => {
      const span = spans.findIndex((look) => look.span === at.span);
      if (span < 0) return [];
      const stops = single
        ? spans[span]!.cells.map((_, index) => ({ first: index + 1, last: index + 1 }))
        : spans[span]!.blocks;
      return stops.map(({ first, last }): [Spot, Rect] => [
        { span, first, last },
        single ? cellRect(at, first) : runRects(at, first, last)[0]!,
      ]);
    }),
  );
}

export const sameSpot = (a: Spot, b: Spot): boolean =>
  a.span === b.span && a.first === b.first && a.last === b.last;

/** Devices as one reads: by rows from the top, and from the left within a row. */
export function readingOrder(boxes: ReadonlyMap<DeviceId, Rect>): readonly DeviceId[] {
  return [...boxes]
    .sort(([, a], [, b]) => Math.round(a.y / 200) - Math.round(b.y / 200) || a.x - b.x || a.y - b.y)
    .map(([id]) => id);
}
