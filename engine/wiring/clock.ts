/** Word clock: which device each one follows in the end. Digital signals pass only between devices of one leader. */
import type { ClockDefault } from "../model/device-type.ts";
import { portsOnNetwork } from "./network.ts";
import type { Plugs, Port } from "./plugs.ts";
import type { WiredDevice } from "./wiring.ts";

/** In place of a leader's index: the device has no word clock, follows a port with nothing to follow, or itself. */
export const NO_CLOCK = -1;
export const FREE_RUNNING = -2;
export const CLOCK_LOOP = -3;

const UNKNOWN = -4;
const OPEN = -5;

export function clockSetting(device: WiredDevice): ClockDefault {
  const { fabric, device: settings } = device;
  return settings.clock ?? fabric.mode?.clock ?? fabric.layout.type.clock;
}

/** For each device the index of its clock leader, or one of the constants above. */
export function clockLeaders(devices: readonly (WiredDevice | null)[], plugs: Plugs): Int32Array {
  const leaders = new Int32Array(devices.length).fill(UNKNOWN);
  for (let start = 0; start < devices.length; start++) {
    const path: number[] = [];
    let at = start;
    let leader = UNKNOWN;
    while (leader === UNKNOWN) {
      const known = leaders[at]!;
      const device = devices[at];
      if (known === OPEN) leader = CLOCK_LOOP;
      else if (known !== UNKNOWN) leader = known === NO_CLOCK ? FREE_RUNNING : known;
      else if (!device) leader = FREE_RUNNING;
      else {
        leaders[at] = OPEN;
        path.push(at);
        const setting = clockSetting(device);
        if (setting === "none") leader = NO_CLOCK;
        else if (setting === "internal") leader = at;
        else {
          const next = followed(device, plugs, setting);
          if (next === null) leader = FREE_RUNNING;
          else at = next;
        }
      }
    }
    for (const index of path) {
      leaders[index] = leader;
      // Who follows a device without a clock has nothing to follow.
      if (leader === NO_CLOCK && index !== path.at(-1)) leaders[index] = FREE_RUNNING;
    }
  }
  return leaders;
}

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
 * others keep their own, and their signals don't match.
 */
function networkLeader(port: Port, plugs: Plugs): number | null {
  const leaders = [port, ...portsOnNetwork(port, plugs)].filter(({ device, port: { id } }) => {
    const setting = clockSetting(device);
    return (
      !device.fabric.layout.type.forwards && device.device.powered && setting !== "none" && setting !== id
    );
  });
  return leaders.length === 0 ? null : Math.min(...leaders.map(({ device }) => device.index));
}
