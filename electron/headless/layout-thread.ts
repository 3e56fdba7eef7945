/** The layout library in a thread of its own, so that tables and lists are made while it thinks. */
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { remembering, type Elk, type ElkAnswer, type ElkRequest } from "#engine/paperwork/signal-flow/elk.ts";

export interface LayoutQuestion {
  readonly serial: number;
  readonly graph: ElkRequest;
}

export interface LayoutAnswer {
  readonly serial: number;
  /** Null: the library failed, as `problem` says. */
  readonly layout: ElkAnswer | null;
  readonly problem: string;
}

/** Beside the program, as `build/build.mjs` puts it. */
const PROGRAM = "headless-layouts.js";

let thread: Promise<Elk> | null = null;

/** Asked for the first time it starts the thread, which doesn't keep the program from ending. */
export const layoutThread = (): Promise<Elk> => (thread ??= Promise.resolve(remembering(started())));

interface Waiting {
  readonly resolve: (layout: ElkAnswer) => void;
  readonly reject: (reason: Error) => void;
}

function started(): Elk {
  const worker = new Worker(join(dirname(fileURLToPath(import.meta.url)), PROGRAM));
  const waiting = new Map<number, Waiting>();
  let serials = 0;
  const end = (reason: Error): void => {
    for (const { reject } of waiting.values()) reject(reason);
    waiting.clear();
  };
  worker.on("error", end);
  worker.on("exit", () => end(new Error("the layout library ended too early")));
  worker.on("message", ({ serial, layout, problem }: LayoutAnswer) => {
    const asked = waiting.get(serial);
    waiting.delete(serial);
    if (waiting.size === 0) worker.unref();
    if (layout) asked?.resolve(layout);
    else asked?.reject(new Error(problem));
  });
  worker.unref();
  return {
    layout: (graph) =>
      new Promise((resolve, reject) => {
        const serial = ++serials;
        waiting.set(serial, { resolve, reject });
        worker.ref();
        worker.postMessage({ serial, graph } satisfies LayoutQuestion);
      }),
  };
}
