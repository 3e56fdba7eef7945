/**
 * The inside of a device: what feeds each of its terminals before any cable is plugged. What a fabric alone decides is
 * worked out once for each rate, as a sheet with the device's own offsets; laying a device copies the sheet to where the
 * device stands and writes its settings over it.
 */
import type { Delay } from "../model/device-type.ts";
import type { Assignment } from "../model/show.ts";
import type { SampleRate } from "../model/units.ts";
import { BEYOND_PORT, holds, NO_RULE, type Fabric } from "./fabric.ts";
import { insertsOf } from "./inserts.ts";
import { legsOf, takesRules, type Span } from "./layout.ts";
import { Edge, State, type Tables, type WiredDevice } from "./wiring.ts";

interface Sheet {
  /** Offset of each terminal's feeder within the device; −1: none. */
  readonly feed: Int32Array;
  readonly state: Uint8Array;
  readonly edge: Uint8Array;
  readonly setting: Int32Array;
  readonly delay: Float64Array;
  /** For each terminal what its own conversion adds to a step that leaves or enters it. */
  readonly conversion: Float64Array;
  /** For each rule what its own delay adds. */
  readonly ruleDelay: Float64Array;
}

export const delayMs = (delay: Delay | undefined, rate: SampleRate): number => {
  if (!delay) return 0;
  return delay.unit === "ms" ? delay.value : (delay.value / rate) * 1000;
};

const sheets = new WeakMap<Fabric, Map<SampleRate, Sheet>>();

function sheetOf(fabric: Fabric, rate: SampleRate): Sheet {
  let known = sheets.get(fabric);
  if (!known) sheets.set(fabric, (known = new Map()));
  let sheet = known.get(rate);
  if (!sheet) known.set(rate, (sheet = makeSheet(fabric, rate)));
  return sheet;
}

function makeSheet(fabric: Fabric, rate: SampleRate): Sheet {
  const { size } = fabric.layout;
  const sheet: Sheet = {
    feed: new Int32Array(size).fill(-1),
    state: new Uint8Array(size).fill(State.unplugged),
    edge: new Uint8Array(size),
    setting: new Int32Array(size).fill(-1),
    delay: new Float64Array(size),
    conversion: new Float64Array(size),
    ruleDelay: Float64Array.from(fabric.rules, ({ delay }) => delayMs(delay, rate)),
  };
  for (const span of fabric.layout.spans) {
    if (span.side === "jack" && span.bank.convert) {
      sheet.conversion.fill(delayMs(span.bank.convert, rate), span.start, span.start + span.count);
    }
  }
  for (const span of fabric.layout.spans) {
    const fixed = fixedState(span);
    if (fixed === null) layRules(sheet, fabric, span);
    else sheet.state.fill(fixed, span.start, span.start + span.count);
    if (span.side === "bus" && span.section.role === "join") {
      // Past its longest leg nothing could ever come to a join.
      const legs = legsOf(fabric.layout, span.section.from).map(({ count }) => count);
      const last = Math.min(span.count, Math.max(0, ...legs));
      sheet.state.fill(State.unwired, span.start + last, span.start + span.count);
    }
  }
  return sheet;
}

/** The state of what no rule feeds: inputs wait for a plug, taps are origins. Null for destinations. */
function fixedState(span: Span): State | null {
  // A network port's slots wait for a stream, not for a cable.
  if (span.side === "receive") return span.port.network ? State.unassigned : State.unplugged;
  if (span.side === "jack" && span.bank.direction === "in") {
    return span.bank.connector === "none" ? State.unassigned : State.unplugged;
  }
  return span.side === "bus" && !takesRules(span.section) ? State.tap : null;
}

/** Conversion belongs to the step that leaves an input jack and to the one that enters an output jack. */
const stepDelay = ({ ruleDelay, conversion }: Sheet, rule: number, from: number, to: number): number =>
  ruleDelay[rule]! + (conversion[from]! + conversion[to]!);

function layRules(sheet: Sheet, fabric: Fabric, span: Span): void {
  for (let offset = span.start; offset < span.start + span.count; offset++) {
    const index = fabric.rule[offset]!;
    const rule = index === NO_RULE ? null : fabric.rules[index]!;
    if (rule === null) sheet.state[offset] = State.unwired;
    else if (rule.kind === "patch") sheet.state[offset] = State.unassigned;
    else {
      sheet.edge[offset] = rule.kind === "wired" ? Edge.wired : Edge.carried;
      sheet.setting[offset] = index;
      const from = fabric.feed[offset]!;
      if (from === BEYOND_PORT) sheet.state[offset] = State.beyondSlots;
      else {
        sheet.feed[offset] = from;
        sheet.state[offset] = State.fed;
        sheet.delay[offset] = stepDelay(sheet, index, from, offset);
      }
    }
  }
}

/** Writes the inside of one device into the tables of the rig. */
export function layDevice(tables: Tables, wired: WiredDevice): void {
  const { base, fabric, rate } = wired;
  const sheet = sheetOf(fabric, rate);
  tables.state.set(sheet.state, base);
  tables.edge.set(sheet.edge, base);
  tables.setting.set(sheet.setting, base);
  tables.delay.set(sheet.delay, base);
  const { feed } = sheet;
  for (let offset = 0; offset < feed.length; offset++) {
    const from = feed[offset]!;
    tables.feeder[base + offset] = from < 0 ? -1 : base + from;
  }
  const { routing } = wired.device;
  for (let index = 0; index < routing.length; index++)
    layAssignment(tables, wired, sheet, routing[index]!, index);
  for (const { at, role, comesBack, insert } of insertsOf(wired.device, fabric.layout).points) {
    // A channel goes on taking its input; what takes the channel takes its return instead.
    if (role === "channel") continue;
    tables.feeder[base + at] = base + comesBack;
    tables.state[base + at] = State.fed;
    tables.edge[base + at] = Edge.insert;
    tables.setting[base + at] = insert;
  }
}

/** Of two settings on one destination the later one counts; a finding tells of it. */
function layAssignment(
  tables: Tables,
  { base, fabric }: WiredDevice,
  sheet: Sheet,
  assignment: Assignment,
  index: number,
): void {
  const { to, from, count } = assignment;
  const target = fabric.layout.destinations.get(to.group);
  const source = fabric.layout.sources.get(from.group);
  if (!target) return;
  // The run that was looked at last; its terminals share the answer.
  let lookedRule = NO_RULE;
  let lookedRun = -1;
  let held = false;
  const end = Math.min(count, target.count - to.first + 1);
  for (let n = Math.max(0, 1 - to.first); n < end; n++) {
    const offset = target.start + to.first + n - 1;
    const ruleIndex = fabric.rule[offset]!;
    const rule = ruleIndex === NO_RULE ? null : fabric.rules[ruleIndex]!;
    if (rule && rule.kind !== "patch") continue;
    const terminal = base + offset;
    tables.edge[terminal] = Edge.patched;
    tables.setting[terminal] = index;
    const taken = from.first + n;
    if (rule) {
      const run = n - (n % rule.run);
      if (ruleIndex !== lookedRule || run !== lookedRun) {
        held = holds(rule, assignment, n);
        lookedRule = ruleIndex;
        lookedRun = run;
      }
    }
    if (rule && source && taken <= source.count && held) {
      const feeder = source.start + taken - 1;
      tables.feeder[terminal] = base + feeder;
      tables.state[terminal] = State.fed;
      tables.delay[terminal] = stepDelay(sheet, ruleIndex, feeder, offset);
    } else {
      tables.feeder[terminal] = -1;
      tables.state[terminal] = State.unwired;
      tables.delay[terminal] = 0;
    }
  }
}
