/** What isn't in any document yet comes back after a kill: rows that lack a cell, and types in the making. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { id, type ShowId } from "#engine";
import { bringBack, followRows, unfinishedWork } from "../../renderer/files/unfinished.ts";
import { app } from "../../renderer/state/store.ts";
import { lists, setDrafts } from "../../renderer/tables/lists.ts";
import { beginBlank, editor, editType, followShow } from "../../renderer/types/editor.ts";
import { smallShow } from "./small-show.ts";

const kept = unfinishedWork({ types: true });
const row = new Map([
  ["tag", "L 9"],
  ["from", "Console Link 1"],
]);

beforeEach(() => {
  app.getState().replace(smallShow(), {}, false);
  followShow(app.getState().show);
});

afterEach(() => {
  lists.setState({ drafts: {} });
  editor.setState({ show: null, drafts: new Map() });
});

test("nothing begun is nothing to keep", () => {
  expect(kept.now()).toBeNull();
  setDrafts("cables", []);
  expect(kept.now()).toBeNull();
});

test("rows of lists and types in the making come back as they were", () => {
  setDrafts("cables", [row]);
  beginBlank();
  editType((type) => ({ ...type, name: "Box of mine" }), "naming");
  const text = kept.now()!;

  // Another window, in which nothing was begun.
  lists.setState({ drafts: {} });
  editor.setState({ show: null, drafts: new Map() });
  bringBack(text);
  expect(lists.getState().drafts).toEqual({ cables: [row] });
  expect([...editor.getState().drafts.values()].map(({ type, base }) => [type.name, base])).toEqual([
    ["Box of mine", null],
  ]);
  expect(editor.getState().show).toBe(app.getState().show.id);
});

test("a window whose storage lasts keeps types by itself", () => {
  beginBlank();
  expect(unfinishedWork({ types: false }).now()).toBeNull();
});

test("listeners hear of both", () => {
  let heard = 0;
  const stop = kept.subscribe(() => heard++);
  setDrafts("inputs", [row]);
  expect(heard).toBe(1);
  beginBlank();
  expect(heard).toBeGreaterThan(1);
  stop();
  const before = heard;
  setDrafts("inputs", []);
  expect(heard).toBe(before);
});

test("what doesn't read as it is passed over", () => {
  const texts = [
    "",
    "{",
    "null",
    "1",
    "[]",
    '{"rows":1,"types":2}',
    '{"rows":[null,["cables",[1]]],"types":"{"}',
  ];
  for (const text of texts) bringBack(text);
  expect(editor.getState().drafts.size).toBe(0);
});

test("rows that were begun go with the show that they were begun in", () => {
  followRows();
  setDrafts("cables", [row]);
  app.getState().replace({ ...smallShow(), id: id<ShowId>("other") }, {}, false);
  expect(lists.getState().drafts).toEqual({});
});
