/** The mixes of every mix engine as one many-to-many table, both ways round. */
import type { MixSection, SectionRole } from "../model/device-type.ts";
import type { DeviceId, GroupId } from "../model/ids.ts";
import type { Mix, Show } from "../model/show.ts";
import { bucketsOf } from "./buckets.ts";
import { insertsOf, placeOf, type Inserts } from "./inserts.ts";
import { legsOf, type Span, type TypeLayout } from "./layout.ts";
import type { MixTable, WiredDevice } from "./wiring.ts";

/** In `MixTable.mix`: what a direct out, an insert send or a join takes is fixed; nobody sets it. */
export const DIRECT = -1;

const TAKES_FIXED: ReadonlySet<SectionRole> = new Set(["direct", "send", "join"]);

/** Who goes into what, one link after another: direct outs first, then the show's mixes in their order. */
class Links {
  member = new Int32Array(1024);
  tap = new Int32Array(1024);
  mix = new Int32Array(1024);
  count = 0;

  add(member: number, tap: number, mix: number): void {
    if (this.count === this.member.length) {
      this.member = grown(this.member);
      this.tap = grown(this.tap);
      this.mix = grown(this.mix);
    }
    this.member[this.count] = member;
    this.tap[this.count] = tap;
    this.mix[this.count++] = mix;
  }
}

function grown(array: Int32Array): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(array.length * 2);
  larger.set(array);
  return larger;
}

export function compileMixes(
  show: Show,
  devices: readonly (WiredDevice | null)[],
  indexOf: ReadonlyMap<DeviceId, number>,
  size: number,
): { readonly mixInto: MixTable; readonly mixOutOf: MixTable } {
  const links = new Links();
  for (const wired of devices) if (wired) addFixed(links, wired);
  const { mixes } = show;
  for (let index = 0; index < mixes.length; index++) {
    const mix = mixes[index]!;
    const wired = devices[indexOf.get(mix.console) ?? -1];
    if (wired) addMix(links, wired, mix, index);
  }
  return {
    mixInto: tableOf(size, links, links.tap, links.member),
    mixOutOf: tableOf(size, links, links.member, links.tap),
  };
}

/** The links in the order of their `key`; those of one key stay in the order in which they were added. */
function tableOf(size: number, { count, mix }: Links, key: Int32Array, value: Int32Array): MixTable {
  const { start, list } = bucketsOf(key.subarray(0, count), size);
  return { start, terminal: list.map((n) => value[n]!), mix: list.map((n) => mix[n]!) };
}

/** What takes a channel takes the return of its insert. A bus stands behind its insert already. */
function afterInsert({ byPlace }: Inserts, member: number): number {
  const point = byPlace.get(member);
  return point?.role === "channel" ? point.comesBack : member;
}

/** What goes into a bus goes into the send of its insert; null where the insert has none. */
function beforeInsert({ byPlace }: Inserts, bus: number): number | null {
  const point = byPlace.get(bus);
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

/** A stereo mix feeds both its buses from every member. */
function addMix(links: Links, wired: WiredDevice, mix: Mix, index: number): void {
  const { base, device, fabric } = wired;
  const { layout } = fabric;
  const bus = layout.sources.get(mix.group);
  // What a direct out, an insert send or a join takes is fixed, whatever a mix record says.
  if (bus?.side !== "bus" || TAKES_FIXED.has(bus.section.role)) return;
  const inserts = insertsOf(device, layout);
  const last = Math.min(mix.first + mix.width - 1, bus.count);
  // Members stand section by section, so each section is looked up about once.
  let group: GroupId | null = null;
  let span: Span | null = null;
  for (const member of mix.members) {
    if (member.group !== group) {
      group = member.group;
      span = memberSpan(layout, bus.section.from, group);
    }
    if (!span || member.number > span.count) continue;
    const from = afterInsert(inserts, span.start + member.number - 1);
    for (let number = mix.first; number <= last; number++) {
      const into = beforeInsert(inserts, bus.start + number - 1);
      if (into !== null) links.add(base + from, base + into, index);
    }
  }
}

/** The section that a member lies in; null where there is none or the bus doesn't take it. */
function memberSpan(layout: TypeLayout, from: readonly GroupId[], group: GroupId): Span | null {
  if (!from.includes(group)) return null;
  const span = layout.destinations.get(group) ?? layout.sources.get(group);
  return span?.side === "bus" ? span : null;
}
