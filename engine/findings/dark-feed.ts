/** F1: a feed that must arrive, and doesn't. Feeds that stop for one cause are one finding. */
import type { WantId } from "../model/ids.ts";
import { never } from "../model/result.ts";
import { rateName } from "../model/units.ts";
import { arrivesAt, outputJacks } from "../trace/owners.ts";
import { findTerminal, fullName, namesOf, terminalOf, type Terminal } from "../trace/terminal.ts";
import { VERDICT_NAMES, type Trace } from "../trace/trace.ts";
import { traceOf } from "../trace/walk.ts";
import { Edge, type Wiring } from "../wiring/wiring.ts";
import { plugs } from "./describe.ts";
import type { Analysed, Check, Finding, Severity } from "./finding.ts";

interface Feed {
  readonly terminal: number;
  readonly name: string;
  readonly want: WantId | null;
}

interface Cause {
  readonly key: string;
  readonly feeds: Feed[];
  /** Where the traces stop. */
  readonly ends: number[];
  readonly traces: Trace[];
  /** One of them, for what they have in common. */
  readonly trace: Trace;
}

export const darkFeed: Check = {
  id: "dark-feed",
  about: "a feed that must arrive and doesn't",
  run: (rig) => {
    const planned = causesOf(rig, plannedFeeds(rig));
    const plugged = causesOf(rig, pluggedFeeds(rig));
    // What darkens a planned feed is an error already; that a cable hangs there too adds nothing.
    for (const key of planned.keys()) plugged.delete(key);
    return [
      ...[...planned.values()].map((cause) => told(rig.wiring, "error", cause)),
      ...[...plugged.values()].map((cause) => told(rig.wiring, "warning", cause)),
    ];
  },
};

/** What the show says must arrive: each want at its jack, each planned source in its channel. */
function plannedFeeds({ wiring }: Analysed): Feed[] {
  const { show } = wiring;
  const feeds: Feed[] = [];
  for (const want of show.wants) {
    const terminal = findTerminal(wiring, want.to);
    if (terminal !== null) feeds.push({ terminal, name: want.name, want: want.id });
  }
  for (const channel of show.channels) {
    if (channel.source === undefined) continue;
    const terminal = findTerminal(wiring, {
      device: channel.console,
      group: channel.group,
      number: channel.number,
    });
    if (terminal !== null) feeds.push({ terminal, name: channel.name, want: null });
  }
  return feeds;
}

/** Output jacks that nobody asked for, but that somebody plugged a cable in. */
function pluggedFeeds(rig: Analysed): Feed[] {
  const { wiring } = rig;
  const planned = new Set(plannedFeeds(rig).map(({ terminal }) => terminal));
  return wiring.devices.flatMap((wired) =>
    (wired ? outputJacks(wired) : []).flatMap(({ span, first }) => {
      const feeds: Feed[] = [];
      for (let terminal = first; terminal < first + span.count; terminal++) {
        const { downStart, downList, edge } = wiring;
        const cabled = downList
          .subarray(downStart[terminal], downStart[terminal + 1])
          .some((next) => edge[next] === Edge.cable);
        if (cabled && !planned.has(terminal)) {
          feeds.push({ terminal, name: fullName(wiring, terminal), want: null });
        }
      }
      return feeds;
    }),
  );
}

/** Gathers the feeds that don't arrive by what stops them. */
function causesOf({ wiring, arrivals }: Analysed, feeds: readonly Feed[]): Map<string, Cause> {
  const causes = new Map<string, Cause>();
  for (const feed of feeds) {
    if (arrivesAt(wiring, arrivals, feed.terminal)) continue;
    const trace = traceOf(wiring, feed.terminal);
    // Check F4 tells of loops, with all that hangs on them.
    if (trace.verdict.kind === "loop" || trace.verdict.kind === "arrives") continue;
    const { kind, at } = trace.verdict;
    const cable = "cable" in trace.verdict ? (trace.verdict.cable ?? "") : "";
    const key = cable ? `${kind}:${cable}` : `${kind}:${at.device}:${at.group}:${at.side}`;
    const cause = causes.get(key) ?? { key, feeds: [], ends: [], traces: [], trace };
    causes.set(key, cause);
    cause.feeds.push(feed);
    cause.ends.push(arrivals.root[feed.terminal]!);
    cause.traces.push(trace);
  }
  return new Map([...causes.values()].flatMap(apart).map((cause) => [cause.key, cause]));
}

/**
 * A port's cable is one cause for all its slots. Settings and jacks are made one by one, so runs of them that don't
 * touch are causes of their own.
 */
function apart(cause: Cause): Cause[] {
  const { verdict } = cause.trace;
  const single =
    verdict.kind === "nothing-assigned" ||
    verdict.kind === "not-wired" ||
    (verdict.kind === "not-plugged" && verdict.at.side === "jack" && verdict.cable === null);
  if (!single) return [cause];
  const byEnd = cause.ends.map((end, n) => ({ end, feed: cause.feeds[n]!, trace: cause.traces[n]! }));
  byEnd.sort((a, b) => a.end - b.end);
  const runs: Cause[] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const { end, feed, trace } of byEnd) {
    if (end > last + 1) runs.push({ key: cause.key, feeds: [], ends: [], traces: [], trace });
    const run = runs.at(-1)!;
    run.feeds.push(feed);
    run.ends.push(end);
    run.traces.push(trace);
    last = end;
  }
  return runs.map((run) => {
    const { at } = run.trace.verdict as Extract<Trace["verdict"], { readonly at: Terminal }>;
    return { ...run, key: `${cause.key}:${at.number}` };
  });
}

function told(wiring: Wiring, severity: Severity, { key, feeds, ends, trace }: Cause): Finding {
  const what = feeds.length === 1 ? `${feeds[0]!.name} is dark` : `${feeds.length} feeds are dark`;
  const { kind } = trace.verdict;
  return {
    id: `dark-feed:${severity}:${key}`,
    check: "dark-feed",
    severity,
    title: `${what}: ${VERDICT_NAMES[kind]} at ${namesOf(wiring, ends)}`,
    reason: `${reason(wiring, ends, trace)} Dark: ${listed(wiring, feeds)}.`,
    terminals: [...new Set([...feeds.map(({ terminal }) => terminal), ...ends])].map((t) =>
      terminalOf(wiring, t),
    ),
    devices: [...new Set([...ends, ...feeds.map(({ terminal }) => terminal)])].map(
      (t) => terminalOf(wiring, t).device,
    ),
    cables: "cable" in trace.verdict && trace.verdict.cable !== null ? [trace.verdict.cable] : [],
    wants: feeds.flatMap(({ want }) => (want === null ? [] : [want])),
  };
}

/** Names the first few feeds and counts the rest. */
function listed(wiring: Wiring, feeds: readonly Feed[]): string {
  const shown = feeds.slice(0, 6).map(({ name, terminal }) => {
    const jack = fullName(wiring, terminal);
    return name === jack || name === "" ? jack : `${name} (${jack})`;
  });
  const rest = feeds.length - shown.length;
  return rest > 0 ? `${shown.join(", ")} and ${rest} more` : shown.join(", ");
}

function reason(wiring: Wiring, ends: readonly number[], trace: Trace): string {
  const { verdict } = trace;
  const where = namesOf(wiring, ends);
  const cable = (id: string): string => plugs(wiring, id);
  switch (verdict.kind) {
    case "nothing-assigned":
      return `Nothing is assigned to ${where}.`;
    case "not-plugged":
      return verdict.cable === null
        ? `Nothing is plugged in ${where}.`
        : `${cable(verdict.cable)} joins nothing at ${where}.`;
    case "beyond-slots":
      return `The link has ${verdict.slots} slots at ${rateName(verdict.rate)}; ${where} ${ends.length > 1 ? "do" : "does"} not exist.`;
    case "not-wired": {
      const { device: settings, fabric } = wiring.devices[wiring.indexOf.get(verdict.at.device)!]!;
      const mode = fabric.mode ? `In mode “${fabric.mode.name}”` : `The type has no mode “${settings.mode}”:`;
      return verdict.assignment
        ? `${mode} the setting of ${where} can't be held.`
        : `${mode} nothing feeds ${where}.`;
    }
    case "mismatch":
      return verdict.why === "rate"
        ? `The two ends of ${cable(verdict.cable)} run at different sample rates, and neither converts.`
        : `The two ends of ${cable(verdict.cable)} follow different word clocks, and neither converts.`;
    case "off":
      return verdict.cable === null
        ? `${device(wiring, verdict.at)} is off.`
        : `${cable(verdict.cable)} is pulled.`;
    case "unknown":
      return `${cable(verdict.cable)} leads to something that the show doesn't have.`;
    case "arrives":
    case "loop":
      return "";
    default:
      return never(verdict);
  }
}

const device = (wiring: Wiring, { device: id }: Terminal): string =>
  wiring.show.devices[wiring.indexOf.get(id)!]!.name;
