import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { createStore, type StoreApi } from "zustand";
import { err, ok, type HostApi } from "#engine";
import { keepRecovery, LONGEST_MS, QUIET_MS, type RecoveryKeeper } from "../../renderer/files/recovery.ts";
import { createAppStore, type AppStore } from "../../renderer/state/store.ts";
import { typing } from "../../renderer/state/typing.ts";
import { BOX, smallShow } from "./small-show.ts";

let app: AppStore;
let keeper: RecoveryKeeper;
let written: string[];
let dropped: string[];
let problems: string[];
let fails: boolean;
let events: string[];
let begun: StoreApi<{ text: string | null }>;
/** What was unfinished in the last copy, and whether the show was written out. */
let last: { readonly unfinished: string | null; readonly isWhole: boolean } | undefined;
/** Runs while a copy is on its way to the disk. */
let onWrite: () => void;

const edit = (name: string): void =>
  app.getState().change({ kind: "rename-device", device: BOX, name }, "renaming");

beforeEach(() => {
  vi.useFakeTimers();
  written = [];
  dropped = [];
  problems = [];
  fails = false;
  events = [];
  onWrite = () => {};
  app = createAppStore();
  const host = {
    writeRecovery: ({ text, unfinished }: { text: string; unfinished: string | null }) => {
      last = { unfinished, isWhole: text !== "" };
      onWrite();
      events.push("write");
      if (fails) return Promise.resolve(err({ code: "disk-full", message: "The disk is full." }));
      written.push(/"name":"([^"]*)","type":"box/.exec(text)?.[1] ?? "?");
      return Promise.resolve(ok(1));
    },
    dropRecovery: (id: string) => {
      dropped.push(id);
      events.push("drop");
      return Promise.resolve(ok(null));
    },
  } as unknown as HostApi;
  begun = createStore(() => ({ text: null as string | null }));
  keeper = keepRecovery(host, app, (line) => problems.push(line), {
    now: () => begun.getState().text,
    subscribe: (listener) => begun.subscribe(listener),
  });
  app.getState().replace(smallShow(), { path: "/a", stamp: "1" }, false);
});

afterEach(() => {
  typing.setState({ take: null });
  keeper.stop();
  vi.useRealTimers();
});

test("a copy is written within a second of an edit", async () => {
  edit("one");
  await vi.advanceTimersByTimeAsync(1000);
  expect(written).toEqual(["one"]);
});

test("edits in quick succession make one copy, of the last", async () => {
  edit("one");
  await vi.advanceTimersByTimeAsync(QUIET_MS - 1);
  edit("two");
  await vi.advanceTimersByTimeAsync(QUIET_MS);
  expect(written).toEqual(["two"]);
});

test("while edits never pause, a copy is written at least every five seconds", async () => {
  const began = Date.now();
  for (let n = 0; Date.now() - began < 15_000; n++) {
    edit(`edit ${n}`);
    await vi.advanceTimersByTimeAsync(200);
  }
  expect(LONGEST_MS).toBeLessThan(5000);
  expect(written.length).toBeGreaterThanOrEqual(3);
});

test("opening a show writes nothing", async () => {
  await vi.advanceTimersByTimeAsync(10_000);
  expect(written).toEqual([]);
});

test("undone back to what the file holds, the copy goes", async () => {
  edit("one");
  await vi.advanceTimersByTimeAsync(1000);
  app.getState().undo();
  await vi.advanceTimersByTimeAsync(10_000);
  expect(written).toEqual(["one"]);
  expect(dropped).toContain("small");
});

test("saved, the copy goes", async () => {
  edit("one");
  await vi.advanceTimersByTimeAsync(1000);
  app.getState().noteSaved(app.getState().revision, { path: "/a", stamp: "2", savedAt: 1 });
  expect(dropped).toEqual(["small"]);
});

test("an edit made while the show was saved keeps its copy", async () => {
  edit("one");
  const { revision } = app.getState();
  edit("two");
  app.getState().noteSaved(revision, { path: "/a", stamp: "2", savedAt: 1 });
  await vi.advanceTimersByTimeAsync(1000);
  expect(written).toEqual(["two"]);
  expect(dropped).toEqual([]);
});

test("a copy that was on its way while the show was saved doesn't outlive the save", async () => {
  edit("one");
  const flushed = keeper.flush();
  onWrite = () => app.getState().noteSaved(app.getState().revision, { path: "/a", stamp: "2", savedAt: 1 });
  await flushed;
  expect(events).toEqual(["drop", "write", "drop"]);
});

test("closing writes what is due at once, and nothing twice", async () => {
  edit("one");
  expect(await keeper.flush()).toBe(true);
  expect(written).toEqual(["one"]);
  await vi.advanceTimersByTimeAsync(10_000);
  expect(await keeper.flush()).toBe(true);
  expect(written).toEqual(["one"]);
});

test("a copy that can't be written is told once, not every few seconds", async () => {
  fails = true;
  edit("one");
  await vi.advanceTimersByTimeAsync(1000);
  for (const name of ["two", "three"]) {
    edit(name);
    await vi.advanceTimersByTimeAsync(1000);
  }
  expect(problems).toEqual(["No recovery copy could be written, so save often. The disk is full."]);
});

test("after a copy the time to the next one begins anew, with the next edit", async () => {
  edit("one");
  await vi.advanceTimersByTimeAsync(LONGEST_MS + 5_000);
  expect(written).toEqual(["one"]);
  edit("two");
  await vi.advanceTimersByTimeAsync(QUIET_MS - 1);
  expect(written).toEqual(["one"]);
  await vi.advanceTimersByTimeAsync(1);
  expect(written).toEqual(["one", "two"]);
});

test("work that was saved before its copy was due has none", async () => {
  edit("one");
  app.getState().noteSaved(app.getState().revision, { path: "/a", stamp: "2", savedAt: 1 });
  await vi.advanceTimersByTimeAsync(10_000);
  expect(await keeper.flush()).toBe(true);
  expect(written).toEqual([]);
});

test("looking around while nothing is unsaved drops no copy", async () => {
  app.getState().look(null);
  app.getState().noteSaved(app.getState().revision, { path: "/a", stamp: "2", savedAt: 1 });
  await vi.advanceTimersByTimeAsync(1000);
  expect(dropped).toEqual([]);
});

test("another show that is opened leaves the copy of the one before to whoever asked about it", async () => {
  edit("one");
  await vi.advanceTimersByTimeAsync(1000);
  app.getState().replace({ ...smallShow(), id: "other" as never }, { path: "/b", stamp: "1" }, false);
  await vi.advanceTimersByTimeAsync(10_000);
  expect([written, dropped]).toEqual([["one"], []]);
});

test("a show that is opened with unsaved work, such as a recovered one, gets a copy of its own", async () => {
  app.getState().replace({ ...smallShow(), id: "back" as never }, { path: "/b", stamp: "1" }, true);
  await vi.advanceTimersByTimeAsync(1000);
  expect(written).toEqual(["Stage box"]);
});

test("a copy that fails again after one that went well is told again", async () => {
  for (const [name, full] of [
    ["one", true],
    ["two", false],
    ["three", true],
  ] as const) {
    fails = full;
    edit(name);
    await vi.advanceTimersByTimeAsync(1000);
  }
  expect(written).toEqual(["two"]);
  expect(problems).toHaveLength(2);
});

test("a keeper that was stopped writes nothing more", async () => {
  edit("one");
  keeper.stop();
  edit("two");
  await vi.advanceTimersByTimeAsync(10_000);
  expect(written).toEqual([]);
});

describe("what is being typed", () => {
  const type = (name: string): void => typing.setState({ take: () => edit(name) });

  test("is in the copy within a second, though nothing else was changed, and not in the show", async () => {
    const { show } = app.getState();
    type("half a na");
    await vi.advanceTimersByTimeAsync(1000);
    expect(written).toEqual(["half a na"]);
    expect(app.getState()).toMatchObject({ show, modified: false, undoLabel: null });
    expect(dropped).toEqual([]);
  });

  test("is in the copy by the fifth second while it is typed without a pause", async () => {
    for (let n = 0; n < 20; n++) {
      type(`name ${n}`);
      await vi.advanceTimersByTimeAsync(250);
    }
    expect(written).toHaveLength(1);
  });

  test("goes from the copy when it is taken back: with the copy, where it was all there was", async () => {
    type("half a na");
    await vi.advanceTimersByTimeAsync(1000);
    typing.setState({ take: null });
    await vi.advanceTimersByTimeAsync(1000);
    expect(dropped).toEqual(["small"]);
    expect(written).toEqual(["half a na"]);
  });

  test("and without it, where there are edits besides", async () => {
    edit("whole");
    type("half a na");
    await vi.advanceTimersByTimeAsync(1000);
    typing.setState({ take: null });
    await vi.advanceTimersByTimeAsync(1000);
    expect(written).toEqual(["half a na", "whole"]);
    expect(dropped).toEqual([]);
  });

  test("that can't be taken leaves nothing to keep", async () => {
    typing.setState({ take: () => {} });
    await vi.advanceTimersByTimeAsync(1000);
    expect(written).toEqual([]);
    expect(dropped).toEqual([]);
  });

  test("and is saved while its copy is on its way leaves no copy", async () => {
    type("half a na");
    const flushed = keeper.flush();
    onWrite = () => {
      edit("half a na");
      typing.setState({ take: null });
      app.getState().noteSaved(app.getState().revision, { path: "/a", stamp: "2", savedAt: 1 });
    };
    await flushed;
    await vi.advanceTimersByTimeAsync(1000);
    expect(events.at(-1)).toBe("drop");
  });

  test("is written before the window closes", async () => {
    type("half a na");
    expect(await keeper.flush()).toBe(true);
    expect(written).toEqual(["half a na"]);
  });
});

describe("what is unfinished", () => {
  const begin = (text: string | null): void => begun.setState({ text });

  test("is kept where nothing else is, and stands for the file", async () => {
    begin("a row");
    await vi.advanceTimersByTimeAsync(1000);
    expect(last).toEqual({ unfinished: "a row", isWhole: false });
    expect(app.getState().modified).toBe(false);
    begin(null);
    await vi.advanceTimersByTimeAsync(1000);
    expect(dropped).toEqual(["small"]);
  });

  test("goes with the show where that has edits, or no file", async () => {
    begin("a row");
    edit("one");
    await vi.advanceTimersByTimeAsync(1000);
    expect(last).toEqual({ unfinished: "a row", isWhole: true });
    app.getState().replace(smallShow(), {}, false);
    begin("another row");
    await vi.advanceTimersByTimeAsync(1000);
    expect(last).toEqual({ unfinished: "another row", isWhole: true });
  });

  test("outlives a save, which has nothing of it", async () => {
    begin("a row");
    edit("one");
    await vi.advanceTimersByTimeAsync(1000);
    app.getState().noteSaved(app.getState().revision, { path: "/a", stamp: "2", savedAt: 1 });
    await vi.advanceTimersByTimeAsync(1000);
    expect(last).toEqual({ unfinished: "a row", isWhole: false });
    expect(dropped).toEqual([]);
  });
});
