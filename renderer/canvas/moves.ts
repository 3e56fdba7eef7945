/** Things on their way to somewhere else, and the one change that it becomes. Pure. */
import type { Edit, Point, Show } from "#engine";
import type { Change } from "../state/contract.ts";
import { GRID } from "#engine/layout/geometry.ts";
import { placeNodeId, placeOfNode } from "./node-ids.ts";
import { snapped } from "./rig.ts";

export interface Moves {
  /** Where each node stands meanwhile. */
  readonly at: ReadonlyMap<string, Point>;
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
  const moved = places.length > 0 ? places : devices;
  const label =
    moved.length === 1
      ? `Move ${moved[0]!.name}`
      : `Move ${moved.length} ${places.length > 0 ? "places" : "devices"}`;
  if (places.length === 0) {
    const change: Change = {
      kind: "move-devices",
      to: devices.map(({ id }) => ({ device: id, at: at.get(id)! })),
    };
    return { at, change, label };
  }
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
  return { at, change: { kind: "edits", edits }, label };
}

const samePoint = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;
