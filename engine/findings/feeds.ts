/** The feeds that a show plans: each want at its jack, each source in the channel that is to carry it. */
import type { DeviceId, WantId } from "../model/ids.ts";
import { arrivesAt, ownerIndex, stopsAt } from "../trace/owners.ts";
import { fullName } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import type { Analysed } from "./finding.ts";
import { gather, once } from "../model/once.ts";
import { NOWHERE, standing } from "./standing.ts";

/** What a check reads that tells which planned feeds stop where, and at which device, cable or stream. */
export const readsFeeds = ({ wiring: { show, conduct }, arrivals }: Analysed): readonly unknown[] => [
  arrivals.root,
  conduct,
  show.cables,
  show.wants,
  show.channels,
  show.streams,
];

export interface Feed {
  readonly terminal: number;
  readonly name: string;
  readonly want: WantId | null;
}

export const plannedFeeds = once((wiring: Wiring): readonly Feed[] => {
  const { wants, channels } = wiring.show;
  const at = standing(wiring);
  const feeds: Feed[] = [];
  wants.forEach(({ id, name }, n) => {
    const terminal = at.wants[n]!;
    if (terminal !== NOWHERE) feeds.push({ terminal, name, want: id });
  });
  channels.forEach(({ name, source }, n) => {
    const terminal = at.channels[n]!;
    if (source !== undefined && terminal !== NOWHERE) feeds.push({ terminal, name, want: null });
  });
  return feeds;
});

/** The console whose work a feed is: for a channel the one that it lies in, for a jack its owner; −1 for none. */
export const consoleOf = ({ wiring, arrivals }: Analysed, { terminal, want }: Feed): number =>
  want === null ? wiring.deviceOf[terminal]! : ownerIndex(wiring, arrivals, terminal);

/** The planned feeds that are dark, by the terminal where their traces stop; those in a loop are left out. */
export const darkFeeds = once((rig: Analysed): ReadonlyMap<number, readonly Feed[]> => {
  const dark = new Map<number, Feed[]>();
  for (const feed of plannedFeeds(rig.wiring)) {
    if (arrivesAt(rig.wiring, rig.arrivals, feed.terminal)) continue;
    for (const stop of stopsAt(rig.arrivals, feed.terminal)) gather(dark, stop, feed);
  }
  return dark;
});

/** Names the first few feeds and counts the rest. */
export function feedNames(wiring: Wiring, feeds: readonly Feed[]): string {
  const shown = feeds.slice(0, 6).map(({ name, terminal }) => {
    const jack = fullName(wiring, terminal);
    return name === jack || name === "" ? jack : `${name} (${jack})`;
  });
  const rest = feeds.length - shown.length;
  return rest > 0 ? `${shown.join(", ")} and ${rest} more` : shown.join(", ");
}

export function wantsOf(feeds: readonly Feed[]): readonly WantId[] {
  const wants: WantId[] = [];
  for (const { want } of feeds) if (want !== null) wants.push(want);
  return wants;
}

/** The terminal that each want or channel of the show is to come from, by the terminal where it is to arrive. */
export const wantedRoots = once((wiring: Wiring): ReadonlyMap<number, number> => {
  const { show } = wiring;
  const at = standing(wiring);
  const roots = new Map<number, number>();
  const wish = (terminal: number, root: number): void => {
    if (terminal !== NOWHERE && root !== NOWHERE) roots.set(terminal, root);
  };
  at.planned.forEach((source, n) => {
    if (source !== NOWHERE) wish(at.channels[n]!, at.sources[source]!);
  });
  show.wants.forEach((_, n) => wish(at.wants[n]!, at.origins[n]!));
  return roots;
});

/** The devices of terminals, each once. */
export const devicesAt = (wiring: Wiring, terminals: readonly number[]): readonly DeviceId[] =>
  Array.from(
    new Set(terminals.map((terminal) => wiring.deviceOf[terminal]!)),
    (index) => wiring.devices[index]!.device.id,
  );
