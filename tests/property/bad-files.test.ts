/**
 * 20,000 bad files and more: each is loaded whole or refused with a code, a path and one plain line, and what loads can be
 * analysed, traced and saved. The seeds stand in the titles, those that once failed are kept; a failure tells its own.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { jsonFault } from "#engine/exchange/json-fault.ts";
import {
  absurd,
  findingsOf,
  judge,
  LARGE,
  prototypes,
  SMALL,
  spoiltText,
  spoiltTree,
  type Json,
  type Judged,
} from "./bad-files.ts";
import { Dice } from "./random-rig.ts";

type Spoil = (text: string, dice: Dice) => string;

/** Seeds that once failed, by the way of spoiling; why stands beside them. */
const FAILED_ONCE: Readonly<Record<string, readonly number[]>> = {
  // A mix of a console whose type the show doesn't have.
  tree: [102_425, 106_051],
};

/** The fields of a show. */
const TOP = [...new Set(SMALL.flatMap((text) => Object.keys(JSON.parse(text) as object)))];

const before = prototypes();
const outcomes = new Map<string, number>();
let files = 0;
let dangling = 0;

function count({ outcome, dangling: lost }: Judged): void {
  files++;
  if (lost > 0) dangling++;
  outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
}

/** A line for each thing that is wrong with the files of these seeds. */
function wrongIn(corpus: readonly string[], spoil: Spoil, seeds: readonly number[]): string[] {
  return seeds.flatMap((seed) => {
    const dice = new Dice(seed);
    const judged = judge(spoil(dice.pick(corpus), dice), dice);
    count(judged);
    const changed = prototypes() === before ? [] : ["a prototype was changed"];
    return [...judged.wrong, ...changed].map((line) => `seed ${seed}: ${line}`);
  });
}

const range = (first: number, many: number): readonly number[] =>
  Array.from({ length: many }, (_, n) => first + n);

/** `many` files in tests of at most `batch`, the first seed a number of its own for each way of spoiling. */
const batches = (first: number, many: number, batch: number): readonly { from: number; to: number }[] =>
  range(0, Math.ceil(many / batch)).map((n) => ({
    from: first + n * batch,
    to: Math.min(first + (n + 1) * batch, first + many) - 1,
  }));

function spoils(
  name: string,
  corpus: readonly string[],
  spoil: Spoil,
  first: number,
  many: number,
  batch: number,
): void {
  describe(name, () => {
    const kept = FAILED_ONCE[name] ?? [];
    if (kept.length > 0) {
      test(`[X2] [X3] the files that once failed; seeds ${kept.join(", ")}`, () => {
        expect(wrongIn(corpus, spoil, kept).slice(0, 10)).toEqual([]);
      });
    }
    test.each(batches(first, many, batch))("[X2] [X3] [X5] seeds $from to $to", ({ from, to }) => {
      expect(wrongIn(corpus, spoil, range(from, to - from + 1)).slice(0, 10)).toEqual([]);
    });
  });
}

spoils("text", SMALL, spoiltText, 1, 7700, 1540);
spoils("tree", SMALL, spoiltTree, 100_001, 8500, 1700);
spoils("absurd", SMALL, absurd, 200_001, 1200, 400);
spoils("text of the demo", LARGE, spoiltText, 300_001, 200, 100);
spoils("tree of the demo", LARGE, spoiltTree, 400_001, 100, 50);

/** Texts that fast-check makes up: JSON of any shape, under the format's own name, and texts that aren't JSON. */
describe("made up", () => {
  const dice = (): Dice => new Dice(1);
  const key = fc.oneof(
    fc.constantFrom(
      "__proto__",
      "constructor",
      "prototype",
      "toString",
      "devices",
      "types",
      "cables",
      "id",
      "version",
    ),
    fc.string({ unit: "binary", maxLength: 8 }),
  );
  const value = fc.jsonValue({ maxDepth: 6, stringUnit: "binary" });
  const anything = fc
    .dictionary(key, value, { maxKeys: 12, noNullPrototype: true })
    .map((fields) => JSON.stringify({ ...fields, format: "hopline.show", version: 1 }));
  /** A good show with any values under its own names. */
  const shaped = fc
    .tuple(fc.nat(SMALL.length - 1), fc.dictionary(fc.constantFrom(...TOP), value, { maxKeys: 3 }))
    .map(([n, fields]) => JSON.stringify({ ...(JSON.parse(SMALL[n]!) as object), ...fields }));
  const versions = fc
    .tuple(
      fc.oneof(fc.constantFrom("hopline.show", "Hopline.Show", "hopline", "", null), fc.jsonValue()),
      fc.oneof(fc.integer(), fc.double(), fc.constantFrom("1", null, true, [1], {}, 1e9, -1, 1.5, 0)),
    )
    .map(([format, version]) => JSON.stringify({ format, version }));

  const holds = (texts: fc.Arbitrary<string>, numRuns: number, seed: number): void => {
    fc.assert(
      fc.property(texts, (text) => {
        const judged = judge(text, dice());
        count(judged);
        expect(judged.wrong).toEqual([]);
        expect(prototypes()).toBe(before);
      }),
      { numRuns, seed },
    );
  };

  test("[X2] [X3] any text; seed 11", () => holds(fc.string({ unit: "binary", maxLength: 200 }), 600, 11));
  test("[X2] [X3] any JSON; seed 12", () => holds(fc.json({ maxDepth: 8, stringUnit: "binary" }), 600, 12));
  test("[X2] [X3] any fields in a show; seed 13", () => holds(anything, 600, 13));
  test("[X2] [X3] any value for a list of a show; seed 14", () => holds(shaped, 600, 14));
  test("[X2] [X3] any format and version; seed 15", () => holds(versions, 600, 15));
});

/** Every reference of a show led to nothing, one at a time. */
describe("references", () => {
  type Loose = { [key: string]: Json };
  const list = (show: Loose, name: string): Loose[] => (show[name] ?? []) as Loose[];
  const at = (record: Loose, key: string): Loose => record[key] as Loose;

  /** Each reference of F14, by the record that holds it. */
  const REFERENCES: readonly (readonly [
    what: string,
    holders: (show: Loose) => readonly Loose[],
    key: string,
  ])[] = [
    ["a device's type", (show) => list(show, "devices"), "type"],
    ["a device's mode", (show) => list(show, "devices"), "mode"],
    ["a device's place", (show) => list(show, "devices"), "place"],
    ["a cable's device", (show) => list(show, "cables").flatMap((cable) => list(cable, "ends")), "device"],
    ["a cable's group", (show) => list(show, "cables").flatMap((cable) => list(cable, "ends")), "group"],
    ["a source's device", (show) => list(show, "sources").map((source) => at(source, "at")), "device"],
    ["a source's group", (show) => list(show, "sources").map((source) => at(source, "at")), "group"],
    ["a source's jack", (show) => list(show, "sources").map((source) => at(source, "at")), "number"],
    [
      "a preamp's owner",
      (show) => list(show, "sources").filter((source) => "preampOwner" in source),
      "preampOwner",
    ],
    ["a channel's console", (show) => list(show, "channels"), "console"],
    ["a channel's section", (show) => list(show, "channels"), "group"],
    ["a channel's number", (show) => list(show, "channels"), "number"],
    [
      "a channel's source",
      (show) => list(show, "channels").filter((channel) => "source" in channel),
      "source",
    ],
    ["a mix's console", (show) => list(show, "mixes"), "console"],
    ["a mix's section", (show) => list(show, "mixes"), "group"],
    ["a mix's bus", (show) => list(show, "mixes"), "first"],
    ["a member's section", (show) => list(show, "mixes").flatMap((mix) => list(mix, "members")), "group"],
    ["a member's number", (show) => list(show, "mixes").flatMap((mix) => list(mix, "members")), "number"],
    ["a want's device", (show) => list(show, "wants").map((want) => at(want, "to")), "device"],
    ["a want's jack", (show) => list(show, "wants").map((want) => at(want, "to")), "number"],
    [
      "a want's origin",
      (show) => list(show, "wants").flatMap((want) => (want["from"] ? [at(want, "from")] : [])),
      "device",
    ],
    ["a stream's sender", (show) => list(show, "streams").map((stream) => at(stream, "from")), "device"],
    ["a stream's port", (show) => list(show, "streams").map((stream) => at(stream, "from")), "group"],
    [
      "a stream's receiver",
      (show) => list(show, "streams").flatMap((stream) => list(stream, "to")),
      "device",
    ],
  ];
  const corpus = [...SMALL.filter((text, n) => n % 3 === 0 || text.includes('"streams"')), LARGE[0]!];

  test.each(REFERENCES.map(([what, holders, key]) => ({ what, holders, key })))(
    "[X5] [F14] $what that leads to nothing is kept, and a finding tells of it",
    ({ holders, key }) => {
      let tried = 0;
      const wrong = corpus.flatMap((text, n) => {
        const dice = new Dice(n + 1);
        const show = JSON.parse(text) as Loose;
        const all = holders(show);
        if (all.length === 0) return [];
        tried++;
        const before = findingsOf(text).length;
        const holder = dice.pick(all);
        // The second bus of a stereo mix is told, where it is that which doesn't exist.
        const names = typeof holder[key] === "number" ? /409[67]/ : /nowhere-at-all/;
        holder[key] = typeof holder[key] === "number" ? 4096 : "nowhere-at-all";
        const spoilt = JSON.stringify(show);
        const judged = judge(spoilt, dice);
        count(judged);
        const told = findingsOf(spoilt).filter((line) => names.test(line));
        // What points into a device whose type is gone is told once, for the device.
        const hidden = (key === "number" || key === "first" || key === "group") && before > 0;
        return [...judged.wrong, ...(told.length > 0 || hidden ? [] : ["no finding tells of it"])].map(
          (line) => `${String(show["title"])} (${n}): ${line}`,
        );
      });
      expect(wrong.slice(0, 10)).toEqual([]);
      expect(tried).toBeGreaterThan(0);
    },
  );
});

describe("where a text stops being JSON", () => {
  test("[X2] there is a place exactly where the parser refuses it; seeds 500001 to 501500", () => {
    const parses = (text: string): boolean => {
      try {
        JSON.parse(text);
        return true;
      } catch {
        return false;
      }
    };
    const wrong = range(500_001, 1500).flatMap((seed) => {
      const dice = new Dice(seed);
      const text = spoiltText(dice.pick(SMALL), dice);
      const fault = jsonFault(text);
      if (parses(text) !== (fault === null)) return [`seed ${seed}: ${JSON.stringify(fault)}`];
      if (!fault) return [];
      const lines = text.split("\n");
      const there = fault.line <= lines.length && fault.column <= lines[fault.line - 1]!.length + 1;
      if (!there) return [`seed ${seed}: line ${fault.line}, column ${fault.column} isn't there`];
      // What stands before the place can still be made JSON: the parser, too, gets that far and no further.
      const at =
        lines.slice(0, fault.line - 1).join("\n").length + (fault.line > 1 ? 1 : 0) + fault.column - 1;
      return parses(text.slice(0, at + 1)) ? [`seed ${seed}: there is JSON up to the place`] : [];
    });
    expect(wrong.slice(0, 10)).toEqual([]);
  });
});

// Last, since it looks back on all of the above.
describe("the fuzz itself", () => {
  test("tries 20,000 files, and they end in every way there is", () => {
    expect(files).toBeGreaterThanOrEqual(20_000);
    const rare = ["loaded", "not-json", "hostile", "not-a-show", "newer", "invalid"].filter(
      (outcome) => (outcomes.get(outcome) ?? 0) < (outcome === "newer" ? 20 : 200),
    );
    expect(rare, JSON.stringify(Object.fromEntries(outcomes))).toEqual([]);
    // Those that load are the ones that the engine has to live with.
    expect(outcomes.get("loaded")).toBeGreaterThan(3000);
    expect(dangling).toBeGreaterThan(500);
  });
});
