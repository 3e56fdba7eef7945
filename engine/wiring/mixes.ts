/** The mixes of every mix engine as one many-to-many table, both ways round. */
import type { MixSection, SectionRole } from "../model/device-type.ts";
import type { DeviceId, GroupId } from "../model/ids.ts";
import type { Mix, Show } from "../model/show.ts";
import { once } from "../model/once.ts";
import { filled, startsOf } from "./buckets.ts";
import { insertsOf, placeOf, type Inserts } from "./inserts.ts";
import { legsOf, type Span, type TypeLayout } from "./layout.ts";
import type { MixTable, WiredDevice, Wiring } from "./wiring.ts";

/** In `MixTable.mix`: what a direct out, an insert send or a join takes is fixed; nobody sets it. */
export const DIRECT = -1;

const TAKES_FIXED: ReadonlySet<SectionRole> = new Set(["direct", "send", "join"]);

/** Who goes into what, one link after another: direct outs first, then the show's mixes in their order. */
class Links {
  readonly member: Int32Array;
  readonly tap: Int32Array;
  readonly mix: Int32Array;
  count = 0;

  constructor(most: number) {
    this.member = new Int32Array(most);
    this.tap = new Int32Array(most);
    this.mix = new Int32Array(most);
  }

  add(member: number, tap: number, mix: number): void {
    const at = this.count++;
    this.member[at] = member;
    this.tap[at] = tap;
    this.mix[at] = mix;
  }
}

/** At least as many as there are links: all that the show's mixes name, and what the devices' types take fixed. */
function mostLinks({ mixes }: Show, devices: readonly (WiredDevice | null)[]): number {
  let most = 0;
  for (const { members, width } of mixes) most += members.length * width;
  for (const wired of devices) most += wired ? fixedLinks(wired.fabric.layout) : 0;
  return most;
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
): Pick<Wiring, "mixInto" | "mixOutOf" | "mixWhole"> {
  const links = new Links(mostLinks(show, devices));
  for (const wired of devices) if (wired) addFixed(links, wired);
  const { mixes } = show;
  const mixWhole = new Uint8Array(mixes.length);
  for (let index = 0; index < mixes.length; index++) {
    const mix = mixes[index]!;
    const wired = devices[indexOf.get(mix.console) ?? -1];
    if (wired && addMix(links, wired, mix, index)) mixWhole[index] = 1;
  }
  return {
    mixInto: tableOf(size, links, links.tap, links.member),
    mixOutOf: tableOf(size, links, links.member, links.tap),
    mixWhole,
  };
}

/** The links in the order of their `key`; those of one key stay in the order in which they were added. */
function tableOf(size: number, { count, mix: mixes }: Links, key: Int32Array, value: Int32Array): MixTable {
  const start = startsOf(key.subarray(0, count), size);
  const terminal = new Int32Array(count);
  const mix = new Int32Array(count);
  for (let n = 0; n < count; n++) {
    const at = start[key[n]!]!++;
    terminal[at] = value[n]!;
    mix[at] = mixes[n]!;
  }
  return { start: filled(start), terminal, mix };
}

/** What takes a channel takes the return of its insert. A bus stands behind its insert already. */
function afterInsert({ byPlace }: Inserts, member: number): number {
  if (byPlace.size === 0) return member;
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
        links.add(base + afterInsert(inserts, channel.start + n), base + tap.start + n, DIRECT);
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
    if (!point || point.role === "channel") links.add(base + place.start + n, base + send.start + n, DIRECT);
  }
}

/** A join takes its input jacks and channels as they stand, before any insert. */
function addJoin(links: Links, { base, fabric: { layout } }: WiredDevice, { id, from }: MixSection): void {
  const join = layout.sources.get(id)!;
  for (const leg of legsOf(layout, from)) {
    for (let n = 0; n < Math.min(join.count, leg.count); n++)
      links.add(base + leg.start + n, base + join.start + n, DIRECT);
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
  // Members stand section by section, so each section is looked up about once.
  let group: GroupId | null = null;
  let span: Span | null = null;
  let whole = true;
  for (const member of mix.members) {
    if (member.group !== group) {
      group = member.group;
      span = memberSpan(layout, bus.section.from, group);
    }
    if (!span || member.number < 1 || member.number > span.count) {
      whole = false;
      continue;
    }
    const from = base + afterInsert(inserts, span.start + member.number - 1);
    if (left !== null) links.add(from, base + left, index);
    if (right !== null) links.add(from, base + right, index);
  }
  return whole;
}

/** The section that a member lies in; null where there is none or the bus doesn't take it. */
function memberSpan(layout: TypeLayout, from: readonly GroupId[], group: GroupId): Span | null {
  if (!from.includes(group)) return null;
  const span = layout.destinations.get(group) ?? layout.sources.get(group);
  return span?.side === "bus" ? span : null;
}
