import type { Delay, JackBank, LinkPort } from "../model/device-type.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Show } from "../model/show.ts";
import { metres, rateClass, type SampleRate } from "../model/units.ts";
import { cableDelay } from "../catalog/cables.ts";
import { clockLeaders } from "./clock.ts";
import { BEYOND_PORT, fabricOf, holds, NO_RULE } from "./fabric.ts";
import type { Span } from "./layout.ts";
import { compileMixes } from "./mixes.ts";
import { plugIn, type Bank, type PluggedCable, type Port } from "./plugs.ts";
import { Edge, State, type Away, type WiredDevice, type Wiring } from "./wiring.ts";

export const delayMs = (delay: Delay | undefined, rate: SampleRate): number => {
  if (!delay) return 0;
  return delay.unit === "ms" ? delay.value : (delay.value / rate) * 1000;
};

/** Compiles a show. Never fails: what is missing or can't be is told by the states of the terminals concerned. */
export function compile(show: Show, away: Away = {}): Wiring {
  const types = new Map(show.types.map((type) => [type.id, type]));
  const indexOf = new Map<DeviceId, number>();
  let size = 0;
  const devices = show.devices.map((device, index): WiredDevice | null => {
    if (!indexOf.has(device.id)) indexOf.set(device.id, index);
    const type = types.get(device.type);
    if (!type) return null;
    const fabric = fabricOf(type, device.mode, device.position);
    const powered = device.powered && !away.devices?.has(device.id);
    const base = size;
    size += fabric.layout.size;
    return {
      index,
      device: powered === device.powered ? device : { ...device, powered },
      fabric,
      base,
      rate: device.sampleRate ?? show.settings.sampleRate,
    };
  });
  const plugs = plugIn(
    show.cables,
    (end) => {
      const index = indexOf.get(end.device);
      return {
        found: index === undefined ? null : devices[index]!,
        missing: index === undefined ? "device" : "type",
      };
    },
    (cable) => away.cables?.has(cable.id) ?? false,
  );

  const deviceOf = new Int32Array(size);
  const feeder = new Int32Array(size).fill(-1);
  const state = new Uint8Array(size).fill(State.unplugged);
  const edge = new Uint8Array(size);
  const setting = new Int32Array(size).fill(-1);
  const delay = new Float64Array(size);
  const sourceAt = new Int32Array(size).fill(-1);

  for (const wired of devices) if (wired) layFabric(wired);
  const leaders = clockLeaders(devices, plugs);
  for (const plugged of plugs.cables) joinCable(plugged);
  plugSources();
  for (const wired of devices) if (wired && !wired.device.powered) switchOff(wired);

  const { downStart, downList } = reverse(feeder);
  const mixes = compileMixes(show, devices, indexOf, size);
  return {
    show,
    devices,
    indexOf,
    plugs,
    leaders,
    size,
    deviceOf,
    feeder,
    state,
    edge,
    setting,
    delay,
    sourceAt,
    downStart,
    downList,
    ...mixes,
  };

  /** The inside of one device: rules, then the settings where a rule asks for one. */
  function layFabric(wired: WiredDevice): void {
    const { base, fabric, device, rate } = wired;
    deviceOf.fill(wired.index, base, base + fabric.layout.size);
    for (const span of fabric.layout.spans) {
      const isInput = span.side === "receive" || (span.side === "jack" && span.bank.direction === "in");
      if (isInput) {
        if (span.side === "jack" && span.bank.connector === "none") fillState(wired, span, State.unassigned);
        continue;
      }
      if (span.side === "bus" && span.section.role !== "channel") {
        fillState(wired, span, State.tap);
        continue;
      }
      for (let offset = span.start; offset < span.start + span.count; offset++) {
        const terminal = base + offset;
        const rule = fabric.rule[offset]!;
        const kind = rule === NO_RULE ? null : fabric.rules[rule]!.kind;
        if (kind === null) state[terminal] = State.unwired;
        else if (kind === "patch") state[terminal] = State.unassigned;
        else {
          edge[terminal] = kind === "wired" ? Edge.wired : Edge.carried;
          setting[terminal] = rule;
          const feed = fabric.feed[offset]!;
          if (feed === BEYOND_PORT) state[terminal] = State.beyondSlots;
          else connect(terminal, base + feed, delayMs(fabric.rules[rule]!.delay, rate));
        }
      }
    }
    device.routing.forEach((assignment, index) => {
      const target = fabric.layout.destinations.get(assignment.to.group);
      if (!target) return;
      const source = fabric.layout.sources.get(assignment.from.group);
      for (let n = 0; n < assignment.count; n++) {
        const place = assignment.to.first + n - 1;
        if (place < 0 || place >= target.count) continue;
        const offset = target.start + place;
        const rule = fabric.rule[offset]! === NO_RULE ? null : fabric.rules[fabric.rule[offset]!]!;
        if (rule && rule.kind !== "patch") continue;
        const terminal = base + offset;
        // Of two settings on one destination the later one counts; a finding tells of it.
        edge[terminal] = Edge.patched;
        setting[terminal] = index;
        feeder[terminal] = -1;
        delay[terminal] = 0;
        const taken = assignment.from.first + n;
        if (!rule || !source || taken > source.count || !holds(rule, assignment, n)) {
          state[terminal] = State.unwired;
          continue;
        }
        connect(terminal, base + source.start + taken - 1, delayMs(rule.delay, rate));
      }
    });
    // Conversion belongs to the step that leaves an input jack and to the one that enters an output jack.
    for (const span of fabric.layout.spans) {
      if (span.side !== "jack" || span.bank.direction !== "out" || !span.bank.convert) continue;
      const share = delayMs(span.bank.convert, rate);
      for (let n = 0; n < span.count; n++) delay[base + span.start + n]! += share;
    }
    const converting = fabric.layout.spans.filter(
      (span) => span.side === "jack" && span.bank.direction === "in" && span.bank.convert,
    );
    if (converting.length === 0) return;
    for (let terminal = base; terminal < base + fabric.layout.size; terminal++) {
      const from = feeder[terminal]! - base;
      for (const span of converting) {
        if (from >= span.start && from < span.start + span.count)
          delay[terminal]! += delayMs(span.side === "jack" ? span.bank.convert : undefined, rate);
      }
    }
  }

  function connect(terminal: number, from: number, time: number): void {
    feeder[terminal] = from;
    state[terminal] = State.fed;
    delay[terminal]! += time;
  }

  function fillState(wired: WiredDevice, span: Span, value: State): void {
    state.fill(value, wired.base + span.start, wired.base + span.start + span.count);
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

  function plugSources(): void {
    show.sources.forEach((source, index) => {
      const wired = devices[indexOf.get(source.at.device) ?? -1];
      const span = wired?.fabric.layout.sources.get(source.at.group);
      if (!wired || span?.side !== "jack") return;
      if (source.at.number < 1 || source.at.number > span.count) return;
      const terminal = wired.base + span.start + source.at.number - 1;
      if (sourceAt[terminal] !== -1) return;
      sourceAt[terminal] = index;
      state[terminal] = State.source;
      feeder[terminal] = -1;
      edge[terminal] = Edge.none;
      delay[terminal] = 0;
    });
  }

  function switchOff({ base, fabric }: WiredDevice): void {
    for (let terminal = base; terminal < base + fabric.layout.size; terminal++) {
      feeder[terminal] = -1;
      state[terminal] = State.off;
    }
  }
}

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

/** The reversed table: for each terminal those that it feeds, in ascending order. */
function reverse(feeder: Int32Array): { readonly downStart: Int32Array; readonly downList: Int32Array } {
  const downStart = new Int32Array(feeder.length + 1);
  for (const from of feeder) if (from >= 0) downStart[from + 1]!++;
  for (let t = 0; t < feeder.length; t++) downStart[t + 1]! += downStart[t]!;
  const next = downStart.slice();
  const downList = new Int32Array(downStart[feeder.length]!);
  feeder.forEach((from, t) => {
    if (from >= 0) downList[next[from]!++] = t;
  });
  return { downStart, downList };
}
