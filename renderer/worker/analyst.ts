/** The page's side of the engine's worker. */
import {
  analyse,
  applyEdits,
  changeTypeIn,
  err,
  ok,
  patchPlanned,
  reanalyse,
  unpack,
  wayFor,
  type Analysis,
  type DeviceType,
  type LoadError,
  type NoWay,
  type Parcel,
  type Patching,
  type Planned,
  type Result,
  type Show,
  type ShowId,
  type TypeChange,
  type Way,
} from "#engine";
import { awaitDrawn, giveUpDrawn, noteDrawn, type Drawn } from "../canvas/drawn.ts";
import { readHere, type MakeAnalyst } from "../state/analyst.ts";
import { deltaOf, type ShowDelta } from "./delta.ts";
import type { BegunRead } from "./thread.ts";

/** What goes to the worker: documents, of which the first is a whole one, files, and ways over the last of them. */
export type Question =
  /**
   * A file's text. The show in it is the last document from then on. `as`: another id in place of its own. `waits`: what
   * arrives where in it is not worked out before `go-on`.
   */
  | {
      readonly kind: "read";
      readonly serial: number;
      readonly text: string;
      readonly as: ShowId | null;
      readonly waits?: true;
    }
  | { readonly kind: "go-on" }
  | { readonly kind: "show"; readonly delta: ShowDelta }
  /** What a version of a type would break. */
  | { readonly kind: "type"; readonly serial: number; readonly type: DeviceType }
  /** Settings that would bring what the document plans. */
  | { readonly kind: "patch"; readonly serial: number; readonly what: Planned }
  | {
      readonly kind: "way";
      readonly serial: number;
      readonly sources: readonly number[];
      readonly targets: readonly number[];
    };

export type Answer =
  /** The show in a file that is read, before it is analysed. */
  | { readonly kind: "seen"; readonly serial: number; readonly show: Show }
  | { readonly kind: "read"; readonly serial: number; readonly error: LoadError }
  /** Of the show that was seen under this number. */
  | { readonly kind: "read"; readonly serial: number; readonly error: null; readonly parcel: Parcel }
  /** Ways for the cables of the show that was read last; comes after it. */
  | { readonly kind: "drawn"; readonly show: ShowId; readonly drawn: Drawn }
  | { readonly kind: "show"; readonly parcel: Parcel }
  | { readonly kind: "type"; readonly serial: number; readonly change: TypeChange }
  | { readonly kind: "patch"; readonly serial: number; readonly patching: Patching }
  /** `after`: what differs in the rig with the way's settings. */
  | { readonly kind: "way"; readonly serial: number; readonly none: NoWay }
  | {
      readonly kind: "way";
      readonly serial: number;
      readonly none: null;
      readonly way: Omit<Way, "after">;
      readonly after: Parcel;
    };

export type ReadAnswer = Extract<Answer, { readonly kind: "read" }>;

/** Questions beside the document's edits: each is about the document as it is when it is asked. */
type Beside = Extract<Question, { readonly kind: "type" | "patch" | "way" }>;
type Told = { readonly [Kind in Beside["kind"]]: Extract<Answer, { readonly kind: Kind }> };

/** An answer that is waited for. */
interface Waiting<Kind extends Beside["kind"]> {
  readonly hear: (answer: Told[Kind]) => void;
  /** Answers in this thread. `known`: the last analysis there is. */
  readonly giveUp: (known: Analysis) => void;
}

/** The part of a `Worker` that is used. */
export interface WorkerPort {
  postMessage(question: Question): void;
  addEventListener(type: "message", listener: (event: MessageEvent<Answer>) => void): void;
  addEventListener(type: "error" | "messageerror", listener: (event: Event) => void): void;
}

/**
 * One question at a time is on its way; when its answer comes and the document has gone on, the next goes out with all
 * that has happened since. A worker that fails is done without: the engine then runs in this thread.
 */
export const inWorker =
  (port: WorkerPort, takeBegun: () => BegunRead | null = () => null): MakeAnalyst =>
  (first, answer) => {
    let wanted: Show | null = null;
    let asked: Show | null = null;
    let answered: Analysis | null = null;
    let failed: Analysis | null = null;
    const waiting: { readonly [Kind in Beside["kind"]]: Map<number, Waiting<Kind>> } = {
      type: new Map(),
      patch: new Map(),
      way: new Map(),
    };
    /** Questions whose document is to go out first. */
    const later: Beside[] = [];
    /** Files that are being read. Until then it isn't known which document the worker has. */
    const reads = new Map<number, (found: Result<Show, LoadError> | null) => void>();
    /** The shows in them, which come ahead of what arrives where. */
    const seen = new Map<number, Show>();
    let held = false;
    let serials = 0;

    const send = (): void => {
      if (!wanted || asked) return;
      if (reads.size > 0) {
        held = true;
        return;
      }
      port.postMessage({ kind: "show", delta: deltaOf(answered?.show ?? null, wanted) });
      asked = wanted;
      for (const question of later.splice(0)) port.postMessage(question);
    };
    const fail = (): void => {
      if (failed) return;
      failed = answered ?? first;
      giveUpDrawn();
      if (wanted) answer((failed = analyse(wanted)));
      later.length = 0;
      for (const asked of Object.values(waiting)) {
        for (const each of asked.values()) each.giveUp(failed);
        asked.clear();
      }
      const unread = [...reads.values()];
      reads.clear();
      for (const take of unread) take(null);
    };
    const hear = <Kind extends Beside["kind"]>(kind: Kind, answer: Told[Kind]): void => {
      waiting[kind].get(answer.serial)?.hear(answer);
      waiting[kind].delete(answer.serial);
    };
    /** Asks about a document, which goes to the worker first if it isn't there or on its way. */
    const askOf = <Kind extends "type" | "patch", Said>(
      kind: Kind,
      show: Show,
      question: (serial: number) => Beside,
      read: (answer: Told[Kind]) => Said,
      here: (analysis: Analysis) => Said,
    ): Promise<Said> => {
      if (failed || reads.size > 0)
        return Promise.resolve(here(reanalyse(show, failed ?? answered ?? first)));
      const serial = ++serials;
      return new Promise((take) => {
        waiting[kind].set(serial, {
          hear: (answer) => take(read(answer)),
          giveUp: (known) => take(here(reanalyse(show, known))),
        });
        // Questions are answered in their order, so it is the document on its way that counts, if there is one.
        if ((asked ?? answered?.show) === show) return port.postMessage(question(serial));
        later.push(question(serial));
        wanted = show;
        send();
      });
    };
    /** Takes what the worker has made of a file, and goes on with edits that came meanwhile. */
    const readFrom = (answer: ReadAnswer, show: Show | null): Result<Show, LoadError> | null => {
      if (!answer.error && show) {
        answered = unpack(show, answer.parcel, null);
        awaitDrawn(show);
      }
      if (held && reads.size === 0) {
        held = false;
        send();
      }
      return answer.error ? err(answer.error) : show && ok(show);
    };
    port.addEventListener("error", fail);
    port.addEventListener("messageerror", fail);
    port.addEventListener("message", ({ data }) => {
      if (data.kind === "drawn") return noteDrawn(data.drawn);
      if (failed) return;
      if (data.kind === "seen") return void seen.set(data.serial, data.show);
      if (data.kind === "read") {
        const take = reads.get(data.serial);
        const show = seen.get(data.serial) ?? null;
        reads.delete(data.serial);
        seen.delete(data.serial);
        take?.(readFrom(data, show));
        return;
      }
      if (data.kind === "type") return hear("type", data);
      if (data.kind === "patch") return hear("patch", data);
      if (data.kind === "way") return hear("way", data);
      if (!asked) return;
      answered = unpack(asked, data.parcel, answered);
      const isLatest = asked === wanted;
      asked = null;
      if (isLatest) answer(answered);
      else send();
    });

    return {
      ask(show) {
        if (failed) return (failed = reanalyse(show, failed));
        wanted = show;
        if (answered?.show === show && !asked) return answered;
        send();
        return null;
      },

      async read(text, as) {
        if (failed) return readHere(text, as);
        const begun = takeBegun();
        const serial = ++serials;
        const found = await new Promise<Result<Show, LoadError> | null>((take) => {
          reads.set(serial, take);
          if (begun?.text !== text || begun.as !== as)
            return port.postMessage({ kind: "read", serial, text, as });
          void begun.answer.then((early) => {
            reads.delete(serial);
            if (failed) return;
            if (!early) {
              fail();
              return take(null);
            }
            take(readFrom(early.answer, early.show));
            void begun.drawn.then(noteDrawn);
          });
        });
        return found ?? readHere(text, as);
      },

      tryType: (show, type) =>
        askOf(
          "type",
          show,
          (serial) => ({ kind: "type", serial, type }),
          ({ change }) => change,
          (analysis) => changeTypeIn(analysis, type),
        ),

      patch: (show, what) =>
        askOf(
          "patch",
          show,
          (serial) => ({ kind: "patch", serial, what }),
          ({ patching }) => patching,
          (analysis) => patchPlanned(analysis, what),
        ),

      findWay(rig, sources, targets) {
        const here = (): Way | NoWay => wayFor(rig, sources, targets);
        // The worker's rig is another one while it is at work on an edit: its terminals may have other numbers.
        if (failed || asked || reads.size > 0 || answered !== rig) return Promise.resolve(here());
        const serial = ++serials;
        return new Promise((take) => {
          waiting.way.set(serial, {
            hear: (answer) => take(foundFrom(answer, rig)),
            giveUp: () => take(here()),
          });
          port.postMessage({ kind: "way", serial, sources, targets });
        });
      },
    };
  };

function foundFrom(found: Extract<Answer, { readonly kind: "way" }>, rig: Analysis): Way | NoWay {
  if (found.none) return found.none;
  const { way, after } = found;
  return { ...way, after: unpack(applyEdits(rig.show, way.edits), after, rig) };
}
