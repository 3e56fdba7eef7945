/** F14: records that point at something the show doesn't have. They are kept, so that nothing is lost. */
import type { DeviceId, GroupId } from "../model/ids.ts";
import type { TerminalRef } from "../model/show.ts";
import { findTerminal } from "../trace/terminal.ts";
import { cableName } from "./describe.ts";
import type { Analysed, Check, Finding } from "./finding.ts";

export const dangling: Check = {
  id: "dangling",
  about: "a record that points at something the show doesn't have",
  run: (rig) => {
    const { show } = rig.wiring;
    const places = new Set<string>(show.places.map(({ id }) => id));
    const sources = new Set<string>(show.sources.map(({ id }) => id));
    const found: Finding[] = [];
    const report = (key: string, what: string, missing: string, at: Partial<Finding> = {}): void => {
      found.push({
        id: `dangling:${key}`,
        check: "dangling",
        severity: "error",
        title: `${what} points at nothing`,
        reason: `${missing}. The record is kept as it is.`,
        terminals: [],
        devices: [],
        cables: [],
        wants: [],
        ...at,
      });
    };

    show.devices.forEach((device, index) => {
      const wired = rig.wiring.devices[index];
      const at = { devices: [device.id] };
      if (!wired)
        report(`${device.id}:type`, device.name, `The show has no device type “${device.type}”`, at);
      else if (!wired.fabric.mode) {
        report(`${device.id}:mode`, device.name, `Its type has no mode “${device.mode}”`, at);
      }
      if (!places.has(device.place)) {
        report(`${device.id}:place`, device.name, `The show has no place “${device.place}”`, at);
      }
    });
    for (const { cable, sockets } of rig.wiring.plugs.cables) {
      cable.ends.forEach((end, side) => {
        const socket = sockets[side]!;
        if (socket.kind !== "missing" || socket.what === "type") return;
        const missing = socket.what === "device" ? noDevice(end.device) : noGroup(rig, end.device, end.group);
        report(`${cable.id}:${side}`, cableName(rig.wiring, cable), missing, { cables: [cable.id] });
      });
    }
    const refer = (key: string, what: string, ref: TerminalRef, at: Partial<Finding> = {}): void => {
      const missing = missingPart(rig, ref);
      if (missing !== null) report(key, what, missing, at);
    };
    for (const source of show.sources) {
      refer(source.id, `Source “${source.name}”`, source.at);
      if (source.preampOwner !== undefined && !rig.wiring.indexOf.has(source.preampOwner)) {
        report(`${source.id}:owner`, `The preamp owner of “${source.name}”`, noDevice(source.preampOwner));
      }
    }
    for (const want of show.wants) {
      refer(`${want.id}:to`, `Want “${want.name}”`, want.to, { wants: [want.id] });
      if (want.from)
        refer(`${want.id}:from`, `The origin of want “${want.name}”`, want.from, { wants: [want.id] });
    }
    for (const { id, console: device, group, number, name, source } of show.channels) {
      refer(id, `Channel ${number} “${name}”`, { device, group, number });
      if (source !== undefined && !sources.has(source)) {
        report(`${id}:source`, `Channel ${number} “${name}”`, `The show has no source “${source}”`);
      }
    }
    for (const { id, console: device, group, first, width, name, members } of show.mixes) {
      refer(id, `Mix “${name}”`, { device, group, number: first + width - 1 });
      if (missingPart(rig, { device, group, number: first }) !== null) continue;
      const layout = rig.wiring.devices[rig.wiring.indexOf.get(device)!]!.fabric.layout;
      const lost = members.filter((member) => {
        const span = layout.destinations.get(member.group) ?? layout.sources.get(member.group);
        return span?.side !== "bus" || member.number < 1 || member.number > span.count;
      });
      if (lost.length > 0) {
        report(
          `${id}:members`,
          `A member of mix “${name}”`,
          `${lost[0]!.group} ${lost[0]!.number} doesn't exist there`,
          {
            devices: [device],
          },
        );
      }
    }
    return found;
  },
};

const noDevice = (id: string): string => `The show has no device “${id}”`;

const noGroup = ({ wiring }: Analysed, device: DeviceId, group: GroupId): string =>
  `${wiring.show.devices[wiring.indexOf.get(device)!]!.name} has no bank, port or section “${group}”`;

/** Null where the terminal exists, or where its device has no type, which is told once for the device. */
function missingPart(rig: Analysed, ref: TerminalRef): string | null {
  const index = rig.wiring.indexOf.get(ref.device);
  if (index === undefined) return noDevice(ref.device);
  const wired = rig.wiring.devices[index];
  if (!wired || findTerminal(rig.wiring, ref) !== null) return null;
  const { destinations, sources } = wired.fabric.layout;
  const span = destinations.get(ref.group) ?? sources.get(ref.group);
  return span
    ? `${wired.device.name} has ${span.count} of “${ref.group}”; number ${ref.number} doesn't exist`
    : noGroup(rig, ref.device, ref.group);
}
