/** A type as a file of its own: there and back, and what is refused. */
import { describe, expect, test } from "vitest";
import { CATALOGUE, catalogueType } from "#engine/catalog/types.ts";
import {
  MOST_TYPE_CHARACTERS,
  addType,
  copyOfType,
  freeId,
  loadType,
  saveType,
  standingOf,
} from "#engine/types/file.ts";
import { changeType } from "#engine/types/change.ts";
import { applyEdits } from "#engine/model/edit.ts";
import { loadShow } from "#engine/exchange/load.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { rig } from "../rigs/build.ts";

const BOX = catalogueType("box-16-8");

const refused = (text: string): string => {
  const loaded = loadType(text);
  return loaded.ok ? "loaded" : `${loaded.error.code} ${loaded.error.message}`;
};
const file = (change: (type: Record<string, unknown>) => void, more: object = {}): string => {
  const value = JSON.parse(saveType(BOX)) as { type: Record<string, unknown> };
  change(value.type);
  return JSON.stringify({ ...value, ...more });
};

describe("a type's file", () => {
  test.each(CATALOGUE)("[K15] $id is the same after saving and loading", (type) => {
    const text = saveType(type);
    expect(loadType(text)).toEqual({ ok: true, value: type });
    expect(saveType(structuredClone(type))).toBe(text);
  });

  test("[K15] it tells its format and version, and ends with a line break", () => {
    expect(saveType(BOX)).toMatch(/^\{\n {2}"format": "hopline\.type",\n {2}"version": 1,\n/);
    expect(saveType(BOX).endsWith("}\n")).toBe(true);
  });

  test("[K15] a byte order mark is passed over", () => {
    expect(loadType(`\uFEFF${saveType(BOX)}`).ok).toBe(true);
  });

  test("[K15] what is told of a type by K4 doesn't keep it from loading", () => {
    expect(refused(file((type) => (type["clock"] = "nowhere")))).toBe("loaded");
  });

  test.each([
    ["", "not-json the file is not JSON: it is empty"],
    ["{", "not-json the file is not JSON: the file ends too early (line 1, column 2)"],
    [
      '{"a":1} x',
      "not-json the file is not JSON: something stands after the end of the type (line 1, column 9)",
    ],
    ["[]", 'not-a-type the file is JSON but not a device type: its "format" is not "hopline.type"'],
    [
      saveShow(rig({ devices: {} })),
      'not-a-type the file is JSON but not a device type: its "format" is not "hopline.type"',
    ],
    [file(() => {}, { version: 0 }), "not-a-type version: a whole number from 1 on is needed"],
    [
      file(() => {}, { version: 2 }),
      "newer version: the file was written by a newer Hopline (file version 2; this one reads up to 1)",
    ],
    [file(() => {}, { extra: 1 }), "invalid extra: is not a field that Hopline knows"],
    [file((type) => delete type["name"]), "invalid type.name: is missing"],
    [file((type) => (type["chain"] = 0)), "invalid type.chain: must be >= 1"],
    [
      file((type) => (type["category"] = "toaster")),
      /^invalid type\.category: must be one of console, stage box/,
    ],
    [
      file((type) => ((type["banks"] as { id: string }[])[1]!.id = "in")),
      'invalid type: two groups have the id "in"',
    ],
    ['{"format":"hopline.type","version":1,"type":{"__proto__":{}}}', /^hostile type\.__proto__: /],
    [
      `{"format":"hopline.type","version":1,"type":${"[".repeat(70)}${"]".repeat(70)}}`,
      /^hostile .*nested deeper than 64 levels/,
    ],
    [" ".repeat(MOST_TYPE_CHARACTERS + 1), /^hostile the file is larger than 5 million characters/],
  ])("[K15] a bad file is refused in one line (%#)", (text, expected) => {
    if (typeof expected === "string") expect(refused(text)).toBe(expected);
    else expect(refused(text)).toMatch(expected);
    expect(refused(text)).not.toContain("\n");
  });

  test("[K15] a type's file is no show", () => {
    expect(loadShow(saveType(BOX))).toMatchObject({ ok: false, error: { code: "not-a-show" } });
  });
});

describe("a type that comes to a show", () => {
  const SHOW = rig({ devices: { stage: { name: "Stage", type: "box-16-8" } } });

  test("[K15] is new, there already, or another under the same id", () => {
    expect(standingOf(SHOW, catalogueType("wedge"))).toEqual({ kind: "new" });
    // In another order, as another program may have written it.
    const { id, ...rest } = structuredClone(BOX);
    expect(standingOf(SHOW, { ...rest, id })).toEqual({ kind: "same" });
    expect(standingOf(SHOW, { ...BOX, chain: 2 })).toEqual({ kind: "other", present: BOX });
  });

  test("[K15] other content comes as a new version of the one that is there", () => {
    const { edits, devices } = changeType(SHOW, { ...BOX, chain: 2 });
    expect(devices).toEqual(["stage"]);
    expect(applyEdits(SHOW, edits).types.map(({ id, chain }) => [id, chain])).toEqual([["box-16-8", 2]]);
  });

  test("[K15] or as a copy under a free id and name, which leaves the devices as they are", () => {
    const copy = copyOfType({ ...BOX, chain: 2 }, SHOW.types);
    expect([copy.id, copy.name]).toEqual(["box-16-8-2", "Stage box 16 in, 8 out, copy"]);
    const after = applyEdits(SHOW, addType(copy));
    expect(after.types).toEqual([BOX, copy]);
    expect(after.devices).toBe(SHOW.devices);
    expect(copyOfType(BOX, after.types).name).toBe("Stage box 16 in, 8 out, copy 2");
  });

  test("[K15] a free id keeps what was wanted, or counts on", () => {
    expect(freeId("box", new Set())).toBe("box");
    expect(freeId("box", new Set(["box", "box-2"]))).toBe("box-3");
    expect(freeId("x".repeat(64), new Set(["x".repeat(64)]))).toBe(`${"x".repeat(56)}-2`);
  });
});
