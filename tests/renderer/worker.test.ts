/** The engine behind a worker: the page ends up with the same analysis as from scratch, whatever happens on the way. */
import { describe, expect, test } from "vitest";
import {
  analyse,
  breaksNothing,
  changeTypeIn,
  id,
  loadShow,
  outputJacks,
  patchWants,
  saveShow,
  wayFor,
  type Analysis,
  type DeviceType,
  type GroupId,
  type NoWay,
  type Show,
  type ShowId,
  type TerminalRef,
  type WantId,
  type Way,
} from "#engine";
import { coming, drawnAfter } from "../../renderer/canvas/drawn.ts";
import { wayCounts } from "../../renderer/canvas/ways.ts";
import { FIRST_READ, type BegunRead } from "../../renderer/worker/thread.ts";
import { inWorker, type Answer, type Question, type WorkerPort } from "../../renderer/worker/analyst.ts";
import { answers } from "../../renderer/worker/answers.ts";
import { applyDelta, deltaOf } from "../../renderer/worker/delta.ts";
import type { Analyst } from "../../renderer/state/analyst.ts";
import { createAppStore } from "../../renderer/state/store.ts";
import { randomEdit } from "../property/random-edits.ts";
import { Dice, randomRig } from "../property/random-rig.ts";
import { BOX, CONSOLE, smallShow } from "./small-show.ts";

/** A worker whose answers come when the test says so; everything is cloned on the way, as between threads. */
class StandInWorker implements WorkerPort {
  readonly questions: Question[] = [];
  readonly #listeners = new Map<string, (event: MessageEvent<Answer>) => void>();
  readonly #answer = answers();
  postMessage(question: Question): void {
    this.questions.push(structuredClone(question));
  }
  addEventListener(type: string, listener: (event: MessageEvent<Answer>) => void): void {
    this.#listeners.set(type, listener);
  }
  /** Answers the oldest open question; false where there is none. */
  answer(): boolean {
    const question = this.questions.shift();
    if (!question) return false;
    const tell = (answer: Answer): void =>
      this.#listeners.get("message")!({ data: structuredClone(answer) } as MessageEvent<Answer>);
    tell(this.#answer(question, tell));
    return true;
  }
  fail(): void {
    this.#listeners.get("error")!({} as MessageEvent<Answer>);
  }
}

const SEED = 3_000_001;
const STEPS = 120;

const told = ({ findings, wiring, arrivals }: Analysis): string =>
  JSON.stringify([
    findings,
    Array.from(wiring.state),
    Array.from(arrivals.root),
    Array.from(wiring.mixInto.terminal),
  ]);

/** Documents of one history, each an edit after the one before. */
function history(seed: number): readonly Show[] {
  const dice = new Dice(seed);
  const shows = [randomRig(seed).show];
  while (shows.length < STEPS) shows.push(randomEdit(dice, shows.at(-1)!, shows.slice(-10)).show);
  return shows;
}

describe("a delta", () => {
  test(`makes the one document from the other, and keeps what is the same; seed ${SEED}`, () => {
    const shows = history(SEED);
    let there: Show | null = null;
    shows.forEach((show, n) => {
      const before: Show | null = there;
      there = applyDelta(before, structuredClone(deltaOf(n === 0 ? null : shows[n - 1]!, show)));
      expect(there).toEqual({ ...show, lineChecks: [], revisions: [] });
      if (n > 0 && show.wants === shows[n - 1]!.wants) expect(there.wants).toBe(before!.wants);
    });
  });

  test("of a moved device is one record, however large the show", () => {
    const { show } = randomRig(SEED);
    const devices = show.devices.map((device, n) => (n === 1 ? { ...device, at: { x: 1, y: 1 } } : device));
    expect(deltaOf(show, { ...show, devices }).lists).toEqual({
      devices: [[0, 1], { record: devices[1] }, ...(devices.length > 2 ? [[2, devices.length - 2]] : [])],
    });
  });
});

describe("behind a worker", () => {
  test(`the last document asked for is answered as from scratch; seeds ${SEED} to ${SEED + 2}`, () => {
    for (const seed of [SEED, SEED + 1, SEED + 2]) {
      const worker = new StandInWorker();
      const dice = new Dice(seed);
      const came: Analysis[] = [];
      const shows = history(seed);
      const analyst = inWorker(worker)(analyse(shows[0]!), (analysis) => came.push(analysis));
      for (const show of shows) {
        analyst.ask(show);
        // Some questions wait while the document goes on.
        if (dice.chance(0.6)) worker.answer();
        expect(worker.questions.length).toBeLessThanOrEqual(1);
      }
      while (worker.answer());
      expect(came.at(-1)!.show).toBe(shows.at(-1));
      for (const analysis of came.filter((_, n) => n % 7 === 0 || n === came.length - 1)) {
        expect(told(analysis)).toBe(told(analyse(analysis.show)));
      }
    }
  });

  test("a worker that fails is done without", () => {
    const worker = new StandInWorker();
    const came: Analysis[] = [];
    const [first, second, third] = history(SEED) as [Show, Show, Show];
    const analyst = inWorker(worker)(analyse(first), (analysis) => came.push(analysis));
    expect(analyst.ask(second)).toBeNull();
    worker.fail();
    expect(came.map(({ show }) => show)).toEqual([second]);
    expect(told(analyst.ask(third)!)).toBe(told(analyse(third)));
  });
});

describe("a file behind a worker", () => {
  const file = (seed: number): string => saveShow(randomRig(seed).show);
  const read = (seed: number): Show => {
    const loaded = loadShow(file(seed));
    if (!loaded.ok) throw new Error(loaded.error.message);
    return loaded.value;
  };

  test("is read there, and its analysis is there with it; edits go on from it", async () => {
    const worker = new StandInWorker();
    const came: Analysis[] = [];
    const analyst = inWorker(worker)(analyse(smallShow()), (analysis) => came.push(analysis));
    const reading = analyst.read(file(SEED), null);
    while (worker.answer());
    const found = await reading;
    expect(found).toEqual({ ok: true, value: read(SEED) });
    if (!found.ok) return;
    expect(told(analyst.ask(found.value)!)).toBe(told(analyse(found.value)));

    const edited = randomEdit(new Dice(SEED), found.value, [found.value]).show;
    expect(analyst.ask(edited)).toBeNull();
    while (worker.answer());
    expect(told(came.at(-1)!)).toBe(told(analyse(edited)));
  });

  test("has the ways of its cables as the page would find them, under the id that it takes", async () => {
    const worker = new StandInWorker();
    const analyst = inWorker(worker)(analyse(smallShow()), () => {});
    const reading = analyst.read(file(SEED), id<ShowId>("show-copy"));
    while (worker.answer());
    const found = await reading;
    if (!found.ok) throw new Error(found.error.message);
    expect(found.value.id).toBe("show-copy");
    const { now } = coming.getState();
    expect(now?.show).toBe(found.value);
    expect(now?.found).toBe(true);
    expect(now?.drawn).toEqual(drawnAfter(null, found.value, wayCounts(analyse(found.value))));
    expect(found.value.cables.length).toBeGreaterThan(0);
    expect(now!.drawn.routed.routes.size).toBeGreaterThan(0);
  });

  test("that is none is refused with the reason, and the document stays the worker's", async () => {
    const worker = new StandInWorker();
    const came: Analysis[] = [];
    const shows = history(SEED);
    const analyst = inWorker(worker)(analyse(shows[0]!), (analysis) => came.push(analysis));
    analyst.ask(shows[1]!);
    const reading = analyst.read("{", null);
    while (worker.answer());
    expect(await reading).toMatchObject({ ok: false, error: { code: "not-json" } });
    analyst.ask(shows[2]!);
    while (worker.answer());
    expect(told(came.at(-1)!)).toBe(told(analyse(shows[2]!)));
  });

  test("an edit made while it is read is answered after it, from what the worker then has", async () => {
    const worker = new StandInWorker();
    const came: Analysis[] = [];
    const shows = history(SEED);
    const analyst = inWorker(worker)(analyse(shows[0]!), (analysis) => came.push(analysis));
    analyst.ask(shows[1]!);
    while (worker.answer());
    const reading = analyst.read(file(SEED + 1), null);
    expect(analyst.ask(shows[2]!)).toBeNull();
    expect(worker.questions).toHaveLength(1);
    while (worker.answer());
    await reading;
    while (worker.answer());
    expect(came.at(-1)!.show).toBe(shows[2]);
    expect(told(came.at(-1)!)).toBe(told(analyse(shows[2]!)));
  });

  test("a worker that fails leaves the reading to the page", async () => {
    const worker = new StandInWorker();
    const analyst = inWorker(worker)(analyse(smallShow()), () => {});
    const reading = analyst.read(file(SEED), null);
    worker.fail();
    expect(await reading).toEqual({ ok: true, value: read(SEED) });
    expect(await analyst.read(file(SEED), null)).toEqual({ ok: true, value: read(SEED) });
  });

  test("one that was begun before the store was there is taken up, once", async () => {
    const worker = new StandInWorker();
    const early = answers();
    const text = file(SEED);
    const before: Answer[] = [];
    const note = (each: Answer): void => void before.push(each);
    // The show comes by itself, so that it can be drawn; what arrives where in it when the page says so.
    note(early({ kind: "read", serial: FIRST_READ, text, as: null, waits: true }, note));
    expect(before).toHaveLength(1);
    const after = early({ kind: "go-on" }, note);
    const [first, known] = before;
    if (first?.kind !== "seen" || known?.kind !== "read" || after.kind !== "drawn")
      throw new Error("a show, what is known of it, and the ways of its cables were expected");
    const seen = structuredClone(first);
    let begun: BegunRead | null = {
      text,
      as: null,
      answer: Promise.resolve({ answer: structuredClone(known), show: seen.show }),
      drawn: Promise.resolve(structuredClone(after.drawn)),
    };
    const analyst = inWorker(worker, () => {
      const taken = begun;
      begun = null;
      return taken;
    })(analyse(smallShow()), () => {});
    const found = await analyst.read(text, null);
    expect(found).toEqual({ ok: true, value: read(SEED) });
    expect(worker.questions).toEqual([]);
    expect(coming.getState().now?.found).toBe(true);
    if (found.ok) expect(told(analyst.ask(found.value)!)).toBe(told(analyse(found.value)));
    void analyst.read(text, null);
    expect(worker.questions).toHaveLength(1);
  });
});

test("a file that is refused isn't waited for", () => {
  const early = answers();
  const refused = early({ kind: "read", serial: FIRST_READ, text: "{", as: null, waits: true }, () => {
    throw new Error("nothing comes ahead of it");
  });
  expect(refused).toMatchObject({ kind: "read", error: { code: "not-json" } });
  expect(() => early({ kind: "go-on" }, () => {})).toThrow("no file waits");
});

describe("what is asked beside the edits", () => {
  /** The box's type without its first bank, so that something breaks. */
  const versionIn = (show: Show): DeviceType => {
    const used = show.devices.find(({ id: device }) => device === BOX)!.type;
    const type = show.types.find(({ id: each }) => each === used)!;
    return { ...type, banks: type.banks.slice(1) };
  };
  /** The small show with mix 9 wanted where mix 1 is, and where nothing is, so that there is something to set and to refuse. */
  const asking = (): Show => {
    const show = smallShow();
    const [want] = show.wants;
    const bus: TerminalRef = { device: CONSOLE, group: id<GroupId>("mix"), number: 9 };
    const jack = (number: number): TerminalRef => ({
      device: BOX,
      group: id<GroupId>("out"),
      number,
    });
    return {
      ...show,
      devices: show.devices.map((device) => (device.id === CONSOLE ? { ...device, routing: [] } : device)),
      wants: [
        { ...want!, from: bus, to: jack(1) },
        { ...want!, id: id<WantId>("far"), from: bus, to: jack(2) },
      ],
    };
  };
  const moved = (show: Show): Show => ({
    ...show,
    devices: show.devices.map((device) =>
      device.id === CONSOLE ? { ...device, at: { x: 5, y: 7 } } : device,
    ),
  });
  const questions = [
    {
      what: "a version of a type",
      ask: (analyst: Analyst, show: Show) => analyst.tryType(show, versionIn(show)),
      answer: (show: Show) => changeTypeIn(analyse(show), versionIn(show)),
    },
    {
      what: "settings for what is planned",
      ask: (analyst: Analyst, show: Show) => analyst.patch(show, "wants"),
      answer: (show: Show) => patchWants(analyse(show)),
    },
  ];

  test("has something to say", () => {
    expect(breaksNothing(changeTypeIn(analyse(asking()), versionIn(asking())))).toBe(false);
    expect(patchWants(analyse(asking()))).toMatchObject({ brought: 1, refused: [{ count: 1 }] });
  });

  describe.each(questions)("$what", ({ ask, answer }) => {
    test("is answered behind the document that is on its way, as in the page's own thread", async () => {
      const worker = new StandInWorker();
      const show = asking();
      const analyst = inWorker(worker)(analyse(show), () => {});
      analyst.ask(show);
      const waiting = ask(analyst, show);
      while (worker.answer());
      expect(await waiting).toEqual(answer(show));
    });

    test("of a document that the worker hasn't seen sends that first", async () => {
      const worker = new StandInWorker();
      const came: Analysis[] = [];
      const first = smallShow();
      const analyst = inWorker(worker)(analyse(first), (analysis) => came.push(analysis));
      analyst.ask(first);
      // One edit is on its way, and the document has gone on by a move, which nobody analyses.
      const show = moved(asking());
      const waiting = ask(analyst, show);
      expect(worker.questions).toHaveLength(1);
      while (worker.answer());
      expect(await waiting).toEqual(answer(show));
      expect(came.at(-1)!.show).toBe(show);
      const later = { ...show, title: "Later" };
      const again = ask(analyst, later);
      expect(worker.questions.map(({ kind }) => kind)).toEqual([
        "show",
        ask === questions[0]!.ask ? "type" : "patch",
      ]);
      while (worker.answer());
      expect(await again).toEqual(answer(later));
    });

    test("is answered by the page where the worker fails or reads a file", async () => {
      const worker = new StandInWorker();
      const show = asking();
      const analyst = inWorker(worker)(analyse(smallShow()), () => {});
      void analyst.read(saveShow(smallShow()), null);
      expect(await ask(analyst, show)).toEqual(answer(show));
      while (worker.answer());
      const waiting = ask(analyst, show);
      worker.fail();
      expect(await waiting).toEqual(answer(show));
      expect(await ask(analyst, moved(show))).toEqual(answer(moved(show)));
    });
  });
});

describe("ways behind a worker", () => {
  const saying = (found: Way | NoWay): unknown => {
    if (found.kind === "none") return found;
    const { after, ...way } = found;
    return { ...way, told: told(after), delay: Array.from(after.arrivals.delay) };
  };
  /** A rig that the worker has, and what could be asked of it: its first taps, its last output jacks. */
  function ready(seed: number) {
    const worker = new StandInWorker();
    const came: Analysis[] = [];
    const analyst = inWorker(worker)(analyse(smallShow()), (analysis) => came.push(analysis));
    const shows = history(seed);
    analyst.ask(shows[0]!);
    while (worker.answer());
    const rig = came.at(-1)!;
    const taps = Array.from(rig.arrivals.root.keys())
      .filter((at) => rig.arrivals.root[at] === at)
      .slice(0, 4);
    const jacks = rig.wiring.devices.flatMap((wired) =>
      wired ? outputJacks(wired).map(({ first }) => first) : [],
    );
    return { worker, analyst, rig, shows, taps, jacks: jacks.slice(-4) };
  }

  test("are those of the page's own thread, with the rig after them", async () => {
    let ways = 0;
    for (let seed = SEED; seed < SEED + 12; seed++) {
      const { worker, analyst, rig, taps, jacks } = ready(seed);
      for (const tap of taps) {
        for (const jack of jacks) {
          const finding = analyst.findWay(rig, [tap], [jack]);
          while (worker.answer());
          const found = await finding;
          expect(saying(found)).toEqual(saying(wayFor(rig, [tap], [jack])));
          if (found.kind === "way" && found.edits.length > 0) ways++;
        }
      }
    }
    expect(ways).toBeGreaterThan(0);
  });

  test("while the worker is at work on an edit, or has failed, the page finds them itself", async () => {
    const { worker, analyst, rig, shows, taps, jacks } = ready(SEED);
    const [tap, jack] = [taps[0]!, jacks[0]!];
    const wanted = saying(wayFor(rig, [tap], [jack]));
    const waiting = analyst.findWay(rig, [tap], [jack]);
    expect(worker.questions).toHaveLength(1);
    analyst.ask(shows[5]!);
    expect(saying(await analyst.findWay(rig, [tap], [jack]))).toEqual(wanted);
    worker.fail();
    expect(saying(await waiting)).toEqual(wanted);
    expect(saying(await analyst.findWay(rig, [tap], [jack]))).toEqual(wanted);
  });
});

describe("the store with a worker", () => {
  test("a move is drawn at once, an edit of signals when its analysis comes", () => {
    const worker = new StandInWorker();
    const store = createAppStore(smallShow(), inWorker(worker));
    store.getState().change({ kind: "move-devices", to: [{ device: BOX, at: { x: 7, y: 7 } }] }, "moving");
    expect(store.getState().analysis.show).toBe(store.getState().show);

    store.getState().change({ kind: "edit-device", device: BOX, set: { powered: false } }, "off");
    const { show, analysis } = store.getState();
    expect(analysis.show).not.toBe(show);
    expect(show.devices.find(({ id }) => id === BOX)!.powered).toBe(false);
    while (worker.answer());
    expect(store.getState().analysis.show).toBe(show);
    expect(told(store.getState().analysis)).toBe(told(analyse(show)));
  });

  test("an answer that comes after undo changes nothing", () => {
    const worker = new StandInWorker();
    const store = createAppStore(smallShow(), inWorker(worker));
    store.getState().change({ kind: "edit-device", device: BOX, set: { powered: false } }, "off");
    store.getState().undo();
    while (worker.answer());
    expect(told(store.getState().analysis)).toBe(told(analyse(store.getState().show)));
    expect(store.getState().analysis.show).toBe(store.getState().show);
  });
});
