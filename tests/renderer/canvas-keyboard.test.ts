/** Keys on the canvas that gather, plug and let go; and what commands take for chosen. */
import { beforeEach, describe, expect, test, vi } from "vitest";
import type { DeviceId } from "#engine";
import { keyHandlers } from "../../renderer/canvas/keyboard.ts";
import { chosen, followFocus } from "../../renderer/canvas/chosen.ts";
import { removeChosen, duplicateChosen, plug, step } from "../../renderer/canvas/build.ts";
import { view } from "../../renderer/canvas/view.ts";
import { COMMANDS, isEnabled, labelOf, stateNow } from "../../renderer/commands/commands.ts";
import { app } from "../../renderer/state/store.ts";
import { ui } from "../../renderer/state/ui.ts";
import { GRID } from "#engine/layout/geometry.ts";
import { BOX, CONSOLE, LINK_CABLE, smallShow, STAGE } from "./small-show.ts";

// The handlers ask whether a key was pressed in a button; there is no page here.
vi.stubGlobal("Element", class {});

type Flow = Parameters<typeof keyHandlers>[0];

function press(key: string): { readonly prevented: boolean } {
  const event = {
    key,
    altKey: false,
    ctrlKey: false,
    metaKey: false,
    shiftKey: false,
    defaultPrevented: false,
    target: {},
    preventDefault: vi.fn(),
  };
  keyHandlers({} as Flow).onKeyDown(event as unknown as React.KeyboardEvent);
  return { prevented: event.preventDefault.mock.calls.length > 0 };
}

const at = (device: DeviceId | null): void =>
  view.setState({ cursor: device === null ? null : { device, at: null }, selected: new Set(), place: null });

const command = (id: string) => COMMANDS.find((each) => each.id === id)!;

beforeEach(() => {
  app.getState().replace(smallShow(), {}, false);
  ui.setState({ dialog: null });
  at(null);
});

describe("keys on the canvas", () => {
  test("Space gathers the device under the keys, and lets go of it again", () => {
    at(BOX);
    expect(press(" ").prevented).toBe(true);
    expect([...view.getState().selected]).toEqual([BOX]);
    press(" ");
    expect(view.getState().selected.size).toBe(0);
  });

  test("P asks what an end of the device can be plugged in", () => {
    at(BOX);
    press("p");
    expect(ui.getState().dialog).toEqual({ kind: "plug", from: BOX, moving: null });
  });

  test("P on a port or jack begins there; a block of jacks at its first free one", () => {
    // The first span of the small box is its input bank of 16, and a source stands in jack 1.
    view.setState({ cursor: { device: BOX, at: { span: 0, first: 1, last: 8 } } });
    press("p");
    expect(ui.getState().dialog).toMatchObject({ from: { device: BOX, group: "in", first: 2 } });
    view.setState({ cursor: { device: BOX, at: { span: 0, first: 5, last: 5 } } });
    press("P");
    expect(ui.getState().dialog).toMatchObject({ from: { device: BOX, group: "in", first: 5 } });
  });

  test("Escape lets go of all that was gathered", () => {
    at(BOX);
    press(" ");
    press("Escape");
    expect(view.getState().selected.size).toBe(0);
  });
});

describe("a chosen place by keys", () => {
  const handlers = () => keyHandlers({} as Flow);
  const down = (keys: ReturnType<typeof handlers>, key: string, held: "shiftKey" | "ctrlKey"): void =>
    keys.onKeyDown({
      key,
      altKey: false,
      ctrlKey: false,
      metaKey: false,
      shiftKey: false,
      [held]: true,
      defaultPrevented: false,
      target: {},
      preventDefault: () => {},
    } as unknown as React.KeyboardEvent);
  const up = (keys: ReturnType<typeof handlers>, key: string): void =>
    keys.onKeyUp({ key } as React.KeyboardEvent);
  const stage = () => app.getState().show.places.find(({ id }) => id === STAGE)!;
  const box = () => app.getState().show.devices.find(({ id }) => id === BOX)!;

  beforeEach(() => view.setState({ place: STAGE }));

  test("Shift and arrows move it with its devices, in one step", () => {
    const [place, device] = [stage(), box()];
    const keys = handlers();
    for (let n = 0; n < 3; n++) down(keys, "ArrowRight", "shiftKey");
    down(keys, "ArrowDown", "shiftKey");
    // Nothing of the document has changed so far.
    expect(stage()).toBe(place);
    up(keys, "Shift");
    expect(stage().at).toEqual({ x: place.at.x + 3 * GRID, y: place.at.y + GRID });
    expect(box().at).toEqual({ x: device.at.x + 3 * GRID, y: device.at.y + GRID });
    app.getState().undo();
    expect(stage().at).toEqual(place.at);
    expect(box().at).toEqual(device.at);
  });

  test("Control and arrows resize it, in one step, never to less than its devices need", () => {
    const before = stage();
    const keys = handlers();
    for (let n = 0; n < 4; n++) down(keys, "ArrowRight", "ctrlKey");
    down(keys, "ArrowDown", "ctrlKey");
    up(keys, "Control");
    // To the grid, and around the devices at least.
    expect(stage().size.width - before.size.width).toBeGreaterThan(3 * GRID);
    expect(app.getState().undoLabel).toBe("resizing Stage");
    for (let n = 0; n < 200; n++) down(keys, "ArrowLeft", "ctrlKey");
    up(keys, "Control");
    expect(stage().at.x + stage().size.width).toBeGreaterThan(box().at.x + GRID);
    app.getState().undo();
    app.getState().undo();
    expect(stage().size).toEqual(before.size);
  });

  test("Escape takes a run back, and walking on lets go of the place", () => {
    const before = stage();
    const keys = handlers();
    down(keys, "ArrowRight", "shiftKey");
    keys.onKeyDown({
      key: "Escape",
      altKey: false,
      ctrlKey: false,
      metaKey: false,
      shiftKey: false,
      defaultPrevented: false,
      target: {},
      preventDefault: () => {},
    } as unknown as React.KeyboardEvent);
    up(keys, "Shift");
    expect(stage()).toBe(before);
    expect(view.getState().moves).toBeNull();
  });
});

describe("what is chosen", () => {
  test("what was gathered counts before what is looked at, and that before where the keys are", () => {
    at(BOX);
    expect(chosen().devices).toEqual([BOX]);
    app.getState().look({ kind: "device", device: CONSOLE });
    expect(chosen().devices).toEqual([CONSOLE]);
    view.setState({ selected: new Set([BOX, CONSOLE]) });
    expect(chosen().devices).toEqual([CONSOLE, BOX]);
    view.setState({ selected: new Set() });
    app.getState().look({ kind: "cable", cable: LINK_CABLE });
    expect(chosen()).toEqual({ devices: [], cable: LINK_CABLE, place: null });
  });

  test("looking at something else lets go of what was gathered, so that no command is about both", () => {
    const stop = followFocus();
    view.setState({ selected: new Set([BOX]) });
    app.getState().look({ kind: "device", device: CONSOLE });
    expect(chosen().devices).toEqual([CONSOLE]);
    stop();
  });

  test("a device that is gone is chosen no more", () => {
    view.setState({ selected: new Set(["nobody"]) });
    expect(chosen()).toEqual({ devices: [], cable: null, place: null });
    expect(isEnabled(command("delete"), stateNow())).toBe(false);
  });
});

describe("commands that build", () => {
  test("deleting is one step with the device's name; undo brings back all of it", () => {
    const before = app.getState().show;
    at(BOX);
    expect(labelOf(command("delete"), stateNow())).toBe("Delete Stage box");
    removeChosen();
    const after = app.getState();
    expect(after.show.devices.map(({ id }) => id)).toEqual([CONSOLE]);
    expect(after.show.cables).toEqual([]);
    expect(after.undoLabel).toBe("taking out Stage box");
    after.undo();
    expect(app.getState().show).toEqual(before);
    expect(app.getState().undoLabel).toBeNull();
  });

  test("the copy of a device is taken in hand", () => {
    at(CONSOLE);
    duplicateChosen();
    expect(app.getState().show.devices.map(({ name }) => name)).toEqual([
      "FOH console",
      "Stage box",
      "FOH console 2",
    ]);
    expect(chosen().devices).toEqual([app.getState().show.devices[2]!.id]);
  });

  test("gathering and looking are no steps", () => {
    at(BOX);
    press(" ");
    press("p");
    expect(app.getState().undoLabel).toBeNull();
    expect(app.getState().modified).toBe(false);
    step([], "nothing");
    expect(app.getState().undoLabel).toBeNull();
  });

  test("a cable plugged is one step, and is looked at", () => {
    const end = (device: DeviceId, group: string) => ({ device, group: group as never, first: 1 });
    plug(end(CONSOLE, "link2"), end(BOX, "b"), null);
    const { show, focus, undoLabel } = app.getState();
    expect(show.cables).toHaveLength(2);
    expect(undoLabel).toBe(`plugging cable ${show.cables[1]!.tag}`);
    expect(focus).toEqual({ kind: "cable", cable: show.cables[1]!.id });
  });

  test("lining up needs two devices, even gaps three", () => {
    view.setState({ selected: new Set([BOX, CONSOLE]) });
    expect(isEnabled(command("align-left"), stateNow())).toBe(true);
    expect(isEnabled(command("space-across"), stateNow())).toBe(false);
    view.setState({ selected: new Set([BOX]) });
    expect(isEnabled(command("align-left"), stateNow())).toBe(false);
  });
});
