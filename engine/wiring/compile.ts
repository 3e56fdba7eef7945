import type { Cable, Show, Source } from "../model/show.ts";
import { bucketsOf } from "./buckets.ts";
import { clockLeaders } from "./clock.ts";
import { frameOf } from "./frame.ts";
import { joinCables, joinStreams } from "./join.ts";
import { compileMixes } from "./mixes.ts";
import { streamWays } from "./network.ts";
import { plugIn, type Plugs } from "./plugs.ts";
import { layDevice } from "./sheet.ts";
import { staleAfter } from "./stale.ts";
import { Edge, State, type Away, type Tables, type WiredDevice, type Wiring } from "./wiring.ts";

const NOTHING: Away = {};

/** Compiles a show. Never fails: what is missing or can't be is told by the states of the terminals concerned. */
export const compile = (show: Show, away: Away = NOTHING): Wiring => recompile(show, away, null).wiring;

export interface Recompiled {
  readonly wiring: Wiring;
  /** Terminals that aren't as they were before; null where nothing is known of before. */
  readonly moved: readonly number[] | null;
}

/** Everything of a wiring but its tables: which devices, cables and streams there are, and who leads the clock. */
export type Rig = Pick<
  Wiring,
  | "show"
  | "devices"
  | "shape"
  | "names"
  | "conduct"
  | "plugs"
  | "leaders"
  | "ways"
  | "indexOf"
  | "deviceOf"
  | "size"
>;

/** What `before` already holds of the rig is taken from there. */
export function rigOf(show: Show, away: Away, before: Rig | null): Rig {
  const frame = frameOf(show, away, before);
  const { shape, devices } = frame;
  const { size, indexOf, deviceOf } = shape;
  const same = before !== null && before.shape === shape ? before : null;
  const plugs =
    same && same.devices === devices && same.show.cables === show.cables
      ? same.plugs
      : plugsOf(show.cables, devices, indexOf, away);
  const leaders =
    same && same.plugs === plugs ? same.leaders : keep(same?.leaders, clockLeaders(devices, plugs));
  const { streams } = show;
  const ways =
    same && same.plugs === plugs && same.show.streams === streams
      ? same.ways
      : streams === undefined || streams.length === 0
        ? NO_WAYS
        : streamWays(streams, plugs, (end) => devices[indexOf.get(end.device) ?? -1] ?? null);
  const { names, conduct } = frame;
  return { show, devices, shape, names, conduct, plugs, leaders, ways, indexOf, deviceOf, size };
}

/**
 * Compiles a show that was edited: only the devices that the edit concerns are laid and joined again. `before` is the
 * wiring of another state of the show with the same taken away.
 */
export function recompile(show: Show, away: Away, before: Wiring | null): Recompiled {
  const rig = rigOf(show, away, before);
  const { shape, devices, plugs, leaders, ways, indexOf, size } = rig;
  const same = before !== null && before.shape === shape ? before : null;
  const stale = same ? staleAfter(same, rig) : null;
  const { tables, moved } = stale && same ? relaid(same, stale, lay) : { tables: laid(), moved: null };
  const mixes =
    same && same.show.mixes === show.mixes && sameInserts(same.devices, devices)
      ? { mixInto: same.mixInto, mixWhole: same.mixWhole }
      : compileMixes(show, devices, indexOf, size);
  const down =
    same && tables.feeder === same.feeder
      ? { downStart: same.downStart, downList: same.downList }
      : reverse(tables.feeder);
  return { wiring: wiringOf(rig, tables, down, mixes), moved };

  function laid(): Tables {
    const tables: Tables = {
      feeder: new Int32Array(size),
      state: new Uint8Array(size),
      edge: new Uint8Array(size),
      setting: new Int32Array(size),
      delay: new Float64Array(size),
      sourceAt: new Int32Array(size).fill(-1),
    };
    lay(tables, new Uint8Array(devices.length).fill(1));
    return tables;
  }

  /** Lays the devices that `into` names by their index, and joins what cables, streams and sources bring them. */
  function lay(tables: Tables, into: Uint8Array): void {
    for (const wired of devices) if (wired && into[wired.index] === 1) layDevice(tables, wired);
    joinCables(tables, plugs, leaders, into);
    joinStreams(tables, ways, leaders, into);
    show.sources.forEach((source, index) => {
      const wired = devices[indexOf.get(source.at.device) ?? -1];
      if (wired && into[wired.index] === 1) plugSource(tables, wired, source, index);
    });
    for (const wired of devices) {
      if (wired && into[wired.index] === 1 && !wired.device.powered) switchOff(tables, wired);
    }
  }
}

/**
 * Field by field, for everything reads this object: one literal gives every wiring the same layout in memory, and what V8
 * compiled for one serves the next.
 */
function wiringOf(
  { show, shape, devices, conduct, names, indexOf, plugs, leaders, ways, size, deviceOf }: Rig,
  { feeder, state, edge, setting, delay, sourceAt }: Tables,
  { downStart, downList }: Pick<Wiring, "downStart" | "downList">,
  { mixInto, mixWhole }: Pick<Wiring, "mixInto" | "mixWhole">,
): Wiring {
  return {
    show,
    shape,
    devices,
    conduct,
    names,
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
    mixInto,
    mixWhole,
  };
}

const sameInserts = (before: Wiring["devices"], after: Wiring["devices"]): boolean =>
  before === after || after.every((wired, n) => wired?.device.inserts === before[n]?.device.inserts);

const NO_WAYS: Wiring["ways"] = [];

const plugsOf = (
  cables: readonly Cable[],
  devices: Wiring["devices"],
  indexOf: Wiring["indexOf"],
  away: Away,
): Plugs =>
  plugIn(
    cables,
    (end) => {
      const index = indexOf.get(end.device);
      return {
        found: index === undefined ? null : devices[index]!,
        missing: index === undefined ? "device" : "type",
      };
    },
    (cable) => away.cables?.has(cable.id) ?? false,
  );

/** The array of before where the new one says the same. */
function keep(before: Int32Array | undefined, after: Int32Array): Int32Array {
  if (before?.length !== after.length) return after;
  for (let n = 0; n < after.length; n++) if (after[n] !== before[n]) return after;
  return before;
}

/** Copies of the tables with the stale devices laid again, or the tables of before where that changes nothing. */
function relaid(
  before: Wiring,
  stale: Uint8Array,
  lay: (tables: Tables, into: Uint8Array) => void,
): { readonly tables: Tables; readonly moved: readonly number[] } {
  const { feeder, state, edge, setting, delay, sourceAt } = before;
  const known: Tables = { feeder, state, edge, setting, delay, sourceAt };
  if (!stale.includes(1)) return { tables: known, moved: [] };
  const tables: Tables = {
    feeder: feeder.slice(),
    state: state.slice(),
    edge: edge.slice(),
    setting: setting.slice(),
    delay: delay.slice(),
    sourceAt: sourceAt.slice(),
  };
  for (const wired of before.devices) {
    if (wired && stale[wired.index] === 1)
      tables.sourceAt.fill(-1, wired.base, wired.base + wired.fabric.layout.size);
  }
  lay(tables, stale);
  const moved: number[] = [];
  for (const wired of before.devices) {
    if (!wired || stale[wired.index] === 0) continue;
    const end = wired.base + wired.fabric.layout.size;
    for (let t = wired.base; t < end; t++) {
      const unmoved =
        tables.feeder[t] === feeder[t] &&
        tables.state[t] === state[t] &&
        tables.edge[t] === edge[t] &&
        tables.setting[t] === setting[t] &&
        tables.delay[t] === delay[t] &&
        tables.sourceAt[t] === sourceAt[t];
      if (!unmoved) moved.push(t);
    }
  }
  return { tables: moved.length === 0 ? known : tables, moved };
}

function plugSource(tables: Tables, wired: WiredDevice, { at }: Source, index: number): void {
  const span = wired.fabric.layout.sources.get(at.group);
  if (span?.side !== "jack" || at.number < 1 || at.number > span.count) return;
  const terminal = wired.base + span.start + at.number - 1;
  if (tables.sourceAt[terminal] !== -1) return;
  tables.sourceAt[terminal] = index;
  tables.state[terminal] = State.source;
  tables.feeder[terminal] = -1;
  tables.edge[terminal] = Edge.none;
  tables.delay[terminal] = 0;
}

function switchOff({ feeder, state }: Tables, { base, fabric }: WiredDevice): void {
  feeder.fill(-1, base, base + fabric.layout.size);
  state.fill(State.off, base, base + fabric.layout.size);
}

/** The reversed table: for each terminal those that it feeds, in ascending order. */
function reverse(feeder: Int32Array): Pick<Wiring, "downStart" | "downList"> {
  const { start, list } = bucketsOf(feeder, feeder.length);
  return { downStart: start, downList: list };
}
