/** What is chosen where papers are made, what the show keeps of it, and the maker that preview and print share. */
import { describe, expect, test } from "vitest";
import { analyse, applyEdits, loadShow, markRevision, saveShow, type Show } from "#engine";
import { namesOfSheets, outlineOf, sheetsKept } from "#engine/paperwork/set.ts";
import type { SheetEntry } from "#engine/paperwork/sheets/entry.ts";
import { choiceOf, editsFor, jobOf, revisionToMark, subjectsOf } from "../../renderer/paper/choice.ts";
import { createMaker } from "../../renderer/paper/maker.ts";
import { applyChange } from "../../renderer/state/changes.ts";
import { smallShow } from "./small-show.ts";

const entry = (kind: SheetEntry["kind"], id: string, pages = 1): SheetEntry => ({
  id,
  kind,
  title: id,
  make: () => ({
    id,
    title: id,
    pages: Array.from({ length: pages }, () => ({ width: 210, height: 297, svg: "<svg></svg>" })),
    tables: [],
  }),
});
const ENTRIES = [
  entry("diagram", "diagram"),
  entry("diagram", "diagram/foh"),
  entry("inputs", "inputs/foh", 2),
  entry("inputs", "inputs/mon", 3),
  entry("findings", "findings"),
  entry("jack strips", "jack-strips/foh"),
];
const ids = (entries: readonly SheetEntry[]): readonly string[] => entries.map(({ id }) => id);

describe("names of sheets", () => {
  test("a kind of which all are chosen is kept by its name, so that what comes later is chosen too", () => {
    const names = namesOfSheets(ENTRIES, new Set(["inputs/foh", "inputs/mon", "findings"]));
    expect(names).toEqual(["inputs", "findings"]);
    const later = [...ENTRIES, entry("inputs", "inputs/truck")];
    expect(ids(sheetsKept(later, names))).toEqual(["inputs/foh", "inputs/mon", "findings", "inputs/truck"]);
  });

  test("a sheet that has its kind's name stands for itself alone", () => {
    expect(ids(sheetsKept(ENTRIES, ["diagram"]))).toEqual(["diagram"]);
    const all = namesOfSheets(ENTRIES, new Set(["diagram", "diagram/foh"]));
    expect(all).toEqual(["diagram", "diagram/foh"]);
  });

  test("names that nothing has any more are passed over", () => {
    expect(ids(sheetsKept(ENTRIES, ["inputs/gone", "worksheets", "findings"]))).toEqual(["findings"]);
  });
});

describe("the outline", () => {
  test("has the sheets of a kind below its name, and pages counted over all", async () => {
    const made = await createMaker(jobOf(analyse(smallShow()), choice(), "2026-11-26"), {}).all(
      ENTRIES,
      new AbortController().signal,
      () => {},
    );
    expect(outlineOf(made!)).toEqual([
      {
        title: "Signal-flow diagram",
        page: 0,
        below: [
          { title: "diagram", page: 0, below: [] },
          { title: "diagram/foh", page: 1, below: [] },
        ],
      },
      {
        title: "Input lists",
        page: 2,
        below: [
          { title: "inputs/foh", page: 2, below: [] },
          { title: "inputs/mon", page: 4, below: [] },
        ],
      },
      { title: "findings", page: 7, below: [] },
      { title: "jack-strips/foh", page: 8, below: [] },
    ]);
  });
});

const choice = () => choiceOf(smallShow(), ENTRIES);

describe("what the show keeps", () => {
  const kept = (change: Partial<ReturnType<typeof choice>>): Show =>
    applyEdits(smallShow(), editsFor(smallShow(), { ...choice(), ...change }, ENTRIES));

  test("at first everything is chosen but what is cut to size", () => {
    expect([...choice().chosen]).toEqual(["diagram", "diagram/foh", "inputs/foh", "inputs/mon", "findings"]);
  });

  test("a choice is the same once it is kept, saved and loaded", () => {
    const chosen = {
      chosen: new Set(["inputs/foh", "jack-strips/foh"]),
      paper: "Tabloid",
      listPaper: "A4",
      author: "A. Tech",
      arrangement: "canvas",
      delays: true,
      perRow: 12,
      digits: true,
      tagsOn: "a4-21",
      tagOrder: "place",
    } as const;
    const loaded = loadShow(saveShow(kept(chosen)));
    expect(loaded.ok && choiceOf(loaded.value, ENTRIES)).toEqual({ ...choice(), ...chosen });
  });

  test("what is as usual isn't written", () => {
    expect(kept({ chosen: new Set(["findings"]) }).paperwork).toEqual({ sheets: ["findings"] });
  });

  test("a label sheet that isn't known is plain paper", () => {
    expect(choiceOf({ ...smallShow(), paperwork: { tags: { on: "toString" } } }, ENTRIES).tagsOn).toBe(
      "plain",
    );
  });
});

describe("revisions", () => {
  test("one is marked where the show isn't what it was at the last one", () => {
    const show = smallShow();
    expect(revisionToMark(show, true)).toEqual({ name: "A" });
    expect(revisionToMark(show, false)).toBeNull();
    const marked = markRevision(show, "A", "2026-11-26", "");
    expect(revisionToMark(marked, true)).toBeNull();
    // How it is printed is no part of what it is.
    expect(revisionToMark({ ...marked, paperwork: { author: "A. Tech" } }, true)).toBeNull();
    expect(revisionToMark({ ...marked, title: "Second night" }, true)).toEqual({ name: "B" });
    const [device] = marked.devices;
    const same = { ...marked, devices: [{ ...device! }, ...marked.devices.slice(1)] };
    expect(revisionToMark(same, true)).toBeNull();
  });

  test("pages name the revision that printing them marks; the show has it only then", () => {
    const show = smallShow();
    const job = jobOf(analyse(show), choice(), "2026-11-26");
    expect(job.analysis.show.revisions.at(-1)).toMatchObject({ name: "A", date: "2026-11-26" });
    expect(show.revisions).toEqual([]);
  });

  test("marking one and keeping the choice is one step, and undone as one", () => {
    const show = smallShow();
    const changed = applyChange(show, {
      kind: "mark-revision",
      name: "A",
      date: "2026-11-26",
      note: "printed",
      edits: editsFor(show, { ...choice(), author: "A. Tech" }, ENTRIES),
    })!;
    expect(changed.show.revisions).toHaveLength(1);
    expect(changed.show.paperwork?.author).toBe("A. Tech");
    expect(changed.show.revisions[0]!.was).not.toHaveProperty("paperwork");
    expect(changed.inverse).toHaveLength(1);
  });
});

describe("the maker", () => {
  test("makes each sheet once, whoever asks", async () => {
    let count = 0;
    const counting: SheetEntry = {
      ...ENTRIES[0]!,
      make: (...args) => {
        count++;
        return ENTRIES[0]!.make(...args);
      },
    };
    const maker = createMaker(jobOf(analyse(smallShow()), choice(), "2026-11-26"), {});
    await Promise.all([maker.make(counting), maker.make(counting)]);
    await maker.all([counting], new AbortController().signal, () => {});
    expect(count).toBe(1);
  });

  test("stops where it is told to, and tells a sheet that fails", async () => {
    const maker = createMaker(jobOf(analyse(smallShow()), choice(), "2026-11-26"), {});
    const stop = new AbortController();
    stop.abort();
    expect(await maker.all(ENTRIES, stop.signal, () => {})).toBeNull();
    const failing: SheetEntry = {
      ...ENTRIES[0]!,
      make: () => {
        throw new Error("no room");
      },
    };
    await expect(maker.make(failing)).rejects.toThrow("no room");
  });

  test("things that sheets are about are told by name", () => {
    const show = smallShow();
    const [device] = show.devices;
    const about = entry("inputs", `inputs/${device!.name.toLowerCase().replaceAll(" ", "-")}`);
    expect(subjectsOf([about], show).map(({ name }) => name)).toEqual([device!.name]);
  });
});
