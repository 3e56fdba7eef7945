/**
 * The longest time from any source to a terminal: through channels and mixes, which a trace doesn't pass. Worked out for
 * all taps at once, each member of each mix looked at once. The D6 rule of SPEC.md.
 */
import { gather } from "../model/once.ts";
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
  const { time, brings, wayInto } = worstOfTaps(wiring, found);
  return (terminal) => {
    if (!arrivesAt(wiring, found, terminal)) return null;
    const root = found.root[terminal]!;
    const ways: (readonly number[])[] = [];
    let origin = root;
    for (let member = brings(origin); member >= 0; member = brings(origin)) {
      ways.push(wayInto(origin));
      origin = found.root[member]!;
    }
    return { time: ms(time[root]! + found.delay[terminal]!), origin, taps: ways.toReversed().flat() };
  };
}

interface Worst {
  /** Of each tap the longest time to it. */
  readonly time: Float64Array;
  /** What brings it: a member that comes from outside the tap's circle; −1 where nothing arrives, and of what is no tap. */
  brings(tap: number): number;
  /** The taps of its circle that it passes, the tap itself last. */
  wayInto(tap: number): readonly number[];
}

/** From one mix of a circle on to another that takes it. */
interface Onward {
  readonly tap: number;
  readonly delay: number;
}

/** Mixes that feed each other: the way on from each to the others. */
type Circle = ReadonlyMap<number, readonly Onward[]>;

/** What comes round in large circles is followed so many times, so that no file can make this take for ever. */
const MOST_LOOKS = 2_000_000;

/** Depth first over the mix table (Tarjan 1972), with a stack of its own. A circle is settled after all that it takes. */
function worstOfTaps(wiring: Wiring, found: Arrivals): Worst {
  const { size, state, devices, deviceOf, mixInto } = wiring;
  const time = new Float64Array(size);
  /** Of each tap the member from outside its circle that takes longest, and the time with it. */
  const outer = new Int32Array(size).fill(-1);
  const until = new Float64Array(size);
  /** Of each tap the one of its circle that what takes longest comes in by; mostly itself. */
  const entry = new Int32Array(size).fill(-1);
  const circleAt = new Map<number, Circle>();
  let looks = 0;

  const met = new Int32Array(size);
  const low = new Int32Array(size);
  const settled = new Uint8Array(size);
  /** Of each tap the member that is looked at next. */
  const next = mixInto.start.slice();
  const path: number[] = [];
  const open: number[] = [];
  let count = 0;
  for (let start = 0; start < size; start++) {
    if (state[start] !== State.tap || met[start] !== 0) continue;
    visit(start);
    for (let tap = path.at(-1); tap !== undefined; tap = path.at(-1)) {
      if (next[tap]! < mixInto.start[tap + 1]!) {
        const from = tapBehind(mixInto.terminal[next[tap]!++]!);
        if (from < 0 || settled[from] === 1) continue;
        if (met[from] === 0) visit(from);
        else low[tap] = Math.min(low[tap]!, met[from]!);
        continue;
      }
      path.pop();
      const above = path.at(-1);
      if (above !== undefined) low[above] = Math.min(low[above]!, low[tap]!);
      if (low[tap] === met[tap]) settle(open.splice(open.lastIndexOf(tap)));
    }
  }
  return {
    time,
    brings: (tap) => outer[entry[tap]!] ?? -1,
    wayInto(tap) {
      const circle = circleAt.get(tap);
      if (!circle) return [tap];
      const reached = goRound(circle, entry[tap]!);
      const way: number[] = [];
      for (let at = tap; at >= 0; at = reached.get(at)!.before) way.push(at);
      return way.reverse();
    },
  };

  function visit(tap: number): void {
    met[tap] = low[tap] = ++count;
    path.push(tap);
    open.push(tap);
  }

  /** The tap that a member comes from; −1: from a source, or nothing arrives. */
  function tapBehind(member: number): number {
    const root = found.root[member]!;
    return arrivesAt(wiring, found, member) && state[root] === State.tap ? root : -1;
  }

  function stepInto(tap: number, member: number): number {
    const desk = devices[deviceOf[tap]!]!;
    return found.delay[member]! + delayMs(processingOf(desk, member, tap), desk.rate);
  }

  /** `taps`: one tap, or all that feed each other. What they take from elsewhere is settled. */
  function settle(taps: readonly number[]): void {
    const circle = new Map<number, Onward[]>();
    for (const tap of taps) {
      for (let n = mixInto.start[tap]!; n < mixInto.start[tap + 1]!; n++) {
        const member = mixInto.terminal[n]!;
        if (!arrivesAt(wiring, found, member)) continue;
        const root = found.root[member]!;
        const delay = stepInto(tap, member);
        if (state[root] === State.tap && settled[root] === 0) gather(circle, root, { tap, delay });
        else if (outer[tap]! < 0 || time[root]! + delay > until[tap]!) {
          outer[tap] = member;
          until[tap] = time[root]! + delay;
        }
      }
    }
    for (const tap of taps) {
      settled[tap] = 1;
      entry[tap] = tap;
      time[tap] = until[tap]!;
      if (taps.length > 1) circleAt.set(tap, circle);
    }
    if (taps.length === 1) return;
    // What takes longest goes first, so that what is left out past the limit matters least.
    const entries = taps.filter((tap) => outer[tap]! >= 0).sort((a, b) => until[b]! - until[a]! || a - b);
    for (const from of entries) {
      if (looks > MOST_LOOKS) break;
      for (const [tap, { delay }] of goRound(circle, from)) {
        if (outer[entry[tap]!]! >= 0 && until[from]! + delay <= time[tap]!) continue;
        entry[tap] = from;
        time[tap] = until[from]! + delay;
      }
    }
  }

  /** From one mix of a circle to all others, through as few as can be, and of those the way that takes longest. */
  function goRound(circle: Circle, from: number): ReadonlyMap<number, Reached> {
    const reached = new Map<number, Reached>([[from, { delay: 0, before: -1 }]]);
    for (let front = new Map(reached); front.size > 0;) {
      const further = new Map<number, Reached>();
      for (const [before, { delay: sofar }] of front) {
        for (const { tap, delay } of circle.get(before) ?? []) {
          looks++;
          if (reached.has(tap) || (further.get(tap)?.delay ?? -1) >= sofar + delay) continue;
          further.set(tap, { delay: sofar + delay, before });
        }
      }
      for (const [tap, each] of further) reached.set(tap, each);
      front = further;
    }
    return reached;
  }
}

interface Reached {
  readonly delay: number;
  /** The mix before it; −1 at the one where the way begins. */
  readonly before: number;
}
