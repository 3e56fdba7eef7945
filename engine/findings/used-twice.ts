/** F6: two plugs for one hole. */
import type { CableId } from "../model/ids.ts";
import type { Cable, Show, Source } from "../model/show.ts";
import { fullName, spanAt, terminalOf } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { cableName, endName, lowered, plugs } from "./describe.ts";
import { found, type Check, type Finding, type Fix } from "./finding.ts";
import { NOWHERE, standing } from "./standing.ts";

/** What stands in a hole, in the order in which it counts. */
type Plug =
  | { readonly kind: "cable"; readonly cable: Cable }
  | { readonly kind: "source"; readonly source: Source };

export const usedTwice: Check = {
  id: "used-twice",
  about: "two plugs in one port or jack",
  reads: ({ wiring }) => [wiring.show.sources, wiring.show.cables],
  run: ({ wiring }) =>
    crowded(wiring).map(([hole, there]) => {
      if (typeof hole === "string") return inPort(wiring, hole, there);
      return hole < 0 ? inJack(wiring, ~hole, "signal ", there) : inJack(wiring, hole, "", there);
    }),
  // What doesn't count goes first: taking it away changes no signal.
  propose: ({ wiring }, { cables }) =>
    cables.toReversed().map((id): Fix => ({
      label: `Unplug ${lowered(plugs(wiring, id))}`,
      edits: [{ kind: "remove", list: "cables", id }],
    })),
};

/**
 * A jack is its first terminal, a port its device and group. Of a jack that carries a pair each signal has sources of its
 * own, under the terminal's complement: the two of one pair come in one plug.
 */
type Hole = number | string;

/** The holes with two or more plugs, in the order of their first ones. */
function crowded(wiring: Wiring): readonly (readonly [Hole, readonly Plug[]])[] {
  const { show, plugs: rig } = wiring;
  // Jacks are many, and nearly all have one plug or none: the first plug's number stands in an array, from 1 on.
  const firstIn = new Int32Array(wiring.size);
  const firstInOther = new Map<Hole, number>();
  // What each plug is: a source by its place in the show, or the complement of a cable's.
  const plugged = new Int32Array(mostPlugs(show));
  let count = 0;
  const plugAt = (place: number): Plug => {
    const what = plugged[place - 1]!;
    return what < 0
      ? { kind: "cable", cable: show.cables[~what]! }
      : { kind: "source", source: show.sources[what]! };
  };
  const doubles = new Map<Hole, { readonly first: number; readonly there: Plug[] }>();
  const plug = (hole: Hole, what: number): void => {
    const jack = typeof hole === "number" && hole >= 0;
    const before = jack ? firstIn[hole]! : (firstInOther.get(hole) ?? 0);
    plugged[count++] = what;
    if (before === 0) {
      if (jack) firstIn[hole] = count;
      else firstInOther.set(hole, count);
      return;
    }
    const double = doubles.get(hole) ?? { first: before, there: [plugAt(before)] };
    doubles.set(hole, double);
    double.there.push(plugAt(count));
  };
  // Of a source and a cable in one jack the source counts (W14), so it stands first.
  const pairs = new Set<number>();
  standing(wiring).sources.forEach((jack, n) => {
    if (jack === NOWHERE) return;
    if (!carriesPair(wiring, jack)) return plug(jack, n);
    plug(~jack, n);
    // Beside a cable the two of one pair are one plug.
    const first = jack - ((show.sources[n]!.at.number - 1) % 2);
    if (pairs.has(first)) return;
    pairs.add(first);
    plug(first, n);
  });
  for (const { index, cable, sockets } of rig.cables) {
    for (const socket of sockets) {
      if (socket.kind === "missing") continue;
      const { device, base, fabric } = socket.device;
      if (socket.kind === "port") {
        plug(`${device.id}:${socket.port.id}`, ~index);
        continue;
      }
      const { bank } = socket;
      const span = fabric.layout.sources.get(bank.id) ?? fabric.layout.destinations.get(bank.id)!;
      const last = Math.min(socket.first + cable.ways - 1, bank.count);
      for (let jack = Math.max(socket.first, 1); jack <= last; jack++) {
        plug(base + span.start + (jack - 1) * bank.perJack, ~index);
      }
    }
  }
  return [...doubles].sort(([, a], [, b]) => a.first - b.first).map(([hole, { there }]) => [hole, there]);
}

/** A source counts once, in a pair's jack twice; a cable at each end once for each way, where that end is a port once in all. */
const mostPlugs = ({ sources, cables }: Show): number =>
  cables.reduce((sum, { ways }) => sum + 2 * Math.max(1, ways), 2 * sources.length);

function carriesPair(wiring: Wiring, jack: number): boolean {
  const span = spanAt(wiring, jack);
  return span.side === "jack" && span.bank.direction === "in" && span.bank.perJack === 2;
}

function inJack(wiring: Wiring, jack: number, signal: string, there: readonly Plug[]): Finding {
  const terminal = terminalOf(wiring, jack);
  const { device, group, number } = terminal;
  const span = spanAt(wiring, jack);
  const key = `${device}:${group}:${signal}${number}`;
  // An output hands its signal to both; into an input only one of them gets.
  const output = span.side === "jack" && span.bank.direction === "out";
  return told(wiring, key, fullName(wiring, jack), there, output, {
    terminals: [terminal],
    devices: [device],
  });
}

function inPort(wiring: Wiring, key: string, there: readonly Plug[]): Finding {
  // A port takes cables only; each of them has an end there.
  const ends = there.flatMap((plug) => (plug.kind === "cable" ? plug.cable.ends : []));
  const end = ends.find(({ device, group }) => `${device}:${group}` === key)!;
  return told(wiring, key, endName(wiring, end), there, false, { devices: [end.device] });
}

function told(
  wiring: Wiring,
  key: string,
  name: string,
  there: readonly Plug[],
  shared: boolean,
  at: Parameters<typeof found>[1],
): Finding {
  const names = there.map((plug) =>
    plug.kind === "cable" ? cableName(wiring, plug.cable) : plug.source.name,
  );
  const cables = there.flatMap((plug): CableId[] => (plug.kind === "cable" ? [plug.cable.id] : []));
  return found(
    {
      id: `used-twice:${key}`,
      check: "used-twice",
      severity: "error",
      title: `${name} is used twice`,
      reason: shared
        ? `${names.join(" and ")} are both plugged there, and a jack takes one plug.`
        : `${names.join(" and ")} are both plugged there; ${names[0]!} counts.`,
    },
    { ...at, cables },
  );
}
