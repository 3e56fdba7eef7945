/**
 * The longest time from any source to a terminal: through channels and mixes, which a trace doesn't pass. Worked out for
 * all taps at once, each member of each mix looked at once. The D6 and D7 rules of SPEC.md.
 */
import { ms, type Ms } from "../model/units.ts";
import { processingOf } from "../wiring/processing.ts";
import { delayMs } from "../wiring/sheet.ts";
import { State, type Wiring } from "../wiring/wiring.ts";
import type { Arrivals } from "./arrivals.ts";
import { arrivesAt } from "./owners.ts";

export interface Latency {
  readonly time: Ms;
  /** The source's jack, or the tap that the time is counted from where nothing arrives in it. */
  readonly origin: number;
  /** The taps on the way, in the direction of the signal; `origin` left out. */
  readonly taps: readonly number[];
}

/** The longest time to each terminal; null where nothing arrives. */
export function latencies(wiring: Wiring, found: Arrivals): (terminal: number) => Latency | null {
  const { time, member } = worstOfTaps(wiring, found);
  const arriving = (terminal: number): number | null =>
    arrivesAt(wiring, found, terminal) ? found.root[terminal]! : null;
  return (terminal) => {
    let origin = arriving(terminal);
    if (origin === null) return null;
    const total = ms(time[origin]! + found.delay[terminal]!);
    const taps: number[] = [];
    while (member[origin]! >= 0) {
      taps.push(origin);
      origin = found.root[member[origin]!]!;
    }
    return { time: total, origin, taps: taps.reverse() };
  };
}

/** For each tap the longest time to it, and the member that brings it; −1 where nothing arrives in the tap. */
interface Worst {
  readonly time: Float64Array;
  readonly member: Int32Array;
}

const UNSEEN = 0;
const OPEN = 1;
const DONE = 2;

/**
 * Depth first over the mix table, with a stack of its own. A mix that is met while it is being worked out, since mixes
 * feed each other, adds nothing there: what comes round counts for the first time round.
 */
function worstOfTaps(wiring: Wiring, found: Arrivals): Worst {
  const { size, state, devices, deviceOf, mixInto } = wiring;
  const time = new Float64Array(size);
  const member = new Int32Array(size).fill(-1);
  const progress = new Uint8Array(size);
  /** Of each tap the member that is looked at next. */
  const next = mixInto.start.slice();
  const open: number[] = [];
  for (let start = 0; start < size; start++) {
    if (state[start] !== State.tap || progress[start] !== UNSEEN) continue;
    visit(start);
    for (let tap = open.at(-1); tap !== undefined; tap = open.at(-1)) {
      if (next[tap] === mixInto.start[tap + 1]) {
        progress[tap] = DONE;
        open.pop();
        continue;
      }
      const from = mixInto.terminal[next[tap]!]!;
      const root = found.root[from]!;
      const arrives = arrivesAt(wiring, found, from);
      const isTap = arrives && state[root] === State.tap;
      if (isTap && progress[root] === UNSEEN) {
        visit(root);
        continue;
      }
      next[tap]!++;
      if (!arrives || (isTap && progress[root] !== DONE)) continue;
      const desk = devices[deviceOf[tap]!]!;
      const until = time[root]! + found.delay[from]! + delayMs(processingOf(desk, from, tap), desk.rate);
      if (member[tap]! >= 0 && until <= time[tap]!) continue;
      time[tap] = until;
      member[tap] = from;
    }
  }
  return { time, member };

  function visit(tap: number): void {
    progress[tap] = OPEN;
    open.push(tap);
  }
}
