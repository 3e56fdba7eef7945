/** Walks the wiring upstream from one terminal and tells the way as a `Trace`. */
import { CABLES, cableDelay } from "../catalog/cables.ts";
import type { Delay } from "../model/device-type.ts";
import { never } from "../model/result.ts";
import { metres, ms, type SampleRate } from "../model/units.ts";
import { linkRate, linkSlots, slotsAt } from "../wiring/join.ts";
import { delayMs } from "../wiring/sheet.ts";
import { Edge, State, type Wiring } from "../wiring/wiring.ts";
import { locate, terminalOf } from "./terminal.ts";
import { traces, type DelayPart, type Step, type Trace } from "./trace.ts";

/** The trace of a terminal: what arrives there, from where and over which hops, or why nothing does. */
export function traceOf(wiring: Wiring, target: number): Trace {
  const { feeder } = wiring;
  const steps: Step[] = [];
  const seen = new Set<number>();
  let at = target;
  while (feeder[at]! >= 0 && !seen.has(at)) {
    seen.add(at);
    steps.unshift(...stepInto(wiring, at));
    at = feeder[at]!;
  }
  const goal = terminalOf(wiring, target);
  return seen.has(at) ? loopTrace(wiring, target, at) : endTrace(wiring, goal, at, steps);
}

function loopTrace(wiring: Wiring, target: number, onLoop: number): Trace {
  const cycle: number[] = [];
  for (let at = onLoop; cycle[0] !== at || cycle.length === 0; at = wiring.feeder[at]!) cycle.push(at);
  const onCycle = new Set(cycle);
  const steps: Step[] = [];
  for (let at = target; !onCycle.has(at); at = wiring.feeder[at]!) steps.unshift(...stepInto(wiring, at));
  // Told in the direction of the signal and from its lowest terminal on, so that one loop always reads the same.
  cycle.reverse();
  const first = cycle.indexOf(Math.min(...cycle));
  const turned = [...cycle.slice(first), ...cycle.slice(0, first)];
  return traces.loop(
    terminalOf(wiring, target),
    turned.map((terminal) => terminalOf(wiring, terminal)),
    steps,
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
  const index = wiring.setting[end]!;
  const cable = wiring.edge[end] === Edge.cable ? wiring.show.cables[index]!.id : null;
  const assignment = wiring.edge[end] === Edge.patched ? wired.device.routing[index]! : null;
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
      return traces.off(goal, at, wired.device.powered ? cable : null, steps);
    case State.unknown:
      return traces.unknown(goal, at, cable!, steps);
    case State.fed:
      throw new Error("a fed terminal ended a walk");
    default:
      return never(state);
  }
}

/** How many slots there are where a trace ran out of them, and at which rate. */
function slotsThere(wiring: Wiring, end: number): { readonly slots: number; readonly rate: SampleRate } {
  const { wired, span } = locate(wiring, end);
  if (wiring.edge[end] === Edge.cable) {
    const { join } = wiring.plugs.cables[wiring.setting[end]!]!;
    if (join.kind === "link") {
      const [a, b] = join.ends;
      const [from, to] = b.device === wired ? [a, b] : [b, a];
      return { slots: linkSlots(from, to), rate: linkRate(from, to) };
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
  if (kind === Edge.cable) {
    const { cable, join } = wiring.plugs.cables[index]!;
    const parts: DelayPart[] = [];
    const facts = CABLES[cable.kind];
    if (join.kind === "link" && near.span.side === "send") {
      parts.push(...part("link send", near.span.port.sendDelay, near.wired.rate));
    }
    if (cable.length !== undefined) {
      parts.push({
        what: "cable",
        ms: cableDelay(cable.kind, metres(cable.length)),
        provenance: facts.provenance,
      });
    }
    if (join.kind === "link" && far.span.side === "receive") {
      parts.push(...part("link receive", far.span.port.receiveDelay, far.wired.rate));
    }
    return [{ kind: "cable", cable: cable.id, from, to, ...total(parts) }];
  }
  const steps: Step[] = [];
  const { wired } = far;
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

function part(what: DelayPart["what"], delay: Delay | undefined, rate: SampleRate): DelayPart[] {
  return delay ? [{ what, ms: ms(delayMs(delay, rate)), provenance: delay.provenance }] : [];
}

function total(parts: readonly DelayPart[]): Pick<Step, "delay" | "parts"> {
  return { delay: ms(parts.reduce((sum, { ms: share }) => sum + share, 0)), parts };
}
