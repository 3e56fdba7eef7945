/** F20: sources that no channel is planned for, and channels that are named and carry no source. */
import { id, type ChannelId, type DeviceId } from "../model/ids.ts";
import type { ChannelPlan, Source } from "../model/show.ts";
import { LOOP } from "../trace/arrivals.ts";
import { findTerminal, fullName, ranges, sideName, terminalOf, type Terminal } from "../trace/terminal.ts";
import type { Span } from "../wiring/layout.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { counted, deviceName, listOf, namesFrom } from "./describe.ts";
import { found, type Analysed, type Check, type Finding, type Fix } from "./finding.ts";
import { gather } from "../model/once.ts";
import { NOWHERE, standing } from "./standing.ts";

export const planGap: Check = {
  id: "plan-gap",
  about: "a source without a channel, or a named channel without a source",
  reads: ({ wiring }) => [wiring.show.sources, wiring.show.channels, wiring.show.wants],
  run: ({ wiring }) => [
    ...Array.from(sourcesWithoutChannel(wiring), ([device, places]) => lonelySources(wiring, device, places)),
    ...Array.from(channelsWithoutSource(wiring), ([desk, places]) => emptyChannels(wiring, desk, places)),
  ],
  propose: (rig, { id: finding, devices: [device] }) => {
    const { sources, channels } = rig.wiring.show;
    const at = <Item>(list: readonly Item[], places: readonly number[] = []): readonly Item[] =>
      places.map((n) => list[n]!);
    const fix = finding.startsWith("plan-gap:source:")
      ? planSources(rig, at(sources, sourcesWithoutChannel(rig.wiring).get(device!)))
      : fillChannels(rig, device!, at(channels, channelsWithoutSource(rig.wiring).get(device!)));
    return fix ? [fix] : [];
  },
};

/** Plans each source where it already lands on a channel that nothing is planned for; null where one of them doesn't. */
function planSources({ wiring, arrivals }: Analysed, sources: readonly Source[]): Fix | null {
  const planned = new Set(
    wiring.show.channels.map(({ console: device, group, number }) => `${device}:${group}:${number}`),
  );
  const ids = new Set<string>(wiring.show.channels.map(({ id }) => id));
  const landing = new Map<number, Terminal>();
  for (const { base, fabric } of wiring.devices.filter((wired) => wired !== null)) {
    for (const span of fabric.layout.spans) {
      if (span.side !== "bus" || span.section.role !== "channel") continue;
      for (let terminal = base + span.start; terminal < base + span.start + span.count; terminal++) {
        const at = terminalOf(wiring, terminal);
        const root = arrivals.root[terminal]!;
        if (root !== LOOP && !landing.has(root) && !planned.has(`${at.device}:${at.group}:${at.number}`))
          landing.set(root, at);
      }
    }
  }
  const records: ChannelPlan[] = [];
  for (const source of sources) {
    const at = landing.get(findTerminal(wiring, source.at)!);
    if (!at) return null;
    const key = `${at.device}-${at.group}-${at.number}`;
    if (ids.has(key)) return null;
    const { device, group, number } = at;
    records.push({
      id: id<ChannelId>(key),
      console: device,
      group,
      number,
      name: source.name,
      source: source.id,
    });
  }
  const where = records.map(({ console: device, group, number }) =>
    fullName(wiring, findTerminal(wiring, { device, group, number })!),
  );
  return planFix(
    `Plan ${listOf(where, 3)} for ${listOf(
      sources.map(({ name }) => name),
      3,
    )}`,
    records,
  );
}

/** Plans for each channel the source that it already carries; null where one of them carries none. */
function fillChannels(
  { wiring, arrivals }: Analysed,
  desk: DeviceId,
  channels: readonly ChannelPlan[],
): Fix | null {
  const records: ChannelPlan[] = [];
  for (const channel of channels) {
    const { console: device, group, number } = channel;
    const root = arrivals.root[findTerminal(wiring, { device, group, number })!]!;
    const source = root === LOOP ? undefined : wiring.show.sources[wiring.sourceAt[root]!];
    if (!source) return null;
    records.push({ ...channel, source: source.id });
  }
  return planFix(
    `Plan for ${counted(channels.length, "channel")} of ${deviceName(wiring, desk)} what arrives there`,
    records,
  );
}

const planFix = (label: string, records: readonly ChannelPlan[]): Fix => ({
  label,
  edits: records.map((record) => ({ kind: "put", list: "channels", record })),
});

/**
 * By the device that they are plugged in, each by its place in the show. One that a want takes straight from its jack, such
 * as to a track, is planned.
 */
function sourcesWithoutChannel(wiring: Wiring): ReadonlyMap<DeviceId, readonly number[]> {
  const { sources } = wiring.show;
  const at = standing(wiring);
  const planned = new Uint8Array(sources.length);
  for (const source of at.planned) if (source !== NOWHERE) planned[source] = 1;
  const taken = new Uint8Array(wiring.size);
  for (const origin of at.origins) if (origin !== NOWHERE) taken[origin] = 1;
  const lonely = new Map<DeviceId, number[]>();
  sources.forEach((source, n) => {
    const jack = at.sources[n]!;
    // One at a jack that the show doesn't have is told by check F14.
    if (jack === NOWHERE || taken[jack] || planned[n]) return;
    gather(lonely, source.at.device, n);
  });
  return lonely;
}

/** By their console, each by its place in the show. */
function channelsWithoutSource(wiring: Wiring): ReadonlyMap<DeviceId, readonly number[]> {
  const at = standing(wiring).channels;
  const empty = new Map<DeviceId, number[]>();
  wiring.show.channels.forEach(({ console: desk, name, source }, n) => {
    if (source === undefined && at[n] !== NOWHERE && isNamed(name)) gather(empty, desk, n);
  });
  return empty;
}

/** Nearly every name begins with a letter of ASCII, which is told faster than by trimming. */
function isNamed(name: string): boolean {
  const first = name.charCodeAt(0);
  const visible = first > 0x20 && first < 0x7f;
  return visible || name.trim() !== "";
}

function lonelySources(wiring: Wiring, device: DeviceId, places: readonly number[]): Finding {
  const { sources } = wiring.show;
  const jacks = standing(wiring).sources;
  const name = (n: number): string => `${sources[n]!.name} (${fullName(wiring, jacks[n]!)})`;
  return found(
    {
      id: `plan-gap:source:${device}`,
      check: "plan-gap",
      severity: "note",
      title: `${counted(places.length, "source")} at ${deviceName(wiring, device)} ${places.length === 1 ? "has" : "have"} no channel`,
      reason: `No console plans a channel for ${namesFrom(places, name)}.`,
    },
    { terminals: places.map((n) => terminalOf(wiring, jacks[n]!)), devices: [device] },
  );
}

function emptyChannels(wiring: Wiring, desk: DeviceId, places: readonly number[]): Finding {
  const { channels } = wiring.show;
  const at = standing(wiring).channels;
  const terminals = places.map((n) => at[n]!);
  return found(
    {
      id: `plan-gap:channel:${desk}`,
      check: "plan-gap",
      severity: "note",
      title: `${counted(places.length, "channel")} of ${deviceName(wiring, desk)} ${places.length === 1 ? "has a name and no source" : "have names and no sources"}`,
      reason: `${sectionsOf(wiring, terminals)}: ${namesFrom(places, (n) => channels[n]!.name)}.`,
    },
    { terminals: terminals.map((terminal) => terminalOf(wiring, terminal)), devices: [desk] },
  );
}

/** `Channel 1–3; Return 2`: numbers by section, without the name of the console, whose terminals all are. */
function sectionsOf(wiring: Wiring, terminals: readonly number[]): string {
  const { base, fabric } = wiring.devices[wiring.deviceOf[terminals[0]!]!]!;
  const { spans, spanAt } = fabric.layout;
  const sections = new Map<Span, number[]>();
  for (const terminal of terminals) {
    const span = spans[spanAt[terminal - base]!]!;
    gather(sections, span, terminal - base - span.start + 1);
  }
  return Array.from(sections, ([span, numbers]) => `${sideName(span)} ${ranges(numbers)}`).join("; ");
}
