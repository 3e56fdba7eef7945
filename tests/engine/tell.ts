/**
 * Traces as lines that a tech would write, so that an expectation is one literal text. Names are put together here from
 * the show, not by the engine's own naming, which is under test as well.
 */
import { expect } from "vitest";
import type { Assignment, Show } from "#engine/model/show.ts";
import { never } from "#engine/model/result.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { outputBlocks } from "#engine/trace/owners.ts";
import { reachOf } from "#engine/trace/reach.ts";
import { terminalOf, type Terminal } from "#engine/trace/terminal.ts";
import { stepsOf, type Step, type Trace, type Verdict } from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { compile } from "#engine/wiring/compile.ts";
import type { Away, Wiring } from "#engine/wiring/wiring.ts";

export function nameOf(show: Show, { device, group, side, number }: Terminal): string {
  const owner = show.devices.find(({ id }) => id === device)!;
  const type = show.types.find(({ id }) => id === owner.type)!;
  const bank = type.banks.find(({ id }) => id === group);
  if (bank && bank.perJack === 2) {
    return `${owner.name} ${bank.name} ${Math.ceil(number / 2)}${number % 2 === 1 ? "A" : "B"}`;
  }
  if (bank) return `${owner.name} ${bank.name} ${number}`;
  const port = type.ports.find(({ id }) => id === group);
  if (port) return `${owner.name} ${port.name} ${side === "receive" ? "in" : "out"} ${number}`;
  return `${owner.name} ${type.mixer!.sections.find(({ id }) => id === group)!.name} ${number}`;
}

const tellSetting = ({ to, from, count }: Assignment): string =>
  `${to.group} ${to.first} x${count} < ${from.group} ${from.first}`;

function tellVerdict(show: Show, verdict: Verdict): string {
  const name = (terminal: Terminal): string => nameOf(show, terminal);
  switch (verdict.kind) {
    case "arrives":
      return verdict.origin.kind === "tap"
        ? name(verdict.origin.at)
        : `${show.sources.find(({ id }) => id === (verdict.origin as { source: string }).source)!.name} at ${name(verdict.origin.at)}`;
    case "nothing-assigned":
      return `nothing assigned at ${name(verdict.at)}`;
    case "not-plugged":
      return `not plugged at ${name(verdict.at)}${verdict.cable === null ? "" : ` (${verdict.cable} joins nothing)`}`;
    case "beyond-slots":
      return `beyond the slots at ${name(verdict.at)} (${verdict.slots} at ${verdict.rate / 1000} kHz)`;
    case "not-wired":
      return `not wired at ${name(verdict.at)} (mode ${verdict.mode}${verdict.assignment ? `; ${tellSetting(verdict.assignment)}` : ""})`;
    case "mismatch":
      return `${verdict.why} mismatch at ${name(verdict.at)} (${verdict.cable})`;
    case "loop":
      return `loop ${verdict.cycle.map(name).join(" → ")}`;
    case "off": {
      // What is off is named where it stands elsewhere than the trace's end.
      const what = verdict.cable ?? (verdict.device === verdict.at.device ? null : verdict.device);
      return `off at ${name(verdict.at)}${what === null ? "" : ` (${what})`}`;
    }
    case "unknown":
      return `not enough known at ${name(verdict.at)} (${verdict.cable})`;
    default:
      return never(verdict);
  }
}

/** `Ears rack Out 3 ← Monitors Mix 11, 5 hops`; where nothing arrives `Ears rack Out 3: not plugged at …, 2 hops`. */
export function tell(show: Show, trace: Trace): string {
  const { length } = trace.hops;
  const mark = trace.verdict.kind === "arrives" ? " ← " : ": ";
  return `${nameOf(show, trace.target)}${mark}${tellVerdict(show, trace.verdict)}, ${length} ${length === 1 ? "hop" : "hops"}`;
}

function tellStep(show: Show, step: Step): string {
  const to = nameOf(show, step.to);
  const time = step.delay > 0 ? `, ${Math.round(step.delay * 1e6) / 1e6} ms` : "";
  switch (step.kind) {
    case "cable":
      return `${to}: cable ${step.cable}${step.stream ? ` (${step.stream})` : ""}${time}`;
    case "streamed":
      return `${to}: stream ${step.stream}${time}`;
    case "patched":
      return `${to}: set ${tellSetting(step.assignment)}${time}`;
    case "wired":
    case "carried":
      return `${to}: ${step.kind} in mode ${step.mode}, rule ${step.rule}${time}`;
    case "mixed":
      return `${to}: ${step.mix ?? "direct out"}, ${step.tap}${time}`;
    case "inserted":
      return `${to}: insert ${step.insert.group} ${step.insert.first} x${step.insert.count}${time}`;
    case "converted":
      return `${to}: ${step.way}${time}`;
    default:
      return never(step);
  }
}

export const tellSteps = (show: Show, trace: Trace): readonly string[] =>
  stepsOf(trace).map((step) => tellStep(show, step));

export interface Rig {
  readonly show: Show;
  readonly away?: Away;
}

export class Bench {
  readonly show: Show;
  readonly wiring: Wiring;
  readonly #byName = new Map<string, number>();
  constructor({ show, away }: Rig) {
    this.show = show;
    this.wiring = compile(show, away);
    for (let at = 0; at < this.wiring.size; at++) {
      const name = nameOf(show, terminalOf(this.wiring, at));
      if (this.#byName.has(name)) throw new Error(`two terminals are called "${name}"`);
      this.#byName.set(name, at);
    }
  }
  at(name: string): number {
    const found = this.#byName.get(name);
    if (found === undefined) throw new Error(`the rig has no "${name}"`);
    return found;
  }
  name(terminal: number): string {
    return nameOf(this.show, terminalOf(this.wiring, terminal));
  }
  trace(name: string): Trace {
    return traceOf(this.wiring, this.at(name));
  }
  /** The traces of all output jacks of one device. */
  outputs(device: string): readonly Trace[] {
    const banks = this.show.types.flatMap(({ id, banks: each }) =>
      this.show.devices.some((owner) => owner.id === device && owner.type === id) ? each : [],
    );
    const outs = new Set<string>(banks.filter(({ direction }) => direction === "out").map(({ id }) => id));
    const traces: Trace[] = [];
    for (let at = 0; at < this.wiring.size; at++) {
      const terminal = terminalOf(this.wiring, at);
      if (terminal.device === device && outs.has(terminal.group)) traces.push(traceOf(this.wiring, at));
    }
    return traces;
  }
  /** `House Local out 1–8: one owner, House`: every block of a device's output jacks. */
  blocks(device: string): readonly string[] {
    const wired = this.wiring.devices.find((each) => each?.device.name === device);
    if (!wired) throw new Error(`the rig has no device "${device}"`);
    return outputBlocks(this.wiring, arrivals(this.wiring), wired).map(
      ({ span, first, last, state, owners }) => {
        if (span.side !== "jack") throw new Error("a block of jacks lies elsewhere");
        const names = owners.map((owner) => this.show.devices.find(({ id }) => id === owner)!.name);
        return `${span.bank.name} ${first}–${last}: ${[state, ...names].join(", ")}`;
      },
    );
  }
  /** The jacks that a terminal's signal comes to, in the order in which they are told, each with its hops. */
  reach(name: string): readonly string[] {
    return reachOf(this.wiring, this.at(name)).traces.map((trace) => tell(this.show, trace));
  }
}

/** Each line names its target before ` ← ` or `: `; the trace of that terminal must read as the line does. */
export function expectTraces(rig: Rig, lines: readonly string[]): void {
  const bench = new Bench(rig);
  const got = lines.map((line) => tell(bench.show, bench.trace(line.split(/ ← |: /)[0]!)));
  expect(got).toEqual(lines);
}
