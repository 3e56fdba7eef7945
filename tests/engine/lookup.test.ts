/** Finding a jack or a source by what a person types, and what is offered where nothing fits. */
import { describe, expect, test } from "vitest";
import { lookUpGroups, lookUpSource, lookUpTerminal, nearest } from "#engine/trace/lookup.ts";
import { compile } from "#engine/wiring/compile.ts";
import { rig } from "./rigs/build.ts";
import { Bench } from "./tell.ts";

const SHOW = rig({
  devices: {
    left: { name: "Stage left", type: "box-16-8", mode: "one" },
    right: { name: "Stage right", type: "box-16-8", mode: "one" },
  },
  sources: ["Kick: left.in.1", "Snare top: left.in.2"],
  wants: [
    "Drum wedge: left.out.3",
    "Drum  WEDGE: left.out.4",
    "Stage right Out 5: left.out.5",
    "Nowhere wedge: gone.out.1",
  ],
});
const bench = new Bench({ show: SHOW });
const { wiring } = bench;

const found = (name: string): number | readonly string[] => {
  const result = lookUpTerminal(wiring, name);
  return result.ok ? result.value : result.error.nearest;
};

describe("a jack by its name", () => {
  test.each([
    "Stage left Out 8",
    "stage LEFT out 8",
    "  Stage left · Out 8 ",
    "Stage left: Out/8",
    "Stage.left.Out.8",
  ])("“%s”: case, spacing and the dots between don't matter", (name) =>
    expect(found(name)).toBe(bench.at("Stage left Out 8")),
  );

  test("the first and the last terminal of the rig are found too", () => {
    expect(found("Stage left In 1")).toBe(bench.at("Stage left In 1"));
    expect(found("Stage right Monitor bus 16")).toBe(wiring.size - 1);
  });

  test("a want's name means its jack, the first of two; a jack's own name goes before", () => {
    expect(found("drum wedge")).toBe(bench.at("Stage left Out 3"));
    expect(found("Stage right Out 5")).toBe(bench.at("Stage right Out 5"));
  });

  test("of two devices with one name the first is meant", () => {
    const twins = rig({
      devices: {
        one: { name: "Box", type: "box-16-8", mode: "one" },
        two: { name: "Box", type: "box-16-8", mode: "one" },
      },
    });
    expect(lookUpTerminal(compile(twins), "Box In 1")).toEqual({ ok: true, value: 0 });
  });

  test("what isn't there is told with what was typed and the nearest names as they are written", () => {
    expect(lookUpTerminal(wiring, "Drum wedg")).toMatchObject({
      ok: false,
      error: { wanted: "Drum wedg", nearest: ["Drum wedge"] },
    });
    // A want for a jack that isn't there leads nowhere, so it isn't offered.
    expect(found("Nowhere wedge")).toEqual(["Drum wedge"]);
  });
});

describe("a source by its name", () => {
  test("its place in the show, whatever the case", () => {
    expect(lookUpSource(wiring, "kick")).toEqual({ ok: true, value: 0 });
    expect(lookUpSource(wiring, "SNARE  top")).toEqual({ ok: true, value: 1 });
  });

  test("what isn't there, with the nearest", () => {
    expect(lookUpSource(wiring, "Snare tip")).toEqual({
      ok: false,
      error: { wanted: "Snare tip", nearest: ["Snare top"] },
    });
  });
});

describe("arrival groups by their name", () => {
  const show = rig({
    devices: { left: { name: "Stage left", type: "box-16-8", mode: "one" } },
    groups: ["Mains: left.out.1, left.out.2", "Fills: left.out.3", "Delays: left.out.4"],
  });
  const [mains, fills, delays] = show.groups!;
  // Two called alike, and one whose name is another's id.
  const all = [mains!, fills!, { ...delays!, name: "FILLS" }, { ...delays!, id: mains!.id, name: "delays" }];
  const ids = (name: string): readonly string[] | null => {
    const result = lookUpGroups({ ...show, groups: all }, name);
    return result.ok ? result.value.map((group) => `${group.name} ${group.id}`) : null;
  };

  test("all of the name, whatever the case", () => {
    expect(ids("mains")).toEqual(["Mains mains"]);
    expect(ids(" fills")).toEqual(["Fills fills", "FILLS delays"]);
  });

  test("a name goes before an id; by its id one is found whose name several have", () => {
    expect(ids("delays")).toEqual(["delays mains"]);
    const renamed = { ...show, groups: [{ ...mains!, name: "Fills" }, fills!] };
    expect(lookUpGroups(renamed, "mains")).toEqual({ ok: true, value: [renamed.groups[0]] });
  });

  test("what isn't there, with the nearest; a show without groups has none near", () => {
    expect(lookUpGroups(show, "Main")).toEqual({ ok: false, error: { wanted: "Main", nearest: ["Mains"] } });
    const { groups: _groups, ...none } = show;
    expect(lookUpGroups(none, "Main")).toEqual({ ok: false, error: { wanted: "Main", nearest: [] } });
  });
});

/**
 * Dice's coefficient over pairs of letters, the word's two ends counting as letters: 2 × common / (pairs + pairs). The
 * shares beside the names are counted by hand.
 */
describe("the nearest names", () => {
  test("most alike first, three at most", () => {
    // “ab” has the pairs _a ab b_.
    expect(nearest("ab", ["xyz", "a" /* 2/5 */, "abcd" /* 4/8 */, "ab" /* 1 */, "abc" /* 4/7 */])).toEqual([
      "ab",
      "abc",
      "abcd",
    ]);
  });

  test("a share of three tenths is too little, a little more is enough", () => {
    // Three pairs in common, _a ab bc: of 10 + 10 that is 6/20, of 10 + 9 it is 6/19.
    expect(nearest("abcdefghi", ["abcuvwxyz"])).toEqual([]);
    expect(nearest("abcdefghi", ["abcuvwxy"])).toEqual(["abcuvwxy"]);
  });

  test("a pair that comes more often counts as often as both have it", () => {
    // “aaa”: _a aa aa a_. With “aaaa” 8/9, with “aa” 6/7, with “aaaaaaaa” 8/13.
    expect(nearest("aaa", ["aaaaaaaa", "aa", "aaaa"])).toEqual(["aaaa", "aa", "aaaaaaaa"]);
  });

  test("a pair that only one of them has many of counts against it each time", () => {
    // “ab” has 3 pairs, all of them among those of “abb…b”, which has bb as often as it has a b more than one.
    expect(nearest("ab", [`a${"b".repeat(15)}`])).toEqual([]); // 6 / (3 + 17)
    expect(nearest("ab", [`a${"b".repeat(14)}`])).toHaveLength(1); // 6 / (3 + 16)
  });

  test("names are compared whatever their case and kept as they are written", () => {
    expect(nearest("kick", ["KICK · In"])).toEqual(["KICK · In"]);
    expect(nearest("kick", ["zzz"])).toEqual([]);
  });
});
