/** The page's side of the engine's worker. */
import { analyse, reanalyse, unpack, type Analysis, type Parcel, type Show } from "#engine";
import type { MakeAnalyst } from "../state/analyst.ts";
import { deltaOf, type ShowDelta } from "./delta.ts";

/** What goes to the worker: the first is a whole document. */
export interface Question {
  readonly delta: ShowDelta;
}

/** The part of a `Worker` that is used. */
export interface WorkerPort {
  postMessage(question: Question): void;
  addEventListener(type: "message", listener: (event: MessageEvent<Parcel>) => void): void;
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

    const send = (): void => {
      if (!wanted || asked) return;
      port.postMessage({ delta: deltaOf(answered?.show ?? null, wanted) });
      asked = wanted;
    };
    const fail = (): void => {
      if (failed) return;
      failed = answered ?? first;
      if (wanted) answer((failed = analyse(wanted)));
    };
    port.addEventListener("error", fail);
    port.addEventListener("messageerror", fail);
    port.addEventListener("message", ({ data }) => {
      if (failed || !asked) return;
      answered = unpack(asked, data, answered);
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
    };
  };
