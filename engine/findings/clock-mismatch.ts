/** F15: a cable or stream at which signals stop because its ends differ in sample rate or word clock. */
import type { LinkPort } from "../model/device-type.ts";
import type { CableId } from "../model/ids.ts";
import type { Cable } from "../model/show.ts";
import { rateName } from "../model/units.ts";
import { terminalOf } from "../trace/terminal.ts";
import { CLOCK_LOOP } from "../wiring/clock.ts";
import type { StreamWay } from "../wiring/network.ts";
import type { PluggedCable } from "../wiring/plugs.ts";
import { Edge, State, type WiredDevice, type Wiring } from "../wiring/wiring.ts";
import { cableName, clockOf, listOf } from "./describe.ts";
import { darkFeeds, feedNames, readsFeeds, wantsOf } from "./feeds.ts";
import { found, type Analysed, type Check, type Finding, type Fix } from "./finding.ts";
import { once } from "../model/once.ts";
import { deviceFix, followFix, isConsole, rateFixes, without } from "./remedies.ts";

/** Where signals stop for rate or clock: one cable, or the streams from one device to another. */
export interface Stop {
  readonly key: string;
  readonly name: string;
  readonly ends: readonly [WiredDevice, WiredDevice];
  /** Where the ends are plugged; none for jacks. */
  readonly ports: readonly LinkPort[];
  readonly cables: readonly CableId[];
  readonly terminals: readonly number[];
}

export const clockMismatch: Check = {
  id: "clock-mismatch",
  about: "a cable or stream at which signals stop because its ends differ in rate or clock",
  reads: readsFeeds,
  run: (rig) =>
    // A clock loop is one finding, of check F16; each of its cables would only repeat it.
    stopsOf(rig.wiring).flatMap((stop) => (inClockLoop(rig.wiring, stop) ? [] : [told(rig, stop)])),
  propose: ({ wiring }, { id }) =>
    stopsOf(wiring).flatMap(({ key, ends, ports }) => {
      if (id !== idOf(key)) return [];
      const order = [0, 1].sort((a, b) => leads(wiring, ends[a]!) - leads(wiring, ends[b]!));
      return [
        ...rateFixes(ends.map(({ device }) => device)),
        ...order.flatMap((end) => clockFixes(ends[end]!, ports[end])),
      ];
    }),
};

const idOf = (key: string): string => `clock-mismatch:${key}`;

/** Of two ends that could follow each other a box does sooner than a console, and who leads nobody sooner than who does. */
const leads = ({ leaders }: Wiring, wired: WiredDevice): number =>
  2 * Number(isConsole(wired)) + Number(leaders[wired.index] === wired.index);

/** Lets a device follow the port of the cable, and what its mode or type says, where it is set otherwise. */
function clockFixes({ device, fabric }: WiredDevice, port: LinkPort | undefined): Fix[] {
  const typed = fabric.mode?.clock ?? fabric.layout.type.clock;
  const name = fabric.layout.type.ports.find(({ id }) => id === typed)?.name ?? "its own clock";
  return [
    deviceFix(`Let ${device.name} follow ${name}`, without(device, "clock")),
    ...(port?.carriesClock && typed !== port.id ? [followFix(device, port)] : []),
  ];
}

export const stopsOf = once((wiring: Wiring): readonly Stop[] => {
  const { state, edge, setting, size, plugs, ways } = wiring;
  if (!state.includes(State.mismatch)) return [];
  const stops = new Map<
    string,
    Omit<Stop, "terminals" | "name"> & { streamed: boolean; terminals: number[]; names: Set<string> }
  >();
  const cableAt = (index: number): Cable => plugs.cables[index]!.cable;
  for (let terminal = 0; terminal < size; terminal++) {
    if (state[terminal] !== State.mismatch) continue;
    const index = setting[terminal]!;
    const way = edge[terminal] === Edge.stream ? ways[index]! : null;
    const key = way ? `stream:${way.from.device.device.id}:${way.to.device.device.id}` : cableAt(index).id;
    let stop = stops.get(key);
    if (!stop) {
      const where = way ? streamStop(way) : cableStop(plugs.cables[index]!);
      stops.set(key, (stop = { key, streamed: way !== null, ...where, terminals: [], names: new Set() }));
    }
    stop.terminals.push(terminal);
    stop.names.add(way ? way.stream.name : cableName(wiring, cableAt(index)));
  }
  return [...stops.values()].map(({ names, streamed, ...stop }) => ({
    ...stop,
    name: `${streamed ? "Stream " : ""}${listOf([...names])}`,
  }));
});

type Where = Pick<Stop, "ends" | "ports" | "cables">;

const streamStop = ({ from, to, legs }: StreamWay): Where => ({
  ends: [from.device, to.device],
  ports: [from.port, to.port],
  cables: legs.map(({ cable: { cable } }) => cable.id),
});

/** The devices in the order of the cable's ends, from the sender on for jacks. */
function cableStop({ cable, join }: PluggedCable): Where {
  const cables = [cable.id];
  if (join.kind === "misfit") throw new Error("a cable that joins nothing stops signals for its clock");
  if (join.kind === "jacks") return { ends: [join.from.device, join.to.device], ports: [], cables };
  const [a, b] = join.ends;
  return { ends: [a.device, b.device], ports: [a.port, b.port], cables };
}

/** Whether the ends agree on the rate, and have no common leader because of a clock loop. */
export const inClockLoop = ({ leaders }: Wiring, { ends: [a, b] }: Stop): boolean =>
  a.rate === b.rate && (leaders[a.index] === CLOCK_LOOP || leaders[b.index] === CLOCK_LOOP);

function told(rig: Analysed, { key, name, ends: [a, b], cables, terminals }: Stop): Finding {
  const { wiring } = rig;
  const dark = terminals.flatMap((terminal) => darkFeeds(rig).get(terminal) ?? []);
  const why =
    a.rate === b.rate
      ? `${clockOf(wiring, a.index)}, ${clockOf(wiring, b.index)}`
      : `${a.device.name} runs at ${rateName(a.rate)}, ${b.device.name} at ${rateName(b.rate)}`;
  const lost =
    dark.length === 0
      ? ""
      : ` ${dark.length === 1 ? "1 feed is" : `${dark.length} feeds are`} dark: ${feedNames(wiring, dark)}.`;
  return found(
    {
      id: idOf(key),
      check: "clock-mismatch",
      severity: "error",
      title: `${name} joins devices ${a.rate === b.rate ? "that don't share a clock" : "of two sample rates"}: ${a.device.name} and ${b.device.name}`,
      reason: `${why}, and neither end converts: no signal passes.${lost}`,
    },
    {
      terminals: [...new Set([...dark.map(({ terminal }) => terminal), ...terminals])].map((terminal) =>
        terminalOf(wiring, terminal),
      ),
      devices: [a.device.id, b.device.id],
      cables,
      wants: wantsOf(dark),
    },
  );
}
