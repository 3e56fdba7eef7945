/**
 * At what a rig is looked at: with devices switched off and cables pulled. Told in words, as a person calls them:
 * `off:Stage left`, `pulled:L1`, or the name alone where only one thing has it.
 */
import type { CableId, DeviceId } from "../model/ids.ts";
import { err, ok, type Result } from "../model/result.ts";
import type { Cable, Device, Show } from "../model/show.ts";
import type { Away } from "../wiring/wiring.ts";
import { nearest, plain } from "./lookup.ts";

export interface At {
  /** In the order in which they were told, each once. */
  readonly off: readonly Device[];
  readonly pulled: readonly Cable[];
}

/** What one word may mean. `key` stands before the colon, `id` tells apart those of one name. */
type Thing =
  | { readonly key: "off"; readonly name: string; readonly id: string; readonly device: Device }
  | { readonly key: "pulled"; readonly name: string; readonly id: string; readonly cable: Cable };
type Key = Thing["key"];

const KINDS: Readonly<Record<Key, string>> = { off: "device", pulled: "cable" };
const KEYS = Object.keys(KINDS) as readonly Key[];

export const awayAt = ({ off, pulled }: At): Away => ({
  devices: new Set<DeviceId>(off.map(({ id }) => id)),
  cables: new Set<CableId>(pulled.map(({ id }) => id)),
});

/** Finds what the words mean, or says in one line which of them means nothing, or more than one thing. */
export function lookUpAt(show: Show, words: readonly string[]): Result<At, string> {
  const things = thingsOf(show);
  const off = new Set<Device>();
  const pulled = new Set<Cable>();
  for (const word of words) {
    const found = meant(things, word);
    if (!found.ok) return found;
    if (found.value.key === "off") off.add(found.value.device);
    else pulled.add(found.value.cable);
  }
  return ok({ off: [...off], pulled: [...pulled] });
}

const thingsOf = (show: Show): readonly Thing[] => [
  ...show.devices.map((device): Thing => ({ key: "off", name: device.name, id: device.id, device })),
  ...show.cables.map((cable): Thing => ({ key: "pulled", name: cable.tag, id: cable.id, cable })),
];

/** The one thing that a word means. */
function meant(things: readonly Thing[], word: string): Result<Thing, string> {
  const key = KEYS.find((each) => word.startsWith(`${each}:`));
  const among = key === undefined ? things : things.filter((thing) => thing.key === key);
  const name = key === undefined ? word : word.slice(key.length + 1).trim();
  const found = called(among, name);
  if (found.length === 1) return ok(found[0]!);
  if (found.length > 1) return err(ambiguous(name, found));
  const kinds = key === undefined ? listed(KEYS.map((each) => KINDS[each])) : KINDS[key];
  return err(`the show has no ${kinds} "${name}"${nearestOf(among, name)}`);
}

/** Those of that very name; else those of that name but for case and spacing; else the one with that id. */
function called(among: readonly Thing[], name: string): readonly Thing[] {
  const wanted = plain(name);
  if (wanted === "") return [];
  const alike = among.filter((thing) => plain(thing.name) === wanted);
  const same = alike.filter((thing) => thing.name === name);
  if (same.length > 0 && new Set(alike.map(({ key }) => key)).size === 1) return same;
  return alike.length > 0 ? alike : among.filter(({ id }) => id === name);
}

function ambiguous(name: string, found: readonly Thing[]): string {
  const keys = [...new Set(found.map(({ key }) => key))];
  if (keys.length > 1) {
    const ways = keys.map((key) => `"${key}:${name}"`).join(" or ");
    return `"${name}" is ${keys.map((key) => `a ${KINDS[key]}`).join(" and ")}; say ${ways}`;
  }
  const ways = found.map(({ key, id }) => `"${key}:${id}"`).join(" or ");
  return `${found.length} ${KINDS[keys[0]!]}s are called "${name}"; say ${ways}`;
}

function nearestOf(among: readonly Thing[], name: string): string {
  const names = new Map(among.map((thing) => [thing.name, `${thing.key}:${thing.name}`]));
  const close = nearest(plain(name), [...names.keys()]).map((each) => `"${names.get(each)!}"`);
  return close.length > 0 ? `; nearest: ${close.join(", ")}` : "";
}

const listed = (words: readonly string[]): string =>
  words.length === 1 ? words[0]! : `${words.slice(0, -1).join(", ")} or ${words.at(-1)!}`;
