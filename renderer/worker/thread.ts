/** The engine's own thread, and a file that it reads while the window's own scripts are still on their way. */
import type { ShowId } from "#engine/model/ids.ts";
import type { Drawn } from "../canvas/drawn.ts";
import type { Show } from "#engine/model/show.ts";
import type { Answer, Question, ReadAnswer } from "./analyst.ts";

export interface BegunRead {
  readonly text: string;
  readonly as: ShowId | null;
  /** Null: the thread has failed. */
  readonly answer: Promise<{ readonly answer: ReadAnswer; readonly show: Show | null } | null>;
  /** Ways of its cables, which come later. */
  readonly drawn: Promise<Drawn>;
}

let thread: Worker | null = null;
let begun: BegunRead | null = null;

/** Null where there are no workers, as in a test. */
export function engineThread(): Worker | null {
  if (typeof Worker === "undefined") return null;
  return (thread ??= new Worker(new URL("./engine.worker.ts", import.meta.url), { type: "module" }));
}

/** The number of the read that is begun here; those of the store are counted from 1 on. */
export const FIRST_READ = 0;

export function beginRead(text: string, as: ShowId | null): void {
  const port = engineThread();
  if (!port) return;
  const told = (take: (answer: Answer) => void): void =>
    port.addEventListener("message", ({ data }: MessageEvent<Answer>) => take(data));
  const answer = new Promise<Awaited<BegunRead["answer"]>>((resolve) => {
    let show: Show | null = null;
    told((each) => {
      if (each.kind === "seen") see((show = each.show));
      if (each.kind !== "read") return;
      see(show);
      resolve({ answer: each, show });
    });
    port.addEventListener("error", () => {
      see(null);
      resolve(null);
    });
  });
  const drawn = new Promise<Drawn>((resolve) => told((each) => each.kind === "drawn" && resolve(each.drawn)));
  begun = { text, as, answer, drawn };
  port.postMessage({ kind: "read", serial: FIRST_READ, text, as, waits: true } satisfies Question);
}

/**
 * The show that was seen early is on the screen: now its signals. Until then the engine leaves the processor to what draws
 * it, which two cores don't have to spare.
 */
export const goOn = (): void => engineThread()?.postMessage({ kind: "go-on" } satisfies Question);

let see: (show: Show | null) => void = () => {};
const seen = new Promise<Show | null>((resolve) => (see = resolve));
/** The show in the file of the read that was begun early, before it is analysed. Null: there is none. */
export const firstSeen = (): Promise<Show | null> => (begun ? seen : Promise.resolve(null));

/** The read that was begun early, once. */
export function takeBegun(): BegunRead | null {
  const taken = begun;
  begun = null;
  return taken;
}
