/** Ways and what stands in theirs, in the trade's words. */
import type { GroupId } from "../model/ids.ts";
import { never } from "../model/result.ts";
import type { Assignment } from "../model/show.ts";
import { listOf, tapName } from "../findings/describe.ts";
import { sourcesById, wiredOf } from "../trace/records.ts";
import { fullName, locate, namesOf, shortName, sideName } from "../trace/terminal.ts";
import { settingName, verdictText } from "../trace/told.ts";
import { traceOf } from "../trace/walk.ts";
import { spanGroup, type Span } from "../wiring/layout.ts";
import { Edge, State, type WiredDevice, type Wiring } from "../wiring/wiring.ts";
import { decidedAt, jacksWithin, type NoWay, type WaySettings } from "./ways.ts";

/** A setting of a way: how the device's own page is to read, and how it reads before. */
export interface SettingLine {
  readonly device: string;
  /** `Link 2 out 17–24 takes Mix 1–8` */
  readonly reads: string;
  /** `takes nothing`, `takes Mix 9–16`, `takes several`: what the same destinations take before. */
  readonly before: string;
}

/** The settings of a way, line by line, in its order. */
export function settingLines(wiring: Wiring, settings: readonly WaySettings[]): readonly SettingLine[] {
  return settings.flatMap(({ device: id, settings: runs }): SettingLine[] => {
    const wired = wiredOf(wiring, id);
    if (!wired) return [];
    return runs.map((setting) => ({
      device: wired.device.name,
      reads: settingName(wired, setting),
      before: takenBefore(wiring, wired, setting),
    }));
  });
}

function takenBefore(wiring: Wiring, wired: WiredDevice, { to, count }: Assignment): string {
  const span = wired.fabric.layout.destinations.get(to.group)!;
  const first = wired.base + span.start + to.first - 1;
  const feeders = Array.from({ length: count }, (_, n) =>
    wiring.edge[first + n] === Edge.patched ? wiring.feeder[first + n]! : -1,
  );
  const head = feeders[0]!;
  if (feeders.every((feeder) => feeder < 0)) return "takes nothing";
  if (head < 0 || feeders.some((feeder, n) => feeder !== head + n)) return "takes several";
  const { span: from, number } = locate(wiring, head);
  return `takes ${sideName(from)} ${count === 1 ? number : `${number}–${number + count - 1}`}`;
}

/** What arrives at a terminal, named as a person would ask for it: `Drum ears L (Monitors Mix 9)`, `Kick (Stage left In 1)`. */
export function signalAt(wiring: Wiring, root: number): string {
  const source = wiring.show.sources[wiring.sourceAt[root]!];
  return wiring.state[root] === State.source && source
    ? `${sourcesById(wiring.show).get(source.id)!.name} (${fullName(wiring, root)})`
    : tapName(wiring, root);
}

/** Why there is no way, in one or two sentences that say where to look. */
export function noWayText(wiring: Wiring, { source, target, why }: NoWay): string {
  const what = tapName(wiring, source);
  const where = fullName(wiring, target);
  switch (why.kind) {
    case "fixed":
      return `No setting can bring anything to ${where}: ${verdictText(wiring, traceOf(wiring, target))}.`;
    case "unaligned": {
      const { wired, span, number } = locate(wiring, why.at);
      const taken = locate(wiring, source);
      return `${wired.device.name} sets ${sideName(span)} in blocks of ${why.run}, so ${shortName(wiring, source)} can't go to ${sideName(span)} ${number}: they aren't at the same position in their blocks${ownStart(taken.span, taken.number)}.`;
    }
    case "in-the-way":
      return `Every route from ${what} to ${where} uses slots that the rest of these signals need.`;
    case "too-many":
      return `There are too many possible routes to ${where} to search; ask for fewer signals at once.`;
    case "apart":
      return `No setting leads from ${what} to ${where}${setBy(wiring, source, target)}. ${[
        ...takenThere(wiring, source, target),
        getsTo(wiring, source, target) ?? outsOf(wiring, source),
      ].join(" ")}`;
    default:
      return never(why);
  }
}

/** Who sets what comes to the target, where that is another device than the source's. */
function setBy(wiring: Wiring, source: number, target: number): string {
  const decided = decidedAt(wiring, target);
  if (decided === null || wiring.deviceOf[decided] === wiring.deviceOf[source]) return "";
  const { wired, span, number } = locate(wiring, decided);
  return `: ${wired.device.name} sets what comes there (${sideName(span)} ${number})`;
}

/**
 * The port that the target's device takes it from, whose cable leads to another device than the source's, though that is
 * plugged in there too.
 */
function takenThere(wiring: Wiring, source: number, target: number): readonly string[] {
  const { wired, span, number } = locate(wiring, target);
  const from = wiring.feeder[target]!;
  if (from < 0 || wiring.edge[target] === Edge.patched || wiring.deviceOf[from] !== wired.index) return [];
  const { span: taken } = locate(wiring, from);
  if (taken.side !== "receive") return [];
  const farOf = (port: GroupId): WiredDevice | undefined =>
    wiring.plugs.ofPort(wired.index, port)?.far?.device;
  const { index, device } = locate(wiring, source).wired;
  const far = farOf(taken.port.id);
  const own = wired.fabric.layout.type.ports.filter(({ id }) => farOf(id)?.index === index);
  if (!far || far.index === index || own.length === 0) return [];
  const mode = wired.fabric.mode ? ` in mode “${wired.fabric.mode.name}”` : "";
  return [
    `${wired.device.name} takes ${sideName(span)} ${number} from ${taken.port.name}${mode}, where ${far.device.name} is ` +
      `plugged in; ${device.name} is plugged in ${listOf(own.map(({ name }) => name))}.`,
  ];
}

/** The jacks that the source can be brought to, so that another may be taken; null where there is none, or none is asked. */
function getsTo(wiring: Wiring, source: number, target: number): string | null {
  if (locate(wiring, target).span.side !== "jack") return null;
  const { device, index } = locate(wiring, source).wired;
  const jacks = jacksWithin(wiring, source).filter((jack) => wiring.deviceOf[jack] !== index);
  return jacks.length === 0
    ? null
    : `With these cables and modes ${device.name} can reach ${namesOf(wiring, jacks)}.`;
}

const ownStart = (span: Span, number: number): string =>
  span.side === "bus" && span.section.block > 1
    ? ` (${sideName(span)} ${number} is ${ordinal(((number - 1) % span.section.block) + 1)} of its block of ${span.section.block})`
    : "";

const ORDINALS = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"] as const;
const ordinal = (number: number): string => ORDINALS[number - 1] ?? `number ${number}`;

/** Where a device can hand a signal on, and what is plugged there. */
function outsOf(wiring: Wiring, source: number): string {
  const { wired, span } = locate(wiring, source);
  const outs = outsIn(wired, spanGroup(span));
  const { name } = wired.device;
  if (outs.size === 0) return `${name} can't pass ${sideName(span)} on to anything in this mode.`;
  const stuck: string[] = [];
  const told = [...outs].map((to) => {
    if (to.side !== "send") return sideName(to);
    const far = wiring.plugs.ofPort(wired.index, to.port.id)?.far;
    if (!far) return `${sideName(to)} (nothing plugged in)`;
    const { device, fabric } = far.device;
    if (outsIn(far.device, far.port.id).size === 0)
      stuck.push(
        `${device.name} can't pass ${far.port.name} on to anything${fabric.mode ? ` in mode “${fabric.mode.name}”` : ""}.`,
      );
    return `${sideName(to)} (to ${device.name})`;
  });
  return [`${name} can pass ${sideName(span)} on to ${listOf(told)}.`, ...stuck].join(" ");
}

/** The destinations that take from a group in the device's mode. */
function outsIn(wired: WiredDevice, group: GroupId): ReadonlySet<Span> {
  const outs = new Set<Span>();
  for (const rule of wired.fabric.rules) {
    const takes =
      rule.kind === "patch"
        ? rule.from.some((range) => range.group === group)
        : rule.kind === "wired"
          ? rule.from.group === group
          : rule.from === group;
    const to = wired.fabric.layout.destinations.get(rule.kind === "carry" ? rule.to : rule.to.group);
    if (takes && to) outs.add(to);
  }
  return outs;
}
