/** What is chosen where papers are made, what the show keeps of it, and the maker that preview and print share. */
import { describe, expect, test } from "vitest";
import { analyse, applyEdits, loadShow, markRevision, saveShow, type Show } from "#engine";
import { namesOfSheets, outlineOf, sheetsKept } from "#engine/paperwork/set.ts";
import type { Sheet } from "#engine/paperwork/page.ts";
import { sheetEntries } from "#engine/paperwork/sheets/sheets.ts";
import type { SheetEntry } from "#engine/paperwork/sheets/entry.ts";
import { fullName, terminalOf } from "#engine/trace/terminal.ts";
import {
  choiceOf,
  editsFor,
  offered,
  orderOf,
  revisionToMark,
  subjectsOf,
} from "../../renderer/paper/choice.ts";
import { createMaker } from "../../renderer/paper/maker.ts";
import {
  jobs,
  paperAnswers,
  type PaperAnswer,
  type PaperQuestion,
} from "../../renderer/worker/paper-answers.ts";
import { millHere, millInWorker, type PaperPort } from "../../renderer/worker/papers.ts";
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
/** Makes sheets in this thread. */
const here = (each: SheetEntry): Promise<Sheet> =>
  millHere(analyse(smallShow()), noElk).sheet(each, orderOf(smallShow(), choice(), "2026-11-26"));
const noElk = (): Promise<never> => Promise.reject(new Error("no layout library here"));
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
    const made = await createMaker(here).all(ENTRIES, new AbortController().signal, () => {});
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
    const job = jobs(analyse(show))(orderOf(show, choice(), "2026-11-26"));
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
    const maker = createMaker(here);
    await Promise.all([maker.make(counting), maker.make(counting)]);
    await maker.all([counting], new AbortController().signal, () => {});
    expect(count).toBe(1);
  });

  test("stops where it is told to, and tells a sheet that fails", async () => {
    const maker = createMaker(here);
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

/** The papers' worker in this thread, with messages as plain data, as between threads. */
class Port implements PaperPort {
  readonly asked: PaperQuestion[] = [];
  isEnded = false;
  readonly #answer = paperAnswers(noElk);
  readonly #listeners: ((event: MessageEvent<PaperAnswer>) => void)[] = [];
  readonly #failures: ((event: Event) => void)[] = [];

  postMessage(question: PaperQuestion): void {
    this.asked.push(structuredClone(question));
    void this.#answer(structuredClone(question)).then((answered) => {
      if (!answered || this.isEnded) return;
      for (const listen of this.#listeners) {
        listen(new MessageEvent("message", { data: structuredClone(answered) }));
      }
    });
  }

  addEventListener(
    type: "message" | "error" | "messageerror",
    listener: (event: MessageEvent<PaperAnswer> & Event) => void,
  ): void {
    if (type === "message") this.#listeners.push(listener);
    else this.#failures.push(listener as (event: Event) => void);
  }

  terminate(): void {
    this.isEnded = true;
  }

  fail(): void {
    for (const listen of this.#failures) listen(new Event("error"));
  }
}

describe("papers in a worker", () => {
  const show: Show = {
    ...smallShow(),
    revisions: [
      { name: "A", date: "2026-11-20", note: "", was: smallShow() },
      { name: "B", date: "2026-11-21", note: "x", was: smallShow() },
    ],
  };
  const analysis = analyse(show);
  const order = orderOf(show, { ...choice(), arrangement: "canvas", marks: false }, "2026-11-26");
  const entries = sheetEntries(analysis);
  const inThisThread = millHere(analysis, noElk);

  test("every sheet is the one that this thread makes, and so are the files", async () => {
    const port = new Port();
    const mill = millInWorker(show, () => port, inThisThread);
    expect(entries.length).toBeGreaterThan(5);
    const lists = entries.filter(({ kind }) => kind !== "diagram");
    for (const each of lists) {
      expect(await mill.sheet(each, order)).toEqual(await inThisThread.sheet(each, order));
    }
    for (const wish of [
      { kind: "dot" },
      { kind: "graphml" },
      { kind: "handout", date: "2026-11-26" },
    ] as const) {
      expect(await mill.file(wish)).toBe(await inThisThread.file(wish));
    }
    // The show goes over once, with what papers say of its history and no more.
    expect(port.asked.filter(({ kind }) => kind === "show")).toEqual([
      {
        kind: "show",
        show: { ...show, revisions: [{ name: "B", date: "2026-11-21", note: "x" }] },
        forSheets: true,
      },
    ]);
    const page = (await mill.sheet(lists[0]!, order)).pages[0]!.svg;
    expect(page).toContain("revision B, 2026-11-21");
  });

  test("the signal that is looked at has its diagram after the show's own, made there as here, and none is kept of it", async () => {
    const [source] = show.sources;
    const wired = analysis.wiring.devices.find((each) => each !== null)!;
    const jack = terminalOf(analysis.wiring, wired.base);
    const diagrams = entries.filter(({ kind }) => kind === "diagram").length;
    for (const [focus, name] of [
      [{ kind: "terminal", terminal: jack }, fullName(analysis.wiring, wired.base)],
      [{ kind: "source", source: source!.id }, source!.name],
    ] as const) {
      const all = offered(analysis, entries, focus);
      expect(all.toSpliced(diagrams, 1)).toEqual(entries);
      const signal = all[diagrams]!;
      expect(signal.title).toBe(`Signal flow of ${name}`);
      const mill = millInWorker(show, () => new Port(), inThisThread);
      const sheet = await mill.sheet(signal, order);
      expect(sheet).toEqual(await inThisThread.sheet(signal, order));
      expect(sheet.title).toBe(signal.title);
      expect(namesOfSheets(entries, new Set([signal.id]))).toEqual([]);
    }
    expect(offered(analysis, entries, { kind: "device", device: wired.device.id })).toBe(entries);
    expect(offered(analysis, entries, null)).toBe(entries);
  });

  test("what goes wrong with one sheet is told of that sheet", async () => {
    const mill = millInWorker(show, () => new Port(), inThisThread);
    await expect(mill.sheet(entry("inputs", "inputs/gone"), order)).rejects.toThrow("inputs/gone");
    await expect(
      mill.sheet(
        entries.find(({ kind }) => kind === "diagram")!,
        orderOf(show, { ...choice(), arrangement: "tidy" }, "2026-11-26"),
      ),
    ).rejects.toThrow("no layout library here");
    expect((await mill.sheet(entries.at(-1)!, order)).id).toBe(entries.at(-1)!.id);
  });

  test("closing ends the worker; the next question starts another", async () => {
    const ports: Port[] = [];
    const mill = millInWorker(
      show,
      () => {
        const port = new Port();
        ports.push(port);
        return port;
      },
      inThisThread,
    );
    mill.close();
    expect(ports).toEqual([]);
    await mill.file({ kind: "dot" });
    mill.close();
    expect(ports.map(({ isEnded }) => isEnded)).toEqual([true]);
    await mill.file({ kind: "dot" });
    expect(ports).toHaveLength(2);
  });

  test("a worker that fails, or that there is none of, is done without", async () => {
    const port = new Port();
    port.postMessage = () => port.fail();
    const listed = entries.at(-1)!;
    const expected = await inThisThread.sheet(listed, order);
    const failing = millInWorker(show, () => port, inThisThread);
    expect(await failing.sheet(listed, order)).toEqual(expected);
    expect(port.isEnded).toBe(true);
    expect(await failing.sheet(listed, order)).toEqual(expected);
    expect(await millInWorker(show, () => null, inThisThread).sheet(listed, order)).toEqual(expected);
  });
});
