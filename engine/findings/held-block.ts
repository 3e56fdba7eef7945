/** F34: a feed that could be set right only with a block in which other feeds stand that are right as they are. */
import { arrivesAt, comesFrom } from "../trace/owners.ts";
import { settingName } from "../trace/told.ts";
import { terminalOf } from "../trace/terminal.ts";
import type { Assignment } from "../model/show.ts";
import type { WiredDevice } from "../wiring/wiring.ts";
import { counted, tapName } from "./describe.ts";
import { devicesAt, feedNames, plannedFeeds, wantedRoots, wantsOf, type Feed } from "./feeds.ts";
import { found, type Analysed, type Check, type Finding } from "./finding.ts";
import { runTo } from "./remedies.ts";

export const heldBlock: Check = {
  id: "held-block",
  about: "a wanted signal that could only come in a block which other feeds hold",
  reads: ({ wiring, arrivals }) => [
    arrivals.root,
    wiring.conduct,
    wiring.show.wants,
    wiring.show.channels,
    wiring.show.sources,
    wiring.show.mixes,
  ],
  run: (rig) => {
    const blocks = new Map<string, Held>();
    for (const feed of wrongFeeds(rig)) {
      const held = holdUp(rig, feed);
      if (!held) continue;
      const there = blocks.get(held.key) ?? held;
      blocks.set(held.key, there);
      there.waiting.push(feed);
    }
    return [...blocks.values()].map((held) => told(rig, held));
  },
};

interface Held {
  readonly key: string;
  readonly wired: WiredDevice;
  /** The setting that would bring what is wanted. */
  readonly setting: Assignment;
  readonly at: number;
  readonly holders: readonly Feed[];
  readonly waiting: Feed[];
}

/** The planned feeds at which something else arrives than the show asks for. */
function wrongFeeds({ wiring, arrivals }: Analysed): readonly Feed[] {
  const roots = wantedRoots(wiring);
  return plannedFeeds(wiring).filter(
    ({ terminal }) =>
      arrivesAt(wiring, arrivals, terminal) &&
      !comesFrom(arrivals, terminal, roots.get(terminal) ?? arrivals.root[terminal]!),
  );
}

/**
 * What stands in the way of a feed at the device nearest to its jack that has the wanted signal; null where no device has
 * it, or where one could bring it and disturb nobody.
 */
function holdUp(rig: Analysed, feed: Feed): Held | null {
  const { wiring } = rig;
  const root = wantedRoots(wiring).get(feed.terminal)!;
  let nearest: Held | null = null;
  for (let at = feed.terminal; wiring.feeder[at]! >= 0; at = wiring.feeder[at]!) {
    const wired = wiring.devices[wiring.deviceOf[at]!]!;
    const setting = runTo(rig, wired, at, root);
    if (!setting) continue;
    const holders = holdersOf(rig, wired, setting, feed);
    if (holders.length === 0) return null;
    const { to, from } = setting;
    const key = `${wired.device.id}:${to.group}:${to.first}:${from.group}:${from.first}`;
    nearest ??= { key, wired, setting, at, holders, waiting: [] };
  }
  return nearest;
}

/** The other feeds that are right as they are and that the setting would give another signal. */
function holdersOf(
  { wiring, arrivals }: Analysed,
  { base, fabric }: WiredDevice,
  { to, from, count }: Assignment,
  feed: Feed,
): readonly Feed[] {
  const roots = wantedRoots(wiring);
  const first = base + fabric.layout.destinations.get(to.group)!.start + to.first - 1;
  const source = base + fabric.layout.sources.get(from.group)!.start + from.first - 1;
  return plannedFeeds(wiring).filter((other) => {
    if (other === feed || !arrivesAt(wiring, arrivals, other.terminal)) return false;
    const root = arrivals.root[other.terminal]!;
    if (!comesFrom(arrivals, other.terminal, roots.get(other.terminal) ?? root)) return false;
    for (let at = other.terminal; at >= 0; at = wiring.feeder[at]!) {
      if (at >= first && at < first + count) return arrivals.root[source + at - first] !== root;
    }
    return false;
  });
}

function told({ wiring }: Analysed, { key, wired, setting, at, holders, waiting }: Held): Finding {
  const root = wantedRoots(wiring).get(waiting[0]!.terminal)!;
  const what = waiting.length === 1 ? waiting[0]!.name || "A feed" : counted(waiting.length, "feed");
  const terminals = [...waiting, ...holders].map(({ terminal }) => terminal);
  return found(
    {
      id: `held-block:${key}`,
      check: "held-block",
      severity: "warning",
      title: `${what} ${waiting.length === 1 ? "needs" : "need"} a block of ${wired.device.name} that ${counted(holders.length, "other feed")} ${holders.length === 1 ? "holds" : "hold"}`,
      reason: `“${settingName(wired, setting)}” would bring ${tapName(wiring, root)}, and the block goes as a whole: ${feedNames(wiring, holders)} would lose what ${holders.length === 1 ? "it has" : "they have"}.`,
    },
    {
      terminals: [at, ...terminals].map((terminal) => terminalOf(wiring, terminal)),
      devices: devicesAt(wiring, [at, ...terminals]),
      wants: wantsOf([...waiting, ...holders]),
    },
  );
}
