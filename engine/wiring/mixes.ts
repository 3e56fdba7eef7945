/** The mixes of every mix engine as one many-to-many table, both ways round. */
import type { DeviceId, GroupId } from "../model/ids.ts";
import type { Mix, Show } from "../model/show.ts";
import type { Span, TypeLayout } from "./layout.ts";
import type { MixTable, WiredDevice } from "./wiring.ts";

/** In `MixTable.mix`: the member is a direct out's own channel, which nobody sets. */
export const DIRECT = -1;

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
  for (const wired of devices) if (wired) addDirects(links, wired);
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
  const start = new Int32Array(size + 1);
  for (let n = 0; n < count; n++) start[key[n]! + 1]!++;
  for (let t = 0; t < size; t++) start[t + 1]! += start[t]!;
  const next = start.slice();
  const table = { start, terminal: new Int32Array(count), mix: new Int32Array(count) };
  for (let n = 0; n < count; n++) {
    const place = next[key[n]!]!++;
    table.terminal[place] = value[n]!;
    table.mix[place] = mix[n]!;
  }
  return table;
}

function addDirects(links: Links, { base, fabric: { layout } }: WiredDevice): void {
  for (const section of layout.type.mixer?.sections ?? []) {
    if (section.role !== "direct") continue;
    const tap = layout.sources.get(section.id)!;
    for (const group of section.from) {
      const channel = layout.destinations.get(group);
      if (channel?.side !== "bus") continue;
      const count = Math.min(tap.count, channel.count);
      for (let n = 0; n < count; n++) links.add(base + channel.start + n, base + tap.start + n, DIRECT);
    }
  }
}

/** A stereo mix feeds both its buses from every member. */
function addMix(links: Links, { base, fabric: { layout } }: WiredDevice, mix: Mix, index: number): void {
  const bus = layout.sources.get(mix.group);
  // A direct out takes its own channel, whatever a mix record says.
  if (bus?.side !== "bus" || bus.section.role === "direct") return;
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
    for (let number = mix.first; number <= last; number++) {
      links.add(base + span.start + member.number - 1, base + bus.start + number - 1, index);
    }
  }
}

/** The section that a member lies in; null where there is none or the bus doesn't take it. */
function memberSpan(layout: TypeLayout, from: readonly GroupId[], group: GroupId): Span | null {
  if (!from.includes(group)) return null;
  const span = layout.destinations.get(group) ?? layout.sources.get(group);
  return span?.side === "bus" ? span : null;
}
