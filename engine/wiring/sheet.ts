/**
 * The inside of one device with its settings: what feeds each of its terminals, before any cable is plugged. Offsets
 * are the device's own. A sheet depends on the device's record, its fabric and its rate alone, all of which never
 * change, so it is kept with the record: after an edit only the devices that it touched are worked out again.
 */
import type { Delay } from "../model/device-type.ts";
import type { Device } from "../model/show.ts";
import type { SampleRate } from "../model/units.ts";
import { BEYOND_PORT, holds, NO_RULE, type Fabric } from "./fabric.ts";
import type { Span } from "./layout.ts";
import { Edge, State } from "./wiring.ts";

export interface Sheet {
  readonly fabric: Fabric;
  readonly rate: SampleRate;
  /** Offset of each terminal's feeder within the device; −1: none. */
  readonly feed: Int32Array;
  readonly state: Uint8Array;
  readonly edge: Uint8Array;
  readonly setting: Int32Array;
  readonly delay: Float64Array;
}

export const delayMs = (delay: Delay | undefined, rate: SampleRate): number => {
  if (!delay) return 0;
  return delay.unit === "ms" ? delay.value : (delay.value / rate) * 1000;
};

const sheets = new WeakMap<Device, Sheet>();

export function sheetOf(device: Device, fabric: Fabric, rate: SampleRate): Sheet {
  const known = sheets.get(device);
  if (known && known.fabric === fabric && known.rate === rate) return known;
  const sheet = makeSheet(device, fabric, rate);
  sheets.set(device, sheet);
  return sheet;
}

function makeSheet(device: Device, fabric: Fabric, rate: SampleRate): Sheet {
  const { size } = fabric.layout;
  const sheet: Sheet = {
    fabric,
    rate,
    feed: new Int32Array(size).fill(-1),
    state: new Uint8Array(size).fill(State.unplugged),
    edge: new Uint8Array(size),
    setting: new Int32Array(size).fill(-1),
    delay: new Float64Array(size),
  };
  for (const span of fabric.layout.spans) {
    const fixed = fixedState(span);
    if (fixed === null) layRules(sheet, span);
    else sheet.state.fill(fixed, span.start, span.start + span.count);
  }
  layRouting(sheet, device);
  addConversion(sheet);
  return sheet;
}

/** The state of what no rule feeds: inputs wait for a plug, taps are origins. Null for destinations. */
function fixedState(span: Span): State | null {
  // A network port's slots wait for a stream, not for a cable.
  if (span.side === "receive") return span.port.network ? State.unassigned : State.unplugged;
  if (span.side === "jack" && span.bank.direction === "in") {
    return span.bank.connector === "none" ? State.unassigned : State.unplugged;
  }
  return span.side === "bus" && span.section.role !== "channel" ? State.tap : null;
}

function connect(sheet: Sheet, offset: number, from: number, time: number): void {
  sheet.feed[offset] = from;
  sheet.state[offset] = State.fed;
  sheet.delay[offset] = time;
}

function layRules(sheet: Sheet, span: Span): void {
  const { fabric, rate } = sheet;
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
      else connect(sheet, offset, from, delayMs(rule.delay, rate));
    }
  }
}

/** Of two settings on one destination the later one counts; a finding tells of it. */
function layRouting(sheet: Sheet, { routing }: Device): void {
  const { fabric, rate } = sheet;
  routing.forEach((assignment, index) => {
    const { to, from, count } = assignment;
    const target = fabric.layout.destinations.get(to.group);
    const source = fabric.layout.sources.get(from.group);
    if (!target) return;
    for (let n = 0; n < count; n++) {
      const place = to.first + n - 1;
      if (place < 0 || place >= target.count) continue;
      const offset = target.start + place;
      const rule = fabric.rule[offset] === NO_RULE ? null : fabric.rules[fabric.rule[offset]!]!;
      if (rule && rule.kind !== "patch") continue;
      sheet.edge[offset] = Edge.patched;
      sheet.setting[offset] = index;
      const taken = from.first + n;
      if (rule && source && taken <= source.count && holds(rule, assignment, n)) {
        connect(sheet, offset, source.start + taken - 1, delayMs(rule.delay, rate));
      } else {
        sheet.feed[offset] = -1;
        sheet.state[offset] = State.unwired;
        sheet.delay[offset] = 0;
      }
    }
  });
}

/** Conversion belongs to the step that leaves an input jack and to the one that enters an output jack. */
function addConversion({ fabric, rate, feed, delay }: Sheet): void {
  const share = new Float64Array(fabric.layout.size);
  for (const span of fabric.layout.spans) {
    if (span.side !== "jack" || !span.bank.convert) continue;
    share.fill(delayMs(span.bank.convert, rate), span.start, span.start + span.count);
  }
  for (let offset = 0; offset < delay.length; offset++) {
    const from = feed[offset]!;
    if (from >= 0) delay[offset]! += share[from]! + share[offset]!;
  }
}
