/** The layout library in a thread of its own. */
import ElkApi from "elkjs/lib/elk-api.js";
import type { Elk } from "#engine/paperwork/signal-flow/elk.ts";

export const layoutThread = (): Elk =>
  new ElkApi({
    workerFactory: () => new Worker(new URL("./layout.worker.ts", import.meta.url), { type: "module" }),
  }) as Elk;
