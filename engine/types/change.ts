/**
 * A new version of a device type in a show: the edits that put it there, and what it would break, told before it is
 * done. The devices follow, since they name their type by its id; no record of theirs is taken away.
 */
import { analyse, reanalyse, type Analysis } from "../analysis.ts";
import { cableName, counted } from "../findings/describe.ts";
import type { Finding } from "../findings/finding.ts";
import { idle } from "../findings/settings.ts";
import type { DeviceType } from "../model/device-type.ts";
import { applyEdits, type Edit } from "../model/edit.ts";
import type { DeviceId, GroupId } from "../model/ids.ts";
import { gather } from "../model/once.ts";
import type { Show, TerminalRef } from "../model/show.ts";
import {
  findTerminal,
  locate,
  namesOf,
  ranges,
  shortName,
  sideName,
  terminalOf,
  type Terminal,
} from "../trace/terminal.ts";
import { originName } from "../trace/told.ts";
import type { VerdictKind } from "../trace/trace.ts";
import { traceOf } from "../trace/walk.ts";
import { isOutput, spanGroup, spanName, type Span } from "../wiring/layout.ts";
import type { PluggedCable } from "../wiring/plugs.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";

/** Something of the show that would name what the new version doesn't have, or do nothing any more. */
export interface Loss {
  readonly what:
    | "mode"
    | "clock"
    | "setting"
    | "insert"
    | "cable"
    | "source"
    | "channel"
    | "mix"
    | "want"
    | "stream"
    | "group";
  /** The device of the type that it concerns. */
  readonly device: DeviceId;
  /** What it is, as the user knows it: `Source “Kick”`, `The settings of Link 1 out 9–16`. */
  readonly name: string;
  /** Why, in a few words: `In 17 is gone`. */
  readonly why: string;
}

/** What comes to a jack or channel, and from where. */
export interface EndState {
  readonly verdict: VerdictKind;
  /** The source or tap; null where nothing arrives. */
  readonly from: string | null;
}

/** An output jack, or a channel that is planned, to which something else comes than before. */
export interface EndChange {
  readonly at: Terminal;
  readonly name: string;
  /** Null: there was no such jack. */
  readonly was: EndState | null;
  /** Null: there is none any more. */
  readonly becomes: EndState | null;
}

export interface DeviceChange {
  readonly device: DeviceId;
  readonly name: string;
  readonly ends: readonly EndChange[];
  /** Ends that something came to and nothing does any more. */
  readonly dark: number;
  /** Ends that something comes to and nothing did before. */
  readonly lit: number;
  /** Ends that something comes to from elsewhere than before. */
  readonly moved: number;
  /** Of those that stay dark: the ones that do so for another reason, are gone, or are new. */
  readonly other: number;
}

export interface TypeChange {
  /** One step of undo. */
  readonly edits: readonly Edit[];
  /** The devices that follow. */
  readonly devices: readonly DeviceId[];
  readonly lost: readonly Loss[];
  /** Devices with ends that change, in the show's order. */
  readonly ends: readonly DeviceChange[];
  /** Errors and warnings that the show doesn't have now. */
  readonly findings: readonly Finding[];
}

/** What a new version of a type does to a show. The type may also be new to it, in which case nothing breaks. */
export const changeType = (show: Show, type: DeviceType): TypeChange => changeTypeIn(analyse(show), type);

/** The same for a show that has been analysed. */
export function changeTypeIn(before: Analysis, type: DeviceType): TypeChange {
  const { show } = before;
  const edits: readonly Edit[] = [{ kind: "put", list: "types", record: type }];
  const devices = show.devices.filter((device) => device.type === type.id).map(({ id }) => id);
  if (devices.length === 0) return { edits, devices, lost: [], ends: [], findings: [] };
  const after = reanalyse(applyEdits(show, edits), before);
  const known = new Set(before.findings.map(({ id, severity }) => `${severity} ${id}`));
  return {
    edits,
    devices,
    lost: lostBetween(before.wiring, after.wiring, new Set(devices)),
    ends: endsBetween(before, after),
    findings: after.findings.filter(
      ({ id, severity }) => severity !== "note" && !known.has(`${severity} ${id}`),
    ),
  };
}

export const breaksNothing = ({ lost, ends, findings }: TypeChange): boolean =>
  lost.length === 0 && ends.length === 0 && findings.length === 0;

function lostBetween(before: Wiring, after: Wiring, concerned: ReadonlySet<DeviceId>): readonly Loss[] {
  const { show } = before;
  const lost: Loss[] = [];
  /** Null where the terminal is there in both, or was in neither. */
  const gone = (ref: TerminalRef): string | null => {
    if (!concerned.has(ref.device)) return null;
    const at = findTerminal(before, ref);
    return at === null || findTerminal(after, ref) !== null ? null : `${shortName(before, at)} is gone`;
  };
  const lose = (what: Loss["what"], device: DeviceId, name: string, why: string | null): void => {
    if (why !== null) lost.push({ what, device, name, why });
  };
  for (const id of concerned) {
    const index = before.indexOf.get(id)!;
    const [was, is] = [before.devices[index], after.devices[index]];
    if (was && is) lost.push(...lostInside(was, is));
  }
  after.plugs.cables.forEach((plugged, n) => {
    const loss = cableLoss(before, before.plugs.cables[n]!, plugged, concerned);
    if (loss) lost.push(loss);
  });
  for (const { name, at } of show.sources) lose("source", at.device, `Source “${name}”`, gone(at));
  for (const { console: device, group, number, name } of show.channels) {
    lose("channel", device, `Channel ${number} “${name}”`, gone({ device, group, number }));
  }
  for (const { console: device, group, first, width, name, members } of show.mixes) {
    const bus = gone({ device, group, number: first + width - 1 }) ?? gone({ device, group, number: first });
    lose("mix", device, `Mix “${name}”`, bus);
    if (bus !== null || !concerned.has(device)) continue;
    const away = members.filter(
      ({ group: section, number }) => gone({ device, group: section, number }) !== null,
    );
    if (away.length === 0) continue;
    const names = namesOf(
      before,
      away.map(({ group: section, number }) => findTerminal(before, { device, group: section, number })!),
    );
    lose(
      "mix",
      device,
      `${counted(away.length, "member")} of mix “${name}”`,
      `${inside(before, device, names)} ${away.length === 1 ? "is" : "are"} gone`,
    );
  }
  for (const { name, to, from } of show.wants) {
    lose("want", to.device, `Want “${name}”`, gone(to));
    if (from) lose("want", from.device, `The origin of want “${name}”`, gone(from));
  }
  for (const { name, from, to } of show.streams ?? []) {
    for (const { device, group } of [from, ...to]) {
      if (!concerned.has(device)) continue;
      const isPort = (wiring: Wiring): boolean => networkPort(wiring, device, group);
      if (isPort(before) && !isPort(after)) {
        lose(
          "stream",
          device,
          `Stream “${name}”`,
          `${groupName(before, device, group)} is no network port any more`,
        );
      }
    }
  }
  for (const { name, members } of show.groups ?? []) {
    for (const member of members) lose("group", member.device, `A member of group “${name}”`, gone(member));
  }
  return lost;
}

/** Names within one device, without the device's own name before each. */
const inside = (wiring: Wiring, device: DeviceId, names: string): string => {
  const { name } = wiring.devices[wiring.indexOf.get(device)!]!.device;
  return names.replaceAll(`${name} `, "");
};

function networkPort({ devices, indexOf }: Wiring, device: DeviceId, group: GroupId): boolean {
  const ports = devices[indexOf.get(device) ?? -1]?.fabric.layout.type.ports ?? [];
  return ports.some(({ id, network }) => id === group && network !== undefined);
}

function groupName({ devices, indexOf }: Wiring, device: DeviceId, group: GroupId): string {
  const layout = devices[indexOf.get(device) ?? -1]?.fabric.layout;
  const span = layout?.sources.get(group) ?? layout?.destinations.get(group);
  return span ? spanName(span) : `“${group}”`;
}

/** Mode, clock, settings and inserts of one device. */
function lostInside(was: WiredDevice, is: WiredDevice): readonly Loss[] {
  const { device } = was;
  const lost: Loss[] = [];
  if (was.fabric.mode && !is.fabric.mode) {
    const { name } = was.fabric.mode;
    lost.push({
      what: "mode",
      device: device.id,
      name: `${device.name} in mode “${name}”`,
      why: "the mode is gone",
    });
  }
  const { clock } = device;
  const hasPort = ({ fabric }: WiredDevice): boolean =>
    fabric.layout.type.ports.some(({ id }) => id === clock);
  if (clock !== undefined && hasPort(was) && !hasPort(is)) {
    lost.push({
      what: "clock",
      device: device.id,
      name: `The word clock of ${device.name}`,
      why: "the port that it follows is gone",
    });
  }
  const idleNow = new Map<string, number[]>();
  for (const setting of device.routing) {
    const span = was.fabric.layout.destinations.get(setting.to.group);
    const next = is.fabric.layout.destinations.get(setting.to.group);
    for (let n = 0; span && n < setting.count && setting.to.first + n <= span.count; n++) {
      if (idle(was, span, setting, n) !== null) continue;
      const number = setting.to.first + n;
      const why = !next || number > next.count ? "gone" : idle(is, next, setting, n);
      if (why !== null) gather(idleNow, `${why}:${sideName(span)}`, number);
    }
  }
  for (const [key, numbers] of idleNow) {
    const why = key.slice(0, key.indexOf(":"));
    const name = key.slice(why.length + 1);
    lost.push({
      what: "setting",
      device: device.id,
      name: `The settings of ${name} ${ranges(numbers)}`,
      why: SETTING_WORDS[why as "gone"],
    });
  }
  for (const { group, first, count } of device.inserts ?? []) {
    const back = was.fabric.layout.destinations.get(group);
    const next = is.fabric.layout.destinations.get(group);
    if (!back || first > back.count || (next && Math.min(first + count - 1, back.count) <= next.count))
      continue;
    lost.push({
      what: "insert",
      device: device.id,
      name: `The inserts at ${sideName(back)}`,
      why: next ? `there are only ${next.count} now` : "the return is gone",
    });
  }
  return lost;
}

const SETTING_WORDS = {
  gone: "they are gone",
  overruled: "a rule wires them now",
  refused: "the rules can't hold it any more",
} as const;

/** A cable that joined something and joins nothing, or fewer jacks than before. */
function cableLoss(
  wiring: Wiring,
  was: PluggedCable,
  is: PluggedCable,
  concerned: ReadonlySet<DeviceId>,
): Loss | null {
  const end = was.cable.ends.find(({ device }) => concerned.has(device));
  if (!end || was.join.kind === "misfit") return null;
  const name = cableName(wiring, was.cable);
  const at = { what: "cable", device: end.device, name } as const;
  if (is.join.kind === "misfit") {
    const why = {
      missing: "what it was plugged in is gone",
      unlike: "its ends are unlike now",
      "same-direction": "its ends don't take what the other sends any more",
    };
    return { ...at, why: why[is.join.why] };
  }
  if (was.join.kind !== "jacks" || is.join.kind !== "jacks") return null;
  const fits = (join: Extract<PluggedCable["join"], { kind: "jacks" }>): number =>
    Math.min(
      ...[join.from, join.to].map(({ bank, first }) =>
        Math.max(0, Math.min(was.cable.ways, bank.count - first + 1)),
      ),
    );
  const [joined, left] = [fits(was.join), fits(is.join)];
  return left < joined
    ? { ...at, why: `${counted(joined - left, "of its ways joins", "of its ways join")} nothing any more` }
    : null;
}

/** Where the ends that people look at stand: output jacks, and channels that are planned. */
function* endsOf(
  wired: WiredDevice,
  planned: ReadonlySet<string>,
): Iterable<{ span: Span; number: number; key: string }> {
  for (const span of wired.fabric.layout.spans) {
    const isChannel = span.side === "bus" && span.section.role === "channel";
    if (!isOutput(span) && !isChannel) continue;
    for (let number = 1; number <= span.count; number++) {
      const key = `${spanGroup(span)}:${number}`;
      if (!isChannel || planned.has(`${wired.device.id}:${key}`)) yield { span, number, key };
    }
  }
}

function endsBetween(before: Analysis, after: Analysis): readonly DeviceChange[] {
  const planned = new Set(
    before.show.channels.map(({ console: device, group, number }) => `${device}:${group}:${number}`),
  );
  return before.wiring.devices.flatMap((was, index): DeviceChange[] => {
    const is = after.wiring.devices[index];
    if (!was || !is) return [];
    const ends: EndChange[] = [];
    const met = new Set<string>();
    for (const { span, number, key } of endsOf(was, planned)) {
      met.add(key);
      const at = was.base + span.start + number - 1;
      const next = findTerminal(after.wiring, terminalOf(before.wiring, at));
      if (next !== null && sameRoot(before, at, after, next)) continue;
      const change = {
        was: arrivalAt(before.wiring, at),
        becomes: next === null ? null : arrivalAt(after.wiring, next),
      };
      if (change.becomes && alike(change.was, change.becomes)) continue;
      ends.push({ at: terminalOf(before.wiring, at), name: shortName(before.wiring, at), ...change });
    }
    for (const { span, number, key } of is.fabric === was.fabric ? [] : endsOf(is, planned)) {
      const at = is.base + span.start + number - 1;
      if (met.has(key)) continue;
      const becomes = arrivalAt(after.wiring, at);
      // A new jack that nothing comes to changes nothing.
      if (becomes.from === null) continue;
      ends.push({ at: terminalOf(after.wiring, at), name: shortName(after.wiring, at), was: null, becomes });
    }
    return ends.length === 0 ? [] : [{ device: was.device.id, name: was.device.name, ends, ...counts(ends) }];
  });
}

const alike = (a: EndState, b: EndState): boolean => a.verdict === b.verdict && a.from === b.from;

/** Whether a chase ends at the same terminal in the same state before and after; told without making a trace. */
function sameRoot(before: Analysis, at: number, after: Analysis, next: number): boolean {
  const [a, b] = [before.arrivals.root[at]!, after.arrivals.root[next]!];
  if (a < 0 || b < 0) return a === b;
  if (before.wiring.state[a] !== after.wiring.state[b]) return false;
  const [from, to] = [locate(before.wiring, a), locate(after.wiring, b)];
  return (
    from.wired.index === to.wired.index &&
    from.number === to.number &&
    from.span.side === to.span.side &&
    spanGroup(from.span) === spanGroup(to.span)
  );
}

function arrivalAt(wiring: Wiring, terminal: number): EndState {
  const { verdict } = traceOf(wiring, terminal);
  return {
    verdict: verdict.kind,
    from: verdict.kind === "arrives" ? originName(wiring, verdict.origin) : null,
  };
}

function counts(ends: readonly EndChange[]): Pick<DeviceChange, "dark" | "lit" | "moved" | "other"> {
  const sum = { dark: 0, lit: 0, moved: 0, other: 0 };
  for (const { was, becomes } of ends) {
    const [from, to] = [was?.from ?? null, becomes?.from ?? null];
    if (from !== null && to === null) sum.dark++;
    else if (from === null && to !== null) sum.lit++;
    else if (from !== null) sum.moved++;
    else sum.other++;
  }
  return sum;
}
