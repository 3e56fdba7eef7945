/** The mixes of every mix engine as one many-to-many table, both ways round. */
import type { DeviceId } from "../model/ids.ts";
import type { Show } from "../model/show.ts";
import type { MixTable, WiredDevice } from "./wiring.ts";

/** In `MixTable.mix`: the member is a direct out's own channel, which nobody sets. */
export const DIRECT = -1;

export function compileMixes(
  show: Show,
  devices: readonly (WiredDevice | null)[],
  indexOf: ReadonlyMap<DeviceId, number>,
  size: number,
): { readonly mixInto: MixTable; readonly mixOutOf: MixTable } {
  const from: number[] = [];
  const to: number[] = [];
  const mixOf: number[] = [];
  const add = (member: number, tap: number, mix: number): void => {
    from.push(member);
    to.push(tap);
    mixOf.push(mix);
  };
  for (const wired of devices) {
    for (const section of wired?.fabric.layout.type.mixer?.sections ?? []) {
      if (section.role !== "direct") continue;
      const { layout } = wired!.fabric;
      const tap = layout.sources.get(section.id)!;
      for (const group of section.from) {
        const channel = layout.destinations.get(group);
        if (channel?.side !== "bus") continue;
        for (let n = 0; n < Math.min(tap.count, channel.count); n++) {
          add(wired!.base + channel.start + n, wired!.base + tap.start + n, DIRECT);
        }
      }
    }
  }
  show.mixes.forEach((mix, index) => {
    const wired = devices[indexOf.get(mix.console) ?? -1];
    const layout = wired?.fabric.layout;
    const tap = layout?.sources.get(mix.group);
    // A direct out takes its own channel, whatever a mix record says.
    if (!wired || tap?.side !== "bus" || tap.section.role === "direct") return;
    for (const member of mix.members) {
      if (!tap.section.from.includes(member.group)) continue;
      const span = layout!.destinations.get(member.group) ?? layout!.sources.get(member.group);
      if (span?.side !== "bus" || member.number < 1 || member.number > span.count) continue;
      for (let n = 0; n < mix.width; n++) {
        const bus = mix.first + n;
        if (bus < 1 || bus > tap.count) continue;
        add(wired.base + span.start + member.number - 1, wired.base + tap.start + bus - 1, index);
      }
    }
  });
  return { mixInto: table(to, from, mixOf, size), mixOutOf: table(from, to, mixOf, size) };
}

/** Groups `value` and `mix` by `key`, keeping their order. */
function table(
  key: readonly number[],
  value: readonly number[],
  mix: readonly number[],
  size: number,
): MixTable {
  const start = new Int32Array(size + 1);
  for (const k of key) start[k + 1]!++;
  for (let t = 0; t < size; t++) start[t + 1]! += start[t]!;
  const next = start.slice();
  const terminal = new Int32Array(key.length);
  const mixes = new Int32Array(key.length);
  key.forEach((k, n) => {
    const slot = next[k]!++;
    terminal[slot] = value[n]!;
    mixes[slot] = mix[n]!;
  });
  return { start, terminal, mix: mixes };
}
