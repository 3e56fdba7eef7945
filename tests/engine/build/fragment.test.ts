/** B11–B14: a part of a rig copied as text and pasted, here and in another show. */
import { describe, expect, test } from "vitest";
import {
  duplicated,
  fragmentOf,
  fragmentText,
  MOST_FRAGMENT_CHARACTERS,
  pasted,
  readFragment,
  type Fragment,
} from "#engine/build/fragment.ts";
import { withoutDevices } from "#engine/build/remove.ts";
import { overlap, rectsOf } from "#engine/build/room.ts";
import { analyse } from "#engine/analysis.ts";
import { catalogueType } from "#engine/catalog/types.ts";
import { loadShow } from "#engine/exchange/load.ts";
import { saveShow } from "#engine/exchange/save.ts";
import type { DeviceId } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { demo } from "../demo.ts";
import { after, blank, device, found, rig } from "./support.ts";

const show: Show = (() => {
  const base = rig({
    devices: {
      foh: { name: "FOH", type: "console-24", set: ["link1 1 x8 < mix 1"] },
      box: { name: "Box", type: "box-16-8" },
      wedge: { name: "Wedge 3", type: "wedge" },
    },
    cables: ["L1: foh.link1 - box.a, 50 m", "X1: box.out.1 - wedge.in.1, microphone"],
    sources: ["Kick: box.in.1"],
    channels: ["Kick: foh.ch.1 < Kick"],
    mixes: ["Wedge: foh.mix.1 < ch 1"],
    wants: ["Wedge: wedge.in.1 < foh.mix.1"],
    groups: ["Both: wedge.in.1, box.out.2"],
  });
  const sources = base.sources.map((source) => ({ ...source, preampOwner: device("foh") }));
  return { ...base, sources };
})();

const paste = (into: Show, fragment: Fragment, at: { x: number; y: number } | null = null): Show => {
  const result = pasted(into, fragment, at);
  if (!result.ok) throw new Error(result.error);
  return after(into, result.value.edits);
};
const read = (text: string): Fragment => {
  const result = readFragment(text);
  if (!result.ok) throw new Error(result.error);
  return result.value;
};
const error = (text: string): string => {
  const result = readFragment(text);
  return result.ok ? "" : result.error;
};
const all = (rigged: Show): readonly DeviceId[] => rigged.devices.map(({ id }) => id);

describe("copying", () => {
  test("[B11] the devices, what they are made of and what lies between them; nothing that points outside", () => {
    const fragment = fragmentOf(show, [device("box"), device("wedge")]);
    expect(fragment.devices).toEqual(show.devices.slice(1));
    expect(fragment.types.map(({ id }) => id)).toEqual(["box-16-8", "wedge"]);
    expect(fragment.places).toEqual(show.places);
    expect(fragment.cables.map(({ tag }) => tag)).toEqual(["X1"]);
    const { preampOwner: _owner, ...kick } = show.sources[0]!;
    expect(fragment.sources).toEqual([kick]);
    expect([fragment.channels, fragment.mixes]).toEqual([[], []]);
    const { from: _from, ...want } = show.wants[0]!;
    expect(fragment.wants).toEqual([want]);
    expect(fragment.groups).toEqual(show.groups);
    // The console alone: its routing, channels and mixes, and the channel without the source that stays behind.
    const desk = fragmentOf(show, [device("foh")]);
    expect(desk.devices[0]!.routing).toEqual(show.devices[0]!.routing);
    const { source: _source, ...channel } = show.channels[0]!;
    expect(desk.channels).toEqual([channel]);
    expect(desk.mixes).toEqual(show.mixes);
  });

  test("[B11] all of a show is all of its rig", () => {
    const rigged = demo();
    const fragment = fragmentOf(rigged, all(rigged));
    for (const list of ["devices", "cables", "sources", "channels", "mixes", "wants"] as const) {
      expect(fragment[list], list).toEqual(rigged[list]);
    }
  });
});

describe("reading", () => {
  test("[B12] what was written is read", () => {
    const fragment = fragmentOf(show, all(show));
    expect(read(fragmentText(fragment))).toEqual(fragment);
  });

  const text = (change: (fragment: Record<string, unknown>) => object): string =>
    JSON.stringify(change(JSON.parse(fragmentText(fragmentOf(show, all(show)))) as Record<string, unknown>));

  test.each([
    ["a text", "Kick drum", "The clipboard holds no part of a rig."],
    ["a number", "12", "The clipboard holds no part of a rig."],
    ["null", "null", "The clipboard holds no part of a rig."],
    ["a show", saveShow(demo()), "The clipboard holds no part of a rig."],
    [
      "a newer one",
      text((old) => ({ ...old, version: 2 })),
      "The part of a rig in the clipboard was copied from a newer Hopline.",
    ],
    [
      "no version",
      text(({ version: _version, ...rest }) => rest),
      "The part of a rig in the clipboard can’t be read: version must be 1.",
    ],
    [
      "a field that isn't known",
      text((old) => ({ ...old, settings: {} })),
      "The part of a rig in the clipboard can’t be read: settings is not a field that Hopline knows.",
    ],
    [
      "a list missing",
      text(({ cables: _cables, ...rest }) => rest),
      "The part of a rig in the clipboard can’t be read: cables is missing.",
    ],
    [
      "a device that is none",
      text((old) => ({ ...old, devices: [7] })),
      "The part of a rig in the clipboard can’t be read: devices[0] must be an object.",
    ],
    [
      "two of one id",
      text((old) => ({ ...old, mixes: [show.mixes[0], show.mixes[0]] })),
      'The part of a rig in the clipboard can’t be read: mixes[1].id "wedge" stands there twice.',
    ],
    [
      "no device",
      text((old) => ({ ...old, devices: [] })),
      "The part of a rig in the clipboard has no device.",
    ],
    [
      "too much",
      " ".repeat(MOST_FRAGMENT_CHARACTERS + 1),
      "The clipboard holds more than 5 million characters, more than a part of a rig has.",
    ],
    [
      "a key that would change objects",
      fragmentText(fragmentOf(show, all(show))).replace('"devices":[{', '"devices":[{"__proto__":{},'),
      "The part of a rig in the clipboard can’t be read: devices[0].__proto__ is not a field that Hopline knows.",
    ],
  ])("[B12] %s is refused in one line", (_, clipboard, says) => {
    expect(error(clipboard)).toBe(says);
  });

  test("[B12] more terminals than can be worked out are refused", () => {
    const fragment = fragmentOf(show, [device("box")]);
    const many = Array.from({ length: 5000 }, (_, n) => ({ ...fragment.devices[0]!, id: `box${n}` }));
    const type = catalogueType("box-16-8");
    const banks = Array.from({ length: 60 }, (_, n) => ({ ...type.banks[0]!, id: `in${n}` }));
    const large = { format: "hopline.fragment", version: 1, ...fragment, sources: [], wants: [], groups: [] };
    const says = error(JSON.stringify({ ...large, devices: many, types: [{ ...type, banks }] }));
    // 60 banks of 16, and slots besides, 5,000 times.
    expect(says).toMatch(/^The part of a rig in the clipboard can’t be read: devices the jacks, slots/);
  });
});

describe("pasting", () => {
  test("[B13] in a blank show: the same rig, and the same findings", () => {
    const rigged = demo();
    const copy = paste(blank(), read(fragmentText(fragmentOf(rigged, all(rigged)))));
    expect(copy.devices.map(({ name }) => name)).toEqual(rigged.devices.map(({ name }) => name));
    expect(copy.cables.map(({ tag }) => tag)).toEqual(rigged.cables.map(({ tag }) => tag));
    expect(copy.types).toEqual(rigged.types);
    const titles = (of: Show): readonly string[] => analyse(of).findings.map(({ title }) => title);
    const settings = { ...copy, settings: rigged.settings };
    expect(titles(settings)).toEqual(titles(rigged));
    expect(loadShow(saveShow(copy)).ok).toBe(true);
  });

  test("[B13] in the same show: every record anew, names made free, types and places used again", () => {
    const copy = paste(show, read(fragmentText(fragmentOf(show, all(show)))));
    expect(copy.devices.map(({ name }) => name)).toEqual([
      "FOH",
      "Box",
      "Wedge 3",
      "FOH 2",
      "Box 2",
      "Wedge 4",
    ]);
    expect(copy.cables.map(({ tag }) => tag)).toEqual(["L1", "X1", "L2", "X2"]);
    expect(copy.sources.map(({ name, preampOwner }) => [name, preampOwner])).toEqual([
      ["Kick", "foh"],
      ["Kick 2", "foh-2"],
    ]);
    expect(copy.channels[1]).toMatchObject({ console: "foh-2", source: copy.sources[1]!.id });
    expect(copy.wants[1]).toMatchObject({ to: { device: "wedge-4" }, from: { device: "foh-2" } });
    expect(copy.types).toEqual(show.types);
    expect(copy.places).toHaveLength(1);
    expect(found(copy, "dangling")).toEqual([]);
    expect(found(copy, "labels")).toEqual([]);
    // What was there stays the same objects.
    show.devices.forEach((one, n) => expect(copy.devices[n]).toBe(one));
    const rects = [...rectsOf(copy)];
    const fresh = rects.slice(3);
    for (const [, a] of fresh) for (const [, b] of rects.slice(0, 3)) expect(overlap(a, b)).toBe(false);
  });

  test("[B13] after a cut everything is where it was", () => {
    const fragment = fragmentOf(show, all(show));
    const cut = after(show, withoutDevices(show, all(show)));
    const back = paste(cut, fragment);
    expect(back.devices.map(({ at, place }) => [at, place])).toEqual(
      show.devices.map(({ at, place }) => [at, place]),
    );
    expect(back.devices.map(({ name }) => name)).toEqual(["FOH", "Box", "Wedge 3"]);
  });

  test("[B13] a type that only shares an id comes along under a new one", () => {
    const other = { ...blank(), types: [{ ...catalogueType("wedge"), name: "Ours" }] };
    const copy = paste(other, fragmentOf(show, [device("wedge")]));
    expect(copy.types.map(({ id, name }) => [id, name])).toEqual([
      ["wedge", "Ours"],
      ["wedge-2", "Powered wedge"],
    ]);
    expect(copy.devices[0]!.type).toBe("wedge-2");
  });

  test("[B13] its middle comes to stand where it is asked for", () => {
    const copy = paste(show, fragmentOf(show, [device("wedge")]), { x: 5000, y: 6000 });
    const rect = rectsOf(copy).get(copy.devices.at(-1)!.id)!;
    expect(Math.abs(rect.x + rect.width / 2 - 5000)).toBeLessThanOrEqual(5);
    expect(Math.abs(rect.y + rect.height / 2 - 6000)).toBeLessThanOrEqual(5);
  });

  test("[B13] more than a file may hold is refused", () => {
    const fragment = fragmentOf(show, [device("wedge")]);
    const many = Array.from({ length: 5000 }, (_, n) => ({ ...show.devices[2]!, id: `w${n}` as DeviceId }));
    const result = pasted({ ...show, devices: many, wants: [], cables: [] }, fragment);
    expect(result).toEqual({ ok: false, error: "With this the show would have more than 5000 devices." });
  });
});

describe("duplicating", () => {
  test("[B14] is copying and pasting in one", () => {
    const twice = duplicated(show, [device("box")]);
    if (!twice.ok) throw new Error(twice.error);
    const copy = after(show, twice.value.edits);
    expect(twice.value.devices).toEqual(["box-2"]);
    expect(copy.devices.at(-1)).toMatchObject({ name: "Box 2", place: "stage", mode: "one" });
    expect(copy).toEqual(paste(show, fragmentOf(show, [device("box")])));
  });
});
