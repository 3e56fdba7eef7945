/**
 * A trace as evidence: how it ends, and every hop with what decides it. Each outcome has one factory that takes just
 * what the outcome needs, so a trace that can't be is not built. The T rules of SPEC.md give each verdict's condition.
 */
import type { Provenance, Range } from "../model/device-type.ts";
import type { CableId, DeviceId, MixId, ModeId, SourceId, StreamId } from "../model/ids.ts";
import type { Assignment } from "../model/show.ts";
import { ms, type Ms, type SampleRate } from "../model/units.ts";
import type { Terminal } from "./terminal.ts";

/** A part of a step's delay, and where its number comes from. */
export interface DelayPart {
  readonly what: "conversion" | "link send" | "cable" | "link receive" | "fabric" | "processing";
  readonly ms: Ms;
  readonly provenance: Provenance;
}

interface StepBase {
  readonly from: Terminal;
  readonly to: Terminal;
  readonly delay: Ms;
  readonly parts: readonly DelayPart[];
}

export type Step = StepBase &
  /** `stream`: what crosses the cable is a channel of that stream. */
  (
    | { readonly kind: "cable"; readonly cable: CableId; readonly stream?: StreamId }
    /** Through a network switch. */
    | { readonly kind: "streamed"; readonly stream: StreamId }
    | { readonly kind: "patched"; readonly assignment: Assignment }
    | { readonly kind: "wired" | "carried"; readonly mode: ModeId; readonly rule: number }
    /** `mix` null: fixed, as what a direct out, an insert send or a join takes. */
    | { readonly kind: "mixed"; readonly mix: MixId | null; readonly tap: "pre" | "post" | "direct" }
    /** A bus from the return of its insert. */
    | { readonly kind: "inserted"; readonly insert: Range }
    /** Both terminals are the same jack. */
    | { readonly kind: "converted"; readonly way: "to digital" | "to analogue" | "other" }
  );

/** The steps that a trace takes into and within one device, in the direction of the signal. */
export interface Hop {
  readonly device: DeviceId;
  readonly steps: readonly Step[];
}

export type Origin =
  | { readonly kind: "tap"; readonly at: Terminal }
  | { readonly kind: "source"; readonly at: Terminal; readonly source: SourceId };

export type Verdict =
  | { readonly kind: "arrives"; readonly origin: Origin }
  | { readonly kind: "nothing-assigned"; readonly at: Terminal }
  | { readonly kind: "not-plugged"; readonly at: Terminal; readonly cable: CableId | null }
  | {
      readonly kind: "beyond-slots";
      readonly at: Terminal;
      readonly slots: number;
      readonly rate: SampleRate;
    }
  | {
      readonly kind: "not-wired";
      readonly at: Terminal;
      readonly mode: ModeId;
      readonly assignment: Assignment | null;
    }
  | {
      readonly kind: "mismatch";
      readonly at: Terminal;
      readonly cable: CableId;
      readonly why: "rate" | "clock";
    }
  | { readonly kind: "loop"; readonly cycle: readonly Terminal[] }
  /** The cable that is pulled, or the device that is off: that of `at`, or a switch on the way there. */
  | {
      readonly kind: "off";
      readonly at: Terminal;
      readonly cable: CableId | null;
      readonly device: DeviceId | null;
    }
  | { readonly kind: "unknown"; readonly at: Terminal; readonly cable: CableId };

export type VerdictKind = Verdict["kind"];

/** Every verdict in the trade's words, in the order in which they are listed. */
export const VERDICT_NAMES: Readonly<Record<VerdictKind, string>> = {
  arrives: "arrives",
  "nothing-assigned": "nothing assigned",
  "not-plugged": "not plugged",
  "beyond-slots": "slot beyond the link's slots",
  "not-wired": "not wired in this mode",
  mismatch: "clock or rate mismatch",
  loop: "loop",
  off: "device off or cable pulled",
  unknown: "not enough known",
};

/** Never set at run time: it keeps other code from writing a trace as an object literal. */
declare const checked: unique symbol;

/** Hops stand in the direction of the signal, the target's own device last. Made by `traces` only. */
export interface Trace {
  readonly target: Terminal;
  readonly verdict: Verdict;
  readonly hops: readonly Hop[];
  readonly delay: Ms;
  readonly [checked]: true;
}

const sameTerminal = (a: Terminal, b: Terminal): boolean =>
  a.device === b.device && a.group === b.group && a.side === b.side && a.number === b.number;

/** Joins the steps into hops by device and checks that each starts where the one before it ended. */
function make(target: Terminal, verdict: Verdict, start: Terminal | null, steps: readonly Step[]): Trace {
  const hops: { device: DeviceId; steps: Step[] }[] = [];
  let at = start ?? steps[0]?.from ?? target;
  if (steps[0] === undefined || steps[0].from.device !== steps[0].to.device)
    hops.push({ device: at.device, steps: [] });
  let delay = 0;
  for (const step of steps) {
    if (!sameTerminal(step.from, at))
      throw new Error("a trace's step doesn't start where the one before it ended");
    const last = hops.at(-1);
    if (last && last.device === step.to.device) last.steps.push(step);
    else hops.push({ device: step.to.device, steps: [step] });
    delay += step.delay;
    at = step.to;
  }
  if (!sameTerminal(at, target)) throw new Error("a trace doesn't end at its target");
  return { target, verdict, hops, delay: ms(delay) } as unknown as Trace;
}

/** The one way to build a trace: a factory for each outcome. `steps` run from where the walk ended to the target. */
export const traces = {
  arrives: (target: Terminal, origin: Origin, steps: readonly Step[]): Trace =>
    make(target, { kind: "arrives", origin }, origin.at, steps),
  nothingAssigned: (target: Terminal, at: Terminal, steps: readonly Step[]): Trace =>
    make(target, { kind: "nothing-assigned", at }, at, steps),
  notPlugged: (target: Terminal, at: Terminal, cable: CableId | null, steps: readonly Step[]): Trace =>
    make(target, { kind: "not-plugged", at, cable }, at, steps),
  beyondSlots: (
    target: Terminal,
    at: Terminal,
    slots: number,
    rate: SampleRate,
    steps: readonly Step[],
  ): Trace => make(target, { kind: "beyond-slots", at, slots, rate }, at, steps),
  notWired: (
    target: Terminal,
    at: Terminal,
    mode: ModeId,
    assignment: Assignment | null,
    steps: readonly Step[],
  ): Trace => make(target, { kind: "not-wired", at, mode, assignment }, at, steps),
  mismatch: (
    target: Terminal,
    at: Terminal,
    cable: CableId,
    why: "rate" | "clock",
    steps: readonly Step[],
  ): Trace => make(target, { kind: "mismatch", at, cable, why }, at, steps),
  /** `cycle`: the terminals of the loop in the direction of the signal, each once. */
  loop: (target: Terminal, cycle: readonly Terminal[], steps: readonly Step[]): Trace =>
    make(target, { kind: "loop", cycle }, null, steps),
  pulled: (target: Terminal, at: Terminal, cable: CableId, steps: readonly Step[]): Trace =>
    make(target, { kind: "off", at, cable, device: null }, at, steps),
  off: (target: Terminal, at: Terminal, device: DeviceId, steps: readonly Step[]): Trace =>
    make(target, { kind: "off", at, cable: null, device }, at, steps),
  unknown: (target: Terminal, at: Terminal, cable: CableId, steps: readonly Step[]): Trace =>
    make(target, { kind: "unknown", at, cable }, at, steps),
};

/** All steps of a trace in the direction of the signal. */
export const stepsOf = (trace: Trace): readonly Step[] => trace.hops.flatMap((hop) => hop.steps);

/** The devices whose settings could break the trace: all that it passes. */
export const gatekeepers = (trace: Trace): readonly DeviceId[] => [
  ...new Set(trace.hops.map((hop) => hop.device)),
];

/** The device whose tap or join the trace ends at, or null where it doesn't arrive from one. `ownerIndex` sees through joins. */
export const ownerOf = (trace: Trace): DeviceId | null =>
  trace.verdict.kind === "arrives" && trace.verdict.origin.kind === "tap"
    ? trace.verdict.origin.at.device
    : null;
