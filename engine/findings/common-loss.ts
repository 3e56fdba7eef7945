/** F24: the cables and devices whose loss would darken wanted feeds of more than one console, worst first. */
import { arrivesAt } from "../trace/owners.ts";
import { Edge } from "../wiring/wiring.ts";
import { cableName, counted } from "./describe.ts";
import { consoleOf, plannedFeeds } from "./feeds.ts";
import { found, type Analysed, type Check } from "./finding.ts";
import { once } from "../model/once.ts";

/** Feeds that would go dark, for each console by its index. */
type Losses = Map<number, number>;

export interface Loss {
  readonly kind: "cable" | "device";
  /** In the show. */
  readonly index: number;
  readonly feeds: number;
  readonly losses: ReadonlyMap<number, number>;
}

/** How many are named. */
const MOST = 5;

export const commonLoss: Check = {
  id: "common-loss",
  about: "a cable or device whose loss darkens feeds of two consoles",
  reads: ({ wiring, arrivals }) => [
    arrivals.root,
    wiring.show.cables,
    wiring.show.wants,
    wiring.show.channels,
    wiring.show.streams,
  ],
  run: (rig) => {
    const common = commonLosses(rig);
    if (common.length === 0) return [];
    const { wiring } = rig;
    const worst = common.slice(0, MOST);
    const nameOf = ({ kind, index }: Loss): string =>
      kind === "cable" ? cableName(wiring, wiring.show.cables[index]!) : wiring.devices[index]!.device.name;
    const each = worst.map((loss) => {
      const consoles = [...loss.losses]
        .sort(([, a], [, b]) => b - a)
        .map(([index, feeds]) => `${wiring.devices[index]!.device.name} ${feeds}`);
      return `${nameOf(loss)}: ${counted(loss.feeds, "feed")} (${consoles.join(", ")})`;
    });
    const rest = common.length - worst.length;
    const more =
      common.length > 1 ? `; ${counted(common.length - 1, "other loss", "other losses")} would too` : "";
    return [
      found(
        {
          id: "common-loss",
          check: "common-loss",
          severity: "note",
          title: `Losing ${nameOf(worst[0]!)} darkens ${counted(worst[0]!.feeds, "feed")} of ${worst[0]!.losses.size} consoles${more}`,
          reason: `Feeds that pass there, by console. ${each.join("; ")}${rest > 0 ? `; and ${rest} more` : ""}.`,
        },
        {
          devices: worst.flatMap(({ kind, index }) =>
            kind === "device" ? [wiring.devices[index]!.device.id] : [],
          ),
          cables: worst.flatMap(({ kind, index }) =>
            kind === "cable" ? [wiring.show.cables[index]!.id] : [],
          ),
        },
      ),
    ];
  },
};

/**
 * What the planned feeds of two or more consoles pass, the worst first: a wanted jack's feed counts for its owner, a
 * channel's for its console. Nothing has two feeders, so each feed goes dark with any cable or device on its way.
 */
export const commonLosses = once((rig: Analysed): readonly Loss[] => {
  const { wiring, arrivals } = rig;
  const { feeder, edge, setting, deviceOf, ways } = wiring;
  const byDevice = new Counts(wiring.devices.length);
  const byCable = new Counts(wiring.show.cables.length);
  plannedFeeds(wiring).forEach((feed, n) => {
    if (!arrivesAt(wiring, arrivals, feed.terminal)) return;
    const desk = consoleOf(rig, feed);
    if (desk < 0) return;
    for (let at = feed.terminal; at >= 0; at = feeder[at]!) {
      byDevice.add(deviceOf[at]!, n, desk);
      if (edge[at] === Edge.cable) byCable.add(setting[at]!, n, desk);
      if (edge[at] !== Edge.stream) continue;
      for (const { cable, to } of ways[setting[at]!]!.legs) {
        byCable.add(cable.index, n, desk);
        byDevice.add(to.device.index, n, desk);
      }
    }
  });
  const common = [...ranked("device", byDevice.losses()), ...ranked("cable", byCable.losses())];
  return common.sort((a, b) => b.feeds - a.feeds || b.losses.size - a.losses.size);
});

/** The feeds that pass each device or cable, by console. */
class Counts {
  readonly #losses: Losses[] = [];
  /** The last feed that was counted at each, so that one that passes it twice counts once. */
  readonly #feed: Int32Array;
  /** Feeds come console by console: the one that is being counted at each, and how many of its feeds. */
  readonly #desk: Int32Array;
  readonly #count: Int32Array;

  constructor(size: number) {
    this.#feed = new Int32Array(size).fill(-1);
    this.#desk = new Int32Array(size).fill(-1);
    this.#count = new Int32Array(size);
  }

  add(index: number, feed: number, desk: number): void {
    if (this.#feed[index] === feed) return;
    this.#feed[index] = feed;
    if (this.#desk[index] !== desk) {
      this.#close(index);
      this.#desk[index] = desk;
    }
    this.#count[index]!++;
  }

  losses(): readonly Losses[] {
    for (let index = 0; index < this.#count.length; index++) this.#close(index);
    return this.#losses;
  }

  #close(index: number): void {
    if (this.#count[index] === 0) return;
    const losses = (this.#losses[index] ??= new Map());
    const desk = this.#desk[index]!;
    losses.set(desk, (losses.get(desk) ?? 0) + this.#count[index]!);
    this.#count[index] = 0;
  }
}

function ranked(kind: Loss["kind"], table: readonly Losses[]): Loss[] {
  const common: Loss[] = [];
  table.forEach((losses, index) => {
    if (losses.size < 2) return;
    const feeds = [...losses.values()].reduce((sum, each) => sum + each, 0);
    common.push({ kind, index, feeds, losses });
  });
  return common;
}
