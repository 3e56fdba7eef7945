/** F20: sources that no channel is planned for, and channels that are named and carry no source. */
import type { DeviceId } from "../model/ids.ts";
import type { ChannelPlan, Source } from "../model/show.ts";
import { findTerminal, fullName, ranges, terminalOf } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { counted, deviceName, listOf } from "./describe.ts";
import { found, type Check, type Finding } from "./finding.ts";
import { gather } from "./once.ts";

export const planGap: Check = {
  id: "plan-gap",
  about: "a source without a channel, or a named channel without a source",
  run: ({ wiring }) => [
    ...[...sourcesWithoutChannel(wiring)].map(([device, sources]) => lonelySources(wiring, device, sources)),
    ...[...channelsWithoutSource(wiring)].map(([desk, channels]) => emptyChannels(wiring, desk, channels)),
  ],
};

/** By the device that they are plugged in. One that a want takes straight from its jack, such as to a track, is planned. */
export function sourcesWithoutChannel(wiring: Wiring): ReadonlyMap<DeviceId, readonly Source[]> {
  const { sources, channels, wants } = wiring.show;
  const planned = new Set<string>(channels.flatMap(({ source }) => source ?? []));
  const key = ({ device, group, number }: Source["at"]): string => `${device}:${group}:${number}`;
  const taken = new Set(wants.flatMap(({ from }) => (from ? [key(from)] : [])));
  const lonely = new Map<DeviceId, Source[]>();
  for (const source of sources) {
    // One at a jack that the show doesn't have is told by check F14.
    if (planned.has(source.id) || taken.has(key(source.at))) continue;
    if (findTerminal(wiring, source.at) !== null) gather(lonely, source.at.device, source);
  }
  return lonely;
}

export function channelsWithoutSource(wiring: Wiring): ReadonlyMap<DeviceId, readonly ChannelPlan[]> {
  const empty = new Map<DeviceId, ChannelPlan[]>();
  for (const channel of wiring.show.channels) {
    const { console: device, group, number, name, source } = channel;
    if (source !== undefined || name.trim() === "") continue;
    if (findTerminal(wiring, { device, group, number }) !== null) gather(empty, device, channel);
  }
  return empty;
}

function lonelySources(wiring: Wiring, device: DeviceId, sources: readonly Source[]): Finding {
  const jacks = sources.map(({ at }) => findTerminal(wiring, at)!);
  const names = sources.map(({ name }, n) => `${name} (${fullName(wiring, jacks[n]!)})`);
  return found(
    {
      id: `plan-gap:source:${device}`,
      check: "plan-gap",
      severity: "note",
      title: `${counted(sources.length, "source")} at ${deviceName(wiring, device)} ${sources.length === 1 ? "has" : "have"} no channel`,
      reason: `No console plans a channel for ${listOf(names)}.`,
    },
    { terminals: jacks.map((jack) => terminalOf(wiring, jack)), devices: [device] },
  );
}

function emptyChannels(wiring: Wiring, desk: DeviceId, channels: readonly ChannelPlan[]): Finding {
  const terminals = channels.map(({ console: device, group, number }) =>
    findTerminal(wiring, { device, group, number })!,
  );
  return found(
    {
      id: `plan-gap:channel:${desk}`,
      check: "plan-gap",
      severity: "note",
      title: `${counted(channels.length, "channel")} of ${deviceName(wiring, desk)} ${channels.length === 1 ? "has a name and no source" : "have names and no sources"}`,
      reason: `Channel ${ranges(channels.map(({ number }) => number))}: ${listOf(channels.map(({ name }) => name))}.`,
    },
    { terminals: terminals.map((terminal) => terminalOf(wiring, terminal)), devices: [desk] },
  );
}
