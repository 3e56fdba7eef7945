/**
 * Edits that a user could make, and some that no user would, from dice: a field taken over from a neighbour, a record
 * taken out, doubled, moved or put back, a jump to an earlier state. What an edit doesn't touch stays the same object.
 */
import type { Device, Show } from "#engine/model/show.ts";
import { PACKET_TIMES } from "#engine/model/show.ts";
import { CABLE_KINDS } from "#engine/model/device-type.ts";
import { metres, SAMPLE_RATES } from "#engine/model/units.ts";
import type { Dice } from "./random-rig.ts";

const LISTS = [
  "devices",
  "devices",
  "devices",
  "cables",
  "cables",
  "sources",
  "channels",
  "mixes",
  "wants",
  "streams",
  "types",
  "places",
] as const satisfies readonly (keyof Show)[];
type ListName = (typeof LISTS)[number];

interface Known {
  readonly id: string;
}

const listOf = (show: Show, list: ListName): readonly Known[] => show[list] ?? [];
const withList = (show: Show, list: ListName, records: readonly Known[]): Show => ({
  ...show,
  [list]: records,
});

/** One edit, with what it did in a few words. */
export function randomEdit(
  dice: Dice,
  show: Show,
  earlier: readonly Show[],
): { readonly show: Show; readonly did: string } {
  const roll = dice.next();
  if (roll < 0.04 && earlier.length > 0) return { show: dice.pick(earlier), did: "back to an earlier state" };
  if (roll < 0.07) {
    const settings = { ...show.settings, sampleRate: dice.pick(SAMPLE_RATES) };
    return { show: { ...show, settings }, did: "another rate" };
  }
  if (roll < 0.1) {
    const near = neighboursOfJoins(show);
    if (near.length > 0) {
      const nearJoin = dice.pick(near);
      const powered = !nearJoin.powered;
      const devices = show.devices.map((device) => (device === nearJoin ? { ...device, powered } : device));
      return { show: { ...show, devices }, did: `${nearJoin.id}, beside a join, ${powered ? "on" : "off"}` };
    }
  }
  const list = dice.pick(LISTS);
  const records = listOf(show, list);
  if (records.length === 0) return { show: { ...show, title: `${show.title}.` }, did: "another title" };
  const at = dice.whole(0, records.length - 1);
  const record = records[at]!;
  if (roll < 0.13) return { show: withList(show, list, records.toSpliced(at, 1)), did: `${list}: one out` };
  if (roll < 0.19) {
    const copy = { ...record, id: `${record.id}-${dice.whole(1, 1_000_000)}` };
    const place = dice.chance(0.7) ? records.length : at;
    return { show: withList(show, list, records.toSpliced(place, 0, copy)), did: `${list}: one more` };
  }
  if (roll < 0.22) return { show: withList(show, list, dice.shuffled(records)), did: `${list}: shuffled` };
  if (roll < 0.25) return { show: withList(show, list, [...records]), did: `${list}: the same anew` };
  const changed = changedRecord(dice, list, record, records);
  return { show: withList(show, list, records.with(at, changed.record)), did: `${list}: ${changed.did}` };
}

/** The devices that a cable joins to one with a passive join: what comes to the join changes with them. */
function neighboursOfJoins({ devices, types, cables }: Show): readonly Device[] {
  const joining = new Set<string>(
    types
      .filter(({ mixer }) => mixer?.sections.some(({ role }) => role === "join"))
      .flatMap(({ id }) => devices.filter(({ type }) => type === id).map((device) => device.id)),
  );
  const near = new Set<string>(
    cables.flatMap(({ ends: [a, b] }) =>
      joining.has(a.device) ? [b.device] : joining.has(b.device) ? [a.device] : [],
    ),
  );
  return devices.filter(({ id }) => near.has(id));
}

function changedRecord(
  dice: Dice,
  list: ListName,
  record: Known,
  records: readonly Known[],
): { readonly record: Known; readonly did: string } {
  const own: Readonly<Partial<Record<ListName, () => object>>> = {
    devices: () =>
      dice.pick<object>([
        { name: `Renamed ${dice.whole(1, 99)}` },
        { at: { x: dice.whole(0, 900), y: 0 } },
        { powered: dice.chance(0.5) },
        { position: dice.whole(1, 3) },
        { sampleRate: dice.pick(SAMPLE_RATES) },
        { clock: "internal" },
        { routing: shifted(dice, record as never) },
        { routing: shifted(dice, record as never) },
        { routing: [] },
      ]),
    cables: () =>
      dice.pick<object>([
        { length: metres(dice.whole(1, 150)) },
        { kind: dice.pick(CABLE_KINDS) },
        { tag: `T${dice.whole(1, 9)}` },
      ]),
    sources: () => dice.pick<object>([{ name: `Voice ${dice.whole(1, 9)}` }, { phantom: dice.chance(0.5) }]),
    streams: () => ({ packetTime: dice.pick(PACKET_TIMES), channels: dice.whole(1, 12) }),
    mixes: () => ({ first: dice.whole(1, 6), width: dice.pick([1, 2]) }),
  };
  const make = own[list];
  if (make && dice.chance(0.7)) {
    const set = make();
    return { record: { ...record, ...set }, did: `${record.id} ${JSON.stringify(set).slice(0, 120)}` };
  }
  // What a record of the list can hold is best known by its neighbours.
  const other = dice.pick(records) as unknown as Record<string, unknown>;
  const key = dice.pick(Object.keys(other).filter((each) => each !== "id"));
  return {
    record: { ...record, [key]: other[key] },
    did: `${record.id}.${key} as of ${String(other["id"])}`,
  };
}

interface Routed {
  readonly routing: readonly { readonly to: { readonly first: number } }[];
}

/** One setting goes, comes twice, or starts elsewhere. */
function shifted(dice: Dice, { routing }: Routed): Routed["routing"] {
  if (routing.length === 0) return routing;
  const at = dice.whole(0, routing.length - 1);
  const setting = routing[at]!;
  const roll = dice.next();
  if (roll < 0.3) return routing.toSpliced(at, 1);
  if (roll < 0.5) return [...routing, setting];
  const first = Math.max(1, setting.to.first + dice.whole(-8, 8));
  return routing.with(at, { ...setting, to: { ...setting.to, first } });
}
