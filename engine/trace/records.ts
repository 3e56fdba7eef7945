/** A show's records by what names them, each looked up once for a show, and a device's place in the wiring. */
import type { DeviceId } from "../model/ids.ts";
import { gather, once } from "../model/once.ts";
import type { Show, Want } from "../model/show.ts";
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
