/** F28: channels that hear each step of a gain that another console sets, and trims that their console can't hold. */
import type { DeviceId } from "../model/ids.ts";
import { gather } from "../model/once.ts";
import { fullName, namesOf, terminalOf } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { counted, deviceName, listOf } from "./describe.ts";
import { found, type Analysed, type Check, type Finding } from "./finding.ts";
import { followers, trimRange, withinRange, type Follower } from "./followers.ts";
import { NOWHERE, standing } from "./standing.ts";

export const followerTrim: Check = {
  id: "follower-trim",
  about: "a channel that doesn't trim against the gain that another console sets, or a trim past its range",
  reads: ({ wiring, arrivals }) => [
    arrivals.root,
    wiring.feeder,
    wiring.conduct,
    wiring.show.sources,
    wiring.show.channels,
    wiring.show.cables,
  ],
  run: (rig) => [
    ...[...uncompensated(rig)].map(([desk, all]) => told(rig.wiring, desk, all)),
    ...outOfRange(rig.wiring),
  ],
  propose: (rig, { id, devices: [desk] }) => {
    if (id !== openId(desk!)) return [];
    const open = uncompensated(rig).get(desk!) ?? [];
    return [
      {
        label: `Let ${counted(open.length, "channel")} of ${deviceName(rig.wiring, desk!)} trim against the gain`,
        edits: open.map(({ channel }) => ({
          kind: "put",
          list: "channels",
          record: { ...channel, follows: true },
        })),
      },
    ];
  },
};

const openId = (desk: DeviceId): string => `follower-trim:${desk}`;

/** The followers that don't trim, by console. */
function uncompensated(rig: Analysed): ReadonlyMap<DeviceId, readonly Follower[]> {
  const open = new Map<DeviceId, Follower[]>();
  for (const all of followers(rig).values()) {
    for (const follower of all)
      if (!follower.channel.follows) gather(open, follower.channel.console, follower);
  }
  for (const all of open.values()) all.sort((a, b) => a.terminal - b.terminal);
  return open;
}

function told(wiring: Wiring, desk: DeviceId, open: readonly Follower[]): Finding {
  const { show } = wiring;
  const sources = new Set(open.map(({ channel }) => channel.source));
  const owners = show.sources.flatMap(({ id, preampOwner }) =>
    preampOwner !== undefined && sources.has(id) ? [preampOwner] : [],
  );
  const names = [...new Set(owners)];
  const setters = listOf(names.map((owner) => deviceName(wiring, owner)));
  const terminals = open.map(({ terminal }) => terminal);
  return found(
    {
      id: openId(desk),
      check: "follower-trim",
      severity: "warning",
      title: `${counted(open.length, "channel")} of ${deviceName(wiring, desk)} ${open.length === 1 ? "hears" : "hear"} each gain step of ${setters}`,
      reason: `${namesOf(wiring, terminals)} ${open.length === 1 ? "takes its source" : "take their sources"} from preamps whose gain ${setters} ${names.length === 1 ? "sets" : "set"}. Every other console trims digitally by the opposite of each step.`,
    },
    { terminals: terminals.map((terminal) => terminalOf(wiring, terminal)), devices: [desk, ...names] },
  );
}

function outOfRange(wiring: Wiring): Finding[] {
  const at = standing(wiring);
  const findings: Finding[] = [];
  wiring.show.channels.forEach(({ id, console: desk, trim }, n) => {
    const terminal = at.channels[n]!;
    if (trim === undefined || terminal === NOWHERE || withinRange(wiring, terminal, trim) !== false) return;
    const range = trimRange(wiring, terminal)!;
    findings.push(
      found(
        {
          id: `follower-trim:range:${id}`,
          check: "follower-trim",
          severity: "warning",
          title: `${fullName(wiring, terminal)} can't be trimmed by ${trim} dB`,
          reason: `Its digital trim goes from ${range.from} to ${range.to} dB (${range.provenance}). Let the owner of the preamp step back, or make up for the rest elsewhere in the channel.`,
        },
        { terminals: [terminalOf(wiring, terminal)], devices: [desk] },
      ),
    );
  });
  return findings;
}
