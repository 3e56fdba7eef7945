/**
 * Downstream: every jack that a terminal's signal reaches, through channels and mixes, each with its trace. All
 * branches are told, in a fixed order: by jack, then by the way taken.
 */
import { mixOutOf } from "../wiring/mixes.ts";
import { State, type Wiring } from "../wiring/wiring.ts";
import { mixStep } from "./members.ts";
import { locate, terminalOf } from "./terminal.ts";
import { traces, type Origin, type Step, type Trace } from "./trace.ts";
import { stepInto } from "./walk.ts";

/** Two ways that part and meet again multiply; past this many branches the rest is left out. */
export const MOST_BRANCHES = 5000;
/** Steps of all branches together; a rig built to wind has long ones. */
export const MOST_STEPS = 200_000;

export interface Reach {
  /** One for each branch that ends at, or passes, an output jack or a jack with nothing behind it. */
  readonly traces: readonly Trace[];
  /** False: there were more than `MOST_BRANCHES`, or they were longer than `MOST_STEPS` together. */
  readonly complete: boolean;
}

/** A terminal on the way down, with what led there; the steps of a branch are told once it has come to a jack. */
interface Way {
  readonly terminal: number;
  readonly before: Way | null;
  /** Place in `mixOutOf` of the mix that was passed last; −1: fed straight. */
  readonly mixed: number;
  readonly length: number;
}

/** Where the signal that stands on `start` goes. `start` need not be an origin; the traces begin there. */
export function reachOf(wiring: Wiring, start: number): Reach {
  const { downStart, downList } = wiring;
  const out = mixOutOf(wiring);
  const found: { readonly terminal: number; readonly trace: Trace }[] = [];
  const origin = originAt(wiring, start);
  const leads = leadingToJacks(wiring, start);
  const onPath = new Set<number>();
  let visits = 0;
  let told = 0;
  let complete = true;
  // Depth first with a stack of its own, since a way can be as long as the rig has terminals. Null ends a terminal's turn.
  const path: number[] = [];
  const open: (Way | null)[] = [{ terminal: start, before: null, mixed: -1, length: 0 }];
  while (open.length > 0) {
    const way = open.pop()!;
    if (way === null) {
      onPath.delete(path.pop()!);
      continue;
    }
    const { terminal, length } = way;
    if (onPath.has(terminal)) continue;
    if (found.length >= MOST_BRANCHES || told + length > MOST_STEPS || ++visits > MOST_STEPS) {
      complete = false;
      break;
    }
    if (isEnd(wiring, start, terminal)) {
      told += length;
      const target = terminalOf(wiring, terminal);
      found.push({ terminal, trace: traces.arrives(target, origin, stepsTo(wiring, way)) });
    }
    onPath.add(terminal);
    path.push(terminal);
    open.push(null);
    const onward = (next: number, mixed: number): void => {
      if (leads.has(next)) open.push({ terminal: next, before: way, mixed, length: length + 1 });
    };
    // What is pushed last is taken first: feeders before mixes, each in ascending order.
    for (let n = out.start[terminal + 1]! - 1; n >= out.start[terminal]!; n--) onward(out.terminal[n]!, n);
    for (let n = downStart[terminal + 1]! - 1; n >= downStart[terminal]!; n--) onward(downList[n]!, -1);
  }
  found.sort((a, b) => a.terminal - b.terminal);
  return { traces: found.map(({ trace }) => trace), complete };
}

/** An output jack, or a jack with nothing behind it. */
function isEnd(wiring: Wiring, start: number, terminal: number): boolean {
  if (terminal === start) return false;
  const { span } = locate(wiring, terminal);
  if (span.side !== "jack") return false;
  const goesOn = (start: Int32Array): boolean => start[terminal + 1]! > start[terminal]!;
  // An input jack's signal may go on into a join only.
  return span.bank.direction === "out" || !(goesOn(wiring.downStart) || goesOn(mixOutOf(wiring).start));
}

/**
 * The terminals downstream of `start` from which a jack can be reached. Without them a maze of mixes that leads to no
 * jack would be walked by all of its ways, of which there can be more than can be counted.
 */
function leadingToJacks(wiring: Wiring, start: number): ReadonlySet<number> {
  const { downStart, downList, feeder, mixInto } = wiring;
  const out = mixOutOf(wiring);
  const below = new Set([start]);
  const ends: number[] = [];
  for (const at of below) {
    if (isEnd(wiring, start, at)) ends.push(at);
    for (let n = downStart[at]!; n < downStart[at + 1]!; n++) below.add(downList[n]!);
    for (let n = out.start[at]!; n < out.start[at + 1]!; n++) below.add(out.terminal[n]!);
  }
  const leads = new Set(ends);
  for (const at of leads) {
    if (below.has(feeder[at]!)) leads.add(feeder[at]!);
    for (let n = mixInto.start[at]!; n < mixInto.start[at + 1]!; n++) {
      if (below.has(mixInto.terminal[n]!)) leads.add(mixInto.terminal[n]!);
    }
  }
  return leads;
}

/** The steps of a way in the direction of the signal. */
function stepsTo(wiring: Wiring, end: Way): readonly Step[] {
  const ways: Way[] = [];
  for (let way = end; way.before; way = way.before) ways.push(way);
  return ways.toReversed().flatMap(({ terminal, before, mixed }) => {
    if (mixed < 0) return stepInto(wiring, terminal);
    return [mixStep(wiring, before!.terminal, terminal, mixOutOf(wiring).mix[mixed]!)];
  });
}

/** What stands at the head of the traces; a terminal that is no origin is told as the tap that it is taken from. */
function originAt(wiring: Wiring, start: number): Origin {
  const at = terminalOf(wiring, start);
  const source = wiring.show.sources[wiring.sourceAt[start]!];
  return wiring.state[start] === State.source && source
    ? { kind: "source", at, source: source.id }
    : { kind: "tap", at };
}
