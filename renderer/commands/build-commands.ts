/** Commands that build the rig. */
import type { Alignment } from "#engine";
import {
  align,
  chain,
  chooseAll,
  distribute,
  duplicateChosen,
  nameOf,
  removeChosen,
  switchPower,
} from "../canvas/build.ts";
import { chosen, chosenDevices } from "../canvas/chosen.ts";
import { copyByMenu, cutByMenu, pasteByMenu } from "../canvas/clipboard.ts";
import { tidy } from "../canvas/tidy.ts";
import { focusStage } from "../canvas/stage.ts";
import { giveKeys } from "../parts/give-keys.ts";
import { askForGear } from "../panels/ask-for-gear.ts";
import { gridAtHand } from "../tables/at-hand.ts";
import { copyCells, cutCells, pasteCells } from "../tables/clipboard.ts";
import { app } from "../state/store.ts";
import { showStage, ui } from "../state/ui.ts";
import type { Command } from "./commands.ts";

const someDevices = (): boolean => chosenDevices().length > 0;
const atLeast = (count: number) => (): boolean => chosenDevices().length >= count;
const oneDevice = (): boolean => chosenDevices().length === 1;
const anything = (): boolean => {
  const { devices, cable, place } = chosen();
  return devices.length > 0 || cable !== null || place !== null;
};

/** `Stage left`, `3 devices`, `cable L1`, `Monitor position`. */
function chosenName(): string {
  const { devices, cable, place } = chosen();
  const { show } = app.getState();
  if (cable !== null) {
    const tag = show.cables.find(({ id }) => id === cable)?.tag;
    return tag ? `cable ${tag}` : "the cable";
  }
  if (place !== null) return show.places.find(({ id }) => id === place)?.name ?? "the place";
  return devices.length === 1 ? nameOf(devices[0]!) : `${devices.length} devices`;
}

const about = (verb: string) => (): string => (anything() ? `${verb} ${chosenName()}` : verb);

function renameChosen(): void {
  const { devices, cable, place } = chosen();
  if (cable !== null) ui.setState({ dialog: { kind: "rename-cable", cable } });
  else if (place !== null) ui.setState({ dialog: { kind: "rename-place", place } });
  else if (devices[0] !== undefined) {
    ui.setState({ dialog: { kind: "rename-device", device: devices[0] } });
  }
}

function plugChosen(): void {
  const [device] = chosenDevices();
  if (device !== undefined) ui.setState({ dialog: { kind: "plug", from: device, moving: null } });
}

function replug(side: 0 | 1): void {
  const { cable } = chosen();
  const found = app.getState().show.cables.find(({ id }) => id === cable);
  if (!found) return;
  const stays = found.ends[side === 0 ? 1 : 0];
  ui.setState({ dialog: { kind: "plug", from: stays, moving: { cable: found.id, side } } });
}

/** `Plug L1 elsewhere than in Stage left…` */
const replugLabel = (side: 0 | 1) => (): string => {
  const { cable } = chosen();
  const found = app.getState().show.cables.find(({ id }) => id === cable);
  const there = found && nameOf(found.ends[side].device);
  return there
    ? `Plug elsewhere than in ${there}…`
    : `Plug the cable’s ${side === 0 ? "first" : "second"} end elsewhere…`;
};

/** Beside the lists the canvas isn't seen, so what is chosen there is not what these are about. */
const inLists = (): boolean => ui.getState().stage === "lists";
const ofCells = (cells: string, rig: string | (() => string)) => (): string =>
  inLists() ? cells : typeof rig === "string" ? rig : rig();
const cellsOr = (rig: () => boolean) => (): boolean => inLists() || rig();

const aligning = (to: Alignment, label: string): Command => ({
  id: `align-${to}`,
  label,
  also: "align arrange line up",
  menu: "Rig",
  group: 4,
  undo: "step",
  enabled: atLeast(2),
  run: () => align(to),
});

const spacing = (along: "across" | "down", label: string): Command => ({
  id: `space-${along}`,
  label,
  also: "distribute arrange even",
  menu: "Rig",
  group: 4,
  undo: "step",
  enabled: atLeast(3),
  run: () => distribute(along),
});

export const EDIT_COMMANDS: readonly Command[] = [
  {
    id: "cut",
    label: ofCells("Cut the cells", about("Cut")),
    keys: ["Mod+X"],
    keysBy: "clipboard",
    menu: "Edit",
    group: 6,
    undo: "step",
    enabled: cellsOr(someDevices),
    run: () => (inLists() ? cutCells() : cutByMenu()),
  },
  {
    id: "copy",
    label: ofCells("Copy the cells", about("Copy")),
    keys: ["Mod+C"],
    keysBy: "clipboard",
    menu: "Edit",
    group: 6,
    undo: "none",
    enabled: cellsOr(someDevices),
    run: () => (inLists() ? copyCells() : copyByMenu()),
  },
  {
    id: "paste",
    label: "Paste",
    keys: ["Mod+V"],
    keysBy: "clipboard",
    menu: "Edit",
    group: 6,
    undo: "step",
    run: () => (inLists() ? pasteCells() : pasteByMenu()),
  },
  {
    id: "duplicate",
    label: ofCells("Fill down", about("Duplicate")),
    also: "copy again twice fill down series",
    keys: ["Mod+D"],
    keysBy: "canvas",
    menu: "Edit",
    group: 6,
    undo: "step",
    enabled: cellsOr(someDevices),
    run: () => (inLists() ? gridAtHand()?.fillDown() : duplicateChosen()),
  },
  {
    id: "delete",
    label: ofCells("Clear the cells", about("Delete")),
    also: "remove take out unplug",
    keys: ["Delete", "Backspace"],
    keysBy: "canvas",
    menu: "Edit",
    group: 6,
    undo: "step",
    enabled: cellsOr(anything),
    run: () => (inLists() ? gridAtHand()?.clear() : removeChosen()),
  },
  {
    id: "delete-rows",
    label: "Delete the rows",
    also: "remove list",
    keys: ["Mod+Delete", "Mod+Backspace"],
    keysBy: "canvas",
    menu: "Edit",
    group: 6,
    undo: "step",
    enabled: inLists,
    run: () => gridAtHand()?.removeRows(),
  },
  {
    id: "select-all",
    label: ofCells("Choose all cells", "Choose all devices"),
    also: "select everything",
    keys: ["Mod+A"],
    keysBy: "canvas",
    menu: "Edit",
    group: 7,
    undo: "none",
    enabled: ({ app: { show } }) => inLists() || show.devices.length > 0,
    run: () => (inLists() ? gridAtHand()?.chooseAll() : chooseAll()),
  },
  {
    id: "rename-thing",
    label: () => (anything() && !inLists() ? `Rename ${chosenName()}…` : "Rename…"),
    also: "name tag",
    keys: ["F2"],
    // No text field has a use for it, and a device may have come from the field that finds gear.
    inFields: true,
    menu: "Edit",
    group: 7,
    undo: "step",
    enabled: () => anything() && !inLists(),
    run: renameChosen,
  },
];

export const RIG_COMMANDS: readonly Command[] = [
  {
    id: "add-device",
    label: "Add a device…",
    also: "gear catalogue new console box",
    keys: ["Mod+Shift+A"],
    menu: "Rig",
    group: 1,
    undo: "none",
    run: askForGear,
  },
  {
    id: "add-place",
    label: "Add a place…",
    also: "area stage front of house new",
    menu: "Rig",
    group: 1,
    undo: "step",
    run: () => ui.setState({ dialog: { kind: "add-place" } }),
  },
  {
    id: "places",
    label: "Places…",
    also: "rename delete areas",
    menu: "Rig",
    group: 1,
    undo: "none",
    run: () => ui.setState({ dialog: { kind: "places" } }),
  },
  {
    id: "plug-cable",
    label: "Plug a cable in…",
    also: "connect cable patch link",
    menu: "Rig",
    group: 2,
    undo: "none",
    enabled: oneDevice,
    run: plugChosen,
  },
  {
    id: "replug-start",
    label: replugLabel(0),
    menu: "Rig",
    group: 2,
    undo: "none",
    enabled: () => chosen().cable !== null,
    run: () => replug(0),
  },
  {
    id: "replug-end",
    label: replugLabel(1),
    menu: "Rig",
    group: 2,
    undo: "none",
    enabled: () => chosen().cable !== null,
    run: () => replug(1),
  },
  {
    id: "chain-box",
    label: "Chain another behind it",
    also: "cascade daisy next position",
    menu: "Rig",
    group: 3,
    undo: "step",
    enabled: ({ app: { show } }) => {
      const [device, ...more] = chosenDevices();
      const type = show.devices.find(({ id }) => id === device)?.type;
      return more.length === 0 && (show.types.find(({ id }) => id === type)?.chain ?? 1) > 1;
    },
    run: chain,
  },
  {
    id: "power",
    label: ({ app: { show } }) => {
      const devices = new Set(chosenDevices());
      return show.devices.some(({ id, powered }) => devices.has(id) && powered) ? "Switch off" : "Switch on";
    },
    also: "power",
    menu: "Rig",
    group: 3,
    undo: "step",
    enabled: someDevices,
    run: switchPower,
  },
  {
    id: "tidy",
    label: () =>
      chosenDevices().length > 1 ? `Tidy up ${chosenDevices().length} devices` : "Tidy up the rig",
    also: "arrange layout automatic",
    menu: "Rig",
    group: 4,
    undo: "step",
    enabled: ({ app: { show } }) => show.devices.length > 0,
    run: tidy,
  },
  aligning("left", "Left edges in line"),
  aligning("centre", "Centres in line, one above the other"),
  aligning("right", "Right edges in line"),
  aligning("top", "Top edges in line"),
  aligning("middle", "Middles in line, side by side"),
  aligning("bottom", "Bottom edges in line"),
  spacing("across", "Even gaps across"),
  spacing("down", "Even gaps down"),
];

export const TO_CANVAS: Command = {
  id: "to-canvas",
  label: "Go to the canvas",
  also: "focus keyboard rig",
  keys: ["F6"],
  inFields: true,
  menu: "Go",
  group: 1,
  undo: "none",
  run: () => {
    showStage("canvas");
    giveKeys(focusStage);
  },
};
