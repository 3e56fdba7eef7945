/**
 * At what a rig is looked at: as of a revision, with devices switched off and cables pulled. Told in words, as a person
 * calls them: `revision:B`, `off:Stage left`, `pulled:L1`, or the name alone where only one thing has it.
 */
import type { CableId, DeviceId } from "../model/ids.ts";
import { err, ok, type Result } from "../model/result.ts";
import { showAt } from "../model/revisions.ts";
import type { Cable, Device, Revision, Show } from "../model/show.ts";
import type { Away } from "../wiring/wiring.ts";
import { nearest, plain } from "./lookup.ts";

export interface At {
  /** Null: as the show is now. */
  readonly revision: Revision | null;
  /** In the order in which they were told, each once. */
  readonly off: readonly Device[];
  readonly pulled: readonly Cable[];
}

/** What one word may mean. `key` stands before the colon, `id` tells apart those of one name. */
type Thing =
  | { readonly key: "off"; readonly names: readonly string[]; readonly id: string; readonly device: Device }
  | { readonly key: "pulled"; readonly names: readonly string[]; readonly id: string; readonly cable: Cable }
  | {
      readonly key: "revision";
      readonly names: readonly string[];
      readonly id: string;
      readonly revision: Revision;
    };
type Key = Thing["key"];

const KINDS: Readonly<Record<Key, string>> = { off: "device", pulled: "cable", revision: "revision" };
const KEYS = Object.keys(KINDS) as readonly Key[];

export const awayAt = ({ off, pulled }: At): Away => ({
  devices: new Set<DeviceId>(off.map(({ id }) => id)),
  cables: new Set<CableId>(pulled.map(({ id }) => id)),
});

/**
 * Finds what the words mean, or says in one line which of them means nothing, or more than one thing. `show` is the show
 * at the revision, in which devices and cables are looked up.
 */
export function lookUpAt(
  show: Show,
  words: readonly string[],
): Result<{ readonly show: Show; readonly at: At }, string> {
  const picked = revisionsIn(show, words);
  if (picked.length > 1) return err("only one revision can be looked at in one call");
  const revision = picked[0] ?? null;
  const then = revision ? showAt(show, revision) : show;
  if (!then) return err(`revision "${revision!.name}" is only a note: what the show was isn't in the file`);
  const things = [...thingsOf(then), ...revisionsOf(show)];
  const off = new Set<Device>();
  const pulled = new Set<Cable>();
  for (const word of words) {
    const found = meant(things, word);
    if (!found.ok) return found;
    const thing = found.value;
    if (thing.key === "off") off.add(thing.device);
    else if (thing.key === "pulled") pulled.add(thing.cable);
    else if (thing.revision !== revision) return err("only one revision can be looked at in one call");
  }
  return ok({ show: then, at: { revision, off: [...off], pulled: [...pulled] } });
}

/** The revisions among the words, each once. What else is wrong with a word is told when its show is known. */
function revisionsIn(show: Show, words: readonly string[]): readonly Revision[] {
  if (show.revisions.length === 0) return [];
  const things = [...thingsOf(show), ...revisionsOf(show)];
  const found = words.flatMap((word) => {
    const thing = meant(things, word);
    return thing.ok && thing.value.key === "revision" ? [thing.value.revision] : [];
  });
  return [...new Set(found)];
}

const thingsOf = (show: Show): readonly Thing[] => [
  ...show.devices.map((device): Thing => ({ key: "off", names: [device.name], id: device.id, device })),
  ...show.cables.map((cable): Thing => ({ key: "pulled", names: [cable.tag], id: cable.id, cable })),
];

/** A revision goes by its name and by its date, else by its place among them. */
const revisionsOf = (show: Show): readonly Thing[] =>
  show.revisions.map((revision, n): Thing => ({
    key: "revision",
    names: [revision.name, revision.date],
    id: `#${n + 1}`,
    revision,
  }));

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
  const alike = among.filter(({ names }) => names.some((each) => plain(each) === wanted));
  const same = alike.filter(({ names }) => names.includes(name));
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
  const names = new Map(
    among.flatMap(({ key, names: all }) => all.map((each) => [each, `${key}:${each}`] as const)),
  );
  const close = nearest(plain(name), [...names.keys()]).map((each) => `"${names.get(each)!}"`);
  return close.length > 0 ? `; nearest: ${close.join(", ")}` : "";
}

const listed = (words: readonly string[]): string =>
  words.length === 1 ? words[0]! : `${words.slice(0, -1).join(", ")} or ${words.at(-1)!}`;
