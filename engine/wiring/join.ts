/** What cables make of the rig: each receive slot and input jack joined to what its plug brings, or why it isn't. */
import { cableDelay } from "../catalog/cables.ts";
import type { JackBank, LinkPort } from "../model/device-type.ts";
import { metres, rateClass, type SampleRate } from "../model/units.ts";
import type { Bank, PluggedCable, Plugs, Port } from "./plugs.ts";
import { delayMs } from "./sheet.ts";
import { Edge, State, type Tables, type WiredDevice } from "./wiring.ts";

/** The rate at which a link runs: that of the end that can't convert; the sender's where both or neither can. */
export function linkRate(from: Port, to: Port): SampleRate {
  return from.port.convertsRate && !to.port.convertsRate ? to.device.rate : from.device.rate;
}

/** Slots that a link carries from one port to the other: what both ends have at the link's rate. */
export function linkSlots(from: Port, to: Port): number {
  const converts = from.port.convertsRate || to.port.convertsRate;
  const rate = linkRate(from, to);
  return Math.min(
    slotsAt(from.port, "send", converts ? rate : from.device.rate),
    slotsAt(to.port, "receive", converts ? rate : to.device.rate),
  );
}

export const slotsAt = (port: LinkPort, way: "send" | "receive", rate: SampleRate): number =>
  port[way][rateClass(rate)];

/** Offset within its bank of one signal of a jack; null where the bank has no such jack or the jack no such leg. */
function jackOffset(bank: JackBank, jack: number, leg: number): number | null {
  return jack >= 1 && jack <= bank.count && leg < bank.perJack ? (jack - 1) * bank.perJack + leg : null;
}

export function joinCables(tables: Tables, plugs: Plugs, leaders: Int32Array): void {
  const { feeder, state, edge, setting, delay } = tables;
  for (const plugged of plugs.cables) joinCable(plugged);

  function connect(terminal: number, from: number, time: number): void {
    feeder[terminal] = from;
    state[terminal] = State.fed;
    delay[terminal]! += time;
  }

  function joinCable(plugged: PluggedCable): void {
    const { join, sockets } = plugged;
    if (join.kind === "link") {
      joinPorts(plugged, join.ends[0], join.ends[1]);
      joinPorts(plugged, join.ends[1], join.ends[0]);
    } else if (join.kind === "jacks") joinJacks(plugged, join.from, join.to);
    else {
      const value = join.why === "missing" ? State.unknown : State.unplugged;
      for (const socket of sockets) {
        if (socket.kind === "port" && plugs.ofPort(socket.device.index, socket.port.id)?.cable === plugged) {
          block(plugged, spanOf(socket), value);
        } else if (socket.kind === "bank" && socket.bank.direction === "in") {
          blockJacks(plugged, socket, value);
        }
      }
    }
  }

  function spanOf(socket: Port): { readonly first: number; readonly count: number } {
    const span = socket.device.fabric.layout.sources.get(socket.port.id)!;
    return { first: socket.device.base + span.start, count: span.count };
  }

  function block(
    plugged: PluggedCable,
    { first, count }: { readonly first: number; readonly count: number },
    value: State,
  ): void {
    for (let terminal = first; terminal < first + count; terminal++) {
      if (edge[terminal] !== Edge.none) continue;
      state[terminal] = value;
      edge[terminal] = Edge.cable;
      setting[terminal] = plugged.index;
    }
  }

  function blockJacks(plugged: PluggedCable, bank: Bank, value: State): void {
    if (bank.bank.connector === "none") return;
    const span = bank.device.fabric.layout.sources.get(bank.bank.id)!;
    const first = (bank.first - 1) * bank.bank.perJack;
    const count = Math.min(plugged.cable.ways * bank.bank.perJack, span.count - first);
    if (first >= 0) block(plugged, { first: bank.device.base + span.start + first, count }, value);
  }

  /** Both ends must run at one rate and follow one leader, unless one of them converts. */
  function mismatched(from: WiredDevice, to: WiredDevice, converts: boolean): boolean {
    if (converts) return false;
    if (from.rate !== to.rate) return true;
    const [a, b] = [leaders[from.index]!, leaders[to.index]!];
    return a !== b || a < 0;
  }

  function joinPorts(plugged: PluggedCable, from: Port, to: Port): void {
    // A second cable on either port joins nothing.
    if (plugs.ofPort(from.device.index, from.port.id)?.cable !== plugged) return;
    if (plugs.ofPort(to.device.index, to.port.id)?.cable !== plugged) return;
    const receive = spanOf(to);
    if (receive.count === 0) return;
    if (!plugged.live) return block(plugged, receive, State.off);
    const send = from.device.fabric.layout.destinations.get(from.port.id)!;
    const slots = linkSlots(from, to);
    const mismatch = mismatched(from.device, to.device, from.port.convertsRate || to.port.convertsRate);
    const time =
      delayMs(from.port.sendDelay, from.device.rate) +
      cableDelay(plugged.cable.kind, plugged.cable.length ?? metres(0)) +
      delayMs(to.port.receiveDelay, to.device.rate);
    for (let n = 0; n < receive.count; n++) {
      const terminal = receive.first + n;
      edge[terminal] = Edge.cable;
      setting[terminal] = plugged.index;
      if (n >= slots) state[terminal] = State.beyondSlots;
      // A device that is off has no clock to compare; the trace goes on to it and says so.
      else if (mismatch && from.device.device.powered) state[terminal] = State.mismatch;
      else connect(terminal, from.device.base + send.start + n, time);
    }
  }

  function joinJacks(plugged: PluggedCable, from: Bank, to: Bank): void {
    const source = from.device.fabric.layout.destinations.get(from.bank.id)!;
    const target = to.device.fabric.layout.sources.get(to.bank.id)!;
    const digital = from.bank.level === "AES3";
    const mismatch = digital && mismatched(from.device, to.device, to.bank.convertsRate ?? false);
    const time = cableDelay(plugged.cable.kind, plugged.cable.length ?? metres(0));
    for (let way = 0; way < plugged.cable.ways; way++) {
      for (let leg = 0; leg < to.bank.perJack; leg++) {
        const taken = jackOffset(to.bank, to.first + way, leg);
        if (taken === null) continue;
        const terminal = to.device.base + target.start + taken;
        if (edge[terminal] !== Edge.none) continue;
        // A plug that carries nothing takes the jack all the same, so a later cable doesn't count there.
        edge[terminal] = Edge.cable;
        setting[terminal] = plugged.index;
        const sent = jackOffset(from.bank, from.first + way, leg);
        if (sent === null) state[terminal] = State.unplugged;
        else if (!plugged.live) state[terminal] = State.off;
        else if (mismatch && from.device.device.powered) state[terminal] = State.mismatch;
        else connect(terminal, from.device.base + source.start + sent, time);
      }
    }
  }
}
