/** The engine behind a worker: the page ends up with the same analysis as from scratch, whatever happens on the way. */
import { describe, expect, test } from "vitest";
import { analyse, outputJacks, wayFor, type Analysis, type NoWay, type Show, type Way } from "#engine";
import { inWorker, type Answer, type Question, type WorkerPort } from "../../renderer/worker/analyst.ts";
import { answers } from "../../renderer/worker/answers.ts";
import { applyDelta, deltaOf } from "../../renderer/worker/delta.ts";
import { createAppStore } from "../../renderer/state/store.ts";
import { randomEdit } from "../property/random-edits.ts";
import { Dice, randomRig } from "../property/random-rig.ts";
import { BOX, smallShow } from "./small-show.ts";

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
    const data = structuredClone(this.#answer(question));
    this.#listeners.get("message")!({ data } as MessageEvent<Answer>);
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
