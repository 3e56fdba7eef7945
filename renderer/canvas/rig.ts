/** From the show and its routes to what the flow library is given. Pure. */
import { gather, type CableId, type DeviceId, type Point, type Show } from "#engine";
import type { NodeSide } from "#engine/layout/geometry.ts";
import type { BarSize } from "#engine/layout/router/bars.ts";
import type { Route } from "#engine/layout/router/scene.ts";

/** Canvas units along a cable that its bar gives each slot. */
export const SLOT = 2.5;
/** A bar of few slots is a chip that a letter fits in. */
export const CHIP = 14;
/** What a bar may take across a cable at the zoom where it is largest. */
const BREADTH = { one: 20, both: 38 } as const;

export const barLength = (slots: number): number => Math.max(CHIP, slots * SLOT);

export function barSizes(ways: ReadonlyMap<CableId, readonly number[]>): ReadonlyMap<string, BarSize> {
  const sizes = new Map<string, BarSize>();
  for (const [cable, counts] of ways) {
    const most = Math.max(0, ...counts);
    if (most === 0) continue;
    // The tag stands beside the bar and the arrow tips beyond its ends.
    sizes.set(cable, {
      length: barLength(most) + 16,
      breadth: counts.length > 1 ? BREADTH.both : BREADTH.one,
    });
  }
  return sizes;
}

/** Where a cable is plugged on a device's node. */
export interface Plug {
  readonly cable: CableId;
  readonly end: 0 | 1;
  readonly group: string;
  readonly side: NodeSide;
  /** Relative to the node. */
  readonly x: number;
  readonly y: number;
}

/** The plugs of each device; a device whose plugs stay where they were keeps its list. */
export function plugsOf(
  show: Show,
  routes: ReadonlyMap<string, Route>,
  former: ReadonlyMap<DeviceId, readonly Plug[]>,
): ReadonlyMap<DeviceId, readonly Plug[]> {
  const at = new Map(show.devices.map((device) => [device.id, device.at]));
  const plugs = new Map<DeviceId, Plug[]>();
  for (const cable of show.cables) {
    const route = routes.get(cable.id);
    if (!route) continue;
    ([0, 1] as const).forEach((end) => {
      const { device, group } = cable.ends[end];
      const origin = at.get(device);
      const point = end === 0 ? route.points[0] : route.points.at(-1);
      if (!origin || !point) return;
      const plug = {
        cable: cable.id,
        end,
        group,
        side: route.sides[end],
        x: point.x - origin.x,
        y: point.y - origin.y,
      };
      gather(plugs, device, plug);
    });
  }
  return new Map(
    show.devices.map(({ id }): [DeviceId, readonly Plug[]] => {
      const list = plugs.get(id) ?? [];
      const before = former.get(id);
      return [id, before && samePlugs(before, list) ? before : list];
    }),
  );
}

const samePlugs = (a: readonly Plug[], b: readonly Plug[]): boolean =>
  a.length === b.length &&
  a.every((plug, n) => {
    const other = b[n]!;
    return (
      plug.cable === other.cable &&
      plug.end === other.end &&
      plug.group === other.group &&
      plug.side === other.side &&
      plug.x === other.x &&
      plug.y === other.y
    );
  });

export const handleId = (cable: string, end: 0 | 1): string => `${cable}/${end}`;

export const snapped = (at: Point, grid: number): Point => ({
  x: Math.round(at.x / grid) * grid,
  y: Math.round(at.y / grid) * grid,
});
