/** From the show to what the router and the flow library are given. Pure. */
import type {
  Cable,
  CableEnd,
  CableId,
  Device,
  DeviceId,
  DeviceType,
  Place,
  Point,
  Show,
  TypeId,
} from "#engine";
import { anchorsOf, nodeSize, type Anchor, type NodeSide, type Rect, type Size } from "./geometry.ts";
import { BOLD, textWidth } from "./text.ts";
import type { BarSize } from "./router/bars.ts";
import type { Box, Route, Scene, Wire } from "./router/scene.ts";

/** A device whose type the show doesn't have is drawn as an empty box that says so. */
export const UNKNOWN_SIZE: Size = { width: 160, height: 80 };

export const typesOf = (show: Show): ReadonlyMap<TypeId, DeviceType> =>
  new Map(show.types.map((type) => [type.id, type]));

export const sizeOf = (types: ReadonlyMap<TypeId, DeviceType>, device: Device): Size => {
  const type = types.get(device.type);
  return type ? nodeSize(type) : UNKNOWN_SIZE;
};

const MIDDLE_OF_UNKNOWN: readonly Anchor[] = [
  { side: "left", x: 0, y: UNKNOWN_SIZE.height / 2 },
  { side: "right", x: UNKNOWN_SIZE.width, y: UNKNOWN_SIZE.height / 2 },
];

export function sceneOf(show: Show): Scene {
  const types = typesOf(show);
  const devices = new Map(show.devices.map((device) => [device.id, device]));
  const boxes = show.devices.map((device): Box => ({
    id: device.id,
    ...device.at,
    ...sizeOf(types, device),
  }));
  const wires = show.cables.map((cable): Wire => ({
    id: cable.id,
    ends: [wireEnd(cable, cable.ends[0]), wireEnd(cable, cable.ends[1])],
  }));
  return { boxes, wires, quiet: show.places.map(nameRect) };

  function wireEnd({ ways }: Cable, { device, group, first }: CableEnd): Wire["ends"][number] {
    const found = devices.get(device);
    const type = found && types.get(found.type);
    return { box: device, anchors: type ? anchorsOf(type, group, first, ways) : MIDDLE_OF_UNKNOWN };
  }
}

/** The most that a place's name takes at any depth of zoom; canvas.css sets it no larger. */
const NAME = { x: 14, size: 42, height: 54 } as const;

function nameRect({ name, at, size }: Place): Rect {
  const width = Math.min(size.width - 2 * NAME.x, textWidth(name, NAME.size) * BOLD + 8);
  return { x: at.x + NAME.x, y: at.y, width, height: NAME.height };
}

const sameRect = (a: Rect, b: Rect): boolean =>
  a.x === b.x && a.y === b.y && a.width === b.width && a.height === b.height;

/** A scene that differs in nothing that the router looks at. */
export function sameScene(a: Scene, b: Scene): boolean {
  return (
    a.boxes.length === b.boxes.length &&
    a.wires.length === b.wires.length &&
    a.quiet?.length === b.quiet?.length &&
    a.boxes.every((box, n) => box.id === b.boxes[n]!.id && sameRect(box, b.boxes[n]!)) &&
    (a.quiet ?? []).every((rect, n) => sameRect(rect, b.quiet![n]!)) &&
    a.wires.every((wire, n) => {
      const other = b.wires[n]!;
      return (
        wire.id === other.id &&
        wire.ends.every((end, k) => {
          const { box, anchors } = other.ends[k]!;
          return (
            end.box === box &&
            end.anchors.length === anchors.length &&
            end.anchors.every(({ side, x, y }, m) => {
              const anchor = anchors[m]!;
              return side === anchor.side && x === anchor.x && y === anchor.y;
            })
          );
        })
      );
    })
  );
}

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
      const list = plugs.get(device);
      if (list) list.push(plug);
      else plugs.set(device, [plug]);
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
