/** What a focus lights up: its traces, and everything that these pass. */
import {
  findTerminal,
  locate,
  never,
  reachOf,
  stepsOf,
  traceOf,
  type Analysis,
  type CableId,
  type DeviceId,
  type Reach,
  type Terminal,
  type TerminalRef,
} from "#engine";
import type { Focus, Lit } from "./contract.ts";

export const UNLIT: Lit = {
  traces: [],
  complete: true,
  terminals: new Set(),
  devices: new Set(),
  cables: new Set(),
};

export function litBy(analysis: Analysis, focus: Focus | null): Lit {
  if (!focus) return UNLIT;
  const { wiring, show, findings } = analysis;
  switch (focus.kind) {
    case "terminal":
      return lightUp(analysis, tracesAt(analysis, [focus.terminal]), { terminals: [focus.terminal] });
    case "block":
      return lightUp(analysis, tracesAt(analysis, focus.terminals), { terminals: focus.terminals });
    case "source": {
      const source = show.sources.find(({ id }) => id === focus.source);
      const at = source && findTerminal(wiring, source.at);
      if (at === undefined || at === null) return UNLIT;
      return lightUp(analysis, [reachOf(wiring, at)], { devices: [source!.at.device] });
    }
    case "mix": {
      const mix = show.mixes.find(({ id }) => id === focus.mix);
      if (!mix) return UNLIT;
      const taps = Array.from({ length: mix.width }, (_, n) =>
        findTerminal(wiring, { device: mix.console, group: mix.group, number: mix.first + n }),
      ).filter((tap) => tap !== null);
      const reached = taps.map((tap) => reachOf(wiring, tap));
      return lightUp(analysis, reached, { devices: [mix.console] });
    }
    case "device":
      return lightUp(analysis, [], { devices: [focus.device] });
    case "cable": {
      const cable = show.cables.find(({ id }) => id === focus.cable);
      return cable
        ? lightUp(analysis, [], { cables: [cable.id], devices: cable.ends.map(({ device }) => device) })
        : UNLIT;
    }
    case "finding": {
      const finding = findings.find(({ id }) => id === focus.finding);
      if (!finding) return UNLIT;
      const found = finding.terminals.map((terminal) => upstream(analysis, terminal));
      return lightUp(analysis, found, finding);
    }
    default:
      return never(focus);
  }
}

function upstream({ wiring }: Analysis, terminal: TerminalRef): Reach {
  const at = findTerminal(wiring, terminal);
  return { traces: at === null ? [] : [traceOf(wiring, at)], complete: true };
}

/** Upstream for each; where one alone is looked at and it isn't an output jack, downstream too. */
function tracesAt(analysis: Analysis, terminals: readonly Terminal[]): readonly Reach[] {
  const { wiring } = analysis;
  const up = terminals.map((terminal) => upstream(analysis, terminal));
  const only = terminals.length === 1 ? findTerminal(wiring, terminals[0]!) : null;
  if (only === null) return up;
  const { span } = locate(wiring, only);
  const isOutput = span.side === "jack" && span.bank.direction === "out";
  return isOutput ? up : [...up, reachOf(wiring, only)];
}

interface Also {
  readonly terminals?: readonly Terminal[];
  readonly devices?: readonly DeviceId[];
  readonly cables?: readonly CableId[];
}

function lightUp({ wiring }: Analysis, reached: readonly Reach[], also: Also): Lit {
  const traces = reached.flatMap((each) => each.traces);
  const terminals = new Set<number>();
  const devices = new Set<DeviceId>(also.devices);
  const cables = new Set<CableId>(also.cables);
  const add = (terminal: Terminal): void => {
    const at = findTerminal(wiring, terminal);
    if (at === null) return;
    terminals.add(at);
    devices.add(terminal.device);
  };
  also.terminals?.forEach(add);
  for (const trace of traces) {
    add(trace.target);
    const { verdict } = trace;
    if (verdict.kind === "loop") verdict.cycle.forEach(add);
    if ("cable" in verdict && verdict.cable) cables.add(verdict.cable);
    for (const step of stepsOf(trace)) {
      add(step.from);
      add(step.to);
      if (step.kind === "cable") cables.add(step.cable);
    }
  }
  return { traces, complete: reached.every((each) => each.complete), terminals, devices, cables };
}

/** The devices that the canvas goes to for a focus. */
export function devicesToReveal(focus: Focus | null, lit: Lit): readonly DeviceId[] {
  if (!focus) return [];
  if (focus.kind === "terminal") return [...new Set([focus.terminal.device, ...lit.devices])];
  return [...lit.devices];
}
