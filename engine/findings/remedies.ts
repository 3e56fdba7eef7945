/** What fixes are put together from: a change of one record, and settings taken out or put in run by run. */
import type { Edit } from "../model/edit.ts";
import type { DeviceId, GroupId, ModeId } from "../model/ids.ts";
import { assigned, cleared, joined } from "../model/routing.ts";
import type { Assignment, Device } from "../model/show.ts";
import { ms, roundUp, type Ms } from "../model/units.ts";
import { settingName } from "../trace/told.ts";
import { numbersName, sideName } from "../trace/terminal.ts";
import { arrivesAt } from "../trace/owners.ts";
import { wholeRun } from "../wiring/fabric.ts";
import { spanGroup, type Span } from "../wiring/layout.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import type { Analysed, Fix } from "./finding.ts";
import { gather } from "../model/once.ts";

/** A record without one of its optional parts. */
export function without<Whole extends object, Key extends keyof Whole>(
  whole: Whole,
  key: Key,
): Omit<Whole, Key> {
  const { [key]: _gone, ...rest } = whole;
  return rest;
}

export const deviceOf = ({ show, indexOf }: Wiring, id: DeviceId): Device | undefined =>
  show.devices[indexOf.get(id) ?? -1];

export const isConsole = ({ fabric }: WiredDevice): boolean => fabric.layout.type.category === "console";

export const putDevice = (record: Device): Edit => ({ kind: "put", list: "devices", record });

/** Longer than a show's file lets a time be. */
const MOST_MS = 10_000;

/** A limit that a time keeps, to the next thousandth of a millisecond; null where a show can't hold it. */
export function allowed(time: number): Ms | null {
  const limit = ms(roundUp(time, 3));
  return limit > MOST_MS ? null : limit;
}

export const deviceFix = (label: string, ...devices: readonly Device[]): Fix => ({
  label,
  edits: devices.map(putDevice),
});

/** One for each other mode of the device. */
export function modeFixes({ device, fabric }: WiredDevice): Fix[] {
  return fabric.layout.type.modes
    .filter(({ id }) => id !== device.mode)
    .map(({ id, name }) => deviceFix(`Switch ${device.name} to mode “${name}”`, { ...device, mode: id }));
}

/** Back to the show's rate: the devices one by one, then all of them, where they have rates of their own. */
export function rateFixes(devices: readonly Device[]): Fix[] {
  const own = [...new Set(devices)].filter(({ sampleRate }) => sampleRate !== undefined);
  const fix = (...some: Device[]): Fix =>
    deviceFix(
      `Run ${some.map(({ name }) => name).join(" and ")} at the show's rate`,
      ...some.map((device) => without(device, "sampleRate")),
    );
  return [...own.map((device) => fix(device)), ...(own.length > 1 ? [fix(...own)] : [])];
}

/** Lets a device follow a port's clock. */
export const followFix = (device: Device, port: { readonly id: GroupId; readonly name: string }): Fix =>
  deviceFix(`Let ${device.name} follow ${port.name}`, { ...device, clock: port.id });

/** Clears the settings of a device's terminals, named by their numbers in the wiring. */
export function clearFix({ device, fabric, base }: WiredDevice, terminals: readonly number[]): Fix {
  const gone = new Set(terminals);
  const numbers = new Map<Span, number[]>();
  for (const span of fabric.layout.spans) {
    for (let n = 0; n < span.count; n++) {
      if (gone.has(base + span.start + n)) gather(numbers, span, n + 1);
    }
  }
  const routing = cleared(device.routing, ({ to }, n) => {
    const span = fabric.layout.destinations.get(to.group);
    return span !== undefined && gone.has(base + span.start + to.first + n - 1);
  });
  const what = [...numbers].map(([span, list]) => `${sideName(span)} ${numbersName(span, list)}`).join("; ");
  return deviceFix(`Clear the settings of ${device.name} ${what}`, { ...device, routing });
}

/**
 * Sets destinations of one device to take the origins that are wanted there from where the device already has them: its
 * own taps, its jacks, or what its links bring. Whole runs are set. Null where it doesn't have one of them, or has it
 * where the run can't be aligned.
 */
export function assignFix(
  rig: Analysed,
  wired: WiredDevice,
  wishes: ReadonlyMap<number, number>,
): Fix | null {
  const carriers = carriersAt(rig, wired, new Set(wishes.values()));
  const runs = new Map<string, Assignment>();
  for (const [destination, root] of wishes) {
    const offset = destination - wired.base;
    const rule = wired.fabric.rules[wired.fabric.rule[offset]!];
    const span = wired.fabric.layout.spans[wired.fabric.layout.spanAt[offset]!];
    if (rule?.kind !== "patch" || !span) return null;
    const number = offset - span.start + 1;
    const run = (carriers.get(root) ?? [])
      .map(({ group, number: taken }) => wholeRun(rule, number, group, taken))
      .find((found) => found !== null);
    if (!run) return null;
    const key = `${run.to.group}:${run.to.first}`;
    const there = runs.get(key);
    if (there && (there.from.group !== run.from.group || there.from.first !== run.from.first)) return null;
    runs.set(key, run);
  }
  const settings = joined([...runs.values()]);
  if (settings.length === 0) return null;
  const { device } = wired;
  const more = settings.length > 1 ? ` and ${settings.length - 1} more` : "";
  return deviceFix(`${device.name}: ${settingName(wired, settings[0]!)}${more}`, {
    ...device,
    routing: settings.reduce(assigned, device.routing),
  });
}

/** The setting of one whole run that would bring an origin to a destination of a device; null where none can. */
export function runTo(
  rig: Analysed,
  wired: WiredDevice,
  destination: number,
  root: number,
): Assignment | null {
  const offset = destination - wired.base;
  const rule = wired.fabric.rules[wired.fabric.rule[offset]!];
  const span = wired.fabric.layout.spans[wired.fabric.layout.spanAt[offset]!]!;
  if (rule?.kind !== "patch") return null;
  const carriers = carriersAt(rig, wired, new Set([root])).get(root) ?? [];
  const runs = carriers.map(({ group, number }) => wholeRun(rule, offset - span.start + 1, group, number));
  return runs.find((run) => run !== null) ?? null;
}

interface Carrier {
  readonly group: GroupId;
  readonly number: number;
  readonly delay: number;
}

/** Where a device has each of the origins, the soonest first. */
function carriersAt(
  { wiring, arrivals }: Analysed,
  { base, fabric }: WiredDevice,
  roots: ReadonlySet<number>,
): ReadonlyMap<number, readonly Carrier[]> {
  const carriers = new Map<number, Carrier[]>();
  for (const span of fabric.layout.sources.values()) {
    for (let n = 0; n < span.count; n++) {
      const terminal = base + span.start + n;
      const root = arrivals.root[terminal]!;
      if (!roots.has(root) || !arrivesAt(wiring, arrivals, terminal)) continue;
      gather(carriers, root, { group: spanGroup(span), number: n + 1, delay: arrivals.delay[terminal]! });
    }
  }
  for (const list of carriers.values()) list.sort((a, b) => a.delay - b.delay);
  return carriers;
}

/** The mode of a type that fits a chain position and leads up by the same port; the given one where it fits already. */
export function modeAt({ fabric }: WiredDevice, position: number): ModeId | null {
  const { modes, clock } = fabric.layout.type;
  const up = fabric.mode?.clock ?? clock;
  if (fabric.mode?.positions?.includes(position)) return fabric.mode.id;
  return modes.find((mode) => mode.positions?.includes(position) && (mode.clock ?? clock) === up)?.id ?? null;
}
