/** F6: two plugs for one hole. */
import type { CableId } from "../model/ids.ts";
import type { Cable } from "../model/show.ts";
import { findTerminal, fullName, terminalOf, type Terminal } from "../trace/terminal.ts";
import type { Socket } from "../wiring/plugs.ts";
import type { Analysed, Check, Finding } from "./finding.ts";
import { cableName, endName } from "./describe.ts";

interface Hole {
  readonly name: string;
  readonly terminal: Terminal | null;
  readonly plugs: { readonly name: string; readonly cable: CableId | null }[];
}

export const usedTwice: Check = {
  id: "used-twice",
  about: "two plugs in one port or jack",
  run: (rig) =>
    [...holes(rig)].flatMap(([key, { name, terminal, plugs }]): Finding[] => {
      if (plugs.length < 2) return [];
      const [first, ...others] = plugs;
      return [
        {
          id: `used-twice:${key}`,
          check: "used-twice",
          severity: "error",
          title: `${name} is used twice`,
          reason: `${plugs.map((plug) => plug.name).join(" and ")} are both plugged there; ${first!.name} counts.`,
          terminals: terminal ? [terminal] : [],
          devices: [key.split(":")[0] as Terminal["device"]],
          cables: [first!, ...others].flatMap(({ cable }) => (cable === null ? [] : [cable])),
          wants: [],
        },
      ];
    }),
};

function holes({ wiring }: Analysed): ReadonlyMap<string, Hole> {
  const found = new Map<string, Hole>();
  const plug = (key: string, hole: Omit<Hole, "plugs">, entry: Hole["plugs"][number]): void => {
    const there = found.get(key) ?? { ...hole, plugs: [] };
    found.set(key, there);
    there.plugs.push(entry);
  };
  // Of a source and a cable in one jack the source counts (W14), so it stands first.
  for (const source of wiring.show.sources) {
    const jack = findTerminal(wiring, source.at);
    if (jack === null) continue;
    const { device, group, number } = source.at;
    const socket = wiring.devices[wiring.indexOf.get(device)!]!.fabric.layout.sources.get(group);
    const perJack = socket?.side === "jack" ? socket.bank.perJack : 1;
    // The two signals of one pair come in one plug.
    const key = perJack === 1 ? `${device}:${group}:${number}` : `${device}:${group}:signal ${number}`;
    plug(
      key,
      { name: fullName(wiring, jack), terminal: terminalOf(wiring, jack) },
      { name: source.name, cable: null },
    );
  }
  for (const { cable, sockets } of wiring.plugs.cables) {
    cable.ends.forEach((end, side) => plugCable(sockets[side]!, cable, end));
  }
  return found;

  function plugCable(socket: Socket, cable: Cable, end: Cable["ends"][number]): void {
    if (socket.kind === "missing") return;
    const { id } = socket.device.device;
    const entry = { name: cableName(wiring, cable), cable: cable.id };
    if (socket.kind === "port") {
      plug(`${id}:${socket.port.id}`, { name: endName(wiring, end), terminal: null }, entry);
      return;
    }
    for (let way = 0; way < cable.ways && end.first + way <= socket.bank.count; way++) {
      const number = (end.first + way - 1) * socket.bank.perJack + 1;
      const jack = findTerminal(wiring, { device: id, group: socket.bank.id, number });
      if (jack === null) continue;
      const terminal = terminalOf(wiring, jack);
      plug(`${id}:${socket.bank.id}:${number}`, { name: fullName(wiring, jack), terminal }, entry);
    }
  }
}
