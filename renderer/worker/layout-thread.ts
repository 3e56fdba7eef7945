/**
 * The layout library in a thread of its own. Its program is taken as it is, as a script: a bundler would wrap it in a
 * function, and V8 would read its 1.6 MB twice.
 */
import ElkApi from "elkjs/lib/elk-api.js";
import program from "elkjs/lib/elk-worker.min.js?url";
import type { ELK } from "elkjs/lib/elk-api.js";
import type { Elk } from "#engine/paperwork/signal-flow/elk.ts";

export const layoutThread = (): Elk => new ElkApi({ workerFactory: () => new Worker(program) }) as Elk;

/** The same for other graphs than those of papers. `failed`: there are no threads here, or this one came to an end. */
export const watchedLayoutThread = (failed: () => void): ELK =>
  new ElkApi({
    workerFactory: () => {
      const thread = new Worker(program);
      thread.addEventListener("error", failed);
      return thread;
    },
  });
