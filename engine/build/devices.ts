/** B1–B4: devices and places put in, renamed, moved and resized. Each returns the edits of one step. */
import type { DeviceType, Mode } from "../model/device-type.ts";
import type { Edit } from "../model/edit.ts";
import { id, type DeviceId, type ModeId, type PlaceId } from "../model/ids.ts";
import type { Device, Place, Point, Show } from "../model/show.ts";
import { nodeSize, type Rect } from "../layout/geometry.ts";
import { LONGEST_NAME, namerOf, type Namer } from "./names.ts";
import {
  CLEAR,
  fitted,
  FRESH_PLACE,
  freeSpot,
  GAP,
  grown,
  growsClear,
  overlap,
  placeAt,
  placeRect,
  rectsOf,
  roomFor,
  snap,
} from "./room.ts";
import { typeIn } from "./types.ts";

/** The mode that a new device starts in: the first that fits the first chain position. */
export function firstMode({ modes }: DeviceType): ModeId {
  const fits = ({ positions }: Mode): boolean => positions === undefined || positions.includes(1);
  return (modes.find(fits) ?? modes[0])?.id ?? id<ModeId>("normal");
}

/**
 * What devices of a type are called: the beginning of the type's name, up to where it counts things. A type that begins
 * with a number is called by its category.
 */
export function stemOf({ name, category }: DeviceType): string {
  const stem = name.split(/,|\s\d/, 1)[0]!.trim();
  const plain = stem === "" || /^\d/.test(stem) ? category : stem;
  return `${plain.slice(0, 1).toUpperCase()}${plain.slice(1, LONGEST_NAME - 8)}`;
}

export interface AddedDevice {
  readonly edits: readonly Edit[];
  readonly device: Device;
  readonly place: Place;
}

/**
 * B1: a device of a type, its middle at or near a point. It belongs to the place under that point, which grows to hold
 * it; where there is none, to a new place around it. `into`: the place to belong to, wherever the point is.
 */
export function addDevice(
  show: Show,
  type: DeviceType,
  middle: Point,
  { into = null }: { readonly into?: PlaceId | null } = {},
): AddedDevice {
  const namer = namerOf(show);
  const merged = typeIn(show, type, namer);
  const size = nodeSize(merged.type);
  const rects = [...rectsOf(show).values()];
  const wished = { x: snap(middle.x - size.width / 2), y: snap(middle.y - size.height / 2) };
  const name = namer.numbered("devices", `${stemOf(merged.type)} `);
  const under = show.places.find(({ id: each }) => each === into) ?? placeAt(show, middle);
  const at = under
    ? freeSpot(size, wished, rects, GAP, growsClear(show, under))
    : spotForPlace(show, { ...wished, ...size });
  const rect = { ...at, ...size };
  const place = under ? grown(under, [rect]) : newPlace(namer, roomFor([rect])!);
  const device: Device = {
    id: id<DeviceId>(namer.id("devices", name)),
    name,
    type: merged.type.id,
    place: place.id,
    at,
    mode: firstMode(merged.type),
    position: 1,
    powered: true,
    routing: [],
  };
  return {
    device,
    place,
    edits: [
      ...(place === under ? [] : [putPlace(place)]),
      ...merged.edits,
      { kind: "put", list: "devices", record: device },
    ],
  };
}

/** The spot nearest to where a device was wished that has room for a place around it, clear of the others. */
function spotForPlace(show: Show, wished: Rect): Point {
  const room = roomFor([wished]) ?? wished;
  const taken = [...show.places.map(placeRect), ...rectsOf(show).values()];
  const corner = freeSpot(room, room, taken, CLEAR);
  return { x: corner.x + wished.x - room.x, y: corner.y + wished.y - room.y };
}

const putPlace = (record: Place): Edit => ({ kind: "put", list: "places", record });

function newPlace(namer: Namer, { x, y, width, height }: Rect, name?: string): Place {
  const own = name === undefined ? namer.numbered("places", "Place ") : namer.name("places", name);
  return { id: id<PlaceId>(namer.id("places", own)), name: own, at: { x, y }, size: { width, height } };
}

/** B2: an empty place, its middle at or near a point, clear of other places and of devices. */
export function addPlace(
  show: Show,
  middle: Point,
  name?: string,
): { readonly edits: readonly Edit[]; readonly place: Place } {
  const { width, height } = FRESH_PLACE;
  const taken = [...show.places.map(placeRect), ...rectsOf(show).values()];
  const at = freeSpot(FRESH_PLACE, { x: middle.x - width / 2, y: middle.y - height / 2 }, taken, CLEAR);
  const place = newPlace(namerOf(show), { ...at, width, height }, name);
  return { edits: [putPlace(place)], place };
}

/** B3: another name; none where there is no such record or nothing that could be read in it. */
export function renamed(
  show: Show,
  what: { readonly kind: "device"; readonly id: DeviceId } | { readonly kind: "place"; readonly id: PlaceId },
  name: string,
): readonly Edit[] {
  const plain = name.trim().slice(0, LONGEST_NAME);
  if (plain === "") return [];
  if (what.kind === "device") {
    const device = show.devices.find((each) => each.id === what.id);
    return device ? [{ kind: "put", list: "devices", record: { ...device, name: plain } }] : [];
  }
  const place = show.places.find((each) => each.id === what.id);
  return place ? [putPlace({ ...place, name: plain })] : [];
}

/** B2: a place takes another area, but never less than around its devices. */
export function resizedPlace(show: Show, place: PlaceId, wished: Rect): readonly Edit[] {
  const found = show.places.find((each) => each.id === place);
  if (!found) return [];
  const onGrid = {
    x: snap(wished.x),
    y: snap(wished.y),
    width: snap(wished.width),
    height: snap(wished.height),
  };
  const { x, y, width, height } = fitted(onGrid, devicesIn(show, place));
  return [putPlace({ ...found, at: { x, y }, size: { width, height } })];
}

const devicesIn = (show: Show, place: PlaceId): readonly Rect[] => {
  const rects = rectsOf(show);
  return show.devices.filter((device) => device.place === place).map(({ id: each }) => rects.get(each)!);
};

/**
 * B4: devices go to another place. Those that stand outside it are set down in it, in their own order, on the nearest
 * free spots; it grows where it has to.
 */
export function movedToPlace(show: Show, devices: readonly DeviceId[], to: PlaceId): readonly Edit[] {
  const place = show.places.find((each) => each.id === to);
  if (!place) return [];
  const chosen = new Set(devices);
  const rects = rectsOf(show);
  const area = placeRect(place);
  const taken = show.devices
    .filter(({ id: each }) => !chosen.has(each))
    .map(({ id: each }) => rects.get(each)!);
  const isClear = growsClear(show, place);
  const moved: Device[] = [];
  const stand: Rect[] = [];
  for (const device of show.devices) {
    if (!chosen.has(device.id) || device.place === to) continue;
    const rect = rects.get(device.id)!;
    const inside = overlap(area, {
      ...rect,
      x: rect.x + rect.width / 2,
      y: rect.y + rect.height / 2,
      width: 1,
      height: 1,
    });
    const at = inside ? device.at : freeSpot(rect, { x: area.x + 30, y: area.y + 70 }, taken, GAP, isClear);
    const now = { ...rect, ...at };
    taken.push(now);
    stand.push(now);
    moved.push({ ...device, place: to, at });
  }
  if (moved.length === 0) return [];
  const after = grown(place, stand);
  return [
    ...(after === place ? [] : [putPlace(after)]),
    ...moved.map((record): Edit => ({ kind: "put", list: "devices", record })),
  ];
}
