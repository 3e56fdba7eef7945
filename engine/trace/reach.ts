/**
 * Downstream: every jack that a terminal's signal reaches, through channels and mixes, each with its trace. All
 * branches are told, in a fixed order: by jack, then by the way taken.
 */
import { ms } from "../model/units.ts";
import { delayMs } from "../wiring/sheet.ts";
import { DIRECT } from "../wiring/mixes.ts";
import { State, type Wiring } from "../wiring/wiring.ts";
import { locate, terminalOf } from "./terminal.ts";
import { traces, type Origin, type Step, type Trace } from "./trace.ts";
import { stepInto } from "./walk.ts";

/** Two ways that part and meet again multiply; past this many branches the rest is counted, not told. */
export const MOST_BRANCHES = 5000;

export interface Reach {
  /** One for each branch that ends at, or passes, an output jack or a jack with nothing behind it. */
  readonly traces: readonly Trace[];
  /** False: there were more than `MOST_BRANCHES`. */
  readonly complete: boolean;
}

/** Where the signal that stands on `start` goes. `start` need not be an origin; the traces begin there. */
export function reachOf(wiring: Wiring, start: number): Reach {
  const found: { readonly terminal: number; readonly trace: Trace }[] = [];
  const onPath = new Set<number>();
  const origin = originAt(wiring, start);
  let complete = true;
  visit(start, []);
  found.sort((a, b) => a.terminal - b.terminal);
  return { traces: found.map(({ trace }) => trace), complete };

  function visit(terminal: number, steps: readonly Step[]): void {
    if (onPath.has(terminal)) return;
    if (found.length >= MOST_BRANCHES) {
      complete = false;
      return;
    }
    onPath.add(terminal);
    const { downStart, downList, mixOutOf } = wiring;
    const from = downStart[terminal]!;
    const to = downStart[terminal + 1]!;
    const mixFrom = mixOutOf.start[terminal]!;
    const mixTo = mixOutOf.start[terminal + 1]!;
    const { span } = locate(wiring, terminal);
    if (terminal !== start && span.side === "jack" && (span.bank.direction === "out" || from === to)) {
      found.push({ terminal, trace: traces.arrives(terminalOf(wiring, terminal), origin, steps) });
    }
    for (let n = from; n < to; n++) {
      const next = downList[n]!;
      visit(next, [...steps, ...stepInto(wiring, next)]);
    }
    for (let n = mixFrom; n < mixTo; n++) {
      const next = mixOutOf.terminal[n]!;
      visit(next, [...steps, mixStep(wiring, terminal, next, mixOutOf.mix[n]!)]);
    }
    onPath.delete(terminal);
  }
}

/** What stands at the head of the traces; a terminal that is no origin is told as the tap that it is taken from. */
function originAt(wiring: Wiring, start: number): Origin {
  const at = terminalOf(wiring, start);
  const source = wiring.show.sources[wiring.sourceAt[start]!];
  return wiring.state[start] === State.source && source
    ? { kind: "source", at, source: source.id }
    : { kind: "tap", at };
}

/** The step from a mix member into a tap. */
export function mixStep(wiring: Wiring, member: number, tap: number, mixIndex: number): Step {
  const { wired } = locate(wiring, tap);
  const mix = mixIndex === DIRECT ? null : wiring.show.mixes[mixIndex]!;
  const from = terminalOf(wiring, member);
  const entry = mix?.members.find(({ group, number }) => group === from.group && number === from.number);
  // Processing is counted once, where a channel enters the mixer; on from a mix to a matrix it is the same pass.
  const entersMixer = wired.fabric.layout.destinations.get(from.group)?.side === "bus";
  const processing = entersMixer ? wired.fabric.layout.type.mixer?.processing : undefined;
  const delay = ms(delayMs(processing, wired.rate));
  return {
    kind: "mixed",
    mix: mix?.id ?? null,
    tap: entry?.tap ?? "direct",
    from,
    to: terminalOf(wiring, tap),
    delay,
    parts: processing ? [{ what: "processing", ms: delay, provenance: processing.provenance }] : [],
  };
}

/** What goes into a tap: its members in the wiring's order, each with the step that takes it in. */
export function membersOf(
  wiring: Wiring,
  tap: number,
): readonly { readonly member: number; readonly step: Step }[] {
  const { start, terminal, mix } = wiring.mixInto;
  const members: { readonly member: number; readonly step: Step }[] = [];
  for (let n = start[tap]!; n < start[tap + 1]!; n++) {
    members.push({ member: terminal[n]!, step: mixStep(wiring, terminal[n]!, tap, mix[n]!) });
  }
  return members;
}
