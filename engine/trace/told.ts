/** Traces in the trade's words. The hop strip, the papers and the headless program all speak through here. */
import { CABLES } from "../catalog/cables.ts";
import { never } from "../model/result.ts";
import type { Assignment } from "../model/show.ts";
import { lengthName, rateName } from "../model/units.ts";
import type { Span } from "../wiring/layout.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import { cablesById, mixesById, sourcesById, streamsById, wiredOf } from "./records.ts";
import { findTerminal, fullName, locate, spanRun, type Terminal } from "./terminal.ts";
import type { Origin, Step, Trace } from "./trace.ts";

/** The number in the wiring of a terminal that the wiring itself named. */
function numberOf(wiring: Wiring, terminal: Terminal): number {
  const number = findTerminal(wiring, terminal);
  if (number === null) throw new Error("a trace names a terminal that its wiring doesn't have");
  return number;
}

export const terminalName = (wiring: Wiring, terminal: Terminal): string =>
  fullName(wiring, numberOf(wiring, terminal));

/** The device that a trace of this wiring passes, which is there. */
const passed = (wiring: Wiring, { device }: Pick<Terminal, "device">): WiredDevice =>
  wiredOf(wiring, device)!;

/** What decides a step: `cable L1, Cat 5e, shielded, 75 m`; `Link 2 out 17–24 takes Mix 1–8`; `mode “Chain”`. */
export function decidedBy(wiring: Wiring, step: Step): string {
  switch (step.kind) {
    case "cable": {
      const cable = cablesById(wiring.show).get(step.cable)!;
      const length =
        cable.length === undefined ? "length unknown" : lengthName(cable.length, wiring.show.settings.units);
      const stream = step.stream === undefined ? [] : [streamName(wiring, step.stream)];
      return [cable.tag ? `cable ${cable.tag}` : "cable", CABLES[cable.kind].name, length, ...stream].join(
        ", ",
      );
    }
    case "streamed":
      return streamName(wiring, step.stream);
    case "patched":
      return settingName(passed(wiring, step.to), step.assignment);
    case "wired":
    case "carried": {
      const wired = passed(wiring, step.to);
      const { mode } = wired.fabric;
      // The mode's own rules stand first; the type's rules hold in every mode.
      if (!mode || step.rule >= mode.rules.length) return "wired in every mode";
      const position = wired.fabric.layout.type.chain > 1 ? `, position ${wired.device.position}` : "";
      return `mode “${mode.name}”${position}`;
    }
    case "mixed": {
      const mix = step.mix === null ? undefined : mixesById(wiring.show).get(step.mix);
      return mix
        ? `${mix.name || "unnamed mix"}, ${step.tap === "pre" ? "pre fader" : "post fader"}`
        : fixedTap(wiring, step.to);
    }
    case "inserted":
      return "insert in";
    case "converted":
      return step.way === "other" ? "conversion" : `conversion ${step.way}`;
    default:
      return never(step);
  }
}

/** What nobody sets: a direct out's own channel, what stands before an insert, or the leg of a join. */
function fixedTap(wiring: Wiring, tap: Terminal): string {
  const { span } = locate(wiring, numberOf(wiring, tap));
  const role = span.side === "bus" ? span.section.role : null;
  if (role === "join") return "passive join";
  return role === "send" ? "insert send" : "direct out";
}

const streamName = (wiring: Wiring, id: string): string => {
  const stream = streamsById(wiring.show).get(id);
  return `stream ${stream?.name ?? id}`;
};

/** `Link 2 out 17–24 takes Mix 1–8`: a setting as the console's own page reads. */
export function settingName(wired: WiredDevice, { to, from, count }: Assignment): string {
  const { destinations, sources } = wired.fabric.layout;
  const run = (span: Span | undefined, group: string, first: number): string =>
    span ? spanRun(span, first, count) : `${group} ${count === 1 ? first : `${first}–${first + count - 1}`}`;
  return `${run(destinations.get(to.group), to.group, to.first)} takes ${run(sources.get(from.group), from.group, from.first)}`;
}

/** `Monitors Mix 9`, or for a source its name and jack. */
export function originName(wiring: Wiring, origin: Origin): string {
  if (origin.kind === "tap") return terminalName(wiring, origin.at);
  const source = sourcesById(wiring.show).get(origin.source)!;
  return `${source.name} (${terminalName(wiring, origin.at)})`;
}

/** The verdict as one line that says where and with which numbers. */
export function verdictText(wiring: Wiring, { verdict }: Trace): string {
  const name = (terminal: Terminal): string => terminalName(wiring, terminal);
  const cable = (id: string): string => {
    const found = cablesById(wiring.show).get(id);
    return found?.tag ? `cable ${found.tag}` : "the cable";
  };
  switch (verdict.kind) {
    case "arrives":
      return `arrives from ${originName(wiring, verdict.origin)}`;
    case "nothing-assigned":
      return `nothing is assigned to ${name(verdict.at)}`;
    case "not-plugged":
      return verdict.cable === null
        ? `nothing is plugged in ${name(verdict.at)}`
        : `${cable(verdict.cable)} joins nothing at ${name(verdict.at)}`;
    case "beyond-slots":
      return `${name(verdict.at)} lies beyond the ${verdict.slots} slots there are at ${rateName(verdict.rate)}`;
    case "not-wired": {
      const { fabric, device } = passed(wiring, verdict.at);
      const mode = `mode “${fabric.mode?.name ?? device.mode}”`;
      return verdict.assignment
        ? `${device.name} can't hold “${settingName(passed(wiring, verdict.at), verdict.assignment)}” in ${mode}`
        : `nothing feeds ${name(verdict.at)} in ${mode}`;
    }
    case "mismatch":
      return verdict.why === "rate"
        ? `the ends of ${cable(verdict.cable)} run at different sample rates, at ${name(verdict.at)}`
        : `the ends of ${cable(verdict.cable)} follow different word clocks, at ${name(verdict.at)}`;
    case "loop":
      return `a loop: ${loopName(verdict.cycle, name)}`;
    case "off":
      return verdict.cable === null
        ? `${passed(wiring, { device: verdict.device! }).device.name} is off`
        : `${cable(verdict.cable)} is pulled`;
    case "unknown":
      return `${cable(verdict.cable)} at ${name(verdict.at)} leads to something that the show doesn't have`;
    default:
      return never(verdict);
  }
}

/** A loop can run through every slot of a port; past so many terminals the rest is counted. */
const MOST_NAMED = 24;

function loopName(cycle: readonly Terminal[], name: (terminal: Terminal) => string): string {
  const shown = cycle.slice(0, MOST_NAMED).map(name);
  const rest = cycle.length - shown.length;
  return [...shown, ...(rest > 0 ? [`${rest} more`] : []), shown[0]!].join(" → ");
}
