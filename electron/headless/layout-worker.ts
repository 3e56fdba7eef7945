/** The thread that `layout-thread.ts` starts: lays out what it is asked. */
import { parentPort } from "node:worker_threads";
import type { ElkAnswer } from "#engine/paperwork/signal-flow/elk.ts";
import { layoutLibrary } from "./layout-library.ts";
import type { LayoutAnswer, LayoutQuestion } from "./layout-thread.ts";

const port = parentPort;
if (!port) throw new Error("layouts are served to another thread only");
// Loaded before the first question comes.
const library = layoutLibrary();
port.on("message", ({ serial, graph }: LayoutQuestion) => {
  void library
    .then((elk) => elk.layout(graph) as Promise<ElkAnswer>)
    .then(
      (layout): LayoutAnswer => ({ serial, layout, problem: "" }),
      (error: unknown): LayoutAnswer => ({ serial, layout: null, problem: String(error) }),
    )
    .then((answer) => port.postMessage(answer));
});
