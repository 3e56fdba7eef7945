import type { DeviceId } from "../model/ids.ts";
import type { Show } from "../model/show.ts";
import { clockLeaders } from "./clock.ts";
import { fabricOf } from "./fabric.ts";
import { joinCables, joinStreams } from "./join.ts";
import { compileMixes } from "./mixes.ts";
import { streamWays } from "./network.ts";
import { plugIn } from "./plugs.ts";
import { sheetOf } from "./sheet.ts";
import { Edge, State, type Away, type WiredDevice, type Wiring } from "./wiring.ts";

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

  for (const wired of devices) if (wired) layDevice(wired);
  const leaders = clockLeaders(devices, plugs);
  const tables = { feeder, state, edge, setting, delay };
  joinCables(tables, plugs, leaders);
  const ways = streamWays(show.streams ?? [], plugs, (end) => devices[indexOf.get(end.device) ?? -1] ?? null);
  joinStreams(tables, ways, leaders);
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
    ways,
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

  /** The inside of one device, moved to where it stands in the rig. */
  function layDevice({ index, base, fabric, rate }: WiredDevice): void {
    const sheet = sheetOf(show.devices[index]!, fabric, rate);
    deviceOf.fill(index, base, base + fabric.layout.size);
    state.set(sheet.state, base);
    edge.set(sheet.edge, base);
    setting.set(sheet.setting, base);
    delay.set(sheet.delay, base);
    sheet.feed.forEach((from, offset) => {
      if (from >= 0) feeder[base + offset] = base + from;
    });
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
