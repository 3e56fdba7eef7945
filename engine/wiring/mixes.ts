/** The mixes of every mix engine as one many-to-many table, and the same the other way round. */
import type { MixSection, SectionRole } from "../model/device-type.ts";
import type { DeviceId, GroupId } from "../model/ids.ts";
import type { Mix, Show } from "../model/show.ts";
import { once } from "../model/once.ts";
import { bucketsOf, countsToStarts, filled } from "./buckets.ts";
import { insertsOf, placeOf, type Inserts } from "./inserts.ts";
import { legsOf, type Span, type TypeLayout } from "./layout.ts";
import type { MixTable, WiredDevice, Wiring } from "./wiring.ts";

/** In `MixTable.mix`: what a direct out, an insert send or a join takes is fixed; nobody sets it. */
export const DIRECT = -1;

const TAKES_FIXED: ReadonlySet<SectionRole> = new Set(["direct", "send", "join"]);

/**
 * Who goes into what, in runs of members that all go into one tap: direct outs first, then the show's mixes in their order.
 */
class Links {
  /** The members of all runs, one after another. */
  readonly member: Int32Array;
  /** The tap and the mix of each run, and the number of links up to its end. */
  readonly taps: Int32Array;
  readonly mixOfRun: Int32Array;
  readonly ends: Int32Array;
  /** How many links go into each terminal. */
  readonly into: Int32Array;
  count = 0;
  runs = 0;

  constructor(room: Room, size: number) {
    this.member = new Int32Array(room.links);
    this.taps = new Int32Array(room.runs);
    this.mixOfRun = new Int32Array(room.runs);
    this.ends = new Int32Array(room.runs);
    this.into = new Int32Array(size + 1);
  }

  /** One more member of the run that ends next. */
  add(member: number): void {
    this.member[this.count++] = member;
  }

  /** All that was added since the run before goes into a tap. */
  endRun(tap: number, mix: number): void {
    const run = this.runs++;
    this.into[tap]! += this.count - this.endOf(run - 1);
    this.taps[run] = tap;
    this.mixOfRun[run] = mix;
    this.ends[run] = this.count;
  }

  endOf(run: number): number {
    return run < 0 ? 0 : this.ends[run]!;
  }

  addRun(member: number, tap: number): void {
    this.add(member);
    this.endRun(tap, DIRECT);
  }

  /** The members of the last run go into another tap as well. */
  repeatRun(tap: number, mix: number): void {
    const end = this.count;
    for (let n = this.endOf(this.runs - 2); n < end; n++) this.add(this.member[n]!);
    this.endRun(tap, mix);
  }
}

interface Room {
  readonly links: number;
  readonly runs: number;
}

/** Room for all that the show's mixes name, a run for each bus, and for what the devices' types take fixed, one by one. */
function roomFor({ mixes }: Show, devices: readonly (WiredDevice | null)[]): Room {
  let fixed = 0;
  for (const wired of devices) fixed += wired ? fixedLinks(wired.fabric.layout) : 0;
  let [links, runs] = [fixed, fixed];
  for (const { members, width } of mixes) {
    links += members.length * width;
    runs += width;
  }
  return { links, runs };
}

const fixedLinks = once(({ type }: TypeLayout): number => {
  const fixed = (type.mixer?.sections ?? []).filter(({ role }) => TAKES_FIXED.has(role));
  return fixed.reduce((sum, { count, from }) => sum + count * Math.max(1, from.length), 0);
});

export function compileMixes(
  show: Show,
  devices: readonly (WiredDevice | null)[],
  indexOf: ReadonlyMap<DeviceId, number>,
  size: number,
): Pick<Wiring, "mixInto" | "mixWhole"> {
  const links = new Links(roomFor(show, devices), size);
  for (const wired of devices) if (wired) addFixed(links, wired);
  const { mixes } = show;
  const mixWhole = new Uint8Array(mixes.length);
  for (let index = 0; index < mixes.length; index++) {
    const mix = mixes[index]!;
    const wired = devices[indexOf.get(mix.console) ?? -1];
    if (wired && addMix(links, wired, mix, index)) mixWhole[index] = 1;
  }
  return { mixInto: tableOf(links), mixWhole };
}

/** The links gathered by their taps; those of one tap stay in the order in which they were added. */
function tableOf({ member, into, ends, taps, mixOfRun, count, runs }: Links): MixTable {
  const terminal = new Int32Array(count);
  const mix = new Int32Array(count);
  countsToStarts(into);
  let n = 0;
  for (let run = 0; run < runs; run++) {
    const end = ends[run]!;
    let at = into[taps[run]!]!;
    for (; n < end; n++, at++) {
      terminal[at] = member[n]!;
      mix[at] = mixOfRun[run]!;
    }
    into[taps[run]!] = at;
  }
  return { start: filled(into), terminal, mix };
}

/** What each terminal goes into, in ascending order: `mixInto` the other way round, made when something first asks for it. */
export const mixOutOf = ({ mixInto }: Pick<Wiring, "mixInto">): MixTable => reversed(mixInto);

const reversed = once(({ start: into, terminal: members, mix: mixes }: MixTable): MixTable => {
  const size = into.length - 1;
  const { start, list } = bucketsOf(members, size);
  const taps = new Int32Array(members.length);
  for (let tap = 0; tap < size; tap++) taps.fill(tap, into[tap], into[tap + 1]);
  return { start, terminal: list.map((link) => taps[link]!), mix: list.map((link) => mixes[link]!) };
});

/** What takes a channel takes the return of its insert. A bus stands behind its insert already. */
function afterInsert({ points, byPlace }: Inserts, member: number): number {
  if (points.length === 0) return member;
  const point = byPlace.get(member);
  return point?.role === "channel" ? point.comesBack : member;
}

/** What goes into a bus goes into the send of its insert; null where the insert has none, or the section no such bus. */
function beforeInsert({ byPlace }: Inserts, { start, count }: Span, number: number): number | null {
  if (number > count) return null;
  const bus = start + number - 1;
  const point = byPlace.size === 0 ? undefined : byPlace.get(bus);
  return point ? point.goesOut : bus;
}

function addFixed(links: Links, wired: WiredDevice): void {
  const { base, device, fabric } = wired;
  const { layout } = fabric;
  const inserts = insertsOf(device, layout);
  for (const section of layout.type.mixer?.sections ?? []) {
    if (section.role === "send") addSend(links, wired, section, inserts);
    if (section.role === "join") addJoin(links, wired, section);
    if (section.role !== "direct") continue;
    const tap = layout.sources.get(section.id)!;
    for (const group of section.from) {
      const channel = layout.destinations.get(group);
      if (channel?.side !== "bus") continue;
      const count = Math.min(tap.count, channel.count);
      for (let n = 0; n < count; n++) {
        links.addRun(base + afterInsert(inserts, channel.start + n), base + tap.start + n);
      }
    }
  }
}

/** A send takes its channel or bus; of a bus whose insert is in, what goes into the bus. */
function addSend(
  links: Links,
  { base, fabric: { layout } }: WiredDevice,
  section: MixSection,
  { byPlace }: Inserts,
): void {
  const place = placeOf(layout, section);
  const send = layout.sources.get(section.id);
  if (!place || !send) return;
  for (let n = 0; n < Math.min(send.count, place.count); n++) {
    const point = byPlace.get(place.start + n);
    if (!point || point.role === "channel") links.addRun(base + place.start + n, base + send.start + n);
  }
}

/** A join takes its input jacks and channels as they stand, before any insert. */
function addJoin(links: Links, { base, fabric: { layout } }: WiredDevice, { id, from }: MixSection): void {
  const join = layout.sources.get(id)!;
  for (const leg of legsOf(layout, from)) {
    for (let n = 0; n < Math.min(join.count, leg.count); n++)
      links.addRun(base + leg.start + n, base + join.start + n);
  }
}

/** A stereo mix feeds both its buses from every member. Whether all members go in. */
function addMix(links: Links, wired: WiredDevice, mix: Mix, index: number): boolean {
  const { base, device, fabric } = wired;
  const { layout } = fabric;
  const bus = layout.sources.get(mix.group);
  // What a direct out, an insert send or a join takes is fixed, whatever a mix record says.
  if (bus?.side !== "bus" || TAKES_FIXED.has(bus.section.role)) return false;
  const inserts = insertsOf(device, layout);
  const left = beforeInsert(inserts, bus, mix.first);
  const right = mix.width === 2 ? beforeInsert(inserts, bus, mix.first + 1) : null;
  const first = left ?? right;
  // Members stand section by section, so each section is looked up about once.
  let group: GroupId | null = null;
  let start = 0;
  let count = 0;
  let whole = true;
  for (const member of mix.members) {
    if (member.group !== group) {
      group = member.group;
      const span = memberSpan(layout, bus.section.from, group);
      start = span?.start ?? 0;
      count = span?.count ?? 0;
    }
    const { number } = member;
    if (number < 1 || number > count) whole = false;
    else if (first !== null) links.add(base + afterInsert(inserts, start + number - 1));
  }
  if (first === null) return whole;
  links.endRun(base + first, index);
  if (left !== null && right !== null) links.repeatRun(base + right, index);
  return whole;
}

/** The section that a member lies in; null where there is none or the bus doesn't take it. */
function memberSpan(layout: TypeLayout, from: readonly GroupId[], group: GroupId): Span | null {
  if (!from.includes(group)) return null;
  const span = layout.destinations.get(group) ?? layout.sources.get(group);
  return span?.side === "bus" ? span : null;
}
