/**
 * The thread that `layout-thread.ts` starts: lays out what it is asked, one after the other, so that each answer is on its
 * way before the next question is thought about.
 */
import { parentPort, workerData } from "node:worker_threads";
import type { ElkAnswer } from "#engine/paperwork/signal-flow/elk.ts";
import { keepLayoutCode, layoutLibrary } from "./layout-code.ts";
import type { LayoutAnswer, LayoutQuestion } from "./layout-thread.ts";

const port = parentPort;
if (!port) throw new Error("layouts are served to another thread only");
if (workerData === "keep") await keepLayoutCode();
else {
  const elk = layoutLibrary();
  let last: Promise<void> = Promise.resolve();
  port.on("message", ({ serial, graph }: LayoutQuestion) => {
    last = last
      .then(() => elk.layout(graph))
      .then(
        (layout: ElkAnswer): LayoutAnswer => ({ serial, layout, problem: "" }),
        (error: unknown): LayoutAnswer => ({ serial, layout: null, problem: String(error) }),
      )
      .then((answer) => port.postMessage(answer));
  });
}
