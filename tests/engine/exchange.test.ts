/** Files: what is written, what is read, and what is refused with a place and a reason. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { loadShow, MOST_CHARACTERS, MOST_DEPTH, MOST_ITEMS } from "#engine/exchange/load.ts";
import { migrate } from "#engine/exchange/migrate.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { id } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { SHOW_VERSION } from "#engine/model/show.ts";
import { ms } from "#engine/model/units.ts";
import * as rigs from "./rigs/index.ts";

const GOOD = rigs.R33.show;

/** A parsed file that a test may spoil. */
type Loose = Record<string, unknown>;
const parsed = (): Loose => JSON.parse(saveShow(GOOD)) as Loose;

/** What loading a file says: `code` and the one line. */
function refusal(text: string): string {
  const result = loadShow(text);
  return result.ok ? "loaded" : `${result.error.code}: ${result.error.message}`;
}

const spoiled = (spoil: (file: Loose) => void): string => {
  const file = parsed();
  spoil(file);
  return refusal(JSON.stringify(file));
};

/** `list(file, "devices")[0]`: a record of a list, to spoil. */
const list = (file: Loose, name: string): Loose[] => file[name] as Loose[];

describe("saving and loading", () => {
  test("[X1] a show saved and loaded is the same show", () => {
    for (const [name, { show }] of rigs.RIGS) {
      const text = saveShow(show);
      const loaded = loadShow(text);
      expect(loaded, name).toEqual({ ok: true, value: show });
      // Saving what was loaded gives the same bytes.
      expect(loaded.ok && saveShow(loaded.value), name).toBe(text);
    }
  });

  test("[X1] gains, trims, limits and arrival groups come back as they were", () => {
    const [source] = GOOD.sources;
    const [mix] = GOOD.mixes;
    const at = { device: mix!.console, group: mix!.group, number: 1 };
    const show: Show = {
      ...GOOD,
      settings: { ...GOOD.settings, latencyLimit: ms(12.5), temperature: -5 },
      types: GOOD.types.map((type) =>
        type.mixer
          ? {
              ...type,
              mixer: {
                ...type.mixer,
                sections: type.mixer.sections.map((section) => ({
                  ...section,
                  trim: { from: -18, to: 18, provenance: "assumed" as const },
                })),
              },
            }
          : type,
      ),
      sources: [{ ...source!, gain: 34.5 }],
      channels: [
        {
          id: id("c1"),
          console: mix!.console,
          group: id("ch"),
          number: 1,
          name: "",
          source: source!.id,
          trim: -6,
          follows: true,
        },
      ],
      wants: [{ id: id("w1"), name: "Wedge", to: at, limit: ms(8) }],
      groups: [
        { id: id("g1"), name: "Mains", members: [at, { ...at, number: 2 }], within: ms(0.25) },
        { id: id("g2"), name: "Empty", members: [] },
      ],
    };
    expect(loadShow(saveShow(show))).toEqual({ ok: true, value: show });
  });

  test("[X1] one record stands on one line, and the file ends with a line break", () => {
    const lines = saveShow(rigs.R40.show).split("\n");
    expect(lines.at(-1)).toBe("");
    expect(lines[0]).toBe("{");
    expect(lines[1]).toBe('  "format": "hopline.show",');
    expect(lines.filter((line) => line.includes('"X1"'))).toEqual([
      '    {"id":"X1","kind":"line","tag":"X1","ways":1,"ends":[{"device":"house","group":"out","first":1},{"device":"house","group":"in","first":1}]}',
    ]);
    expect(lines).toContain('  "wants": [],');
  });

  test("[X1] any text, number and list that the schema allows comes back as it was; seed 1", () => {
    const name = fc.string({ unit: "binary", minLength: 1, maxLength: 40 });
    // JSON has no negative zero, and nothing on the canvas needs one.
    const number = fc
      .double({ min: -1e6, max: 1e6, noNaN: true })
      .map((value) => (Object.is(value, -0) ? 0 : value));
    const key = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,20}$/);
    const places = fc.uniqueArray(
      fc.record({
        id: key,
        name,
        at: fc.record({ x: number, y: number }),
        size: fc.record({
          width: fc.double({ min: 1, max: 1e6, noNaN: true }),
          height: fc.double({ min: 1, max: 1e6, noNaN: true }),
        }),
      }),
      { selector: ({ id }) => id, maxLength: 6 },
    );
    const lineChecks = fc.array(
      fc.record({
        at: fc.record({ device: key, group: key, number: fc.integer({ min: 1, max: 4096 }) }),
        result: fc.constantFrom("passed", "failed"),
        date: fc.string({ unit: "binary", maxLength: 20 }),
        note: fc.string({ unit: "binary", maxLength: 100 }),
        trace: fc.string({ unit: "binary", maxLength: 100 }),
      }),
      { maxLength: 6 },
    );
    const show = fc
      .record({
        title: name,
        venue: fc.string({ unit: "binary", maxLength: 100 }),
        notes: name,
        places,
        lineChecks,
      })
      .map((parts) => ({ ...GOOD, ...parts }) as unknown as Show);
    fc.assert(
      fc.property(show, (value) => {
        expect(loadShow(saveShow(value))).toEqual({ ok: true, value });
      }),
      { numRuns: 200, seed: 1 },
    );
  });
});

describe("refusals", () => {
  const bomb = (depth: number): unknown => {
    let value: unknown = 1;
    for (let n = 0; n < depth; n++) value = [value];
    return value;
  };

  test.each<readonly [what: string, text: () => string, told: string]>([
    ["an empty file", () => " \n", "not-json: the file is not JSON: it is empty"],
    [
      "a slip of the pen",
      () => '{\n  "format": "hopline.show",\n  oops\n}',
      "not-json: the file is not JSON: the name of a field, in double quotes, is missing (line 3, column 3)",
    ],
    ["a list", () => "[]", 'not-a-show: the file is JSON but not a show: its "format" is not "hopline.show"'],
    ["null", () => "null", 'not-a-show: the file is JSON but not a show: its "format" is not "hopline.show"'],
    [
      "another format",
      () => JSON.stringify({ ...parsed(), format: "other.show" }),
      'not-a-show: the file is JSON but not a show: its "format" is not "hopline.show"',
    ],
    [
      "a version that isn't a whole number",
      () => JSON.stringify({ ...parsed(), version: "1" }),
      "not-a-show: version: a whole number from 1 on is needed",
    ],
    [
      "version 0",
      () => JSON.stringify({ ...parsed(), version: 0 }),
      "not-a-show: version: a whole number from 1 on is needed",
    ],
    [
      "a newer version",
      () => JSON.stringify({ ...parsed(), version: SHOW_VERSION + 1 }),
      "newer: version: the file was written by a newer Hopline (file version 2; this one reads up to 1)",
    ],
    [
      "a file too large to be a show",
      () => " ".repeat(MOST_CHARACTERS + 1),
      "hostile: the file is larger than 50 million characters, more than any show needs",
    ],
    [
      "lists within lists, as deep as they come",
      () => `[${"[".repeat(500_000)}${"]".repeat(500_000)}]`,
      'not-a-show: the file is JSON but not a show: its "format" is not "hopline.show"',
    ],
  ])("[X2] [X3] %s is refused with a code and one line", (_what, text, told) => {
    expect(refusal(text())).toBe(told);
  });

  test.each<readonly [what: string, spoil: (file: Loose) => void, told: string]>([
    ["a missing list", (file) => delete file["cables"], "invalid: cables: is missing"],
    [
      "a field that nobody knows",
      (file) => (file["colour"] = "red"),
      "invalid: colour: is not a field that Hopline knows",
    ],
    ["a text for a list", (file) => (file["devices"] = "none"), "invalid: devices: must be an array"],
    ["a title that isn't a text", (file) => (file["title"] = 7), "invalid: title: must be a string"],
    [
      "an empty title",
      (file) => (file["title"] = ""),
      "invalid: title: is empty, too long, or has characters that don't belong here",
    ],
    [
      "an id with a space",
      (file) => (list(file, "devices")[1]!["id"] = "box a"),
      "invalid: devices[1].id: is empty, too long, or has characters that don't belong here",
    ],
    [
      "a sample rate that no show runs at",
      (file) => ((file["settings"] as Loose)["sampleRate"] = 47999),
      "invalid: settings.sampleRate: must be one of 44100, 48000, 88200, 96000, 176400, 192000",
    ],
    [
      "a setting of no slots",
      (file) => (((list(file, "devices")[3]!["routing"] as Loose[])[0] as Loose)["count"] = 0),
      "invalid: devices[3].routing[0].count: must be >= 1",
    ],
    [
      "a setting of more slots than anything has",
      (file) => (((list(file, "devices")[3]!["routing"] as Loose[])[0] as Loose)["count"] = 1e9),
      "invalid: devices[3].routing[0].count: must be <= 4096",
    ],
    [
      "a count that isn't whole",
      (file) => (list(file, "cables")[0]!["ways"] = 1.5),
      "invalid: cables[0].ways: must be an integer",
    ],
    [
      "a kind of cable that isn't one",
      (file) => (list(file, "cables")[0]!["kind"] = "string"),
      "invalid: cables[0].kind: must be one of cat5e, cat5e-shielded, coax-75, fibre, digital-110, microphone, multicore, loudspeaker, line",
    ],
    [
      "a cable with three ends",
      (file) => (list(file, "cables")[0]!["ends"] as unknown[]).push({ device: "x", group: "y", first: 1 }),
      "invalid: cables[0].ends: must have at most 2 entries",
    ],
    [
      "a cable with one end",
      (file) => (list(file, "cables")[0]!["ends"] as unknown[]).pop(),
      "invalid: cables[0].ends: must have at least 2 entries",
    ],
    [
      "a rule of an unknown kind",
      (file) => ((list(file, "types")[0]!["rules"] as Loose[])[0]!["kind"] = "magic"),
      "invalid: types[0].rules[0]: has a kind that Hopline doesn't know",
    ],
    [
      "a type without a mode",
      (file) => (list(file, "types")[0]!["modes"] = []),
      "invalid: types[0].modes: must have at least 1 entries",
    ],
    [
      "two devices with one id",
      (file) => (list(file, "devices")[2]!["id"] = "split"),
      'invalid: devices[2].id: "split" stands there twice',
    ],
    [
      "two cables with one id",
      (file) => (list(file, "cables")[3]!["id"] = "M1"),
      'invalid: cables[3].id: "M1" stands there twice',
    ],
    [
      "two groups of one type with one id",
      (file) => ((list(file, "types")[0]!["banks"] as Loose[])[1]!["id"] = "in"),
      'invalid: types[0]: two groups have the id "in"',
    ],
    [
      "two modes of one type with one id",
      (file) => {
        const modes = list(file, "types")[0]!["modes"] as Loose[];
        modes.push({ ...modes[0] });
      },
      'invalid: types[0]: two modes have the id "normal"',
    ],
    [
      "two streams with one id",
      (file) => {
        const end = { device: "split", group: "in", first: 1 };
        const stream = { id: "s1", name: "", from: end, channels: 1, packetTime: 1, to: [] };
        file["streams"] = [stream, stream];
      },
      'invalid: streams[1].id: "s1" stands there twice',
    ],
    [
      "two arrival groups with one id",
      (file) => {
        const group = { id: "g1", name: "Mains", members: [] };
        file["groups"] = [group, group];
      },
      'invalid: groups[1].id: "g1" stands there twice',
    ],
    [
      "a limit in the past",
      (file) => ((file["settings"] as Loose)["latencyLimit"] = -1),
      "invalid: settings.latencyLimit: must be >= 0",
    ],
    [
      "a trim that is no number",
      (file) => (list(file, "sources")[0]!["gain"] = "loud"),
      "invalid: sources[0].gain: must be a number",
    ],
    [
      "a key that reaches for the prototype",
      (file) =>
        Object.defineProperty(file["settings"], "__proto__", { value: { rate: 1 }, enumerable: true }),
      "hostile: settings.__proto__: a key of this name is refused",
    ],
    [
      "a constructor for a key",
      (file) => (list(file, "places")[0]!["constructor"] = {}),
      "hostile: places[0].constructor: a key of this name is refused",
    ],
    [
      "a prototype for a key",
      (file) => (file["prototype"] = 1),
      "hostile: prototype: a key of this name is refused",
    ],
    [
      "more than 64 levels",
      (file) => (file["notes"] = bomb(MOST_DEPTH + 5)),
      `hostile: notes${"[0]".repeat(25)}: nested deeper than 64 levels`,
    ],
    [
      "more entries than a show may have",
      (file) => (file["wants"] = Array.from({ length: MOST_ITEMS + 1 }, () => 1)),
      "hostile: wants: more than 200000 entries in all lists",
    ],
    [
      "more entries than a show may have, each list being within its own limit",
      (file) => {
        const member = { group: "ch", number: 1, tap: "pre" };
        const members = Array.from({ length: 4096 }, () => member);
        file["mixes"] = Array.from({ length: 50 }, (_, n) => ({
          ...list(file, "mixes")[0],
          id: `m${n}`,
          members,
        }));
      },
      "hostile: the file has more than 200000 entries in all lists",
    ],
  ])("[X2] [X3] %s is refused with its path", (_what, spoil, told) => {
    expect(spoiled((file) => void spoil(file))).toBe(told);
  });

  test("[X2] the path stands apart as well, for those who jump to it", () => {
    const file = parsed();
    ((list(file, "devices")[3]!["routing"] as Loose[])[0] as Loose)["count"] = 0;
    const result = loadShow(JSON.stringify(file));
    expect(result.ok ? null : [result.error.code, result.error.path]).toEqual([
      "invalid",
      "devices[3].routing[0].count",
    ]);
  });

  test.each<readonly [text: string, told: string]>([
    ["", "it is empty"],
    ['{"a": NaN}', "a value is missing, or written as JSON has none (line 1, column 7)"],
    ['{"a": tru', "the file ends too early (line 1, column 10)"],
    ['{"a": 1', "the file ends too early (line 1, column 8)"],
    ['{"a"', "the file ends too early (line 1, column 5)"],
    ['{"a" 1}', "a colon is missing after a field's name (line 1, column 6)"],
    ['{"a": 01}', "a number isn't written as JSON writes numbers (line 1, column 8)"],
    ['{"a": [1\n2]}', "a comma or a closing bracket is missing (line 2, column 1)"],
    ['{"a": 1]', "a comma or a closing brace is missing (line 1, column 8)"],
    ['{"a": 1,}', "the name of a field, in double quotes, is missing (line 1, column 9)"],
    ['{"a": "b', "a text has no closing quote (line 1, column 9)"],
    ['{"a": "\n"}', "a line break or control character stands inside a text (line 1, column 8)"],
    ['{"a": "\\x"}', "a backslash is followed by what JSON doesn't know (line 1, column 8)"],
    ["{}{}", "something stands after the end of the show (line 1, column 3)"],
  ])("[X2] what keeps a text from being JSON is told with its place: %j", (text, told) => {
    expect(refusal(text)).toBe(`not-json: the file is not JSON: ${told}`);
  });

  test("[X2] a key of the file's own can't break the line, turn it round or make it long", () => {
    const told = (key: string): string => spoiled((file) => (file[key] = 1));
    expect(told("a\nb\u001b[2Jc")).toBe("invalid: a b [2Jc: is not a field that Hopline knows");
    expect(told("a\u202eb\u2028c\ud800d")).toBe("invalid: a b c d: is not a field that Hopline knows");
    expect(told("y".repeat(100_000))).toBe(`invalid: ${"y".repeat(240)}…: is not a field that Hopline knows`);
  });

  test("[X2] a byte order mark before the file is passed over, a second one isn't", () => {
    expect(refusal(`\uFEFF${saveShow(GOOD)}`)).toBe("loaded");
    expect(refusal(`\uFEFF\uFEFF${saveShow(GOOD)}`)).toBe(
      "not-json: the file is not JSON: a value is missing, or written as JSON has none (line 1, column 1)",
    );
  });

  test("[X2] whatever is wrong is told in one line; seed 2", () => {
    const broken = fc.oneof(
      fc.string({ unit: "binary" }),
      fc.json(),
      // A good file with one character too few or another one in its place.
      fc.tuple(fc.nat(saveShow(GOOD).length - 1), fc.string({ maxLength: 2 })).map(([at, other]) => {
        const text = saveShow(GOOD);
        return text.slice(0, at) + other + text.slice(at + 1);
      }),
    );
    fc.assert(
      fc.property(broken, (text) => {
        const result = loadShow(text);
        if (result.ok) return;
        expect(result.error.message).not.toMatch(/[\n\r]/);
        expect(result.error.message.length).toBeLessThan(500);
      }),
      { numRuns: 500, seed: 2 },
    );
  });

  test("[X3] a refused key leaves no trace on other objects", () => {
    const text = saveShow(GOOD).replace('"settings": {', '"settings": {"__proto__":{"polluted":true},');
    expect(refusal(text)).toBe("hostile: settings.__proto__: a key of this name is refused");
    expect(({} as Loose)["polluted"]).toBeUndefined();
  });
});

describe("older versions", () => {
  test("[X4] each version is brought up by its own step, in order", () => {
    const steps = new Map([
      [
        1,
        (file: Readonly<Loose>): Loose => ({
          ...file,
          trail: [...((file["trail"] ?? []) as string[]), "1 to 2"],
        }),
      ],
      [
        2,
        (file: Readonly<Loose>): Loose => ({
          ...file,
          trail: [...(file["trail"] as string[]), "2 to 3"],
          old: undefined,
        }),
      ],
    ]);
    expect(migrate({ format: "hopline.show", version: 1, kept: true }, 1, 3, steps)).toEqual({
      format: "hopline.show",
      version: 3,
      kept: true,
      trail: ["1 to 2", "2 to 3"],
    });
    expect(migrate({ version: 2, trail: ["was"] }, 2, 3, steps)).toMatchObject({
      version: 3,
      trail: ["was", "2 to 3"],
    });
  });

  test("[X4] a file of today's version is left as it is, and a step that is missing is a bug", () => {
    const file = { version: SHOW_VERSION };
    expect(migrate(file, SHOW_VERSION)).toBe(file);
    expect(() => migrate({ version: 1 }, 1, 2, new Map())).toThrow("no migration from file version 1");
  });

  test("[X4] a step can't decide the version that it leads to", () => {
    const steps = new Map([[1, (): Loose => ({ version: 9 })]]);
    expect(migrate({ version: 1 }, 1, 2, steps)).toEqual({ version: 2 });
  });
});

describe("references", () => {
  test("[X5] a show that points at nothing loads, and its findings tell of it", () => {
    for (const rig of [rigs.R46, rigs.R55]) {
      const loaded = loadShow(saveShow(rig.show));
      expect(loaded).toEqual({ ok: true, value: rig.show });
      if (!loaded.ok) continue;
      const { findings } = analyse(loaded.value);
      expect(findings.filter(({ check }) => check === "dangling").length).toBeGreaterThan(0);
    }
  });
});
