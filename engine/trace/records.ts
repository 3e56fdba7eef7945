/** A show's records by what names them, each looked up once for a show, and a device's place in the wiring. */
import type { DeviceId } from "../model/ids.ts";
import { once } from "../model/once.ts";
import type { Show } from "../model/show.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";

const byId = <Record extends { readonly id: string }>(
  records: readonly Record[],
): ReadonlyMap<string, Record> => new Map(records.map((record) => [record.id, record]));

export const cablesById = once(({ cables }: Show) => byId(cables));
export const mixesById = once(({ mixes }: Show) => byId(mixes));
export const sourcesById = once(({ sources }: Show) => byId(sources));
export const streamsById = once(({ streams }: Show) => byId(streams ?? []));
export const wantsById = once(({ wants }: Show) => byId(wants));

/** Null where the show has no such device, or not its type. */
export const wiredOf = ({ devices, indexOf }: Wiring, id: DeviceId): WiredDevice | null =>
  devices[indexOf.get(id) ?? -1] ?? null;
