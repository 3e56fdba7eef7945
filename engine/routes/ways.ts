/**
 * How signals get from where they are to where they should be, over the settings that there are to make (the N rules of
 * SPEC.md). A way is looked for from the jacks upstream: what is wired, carried or plugged leads on by itself, and where
 * a patch decides, each source that its rule lists is a way on. Modes, cables and switches stay as they are.
 *
 * Signals that stand in a row are kept in a row, as a tech does it; only where that can't be they are parted.
 */
import { checked, rewired, type Analysis, type Unchecked } from "../analysis.ts";
import { plannedFeeds } from "../findings/feeds.ts";
import { applyEdits, type Edit } from "../model/edit.ts";
import type { DeviceId } from "../model/ids.ts";
import { gather, once } from "../model/once.ts";
import { assigned, joined } from "../model/routing.ts";
import type { Assignment } from "../model/show.ts";
import { outputJacks, arrivesAt } from "../trace/owners.ts";
import { locate } from "../trace/terminal.ts";
import { wholeRun } from "../wiring/fabric.ts";
import { spanGroup, takesRules } from "../wiring/layout.ts";
import type { PatchRule } from "../model/device-type.ts";
import { Edge, State, type WiredDevice, type Wiring } from "../wiring/wiring.ts";
import { Heap } from "./heap.ts";

/** The settings of one device on a way, as its own page is to read when they are made. */
export interface WaySettings {
  readonly device: DeviceId;
  readonly settings: readonly Assignment[];
}

/** A jack or channel that gets something else than before, or nothing any more, though nobody asked for it. */
export interface Disturbed {
  readonly terminal: number;
  /** What arrives there now. */
  readonly was: number;
}

export interface Way<After = Analysis> {
  readonly kind: "way";
  /** From the signals' end on. Empty: everything is set already. */
  readonly settings: readonly WaySettings[];
  /** The same as changes of the document. */
  readonly edits: readonly Edit[];
  readonly disturbed: readonly Disturbed[];
  /** In how many parts the signals go; 1 where they stay together. */
  readonly parts: number;
  /** The rig with these settings. */
  readonly after: After;
}

/** How many settings a way makes, a run in step counted once. */
export const lineCountOf = ({ settings }: Pick<Way, "settings">): number =>
  settings.reduce((sum, each) => sum + each.settings.length, 0);

/** There is no way: the first signal that can't be brought, and why. */
export interface NoWay {
  readonly kind: "none";
  readonly source: number;
  readonly target: number;
  readonly why: Obstacle;
}

export type Obstacle =
  /** The target is fed over things that nobody sets, and they lead to another end than the source. */
  | { readonly kind: "fixed"; readonly at: number }
  /** The source's device has it where it can be taken, but the block that it stands in doesn't fit the destination's. */
  | { readonly kind: "unaligned"; readonly at: number; readonly run: number }
  /** There is a way, over slots that others of the same request need. */
  | { readonly kind: "in-the-way" }
  /** Nothing that can be set on the way takes from where the source gets to. */
  | { readonly kind: "apart" }
  /** The search was ended. */
  | { readonly kind: "too-many" };

/** Runs that are looked at before a search is ended. */
const MOST_LOOKED_AT = 300_000;

/**
 * The way on which `sources[n]` gets to `targets[n]` for every n, all of them numbers of terminals: sources are taps, input
 * jacks or receive slots, targets are output jacks, channels, returns or send slots. Of all ways the one that disturbs the
 * fewest jacks and channels, then that changes the fewest settings, then the shortest.
 *
 * Exact for signals that stay together; of parted ones each part is the best after those before it.
 */
export function wayFor(rig: Analysis, sources: readonly number[], targets: readonly number[]): Way | NoWay {
  const way = wayOver(rig, sources, targets);
  return way.kind === "none" ? way : { ...way, after: checked(way.after, rig) };
}

/** The same for who asks for many: the rig with the settings isn't checked. */
export function wayOver(
  rig: Unchecked,
  sources: readonly number[],
  targets: readonly number[],
): Way<Unchecked> | NoWay {
  if (sources.length !== targets.length) throw new Error("as many sources as targets are needed");
  let current = rig;
  const placed: number[] = [];
  const runs: PlacedRun[] = [];
  let parts = 0;
  // The first part of a row is taken first, so that the settings stand in the order of the row.
  const open: (readonly [number, number])[] = sources.length > 0 ? [[0, sources.length]] : [];
  while (open.length > 0) {
    const [from, to] = open.pop()!;
    const ask = { sources: sources.slice(from, to), targets: targets.slice(from, to) };
    const found = search(current, ask, placed);
    if (found.kind === "runs") {
      parts++;
      placed.push(...ask.targets);
      runs.push(...found.runs);
      current = found.after;
    } else if (to - from === 1) {
      return { kind: "none", source: sources[from]!, target: targets[from]!, why: found.why };
    } else {
      const first = search(current, { sources: [sources[from]!], targets: [targets[from]!] }, placed);
      if (first.kind === "nothing") {
        return { kind: "none", source: sources[from]!, target: targets[from]!, why: first.why };
      }
      const cut = from + found.cut;
      open.push([cut, to], [from, cut]);
    }
  }
  return {
    kind: "way",
    settings: settingsOf(rig.wiring, runs),
    edits: editsOf(rig.wiring, runs),
    disturbed: disturbedBy(rig, current, targets),
    parts,
    after: current,
  };
}

interface Ask {
  readonly sources: readonly number[];
  readonly targets: readonly number[];
}

/** A setting that a way makes: one whole run of a patch rule. */
interface PlacedRun {
  /** Index of the device. */
  readonly device: number;
  readonly setting: Assignment;
}

type Found =
  | { readonly kind: "runs"; readonly runs: readonly PlacedRun[]; readonly after: Unchecked }
  /** `cut`: where the row may be parted; at least 1 and less than its length where that is 2 or more. */
  | { readonly kind: "nothing"; readonly why: Obstacle; readonly cut: number };

/** Signals on their way upstream: where each of them stands, always a destination that a patch decides. */
interface Stand {
  readonly at: readonly number[];
  readonly before: Stand | null;
  /** What was set to get here from `before`. */
  readonly runs: readonly PlacedRun[];
  readonly cost: Cost;
}

interface Cost {
  readonly disturbed: number;
  readonly settings: number;
  readonly hops: number;
}

/** As one number, so that the least is found by comparing; each part has more room than a rig can fill. */
const rankOf = ({ disturbed, settings, hops }: Cost): number =>
  (disturbed * 2 ** 14 + settings) * 2 ** 15 + Math.min(hops, 2 ** 15 - 1);

function search(rig: Unchecked, ask: Ask, placed: readonly number[]): Found {
  const { wiring } = rig;
  const { sources, targets } = ask;
  const isSource = new Set(sources);
  const chase = chaser(wiring, isSource);
  const load = loadOf(rig, new Set([...targets, ...placed]));
  const kept = pathsOf(wiring, placed);
  const seen = new Set<string>();
  /** What runs in a row were come to for, by the terminal of their first signal. */
  const best = new Map<number, number>();
  const open = new Heap<Stand>();
  let why: Obstacle | null = null;
  let cut = 0;
  const noteWhy = (obstacle: Obstacle): void => {
    // What is nearest to the source tells most: that it is there and doesn't fit.
    if (why === null || why.kind === "apart" || (obstacle.kind === "unaligned" && why.kind !== "unaligned"))
      why = obstacle;
  };

  const push = (
    from: readonly number[],
    before: Stand | null,
    runs: readonly PlacedRun[],
    cost: Cost,
  ): void => {
    const at: number[] = [];
    let hops = cost.hops;
    for (const terminal of from) {
      const { end, cables } = chase(terminal);
      at.push(end);
      hops = Math.max(hops, cost.hops + cables);
    }
    open.push({ at, before, runs, cost: { ...cost, hops } }, rankOf({ ...cost, hops }));
  };

  push(targets, null, [], { disturbed: 0, settings: 0, hops: 0 });
  let looked = 0;
  for (let state = open.pop(); state; state = open.pop()) {
    const key = state.at.join();
    if (seen.has(key)) continue;
    seen.add(key);
    if (++looked > MOST_LOOKED_AT) {
      noteWhy({ kind: "too-many" });
      break;
    }
    if (state.at.every((terminal, n) => terminal === sources[n])) {
      const runs = allRuns(state);
      const after = rewired(applyEdits(rig.show, editsOf(wiring, runs)), rig);
      // Two runs of a way may lie on one destination.
      if (targets.every((target, n) => passes(after.wiring, target, sources[n]!)))
        return { kind: "runs", runs, after };
      noteWhy({ kind: "in-the-way" });
      continue;
    }
    const row = rowOf(wiring, state.at);
    if (row.kind === "apart") {
      cut = Math.max(cut, row.cut);
      if (state.at.length === 1)
        noteWhy(state.before === null ? { kind: "fixed", at: state.at[0]! } : { kind: "apart" });
      continue;
    }
    // Of the first signal alone can be told whether a run is worth putting together: it must lead on, and not have been
    // come to as cheaply before.
    const { cost: soFar } = state;
    const isNew = (first: number): boolean => {
      const { end } = chase(first);
      if (end !== sources[0] && patchAt(wiring, end) === null) return false;
      const settings = soFar.settings + (wiring.feeder[state.at[0]!] === first ? 0 : 1);
      return rankOf({ ...soFar, settings }) < (best.get(first) ?? Infinity);
    };
    for (const choice of choicesOf(wiring, row, state.at, ask, isNew)) {
      const cost = costOf(wiring, row.wired, choice.runs, load, kept);
      if (cost === null) {
        noteWhy({ kind: "in-the-way" });
        continue;
      }
      const total = {
        disturbed: soFar.disturbed + cost.disturbed,
        settings: soFar.settings + cost.settings,
        hops: soFar.hops,
      };
      const inRow = choice.takes.every((terminal, n) => terminal === choice.takes[0]! + n);
      if (inRow) best.set(choice.takes[0]!, Math.min(rankOf(total), best.get(choice.takes[0]!) ?? Infinity));
      push(choice.takes, state, choice.runs, total);
    }
    const clash = unaligned(wiring, row, state.at, sources);
    if (clash) noteWhy(clash);
  }
  return {
    kind: "nothing",
    why: why ?? { kind: "apart" },
    cut: cut > 0 ? cut : Math.ceil(targets.length / 2),
  };
}

/** Follows what nobody sets: to a source, to a destination that a patch decides, or to the end. Each terminal once. */
function chaser(
  wiring: Wiring,
  isSource: ReadonlySet<number>,
): (terminal: number) => { readonly end: number; readonly cables: number } {
  const { feeder, edge } = wiring;
  const known = new Map<number, { readonly end: number; readonly cables: number }>();
  return (terminal) => {
    const path: number[] = [];
    const onPath = new Set<number>();
    let at = terminal;
    while (
      !known.has(at) &&
      !isSource.has(at) &&
      feeder[at]! >= 0 &&
      patchAt(wiring, at) === null &&
      !onPath.has(at)
    ) {
      path.push(at);
      onPath.add(at);
      at = feeder[at]!;
    }
    let told = known.get(at) ?? { end: at, cables: 0 };
    if (!known.has(at)) known.set(at, told);
    for (const passed of path.reverse()) {
      const hop = edge[passed] === Edge.cable || edge[passed] === Edge.stream ? 1 : 0;
      told = { end: told.end, cables: told.cables + hop };
      known.set(passed, told);
    }
    return told;
  };
}

/** The patch rule that decides a terminal of a device that is on; null where something else does, or nothing. */
function patchAt({ devices, deviceOf, edge, state }: Wiring, terminal: number): PatchRule | null {
  const wired = devices[deviceOf[terminal]!]!;
  // The return of an insert stands in for its bus, whatever a rule says.
  if (edge[terminal] === Edge.insert) return null;
  const rule = wired.fabric.rules[wired.fabric.rule[terminal - wired.base]!];
  return rule?.kind === "patch" && state[terminal] !== State.off ? rule : null;
}

/** Where the terminal's signal is decided by a setting first, looking upstream; null where none is passed. */
export function decidedAt(wiring: Wiring, terminal: number): number | null {
  const { end } = chaser(wiring, new Set())(terminal);
  return patchAt(wiring, end) === null ? null : end;
}

/**
 * The output jacks that settings can bring a signal to, in ascending order, whatever else they would carry. Blocks are not
 * asked about: where theirs don't stand alike, there is an output of the same block that fits.
 */
export function jacksWithin(wiring: Wiring, source: number): readonly number[] {
  const { downStart, downList } = wiring;
  const seen = new Set([source]);
  const jacks: number[] = [];
  const open = [source];
  const come = (terminal: number): void => {
    if (seen.has(terminal)) return;
    seen.add(terminal);
    open.push(terminal);
  };
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const { wired, span, number } = locate(wiring, at);
    const { fabric, base } = wired;
    if (span.side === "jack" && span.bank.direction === "out") jacks.push(at);
    for (let n = downStart[at]!; n < downStart[at + 1]!; n++) {
      const next = downList[n]!;
      // What is patched is told by its rule below: it may be set otherwise.
      if (patchAt(wiring, next) === null) come(next);
    }
    const group = spanGroup(span);
    if (fabric.layout.sources.get(group) !== span) continue;
    for (const [n, rule] of fabric.rules.entries()) {
      if (rule.kind !== "patch") continue;
      const takes = rule.from.some(
        (range) => range.group === group && number >= range.first && number < range.first + range.count,
      );
      const to = takes ? fabric.layout.destinations.get(rule.to.group) : undefined;
      if (!to) continue;
      const first = base + to.start + rule.to.first - 1;
      for (let k = 0; k < rule.to.count; k++) {
        const there = first + k;
        if (fabric.rule[there - base] === n && patchAt(wiring, there) === rule) come(there);
      }
    }
  }
  return jacks.sort((a, b) => a - b);
}

interface Row {
  readonly kind: "row";
  readonly wired: WiredDevice;
  readonly rule: PatchRule;
  /** Number within its group of the first. */
  readonly first: number;
}

/** Whether the signals stand side by side under one patch rule; else where they part first. */
function rowOf(
  wiring: Wiring,
  at: readonly number[],
): Row | { readonly kind: "apart"; readonly cut: number } {
  const rule = patchAt(wiring, at[0]!);
  const n = at.findIndex(
    (terminal, k) => k > 0 && (terminal !== at[0]! + k || patchAt(wiring, terminal) !== rule),
  );
  if (n > 0 || rule === null) return { kind: "apart", cut: Math.max(n, 0) };
  const { wired, number } = locate(wiring, at[0]!);
  return { kind: "row", wired, rule, first: number };
}

interface Choice {
  readonly runs: readonly PlacedRun[];
  /** What each signal is then taken from. */
  readonly takes: readonly number[];
}

/**
 * Every run of sources that the rule lets the row take and whose first is worth it, in the order of the rule; before them
 * the sources themselves, if they are here.
 */
function* choicesOf(
  wiring: Wiring,
  row: Row,
  at: readonly number[],
  { sources }: Ask,
  isWorth: (first: number) => boolean,
): Generator<Choice> {
  const { wired, rule } = row;
  const own = choiceFrom(wiring, row, at, sources);
  if (own) yield own;
  const skip = (row.first - rule.to.first) % rule.run;
  for (const range of rule.from) {
    const span = wired.fabric.layout.sources.get(range.group);
    if (!span) continue;
    const start = wired.base + span.start - 1;
    const last = Math.min(range.first + range.count - 1, span.count);
    for (let first = range.first + skip; first + at.length - 1 <= last; first += rule.run) {
      if (!isWorth(start + first)) continue;
      const choice = choiceFrom(
        wiring,
        row,
        at,
        at.map((_, n) => start + first + n),
      );
      if (choice) yield choice;
    }
  }
}

/** The whole runs that feed the row from these terminals; null where one of them isn't at hand, or two runs differ. */
function choiceFrom(
  wiring: Wiring,
  { wired, rule, first }: Row,
  at: readonly number[],
  takes: readonly number[],
): Choice | null {
  const runs = new Map<number, PlacedRun>();
  for (const [n] of at.entries()) {
    const taken = takes[n]!;
    if (wiring.deviceOf[taken] !== wired.index) return null;
    const { span, number } = locate(wiring, taken);
    const group = spanGroup(span);
    if (wired.fabric.layout.sources.get(group) !== span) return null;
    const setting = wholeRun(rule, first + n, group, number);
    if (!setting) return null;
    const there = runs.get(setting.to.first);
    if (there && (there.setting.from.group !== group || there.setting.from.first !== setting.from.first))
      return null;
    runs.set(setting.to.first, { device: wired.index, setting });
  }
  return { runs: [...runs.values()], takes };
}

/** What setting the runs costs: nothing for those that are set already. Null where they would undo what is to stay. */
function costOf(
  wiring: Wiring,
  wired: WiredDevice,
  runs: readonly PlacedRun[],
  load: (terminal: number) => number,
  kept: ReadonlySet<number>,
): { readonly disturbed: number; readonly settings: number } | null {
  let disturbed = 0;
  const changed: Assignment[] = [];
  for (const { setting } of runs) {
    const differs = changedBy(wiring, wired, setting);
    if (differs.some((terminal) => kept.has(terminal))) return null;
    for (const terminal of differs) disturbed += load(terminal);
    if (differs.length > 0) changed.push(setting);
  }
  return { disturbed, settings: joined(changed).length };
}

/** The destinations of a setting that don't take from it already. */
function changedBy(
  { feeder, edge }: Wiring,
  { base, fabric }: WiredDevice,
  { to, from, count }: Assignment,
): readonly number[] {
  const first = base + fabric.layout.destinations.get(to.group)!.start + to.first - 1;
  const source = base + fabric.layout.sources.get(from.group)!.start + from.first - 1;
  const differs: number[] = [];
  for (let n = 0; n < count; n++) {
    if (feeder[first + n] !== source + n || edge[first + n] !== Edge.patched) differs.push(first + n);
  }
  return differs;
}

/**
 * How many output jacks and planned feeds at which something arrives would lose it with a terminal. What stands behind
 * another of them, or behind what is asked for, goes with that.
 */
function loadOf(rig: Unchecked, asked: ReadonlySet<number>): (terminal: number) => number {
  const { feeder } = rig.wiring;
  const { feeds, load } = dependents(rig);
  // What comes by what is asked for counts no more, from there to the next feed upstream.
  const less = new Map<number, number>();
  for (const each of asked) {
    const by = load[each]!;
    for (
      let at = each;
      by > 0 && at >= 0 && (at === each || !(feeds.has(at) || asked.has(at)));
      at = feeder[at]!
    )
      less.set(at, (less.get(at) ?? 0) + by);
  }
  return (terminal) => load[terminal]! - (less.get(terminal) ?? 0);
}

interface Dependents {
  /** Output jacks and planned feeds at which something arrives. */
  readonly feeds: ReadonlySet<number>;
  /** How many of them would lose it with each terminal; those behind another of them go with that. */
  readonly load: Int32Array;
}

const dependents = once(({ wiring, arrivals }: Pick<Unchecked, "wiring" | "arrivals">): Dependents => {
  const feeds = new Set<number>();
  const add = (terminal: number): void => {
    if (arrivesAt(wiring, arrivals, terminal)) feeds.add(terminal);
  };
  for (const wired of wiring.devices) {
    for (const { span, first } of wired ? outputJacks(wired) : [])
      for (let n = 0; n < span.count; n++) add(first + n);
  }
  for (const { terminal } of plannedFeeds(wiring)) add(terminal);
  const load = new Int32Array(wiring.size);
  for (const feed of feeds)
    for (let at = feed; at >= 0 && (at === feed || !feeds.has(at)); at = wiring.feeder[at]!) load[at]!++;
  return { feeds, load };
});

/**
 * For each destination of a device the output jacks and planned feeds that get their signal through it: who would notice a
 * change of its setting. Destinations that nobody depends on are left out.
 */
export function feedsThrough(
  rig: Pick<Unchecked, "wiring" | "arrivals">,
  device: number,
): ReadonlyMap<number, readonly number[]> {
  const { wiring } = rig;
  const through = new Map<number, number[]>();
  for (const feed of dependents(rig).feeds) {
    for (let at = feed; at >= 0; at = wiring.feeder[at]!) {
      if (wiring.deviceOf[at] === device && wiring.edge[at] === Edge.patched) gather(through, at, feed);
    }
  }
  return through;
}

/** Every terminal that the signals of some targets pass. */
function pathsOf({ feeder }: Wiring, targets: readonly number[]): ReadonlySet<number> {
  const kept = new Set<number>();
  for (const target of targets)
    for (let at = target; at >= 0 && !kept.has(at); at = feeder[at]!) kept.add(at);
  return kept;
}

/** From the signals' end on. */
function allRuns(end: Stand): readonly PlacedRun[] {
  const runs: PlacedRun[] = [];
  for (let state: Stand | null = end; state; state = state.before) runs.push(...state.runs);
  return runs;
}

/** Whether the chase upstream of a terminal comes by another. */
function passes({ feeder, size }: Wiring, target: number, source: number): boolean {
  let steps = 0;
  for (let at = target; at >= 0 && steps <= size; at = feeder[at]!, steps++) if (at === source) return true;
  return false;
}

/** At a device that has the source at hand, in a block that doesn't stand as the destination's does. */
function unaligned(
  wiring: Wiring,
  { wired, rule, first }: Row,
  at: readonly number[],
  sources: readonly number[],
): Obstacle | null {
  const source = sources[0]!;
  if (rule.run === 1 || wiring.deviceOf[source] !== wired.index) return null;
  const { span, number } = locate(wiring, source);
  const group = spanGroup(span);
  const isListed = rule.from.some(
    (range) => range.group === group && number >= range.first && number < range.first + range.count,
  );
  return isListed && wholeRun(rule, first, group, number) === null
    ? { kind: "unaligned", at: at[0]!, run: rule.run }
    : null;
}

/** By device, in the order in which the signal meets them; runs that go on in step made one. */
function settingsOf(wiring: Wiring, runs: readonly PlacedRun[]): readonly WaySettings[] {
  const byDevice = new Map<number, Assignment[]>();
  for (const { device, setting } of runs) byDevice.set(device, [...(byDevice.get(device) ?? []), setting]);
  return [...byDevice].flatMap(([index, settings]): WaySettings[] => {
    const wired = wiring.devices[index]!;
    const changed = settings.filter((setting) => changedBy(wiring, wired, setting).length > 0);
    return changed.length === 0 ? [] : [{ device: wired.device.id, settings: joined(changed) }];
  });
}

const editsOf = (wiring: Wiring, runs: readonly PlacedRun[]): readonly Edit[] =>
  settingsOf(wiring, runs).map(({ device: id, settings }): Edit => {
    const { device } = wiring.devices[wiring.indexOf.get(id)!]!;
    return {
      kind: "put",
      list: "devices",
      record: { ...device, routing: settings.reduce(assigned, device.routing) },
    };
  });

/** What arrived before and is another signal or none now. What lies behind a target or behind another of them isn't told. */
export function disturbedBy(
  before: Unchecked,
  after: Unchecked,
  targets: readonly number[],
): readonly Disturbed[] {
  const root = ({ arrivals }: Unchecked, terminal: number): number => arrivals.root[terminal]!;
  const changed = new Set(targets);
  for (const feed of dependents(before).feeds)
    if (root(before, feed) !== root(after, feed)) changed.add(feed);
  const { feeder } = before.wiring;
  const isBehind = (terminal: number): boolean => {
    for (let at = feeder[terminal]!; at >= 0; at = feeder[at]!) if (changed.has(at)) return true;
    return false;
  };
  const asked = new Set(targets);
  return [...changed]
    .filter((terminal) => !asked.has(terminal) && !isBehind(terminal))
    .sort((a, b) => a - b)
    .map((terminal) => ({ terminal, was: root(before, terminal) }));
}

/** Whether signals can be taken from a terminal, as `wayFor` takes them: a tap, an input jack or a receive slot. */
export function canBeTaken(wiring: Wiring, terminal: number): boolean {
  const { span } = locate(wiring, terminal);
  if (span.side === "jack") return span.bank.direction === "in";
  return span.side === "bus" ? !takesRules(span.section) : span.side === "receive";
}
