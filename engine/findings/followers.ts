/**
 * Channels that hear every step of a gain that another console sets. Its owner sets the analogue gain of a shared preamp;
 * every other console trims digitally by the opposite of each step (common practice). The S rules of SPEC.md.
 */
import type { TrimRange } from "../model/device-type.ts";
import type { Edit } from "../model/edit.ts";
import type { SourceId } from "../model/ids.ts";
import { gather, once } from "../model/once.ts";
import type { ChannelPlan, Source } from "../model/show.ts";
import { round } from "../model/units.ts";
import { arrivesAt } from "../trace/owners.ts";
import { sourcesById } from "../trace/records.ts";
import { locate } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import type { Analysed } from "./finding.ts";
import { ownPreamps, preampsOf, type Preamp } from "./preamp.ts";
import { isConsole } from "./remedies.ts";
import { NOWHERE, standing } from "./standing.ts";

/** A channel that gets a source after a preamp that another console owns. */
export interface Follower {
  readonly channel: ChannelPlan;
  /** The channel, and the jack whose preamp is shared, by their numbers in the wiring. */
  readonly terminal: number;
  readonly preamp: number;
}

export interface TrimStep extends Follower {
  /** Digital trim in dB before and after the owner's step. */
  readonly before: number;
  readonly after: number;
  /** Whether `after` lies in the range of the console's trim; null where its type tells none. */
  readonly within: boolean | null;
}

/** The followers of each source that has some, in the order of the show's channels. */
export const followers = once((rig: Analysed): ReadonlyMap<SourceId, readonly Follower[]> => {
  const { wiring } = rig;
  const { show } = wiring;
  const at = standing(wiring);
  const shared = sharedPreamps(rig);
  const found = new Map<SourceId, Follower[]>();
  show.channels.forEach((channel, n) => {
    const terminal = at.channels[n]!;
    const planned = at.planned[n]!;
    if (planned === NOWHERE || terminal === NOWHERE) return;
    const source = show.sources[planned]!;
    if (channel.console === source.preampOwner) return;
    const jacks = shared.get(source.id);
    if (!jacks || !isConsole(wiring.devices[wiring.deviceOf[terminal]!]!)) return;
    const preamp = preampOf(rig, terminal);
    if (preamp !== null && jacks.has(preamp)) gather(found, source.id, { channel, terminal, preamp });
  });
  return found;
});

/** What a step of a source's analogue gain, in dB, asks of each follower: the opposite step of its trim. */
export function trimsAfter(rig: Analysed, source: SourceId, step: number): readonly TrimStep[] {
  return (followers(rig).get(source) ?? []).map((follower) => {
    const before = follower.channel.trim ?? 0;
    const after = decibels(before - step);
    return { ...follower, before, after, within: withinRange(rig.wiring, follower.terminal, after) };
  });
}

/** The edits that go with a step of a source's gain: the gain itself, and the trim of each channel that follows. */
export function gainEdits(rig: Analysed, source: SourceId, step: number): readonly Edit[] {
  const record = sourcesById(rig.wiring.show).get(source);
  if (!record) return [];
  const gain = decibels((record.gain ?? 0) + step);
  return [
    { kind: "put", list: "sources", record: { ...record, gain } },
    ...trimsAfter(rig, source, step)
      .filter(({ channel }) => channel.follows)
      .map(({ channel, after }): Edit => {
        return { kind: "put", list: "channels", record: { ...channel, trim: after } };
      }),
  ];
}

/** Steps are halves and tenths of a dB, so sums are rounded past what anyone sets; no negative zero. */
const decibels = (value: number): number => round(value, 6) + 0;

/** How far the digital trim of a channel goes; undefined where the type of its console doesn't tell. */
export function trimRange(wiring: Wiring, channel: number): TrimRange | undefined {
  const { span } = locate(wiring, channel);
  return span.side === "bus" ? span.section.trim : undefined;
}

/** Null where the type of the channel's console doesn't tell how far the trim goes. */
export function withinRange(wiring: Wiring, channel: number, trim: number): boolean | null {
  const range = trimRange(wiring, channel);
  return range ? trim >= range.from && trim <= range.to : null;
}

/**
 * The jacks whose gain a source's owner sets for everybody: those that its own channels take the source from; where none
 * does, all that it can set.
 */
function sharedPreamps(rig: Analysed): ReadonlyMap<SourceId, ReadonlySet<number>> {
  const { wiring } = rig;
  const { show, indexOf } = wiring;
  const at = standing(wiring);
  const owned = new Map<SourceId, Set<number>>();
  show.channels.forEach(({ console: desk }, n) => {
    const planned = at.planned[n]!;
    if (planned === NOWHERE || at.channels[n] === NOWHERE) return;
    const source = show.sources[planned]!;
    if (source.preampOwner !== desk) return;
    const preamp = preampOf(rig, at.channels[n]!);
    if (preamp === null) return;
    const jacks = owned.get(source.id) ?? new Set();
    owned.set(source.id, jacks.add(preamp));
  });
  const settable = (source: Source, preamps: readonly Preamp[]): readonly number[] => {
    const owner = source.preampOwner === undefined ? undefined : indexOf.get(source.preampOwner);
    return owner === undefined ? [] : ownPreamps(wiring, owner, preamps).map(({ jack }) => jack);
  };
  const shared = new Map<SourceId, ReadonlySet<number>>();
  for (const { source, preamps } of preampsOf(wiring)) {
    const jacks = settable(source, preamps);
    const own = jacks.filter((jack) => owned.get(source.id)?.has(jack));
    if (jacks.length > 0) shared.set(source.id, new Set(own.length > 0 ? own : jacks));
  }
  return shared;
}

const preampJacks = once(
  (wiring: Wiring): ReadonlySet<number> =>
    new Set(preampsOf(wiring).flatMap(({ preamps }) => preamps.map(({ jack }) => jack))),
);

/** The preamp whose signal a channel gets, digital all the way from there; null for none. */
function preampOf({ wiring, arrivals }: Analysed, channel: number): number | null {
  if (!arrivesAt(wiring, arrivals, channel)) return null;
  const jacks = preampJacks(wiring);
  for (let at = channel; at >= 0; at = wiring.feeder[at]!) {
    if (jacks.has(at)) return at;
    const { span } = locate(wiring, at);
    if (span.side === "jack" && span.bank.level !== "AES3") return null;
  }
  return null;
}
