/**
 * The way of streams over a network: from port to port along live cables and through switches. Each stream takes the way
 * with the fewest cables to each receiver, and of equally short ones that which comes first in the show's order.
 */
import type { CableEnd, Stream } from "../model/show.ts";
import type { PluggedCable, Plugs, Port } from "./plugs.ts";
import type { WiredDevice } from "./wiring.ts";

/** One cable of a way, in the direction of the stream. */
export interface Leg {
  readonly cable: PluggedCable;
  readonly from: Port;
  readonly to: Port;
}

export interface StreamWay {
  readonly stream: Stream;
  /** Which of the stream's receivers. */
  readonly receiver: number;
  readonly from: Port;
  readonly to: Port;
  /** None where no way leads there. */
  readonly legs: readonly Leg[];
  /** Where no way leads there: what stops the shortest that would, were all cables plugged in and all switches on. */
  readonly stop: Stop | null;
}

/** A cable that is pulled, or a switch that is off. */
export type Stop =
  | { readonly kind: "cable"; readonly cable: PluggedCable }
  | { readonly kind: "device"; readonly device: WiredDevice };

/** The port that an end of a stream names; null where it isn't a network port of the rig. */
export function networkPort(end: CableEnd, find: (end: CableEnd) => WiredDevice | null): Port | null {
  const device = find(end);
  const port = device?.fabric.layout.type.ports.find(({ id }) => id === end.group);
  return device && port?.network ? { kind: "port", device, port } : null;
}

/** The ways of all streams. Ends that the rig doesn't have are left out; a finding tells of them. */
export function streamWays(
  streams: readonly Stream[],
  plugs: Plugs,
  find: (end: CableEnd) => WiredDevice | null,
): readonly StreamWay[] {
  return streams.flatMap((stream) => {
    const from = networkPort(stream.from, find);
    if (!from) return [];
    const reached = flood(from, plugs);
    let beyond: ReadonlyMap<string, Reached> | null = null;
    return stream.to.flatMap((end, receiver): StreamWay[] => {
      const to = networkPort(end, find);
      if (!to) return [];
      const legs = wayTo(to, reached);
      if (legs.length > 0) return [{ stream, receiver, from, to, legs, stop: null }];
      beyond ??= flood(from, plugs, true);
      return [{ stream, receiver, from, to, legs, stop: firstStop(wayTo(to, beyond)) }];
    });
  });
}

const keyOf = ({ device, port }: Port): string => `${device.index}:${port.id}`;

/** A leg, and the one before it on the way from the sender. */
interface Reached extends Leg {
  readonly before: Reached | null;
}

/** From the sender on. */
function firstStop(legs: readonly Leg[]): Stop | null {
  for (const [n, { cable, to }] of legs.entries()) {
    if (!cable.live) return { kind: "cable", cable };
    if (n < legs.length - 1 && !to.device.device.powered) return { kind: "device", device: to.device };
  }
  return null;
}

/**
 * For each port that a stream from `start` comes to, the leg that brings it there first: breadth first. `anyway`: over
 * pulled cables and through switches that are off as well.
 */
function flood(start: Port, plugs: Plugs, anyway = false): ReadonlyMap<string, Reached> {
  const reached = new Map<string, Reached>();
  const passed = new Set<number>();
  let front: { readonly from: Port; readonly before: Reached | null }[] = [{ from: start, before: null }];
  while (front.length > 0) {
    const next: typeof front = [];
    for (const { from, before } of front) {
      const plug = plugs.ofPort(from.device.index, from.port.id);
      const far = anyway ? plug?.pulledOrNot : plug?.far;
      if (!plug || !far || reached.has(keyOf(far))) continue;
      const leg: Reached = { cable: plug.cable, from, to: far, before };
      reached.set(keyOf(leg.to), leg);
      const { device, port: entered } = leg.to;
      const { type } = device.fabric.layout;
      if (!type.forwards || passed.has(device.index)) continue;
      if (!anyway && !device.device.powered) continue;
      passed.add(device.index);
      for (const port of type.ports) {
        if (port.network && port !== entered)
          next.push({ from: { kind: "port", device, port }, before: leg });
      }
    }
    front = next;
  }
  return reached;
}

/** Every port that the network behind a port leads to. */
export const portsOnNetwork = (port: Port, plugs: Plugs): readonly Port[] =>
  [...flood(port, plugs).values()].map(({ to }) => to);

function wayTo(to: Port, reached: ReadonlyMap<string, Reached>): readonly Leg[] {
  const legs: Leg[] = [];
  for (let leg = reached.get(keyOf(to)) ?? null; leg; leg = leg.before) legs.push(leg);
  return legs.reverse();
}
