import { describe, expect, test, vi } from "vitest";
import { id, type GroupId, type Terminal } from "#engine";
import { createAppStore } from "../../renderer/state/store.ts";
import { followViews } from "../../renderer/state/views.ts";
import { BOX, CONSOLE, LINK_CABLE, smallShow, STAGE, VOCAL, WEDGE_MIX } from "./small-show.ts";

const move = (x: number) => ({ kind: "move-devices", to: [{ device: BOX, at: { x, y: 0 } }] }) as const;

const OUT_1: Terminal = { device: BOX, group: id<GroupId>("out"), side: "jack", number: 1 };

function open() {
  const store = createAppStore();
  store.getState().replace(smallShow(), { path: "/shows/small.hopline", stamp: "1" }, false);
  return store;
}

test("rehearsing edits tells what they would come to, and makes none", () => {
  const store = open();
  const { show } = store.getState();
  const rehearsed = store.getState().rehearse(() => {
    store.getState().change(move(1), "moving");
    store.getState().change({ kind: "set-title", title: "Other" }, "renaming");
  });
  expect(rehearsed.title).toBe("Other");
  expect(rehearsed.devices.find(({ id }) => id === BOX)?.at).toEqual({ x: 1, y: 0 });
  expect(store.getState()).toMatchObject({ show, undoLabel: null, modified: false });
  // What comes after it is an edit again.
  store.getState().change(move(2), "moving");
  expect(store.getState().undoLabel).toBe("moving");
});

describe("undo and redo", () => {
  test("undo brings back the show as it was opened, and redo the edit", () => {
    const store = open();
    const opened = store.getState().show;
    store.getState().change(move(1), "moving");
    store.getState().change(move(2), "moving again");
    const edited = store.getState().show;
    store.getState().undo();
    store.getState().undo();
    expect(store.getState().show).toEqual(opened);
    expect(store.getState().undoLabel).toBeNull();
    store.getState().redo();
    store.getState().redo();
    expect(store.getState().show).toEqual(edited);
    expect(store.getState().redoLabel).toBeNull();
  });

  test("what was redone can be undone again", () => {
    const store = open();
    const opened = store.getState().show;
    store.getState().change(move(1), "moving");
    store.getState().undo();
    store.getState().redo();
    expect(store.getState()).toMatchObject({ undoLabel: "moving", redoLabel: null, modified: true });
    store.getState().undo();
    expect(store.getState()).toMatchObject({ undoLabel: null, redoLabel: "moving", modified: false });
    expect(store.getState().show).toEqual(opened);
  });

  test("another show that is opened has nothing of the steps of the one before, either way", () => {
    const store = open();
    store.getState().change(move(1), "moving");
    store.getState().change(move(2), "moving again");
    store.getState().undo();
    const other = { ...smallShow(), title: "Other" };
    store.getState().replace(other, { path: "/shows/other.hopline", stamp: "1" }, false);
    expect(store.getState()).toMatchObject({ undoLabel: null, redoLabel: null, modified: false });
    store.getState().undo();
    store.getState().redo();
    expect(store.getState().show).toBe(other);
  });

  test("with nothing to undo or redo all stays as it is", () => {
    const store = open();
    const before = store.getState();
    store.getState().undo();
    store.getState().redo();
    expect(store.getState()).toBe(before);
  });

  test("the labels name the step that comes next each way", () => {
    const store = open();
    store.getState().change(move(1), "moving Stage box");
    expect(store.getState()).toMatchObject({ undoLabel: "moving Stage box", redoLabel: null });
    store.getState().undo();
    expect(store.getState()).toMatchObject({ undoLabel: null, redoLabel: "moving Stage box" });
  });

  test("looking around leaves redo, the modified mark and the document alone", () => {
    const store = open();
    store.getState().change(move(1), "moving");
    store.getState().undo();
    const { show } = store.getState();
    store.getState().look({ kind: "source", source: VOCAL }, true);
    store.getState().look(null);
    expect(store.getState()).toMatchObject({ redoLabel: "moving", modified: false });
    expect(store.getState().show).toBe(show);
  });

  test("a new edit after undo drops what could be redone", () => {
    const store = open();
    store.getState().change(move(1), "moving");
    store.getState().undo();
    store.getState().change({ kind: "set-title", title: "Other" }, "renaming");
    expect(store.getState().redoLabel).toBeNull();
  });

  test("a change that changes nothing makes no step", () => {
    const store = open();
    store.getState().change({ kind: "move-place", place: STAGE, at: { x: 600, y: 0 } }, "moving");
    expect(store.getState()).toMatchObject({ undoLabel: null, modified: false });
  });

  test("analysis and lit follow the document in the same step", () => {
    const store = open();
    store.getState().look({ kind: "terminal", terminal: OUT_1 });
    expect(store.getState().lit.traces[0]!.verdict.kind).toBe("arrives");
    const seen = vi.fn();
    store.subscribe((state) => seen(state.show === state.analysis.show, state.lit.traces[0]!.verdict.kind));
    store.getState().change({ kind: "edit-device", device: CONSOLE, set: { powered: false } }, "power");
    expect(seen.mock.calls).toEqual([[true, "off"]]);
  });
});

describe("what the canvas is to show", () => {
  test("only looking at something to be shown moves the canvas, each time anew; another show moves nothing", () => {
    const store = open();
    const { look } = store.getState();
    look({ kind: "device", device: BOX });
    expect(store.getState().reveal).toBeNull();
    look({ kind: "device", device: BOX }, true);
    const first = store.getState().reveal!;
    expect(first.devices).toEqual([BOX]);
    look({ kind: "device", device: BOX }, true);
    expect(store.getState().reveal!.serial).not.toBe(first.serial);
    const second = store.getState().reveal;
    look(null, true);
    expect(store.getState().reveal).toBe(second);
    store.getState().replace(smallShow(), {}, false);
    expect(store.getState().reveal).toBeNull();
  });
});

describe("the modified mark", () => {
  test("goes when undo comes back to what the file holds", () => {
    const store = open();
    store.getState().change(move(1), "moving");
    expect(store.getState().modified).toBe(true);
    store.getState().undo();
    expect(store.getState().modified).toBe(false);
  });

  test("counts from the last save, wherever that was in the history", () => {
    const store = open();
    store.getState().change(move(1), "moving");
    const { revision } = store.getState();
    store.getState().change(move(2), "moving");
    // The file was written as it stood before the second move.
    store.getState().noteSaved(revision, { path: "/a", stamp: "2", savedAt: 5 });
    expect(store.getState().modified).toBe(true);
    store.getState().undo();
    expect(store.getState().modified).toBe(false);
    store.getState().undo();
    expect(store.getState().modified).toBe(true);
  });

  test("a branch of the history never passes for the saved one", () => {
    const store = open();
    store.getState().change(move(1), "moving");
    store.getState().noteSaved(store.getState().revision, { path: "/a", stamp: "2", savedAt: 5 });
    store.getState().undo();
    store.getState().change(move(3), "moving");
    expect(store.getState().modified).toBe(true);
    store.getState().undo();
    expect(store.getState().modified).toBe(true);
  });

  test("another document starts with no history, no focus and its own file", () => {
    const store = open();
    store.getState().change(move(1), "moving");
    store.getState().look({ kind: "device", device: BOX });
    store.getState().replace(smallShow(), { path: null }, true);
    expect(store.getState()).toMatchObject({
      undoLabel: null,
      focus: null,
      modified: true,
      file: { path: null, stamp: null, savedAt: null, trouble: null },
    });
  });
});

describe("what a focus lights", () => {
  test("an output jack: its way up, over the cable, from the console", () => {
    const store = open();
    store.getState().look({ kind: "terminal", terminal: OUT_1 });
    const { lit } = store.getState();
    expect(lit.traces).toHaveLength(1);
    expect([...lit.devices].sort()).toEqual([BOX, CONSOLE].sort());
    expect([...lit.cables]).toEqual([LINK_CABLE]);
  });

  test("a source: every jack that it reaches, through channel and mix", () => {
    const store = open();
    store.getState().look({ kind: "source", source: VOCAL });
    expect(store.getState().lit.traces.map(({ target }) => target)).toContainEqual(OUT_1);
  });

  test("a mix: what it reaches", () => {
    const store = open();
    store.getState().look({ kind: "mix", mix: WEDGE_MIX });
    expect(store.getState().lit.traces.map(({ target }) => target)).toEqual([OUT_1]);
  });

  test("what is no longer there lights nothing and doesn't fail", () => {
    const store = open();
    store.getState().look({ kind: "source", source: id("gone") });
    store.getState().look({ kind: "terminal", terminal: { ...OUT_1, number: 99 } });
    store.getState().look({ kind: "finding", finding: "gone" });
    expect(store.getState().lit.traces).toEqual([]);
  });

  test("the same target counts again where it is asked for again", () => {
    const store = open();
    store.getState().look({ kind: "device", device: BOX }, true);
    const first = store.getState().reveal!.serial;
    store.getState().look({ kind: "device", device: BOX }, true);
    expect(store.getState().reveal!.serial).toBe(first + 1);
  });
});

describe("back and forward", () => {
  test("go through what was looked at, and a new look drops what lay ahead", () => {
    const store = open();
    const views = followViews(store);
    const { look } = store.getState();
    look({ kind: "device", device: BOX });
    look({ kind: "source", source: VOCAL });
    look({ kind: "cable", cable: LINK_CABLE });
    views.go(-1);
    views.go(-1);
    expect(store.getState().focus).toEqual({ kind: "device", device: BOX });
    expect(views.canGo(-1)).toBe(false);
    views.go(1);
    expect(store.getState().focus).toEqual({ kind: "source", source: VOCAL });
    look({ kind: "device", device: CONSOLE });
    expect(views.canGo(1)).toBe(false);
  });

  test("another document starts with nothing to go back to", () => {
    const store = open();
    const views = followViews(store);
    store.getState().look({ kind: "device", device: BOX });
    store.getState().look({ kind: "device", device: CONSOLE });
    store.getState().replace({ ...smallShow(), id: id("other") }, {}, false);
    expect(views.canGo(-1)).toBe(false);
  });
});
