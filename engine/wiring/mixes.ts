/** The mixes of every mix engine as one many-to-many table, both ways round. */
import type { DeviceId } from "../model/ids.ts";
import type { Mix, Show } from "../model/show.ts";
import type { TypeLayout } from "./layout.ts";
import type { MixTable, WiredDevice } from "./wiring.ts";

/** In `MixTable.mix`: the member is a direct out's own channel, which nobody sets. */
export const DIRECT = -1;

/** Calls back for each member of each tap: direct outs first, then the show's mixes in their order. */
type EachMember = (visit: (member: number, tap: number, mix: number) => void) => void;

export function compileMixes(
  show: Show,
  devices: readonly (WiredDevice | null)[],
  indexOf: ReadonlyMap<DeviceId, number>,
  size: number,
): { readonly mixInto: MixTable; readonly mixOutOf: MixTable } {
  const each: EachMember = (visit) => {
    for (const wired of devices) if (wired) eachDirect(wired, visit);
    show.mixes.forEach((mix, index) => {
      const wired = devices[indexOf.get(mix.console) ?? -1];
      if (!wired) return;
      const { taps, members } = mixLayout(mix, wired.fabric.layout);
      for (const member of members) {
        for (const tap of taps) visit(wired.base + member, wired.base + tap, index);
      }
    });
  };
  const into = new Int32Array(size + 1);
  const outOf = new Int32Array(size + 1);
  each((member, tap) => {
    into[tap + 1]!++;
    outOf[member + 1]!++;
  });
  for (let t = 0; t < size; t++) {
    into[t + 1]! += into[t]!;
    outOf[t + 1]! += outOf[t]!;
  }
  const mixInto = emptyTable(into);
  const mixOutOf = emptyTable(outOf);
  const nextInto = into.slice();
  const nextOutOf = outOf.slice();
  each((member, tap, mix) => {
    const a = nextInto[tap]!++;
    mixInto.terminal[a] = member;
    mixInto.mix[a] = mix;
    const b = nextOutOf[member]!++;
    mixOutOf.terminal[b] = tap;
    mixOutOf.mix[b] = mix;
  });
  return { mixInto, mixOutOf };
}

function emptyTable(start: Int32Array): MixTable {
  const count = start.at(-1)!;
  return { start, terminal: new Int32Array(count), mix: new Int32Array(count) };
}

function eachDirect({ base, fabric: { layout } }: WiredDevice, visit: Parameters<EachMember>[0]): void {
  for (const section of layout.type.mixer?.sections ?? []) {
    if (section.role !== "direct") continue;
    const tap = layout.sources.get(section.id)!;
    for (const group of section.from) {
      const channel = layout.destinations.get(group);
      if (channel?.side !== "bus") continue;
      for (let n = 0; n < Math.min(tap.count, channel.count); n++) {
        visit(base + channel.start + n, base + tap.start + n, DIRECT);
      }
    }
  }
}

/** A mix's buses and members as offsets within its console. Kept with the record, which never changes. */
interface MixLayout {
  readonly layout: TypeLayout;
  readonly taps: readonly number[];
  readonly members: Int32Array;
}

const mixLayouts = new WeakMap<Mix, MixLayout>();

function mixLayout(mix: Mix, layout: TypeLayout): MixLayout {
  const known = mixLayouts.get(mix);
  if (known?.layout === layout) return known;
  const made = { layout, ...offsetsOf(mix, layout) };
  mixLayouts.set(mix, made);
  return made;
}

function offsetsOf(mix: Mix, layout: TypeLayout): Pick<MixLayout, "taps" | "members"> {
  const bus = layout.sources.get(mix.group);
  // A direct out takes its own channel, whatever a mix record says.
  if (bus?.side !== "bus" || bus.section.role === "direct") return { taps: [], members: new Int32Array() };
  const taps: number[] = [];
  for (let number = mix.first; number < mix.first + mix.width && number <= bus.count; number++) {
    taps.push(bus.start + number - 1);
  }
  const members = mix.members.flatMap(({ group, number }) => {
    const span = layout.destinations.get(group) ?? layout.sources.get(group);
    const taken = bus.section.from.includes(group) && span?.side === "bus" && number <= span.count;
    return taken ? [span.start + number - 1] : [];
  });
  return { taps, members: Int32Array.from(members) };
}
