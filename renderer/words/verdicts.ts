/** Verdicts, settings and delays in the trade's words. */
import {
  CABLES,
  decidedBy,
  findTerminal,
  lengthName,
  LOOP,
  metres,
  msToSamples,
  never,
  round,
  settingName,
  sideName,
  shortName,
  State,
  stepsOf,
  verdictText,
  VERDICT_NAMES,
  wiredOf,
  type Analysis,
  type BlockState,
  type Cable,
  type CableId,
  type DeviceId,
  type FabricRule,
  type GroupId,
  type ModeId,
  type Provenance,
  type SampleRate,
  type Step,
  type Trace,
  type VerdictKind,
  type WiredDevice,
} from "#engine";
import { deviceName, namesIn } from "./names.ts";

export type Tone = "ok" | "warn" | "danger" | "quiet";

/** How much a verdict matters where nobody asked for a signal: an unassigned slot is no fault. */
export const VERDICT_TONES: Readonly<Record<VerdictKind, Tone>> = {
  arrives: "ok",
  "nothing-assigned": "quiet",
  "not-plugged": "quiet",
  "beyond-slots": "danger",
  "not-wired": "quiet",
  mismatch: "danger",
  loop: "danger",
  off: "danger",
  unknown: "warn",
};

export const BLOCK_TONES: Readonly<Record<BlockState, Tone>> = {
  "one owner": "ok",
  shared: "warn",
  "sources only": "quiet",
  "partly fed": "quiet",
  unfed: "quiet",
};

/** The verdict of a terminal from the arrays alone, for lists with thousands of rows. */
export function verdictAt({ wiring, arrivals }: Analysis, terminal: number): VerdictKind {
  const root = arrivals.root[terminal]!;
  if (root === LOOP) return "loop";
  switch (wiring.state[root] as State) {
    case State.tap:
    case State.source:
      return "arrives";
    case State.unassigned:
      return "nothing-assigned";
    case State.unplugged:
      return "not-plugged";
    case State.beyondSlots:
      return "beyond-slots";
    case State.unwired:
      return "not-wired";
    case State.mismatch:
      return "mismatch";
    case State.off:
      return "off";
    default:
      return "unknown";
  }
}

const cableOf = ({ show }: Analysis, id: CableId): Cable | undefined =>
  show.cables.find((cable) => cable.id === id);

/** `Cable S1`, or `the cable from Stage left to Monitors` where it has no tag. */
export function cableName(analysis: Analysis, id: CableId): string {
  const cable = cableOf(analysis, id);
  if (!cable) return "a cable that is not in the show";
  if (cable.tag) return `cable ${cable.tag}`;
  const [a, b] = cable.ends;
  return `the cable from ${deviceName(analysis, a.device)} to ${deviceName(analysis, b.device)}`;
}

export function modeName(analysis: Analysis, device: DeviceId, mode: ModeId): string {
  return (
    namesIn(analysis)
      .types.get(device)
      ?.modes.find(({ id }) => id === mode)?.name ?? mode
  );
}

/** How a trace ends and why, as one sentence. */
export const verdictSentence = ({ wiring }: Analysis, trace: Trace): string =>
  `${capital(verdictText(wiring, trace))}.`;

export const verdictName = (kind: VerdictKind): string => VERDICT_NAMES[kind];

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const lower = (text: string): string =>
  /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;

const span = (first: number, count: number): string =>
  count === 1 ? `${first}` : `${first}–${first + count - 1}`;

/** `Link 2 out` as a destination, `Link 2 in` as a source. */
function groupName(wired: WiredDevice | null, group: GroupId, as: "source" | "destination"): string {
  const layout = wired?.fabric.layout;
  const found = as === "source" ? layout?.sources.get(group) : layout?.destinations.get(group);
  return found ? sideName(found) : group;
}

function ruleText(wired: WiredDevice | null, rule: FabricRule | undefined): string {
  if (!wired || !rule) return "";
  const shift = (end: { readonly first: number; readonly perPosition?: number }): number =>
    end.first + (wired.device.position - 1) * (end.perPosition ?? 0);
  switch (rule.kind) {
    case "wired": {
      const target = lower(groupName(wired, rule.to.group, "destination"));
      const source = lower(groupName(wired, rule.from.group, "source"));
      return `${target} ${span(shift(rule.to), rule.count)} takes ${source} ${span(shift(rule.from), rule.count)}`;
    }
    case "carry": {
      const target = lower(groupName(wired, rule.to, "destination"));
      const shifted = rule.shift === 0 ? "slot by slot" : `shifted by ${rule.shift}`;
      return `${target} carries ${lower(groupName(wired, rule.from, "source"))} ${shifted}`;
    }
    case "patch":
      return "";
    default:
      return never(rule);
  }
}

export interface Decider {
  /** What sort of thing decides: a cable, a setting that somebody made, the device's mode, or nothing that can be set. */
  readonly kind: "cable" | "setting" | "mode" | "fixed" | "mix" | "converter";
  readonly head: string;
  readonly detail: string;
}

/** What decides a step, as the crew would look for it. */
export function deciderOf(analysis: Analysis, step: Step): Decider {
  const { device } = step.to;
  switch (step.kind) {
    case "cable": {
      const cable = cableOf(analysis, step.cable);
      const detail = cable ? `${cableFacts(analysis, cable)}` : "";
      return { kind: "cable", head: cable?.tag || "untagged cable", detail };
    }
    case "patched":
      return {
        kind: "setting",
        head: "set",
        detail: wiredOf(analysis.wiring, device)
          ? settingName(wiredOf(analysis.wiring, device)!, step.assignment)
          : "",
      };
    case "wired":
    case "carried": {
      const wired = wiredOf(analysis.wiring, device);
      const ofMode = step.rule < (wired?.fabric.mode?.rules.length ?? 0);
      const only = (wired?.fabric.layout.type.modes.length ?? 1) < 2;
      const detail = ruleText(wired, wired?.fabric.rules[step.rule]);
      return ofMode && !only
        ? { kind: "mode", head: `mode “${modeName(analysis, device, step.mode)}”`, detail }
        : { kind: "fixed", head: "fixed", detail };
    }
    case "mixed": {
      const at = findTerminal(analysis.wiring, step.from);
      const from = at === null ? "" : lower(shortName(analysis.wiring, at));
      const mix = step.mix === null ? null : analysis.show.mixes.find(({ id }) => id === step.mix);
      return step.tap === "direct" && !mix
        ? { kind: "fixed", head: decidedBy(analysis.wiring, step), detail: `of ${from}` }
        : { kind: "mix", head: mix?.name ?? "mix", detail: `takes ${from} ${step.tap} fader` };
    }
    case "converted":
      return { kind: "converter", head: "converter", detail: step.way === "other" ? "" : step.way };
    default:
      return { kind: "fixed", head: decidedBy(analysis.wiring, step), detail: "" };
  }
}

export function cableFacts({ show }: Analysis, cable: Cable): string {
  const length =
    cable.length === undefined ? "length not known" : lengthName(metres(cable.length), show.settings.units);
  // A number and its unit stay on one line.
  return `${CABLES[cable.kind].name}, ${length.replace(" ", "\u00a0")}`;
}

/** `0.063`: milliseconds; what is too short to show but isn't nothing says so. */
export const msText = (time: number): string => (time > 0 && time < 0.0005 ? "<0.001" : time.toFixed(3));

/** `3.0`: samples at the show's rate. */
export const samplesText = (time: number, rate: SampleRate): string => {
  const count = msToSamples(time, rate);
  return count >= 100 ? String(Math.round(count)) : String(round(count, 1).toFixed(1));
};

/** Values of a trace by where they come from. */
export function provenanceCounts(trace: Trace): ReadonlyMap<Provenance, number> {
  const counts = new Map<Provenance, number>();
  for (const step of stepsOf(trace)) {
    for (const { provenance } of step.parts) counts.set(provenance, (counts.get(provenance) ?? 0) + 1);
  }
  return counts;
}

export const isAssumed = (step: Step): boolean =>
  step.parts.some(({ provenance }) => provenance === "assumed");

export const plural = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;
