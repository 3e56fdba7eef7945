/** What the user does to the rig, each as one step with a name. The edits are the engine's (`engine/build`). */
import { toast } from "sonner";
import {
  addDevice,
  addPlace,
  aligned,
  chainedBox,
  distributed,
  duplicated,
  fragmentOf,
  fragmentText,
  movedToPlace,
  pasted,
  plugCable,
  readFragment,
  renamed,
  replugged,
  withoutCables,
  withoutDevices,
  withoutPlace,
  type Alignment,
  type CableEnd,
  type CableId,
  type Device,
  type DeviceId,
  type DeviceType,
  type Edit,
  type ModeId,
  type PlaceId,
  type Point,
} from "#engine";
import { app } from "../state/store.ts";
import { showStage, ui } from "../state/ui.ts";
import { cableName } from "../words/verdicts.ts";
import { choose, chosen, chosenDevices } from "./chosen.ts";
import { giveKeys } from "../parts/give-keys.ts";
import { bringIntoSight, canvasHasKeys, focusStage, goToArea, middleOfView } from "./stage.ts";
import { view } from "./view.ts";

const problem = (line: string): void => void toast.error(line);

export function step(edits: readonly Edit[], label: string): void {
  if (edits.length > 0) app.getState().change({ kind: "edits", edits }, label);
}

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? "" : "s"}`;

export const nameOf = (id: DeviceId): string =>
  app.getState().show.devices.find((device) => device.id === id)?.name ?? id;

/** `Stage left`, `3 devices`. */
const named = (devices: readonly DeviceId[]): string =>
  devices.length === 1 ? nameOf(devices[0]!) : counted(devices.length, "device");

/** Takes devices into hand that have just come into the show. */
function take(devices: readonly DeviceId[]): void {
  if (devices.length === 1) app.getState().look({ kind: "device", device: devices[0]! });
  else app.getState().look(null);
  choose(devices);
  bringIntoSight(devices);
  // Who works by key goes on from there; who is in a panel or field stays in it.
  const [device] = devices;
  if (device !== undefined && canvasHasKeys()) view.setState({ cursor: { device, at: null } });
}

/** `at`: where its middle was dropped; left out: in the middle of the view. */
export function addOfType(type: DeviceType, at?: Point): Device {
  const { show } = app.getState();
  // Added without a spot it belongs where the user is at work: the place of what is chosen.
  const here = at ? null : (chosen().place ?? null);
  const { edits, device } = addDevice(show, type, at ?? middleOfView(), { into: here });
  step(edits, `adding ${device.name}`);
  take([device.id]);
  return device;
}

export function addNamedPlace(name: string): void {
  const { edits, place } = addPlace(app.getState().show, middleOfView(), name);
  step(edits, `adding ${place.name}`);
  app.getState().look(null);
  view.setState({ place: place.id, selected: new Set() });
}

export function removeChosen(): void {
  const { show, analysis } = app.getState();
  const { devices, cable, place } = chosen();
  if (cable !== null) {
    step(withoutCables(show, [cable]), `taking out ${cableName(analysis, cable)}`);
    app.getState().look(null);
  } else if (devices.length > 0) {
    step(withoutDevices(show, devices), `taking out ${named(devices)}`);
    forget();
  } else if (place !== null) askToRemovePlace(place);
}

function forget(): void {
  view.setState({ selected: new Set(), cursor: null, hovered: null });
  app.getState().look(null);
  // The node that had the keys is gone with its device.
  if (canvasHasKeys()) focusStage();
}

/** Chooses a place and takes canvas and keys there, so that it can be moved and resized. */
export function goToPlace(place: PlaceId): void {
  const found = app.getState().show.places.find(({ id }) => id === place);
  if (!found) return;
  showStage("canvas");
  giveKeys(() => {
    goToArea({ ...found.at, ...found.size });
    focusStage();
    view.setState({ place, selected: new Set(), cursor: null });
  });
}

/** A place with devices in it is asked about; an empty one goes at once. */
export function askToRemovePlace(place: PlaceId): void {
  if (app.getState().show.devices.some((device) => device.place === place)) {
    ui.setState({ dialog: { kind: "remove-place", place } });
  } else removePlace(place, { kind: "with" });
}

export function removePlace(
  place: PlaceId,
  devices: { readonly kind: "with" } | { readonly kind: "to"; readonly place: PlaceId },
): void {
  const { show } = app.getState();
  const name = show.places.find(({ id }) => id === place)?.name ?? "";
  step(withoutPlace(show, place, devices), `taking out ${name}`);
  view.setState({ place: null });
  if (devices.kind === "with") forget();
}

export function duplicateChosen(): void {
  const devices = chosenDevices();
  const twice = duplicated(app.getState().show, devices);
  if (!twice.ok) return problem(twice.error);
  step(twice.value.edits, `duplicating ${named(devices)}`);
  take(twice.value.devices);
}

/** The chosen devices as text; null where none is chosen. */
export function copiedText(): string | null {
  const devices = chosenDevices();
  return devices.length === 0 ? null : fragmentText(fragmentOf(app.getState().show, devices));
}

export function cutChosen(): void {
  const devices = chosenDevices();
  step(withoutDevices(app.getState().show, devices), `cutting ${named(devices)}`);
  forget();
}

export function pasteText(text: string): void {
  const { show } = app.getState();
  const read = readFragment(text);
  if (!read.ok) return problem(read.error);
  const result = pasted(show, read.value);
  if (!result.ok) return problem(result.error);
  const { edits, devices } = result.value;
  step(edits, `pasting ${counted(devices.length, "device")}`);
  take(devices);
}

export const chooseAll = (): void => {
  app.getState().look(null);
  choose(app.getState().show.devices.map(({ id }) => id));
};

export function rename(
  what: { readonly kind: "device"; readonly id: DeviceId } | { readonly kind: "place"; readonly id: PlaceId },
  name: string,
): void {
  step(renamed(app.getState().show, what, name), `renaming ${name.trim()}`);
}

export const align = (to: Alignment): void =>
  step(aligned(app.getState().show, chosenDevices(), to), `aligning ${named(chosenDevices())}`);

export const distribute = (along: "across" | "down"): void =>
  step(distributed(app.getState().show, chosenDevices(), along), `spacing ${named(chosenDevices())}`);

export function chain(): void {
  const [device] = chosenDevices();
  if (device === undefined) return;
  const made = chainedBox(app.getState().show, device);
  if (!made.ok) return problem(made.error);
  step(made.value.edits, `chaining ${made.value.device.name}`);
  take([made.value.device.id]);
}

export function moveToPlace(place: PlaceId): void {
  const { show } = app.getState();
  const devices = chosenDevices();
  const to = show.places.find(({ id }) => id === place)?.name ?? "";
  step(movedToPlace(show, devices, place), `moving ${named(devices)} to ${to}`);
  bringIntoSight(devices);
}

/** One field of all chosen devices. */
function setChosen(set: Partial<Pick<Device, "mode" | "position" | "powered">>, label: string): void {
  const devices = new Set(chosenDevices());
  step(
    app
      .getState()
      .show.devices.filter(({ id }) => devices.has(id))
      .map((device): Edit => ({ kind: "put", list: "devices", record: { ...device, ...set } })),
    `${label} ${named([...devices])}`,
  );
}

export const setMode = (mode: ModeId): void => setChosen({ mode }, "mode of");
export const setPosition = (position: number): void => setChosen({ position }, "chain position of");
/** Off where any of them is on. */
export function switchPower(): void {
  const devices = new Set(chosenDevices());
  const on = app.getState().show.devices.some(({ id, powered }) => devices.has(id) && powered);
  setChosen({ powered: !on }, "power of");
}

/** A cable between two ends that fit; the reason stands in a message where they don't. */
export function plug(
  from: CableEnd,
  to: CableEnd,
  moving: { readonly cable: CableId; readonly side: 0 | 1 } | null,
): void {
  const { show } = app.getState();
  const made = moving ? replugged(show, moving.cable, moving.side, to) : plugCable(show, from, to);
  if (made.kind === "refused") return problem(made.reason);
  const { cable, edits } = made;
  step(edits, `${moving ? "moving" : "plugging"} ${cable.tag ? `cable ${cable.tag}` : "a cable"}`);
  app.getState().look({ kind: "cable", cable: cable.id });
}
