/** B15–B17: devices in line, at even distances, dropped, and a whole rig set down where a layout puts it. */
import type { Edit } from "../model/edit.ts";
import type { DeviceId, PlaceId } from "../model/ids.ts";
import { gather } from "../model/once.ts";
import type { Device, Place, Point, Show } from "../model/show.ts";
import type { Rect } from "../layout/geometry.ts";
import { sizeOf, typesOf } from "../layout/scene.ts";
import { around, grownClear, overlap, placeAt, placeRect, rectsOf, roomFor, snap } from "./room.ts";

export const ALIGNMENTS = ["left", "centre", "right", "top", "middle", "bottom"] as const;
export type Alignment = (typeof ALIGNMENTS)[number];

/** Devices at new points, and the places that grow for it as far as they can. */
function movedTo(show: Show, to: ReadonlyMap<DeviceId, Point>): readonly Edit[] {
  return editsOf(settled(show, to, () => null));
}

/** What comes of devices that were moved. */
export interface Settled {
  readonly devices: readonly Device[];
  /** Those that grow, as they are then. */
  readonly places: readonly Place[];
}

/**
 * B17: devices dropped. One whose middle lies in another place and no longer in its own belongs there from then on.
 * Value: what changes, the devices' points as they are given.
 */
export function dropped(show: Show, to: ReadonlyMap<DeviceId, Point>): Settled {
  return settled(show, to, (device, { x, y, width, height }) => {
    const middle = { x: x + width / 2, y: y + height / 2 };
    const own = show.places.find(({ id }) => id === device.place);
    if (own && overlap(placeRect(own), { ...middle, width: 0, height: 0 })) return null;
    return placeAt(show, middle)?.id ?? null;
  });
}

/** `taker`: the place that a device goes to, null for its own. */
function settled(
  show: Show,
  to: ReadonlyMap<DeviceId, Point>,
  taker: (device: Device, rect: Rect) => PlaceId | null,
): Settled {
  const types = typesOf(show);
  const devices: Device[] = [];
  const stand = new Map<PlaceId, Rect[]>();
  for (const device of show.devices) {
    const at = to.get(device.id);
    if (!at || (at.x === device.at.x && at.y === device.at.y)) continue;
    const rect = { ...at, ...sizeOf(types, device) };
    const place = taker(device, rect) ?? device.place;
    devices.push({ ...device, place, at });
    gather(stand, place, rect);
  }
  const places = show.places.flatMap((place): Place[] => {
    const there = stand.get(place.id);
    const after = there ? grownClear(show, place, there) : place;
    return after === place ? [] : [after];
  });
  return { devices, places };
}

export const editsOf = ({ places, devices }: Settled): readonly Edit[] => [
  ...places.map((record): Edit => ({ kind: "put", list: "places", record })),
  ...devices.map((record): Edit => ({ kind: "put", list: "devices", record })),
];

function chosenRects(show: Show, devices: readonly DeviceId[]): readonly (readonly [DeviceId, Rect])[] {
  const chosen = new Set(devices);
  return [...rectsOf(show)].filter(([id]) => chosen.has(id));
}

/** B15: the devices' edges or middles on one line, that of the area around them. */
export function aligned(show: Show, devices: readonly DeviceId[], to: Alignment): readonly Edit[] {
  const chosen = chosenRects(show, devices);
  const box = around(chosen.map(([, rect]) => rect));
  if (!box || chosen.length < 2) return [];
  const place = ({ x, y, width, height }: Rect): Point => {
    switch (to) {
      case "left":
        return { x: box.x, y };
      case "right":
        return { x: box.x + box.width - width, y };
      case "centre":
        return { x: snap(box.x + (box.width - width) / 2), y };
      case "top":
        return { x, y: box.y };
      case "bottom":
        return { x, y: box.y + box.height - height };
      case "middle":
        return { x, y: snap(box.y + (box.height - height) / 2) };
    }
  };
  return movedTo(show, new Map(chosen.map(([id, rect]) => [id, place(rect)])));
}

/** B15: the same free space between neighbours; the first and the last stay. From three devices on. */
export function distributed(
  show: Show,
  devices: readonly DeviceId[],
  along: "across" | "down",
): readonly Edit[] {
  const start = along === "across" ? "x" : "y";
  const length = along === "across" ? "width" : "height";
  const chosen = [...chosenRects(show, devices)].sort(([, a], [, b]) => a[start] - b[start]);
  const box = around(chosen.map(([, rect]) => rect));
  if (!box || chosen.length < 3) return [];
  const filled = chosen.reduce((sum, [, rect]) => sum + rect[length], 0);
  const [, first] = chosen[0]!;
  const [, last] = chosen.at(-1)!;
  const gap = (last[start] + last[length] - first[start] - filled) / (chosen.length - 1);
  const to = new Map<DeviceId, Point>();
  let at = first[start];
  for (const [id, rect] of chosen) {
    const { x, y } = rect;
    to.set(id, along === "across" ? { x: snap(at), y } : { x, y: snap(at) });
    at += rect[length] + gap;
  }
  return movedTo(show, to);
}

/** What a layout is asked to arrange: nodes within areas, and the cables between them. */
export interface TidyTask {
  readonly places: readonly {
    readonly id: PlaceId;
    readonly devices: readonly { readonly id: DeviceId; readonly width: number; readonly height: number }[];
  }[];
  readonly wires: readonly { readonly id: string; readonly from: DeviceId; readonly to: DeviceId }[];
  /** The corner that the whole keeps. */
  readonly at: Point;
}

/**
 * B16: the task for the devices, of the whole rig where none are named. A cable points from a console outwards, so that
 * a rig reads from its consoles to its boxes and loudspeakers.
 */
export function tidyTask(show: Show, devices: readonly DeviceId[]): TidyTask {
  const all = rectsOf(show);
  const chosen = new Set(devices.length > 0 ? devices : all.keys());
  const rank = ranks(show);
  const inside = show.devices.filter(({ id }) => chosen.has(id));
  const box = around(inside.map(({ id }) => all.get(id)!));
  const places = show.places
    .map(({ id }) => ({
      id,
      devices: inside
        .filter(({ place }) => place === id)
        .map((device) => ({
          id: device.id,
          width: all.get(device.id)!.width,
          height: all.get(device.id)!.height,
        })),
    }))
    .filter((place) => place.devices.length > 0);
  const wires = show.cables.flatMap(({ id, ends: [a, b] }) => {
    if (!chosen.has(a.device) || !chosen.has(b.device) || a.device === b.device) return [];
    const [from, to] =
      (rank.get(a.device) ?? 0) <= (rank.get(b.device) ?? 0) ? [a.device, b.device] : [b.device, a.device];
    return [{ id, from, to }];
  });
  return { places, wires, at: box ? { x: box.x, y: box.y } : { x: 0, y: 0 } };
}

/** How many cables each device is from the nearest console; consoles are 0, what no console reaches comes last. */
function ranks(show: Show): ReadonlyMap<DeviceId, number> {
  const types = new Map(show.types.map((type) => [type.id, type]));
  const next = new Map<DeviceId, DeviceId[]>();
  for (const { ends } of show.cables) {
    const [a, b] = ends.map(({ device }) => device);
    next.set(a!, [...(next.get(a!) ?? []), b!]);
    next.set(b!, [...(next.get(b!) ?? []), a!]);
  }
  const rank = new Map<DeviceId, number>();
  let ring = show.devices.filter(({ type }) => types.get(type)?.category === "console").map(({ id }) => id);
  for (let depth = 0; ring.length > 0; depth++) {
    for (const device of ring) rank.set(device, depth);
    ring = [...new Set(ring.flatMap((device) => next.get(device) ?? []))].filter(
      (device) => !rank.has(device),
    );
  }
  for (const { id } of show.devices) if (!rank.has(id)) rank.set(id, show.devices.length);
  return rank;
}

/**
 * B16: where the layout put the devices. Of the whole rig places are set down around their devices; of a part of it
 * they only grow.
 */
export function tidied(
  show: Show,
  devices: readonly DeviceId[],
  to: ReadonlyMap<DeviceId, Point>,
): readonly Edit[] {
  const snapped = new Map([...to].map(([id, { x, y }]) => [id, { x: snap(x), y: snap(y) }]));
  if (devices.length > 0) return movedTo(show, snapped);
  const rects = rectsOf(show);
  const edits: Edit[] = [];
  for (const place of show.places) {
    const inside = show.devices
      .filter((device) => device.place === place.id)
      .map((device) => ({ ...rects.get(device.id)!, ...(snapped.get(device.id) ?? {}) }));
    const area = roomFor(inside);
    if (!area) continue;
    const own = placeRect(place);
    const same =
      own.x === area.x && own.y === area.y && own.width === area.width && own.height === area.height;
    const record: Place = {
      ...place,
      at: { x: area.x, y: area.y },
      size: { width: area.width, height: area.height },
    };
    if (!same) edits.push({ kind: "put", list: "places", record });
  }
  for (const device of show.devices) {
    const at = snapped.get(device.id);
    if (!at || (at.x === device.at.x && at.y === device.at.y)) continue;
    edits.push({ kind: "put", list: "devices", record: { ...device, at } });
  }
  return edits;
}
