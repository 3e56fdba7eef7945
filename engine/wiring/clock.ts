/** Word clock: which device each one follows in the end. Digital signals pass only between devices of one leader. */
import type { ClockDefault } from "../model/device-type.ts";
import { portsOnNetwork } from "./network.ts";
import type { Plugs, Port } from "./plugs.ts";
import type { WiredDevice } from "./wiring.ts";

/** In place of a leader's index: the device has no word clock, or follows itself. */
export const NO_CLOCK = -1;
export const CLOCK_LOOP = -2;

const UNKNOWN = -3;
const OPEN = -4;

export function clockSetting(device: WiredDevice): ClockDefault {
  const { fabric, device: settings } = device;
  return settings.clock ?? fabric.mode?.clock ?? fabric.layout.type.clock;
}

/**
 * For each device the index of its clock leader, or one of the constants above. A device that follows a port where no
 * clock arrives runs free: it leads itself and all that follow it, which stay in step with it.
 */
export function clockLeaders(devices: readonly (WiredDevice | null)[], plugs: Plugs): Int32Array {
  const leaders = new Int32Array(devices.length).fill(UNKNOWN);
  for (let start = 0; start < devices.length; start++) {
    const path: number[] = [];
    let at = start;
    let leader = UNKNOWN;
    while (leader === UNKNOWN) {
      const known = leaders[at]!;
      const device = devices[at];
      // Who follows a device without a clock, or one that isn't known, has nothing to follow.
      const behind = path.at(-1) ?? at;
      if (known === OPEN) leader = CLOCK_LOOP;
      else if (known !== UNKNOWN) leader = known === NO_CLOCK ? behind : known;
      else if (!device) leader = behind;
      else {
        leaders[at] = OPEN;
        path.push(at);
        const setting = clockSetting(device);
        if (setting === "none") leader = NO_CLOCK;
        else if (setting === "internal") leader = at;
        else {
          const next = followed(device, plugs, setting);
          if (next === null) leader = at;
          else at = next;
        }
      }
    }
    if (leader === NO_CLOCK) {
      leaders[path.pop()!] = NO_CLOCK;
      leader = path.at(-1) ?? NO_CLOCK;
    }
    for (const index of path) leaders[index] = leader;
  }
  return leaders;
}

/** Whether a device is meant to follow a port, and has to run on its own for want of a clock there. */
export const runsFree = (leaders: Int32Array, device: WiredDevice): boolean =>
  leaders[device.index] === device.index && clockSetting(device) !== "internal";

/** The device whose clock comes in by the followed port; null where none does, or where no port is followed. */
export function followed(device: WiredDevice, plugs: Plugs, port: ClockDefault): number | null {
  const far = plugs.ofPort(device.index, port)?.far;
  const near = device.fabric.layout.type.ports.find(({ id }) => id === port);
  if (!far || !far.device.device.powered) return null;
  if (!near?.carriesClock || !far.port.carriesClock) return null;
  return near.network ? networkLeader({ kind: "port", device, port: near }, plugs) : far.device.index;
}

/**
 * A network has one clock: of the devices on it that don't take theirs from it, the first in the show's order. The
 * others keep their own, and their signals don't match. Where all take theirs from it, they elect one (AES67 clause 4
 * takes IEEE 1588, whose best master clock algorithm does): the first in the show's order, which has nothing to follow.
 */
function networkLeader(port: Port, plugs: Plugs): number | null {
  const clocks = [port, ...portsOnNetwork(port, plugs)].filter(
    ({ device }) =>
      !device.fabric.layout.type.forwards && device.device.powered && clockSetting(device) !== "none",
  );
  const leaders = clocks.filter(({ device, port: { id } }) => clockSetting(device) !== id);
  if (clocks.length === 0) return null;
  const first = Math.min(...(leaders.length > 0 ? leaders : clocks).map(({ device }) => device.index));
  return first === port.device.index ? null : first;
}
