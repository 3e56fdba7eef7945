/** Walks the wiring upstream from one terminal and tells the way as a `Trace`. */
import { CABLES, cableDelay } from "../catalog/cables.ts";
import type { Delay } from "../model/device-type.ts";
import type { DeviceId } from "../model/ids.ts";
import { never } from "../model/result.ts";
import type { Cable } from "../model/show.ts";
import { ms, type SampleRate } from "../model/units.ts";
import { linkCapacity, slotsAt, streamSlots } from "../wiring/join.ts";
import type { StreamWay } from "../wiring/network.ts";
import type { Port } from "../wiring/plugs.ts";
import { DIRECT } from "../wiring/mixes.ts";
import { delayMs } from "../wiring/sheet.ts";
import { Edge, State, type Wiring } from "../wiring/wiring.ts";
import { isJoin, legsOnward } from "./joins.ts";
import { mixStep } from "./members.ts";
import { locate, terminalOf, type Terminal } from "./terminal.ts";
import { traces, type DelayPart, type Step, type Trace } from "./trace.ts";

/** The trace of a terminal: what arrives there, from where and over which hops, or why nothing does. */
export function traceOf(wiring: Wiring, target: number): Trace {
  const { feeder, state } = wiring;
  const path: number[] = [];
  let at = target;
  // A path longer than the rig has terminals has come round.
  while (feeder[at]! >= 0 && path.length <= wiring.size) {
    path.push(at);
    at = feeder[at]!;
  }
  if (feeder[at]! >= 0) return loopTrace(wiring, target, at, NO_LEGS);
  const legs = state[at] === State.tap && isJoin(wiring, at) ? legsOnward(wiring, at) : null;
  if (legs === null)
    return endTrace(wiring, terminalOf(wiring, target), at, stepsAlong(wiring, path, NO_LEGS));
  // Nothing arrives at the join, so the trace goes on over one of its legs.
  for (let from = above(wiring, at, legs); from >= 0; from = above(wiring, at, legs)) {
    if (path.length > wiring.size) return loopTrace(wiring, target, at, legs);
    path.push(at);
    at = from;
  }
  return endTrace(wiring, terminalOf(wiring, target), at, stepsAlong(wiring, path, legs));
}

/** Of joins that nothing arrives at, the leg by which a trace goes on. */
type Legs = ReadonlyMap<number, number>;
const NO_LEGS: Legs = new Map();

/** The terminal that a trace goes on to; −1 where it ends. */
const above = ({ feeder }: Wiring, at: number, legs: Legs): number =>
  feeder[at]! >= 0 ? feeder[at]! : (legs.get(at) ?? -1);

/** The steps into each terminal of an upstream path, told in the direction of the signal. */
const stepsAlong = (wiring: Wiring, path: readonly number[], legs: Legs): Step[] =>
  path.toReversed().flatMap((terminal) => {
    const leg = legs.get(terminal);
    return leg === undefined ? stepInto(wiring, terminal) : [mixStep(wiring, leg, terminal, DIRECT)];
  });

/**
 * The loop that a terminal lies on, in the direction of the signal, from its lowest terminal on: it always reads the same.
 * `legs`: of joins that lie on it, the leg that does.
 */
export function cycleAt(wiring: Wiring, onLoop: number, legs: Legs = NO_LEGS): number[] {
  const cycle: number[] = [];
  for (let at = onLoop; cycle.length === 0 || at !== onLoop; at = above(wiring, at, legs)) cycle.push(at);
  cycle.reverse();
  // As a fold: a loop can have more terminals than a call takes arguments.
  const first = cycle.indexOf(cycle.reduce((lowest, at) => Math.min(lowest, at)));
  return [...cycle.slice(first), ...cycle.slice(0, first)];
}

function loopTrace(wiring: Wiring, target: number, onLoop: number, legs: Legs): Trace {
  const cycle = cycleAt(wiring, onLoop, legs);
  const onCycle = new Set(cycle);
  const path: number[] = [];
  for (let at = target; !onCycle.has(at); at = above(wiring, at, legs)) path.push(at);
  return traces.loop(
    terminalOf(wiring, target),
    cycle.map((terminal) => terminalOf(wiring, terminal)),
    stepsAlong(wiring, path, legs),
  );
}

function endTrace(
  wiring: Wiring,
  goal: ReturnType<typeof terminalOf>,
  end: number,
  steps: readonly Step[],
): Trace {
  const at = terminalOf(wiring, end);
  const state = wiring.state[end]! as State;
  const { wired } = locate(wiring, end);
  const cable = cableAt(wiring, end)?.id ?? null;
  const patched = wiring.edge[end] === Edge.patched;
  const assignment = patched ? wired.device.routing[wiring.setting[end]!]! : null;
  switch (state) {
    case State.tap:
      return traces.arrives(goal, { kind: "tap", at }, steps);
    case State.source: {
      const source = wiring.show.sources[wiring.sourceAt[end]!]!;
      return traces.arrives(goal, { kind: "source", at, source: source.id }, steps);
    }
    case State.unassigned:
      return traces.nothingAssigned(goal, at, steps);
    case State.unplugged:
      return traces.notPlugged(goal, at, cable, steps);
    case State.beyondSlots: {
      const { slots, rate } = slotsThere(wiring, end);
      return traces.beyondSlots(goal, at, slots, rate, steps);
    }
    case State.unwired:
      return traces.notWired(goal, at, wired.device.mode, assignment, steps);
    case State.mismatch:
      return traces.mismatch(goal, at, cable!, ratesDiffer(wiring, end) ? "rate" : "clock", steps);
    case State.off:
      if (!wired.device.powered) return traces.off(goal, at, at.device, steps);
      return cable === null
        ? traces.off(goal, at, switchOffAt(wiring, end), steps)
        : traces.pulled(goal, at, cable, steps);
    case State.unknown:
      return traces.unknown(goal, at, cable!, steps);
    case State.fed:
      throw new Error("a fed terminal ended a walk");
    default:
      return never(state);
  }
}

/** The cable that decides a terminal: its plug, or of the way of its stream the one that is pulled, else the last. */
function cableAt(wiring: Wiring, end: number): Cable | null {
  const index = wiring.setting[end]!;
  if (wiring.edge[end] === Edge.cable) return wiring.show.cables[index]!;
  if (wiring.edge[end] !== Edge.stream) return null;
  const { legs, stop } = wiring.ways[index]!;
  if (stop?.kind === "cable") return stop.cable.cable;
  return legs.at(-1)?.cable.cable ?? null;
}

/** The switch that is off on the way of a stream. */
function switchOffAt(wiring: Wiring, end: number): DeviceId {
  const { stop } = wiring.ways[wiring.setting[end]!]!;
  if (stop?.kind !== "device") throw new Error("a terminal is off for no reason");
  return stop.device.device.id;
}

/** How many slots there are where a trace ran out of them, and at which rate. */
function slotsThere(wiring: Wiring, end: number): { readonly slots: number; readonly rate: SampleRate } {
  const { wired, span, number } = locate(wiring, end);
  if (wiring.edge[end] === Edge.stream) {
    const way = wiring.ways[wiring.setting[end]!]!;
    const { send, receive } = streamSlots(way);
    return number > receive
      ? { slots: receive, rate: wired.rate }
      : { slots: send, rate: way.from.device.rate };
  }
  if (wiring.edge[end] === Edge.cable) {
    const { join } = wiring.plugs.cables[wiring.setting[end]!]!;
    if (join.kind === "link") {
      const [a, b] = join.ends;
      // Both ends can be of one device.
      const here = span.side === "receive" ? span.port : null;
      const [from, to] = b.device === wired && b.port === here ? [a, b] : [b, a];
      return linkCapacity(from, to);
    }
  }
  const rule = wired.fabric.rules[wiring.setting[end]!];
  const source =
    rule && rule.kind !== "patch"
      ? wired.fabric.layout.sources.get(typeof rule.from === "string" ? rule.from : rule.from.group)
      : span;
  const port = source && (source.side === "receive" || source.side === "send") ? source.port : null;
  return { slots: port ? slotsAt(port, "receive", wired.rate) : (source?.count ?? 0), rate: wired.rate };
}

function ratesDiffer(wiring: Wiring, end: number): boolean {
  if (wiring.edge[end] === Edge.stream) {
    const { from, to } = wiring.ways[wiring.setting[end]!]!;
    return from.device.rate !== to.device.rate;
  }
  const { join } = wiring.plugs.cables[wiring.setting[end]!]!;
  if (join.kind === "link") return join.ends[0].device.rate !== join.ends[1].device.rate;
  return join.kind === "jacks" && join.from.device.rate !== join.to.device.rate;
}

/** The step from a terminal's feeder to the terminal, with the conversions at its ends: one to three steps. */
export function stepInto(wiring: Wiring, terminal: number): Step[] {
  const source = wiring.feeder[terminal]!;
  const near = locate(wiring, source);
  const far = locate(wiring, terminal);
  const from = terminalOf(wiring, source);
  const to = terminalOf(wiring, terminal);
  const index = wiring.setting[terminal]!;
  const kind = wiring.edge[terminal]! as Edge;
  if (kind === Edge.stream) return streamSteps(wiring.ways[index]!, from, to);
  if (kind === Edge.cable) {
    const { cable, join } = wiring.plugs.cables[index]!;
    const parts: DelayPart[] = [];
    if (join.kind === "link" && near.span.side === "send") {
      parts.push(...part("link send", near.span.port.sendDelay, near.wired.rate));
    }
    parts.push(...cablePart(cable));
    if (join.kind === "link" && far.span.side === "receive") {
      parts.push(...part("link receive", far.span.port.receiveDelay, far.wired.rate));
    }
    return [{ kind: "cable", cable: cable.id, from, to, ...total(parts) }];
  }
  const steps: Step[] = [];
  const { wired } = far;
  if (kind === Edge.insert) {
    return [{ kind: "inserted", insert: wired.device.inserts![index]!, from, to, ...total([]) }];
  }
  const convert = (span: typeof far.span, at: typeof from): void => {
    if (span.side !== "jack" || !span.bank.convert) return;
    const analogue = span.bank.level !== "AES3" && span.bank.level !== "radio";
    const way = !analogue ? "other" : span.bank.direction === "in" ? "to digital" : "to analogue";
    steps.push({
      kind: "converted",
      way,
      from: at,
      to: at,
      ...total(part("conversion", span.bank.convert, wired.rate)),
    });
  };
  const through = (delay: Delay | undefined): ReturnType<typeof total> =>
    total(part("fabric", delay, wired.rate));
  convert(near.span, from);
  if (kind === Edge.patched) {
    const offset = terminal - wired.base;
    const rule = wired.fabric.rules[wired.fabric.rule[offset]!]!;
    const assignment = wired.device.routing[index]!;
    steps.push({ kind: "patched", assignment, from, to, ...through(rule.delay) });
  } else {
    const rule = wired.fabric.rules[index]!;
    steps.push({
      kind: kind === Edge.wired ? "wired" : "carried",
      mode: wired.device.mode,
      rule: index,
      from,
      to,
      ...through(rule.delay),
    });
  }
  convert(far.span, to);
  return steps;
}

/** From the sender over each cable and through each switch to the receiver; on the way the sender's slot numbers hold. */
function streamSteps(
  { stream, from: sender, to: receiver, legs }: StreamWay,
  from: Terminal,
  to: Terminal,
): Step[] {
  const steps: Step[] = [];
  const slotAt = ({ device, port }: Port, side: "receive" | "send"): Terminal => ({
    device: device.device.id,
    group: port.id,
    side,
    number: from.number,
  });
  legs.forEach(({ cable: { cable }, from: leaving, to: entered }, n) => {
    const start = n === 0 ? from : slotAt(leaving, "send");
    if (n > 0) {
      steps.push({ kind: "streamed", stream: stream.id, from: steps.at(-1)!.to, to: start, ...total([]) });
    }
    const parts: DelayPart[] = [];
    if (n === 0) {
      parts.push({ what: "link send", ms: ms(stream.packetTime), provenance: "standard" });
      parts.push(...part("link send", sender.port.sendDelay, sender.device.rate));
    }
    parts.push(...cablePart(cable));
    const last = n === legs.length - 1;
    if (last) parts.push(...part("link receive", receiver.port.receiveDelay, receiver.device.rate));
    const end = last ? to : slotAt(entered, "receive");
    steps.push({ kind: "cable", cable: cable.id, stream: stream.id, from: start, to: end, ...total(parts) });
  });
  return steps;
}

function cablePart({ kind, length }: Cable): DelayPart[] {
  if (length === undefined) return [];
  return [{ what: "cable", ms: cableDelay(kind, length), provenance: CABLES[kind].provenance }];
}

function part(what: DelayPart["what"], delay: Delay | undefined, rate: SampleRate): DelayPart[] {
  return delay ? [{ what, ms: ms(delayMs(delay, rate)), provenance: delay.provenance }] : [];
}

function total(parts: readonly DelayPart[]): Pick<Step, "delay" | "parts"> {
  return { delay: ms(parts.reduce((sum, { ms: share }) => sum + share, 0)), parts };
}
