/** The page's side of the engine's worker. */
import {
  analyse,
  applyEdits,
  reanalyse,
  unpack,
  wayFor,
  type Analysis,
  type NoWay,
  type Parcel,
  type Show,
  type Way,
} from "#engine";
import type { MakeAnalyst } from "../state/analyst.ts";
import { deltaOf, type ShowDelta } from "./delta.ts";

/** What goes to the worker: documents, of which the first is a whole one, and ways over the last of them. */
export type Question =
  | { readonly kind: "show"; readonly delta: ShowDelta }
  | {
      readonly kind: "way";
      readonly serial: number;
      readonly sources: readonly number[];
      readonly targets: readonly number[];
    };

export type Answer =
  | { readonly kind: "show"; readonly parcel: Parcel }
  /** `after`: what differs in the rig with the way's settings. */
  | { readonly kind: "way"; readonly serial: number; readonly none: NoWay }
  | {
      readonly kind: "way";
      readonly serial: number;
      readonly none: null;
      readonly way: Omit<Way, "after">;
      readonly after: Parcel;
    };

/** A way that is waited for. */
interface Sought {
  readonly rig: Analysis;
  readonly sources: readonly number[];
  readonly targets: readonly number[];
  readonly take: (found: Way | NoWay) => void;
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
  (port: WorkerPort): MakeAnalyst =>
  (first, answer) => {
    let wanted: Show | null = null;
    let asked: Show | null = null;
    let answered: Analysis | null = null;
    let failed: Analysis | null = null;
    const sought = new Map<number, Sought>();
    let serials = 0;

    const send = (): void => {
      if (!wanted || asked) return;
      port.postMessage({ kind: "show", delta: deltaOf(answered?.show ?? null, wanted) });
      asked = wanted;
    };
    const fail = (): void => {
      if (failed) return;
      failed = answered ?? first;
      if (wanted) answer((failed = analyse(wanted)));
      for (const { rig, sources, targets, take } of sought.values()) take(wayFor(rig, sources, targets));
      sought.clear();
    };
    port.addEventListener("error", fail);
    port.addEventListener("messageerror", fail);
    port.addEventListener("message", ({ data }) => {
      if (failed) return;
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

      findWay(rig, sources, targets) {
        // The worker's rig is another one while it is at work on an edit: its terminals may have other numbers.
        if (failed || asked || answered !== rig) return Promise.resolve(wayFor(rig, sources, targets));
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
