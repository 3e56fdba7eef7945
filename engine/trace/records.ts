/** A show's records by what names them, each looked up once for a show, and a device's place in the wiring. */
import type { DeviceId } from "../model/ids.ts";
import { gather, once } from "../model/once.ts";
import type { Mix, Show, TerminalRef, Want } from "../model/show.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import { findTerminal } from "./terminal.ts";

const byId = <Record extends { readonly id: string }>(
  records: readonly Record[],
): ReadonlyMap<string, Record> => new Map(records.map((record) => [record.id, record]));

export const cablesById = once(({ cables }: Show) => byId(cables));
export const mixesById = once(({ mixes }: Show) => byId(mixes));
export const placesById = once(({ places }: Show) => byId(places));
export const sourcesById = once(({ sources }: Show) => byId(sources));
export const streamsById = once(({ streams }: Show) => byId(streams ?? []));
export const wantsById = once(({ wants }: Show) => byId(wants));

const mixesByBus = once(({ mixes }: Show): ReadonlyMap<string, Mix> => {
  const byBus = new Map<string, Mix>();
  for (const mix of mixes) {
    for (let bus = mix.first; bus < mix.first + mix.width; bus++) {
      const key = `${mix.console}:${mix.group}:${bus}`;
      if (!byBus.has(key)) byBus.set(key, mix);
    }
  }
  return byBus;
});

/** The mix on a bus, of several the first, whether it has a name or not. */
export const mixAt = (show: Show, { device, group, number }: TerminalRef): Mix | undefined =>
  mixesByBus(show).get(`${device}:${group}:${number}`);

/** What the show calls a bus, of a stereo mix with its side: `Ears Keys L`. Null where it doesn't call it anything. */
export function busName(show: Show, bus: TerminalRef): string | null {
  const mix = mixAt(show, bus);
  if (!mix?.name) return null;
  return mix.width === 1 ? mix.name : `${mix.name} ${bus.number === mix.first ? "L" : "R"}`;
}

/** Null where the show has no such device, or not its type. */
export const wiredOf = ({ devices, indexOf }: Wiring, id: DeviceId): WiredDevice | null =>
  devices[indexOf.get(id) ?? -1] ?? null;

/** What is wanted at each terminal, in the show's order. */
export const wantsAt = once((wiring: Wiring): ReadonlyMap<number, readonly Want[]> => {
  const found = new Map<number, Want[]>();
  for (const want of wiring.show.wants) {
    const terminal = findTerminal(wiring, want.to);
    if (terminal !== null) gather(found, terminal, want);
  }
  return found;
});

/** The names of what is wanted at a terminal; empty for none. */
export const wantNames = (wiring: Wiring, terminal: number): readonly string[] =>
  (wantsAt(wiring).get(terminal) ?? []).map(({ name }) => name);
