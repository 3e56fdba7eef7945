/** A terminal as the outside world names it, and the way from and to its number in the wiring. */
import type { DeviceId, GroupId } from "../model/ids.ts";
import { runsIn } from "../model/runs.ts";
import type { TerminalRef } from "../model/show.ts";
import { mostSlots, spanGroup, spanName, type Side, type Span, type TypeLayout } from "../wiring/layout.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";

export interface Terminal {
  readonly device: DeviceId;
  readonly group: GroupId;
  readonly side: Side;
  /** Counted from 1 within the group. */
  readonly number: number;
}

/** The device and span that a terminal of the wiring lies in. */
export function locate(
  wiring: Wiring,
  terminal: number,
): { readonly wired: WiredDevice; readonly span: Span; readonly number: number } {
  const wired = wiring.devices[wiring.deviceOf[terminal]!]!;
  const offset = terminal - wired.base;
  const { spans, spanAt } = wired.fabric.layout;
  const span = spans[spanAt[offset]!]!;
  return { wired, span, number: offset - span.start + 1 };
}

/** The span alone, for walks over many terminals. */
export function spanAt({ devices, deviceOf }: Wiring, terminal: number): Span {
  const { base, fabric } = devices[deviceOf[terminal]!]!;
  return fabric.layout.spans[fabric.layout.spanAt[terminal - base]!]!;
}

export function terminalOf({ devices, deviceOf }: Wiring, terminal: number): Terminal {
  const { base, device, fabric } = devices[deviceOf[terminal]!]!;
  const offset = terminal - base;
  const span = fabric.layout.spans[fabric.layout.spanAt[offset]!]!;
  return { device: device.id, group: spanGroup(span), side: span.side, number: offset - span.start + 1 };
}

/** The terminal's number in the wiring, or null where the rig has none such. Of a port with no side named: what it receives. */
export function findTerminal(wiring: Wiring, ref: TerminalRef & { readonly side?: Side }): number | null {
  const wired = wiring.devices[wiring.indexOf.get(ref.device) ?? -1];
  if (!wired) return null;
  const { sources, destinations } = wired.fabric.layout;
  const fits = (one: Span | undefined): one is Span =>
    one !== undefined && (ref.side === undefined || one.side === ref.side);
  const source = sources.get(ref.group);
  const span = fits(source) ? source : destinations.get(ref.group);
  if (!fits(span) || ref.number < 1 || ref.number > span.count) return null;
  return wired.base + span.start + ref.number - 1;
}

/**
 * `findTerminal` for many records, which mostly name the device and group of the record before: it remembers both. −1
 * where the rig has none such.
 */
export function terminalFinder({ devices, indexOf }: Wiring): TerminalFinder {
  let device: DeviceId | null = null;
  let group: GroupId | null = null;
  let base = 0;
  let layout: TypeLayout | null = null;
  let span: Span | undefined;
  return (ofDevice, ofGroup, number) => {
    if (ofDevice !== device) {
      const wired = devices[indexOf.get(ofDevice) ?? -1];
      device = ofDevice;
      group = null;
      base = wired?.base ?? 0;
      layout = wired?.fabric.layout ?? null;
    }
    if (ofGroup !== group) {
      group = ofGroup;
      span = layout?.sources.get(ofGroup) ?? layout?.destinations.get(ofGroup);
    }
    return span && number >= 1 && number <= span.count ? base + span.start + number - 1 : -1;
  };
}

export type TerminalFinder = (device: DeviceId, group: GroupId, number: number) => number;

/** `Link 2 out`, `Coax in`, `Mix`: a group's name, with its way where the port has both. */
export function sideName(span: Span): string {
  if (span.side !== "receive" && span.side !== "send") return spanName(span);
  const bothWays = mostSlots(span.port.receive) > 0 && mostSlots(span.port.send) > 0;
  return bothWays ? `${spanName(span)} ${span.side === "receive" ? "in" : "out"}` : spanName(span);
}

/** A jack of a pair carries two signals, told apart as A and B: terminal 3 is `2A`. */
export function numberName(span: Span, number: number): string {
  if (span.side !== "jack" || span.bank.perJack === 1) return String(number);
  if (span.bank.count === 1) return number === 1 ? "A" : "B";
  return `${Math.ceil(number / 2)}${number % 2 === 1 ? "A" : "B"}`;
}

/** `Out 5`, `Link 2 out 17`, `Mix 3`: a terminal's name within its device. */
export function shortName(wiring: Wiring, terminal: number): string {
  const { span, number } = locate(wiring, terminal);
  return `${sideName(span)} ${numberName(span, number)}`;
}

/** `Stage left Out 5`: a terminal's name within the rig. */
export function fullName(wiring: Wiring, terminal: number): string {
  return `${locate(wiring, terminal).wired.device.name} ${shortName(wiring, terminal)}`;
}

/** `1–8, 11, 13–16`: numbers as ranges. */
export function ranges(numbers: readonly number[]): string {
  const ascending = numbers.every((number, n) => n === 0 || number > numbers[n - 1]!);
  return runsIn(ascending ? numbers : [...new Set(numbers)].sort((a, b) => a - b))
    .map(({ first, count }) => (count === 1 ? `${first}` : `${first}–${first + count - 1}`))
    .join(", ");
}

/**
 * The numbers of one group's terminals as ranges: `1–8`. Jacks of pairs by their own numbers, and where the two signals of
 * one part ways as 3A and 3B.
 */
export function numbersName(span: Span, numbers: readonly number[]): string {
  if (span.side !== "jack" || span.bank.perJack === 1) return ranges(numbers);
  const here = new Set(numbers);
  const isWhole = (number: number): boolean => here.has(number % 2 === 1 ? number + 1 : number - 1);
  const [whole, halves] = [[...here].filter(isWhole), [...here].filter((number) => !isWhole(number))];
  const jacks = ranges(whole.map((number) => Math.ceil(number / 2)));
  return [...(jacks === "" ? [] : [jacks]), ...halves.map((number) => numberName(span, number))].join(", ");
}

/** `Out 1–8`: neighbouring terminals of one group. */
export const spanRun = (span: Span, first: number, count: number): string =>
  `${sideName(span)} ${numbersName(span, listFrom(first, count))}`;

/** So many numbers, counted up from the first. */
export const listFrom = (first: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, n) => first + n);

/**
 * The numbers of a text such as `1–8, 11`, ascending and each once: what `ranges` wrote, or a person with hyphens. Null
 * where it is something else, or names a number past `most`.
 */
export function numbersIn(text: string, most: number): readonly number[] | null {
  const numbers = new Set<number>();
  const parts = text.replaceAll(/\s*[-–]\s*/g, "–").split(/[,;\s]+/);
  for (const part of parts.filter((each) => each !== "")) {
    const [, first, last = first] = /^(\d{1,7})(?:–(\d{1,7}))?$/.exec(part) ?? [];
    if (first === undefined) return null;
    const [low, high] = [Number(first), Number(last)];
    if (low < 1 || high < low || high > most) return null;
    for (let number = low; number <= high; number++) numbers.add(number);
  }
  return [...numbers].sort((a, b) => a - b);
}

/** `Stage left Out 1–8; Ears rack Out 3`: many terminals, gathered by device and group. */
export function namesOf(wiring: Wiring, terminals: readonly number[]): string {
  return gathered(wiring, terminals, ({ device }, span) => `${device.name} ${sideName(span)}`);
}

/** Terminals gathered by what they are called but for their numbers. */
export function gathered(
  wiring: Wiring,
  terminals: readonly number[],
  name: (wired: WiredDevice, span: Span, terminal: number) => string,
): string {
  const groups = new Map<string, { readonly span: Span; readonly numbers: number[] }>();
  for (const terminal of terminals) {
    const { wired, span, number } = locate(wiring, terminal);
    const key = name(wired, span, terminal);
    const group = groups.get(key);
    if (group) group.numbers.push(number);
    else groups.set(key, { span, numbers: [number] });
  }
  return [...groups].map(([key, { span, numbers }]) => `${key} ${numbersName(span, numbers)}`).join("; ");
}
