/** What a command acts on: what was gathered, else what is looked at, else where the keyboard is. */
import type { CableId, DeviceId, PlaceId } from "#engine";
import { app } from "../state/store.ts";
import { placeOfNode } from "./node-ids.ts";
import { view } from "./view.ts";

export interface Chosen {
  readonly devices: readonly DeviceId[];
  readonly cable: CableId | null;
  readonly place: PlaceId | null;
}

const NOTHING: Chosen = { devices: [], cable: null, place: null };

/** Only what the document has: a thing that is gone is no longer chosen. */
export function chosen(): Chosen {
  const { show, focus } = app.getState();
  const { selected, cursor, place } = view.getState();
  const devices = show.devices.filter(({ id }) => selected.has(id)).map(({ id }) => id);
  if (devices.length > 1) return { ...NOTHING, devices };
  if (focus?.kind === "cable" && show.cables.some(({ id }) => id === focus.cable)) {
    return { ...NOTHING, cable: focus.cable };
  }
  if (devices.length > 0) return { ...NOTHING, devices };
  if (place !== null && show.places.some(({ id }) => id === place)) return { ...NOTHING, place };
  const one = focus?.kind === "device" ? focus.device : cursor?.device;
  return one !== undefined && show.devices.some(({ id }) => id === one)
    ? { ...NOTHING, devices: [one] }
    : NOTHING;
}

export const chosenDevices = (): readonly DeviceId[] => chosen().devices;

/** Takes devices for what comes next, in place of what was gathered before. */
export const choose = (devices: readonly DeviceId[]): void =>
  view.setState({ selected: new Set<string>(devices), place: null });

/** What is looked at from elsewhere is what the next command is about, and not what was gathered before. */
export function followFocus(): () => void {
  return app.subscribe(({ focus }, before) => {
    if (focus === before.focus) return;
    const { selected, place } = view.getState();
    if (place !== null && focus !== null) view.setState({ place: null });
    const stays = focus?.kind === "device" && selected.has(focus.device);
    if (selected.size > 0 && !stays) view.setState({ selected: new Set([...selected].filter(placeOfNode)) });
  });
}
