/** F18 and F19: mixes that don't fit the buses they lie on, and members that their section doesn't take. */
import type { MixSection } from "../model/device-type.ts";
import type { GroupId } from "../model/ids.ts";
import type { Mix, MixMember } from "../model/show.ts";
import { findTerminal, ranges, terminalOf } from "../trace/terminal.ts";
import { DIRECT, mixOutOf } from "../wiring/mixes.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import { counted, listOf } from "./describe.ts";
import { found, type Check, type Finding, type Fix } from "./finding.ts";
import { gather } from "../model/once.ts";

/** Where a mix lies: a section of the mix engine, and the number of its first bus in the wiring. */
interface PlaceOfMix {
  readonly wired: WiredDevice;
  readonly section: MixSection;
  readonly start: number;
}

/** Null where the show doesn't have it, which check F14 tells. */
function placeOf(wiring: Wiring, { console: desk, group }: Mix): PlaceOfMix | null {
  const wired = wiring.devices[wiring.indexOf.get(desk) ?? -1];
  const span = wired?.fabric.layout.sources.get(group) ?? wired?.fabric.layout.destinations.get(group);
  if (!wired || span?.side !== "bus") return null;
  return { wired, section: span.section, start: wired.base + span.start };
}

const takesNone = ({ role }: MixSection): boolean => role === "send" || role === "return" || role === "join";
const isMixed = (section: MixSection): boolean =>
  section.role !== "direct" && section.role !== "channel" && !takesNone(section);

const mixName = ({ name, group, first }: Mix): string =>
  name ? `“${name}”` : `the mix on ${group} ${first}`;

export const busUse: Check = {
  id: "bus-use",
  about: "two mixes on one bus, or a stereo mix across two pairs",
  reads: ({ wiring }) => [wiring.show.mixes],
  run: ({ wiring }) => {
    const { mixes } = wiring.show;
    const onBus = firstMixes(wiring);
    const findings: Finding[] = [];
    let place: PlaceOfMix | null = null;
    mixes.forEach((mix, n) => {
      // Mixes stand section by section, so each section is looked up about once.
      const before = mixes[n - 1];
      if (before?.console !== mix.console || before.group !== mix.group) place = placeOf(wiring, mix);
      // A direct out and a channel take no mix at all, which check F19 tells.
      if (!place || !isMixed(place.section)) return;
      let shared: number[] | null = null;
      let earlier: number[] | null = null;
      for (let bus = mix.first; bus < mix.first + mix.width; bus++) {
        const first = onBus(place, bus, n);
        if (first === n) continue;
        (shared ??= []).push(bus);
        if (!earlier?.includes(first)) (earlier ??= []).push(first);
      }
      if (shared && earlier) {
        const others = earlier.map((each) => mixes[each]!);
        findings.push(twice(wiring, place, mix, others, shared));
      }
      if (mix.width === 2 && mix.first % 2 === 0) findings.push(misaligned(wiring, place, mix));
    });
    return findings;
  },
  propose: ({ wiring }, { id }) => {
    const mix = wiring.show.mixes.find((each) => id.endsWith(`:${each.id}`));
    if (!mix) return [];
    const away = freeBuses(wiring, mix);
    return [
      ...(away === null
        ? []
        : [mixFix(`Move ${mixName(mix)} to ${busesName(wiring, mix, away)}`, { ...mix, first: away })]),
      ...sharing(wiring, mix).map((each): Fix => ({
        label: `Take ${mixName(each)} out`,
        edits: [{ kind: "remove", list: "mixes", id: each.id }],
      })),
    ];
  },
};

/** Tells which mix took a bus first, by its place in the show; the one that asks, where none did before. */
function firstMixes({ size }: Wiring): (place: PlaceOfMix, bus: number, mix: number) => number {
  const first = new Int32Array(size).fill(-1);
  // Buses that the section doesn't have are told by check F14, and are used twice all the same.
  const beyond = new Map<string, number>();
  return ({ wired, section, start }, bus, mix) => {
    if (bus >= 1 && bus <= section.count) {
      const at = start + bus - 1;
      if (first[at] === -1) first[at] = mix;
      return first[at]!;
    }
    const key = `${wired.index}:${section.id}:${bus}`;
    const known = beyond.get(key) ?? mix;
    beyond.set(key, known);
    return known;
  };
}

const mixFix = (label: string, record: Mix): Fix => ({
  label,
  edits: [{ kind: "put", list: "mixes", record }],
});

const lastBus = ({ first, width }: Mix): number => first + width - 1;

/** The mixes that lie on a bus of a mix, itself last; none where it has its buses to itself. */
function sharing({ show }: Wiring, mix: Mix): readonly Mix[] {
  const others = show.mixes.filter(
    (each) =>
      each.id !== mix.id &&
      each.console === mix.console &&
      each.group === mix.group &&
      each.first <= lastBus(mix) &&
      lastBus(each) >= mix.first,
  );
  return others.length === 0 ? [] : [...others, mix];
}

/**
 * The first buses that a mix could move to: aligned, in no mix and with nothing behind them. Null where there are none, or
 * where something takes from the buses that it lies on, which would go silent.
 */
function freeBuses(wiring: Wiring, mix: Mix): number | null {
  const count = placeOf(wiring, mix)?.section.count ?? 0;
  const inMixes = new Set<number>();
  for (const other of wiring.show.mixes) {
    if (other.id === mix.id || other.console !== mix.console || other.group !== mix.group) continue;
    for (let bus = other.first; bus <= lastBus(other); bus++) inMixes.add(bus);
  }
  const idle = (first: number): boolean => {
    for (let bus = first; bus < first + mix.width; bus++) if (takenFrom(wiring, mix, bus)) return false;
    return true;
  };
  if (!idle(mix.first)) return null;
  for (let first = 1; first + mix.width - 1 <= count; first += mix.width) {
    if (!inMixes.has(first) && !inMixes.has(first + mix.width - 1) && idle(first)) return first;
  }
  return null;
}

/** Whether a setting, a mix or a want takes from a bus. From one that the console doesn't have nothing can be had. */
function takenFrom(wiring: Wiring, { console: device, group }: Mix, number: number): boolean {
  const bus = findTerminal(wiring, { device, group, number });
  if (bus === null) return false;
  const { downStart } = wiring;
  const out = mixOutOf(wiring);
  const wanted = wiring.show.wants.some(
    ({ from }) => from?.device === device && from.group === group && from.number === number,
  );
  const handsOn = (terminal: number): boolean => downStart[terminal + 1]! > downStart[terminal]!;
  if (wanted || handsOn(bus)) return true;
  for (let n = out.start[bus]!; n < out.start[bus + 1]!; n++) {
    // The send of an insert takes the bus whether anybody uses it or not.
    if (out.mix[n] !== DIRECT || handsOn(out.terminal[n]!)) return true;
  }
  return false;
}

function busesName(wiring: Wiring, mix: Mix, first: number): string {
  const { section } = placeOf(wiring, mix)!;
  return `${section.name} ${mix.width === 1 ? first : `${first}–${first + 1}`}`;
}

function busesAt(wiring: Wiring, mix: Mix, buses: readonly number[]): Finding["terminals"] {
  return buses.flatMap((number) => {
    const bus = findTerminal(wiring, { device: mix.console, group: mix.group, number });
    return bus === null ? [] : [terminalOf(wiring, bus)];
  });
}

function twice(
  wiring: Wiring,
  { wired, section }: PlaceOfMix,
  mix: Mix,
  earlier: readonly Mix[],
  shared: readonly number[],
): Finding {
  const where = `${wired.device.name} ${section.name} ${ranges(shared)}`;
  const names = [...earlier, mix].map(mixName);
  return found(
    {
      id: `bus-use:twice:${mix.id}`,
      check: "bus-use",
      severity: "error",
      title: `${listOf(names)} lie on one bus: ${where}`,
      reason: `A bus carries one mix; there the members of ${listOf(names)} are all summed.`,
    },
    { terminals: busesAt(wiring, mix, shared), devices: [wired.device.id] },
  );
}

/** That buses pair odd with even, 1–2, 3–4 and so on, is common practice. */
function misaligned(wiring: Wiring, { wired, section }: PlaceOfMix, mix: Mix): Finding {
  const { first } = mix;
  return found(
    {
      id: `bus-use:pair:${mix.id}`,
      check: "bus-use",
      severity: "error",
      title: `${mixName(mix)} is stereo across two pairs: ${wired.device.name} ${section.name} ${first}–${first + 1}`,
      reason: `Buses pair odd with even: ${first - 1}–${first} and ${first + 1}–${first + 2}. A stereo mix starts on an odd one.`,
    },
    { terminals: busesAt(wiring, mix, [first, first + 1]), devices: [wired.device.id] },
  );
}

/** Members that exist and that the mix's section doesn't take. A direct out takes its own channel and no other. */
function refusedMembers(wiring: Wiring, mix: Mix): readonly MixMember[] {
  const place = placeOf(wiring, mix);
  if (!place) return [];
  const { wired, section } = place;
  const { destinations, sources } = wired.fabric.layout;
  const refused: MixMember[] = [];
  // Members stand section by section, so each section is looked up about once.
  let group: GroupId | null = null;
  let count = 0;
  let takes = false;
  for (const member of mix.members) {
    if (member.group !== group) {
      ({ group } = member);
      const span = destinations.get(group) ?? sources.get(group);
      count = span?.side === "bus" ? span.count : 0;
      takes = section.from.includes(group);
    }
    // What doesn't exist is told by check F14.
    if (member.number < 1 || member.number > count) continue;
    if (!takes || takesNone(section) || (section.role === "direct" && member.number !== mix.first))
      refused.push(member);
  }
  return refused;
}

export const mixMemberRefused: Check = {
  id: "mix-member-refused",
  about: "a mix with a member that its section doesn't take",
  reads: ({ wiring }) => [wiring.show.mixes],
  run: ({ wiring }) => {
    const findings: Finding[] = [];
    wiring.show.mixes.forEach((mix, n) => {
      if (wiring.mixWhole[n] === 1) return;
      const refused = refusedMembers(wiring, mix);
      if (refused.length > 0) findings.push(refusal(wiring, mix, refused));
    });
    return findings;
  },
  propose: ({ wiring }, { id }) => {
    const mix = wiring.show.mixes.find((each) => id === `mix-member-refused:${each.id}`);
    if (!mix) return [];
    const refused = new Set(refusedMembers(wiring, mix));
    return [
      mixFix(`Take ${counted(refused.size, "member")} out of ${mixName(mix)}`, {
        ...mix,
        members: mix.members.filter((member) => !refused.has(member)),
      }),
    ];
  },
};

function refusal(wiring: Wiring, mix: Mix, refused: readonly MixMember[]): Finding {
  const { wired, section } = placeOf(wiring, mix)!;
  const sections = new Map((wired.fabric.layout.type.mixer?.sections ?? []).map((each) => [each.id, each]));
  const numbers = new Map<string, number[]>();
  for (const { group, number } of refused) gather(numbers, sections.get(group)?.name ?? group, number);
  const names = [...numbers].map(([name, list]) => `${name} ${ranges(list)}`);
  const takes = section.from.map((group) => sections.get(group)?.name ?? group);
  return found(
    {
      id: `mix-member-refused:${mix.id}`,
      check: "mix-member-refused",
      severity: "error",
      title: `${mixName(mix)} can't take ${listOf(names)} of ${wired.device.name}`,
      reason: `${rule(section, takes)} ${counted(refused.length, "member")} of ${mix.members.length} ${refused.length === 1 ? "is" : "are"} silent there.`,
    },
    { terminals: busesAt(wiring, mix, [mix.first]), devices: [wired.device.id] },
  );
}

/** Matrices fed from mains and mixes only, never straight from a channel, is common practice. */
function rule(section: MixSection, takes: readonly string[]): string {
  if (section.role === "channel") return "A channel takes its input and no mix.";
  if (section.role === "return") return "An insert return takes its input and no mix.";
  if (section.role === "send") return "An insert send takes what stands before the insert and nothing else.";
  if (section.role === "join") return "A passive join takes its own legs and nothing else.";
  if (section.role === "direct") return "A direct out takes its own channel and nothing else.";
  if (takes.length === 0) return `${section.name} takes nothing through the mixer.`;
  const never = section.role === "matrix" ? ", never a channel directly" : "";
  return `${section.name} takes ${listOf(takes)} only${never}.`;
}
