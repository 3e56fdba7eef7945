/** F2: something arrives, but not what the show asks for. */
import { arrivesAt, comesFrom, rootsAt } from "../trace/owners.ts";
import { findTerminal, fullName, terminalOf } from "../trace/terminal.ts";
import type { ChannelPlan, Want } from "../model/show.ts";
import { Edge, State } from "../wiring/wiring.ts";
import { tapName } from "./describe.ts";
import { sourcesById } from "../trace/records.ts";
import { wantedRoots } from "./feeds.ts";
import type { Analysed, Check, Finding, Fix } from "./finding.ts";
import { assignFix } from "./remedies.ts";
import { NOWHERE, standing } from "./standing.ts";

export const wrongFeed: Check = {
  id: "wrong-feed",
  about: "a jack or channel that gets another signal than planned",
  reads: ({ wiring, arrivals }) => [
    arrivals.root,
    wiring.show.wants,
    wiring.show.channels,
    wiring.show.sources,
    wiring.show.mixes,
  ],
  run: (rig) => [...wrongJacks(rig), ...wrongChannels(rig)],
  propose: (rig, { id }) => {
    const { show } = rig.wiring;
    const key = id.slice("wrong-feed:".length);
    const want = show.wants.find((candidate) => candidate.id === key);
    const channel = show.channels.find((candidate) => candidate.id === key);
    if (want) return jackFixes(rig, want);
    return channel ? channelFixes(rig, channel) : [];
  },
};

/** Sets the signal right at each device on the way that has the wanted one, the nearest to the jack first. */
function reroutes(rig: Analysed, target: number): Fix[] {
  const { wiring } = rig;
  const root = wantedRoots(wiring).get(target);
  if (root === undefined) return [];
  const fixes: Fix[] = [];
  for (let at = target; wiring.feeder[at]! >= 0; at = wiring.feeder[at]!) {
    if (wiring.edge[at] !== Edge.patched) continue;
    const fix = assignFix(rig, wiring.devices[wiring.deviceOf[at]!]!, new Map([[at, root]]));
    if (fix) fixes.push(fix);
  }
  return fixes;
}

function jackFixes(rig: Analysed, want: Want): Fix[] {
  const { wiring, arrivals } = rig;
  const jack = findTerminal(wiring, want.to)!;
  const { device, group, number } = terminalOf(wiring, arrivals.root[jack]!);
  const record: Want = { ...want, from: { device, group, number } };
  return [
    ...reroutes(rig, jack),
    {
      label: `Want ${tapName(wiring, arrivals.root[jack]!)} for ${want.name}`,
      edits: [{ kind: "put", list: "wants", record }],
    },
  ];
}

function channelFixes(rig: Analysed, channel: ChannelPlan): Fix[] {
  const { wiring, arrivals } = rig;
  const { console: device, group, number } = channel;
  const terminal = findTerminal(wiring, { device, group, number })!;
  const source = wiring.show.sources[wiring.sourceAt[arrivals.root[terminal]!]!];
  const fixes = reroutes(rig, terminal);
  if (!source) return fixes;
  const planned = sourcesById(wiring.show).get(channel.source!);
  // A channel that bears its source's name goes on doing so.
  const name = channel.name === planned?.name ? source.name : channel.name;
  return [
    ...fixes,
    {
      label: `Plan ${source.name} for ${fullName(wiring, terminal)}`,
      edits: [{ kind: "put", list: "channels", record: { ...channel, name, source: source.id } }],
    },
  ];
}

function wrongJacks({ wiring, arrivals }: Analysed): Finding[] {
  const at = standing(wiring);
  const findings: Finding[] = [];
  wiring.show.wants.forEach((want, n) => {
    const jack = at.wants[n]!;
    const tap = at.origins[n]!;
    if (jack === NOWHERE || tap === NOWHERE || !arrivesAt(wiring, arrivals, jack)) return;
    const root = arrivals.root[jack]!;
    // A bus whose insert is in takes its signal from the insert; its own trace tells from where.
    if (comesFrom(arrivals, jack, arrivals.root[tap]!)) return;
    findings.push({
      id: `wrong-feed:${want.id}`,
      check: "wrong-feed",
      severity: "error",
      title: `${want.name} gets the wrong signal at ${fullName(wiring, jack)}`,
      reason: `${tapName(wiring, root)} arrives there; ${tapName(wiring, tap)} is wanted.`,
      terminals: [jack, root, tap].map((terminal) => terminalOf(wiring, terminal)),
      devices: [want.to.device],
      cables: [],
      wants: [want.id],
    });
  });
  return findings;
}

function wrongChannels({ wiring, arrivals }: Analysed): Finding[] {
  const { show } = wiring;
  const at = standing(wiring);
  const findings: Finding[] = [];
  show.channels.forEach((channel, n) => {
    const planned = at.planned[n]!;
    const terminal = at.channels[n]!;
    if (planned === NOWHERE || terminal === NOWHERE || !arrivesAt(wiring, arrivals, terminal)) return;
    const root = arrivals.root[terminal]!;
    if (wiring.sourceAt[root] === planned) return;
    if (rootsAt(arrivals, terminal).some((each) => wiring.sourceAt[each] === planned)) return;
    const arriving = wiring.state[root] === State.source ? show.sources[wiring.sourceAt[root]!]!.name : null;
    findings.push({
      id: `wrong-feed:${channel.id}`,
      check: "wrong-feed",
      severity: "error",
      title: `${fullName(wiring, terminal)} carries the wrong source`,
      reason: `${arriving ?? tapName(wiring, root)} arrives there; ${show.sources[planned]!.name} is planned.`,
      terminals: [terminal, root].map((t) => terminalOf(wiring, t)),
      devices: [channel.console],
      cables: [],
      wants: [],
    });
  });
  return findings;
}
