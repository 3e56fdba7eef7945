/** How the traces of a rig end, each told once for the place where it ends: what exports say of thousands of terminals. */
import type { Analysis } from "../analysis.ts";
import { LOOP } from "./arrivals.ts";
import { ownerIndex } from "./owners.ts";
import { originName, verdictText } from "./told.ts";
import type { VerdictKind } from "./trace.ts";
import { traceOf } from "./walk.ts";

export interface End {
  readonly verdict: VerdictKind;
  /** The verdict in words, as `verdictText` tells it. */
  readonly reason: string;
  /** Tap or source; empty where nothing arrives. */
  readonly origin: string;
  /** Index of the device that owns what arrives; −1: none does (O1, J3). */
  readonly owner: number;
}

/** The end of any terminal's trace. Those of one root, and those that run into one loop, share one object. */
export function endsOf({ wiring, arrivals }: Analysis): (terminal: number) => End {
  const { root } = arrivals;
  const { feeder } = wiring;
  const known = new Map<number, End>();

  const told = (terminal: number): End => {
    const trace = traceOf(wiring, terminal);
    const { verdict } = trace;
    return {
      verdict: verdict.kind,
      reason: verdictText(wiring, trace),
      origin: verdict.kind === "arrives" ? originName(wiring, verdict.origin) : "",
      owner: ownerIndex(wiring, arrivals, terminal),
    };
  };

  return (terminal) => {
    const looped = root[terminal] === LOOP;
    const start = looped ? terminal : root[terminal]!;
    const found = known.get(start);
    if (found) return found;
    const path: number[] = [start];
    let end: End | undefined;
    if (looped) {
      // What hangs on a loop says the same as the loop: go up to what is known of it, or once around.
      const seen = new Set(path);
      for (let at = feeder[start]!; !end && !seen.has(at); at = feeder[at]!) {
        end = known.get(at);
        seen.add(at);
        path.push(at);
      }
    }
    end ??= told(start);
    for (const at of path) known.set(at, end);
    return end;
  };
}
