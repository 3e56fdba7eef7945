/**
 * B7–B9: what fits what. Two ends fit where a cable between them would join them (W12), no plug is in the way (F6), and
 * there is a kind of cable that both take (F9). Where they don't, one reason is told, the one that lies deepest: what the
 * ends are comes before what is plugged in them.
 */
import { CABLES, JACK_CABLES, kindsTaken } from "../catalog/cables.ts";
import type { CableKind, CableRule, DeviceType, JackBank, LinkPort } from "../model/device-type.ts";
import type { Edit } from "../model/edit.ts";
import { id, type CableId, type GroupId, type TypeId } from "../model/ids.ts";
import { gather, once } from "../model/once.ts";
import type { Cable, CableEnd, Device, Show } from "../model/show.ts";
import { mostSlots } from "../wiring/layout.ts";
import { namerOf } from "./names.ts";

/** A port, or a jack and those after it. */
export type Hole =
  | { readonly kind: "port"; readonly device: Device; readonly port: LinkPort }
  | { readonly kind: "jack"; readonly device: Device; readonly bank: JackBank; readonly first: number };

export type Refusal =
  | "gone"
  | "same"
  | "port-and-jack"
  | "no-cable"
  | "transport"
  | "level"
  | "direction"
  | "taken"
  | "too-few"
  | "no-kind";

export type Fit =
  | {
      readonly kind: "fits";
      readonly cable: CableKind;
      /** Jacks that the cable would join; 1 for a link. */
      readonly ways: number;
      /** The ends, with the jacks that it would start at. */
      readonly ends: readonly [CableEnd, CableEnd];
    }
  | { readonly kind: "refused"; readonly why: Refusal; readonly reason: string };

/** An end somewhere in the rig, and whether a cable from the end in hand fits it. */
export interface Offer {
  readonly end: CableEnd;
  /** `Stage left Link A`, `Wedge 3 In`. */
  readonly name: string;
  readonly fit: Fit;
}

export interface FitOptions {
  /** So many ways and no fewer. Left out: as many as both banks have free in a row. */
  readonly ways?: number;
  /** A cable that is being plugged elsewhere: where it is now counts as free. */
  readonly moving?: CableId;
}

const typesById = once(
  (types: Show["types"]): ReadonlyMap<TypeId, DeviceType> => new Map(types.map((type) => [type.id, type])),
);

const devicesById = once(
  (devices: Show["devices"]): ReadonlyMap<string, Device> =>
    new Map(devices.map((device) => [device.id, device])),
);

const refused = (why: Refusal, reason: string): Fit => ({ kind: "refused", why, reason });

/** The port or jack that an end names; null where the show has none such. */
export function holeAt(show: Show, { device: at, group, first }: CableEnd): Hole | null {
  const device = devicesById(show.devices).get(at);
  const type = device && typesById(show.types).get(device.type);
  if (!type) return null;
  const port = type.ports.find((each) => each.id === group);
  if (port) return { kind: "port", device, port };
  const bank = type.banks.find((each) => each.id === group);
  return bank && first >= 1 && first <= bank.count ? { kind: "jack", device, bank, first } : null;
}

export const holeName = (hole: Hole): string =>
  hole.kind === "port"
    ? `${hole.device.name} ${hole.port.name}`
    : `${hole.device.name} ${hole.bank.name}${hole.bank.count > 1 ? ` ${hole.first}` : ""}`;

/** What is plugged where: cables in ports and in jacks, sources in input jacks. */
interface Plugged {
  readonly cables: readonly Cable[];
  readonly sources: readonly { readonly name: string; readonly jack: number }[];
}

const NOTHING: Plugged = { cables: [], sources: [] };

/** Worked out once for the lists that it is made of, which an edit of anything else leaves the same objects. */
const pluggedIn = once((cables: Show["cables"]): ReadonlyMap<string, readonly Cable[]> => {
  const found = new Map<string, Cable[]>();
  for (const cable of cables) {
    const [a, b] = cable.ends.map(({ device, group }) => `${device}:${group}`);
    gather(found, a!, cable);
    if (b !== a) gather(found, b!, cable);
  }
  return found;
});

const sourcesAt = once((sources: Show["sources"]) => {
  const found = new Map<string, { readonly name: string; readonly number: number }[]>();
  for (const { at, name } of sources) {
    gather(found, `${at.device}:${at.group}`, { name, number: at.number });
  }
  return found;
});

function plugged(show: Show, device: Device, group: GroupId, perJack: number): Plugged {
  const key = `${device.id}:${group}`;
  const cables = pluggedIn(show.cables).get(key);
  const sources = sourcesAt(show.sources).get(key);
  if (!cables && !sources) return NOTHING;
  return {
    cables: cables ?? [],
    sources: (sources ?? []).map(({ name, number }) => ({ name, jack: Math.ceil(number / perJack) })),
  };
}

/** What stands in each jack of a bank, by its number; jacks with nothing in them are left out. */
function takenJacks(
  show: Show,
  device: Device,
  bank: JackBank,
  moving: CableId | undefined,
): ReadonlyMap<number, string> {
  const there = plugged(show, device, bank.id, bank.perJack);
  const taken = new Map<number, string>();
  for (const { name, jack } of there.sources) taken.set(jack, `the source “${name}”`);
  for (const cable of there.cables) {
    if (cable.id === moving) continue;
    for (const end of cable.ends) {
      if (end.device !== device.id || end.group !== bank.id) continue;
      const last = Math.min(bank.count, end.first + cable.ways - 1);
      for (let jack = end.first; jack <= last; jack++) taken.set(jack, plugName(cable));
    }
  }
  return taken;
}

const plugName = ({ tag, kind }: Cable): string => (tag ? `cable ${tag}` : `a ${CABLES[kind].name} cable`);

/** The first cable in a port, as its reason names it; null where the port is free. */
function inPort(
  show: Show,
  { device, port }: Extract<Hole, { kind: "port" }>,
  moving?: CableId,
): string | null {
  const there = plugged(show, device, port.id, 1).cables.find((cable) => cable.id !== moving);
  return there ? plugName(there) : null;
}

/** Free jacks in a row from one on. */
function freeInRow(taken: ReadonlyMap<number, string>, bank: JackBank, first: number): number {
  let count = 0;
  while (first + count <= bank.count && !taken.has(first + count)) count++;
  return count;
}

/** B7: whether a cable fits between two ends, of which jacks are meant from the one named on. */
export function fitOf(show: Show, from: CableEnd, to: CableEnd, options: FitOptions = {}): Fit {
  const a = holeAt(show, from);
  const b = holeAt(show, to);
  if (!a || !b) return refused("gone", "That end is no longer in the show.");
  if (a.kind === "port" && b.kind === "port") return portFit(show, a, b, options);
  if (a.kind === "jack" && b.kind === "jack") return jackFit(show, a, b, options);
  const [port, jack] = a.kind === "port" ? [a, b] : [b, a];
  return refused("port-and-jack", `${holeName(port)} is a link port, ${holeName(jack)} a jack.`);
}

type PortHole = Extract<Hole, { kind: "port" }>;
type JackHole = Extract<Hole, { kind: "jack" }>;

function portFit(show: Show, a: PortHole, b: PortHole, { moving }: FitOptions): Fit {
  if (a.device.id === b.device.id && a.port.id === b.port.id) {
    return refused("same", "That is the port itself.");
  }
  if (a.port.transport !== b.port.transport) {
    return refused("transport", `It is ${b.port.transport}, and ${holeName(a)} is ${a.port.transport}.`);
  }
  const sends = ({ port }: PortHole): boolean => mostSlots(port.send) > 0;
  const receives = ({ port }: PortHole): boolean => mostSlots(port.receive) > 0;
  if (!(sends(a) && receives(b)) && !(sends(b) && receives(a))) {
    const both = sends(a) && sends(b) ? "Both only send." : "Both only receive.";
    return refused("direction", sends(a) || receives(a) ? both : `${holeName(a)} has no slots.`);
  }
  for (const hole of [a, b]) {
    const there = inPort(show, hole, moving);
    if (there)
      return refused("taken", `${capital(there)} is plugged in ${hole === b ? "there" : holeName(hole)}.`);
  }
  const cable = firstKind(a.port.cables, b.port.cables, 1);
  if (cable === null) return noKind(a.port.cables, b.port.cables, holeName(a));
  const ends = [endOf(a), endOf(b)] as const;
  return { kind: "fits", cable, ways: 1, ends };
}

/** Low-level analogue jacks take each other's signals, AES3 and loudspeaker jacks only their own (W12). */
const sortOf = ({ level }: JackBank): string =>
  level === "AES3" ? "AES3" : level === "loudspeaker" ? "loudspeaker level" : "a low-level analogue signal";

const takesCable = ({ connector, level }: JackBank): boolean => connector !== "none" && level !== "radio";

function jackFit(show: Show, a: JackHole, b: JackHole, { ways, moving }: FitOptions): Fit {
  if (a.device.id === b.device.id && a.bank.id === b.bank.id && a.first === b.first) {
    return refused("same", "That is the jack itself.");
  }
  for (const hole of [a, b]) {
    if (takesCable(hole.bank)) continue;
    const what = hole.bank.level === "radio" ? "an antenna" : "no jack that a cable reaches";
    return refused("no-cable", `${holeName(hole)} is ${what}.`);
  }
  if (sortOf(a.bank) !== sortOf(b.bank)) {
    return refused("level", `It carries ${sortOf(b.bank)}, and ${holeName(a)} ${sortOf(a.bank)}.`);
  }
  if (a.bank.direction === b.bank.direction) {
    return refused("direction", a.bank.direction === "out" ? "Both are outputs." : "Both are inputs.");
  }
  const free = [a, b].map((hole) => {
    const taken = takenJacks(show, hole.device, hole.bank, moving);
    return { hole, there: taken.get(hole.first), count: freeInRow(taken, hole.bank, hole.first) };
  });
  for (const { hole, there } of free) {
    if (there)
      return refused("taken", `${capital(there)} is plugged in ${hole === b ? "there" : holeName(hole)}.`);
  }
  const most = Math.min(...free.map(({ count }) => count), MOST_WAYS);
  const wanted = ways ?? most;
  const short = free.find(({ count }) => count < wanted);
  if (short) {
    const { hole, count } = short;
    return refused(
      "too-few",
      `From ${holeName(hole)} on there ${are(count)} free in a row, for ${wanted} ways.`,
    );
  }
  const rules = [JACK_CABLES[a.bank.level], JACK_CABLES[b.bank.level]] as const;
  const cable = firstKind(...rules, wanted);
  if (cable === null) return noKind(...rules, holeName(a));
  return { kind: "fits", cable, ways: wanted, ends: [endOf(a), endOf(b)] };
}

/** The schema's limit. */
const MOST_WAYS = 1024;

const are = (count: number): string => (count === 1 ? "is 1 jack" : `are ${count} jacks`);
const capital = (text: string): string => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;

const endOf = (hole: Hole): CableEnd =>
  hole.kind === "port"
    ? { device: hole.device.id, group: hole.port.id, first: 1 }
    : { device: hole.device.id, group: hole.bank.id, first: hole.first };

/** The first kind of the one end that the other takes too; of several ways a multicore where both take one. */
function firstKind(a: readonly CableRule[], b: readonly CableRule[], ways: number): CableKind | null {
  const theirs = kindsTaken(b);
  const both = kindsTaken(a).filter((kind) => theirs.includes(kind));
  if (ways > 1 && both.includes("multicore")) return "multicore";
  return both[0] ?? null;
}

function noKind(a: readonly CableRule[], b: readonly CableRule[], name: string): Fit {
  const list = (rules: readonly CableRule[]): string =>
    rules.map(({ kind }) => CABLES[kind].name).join(" or ") || "no cable";
  return refused("no-kind", `It takes ${list(b)}, and ${name} ${list(a)}.`);
}

/**
 * B8: every port and bank of the rig with whether a cable from the end fits it, in the show's order; the end's own bank
 * or port is left out. Of a bank the jacks are those where most ways are free in a row, the first of these.
 */
export function cablesThatFit(show: Show, from: CableEnd, options: FitOptions = {}): readonly Offer[] {
  const types = typesById(show.types);
  const offers: Offer[] = [];
  for (const device of show.devices) {
    const type = types.get(device.type);
    if (!type) continue;
    for (const { id: group } of [...type.ports, ...type.banks]) {
      if (device.id === from.device && group === from.group) continue;
      offers.push(offerAt(show, from, { device: device.id, group, first: 1 }, options));
    }
  }
  return offers;
}

/** The offer of one port or bank; of a bank with the best of its jacks. */
export function offerAt(show: Show, from: CableEnd, to: CableEnd, options: FitOptions = {}): Offer {
  const hole = holeAt(show, to);
  if (!hole) return { end: to, name: "", fit: fitOf(show, from, to, options) };
  if (hole.kind === "port") return { end: to, name: holeName(hole), fit: fitOf(show, from, to, options) };
  const { device, bank } = hole;
  const source = holeAt(show, from);
  const wanted =
    options.ways ??
    (source?.kind === "jack"
      ? freeInRow(takenJacks(show, source.device, source.bank, options.moving), source.bank, source.first)
      : 1);
  const first = bestRun(takenJacks(show, device, bank, options.moving), bank, wanted);
  const end = { ...to, first };
  return { end, name: `${device.name} ${bank.name}`, fit: fitOf(show, from, end, options) };
}

/** Where a run of free jacks begins that is as long as wanted, or the longest there is; 1 where none is free. */
function bestRun(taken: ReadonlyMap<number, string>, bank: JackBank, wanted: number): number {
  let best = { first: 1, count: 0 };
  for (let jack = 1; jack <= bank.count; jack++) {
    const count = freeInRow(taken, bank, jack);
    if (count > best.count) best = { first: jack, count };
    if (count >= wanted) break;
    jack += count;
  }
  return best.first;
}

/** The first free jack of a bank, the first of all where none is. A port is itself. */
export function firstFree(show: Show, end: CableEnd): CableEnd {
  const hole = holeAt(show, end);
  if (hole?.kind !== "jack") return end;
  const { device, bank } = hole;
  return { ...end, first: bestRun(takenJacks(show, device, bank, undefined), bank, 1) };
}

/** The first free jack from a jack on; the jack itself where none is. A port is itself. */
export function freeFrom(show: Show, end: CableEnd): CableEnd {
  const hole = holeAt(show, end);
  if (hole?.kind !== "jack") return end;
  const { device, bank } = hole;
  const taken = takenJacks(show, device, bank, undefined);
  for (let first = end.first; first <= bank.count; first++) if (!taken.has(first)) return { ...end, first };
  return end;
}

/** Whether anything is plugged in a port, or in any jack of a bank. */
export function isPlugged(show: Show, device: Device, group: GroupId): boolean {
  return pluggedIn(show.cables).has(`${device.id}:${group}`);
}

/** B9: a cable between two ends that fit, with a tag that no other has and its length not known yet. */
export function plugCable(
  show: Show,
  from: CableEnd,
  to: CableEnd,
  options: FitOptions = {},
):
  | { readonly kind: "plugged"; readonly cable: Cable; readonly edits: readonly Edit[] }
  | Extract<Fit, { kind: "refused" }> {
  const fit = fitOf(show, from, to, options);
  if (fit.kind === "refused") return fit;
  const [a, b] = fit.ends;
  const isLink = holeAt(show, a)?.kind === "port";
  const namer = namerOf(show);
  const tag = namer.numbered("tags", isLink ? "L" : fit.ways > 1 ? "M" : "C");
  // Signals go from outputs to inputs, and so are jack cables written down.
  const hole = holeAt(show, a);
  const ends = hole?.kind === "jack" && hole.bank.direction === "in" ? ([b, a] as const) : ([a, b] as const);
  const cable: Cable = {
    id: id<CableId>(namer.id("cables", `cable-${tag}`)),
    kind: fit.cable,
    tag,
    ways: fit.ways,
    ends,
  };
  return { kind: "plugged", cable, edits: [{ kind: "put", list: "cables", record: cable }] };
}

/** B9: one end of a cable plugged elsewhere, with its ways, its tag and its length; its kind where both ends take it. */
export function replugged(
  show: Show,
  cable: CableId,
  side: 0 | 1,
  to: CableEnd,
):
  | { readonly kind: "plugged"; readonly cable: Cable; readonly edits: readonly Edit[] }
  | Extract<Fit, { kind: "refused" }> {
  const found = show.cables.find(({ id: own }) => own === cable);
  if (!found) return { kind: "refused", why: "gone", reason: "That cable is no longer in the show." };
  const stays = found.ends[side === 0 ? 1 : 0];
  const fit = fitOf(show, stays, to, { ways: found.ways, moving: cable });
  if (fit.kind === "refused") return fit;
  const [kept, moved] = fit.ends;
  const record: Cable = {
    ...found,
    kind: kindsFor(show, kept, moved).includes(found.kind) ? found.kind : fit.cable,
    ends: side === 0 ? [moved, kept] : [kept, moved],
  };
  return { kind: "plugged", cable: record, edits: [{ kind: "put", list: "cables", record }] };
}

/** B9: other jacks for a cable between two banks: how many, and the first at each end. */
export function rejacked(
  show: Show,
  cable: CableId,
  set: { readonly ways?: number; readonly first?: readonly [number, number] },
):
  | { readonly kind: "plugged"; readonly cable: Cable; readonly edits: readonly Edit[] }
  | Extract<Fit, { kind: "refused" }> {
  const found = show.cables.find(({ id: own }) => own === cable);
  if (!found) return { kind: "refused", why: "gone", reason: "That cable is no longer in the show." };
  const first = set.first ?? [found.ends[0].first, found.ends[1].first];
  const ways = set.ways ?? found.ways;
  const ends = [
    { ...found.ends[0], first: first[0] },
    { ...found.ends[1], first: first[1] },
  ] as const;
  const fit = fitOf(show, ...ends, { ways, moving: cable });
  if (fit.kind === "refused") return fit;
  const record: Cable = { ...found, ways, ends };
  return { kind: "plugged", cable: record, edits: [{ kind: "put", list: "cables", record }] };
}

function kindsFor(show: Show, a: CableEnd, b: CableEnd): readonly CableKind[] {
  const rules = [a, b].map((end) => {
    const hole = holeAt(show, end);
    if (!hole) return [];
    return hole.kind === "port" ? hole.port.cables : JACK_CABLES[hole.bank.level];
  });
  const theirs = kindsTaken(rules[1] ?? []);
  return kindsTaken(rules[0] ?? []).filter((kind) => theirs.includes(kind));
}
