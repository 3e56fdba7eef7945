/** F2: something arrives, but not what the show asks for. */
import { arrivesAt } from "../trace/owners.ts";
import { findTerminal, fullName, terminalOf } from "../trace/terminal.ts";
import { State } from "../wiring/wiring.ts";
import { tapName } from "./describe.ts";
import type { Analysed, Check, Finding } from "./finding.ts";

export const wrongFeed: Check = {
  id: "wrong-feed",
  about: "a jack or channel that gets another signal than planned",
  run: (rig) => [...wrongJacks(rig), ...wrongChannels(rig)],
};

function wrongJacks({ wiring, arrivals }: Analysed): Finding[] {
  return wiring.show.wants.flatMap((want): Finding[] => {
    if (!want.from) return [];
    const jack = findTerminal(wiring, want.to);
    const tap = findTerminal(wiring, want.from);
    if (jack === null || tap === null || !arrivesAt(wiring, arrivals, jack)) return [];
    const root = arrivals.root[jack]!;
    if (root === tap) return [];
    return [
      {
        id: `wrong-feed:${want.id}`,
        check: "wrong-feed",
        severity: "error",
        title: `${want.name} gets the wrong signal at ${fullName(wiring, jack)}`,
        reason: `${tapName(wiring, root)} arrives there; ${tapName(wiring, tap)} is wanted.`,
        terminals: [jack, root, tap].map((terminal) => terminalOf(wiring, terminal)),
        devices: [want.to.device],
        cables: [],
        wants: [want.id],
      },
    ];
  });
}

function wrongChannels({ wiring, arrivals }: Analysed): Finding[] {
  const { show } = wiring;
  const sourceIndex = new Map(show.sources.map((source, index) => [source.id, index]));
  return show.channels.flatMap((channel): Finding[] => {
    const planned = channel.source === undefined ? undefined : sourceIndex.get(channel.source);
    const terminal = findTerminal(wiring, {
      device: channel.console,
      group: channel.group,
      number: channel.number,
    });
    if (planned === undefined || terminal === null || !arrivesAt(wiring, arrivals, terminal)) return [];
    const root = arrivals.root[terminal]!;
    if (wiring.state[root] === State.source && wiring.sourceAt[root] === planned) return [];
    const arriving = wiring.state[root] === State.source ? show.sources[wiring.sourceAt[root]!]!.name : null;
    return [
      {
        id: `wrong-feed:${channel.id}`,
        check: "wrong-feed",
        severity: "error",
        title: `${fullName(wiring, terminal)} carries the wrong source`,
        reason: `${arriving ?? tapName(wiring, root)} arrives there; ${show.sources[planned]!.name} is planned.`,
        terminals: [terminal, root].map((t) => terminalOf(wiring, t)),
        devices: [channel.console],
        cables: [],
        wants: [],
      },
    ];
  });
}
