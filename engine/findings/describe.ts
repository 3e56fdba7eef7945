/** How findings speak of things. */
import { CABLES } from "../catalog/cables.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Cable, CableEnd } from "../model/show.ts";
import { cablesById, mixAt } from "../trace/records.ts";
import { fullName, locate, terminalOf } from "../trace/terminal.ts";
import { clockSetting, NO_CLOCK, runsFree } from "../wiring/clock.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { spanGroup, spanName } from "../wiring/layout.ts";

/** `cable K12` or, where it bears no tag, `the Cat 5e, shielded cable from A to B`. */
export function plugs(wiring: Wiring, id: string): string {
  const cable = cablesById(wiring.show).get(id);
  return cable ? cableName(wiring, cable) : `cable ${id}`;
}

/** For the middle of a sentence: `cable K12`, `the multicore from …`. */
export const lowered = (name: string): string => `${name.slice(0, 1).toLowerCase()}${name.slice(1)}`;

export function cableName(wiring: Wiring, cable: Cable): string {
  if (cable.tag) return `Cable ${cable.tag}`;
  return `The ${CABLES[cable.kind].name} from ${endName(wiring, cable.ends[0])} to ${endName(wiring, cable.ends[1])}`;
}

/** `Front of house Link 1`, `Stage left In 17`. */
export function endName(wiring: Wiring, end: CableEnd): string {
  const wired = wiring.devices[wiring.indexOf.get(end.device) ?? -1];
  const device = deviceName(wiring, end.device);
  const span = wired?.fabric.layout.spans.find((candidate) => spanGroup(candidate) === end.group);
  if (!span) return `${device} ${end.group}`;
  return span.side === "jack" ? `${device} ${spanName(span)} ${end.first}` : `${device} ${spanName(span)}`;
}

export const deviceName = ({ show, indexOf }: Wiring, id: DeviceId): string =>
  show.devices[indexOf.get(id) ?? -1]?.name ?? `missing device ${id}`;

/** The name of the mix on a bus, without its side; undefined where none is named there, and for what is no bus. */
export function mixName(wiring: Wiring, terminal: number): string | undefined {
  if (locate(wiring, terminal).span.side !== "bus") return undefined;
  return mixAt(wiring.show, terminalOf(wiring, terminal))?.name;
}

/** `Vocal ears L (Monitors Mix 9)` or just the tap's own name where no mix is named there. */
export function tapName(wiring: Wiring, terminal: number): string {
  const name = fullName(wiring, terminal);
  const mix = mixName(wiring, terminal);
  return mix ? `${name} (${mix})` : name;
}

/**
 * `Truck follows Front of house`, `Truck box follows its own clock`: whose word clock a device runs on. Clocks in a circle
 * are told by F16 in words of its own.
 */
export function clockOf(wiring: Wiring, index: number): string {
  const wired = wiring.devices[index]!;
  const { name } = wired.device;
  const leader = wiring.leaders[index]!;
  if (leader === index && !runsFree(wiring.leaders, wired)) return `${name} follows its own clock`;
  if (leader >= 0 && leader !== index) return `${name} follows ${wiring.devices[leader]!.device.name}`;
  if (leader === NO_CLOCK) return `${name} has no word clock`;
  const followed = clockSetting(wired);
  const port = wired.fabric.layout.type.ports.find(({ id }) => id === followed);
  return `${name} follows ${port?.name ?? followed}, where no clock arrives`;
}

/** How many names a list tells before it counts the rest. */
const MOST_NAMES = 6;

/** `listOf` the names of things that may be many: only those that are told are put together. */
export function namesFrom<Item>(items: readonly Item[], name: (item: Item, n: number) => string): string {
  const names = items.slice(0, MOST_NAMES).map(name);
  const more = items.length - names.length;
  return more > 0 ? `${names.join(", ")} and ${more} more` : listOf(names);
}

/** `A`, `A and B`, `A, B and C`; past `most` names the rest is counted. */
export function listOf(names: readonly string[], most = MOST_NAMES): string {
  if (names.length > most) return `${names.slice(0, most).join(", ")} and ${names.length - most} more`;
  return names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}

/** `1 feed`, `3 feeds`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;
