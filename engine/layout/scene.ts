/** From the show, as its devices are arranged, to what the router is asked. */
import type { DeviceType } from "../model/device-type.ts";
import type { TypeId } from "../model/ids.ts";
import type { Cable, CableEnd, Device, Place, Show } from "../model/show.ts";
import { anchorsOf, nodeSize, type Anchor, type Rect, type Size } from "./geometry.ts";
import type { Box, Scene, Wire } from "./router/scene.ts";
import { BOLD, textWidth } from "./text.ts";

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
