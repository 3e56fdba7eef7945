/** What cables make of the rig: each receive slot and input jack joined to what its plug brings, or why it isn't. */
import { cableDelay } from "../catalog/cables.ts";
import type { JackBank, LinkPort } from "../model/device-type.ts";
import { metres, rateClass, type SampleRate } from "../model/units.ts";
import type { StreamWay } from "./network.ts";
import type { Bank, PluggedCable, Plugs, Port } from "./plugs.ts";
import { delayMs } from "./sheet.ts";
import { Edge, State, type Tables, type WiredDevice } from "./wiring.ts";

/** The rate at which a link runs: that of the end that can't convert; the sender's where both or neither can. */
function linkRate(from: Port, to: Port): SampleRate {
  return from.port.convertsRate && !to.port.convertsRate ? to.device.rate : from.device.rate;
}

/** What a link carries from one port to the other: the fewer slots of its two ends, and the rate that makes them few. */
export function linkCapacity(from: Port, to: Port): { readonly slots: number; readonly rate: SampleRate } {
  const converts = from.port.convertsRate || to.port.convertsRate;
  const rate = linkRate(from, to);
  const [fromRate, toRate] = converts ? [rate, rate] : [from.device.rate, to.device.rate];
  const sent = slotsAt(from.port, "send", fromRate);
  const received = slotsAt(to.port, "receive", toRate);
  return received < sent ? { slots: received, rate: toRate } : { slots: sent, rate: fromRate };
}

export const linkSlots = (from: Port, to: Port): number => linkCapacity(from, to).slots;

export const slotsAt = (port: LinkPort, way: "send" | "receive", rate: SampleRate): number =>
  port[way][rateClass(rate)];

/** Offset within its bank of one signal of a jack; null where the bank has no such jack or the jack no such leg. */
function jackOffset(bank: JackBank, jack: number, leg: number): number | null {
  return jack >= 1 && jack <= bank.count && leg < bank.perJack ? (jack - 1) * bank.perJack + leg : null;
}

/** Both ends must run at one rate and follow one leader, unless one of them converts. */
function mismatched(leaders: Int32Array, from: WiredDevice, to: WiredDevice, converts: boolean): boolean {
  if (converts) return false;
  if (from.rate !== to.rate) return true;
  const [a, b] = [leaders[from.index]!, leaders[to.index]!];
  return a !== b || a < 0;
}

function connect({ feeder, state, delay }: Tables, terminal: number, from: number, time: number): void {
  feeder[terminal] = from;
  state[terminal] = State.fed;
  delay[terminal]! += time;
}

/** Joins what cables bring to the devices that `into` names by their index; the others stay as they are. */
export function joinCables(tables: Tables, plugs: Plugs, leaders: Int32Array, into: Uint8Array): void {
  const { state, edge, setting } = tables;
  for (const plugged of plugs.cables) joinCable(plugged);

  function joinCable(plugged: PluggedCable): void {
    const { join, sockets } = plugged;
    if (join.kind === "link") {
      joinPorts(plugged, join.ends[0], join.ends[1]);
      joinPorts(plugged, join.ends[1], join.ends[0]);
    } else if (join.kind === "jacks") joinJacks(plugged, join.from, join.to);
    else {
      const value = join.why === "missing" ? State.unknown : State.unplugged;
      for (const socket of sockets) {
        if (socket.kind === "missing" || into[socket.device.index] === 0) continue;
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

  function joinPorts(plugged: PluggedCable, from: Port, to: Port): void {
    if (into[to.device.index] === 0) return;
    // What crosses a network cable is told by streams.
    if (from.port.network || to.port.network) return;
    if (plugs.ofPort(to.device.index, to.port.id)?.cable !== plugged) return;
    const receive = spanOf(to);
    if (receive.count === 0) return;
    // A second cable in the far port joins nothing; it takes this end all the same.
    const second = plugs.ofPort(from.device.index, from.port.id)?.cable !== plugged;
    if (second) return block(plugged, receive, State.unplugged);
    if (!plugged.live) return block(plugged, receive, State.off);
    const send = from.device.fabric.layout.destinations.get(from.port.id)!;
    const slots = linkSlots(from, to);
    const mismatch = mismatched(
      leaders,
      from.device,
      to.device,
      from.port.convertsRate || to.port.convertsRate,
    );
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
      else connect(tables, terminal, from.device.base + send.start + n, time);
    }
  }

  function joinJacks(plugged: PluggedCable, from: Bank, to: Bank): void {
    if (into[to.device.index] === 0) return;
    const source = from.device.fabric.layout.destinations.get(from.bank.id)!;
    const target = to.device.fabric.layout.sources.get(to.bank.id)!;
    const digital = from.bank.level === "AES3";
    const mismatch = digital && mismatched(leaders, from.device, to.device, to.bank.convertsRate ?? false);
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
        else connect(tables, terminal, from.device.base + source.start + sent, time);
      }
    }
  }
}

/** What a stream takes from its sender to one receiver: one packet's gathering, sending, cables and receiving. */
export function streamDelay({ stream, from, to, legs }: StreamWay): number {
  const cables = legs.reduce(
    (sum, { cable: { cable } }) => sum + cableDelay(cable.kind, cable.length ?? metres(0)),
    0,
  );
  return (
    stream.packetTime +
    delayMs(from.port.sendDelay, from.device.rate) +
    cables +
    delayMs(to.port.receiveDelay, to.device.rate)
  );
}

/** Joins each channel of each stream to the slots that take it. Of two streams on one slot the first counts. */
export function joinStreams(
  tables: Tables,
  ways: readonly StreamWay[],
  leaders: Int32Array,
  into: Uint8Array,
): void {
  const { state, edge, setting } = tables;
  ways.forEach((way, index) => {
    const { stream, receiver, from, to, legs, stop } = way;
    if (into[to.device.index] === 0) return;
    const sent = from.device.fabric.layout.destinations.get(from.port.id)!;
    const taken = to.device.fabric.layout.sources.get(to.port.id)!;
    const slots = streamSlots(way);
    const converts = from.port.convertsRate || to.port.convertsRate;
    const mismatch = mismatched(leaders, from.device, to.device, converts) && from.device.device.powered;
    const time = streamDelay(way);
    for (let channel = 0; channel < stream.channels; channel++) {
      const slot = stream.to[receiver]!.first + channel;
      if (slot > taken.count) break;
      const terminal = to.device.base + taken.start + slot - 1;
      if (edge[terminal] !== Edge.none) continue;
      edge[terminal] = Edge.stream;
      setting[terminal] = index;
      const sender = stream.from.first + channel;
      if (legs.length === 0) state[terminal] = stop ? State.off : State.unplugged;
      else if (sender > Math.min(slots.send, sent.count) || slot > slots.receive)
        state[terminal] = State.beyondSlots;
      else if (mismatch) state[terminal] = State.mismatch;
      else connect(tables, terminal, from.device.base + sent.start + sender - 1, time);
    }
  });
}

/** Slots at the two ends of a stream's way; the sender's also have to pass every switch between. */
export function streamSlots({ from, to, legs }: StreamWay): {
  readonly send: number;
  readonly receive: number;
} {
  const passed = legs.slice(0, -1).map(({ to: port }) => slotsAt(port.port, "receive", from.device.rate));
  return {
    send: Math.min(slotsAt(from.port, "send", from.device.rate), ...passed),
    receive: slotsAt(to.port, "receive", to.device.rate),
  };
}
