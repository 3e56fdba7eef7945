/**
 * What is to be set on one device, in the order in which its own pages are programmed: power and mode, place in the chain,
 * rate, clock, preamps, routing block by block, channels and mixes, and what to leave alone. The Q rules of SPEC.md.
 */
import type { Analysis } from "../analysis.ts";
import { followers, withinRange } from "../findings/followers.ts";
import { ownPreamps, preampsOf, type Preamp } from "../findings/preamp.ts";
import type { ClockDefault, Range } from "../model/device-type.ts";
import type { DeviceId, ModeId } from "../model/ids.ts";
import { gather, once } from "../model/once.ts";
import { partOf } from "../model/routing.ts";
import type { Assignment, ChannelPlan, Mix, Source, Stream } from "../model/show.ts";
import type { SampleRate } from "../model/units.ts";
import { arrivesAt, ownersAt } from "../trace/owners.ts";
import { sourcesById } from "../trace/records.ts";
import { clockSetting } from "../wiring/clock.ts";
import { NO_RULE } from "../wiring/fabric.ts";
import { spanGroup, type Span } from "../wiring/layout.ts";
import { Edge, State, type WiredDevice, type Wiring } from "../wiring/wiring.ts";
import { endsOf } from "./signals.ts";

/** The settings of the device as a whole; one that its type leaves no choice of is left out. */
export type Basic =
  | { readonly kind: "power"; readonly on: boolean }
  | { readonly kind: "mode"; readonly mode: ModeId }
  | { readonly kind: "position"; readonly position: number }
  | { readonly kind: "rate"; readonly rate: SampleRate }
  | { readonly kind: "clock"; readonly follows: ClockDefault };

/** A source whose analogue gain this device sets. */
export interface GainLine {
  readonly source: Source;
  /** The preamps that it can set; none where they are out of its reach. */
  readonly preamps: readonly Preamp[];
  /** Channels of others that hear each step, by their numbers in the wiring. */
  readonly followers: readonly number[];
}

/** Neighbouring inputs of this device whose gain one console sets. */
export interface PreampRun {
  readonly span: Span;
  /** Null: no console is named, or the one that is sets a preamp elsewhere. */
  readonly owner: DeviceId | null;
  /** Counted from 1 within the bank. */
  readonly numbers: readonly number[];
  readonly phantom: readonly number[];
}

/** Neighbouring channels of this device that trim alike against gains that one other console sets. */
export interface TrimLine {
  readonly owner: DeviceId;
  /** Numbers in the wiring. */
  readonly channels: readonly number[];
  readonly follows: boolean;
  readonly trim: number;
  /** False: past the range that the console's type tells. */
  readonly within: boolean | null;
}

/** The settings of one destination: a link, a bank of outputs, the channels. */
export interface RouteGroup {
  readonly to: Span;
  /** Each a whole run of its rule; where single ones can be set, neighbours in step up to the end of an eight. */
  readonly settings: readonly Assignment[];
  /** Numbers to which nothing is assigned. */
  readonly empty: readonly number[];
}

/** Neighbours at which other devices' feeds pass this one. */
export interface KeepLine {
  readonly span: Span;
  readonly whose: DeviceId;
  readonly numbers: readonly number[];
  /** Where these feeds come out, by numbers in the wiring. */
  readonly ends: readonly number[];
}

/** A stream that this device's network port sends or takes. */
export interface StreamLine {
  readonly stream: Stream;
  readonly way: "sends" | "takes";
  readonly port: Stream["from"];
}

export interface Worksheet {
  readonly wired: WiredDevice;
  readonly basics: readonly Basic[];
  readonly gains: readonly GainLine[];
  readonly preamps: readonly PreampRun[];
  readonly trims: readonly TrimLine[];
  readonly routes: readonly RouteGroup[];
  /** Parts of the plan that the mode can't hold. */
  readonly refused: readonly Assignment[];
  readonly streams: readonly StreamLine[];
  readonly inserts: readonly Range[];
  readonly mixes: readonly Mix[];
}

/** The longest line of settings that are made one by one: as many as have their names beside them. */
const EIGHT = 8;

export function worksheetOf(analysis: Analysis, wired: WiredDevice): Worksheet {
  const { wiring } = analysis;
  const { device } = wired;
  const { show } = wiring;
  return {
    wired,
    basics: basicsOf(wired),
    gains: gainsOf(analysis, wired),
    preamps: preampRuns(wiring, wired),
    trims: trimsOf(analysis, wired),
    routes: routesOf(wiring, wired),
    refused: refusedOf(wiring, wired),
    streams: streamsOf(wiring, device.id),
    inserts: device.inserts ?? [],
    mixes: mixesOf(show.mixes, wired),
  };
}

/** Whether there is anything to set on a device: a loudspeaker that is on has no worksheet. */
export const hasSettings = ({
  basics,
  gains,
  preamps,
  routes,
  refused,
  streams,
  mixes,
}: Worksheet): boolean =>
  basics.some((basic) => basic.kind !== "power" || !basic.on) ||
  [gains, preamps, routes, refused, streams, mixes].some((list) => list.length > 0);

function basicsOf(wired: WiredDevice): readonly Basic[] {
  const { device, fabric, rate } = wired;
  const { type } = fabric.layout;
  const clock = clockSetting(wired);
  const basics: Basic[] = [{ kind: "power", on: device.powered }];
  if (type.modes.length !== 1 || !fabric.mode) basics.push({ kind: "mode", mode: device.mode });
  if (type.chain > 1 || device.position !== 1) basics.push({ kind: "position", position: device.position });
  if (clock !== "none" || device.sampleRate !== undefined) basics.push({ kind: "rate", rate });
  if (clock !== "none") basics.push({ kind: "clock", follows: clock });
  return basics;
}

function gainsOf(analysis: Analysis, { device, index }: WiredDevice): readonly GainLine[] {
  const { wiring } = analysis;
  const lines: GainLine[] = [];
  for (const { source, preamps } of preampsOf(wiring)) {
    if (source.preampOwner !== device.id) continue;
    const heard = followers(analysis).get(source.id) ?? [];
    lines.push({
      source,
      preamps: ownPreamps(wiring, index, preamps),
      followers: heard.map(({ terminal }) => terminal),
    });
  }
  const place = ({ preamps: [first] }: GainLine): number => first?.jack ?? Infinity;
  return lines.sort((a, b) => (place(a) === place(b) ? 0 : place(a) - place(b)));
}

interface InputPreamp {
  readonly owner: DeviceId | null;
  readonly phantom: boolean;
}

/** Every preamp that a source comes to, by its jack, with who sets its gain. */
const inputPreamps = once((wiring: Wiring): ReadonlyMap<number, InputPreamp> => {
  const found = new Map<number, InputPreamp>();
  for (const { source, preamps } of preampsOf(wiring)) {
    const { preampOwner } = source;
    const desk = preampOwner === undefined ? undefined : wiring.indexOf.get(preampOwner);
    const own = new Set(desk === undefined ? [] : ownPreamps(wiring, desk, preamps).map(({ jack }) => jack));
    for (const { jack, isolated } of preamps) {
      const owner = own.has(jack) ? preampOwner! : null;
      // Phantom power comes from one console, over the direct leg of a split: common practice.
      const phantom = source.phantom && !isolated && (owner !== null || own.size === 0);
      found.set(jack, { owner, phantom });
    }
  }
  return found;
});

/** Of a console's own jacks its list of gains tells; this is for boxes that others' gains are set on. */
function preampRuns(wiring: Wiring, { base, device, fabric }: WiredDevice): readonly PreampRun[] {
  const preamps = inputPreamps(wiring);
  const runs: PreampRun[] = [];
  for (const span of fabric.layout.spans) {
    if (span.side !== "jack" || span.bank.direction !== "in") continue;
    const owners = new Map<DeviceId | null, { numbers: number[]; phantom: number[] }>();
    for (let n = 0; n < span.count; n++) {
      const preamp = preamps.get(base + span.start + n);
      if (!preamp || preamp.owner === device.id) continue;
      const run = owners.get(preamp.owner) ?? { numbers: [], phantom: [] };
      owners.set(preamp.owner, run);
      run.numbers.push(n + 1);
      if (preamp.phantom) run.phantom.push(n + 1);
    }
    for (const [owner, run] of owners) runs.push({ span, owner, ...run });
  }
  return runs;
}

function trimsOf(analysis: Analysis, { device }: WiredDevice): readonly TrimLine[] {
  const { wiring } = analysis;
  const mine: { readonly terminal: number; readonly owner: DeviceId; readonly channel: ChannelPlan }[] = [];
  for (const [source, all] of followers(analysis)) {
    const owner = sourcesById(wiring.show).get(source)!.preampOwner!;
    for (const { terminal, channel } of all)
      if (channel.console === device.id) mine.push({ terminal, owner, channel });
  }
  const lines: (Omit<TrimLine, "channels"> & { readonly channels: number[] })[] = [];
  for (const { terminal, owner, channel } of mine.sort((a, b) => a.terminal - b.terminal)) {
    const [follows, trim] = [channel.follows ?? false, channel.trim ?? 0];
    const last = lines.at(-1);
    const alike = last?.owner === owner && last.follows === follows && last.trim === trim;
    if (alike && last.channels.at(-1) === terminal - 1) last.channels.push(terminal);
    else {
      const within = withinRange(wiring, terminal, trim);
      lines.push({ owner, channels: [terminal], follows, trim, within });
    }
  }
  return lines;
}

/** Runs of one setting that the wiring follows, or refuses, each once. */
function runsOf(
  wiring: Wiring,
  { base, device, fabric }: WiredDevice,
  span: Span,
  isHeld: boolean,
): readonly { readonly rule: number; readonly size: number; readonly setting: Assignment }[] {
  const runs = new Map<string, { rule: number; size: number; setting: Assignment; at: number }>();
  for (let n = 0; n < span.count; n++) {
    const terminal = base + span.start + n;
    if (wiring.edge[terminal] !== Edge.patched || wiring.feeder[terminal]! >= 0 !== isHeld) continue;
    const at = wiring.setting[terminal]!;
    const setting = device.routing[at]!;
    const rule = fabric.rule[span.start + n]!;
    const told = rule === NO_RULE ? null : fabric.rules[rule]!;
    const size = told?.kind === "patch" ? told.run : 1;
    const place = n + 1 - setting.to.first;
    const skip = place - (place % size);
    const key = `${at}:${skip}:${rule}`;
    if (runs.has(key)) continue;
    const part = partOf(setting, skip, Math.min(size, setting.count - skip));
    runs.set(key, { rule, size, setting: part, at });
  }
  // A later setting that covers a part of a run stands after it, as it counts after it.
  return [...runs.values()].sort((a, b) => a.setting.to.first - b.setting.to.first || a.at - b.at);
}

/** Single settings that go on in step as one, up to the end of an eight where `cut` is set. */
function together(
  runs: readonly { readonly rule: number; readonly size: number; readonly setting: Assignment }[],
  cut: boolean,
): readonly Assignment[] {
  const lines: Assignment[] = [];
  let rule = NO_RULE;
  for (const { rule: decides, size, setting } of runs) {
    const last = lines.at(-1);
    const goesOn =
      last !== undefined &&
      size === 1 &&
      rule === decides &&
      last.from.group === setting.from.group &&
      last.to.first + last.count === setting.to.first &&
      last.from.first + last.count === setting.from.first &&
      !(cut && (setting.to.first - 1) % EIGHT === 0);
    if (goesOn) lines[lines.length - 1] = { ...last, count: last.count + setting.count };
    else lines.push(setting);
    rule = decides;
  }
  return lines;
}

/** What a device's own pages can assign, span by span; those with nothing assigned and nothing planned are left out. */
function routesOf(wiring: Wiring, wired: WiredDevice): readonly RouteGroup[] {
  const { base, fabric } = wired;
  const groups: RouteGroup[] = [];
  for (const to of fabric.layout.destinations.values()) {
    const settings = together(runsOf(wiring, wired, to, true), true);
    const empty: number[] = [];
    for (let n = 0; n < to.count; n++) {
      const rule = fabric.rule[to.start + n]!;
      const isFree = rule !== NO_RULE && fabric.rules[rule]!.kind === "patch";
      if (isFree && wiring.edge[base + to.start + n] !== Edge.patched) empty.push(n + 1);
    }
    if (settings.length > 0) groups.push({ to, settings, empty });
  }
  return groups;
}

const refusedOf = (wiring: Wiring, wired: WiredDevice): readonly Assignment[] =>
  [...wired.fabric.layout.destinations.values()].flatMap((span) =>
    together(runsOf(wiring, wired, span, false), false),
  );

const streamsOf = ({ show }: Wiring, device: DeviceId): readonly StreamLine[] =>
  (show.streams ?? []).flatMap((stream) => [
    ...(stream.from.device === device
      ? [{ stream, way: "sends", port: stream.from } satisfies StreamLine]
      : []),
    ...stream.to
      .filter((end) => end.device === device)
      .map((port): StreamLine => ({ stream, way: "takes", port })),
  ]);

/** In the order of the device's sections, then of their buses. */
function mixesOf(mixes: readonly Mix[], { device, fabric }: WiredDevice): readonly Mix[] {
  const order = fabric.layout.spans.map(spanGroup);
  return mixes
    .filter(({ console: desk }) => desk === device.id)
    .sort((a, b) => order.indexOf(a.group) - order.indexOf(b.group) || a.first - b.first);
}

/** What is to be left alone on a device: the runs at which other devices’ feeds pass it. */
export function keepOf(analysis: Analysis, { base, fabric, index }: WiredDevice): readonly KeepLine[] {
  const { wiring } = analysis;
  const lines: KeepLine[] = [];
  for (const span of fabric.layout.destinations.values()) {
    if (span.side === "bus") continue;
    const found = new Map<number, { numbers: number[]; ends: Set<number> }>();
    for (let n = 0; n < span.count; n++) {
      const terminal = base + span.start + n;
      for (const [whose, ends] of feedsOf(analysis, terminal)) {
        if (whose === index) continue;
        const line = found.get(whose) ?? { numbers: [], ends: new Set() };
        found.set(whose, line);
        line.numbers.push(n + 1);
        for (const end of ends) line.ends.add(end);
      }
    }
    for (const [whose, { numbers, ends }] of found) {
      const sorted = [...ends].sort((a, b) => a - b);
      lines.push({ span, whose: wiring.devices[whose]!.device.id, numbers, ends: sorted });
    }
  }
  return lines;
}

/**
 * Whose work hangs on a terminal, and where it comes out: the owners of what arrives, or for a source the devices whose
 * channels and jacks it comes to. Nothing where nothing arrives or it goes nowhere.
 */
function feedsOf({ wiring, arrivals }: Analysis, terminal: number): ReadonlyMap<number, readonly number[]> {
  const feeds = new Map<number, number[]>();
  if (!arrivesAt(wiring, arrivals, terminal)) return feeds;
  const ends = endsOf(wiring, [terminal]);
  if (ends.length === 0) return feeds;
  if (wiring.state[arrivals.root[terminal]!] === State.source) {
    for (const end of ends) gather(feeds, wiring.deviceOf[end]!, end);
  } else for (const owner of ownersAt(wiring, arrivals, terminal)) feeds.set(owner, [...ends]);
  return feeds;
}

/** Terminals `first … first + count - 1` of a span, by their numbers in the wiring; those past its end are left out. */
export function terminalsIn({ base }: WiredDevice, span: Span, first: number, count: number): number[] {
  const last = Math.min(first + count - 1, span.count);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, n) => base + span.start + first - 1 + n);
}
