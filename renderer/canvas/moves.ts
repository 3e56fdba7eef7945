/** Things on their way to somewhere else, and the one change that it becomes. */
import type { DeviceId, PlaceId, Point, Show } from "#engine";
import { app } from "../state/store.ts";
import { GRID } from "./geometry.ts";
import { placeNodeId, placeOfNode } from "./node-ids.ts";
import { snapped } from "./rig.ts";

export interface Moves {
  /** Where each node stands meanwhile. */
  readonly at: ReadonlyMap<string, Point>;
  /** Writes it to the document as one step that can be undone. */
  commit(): void;
}

/** A place takes its devices along. Devices that move by themselves go where they are told. */
export function movesOf(show: Show, to: ReadonlyMap<string, Point>): Moves {
  const at = new Map<string, Point>();
  const places: { readonly place: PlaceId; readonly at: Point }[] = [];
  for (const place of show.places) {
    const target = to.get(placeNodeId(place.id));
    if (!target) continue;
    const end = snapped(target, GRID);
    places.push({ place: place.id, at: end });
    at.set(placeNodeId(place.id), end);
    for (const device of show.devices) {
      if (device.place !== place.id) continue;
      at.set(device.id, {
        x: device.at.x + end.x - place.at.x,
        y: device.at.y + end.y - place.at.y,
      });
    }
  }
  for (const [id, target] of to) if (placeOfNode(id) === null) at.set(id, snapped(target, GRID));
  return { at, commit };

  function commit(): void {
    const [place] = places;
    const { change } = app.getState();
    if (place && places.length === 1) {
      const name = show.places.find(({ id }) => id === place.place)?.name ?? "place";
      return change({ kind: "move-place", ...place }, `Move ${name}`);
    }
    const devices = show.devices.filter(({ id }) => at.has(id));
    change(
      { kind: "move-devices", to: devices.map(({ id }) => ({ device: id as DeviceId, at: at.get(id)! })) },
      devices.length === 1 ? `Move ${devices[0]!.name}` : `Move ${devices.length} devices`,
    );
  }
}
