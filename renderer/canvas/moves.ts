/** Things on their way to somewhere else, and the one change that it becomes. Pure. */
import { dropped, editsOf, type DeviceId, type Edit, type PlaceId, type Point, type Show } from "#engine";
import type { Change } from "../state/contract.ts";
import { GRID, type Rect } from "#engine/layout/geometry.ts";
import { placeRect } from "#engine/build/room.ts";
import { placeNodeId, placeOfNode } from "./node-ids.ts";
import { snapped } from "./rig.ts";

export interface Moves {
  /** Where each node stands meanwhile. */
  readonly at: ReadonlyMap<string, Point>;
  /** Places as they grow for it. */
  readonly areas: ReadonlyMap<PlaceId, Rect>;
  /** Places that take in devices of others. */
  readonly takers: ReadonlySet<PlaceId>;
  /** What to write in the document at the end: one step that can be undone. */
  readonly change: Change;
  readonly label: string;
}

/** A place takes its devices along; those that are told where to go themselves go there. */
export function movesOf(show: Show, to: ReadonlyMap<string, Point>): Moves {
  const at = new Map<string, Point>();
  for (const place of show.places) {
    const target = to.get(placeNodeId(place.id));
    if (!target) continue;
    const end = snapped(target, GRID);
    at.set(placeNodeId(place.id), end);
    for (const device of show.devices) {
      if (device.place !== place.id) continue;
      at.set(device.id, { x: device.at.x + end.x - place.at.x, y: device.at.y + end.y - place.at.y });
    }
  }
  for (const [id, target] of to) if (placeOfNode(id) === null) at.set(id, snapped(target, GRID));

  const places = show.places.filter(({ id }) => at.has(placeNodeId(id)));
  const devices = show.devices.filter(({ id }) => at.has(id));
  if (places.length === 0) return movedDevices(show, at, devices.length);
  const label = `Move ${places.length === 1 ? places[0]!.name : `${places.length} places`}`;
  const edits: Edit[] = [
    ...places
      .filter((place) => !samePoint(place.at, at.get(placeNodeId(place.id))!))
      .map((place): Edit => ({
        kind: "put",
        list: "places",
        record: { ...place, at: at.get(placeNodeId(place.id))! },
      })),
    ...devices
      .filter((device) => !samePoint(device.at, at.get(device.id)!))
      .map((device): Edit => ({
        kind: "put",
        list: "devices",
        record: { ...device, at: at.get(device.id)! },
      })),
  ];
  return { at, areas: NO_AREAS, takers: NO_TAKERS, change: { kind: "edits", edits }, label };
}

const NO_AREAS: ReadonlyMap<PlaceId, Rect> = new Map();
const NO_TAKERS: ReadonlySet<PlaceId> = new Set();

/** Devices settle where they are dropped: in the place there, or in their own, which grows as far as it can. */
function movedDevices(show: Show, at: Moves["at"], count: number): Moves {
  const found = dropped(show, at as ReadonlyMap<DeviceId, Point>);
  const former = new Map(show.devices.map(({ id, place }) => [id, place]));
  const takers = new Set(
    found.devices.filter(({ id, place }) => place !== former.get(id)).map(({ place }) => place),
  );
  const [taker] = show.places.filter(({ id }) => takers.has(id));
  const [device] = show.devices.filter(({ id }) => at.has(id));
  const what = count === 1 ? (device?.name ?? "") : `${count} devices`;
  const label = count === 1 && taker ? `Move ${what} to ${taker.name}` : `Move ${what}`;
  const areas = new Map(found.places.map((place) => [place.id, placeRect(place)]));
  const onlyMoved = areas.size === 0 && takers.size === 0;
  const change: Change = onlyMoved
    ? { kind: "move-devices", to: found.devices.map(({ id, at: end }) => ({ device: id, at: end })) }
    : { kind: "edits", edits: editsOf(found) };
  return { at, areas, takers, change, label };
}

const samePoint = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;
