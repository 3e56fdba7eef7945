/**
 * Who makes papers for the page: a worker of their own, so that neither the window nor the analysis waits for them. It is
 * started for the first question and ended with its owner. One that fails is done without.
 */
import type { Analysis, Show } from "#engine";
import type { Sheet } from "#engine/paperwork/page.ts";
import type { Elk } from "#engine/paperwork/signal-flow/elk.ts";
import type { SheetEntry } from "#engine/paperwork/sheets/entry.ts";
import {
  fileOf,
  jobs,
  type FileWish,
  type PaperAnswer,
  type PaperQuestion,
  type SheetOrder,
} from "./paper-answers.ts";

export interface PaperMill {
  /** Rejects where the sheet can't be made, which is a bug of ours. */
  sheet(entry: SheetEntry, order: SheetOrder): Promise<Sheet>;
  file(wish: FileWish): Promise<string>;
  /** Ends whatever is being made. It can be asked again. */
  close(): void;
}

/** The part of a `Worker` that is used. */
export interface PaperPort {
  postMessage(question: PaperQuestion): void;
  addEventListener(type: "message", listener: (event: MessageEvent<PaperAnswer>) => void): void;
  addEventListener(type: "error" | "messageerror", listener: (event: Event) => void): void;
  terminate(): void;
}

/** Makes them in this thread. */
export function millHere(analysis: Analysis, elk: () => Promise<Elk>): PaperMill {
  const jobOf = jobs(analysis);
  return {
    sheet: async (entry, order) => entry.make(jobOf(order), { elk, diagram: order.diagram }),
    file: (wish) => Promise.resolve(fileOf(analysis, wish)),
    close: () => {},
  };
}

interface Asked {
  readonly take: (answer: PaperAnswer) => void;
  /** What it would be in this thread. */
  readonly here: () => void;
}

/** `start`: a new worker; null where there is none. `here`: who makes them then. */
export function millInWorker(show: Show, start: () => PaperPort | null, here: PaperMill): PaperMill {
  const asked = new Map<number, Asked>();
  let port: PaperPort | null = null;
  let hasFailed = false;
  let serials = 0;

  const fail = (): void => {
    hasFailed = true;
    const left = [...asked.values()];
    close();
    for (const { here: make } of left) make();
  };
  const close = (): void => {
    port?.terminate();
    port = null;
    asked.clear();
  };
  const running = (forSheets: boolean): PaperPort | null => {
    if (port || hasFailed) return port;
    port = start();
    if (!port) {
      hasFailed = true;
      return null;
    }
    port.addEventListener("error", fail);
    port.addEventListener("messageerror", fail);
    port.addEventListener("message", ({ data }) => {
      const known = asked.get(data.serial);
      asked.delete(data.serial);
      known?.take(data);
    });
    port.postMessage({ kind: "show", show: withoutHistory(show), forSheets });
    return port;
  };

  function ask<Value>(
    question: (serial: number) => Exclude<PaperQuestion, { kind: "show" }>,
    read: (answer: PaperAnswer) => Value,
    make: () => Promise<Value>,
  ): Promise<Value> {
    const serial = ++serials;
    const asking = question(serial);
    const worker = running(asking.kind === "sheet");
    if (!worker) return make();
    return new Promise((resolve, reject) => {
      asked.set(serial, {
        take: (answer) => {
          if (answer.kind === "problem") reject(new Error(answer.problem));
          else resolve(read(answer));
        },
        here: () => void make().then(resolve, reject),
      });
      worker.postMessage(asking);
    });
  }

  return {
    sheet: (entry, order) =>
      ask(
        (serial) => ({ kind: "sheet", serial, id: entry.id, signal: entry.signal ?? null, order }),
        (answer) => (answer as Extract<PaperAnswer, { kind: "sheet" }>).sheet,
        () => here.sheet(entry, order),
      ),
    file: (wish) =>
      ask(
        (serial) => ({ kind: "file", serial, wish }),
        (answer) => (answer as Extract<PaperAnswer, { kind: "file" }>).text,
        () => here.file(wish),
      ),
    close,
  };
}

/** Papers name the last revision and look no further back; what the show was then is large. */
const withoutHistory = (show: Show): Show => ({
  ...show,
  revisions: show.revisions.slice(-1).map(({ name, date, note }) => ({ name, date, note })),
});

/** The mill of the window. */
export function millFor(analysis: Analysis, elk: () => Promise<Elk>): PaperMill {
  const here = millHere(analysis, elk);
  if (typeof Worker === "undefined") return here;
  const start = (): PaperPort | null => {
    try {
      return new Worker(new URL("./paper.worker.ts", import.meta.url), { type: "module" });
    } catch {
      return null;
    }
  };
  return millInWorker(analysis.show, start, here);
}
