/** The page's side of the engine's worker. */
import {
  analyse,
  applyEdits,
  changeTypeIn,
  err,
  ok,
  reanalyse,
  unpack,
  wayFor,
  type Analysis,
  type DeviceType,
  type LoadError,
  type NoWay,
  type Parcel,
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

/** A way that is waited for. */
interface Sought {
  readonly rig: Analysis;
  readonly sources: readonly number[];
  readonly targets: readonly number[];
  readonly take: (found: Way | NoWay) => void;
}

/** What a version would break, waited for. */
interface Tried {
  readonly show: Show;
  readonly type: DeviceType;
  readonly take: (change: TypeChange) => void;
}

const changeHere = (analysis: Analysis | null, { show, type }: Pick<Tried, "show" | "type">): TypeChange =>
  changeTypeIn(analysis?.show === show ? analysis : analyse(show), type);

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
    const sought = new Map<number, Sought>();
    const tried = new Map<number, Tried>();
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
    };
    const fail = (): void => {
      if (failed) return;
      failed = answered ?? first;
      giveUpDrawn();
      if (wanted) answer((failed = analyse(wanted)));
      for (const { rig, sources, targets, take } of sought.values()) take(wayFor(rig, sources, targets));
      sought.clear();
      for (const each of tried.values()) each.take(changeHere(failed, each));
      tried.clear();
      const waiting = [...reads.values()];
      reads.clear();
      for (const take of waiting) take(null);
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
      if (data.kind === "type") {
        tried.get(data.serial)?.take(data.change);
        tried.delete(data.serial);
        return;
      }
      if (data.kind === "way") {
        const way = sought.get(data.serial);
        sought.delete(data.serial);
        way?.take(foundFrom(data, way.rig));
        return;
      }
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

      tryType(show, type) {
        // Questions are answered in their order, so it is the document on its way that counts, if there is one.
        const there = asked ?? answered?.show;
        if (failed || reads.size > 0 || there !== show)
          return Promise.resolve(changeHere(failed ?? answered, { show, type }));
        const serial = ++serials;
        return new Promise((take) => {
          tried.set(serial, { show, type, take });
          port.postMessage({ kind: "type", serial, type });
        });
      },

      findWay(rig, sources, targets) {
        // The worker's rig is another one while it is at work on an edit: its terminals may have other numbers.
        if (failed || asked || reads.size > 0 || answered !== rig)
          return Promise.resolve(wayFor(rig, sources, targets));
        const serial = ++serials;
        return new Promise((take) => {
          sought.set(serial, { rig, sources, targets, take });
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
