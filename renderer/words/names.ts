/** What the show calls its terminals: the source on a jack, a channel's name, a mix's name, what a jack is wanted for. */
import {
  findTerminal,
  fullName,
  locate,
  LOOP,
  shortName,
  sideName,
  State,
  wantsAt,
  type Analysis,
  type ChannelPlan,
  type Device,
  type DeviceId,
  type DeviceType,
  type Mix,
  type Want,
} from "#engine";

export interface Names {
  readonly mixAt: ReadonlyMap<number, Mix>;
  readonly channelAt: ReadonlyMap<number, ChannelPlan>;
  readonly wantsAt: ReadonlyMap<number, readonly Want[]>;
  readonly devices: ReadonlyMap<DeviceId, Device>;
  readonly types: ReadonlyMap<DeviceId, DeviceType>;
}

const known = new WeakMap<Analysis, Names>();

export function namesIn(analysis: Analysis): Names {
  let names = known.get(analysis);
  if (!names) known.set(analysis, (names = namesOf(analysis)));
  return names;
}

function namesOf({ show, wiring }: Analysis): Names {
  const mixAt = new Map<number, Mix>();
  for (const mix of show.mixes) {
    for (let n = 0; n < mix.width; n++) {
      const at = findTerminal(wiring, { device: mix.console, group: mix.group, number: mix.first + n });
      if (at !== null && !mixAt.has(at)) mixAt.set(at, mix);
    }
  }
  const channelAt = new Map<number, ChannelPlan>();
  for (const plan of show.channels) {
    const at = findTerminal(wiring, { device: plan.console, group: plan.group, number: plan.number });
    if (at !== null && !channelAt.has(at)) channelAt.set(at, plan);
  }
  const types = new Map(show.types.map((type) => [type.id, type]));
  return {
    mixAt,
    channelAt,
    wantsAt: wantsAt(wiring),
    devices: new Map(show.devices.map((device) => [device.id, device])),
    types: new Map(
      show.devices.flatMap((device) => {
        const type = types.get(device.type);
        return type ? [[device.id, type] as const] : [];
      }),
    ),
  };
}

/** A device's name; its id where the show has no such device. */
export const deviceName = (analysis: Analysis, device: DeviceId): string =>
  namesIn(analysis).devices.get(device)?.name ?? device;

/** What the show calls the signal that starts at a terminal, or null where nobody gave it a name. */
export function signalName(analysis: Analysis, terminal: number): string | null {
  const { wiring, show } = analysis;
  const source = show.sources[wiring.sourceAt[terminal] ?? -1];
  if (source) return source.name;
  const { mixAt, channelAt } = namesIn(analysis);
  const mix = mixAt.get(terminal);
  if (mix) {
    if (mix.width === 1) return mix.name;
    const { number } = locate(wiring, terminal);
    return `${mix.name} ${number === mix.first ? "L" : "R"}`;
  }
  const plan = channelAt.get(terminal);
  if (plan) return plan.name;
  // A direct out is known by its channel.
  const into = wiring.mixInto;
  const only =
    into.start[terminal + 1]! - into.start[terminal]! === 1 && into.mix[into.start[terminal]!] === -1;
  return only ? (channelAt.get(into.terminal[into.start[terminal]!]!)?.name ?? null) : null;
}

/** `5`, or `2A` for one side of a pair: a terminal's number as its group counts. */
export const numberText = ({ wiring }: Analysis, terminal: number): string =>
  shortName(wiring, terminal).split(" ").at(-1)!;

/** `Out 1–8`: neighbouring terminals of one group. */
export function runName(analysis: Analysis, terminals: readonly number[]): string {
  const name = sideName(locate(analysis.wiring, terminals[0]!).span);
  const [first, last] = [terminals[0]!, terminals.at(-1)!].map((terminal) => numberText(analysis, terminal));
  return first === last ? `${name} ${first}` : `${name} ${first}–${last}`;
}

/** Where a terminal's signal comes from: its origin, or null where nothing arrives. */
export function originOf({ wiring, arrivals }: Analysis, terminal: number): number | null {
  const root = arrivals.root[terminal]!;
  if (root === LOOP) return null;
  const state = wiring.state[root];
  return state === State.tap || state === State.source ? root : null;
}

/** `Mix 5 “Wedge left”`: a terminal within its device, with what the show calls it. */
export function calledName(analysis: Analysis, terminal: number): string {
  const name = signalName(analysis, terminal);
  const short = shortName(analysis.wiring, terminal);
  return name === null ? short : `${short} “${name}”`;
}

/** `Monitors Mix 5 “Wedge left”`. */
export function calledFullName(analysis: Analysis, terminal: number): string {
  const name = signalName(analysis, terminal);
  const full = fullName(analysis.wiring, terminal);
  return name === null ? full : `${full} “${name}”`;
}
