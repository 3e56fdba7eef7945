/** F6: two plugs for one hole. */
import type { CableId } from "../model/ids.ts";
import type { Cable, Source } from "../model/show.ts";
import { findTerminal, fullName, locate, terminalOf } from "../trace/terminal.ts";
import type { Socket } from "../wiring/plugs.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { cableName, endName, lowered, plugs } from "./describe.ts";
import { found, type Check, type Finding, type Fix } from "./finding.ts";
import { gather } from "./once.ts";

/** What stands in a hole, in the order in which it counts. */
type Plug =
  { readonly kind: "cable"; readonly cable: Cable } | { readonly kind: "source"; readonly source: Source };

/**
 * The plugs of each hole, in the show's order. A jack's key is its first terminal, a port's its device and group. Of a
 * jack that carries a pair each signal has its own sources, under the terminal's complement: the two of one pair come in
 * one plug.
 */
type Holes = ReadonlyMap<number | string, readonly Plug[]>;

export const usedTwice: Check = {
  id: "used-twice",
  about: "two plugs in one port or jack",
  run: ({ wiring }) =>
    [...holesOf(wiring)].flatMap(([hole, there]) => {
      if (there.length < 2) return [];
      if (typeof hole === "string") return [inPort(wiring, hole, there)];
      return [hole < 0 ? inJack(wiring, ~hole, "signal ", there) : inJack(wiring, hole, "", there)];
    }),
  // What doesn't count goes first: taking it away changes no signal.
  propose: ({ wiring }, { cables }) =>
    cables.toReversed().map((id): Fix => ({
      label: `Unplug ${lowered(plugs(wiring, id))}`,
      edits: [{ kind: "remove", list: "cables", id }],
    })),
};

function holesOf(wiring: Wiring): Holes {
  const holes = new Map<number | string, Plug[]>();
  // Of a source and a cable in one jack the source counts (W14), so it stands first.
  for (const source of wiring.show.sources) {
    const jack = findTerminal(wiring, source.at);
    if (jack === null) continue;
    const { span } = locate(wiring, jack);
    const pair = span.side === "jack" && span.bank.direction === "in" && span.bank.perJack === 2;
    gather(holes, pair ? ~jack : jack, { kind: "source", source });
  }
  for (const { cable, sockets } of wiring.plugs.cables) {
    for (const socket of sockets) plugIn(socket, cable);
  }
  return holes;

  function plugIn(socket: Socket, cable: Cable): void {
    if (socket.kind === "missing") return;
    const { device, base, fabric } = socket.device;
    if (socket.kind === "port")
      return gather(holes, `${device.id}:${socket.port.id}`, { kind: "cable", cable });
    const { bank } = socket;
    const span = fabric.layout.sources.get(bank.id) ?? fabric.layout.destinations.get(bank.id)!;
    const last = Math.min(socket.first + cable.ways - 1, bank.count);
    for (let jack = Math.max(socket.first, 1); jack <= last; jack++) {
      gather(holes, base + span.start + (jack - 1) * bank.perJack, { kind: "cable", cable });
    }
  }
}

function inJack(wiring: Wiring, jack: number, signal: string, there: readonly Plug[]): Finding {
  const terminal = terminalOf(wiring, jack);
  const { device, group, number } = terminal;
  const { span } = locate(wiring, jack);
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
