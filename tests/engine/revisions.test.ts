/** Rules X6 to X8: revisions hold what the show was, in memory and in the file. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { loadShow } from "#engine/exchange/load.ts";
import { MOST_KEPT } from "#engine/exchange/revisions.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { applyEdits, type Edit, type ListName } from "#engine/model/edit.ts";
import { id } from "#engine/model/ids.ts";
import { CONTENT_LISTS, contentOf, markRevision, nextRevisionName, showAt } from "#engine/model/revisions.ts";
import type { Show } from "#engine/model/show.ts";
import { rig } from "./rigs/build.ts";
import { demo } from "./demo.ts";

const START = rig({
  devices: {
    foh: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
    one: { name: "Near box", type: "box-16-8", mode: "chain" },
    two: { name: "Far box", type: "box-16-8", mode: "chain", position: 2 },
  },
  cables: ["L1: foh.link1 - one.a, 50 m", "L2: one.b - two.a, 20 m"],
  sources: ["Kick: one.in.1", "Snare: one.in.2", "Hat: one.in.3", "Tom: one.in.4"],
  wants: ["Wedge 1: one.out.1", "Wedge 2: one.out.2", "Wedge 3: one.out.3"],
});

function loaded(text: string): Show {
  const result = loadShow(text);
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
}

const mark = (show: Show, name: string): Show => markRevision(show, name, "2026-11-25", `note on ${name}`);
const rename = (show: Show, index: number, name: string): Show =>
  applyEdits(show, [{ kind: "put", list: "devices", record: { ...show.devices[index]!, name } }]);

describe("in memory", () => {
  test("[X6] a revision holds the show as it was, and the show at it has the revisions up to it", () => {
    const checked: Show = {
      ...START,
      lineChecks: [
        { at: START.wants[0]!.to, result: "passed", date: "2026-11-25", note: "", trace: "as it was" },
      ],
    };
    const first = mark(checked, "A");
    const second = mark(rename({ ...first, title: "Second night" }, 1, "Drum box"), "B");
    const now = rename(second, 2, "Gone box");
    expect(showAt(now, now.revisions[0]!)).toEqual({ ...START, revisions: first.revisions });
    expect(showAt(now, now.revisions[1]!)).toEqual({ ...second, lineChecks: [] });
    expect(now.revisions[1]!.was).toEqual(contentOf(second));
  });

  test("[X6] what doesn't change afterwards stands in memory once, after loading too", () => {
    const made = rename(mark(START, "A"), 1, "Drum box");
    for (const show of [made, loaded(saveShow(made))]) {
      const was = show.revisions[0]!.was!;
      for (const list of CONTENT_LISTS) {
        if (list !== "devices") expect(was[list], list).toBe(show[list]);
      }
      expect(was.devices[0]).toBe(show.devices[0]);
      expect(was.devices[1]!.name).toBe("Near box");
    }
  });

  test("[X6] a revision that is only a note has no show to give, and no part in the others", () => {
    const note = { name: "0", date: "2026-11-01", note: "before marks held the show" };
    const show = rename(mark({ ...START, revisions: [note] }, "A"), 0, "Other house");
    expect(showAt(show, note)).toBeNull();
    expect(loaded(saveShow(show))).toEqual(show);
  });

  test("the next revision's name follows the last one's", () => {
    const after = (name: string): string => nextRevisionName([{ name, date: "", note: "" }]);
    expect(nextRevisionName([])).toBe("A");
    expect(["A", "b", "Z", "9", "rev 19", "after the storm"].map(after)).toEqual([
      "B",
      "c",
      "",
      "10",
      "rev 20",
      "",
    ]);
  });
});

type Line = Record<string, unknown>;
/** What the file says of each revision's content. */
const packed = (show: Show): readonly Line[] =>
  (JSON.parse(saveShow(show)) as { revisions: { was: Line }[] }).revisions.map(({ was }) => was);

describe("in the file", () => {
  test("[X7] a revision that nothing has changed since tells nothing", () => {
    expect(packed(mark(START, "A"))).toEqual([{}]);
  });

  test("[X7] a changed record stands there whole, without the order", () => {
    expect(packed(rename(mark(START, "A"), 1, "Drum box"))).toEqual([
      { devices: { records: [START.devices[1]] } },
    ]);
  });

  test("[X7] a record that came later is left out of the order, one that went stands there whole", () => {
    const [first, second, third] = START.wants;
    const show = {
      ...mark(START, "A"),
      wants: [first!, { ...second!, id: id<never>("new") }, third!],
    };
    expect(packed(show)).toEqual([
      { wants: { order: [first!.id, second!.id, third!.id], records: [second] } },
    ]);
  });

  test("[X7] neighbours are one run: moving the last of four sources to the front is two entries", () => {
    const { sources } = START;
    const [one, , three, four] = sources.map((source) => source.id);
    const show = { ...mark(START, "A"), sources: [sources[3]!, ...sources.slice(0, 3)] };
    expect(packed(show)).toEqual([{ sources: { order: [`${one}:${three}`, four] } }]);
  });

  test("[X7] each is told against the next later one, so an edit changes the last one's line only", () => {
    const marked = rename(mark(rename(mark(START, "A"), 0, "Two"), "B"), 0, "Three");
    expect(packed(marked).map(({ devices }) => devices)).toEqual([
      { records: [START.devices[0]] },
      { records: [{ ...START.devices[0], name: "Two" }] },
    ]);
    const later = rename(marked, 2, "Edited");
    expect(packed(later)[0]).toEqual(packed(marked)[0]);
  });

  test("[X7] lists that came or went, texts and settings", () => {
    const end = { device: id<never>("one"), group: id<never>("a"), first: 1 };
    const stream = { id: id<never>("s1"), name: "", from: end, channels: 8, packetTime: 1, to: [] };
    const settings = { ...START.settings, sampleRate: 96000 as const };
    const show: Show = { ...mark({ ...START, groups: [] }, "A"), streams: [stream], venue: "Quay", settings };
    const { groups: _none, ...now } = show;
    expect(packed(now)).toEqual([
      { venue: "", settings: START.settings, groups: { order: [] }, without: ["streams"] },
    ]);
    expect(loaded(saveShow(now))).toEqual(now);
  });

  /** One step of a show's life: an edit of a record, an order, a text or a setting, or a mark. */
  const step = fc.oneof(
    fc.record({ kind: fc.constant("mark" as const), name: fc.string({ minLength: 1, maxLength: 8 }) }),
    fc.record({
      kind: fc.constantFrom("change" as const, "remove" as const, "copy" as const, "turn" as const),
      list: fc.constantFrom<ListName>("places", "devices", "cables", "sources", "wants", "groups"),
      at: fc.nat(9),
      name: fc.string({ minLength: 1, maxLength: 8 }),
    }),
    fc.record({ kind: fc.constant("title" as const), name: fc.string({ minLength: 1, maxLength: 8 }) }),
    fc.record({ kind: fc.constant("celsius" as const), at: fc.integer({ min: -60, max: 60 }) }),
  );
  type Step = typeof step extends fc.Arbitrary<infer Value> ? Value : never;

  function take(show: Show, next: Step, serial: number): Show {
    switch (next.kind) {
      case "mark":
        return mark(show, next.name);
      case "title":
        return { ...show, title: next.name };
      case "celsius":
        return { ...show, settings: { ...show.settings, temperature: next.at } };
      default:
        break;
    }
    const { kind, list, at, name } = next;
    const records: readonly { readonly id: string }[] = show[list] ?? [];
    const record = records[at % Math.max(1, records.length)];
    if (kind === "turn") return { ...show, [list]: [...records.slice(at), ...records.slice(0, at)] };
    if (kind === "copy" || !record) {
      const fresh = list === "groups" ? { name, members: [] } : record;
      return fresh ? { ...show, [list]: [...records, { ...fresh, id: `n${serial}` }] } : show;
    }
    const edit = kind === "remove" ? { kind, list, id: record.id } : null;
    const label = list === "cables" ? { tag: name } : { name };
    return applyEdits(show, [(edit ?? { kind: "put", list, record: { ...record, ...label } }) as Edit]);
  }

  test("[X1] [X7] whatever is edited between marks, save then load = same, twice the same bytes; seed 11", () => {
    let revisions = 0;
    fc.assert(
      fc.property(fc.array(step, { minLength: 4, maxLength: 60 }), (steps) => {
        const show = steps.reduce(take, START);
        const text = saveShow(show);
        const back = loaded(text);
        expect(back).toEqual(show);
        expect(saveShow(back)).toBe(text);
        for (const [n, revision] of show.revisions.entries()) {
          const then = showAt(back, back.revisions[n]!)!;
          expect(then).toEqual(showAt(show, revision));
          expect(loaded(saveShow(then))).toEqual(then);
          revisions++;
        }
      }),
      { numRuns: 150, seed: 11 },
    );
    expect(revisions).toBeGreaterThan(300);
  });

  test("[X7] a revision of the demo with 20 records edited since adds less than a tenth of its file", () => {
    const show = demo();
    const marked = mark(show, "B");
    const edits = show.sources.slice(0, 10).map((source, n): Edit => ({
      kind: "put",
      list: "sources",
      record: { ...source, name: `${source.name} ${n}` },
    }));
    const wants = show.wants.slice(0, 10).map((want): Edit => ({
      kind: "put",
      list: "wants",
      record: { ...want, name: `${want.name}, changed` },
    }));
    const size = (of: Show): number => saveShow(of).length;
    const edited = applyEdits(marked, [...edits, ...wants]);
    const added = size(edited) - size({ ...edited, revisions: show.revisions });
    expect(added).toBeGreaterThan(20 * 50);
    expect(added).toBeLessThan(size(show) / 10);
  });
});

describe("refusals", () => {
  const refusal = (was: Line, spoil: (file: Line) => void = () => undefined): string => {
    const file = JSON.parse(saveShow(mark(START, "A"))) as Line & { revisions: Line[] };
    file.revisions[0]!["was"] = was;
    spoil(file);
    const result = loadShow(JSON.stringify(file));
    return result.ok ? "loaded" : `${result.error.code}: ${result.error.message}`;
  };
  const [first, second, third] = START.wants;
  const wants = (list: Line): Line => ({ wants: list });

  test.each<readonly [what: string, was: Line, told: string]>([
    [
      "an id that names no record",
      wants({ order: ["gone"] }),
      `invalid: revisions[0].was.wants.order[0]: names a record that isn't there: "gone"`,
    ],
    [
      "a run to nowhere",
      wants({ order: [first!.id, `${second!.id}:gone`] }),
      `invalid: revisions[0].was.wants.order[1]: "${second!.id}:gone" is no run of records`,
    ],
    [
      "a run backwards",
      wants({ order: [`${third!.id}:${first!.id}`] }),
      `invalid: revisions[0].was.wants.order[0]: "${third!.id}:${first!.id}" is no run of records`,
    ],
    [
      "a record twice",
      wants({ order: [`${first!.id}:${third!.id}`, second!.id] }),
      `invalid: revisions[0].was.wants.order[1]: "${second!.id}" stands there twice`,
    ],
    [
      "two records with one id",
      wants({ records: [first, first] }),
      `invalid: revisions[0].was.wants.records[1].id: "${first!.id}" stands there twice`,
    ],
    [
      "a record without a place",
      wants({ records: [{ ...first, id: "new" }] }),
      "invalid: revisions[0].was.wants.records[0]: has no place in the order",
    ],
    [
      "a list told and left out",
      { streams: { order: [] }, without: ["streams"] },
      'invalid: revisions[0].was.streams: is named in "without" too',
    ],
    [
      "a list that every show has, left out",
      { without: ["wants"] },
      "invalid: revisions[0].was.without[0]: must be one of streams, groups",
    ],
    [
      "a record that isn't one",
      wants({ records: [{ id: "w" }] }),
      "invalid: revisions[0].was.wants.records[0].name: is missing",
    ],
    [
      "revisions within revisions",
      { revisions: [] },
      "invalid: revisions[0].was.revisions: is not a field that Hopline knows",
    ],
    [
      "an order that isn't of ids",
      wants({ order: ["a:b:c"] }),
      "invalid: revisions[0].was.wants.order[0]: is empty, too long, or has characters that don't belong here",
    ],
  ])("[X8] %s is refused with its path", (_what, was, told) => expect(refusal(was)).toBe(told));

  const many = (count: number): readonly Line[] =>
    Array.from({ length: count }, (_, n) => ({ ...first, id: `w${n}` }));

  test("[X8] a small file can't make many entries: each revision turns a long list about", () => {
    const size = 40_000;
    const halves = [`w${size / 2}:w${size - 1}`, `w0:w${size / 2 - 1}`];
    const told = refusal({}, (file) => {
      file["wants"] = many(size);
      const count = Math.ceil(MOST_KEPT / size) + 1;
      file["revisions"] = Array.from({ length: count }, (_, n) => ({
        name: "A",
        date: "",
        note: "",
        // Turned about against the one after it, so that no two neighbours share the list.
        was: wants({ order: n % 2 === count % 2 ? halves.toReversed() : halves }),
      }));
    });
    expect(told).toBe("hostile: revisions[0].was.wants: the revisions hold more than 1000000 entries");
  });

  test("[X3] what a file tells of revisions counts as entries of the file", () => {
    const members = Array.from({ length: 4096 }, () => ({ group: "ch", number: 1, tap: "pre" }));
    const mix = { console: "foh", group: "mix", first: 1, width: 1, name: "", members };
    const mixes = Array.from({ length: 25 }, (_, n) => ({ ...mix, id: `m${n}` }));
    const order = mixes.map((each) => each.id);
    const now = (count: number) => (file: Line) => void (file["mixes"] = mixes.slice(0, count));
    expect(refusal({ mixes: { order, records: mixes } }, now(23))).toBe("loaded");
    expect(refusal({ mixes: { order, records: mixes } }, now(24))).toBe(
      "hostile: the file has more than 200000 entries in all lists",
    );
  });
});
