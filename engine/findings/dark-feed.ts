/** F1: a feed that must arrive, and doesn't. Feeds that stop for one cause are one finding. */
import type { DeviceId } from "../model/ids.ts";
import { never } from "../model/result.ts";
import { rateName } from "../model/units.ts";
import { arrivesAt, stopsAt } from "../trace/owners.ts";
import { fullName, namesOf, spanAt, terminalOf, type Terminal } from "../trace/terminal.ts";
import { VERDICT_NAMES, type Verdict } from "../trace/trace.ts";
import { traceOf } from "../trace/walk.ts";
import { LOOP } from "../trace/arrivals.ts";
import { isUsed } from "../trace/joins.ts";
import { Edge, State, type WiredDevice, type Wiring } from "../wiring/wiring.ts";
import { deviceName, plugs } from "./describe.ts";
import { devicesAt, feedNames, plannedFeeds, wantedRoots, wantsOf, type Feed } from "./feeds.ts";
import { found, type Analysed, type Check, type Finding, type Fix, type Severity } from "./finding.ts";
import { wiredOf } from "../trace/records.ts";
import { assignFix, deviceFix, deviceOf, modeFixes, rateFixes } from "./remedies.ts";

/** What darkens a feed. Loops (F4) and stopped cables (F15, F16) are told by their own checks, with all that hangs there. */
type Dark =
  | Exclude<Verdict, { readonly kind: "arrives" | "loop" | "mismatch" }>
  /** All that comes to a join goes round: in a loop, or out of joins and in again. */
  | { readonly kind: "circle"; readonly at: Terminal };

interface Cause {
  readonly key: string;
  readonly feeds: Feed[];
  /** Where the traces stop, one for each feed. */
  readonly ends: number[];
  /** How the first of them does. */
  readonly verdict: Dark;
}

export const darkFeed: Check = {
  id: "dark-feed",
  about: "a feed that must arrive and doesn't",
  reads: ({ wiring, arrivals }) => [
    arrivals.root,
    wiring.conduct,
    wiring.show.cables,
    wiring.show.wants,
    wiring.show.channels,
  ],
  run: (rig) => {
    const planned = causesOf(rig, plannedFeeds(rig.wiring));
    const plugged = causesOf(rig, pluggedFeeds(rig));
    // What darkens a planned feed is an error already; that a cable hangs there too adds nothing.
    for (const key of planned.keys()) plugged.delete(key);
    return [
      ...[...planned.values()].map((cause) => told(rig.wiring, "error", cause)),
      ...[...plugged.values()].map((cause) => told(rig.wiring, "warning", cause)),
    ];
  },
  propose: (rig, { id }) => {
    const cause = [...causesOf(rig, plannedFeeds(rig.wiring)).values()].find(
      ({ key }) => id === idOf("error", key),
    );
    const plugged =
      cause ?? [...causesOf(rig, pluggedFeeds(rig)).values()].find(({ key }) => id === idOf("warning", key));
    return plugged ? proposals(rig, plugged) : [];
  },
};

const idOf = (severity: Severity, key: string): string => `dark-feed:${severity}:${key}`;

function proposals(rig: Analysed, { feeds, ends, verdict }: Cause): Fix[] {
  const { wiring } = rig;
  const wired = wiredOf(wiring, verdict.at.device)!;
  switch (verdict.kind) {
    case "nothing-assigned":
      return assignment(rig, wired, feeds, ends);
    case "not-wired":
      return [...modeFixes(wired), ...assignment(rig, wired, feeds, ends)];
    case "beyond-slots": {
      const far = wiring.plugs.ofPort(wired.index, verdict.at.group)?.far;
      return rateFixes(far ? [wired.device, far.device.device] : [wired.device]);
    }
    case "off":
      return verdict.device === null ? [] : switchOn(wiring, verdict.device);
    case "not-plugged":
    case "unknown":
    case "circle":
      return [];
    default:
      return never(verdict);
  }
}

/** Nothing where the device is off for a test only. */
function switchOn(wiring: Wiring, id: DeviceId): Fix[] {
  const device = deviceOf(wiring, id)!;
  return device.powered ? [] : [deviceFix(`Switch ${device.name} on`, { ...device, powered: true })];
}

/** Fills the holes from where their device already has what the feeds want. */
function assignment(
  rig: Analysed,
  wired: WiredDevice,
  feeds: readonly Feed[],
  ends: readonly number[],
): Fix[] {
  const wishes = new Map<number, number>();
  ends.forEach((end, n) => {
    const root = wantedRoots(rig.wiring).get(feeds[n]!.terminal);
    if (root !== undefined) wishes.set(end, root);
  });
  const fix = assignFix(rig, wired, wishes);
  return fix ? [fix] : [];
}

/**
 * The dark ones of the output jacks that nobody asked for, but that somebody plugged a cable in. Ways of a multicore that
 * carries something are spare where nothing was meant to come: no setting is made, or nothing plugged in.
 */
function pluggedFeeds({ wiring, arrivals }: Analysed): Feed[] {
  const { feeder, plugs, size } = wiring;
  const planned = new Uint8Array(size);
  for (const { terminal } of plannedFeeds(wiring)) planned[terminal] = 1;
  const jacks: number[] = [];
  for (const { cable, index, join } of plugs.cables) {
    if (join.kind !== "jacks") continue;
    const { bank, first, device } = join.to;
    const { start, count } = device.fabric.layout.sources.get(bank.id)!;
    const from = device.base + start + (first - 1) * bank.perJack;
    const end = Math.min(from + cable.ways * bank.perJack, device.base + start + count);
    const inUse = cable.ways > 1 && carries(index, from, end);
    for (let terminal = from; terminal < end; terminal++) {
      // Nothing but a cable feeds an input jack. An output jack that two are plugged in counts once.
      const jack = feeder[terminal]!;
      if (planned[jack] !== 0 || (inUse && isSpare(wiring, arrivals.root[jack]!))) continue;
      planned[jack] = 1;
      if (!arrivesAt(wiring, arrivals, jack)) jacks.push(jack);
    }
  }
  return jacks
    .sort((a, b) => a - b)
    .map((terminal) => ({ terminal, name: fullName(wiring, terminal), want: null }));

  function carries(cable: number, from: number, end: number): boolean {
    for (let terminal = from; terminal < end; terminal++) {
      // A source or an earlier cable may stand in a jack.
      const isIts = wiring.edge[terminal] === Edge.cable && wiring.setting[terminal] === cable;
      if (isIts && arrivesAt(wiring, arrivals, terminal)) return true;
    }
    return false;
  }
}

/** Whether a trace stops where no setting is made, or at a jack that nothing is plugged in. */
function isSpare(wiring: Wiring, root: number): boolean {
  const { state, edge } = wiring;
  if (state[root] === State.unassigned) return true;
  return state[root] === State.unplugged && edge[root] === Edge.none && spanAt(wiring, root).side === "jack";
}

/** Where a dark feed stops: behind a join, of which no leg arrives, each leg for itself. */
function endsOf({ wiring, arrivals }: Analysed, terminal: number): readonly number[] {
  const stops = stopsAt(arrivals, terminal);
  const join = arrivals.root[terminal]!;
  if (wiring.state[join] !== State.tap) return stops;
  // A leg with nothing in it is no fault as long as another has something.
  const used = stops.filter((stop) => isUsed(wiring, stop));
  if (used.length > 0) return used;
  return stops.length > 0 ? stops : [join];
}

/** The trace of the terminal where a trace stops ends as the whole trace does. */
function darkAt(wiring: Wiring, end: number): Dark {
  const { verdict } = traceOf(wiring, end);
  return verdict.kind === "loop" ? { kind: "circle", at: terminalOf(wiring, end) } : (verdict as Dark);
}

/** Gathers the feeds that don't arrive by what stops them. */
function causesOf({ wiring, arrivals }: Analysed, feeds: readonly Feed[]): Map<string, Cause> {
  const causes = new Map<string, Cause>();
  for (const feed of feeds) {
    if (arrivals.root[feed.terminal] === LOOP || arrivesAt(wiring, arrivals, feed.terminal)) continue;
    for (const end of endsOf({ wiring, arrivals }, feed.terminal)) {
      if (wiring.state[end] === State.mismatch) continue;
      const verdict = darkAt(wiring, end);
      const { kind, at } = verdict;
      // A switch that is off darkens feeds at many receivers.
      const away = verdict.kind === "off" && verdict.device !== at.device ? verdict.device : null;
      const cable = "cable" in verdict ? (verdict.cable ?? away ?? "") : "";
      const key = cable ? `${kind}:${cable}` : `${kind}:${at.device}:${at.group}:${at.side}`;
      const cause = causes.get(key) ?? { key, feeds: [], ends: [], verdict };
      causes.set(key, cause);
      cause.feeds.push(feed);
      cause.ends.push(end);
    }
  }
  return new Map(
    [...causes.values()].flatMap((cause) => apart(wiring, cause)).map((cause) => [cause.key, cause]),
  );
}

/**
 * A port's cable is one cause for all its slots. Settings and jacks are made one by one, so runs of them that don't
 * touch are causes of their own.
 */
function apart(wiring: Wiring, cause: Cause): Cause[] {
  const { verdict } = cause;
  const single =
    verdict.kind === "nothing-assigned" ||
    verdict.kind === "not-wired" ||
    verdict.kind === "circle" ||
    (verdict.kind === "not-plugged" && verdict.at.side === "jack" && verdict.cable === null);
  if (!single) return [cause];
  const byEnd = cause.ends.map((end, n) => ({ end, feed: cause.feeds[n]! }));
  byEnd.sort((a, b) => a.end - b.end);
  const runs: Cause[] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const { end, feed } of byEnd) {
    if (end > last + 1) {
      const first = darkAt(wiring, end);
      runs.push({ key: `${cause.key}:${first.at.number}`, feeds: [], ends: [], verdict: first });
    }
    const run = runs.at(-1)!;
    run.feeds.push(feed);
    run.ends.push(end);
    last = end;
  }
  return runs;
}

function told(wiring: Wiring, severity: Severity, { key, feeds, ends, verdict }: Cause): Finding {
  const what = feeds.length === 1 ? `${feeds[0]!.name} is dark` : `${feeds.length} feeds are dark`;
  const jacks = feeds.map(({ terminal }) => terminal);
  return found(
    {
      id: idOf(severity, key),
      check: "dark-feed",
      severity,
      title: `${what}: ${verdict.kind === "circle" ? VERDICT_NAMES.loop : VERDICT_NAMES[verdict.kind]} at ${namesOf(wiring, ends)}`,
      reason: `${reason(wiring, ends, verdict)} Dark: ${feedNames(wiring, feeds)}.`,
    },
    {
      terminals: [...new Set([...jacks, ...ends])].map((terminal) => terminalOf(wiring, terminal)),
      devices: devicesAt(wiring, [...ends, ...jacks]),
      cables: "cable" in verdict && verdict.cable !== null ? [verdict.cable] : [],
      wants: wantsOf(feeds),
    },
  );
}

function reason(wiring: Wiring, ends: readonly number[], verdict: Dark): string {
  const where = namesOf(wiring, ends);
  switch (verdict.kind) {
    case "nothing-assigned":
      return `Nothing is assigned to ${where}.`;
    case "not-plugged":
      return verdict.cable === null
        ? `Nothing is plugged in ${where}.`
        : `${plugs(wiring, verdict.cable)} joins nothing at ${where}.`;
    case "beyond-slots":
      // A fixed rule can reach past what it takes from; the jack that it feeds is there all the same.
      if (verdict.at.side !== "receive") {
        const many = ends.length > 1;
        return `${where} ${many ? "take" : "takes"} ${many ? "numbers" : "a number"} past the last, which is ${verdict.slots} at ${rateName(verdict.rate)}.`;
      }
      return `The link has ${verdict.slots} slots at ${rateName(verdict.rate)}; ${where} ${ends.length > 1 ? "do" : "does"} not exist.`;
    case "not-wired": {
      const { device: settings, fabric } = wiring.devices[wiring.indexOf.get(verdict.at.device)!]!;
      const mode = fabric.mode ? `In mode “${fabric.mode.name}”` : `The type has no mode “${settings.mode}”:`;
      return verdict.assignment
        ? `${mode} the setting of ${where} can't be held.`
        : `${mode} nothing feeds ${where}.`;
    }
    case "off":
      return verdict.cable === null
        ? `${deviceName(wiring, verdict.device!)} is off.`
        : `${plugs(wiring, verdict.cable)} is pulled.`;
    case "circle":
      return `All that comes to ${where} goes round in a circle.`;
    case "unknown":
      return `${plugs(wiring, verdict.cable)} leads to something that the show doesn't have.`;
    default:
      return never(verdict);
  }
}
