/**
 * Lays out a graph in a thread of its own, which is kept for the next one. Where no thread can be had the page's own does
 * it. One graph at a time.
 */
import type { ELK, ElkNode } from "elkjs/lib/elk-api.js";
import { layoutLibrary } from "./layout-library.ts";

let thread: ELK | null = null;
/** What is to be done when the thread comes to an end by itself. */
let failed: () => void = () => {};

function end(): void {
  thread?.terminateWorker();
  thread = null;
}

/** Null: called off. */
export function layOut(graph: ElkNode, callOff: AbortSignal): Promise<ElkNode | null> {
  return new Promise((resolve, reject) => {
    failed = () => {
      end();
      inPage(graph).then(resolve, reject);
    };
    callOff.addEventListener("abort", () => {
      end();
      resolve(null);
    });
    begin().then(
      (there) => {
        if (!callOff.aborted) there.layout(graph).then(resolve, reject);
      },
      () => failed(),
    );
  });
}

async function begin(): Promise<ELK> {
  const { watchedLayoutThread } = await import("../worker/layout-thread.ts");
  return (thread ??= watchedLayoutThread(() => failed()));
}

const inPage = async (graph: ElkNode): Promise<ElkNode> => (await layoutLibrary()).layout(graph);
