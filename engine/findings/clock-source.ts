/** F16: devices that follow each other's clock in a circle, and devices that follow a port where no clock arrives. */
import { CLOCK_LOOP, clockSetting, followed, NO_CLOCK, runsFree } from "../wiring/clock.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import { terminalOf } from "../trace/terminal.ts";
import { inClockLoop, stopsOf } from "./clock-mismatch.ts";
import { listOf } from "./describe.ts";
import { darkFeeds, feedNames, readsFeeds, wantsOf, type Feed } from "./feeds.ts";
import { found, type Analysed, type Check, type Finding } from "./finding.ts";
import { gather } from "../model/once.ts";
import type { LinkPort } from "../model/device-type.ts";
import type { CableId } from "../model/ids.ts";
import { wiredOf } from "../trace/records.ts";
import { deviceFix, followFix, isConsole } from "./remedies.ts";

export const clockSource: Check = {
  id: "clock-source",
  about: "a circle of word clocks, or a port that is followed and brings none",
  reads: readsFeeds,
  run: (rig) => [
    ...loops(rig),
    ...rig.wiring.devices.flatMap((wired) => (wired ? nothingThere(rig.wiring, wired) : [])),
  ],
  propose: ({ wiring }, { id, devices }) => {
    if (id.startsWith("clock-source:loop:")) {
      // A console leads before a box does; or it is led from outside the circle.
      const order = devices
        .map((device) => wiredOf(wiring, device)!)
        .sort((a, b) => Number(isConsole(b)) - Number(isConsole(a)));
      return [
        ...order.map(({ device }) =>
          deviceFix(`Let ${device.name} run on its own clock`, { ...device, clock: "internal" }),
        ),
        ...order.flatMap((wired) =>
          pluggedBeside(wiring, wired)
            .filter(({ carriesClock }) => carriesClock)
            .map((port) => followFix(wired.device, port)),
        ),
      ];
    }
    const wired = wiredOf(wiring, devices[0]!)!;
    return pluggedBeside(wiring, wired).map((port) => followFix(wired.device, port));
  },
};

/** The device whose clock a device takes over a cable; null where it leads, has none or nothing comes. */
const follows = (wiring: Wiring, wired: WiredDevice): number | null =>
  followed(wired, wiring.plugs, clockSetting(wired));

function loops(rig: Analysed): Finding[] {
  const { wiring } = rig;
  const { circles, circleOf } = circlesOf(wiring);
  const dark = new Map<number, Feed[]>();
  for (const stop of stopsOf(wiring)) {
    if (!inClockLoop(wiring, stop)) continue;
    const end = stop.ends.find(({ index }) => circleOf.has(index))!;
    for (const terminal of stop.terminals) {
      for (const feed of darkFeeds(rig).get(terminal) ?? []) gather(dark, circleOf.get(end.index)!, feed);
    }
  }
  return circles.map((circle, n) => {
    const names = circle.map((index) => wiring.devices[index]!.device.name);
    const each = names.map((name, at) => `${name} follows ${names[(at + 1) % names.length]!}`);
    const feeds = dark.get(n) ?? [];
    const behind = [...circleOf].filter(([index, at]) => at === n && !circle.includes(index));
    const more =
      behind.length === 0
        ? ""
        : ` ${listOf(behind.map(([index]) => wiring.devices[index]!.device.name))} ${behind.length === 1 ? "follows" : "follow"} it.`;
    const lost = feeds.length === 0 ? "" : ` Dark: ${feedNames(wiring, feeds)}.`;
    return found(
      {
        id: `clock-source:loop:${[...circle.map((index) => wiring.devices[index]!.device.id)].sort()[0]!}`,
        check: "clock-source",
        severity: "error",
        title: `A clock loop: ${listOf(names)} ${names.length === 1 ? "follows itself" : "follow each other"}`,
        reason: `${each.join(", ")}: none of them leads, so no digital signal passes between them.${more}${lost}`,
      },
      {
        terminals: feeds.map(({ terminal }) => terminalOf(wiring, terminal)),
        devices: [...circle, ...behind.map(([index]) => index)].map(
          (index) => wiring.devices[index]!.device.id,
        ),
        cables: [...new Set(circle.map((index) => followedCable(wiring, index)))],
        wants: wantsOf(feeds),
      },
    );
  });
}

/** The cable that a device of a circle takes its clock from. */
const followedCable = ({ devices, plugs }: Wiring, index: number): CableId =>
  plugs.ofPort(index, clockSetting(devices[index]!))!.cable.cable.id;

interface Circles {
  /** Each from its first device in the show on, every one followed by the one that it follows. */
  readonly circles: readonly (readonly number[])[];
  /** For each device whose clock comes to nothing in a circle, which one. */
  readonly circleOf: ReadonlyMap<number, number>;
}

function circlesOf(wiring: Wiring): Circles {
  const circles: number[][] = [];
  const circleOf = new Map<number, number>();
  wiring.devices.forEach((_, start) => {
    if (wiring.leaders[start] !== CLOCK_LOOP) return;
    const path: number[] = [];
    const placeOf = new Map<number, number>();
    let at = start;
    while (!circleOf.has(at) && !placeOf.has(at)) {
      placeOf.set(at, path.length);
      path.push(at);
      at = follows(wiring, wiring.devices[at]!)!;
    }
    const from = placeOf.get(at);
    if (from !== undefined) {
      const circle = path.slice(from);
      const lowest = circle.indexOf(Math.min(...circle));
      circles.push([...circle.slice(lowest), ...circle.slice(0, lowest)]);
      for (const index of circle) circleOf.set(index, circles.length - 1);
    }
    for (const index of path) circleOf.set(index, circleOf.get(at)!);
  });
  return { circles, circleOf };
}

/** The ports of a device, beside the one that it follows, whose cables lead to a device that is on. */
function pluggedBeside(wiring: Wiring, wired: WiredDevice): readonly LinkPort[] {
  const followed = clockSetting(wired);
  return wired.fabric.layout.type.ports.filter(
    ({ id }) => id !== followed && wiring.plugs.ofPort(wired.index, id)?.far?.device.device.powered,
  );
}

/** A device in use whose followed port brings no clock, while another of its ports is plugged and waits for one. */
function nothingThere(wiring: Wiring, wired: WiredDevice): Finding[] {
  const { device, fabric } = wired;
  const setting = clockSetting(wired);
  if (!device.powered || !runsFree(wiring.leaders, wired)) return [];
  const next = follows(wiring, wired);
  if (next !== null && wiring.leaders[next] !== NO_CLOCK) return [];
  const { ports } = fabric.layout.type;
  const plugged = pluggedBeside(wiring, wired);
  if (plugged.length === 0) return [];
  const port = ports.find(({ id }) => id === setting)?.name ?? setting;
  return [
    found(
      {
        id: `clock-source:nothing:${device.id}`,
        check: "clock-source",
        severity: "warning",
        title: `${device.name} follows ${port}, where no clock arrives`,
        reason: `${whyNone(wiring, wired, next)} ${listOf(plugged.map(({ name }) => name))} ${plugged.length === 1 ? "is" : "are"} plugged in, and digital signals pass there only in step.`,
      },
      { devices: [device.id] },
    ),
  ];
}

function whyNone(wiring: Wiring, wired: WiredDevice, next: number | null): string {
  if (next !== null) return `${wiring.devices[next]!.device.name} at the far end has no word clock.`;
  const setting = clockSetting(wired);
  const port = wired.fabric.layout.type.ports.find(({ id }) => id === setting);
  if (!port) return `${wired.device.name} has no port “${setting}”.`;
  const plug = wiring.plugs.ofPort(wired.index, port.id);
  if (!plug) return `Nothing is plugged in ${port.name}.`;
  if (!plug.cable.live) return `The cable in ${port.name} is pulled.`;
  if (!plug.far) return `The cable in ${port.name} joins nothing.`;
  if (!plug.far.device.device.powered) return `${plug.far.device.device.name} at the far end is off.`;
  // A network's clock comes from a device beside it that leads; a link's from its far end.
  return port.network ? "No device on that network leads its clock." : "That link carries no clock.";
}
