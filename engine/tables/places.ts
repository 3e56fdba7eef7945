/**
 * Jacks, ports and taps as people write them: `Stage left 5`, `Stage left / In 5`, `Front of house Mix 3`. What is told
 * is the shortest form that is read as the same again.
 */
import type { DeviceId, GroupId } from "../model/ids.ts";
import { id } from "../model/ids.ts";
import { once } from "../model/once.ts";
import { err, ok } from "../model/result.ts";
import type { CableEnd, Device, Show, TerminalRef } from "../model/show.ts";
import type { DeviceType } from "../model/device-type.ts";
import { nearest, plain } from "../trace/lookup.ts";
import { numberName, sideName } from "../trace/terminal.ts";
import { layoutOf, spanGroup, spanName, type Span, type TypeLayout } from "../wiring/layout.ts";
import { bookOf, oneOf, type Book, type Read } from "./words.ts";

/** A show's devices by what they are called. */
export interface Directory {
  readonly devices: ReadonlyMap<DeviceId, Device>;
  readonly book: Book;
  layout(device: DeviceId): TypeLayout | null;
  /** By `plain` name; only names that one device has. */
  readonly byName: ReadonlyMap<string, DeviceId>;
}

/** One for all documents with the same devices and types, as those before and after most edits are. */
export const directoryOf = ({ devices, types }: Show): Directory => directoriesOf(devices)(types);
const directoriesOf = once((devices: Show["devices"]) =>
  once((types: Show["types"]) => makeDirectory(devices, types)),
);

function makeDirectory(devices: Show["devices"], types: Show["types"]): Directory {
  const byType = new Map<string, DeviceType>(types.map((type) => [type.id, type]));
  const byId = new Map(devices.map((device) => [device.id, device]));
  const byName = new Map<string, DeviceId>();
  const twice = new Set<string>();
  for (const { id: device, name } of devices) {
    const key = plain(name);
    if (byName.has(key)) twice.add(key);
    byName.set(key, device);
  }
  for (const key of twice) byName.delete(key);
  return {
    devices: byId,
    book: bookOf(devices, "device"),
    byName,
    layout(device) {
      const type = byType.get(byId.get(device)?.type ?? "");
      return type ? layoutOf(type) : null;
    },
  };
}

/** Which groups a text means that names none. */
export interface Kind {
  /** For an error: `input jack`. */
  readonly what: string;
  readonly prefers: (span: Span) => boolean;
  /** Words that may stand for the one group that is preferred. */
  readonly words: readonly string[];
}

export const INPUT_JACK: Kind = {
  what: "input jack",
  prefers: (span) => span.side === "jack" && span.bank.direction === "in",
  words: ["in", "input", "mic", "mic in", "jack"],
};
export const OUTPUT_JACK: Kind = {
  what: "output jack",
  prefers: (span) => span.side === "jack" && span.bank.direction === "out",
  words: ["out", "output", "jack"],
};
export const TAP: Kind = {
  what: "output of a console",
  prefers: (span) =>
    span.side === "bus" && ["mix", "main", "matrix", "direct", "join"].includes(span.section.role),
  words: [],
};

/** Spans that a reference without a side can name, each group once, the preferred ones first. */
function spansOf({ spans, sources }: TypeLayout, kind: Kind): readonly Span[] {
  const named = spans.filter((span) => span.side !== "send" || !sources.has(spanGroup(span)));
  return [...named.filter(kind.prefers), ...named.filter((span) => !kind.prefers(span))];
}

/** A record that names nothing of the show is told by its parts, and read so. */
const RAW = /^#([^\s/]+)\/([^\s/]+)\/(\d{1,4})$/;
const rawName = ({ device, group, number }: TerminalRef): string => `#${device}/${group}/${number}`;

export function tellTerminal(show: Show, ref: TerminalRef, kind: Kind): string {
  const told = toldIn(directoryOf(show))(kind);
  let text = told.get(ref);
  if (text === undefined) told.set(ref, (text = terminalText(show, ref, kind)));
  return text;
}

/** What was told of a record's terminal stays while the devices are the same. */
const toldIn = once((_: Directory) => once((_: Kind) => new WeakMap<TerminalRef, string>()));

function terminalText(show: Show, ref: TerminalRef, kind: Kind): string {
  const directory = directoryOf(show);
  const layout = directory.layout(ref.device);
  const span = layout && spansOf(layout, kind).find((each) => spanGroup(each) === ref.group);
  if (!span || ref.number < 1 || ref.number > span.count) return rawName(ref);
  const name = directory.book.tell(ref.device);
  const label = numberName(span, ref.number);
  const forms = [`${name} ${sideName(span)} ${label}`];
  if (kind.prefers(span) && spansOf(layout, kind).filter(kind.prefers).length === 1) {
    // “Stage box 1 1” would read as one number. Of a device with one jack the name is enough.
    if (!/\d$/.test(name)) forms.unshift(`${name} ${label}`);
    if (span.count === 1) forms.unshift(name);
  }
  const isRead = (text: string): boolean => {
    const read = readTerminal(show, text, kind);
    return (
      read.ok &&
      read.value.device === ref.device &&
      read.value.group === ref.group &&
      read.value.number === ref.number
    );
  };
  return forms.find(isRead) ?? rawName(ref);
}

/** The device that a text starts with, the longest name first, and what is left of the text. */
function* splits(
  { byName, book }: Directory,
  text: string,
): Generator<{ readonly device: DeviceId; readonly rest: string }> {
  const told = /^(.*?#[^\s/]+)(.*)$/.exec(text);
  if (told) {
    const found = book.find(told[1]!);
    if (found.ok) yield { device: id<DeviceId>(found.value), rest: plain(told[2]!) };
  }
  const words = plain(text).split(" ");
  for (let count = words.length; count > 0; count--) {
    const device = byName.get(words.slice(0, count).join(" "));
    if (device) yield { device, rest: words.slice(count).join(" ") };
  }
}

export function readTerminal(show: Show, text: string, kind: Kind): Read<TerminalRef> {
  const raw = RAW.exec(text.trim());
  if (raw) return ok({ device: id(raw[1]!), group: id(raw[2]!), number: Number(raw[3]) });
  const directory = directoryOf(show);
  let reason: string | null = null;
  for (const { device, rest } of splits(directory, text)) {
    const layout = directory.layout(device);
    if (!layout) continue;
    const found = withinDevice(layout, rest, kind);
    if (found.ok) return ok({ device, ...found.value });
    reason ??= `${directory.book.tell(device)} ${found.error}`;
  }
  if (reason !== null) return err(reason);
  if (text.trim() === "") return err(`An ${kind.what} is needed here, such as “Stage left 5”.`);
  const alike = nearest(
    plain(text.replace(/[\d\s]+$/, "")),
    [...directory.devices.values()].map(({ name }) => name),
  );
  const hint = alike.length > 0 ? ` Is ${oneOf(alike)} meant?` : "";
  return err(`No device is called “${text.trim()}”.${hint}`);
}

interface Found {
  readonly group: GroupId;
  readonly number: number;
}

function withinDevice(layout: TypeLayout, rest: string, kind: Kind): Read<Found> {
  const spans = spansOf(layout, kind);
  const preferred = spans.filter(kind.prefers);
  const [, name = rest, label] = /^(.*?) ?(\d{1,4}[ab]?|[ab])$/.exec(rest) ?? [];
  const span = groupIn(spans, preferred, name.trim(), kind);
  if (!span) {
    if (preferred.length === 0 && name === "") return err(`has no ${kind.what}.`);
    const names = (preferred.length > 0 ? preferred : spans).map((each) => sideName(each));
    return err(
      name === ""
        ? `has several: say ${oneOf(names)}.`
        : `has nothing called “${name}”; it has ${oneOf(names)}.`,
    );
  }
  const number = label === undefined ? (span.count === 1 ? 1 : null) : numberIn(span, label);
  if (number === null) {
    const range = `${numberName(span, 1)}–${numberName(span, span.count)}`;
    return err(
      label === undefined
        ? `has ${sideName(span)} ${range}: say which.`
        : `has no ${sideName(span)} ${label.toUpperCase()}; it has ${range}.`,
    );
  }
  return ok({ group: spanGroup(span), number });
}

function groupIn(
  spans: readonly Span[],
  preferred: readonly Span[],
  name: string,
  kind: Kind,
): Span | undefined {
  const only = preferred.length === 1 ? preferred[0] : undefined;
  if (name === "") return only ?? (preferred.length === 0 && spans.length === 1 ? spans[0] : undefined);
  const isCalled = (span: Span): boolean =>
    plain(sideName(span)) === name ||
    plain(spanName(span)) === name ||
    spanGroup(span).toLowerCase() === name;
  const called = preferred.find(isCalled) ?? spans.find(isCalled);
  if (called) return called;
  // `Local 3` where there is `Local out` and no other that begins so.
  const begun = preferred.filter((span) => plain(sideName(span)).startsWith(`${name} `));
  return begun.length === 1 ? begun[0] : kind.words.includes(name) ? only : undefined;
}

/** The terminal that a label such as `5` or `2A` means within its group; null where there is none such. */
function numberIn(span: Span, label: string): number | null {
  if (span.side === "jack" && span.bank.perJack === 2) {
    const [, jack = "1", side] = /^(\d*)([ab]?)$/.exec(label) ?? [];
    const number = (Number(jack === "" ? "1" : jack) - 1) * 2 + (side === "b" ? 2 : 1);
    return number >= 1 && number <= span.count ? number : null;
  }
  const number = /^\d+$/.test(label) ? Number(label) : 0;
  return number >= 1 && number <= span.count ? number : null;
}

/** A cable's end: a port by its name, or the first of some jacks. */
export function tellEnd(show: Show, { device, group, first }: CableEnd): string {
  const directory = directoryOf(show);
  const layout = directory.layout(device);
  const span = layout?.spans.find((each) => spanGroup(each) === group);
  if (span?.side === "jack") return tellTerminal(show, { device, group, number: first }, ANY_JACK);
  const port = layout?.type.ports.find((each) => each.id === group);
  if (port && first === 1) {
    const text = `${directory.book.tell(device)} ${port.name}`;
    const read = readEnd(show, text);
    if (read.ok && read.value.device === device && read.value.group === group) return text;
  }
  return rawName({ device, group, number: first });
}

const ANY_JACK: Kind = { what: "jack", prefers: (span) => span.side === "jack", words: [] };

export function readEnd(show: Show, text: string): Read<CableEnd> {
  const directory = directoryOf(show);
  let reason: string | null = null;
  for (const { device, rest } of splits(directory, text)) {
    const layout = directory.layout(device);
    if (!layout) continue;
    const { ports } = layout.type;
    const port = ports.find(({ id: group, name }) => plain(name) === rest || group.toLowerCase() === rest);
    if (port) return ok({ device, group: port.id, first: 1 });
    // A device with one port and no jacks needs no more than its name.
    if (rest === "" && ports.length === 1 && layout.type.banks.length === 0)
      return ok({ device, group: ports[0]!.id, first: 1 });
    const jack = withinDevice(layout, rest, ANY_JACK);
    const isJack = jack.ok && layout.type.banks.some((bank) => bank.id === jack.value.group);
    if (isJack) return ok({ device, group: jack.value.group, first: jack.value.number });
    const names = [...ports.map(({ name }) => name), ...layout.type.banks.map(({ name }) => `${name} 1`)];
    reason ??= `${directory.book.tell(device)} has no port or jack “${rest}”; it has ${oneOf(names)}.`;
  }
  const raw = RAW.exec(text.trim());
  if (raw) return ok({ device: id(raw[1]!), group: id(raw[2]!), first: Number(raw[3]) });
  if (reason !== null) return err(reason);
  if (text.trim() === "") return err("A port or jack is needed here, such as “Stage left Link A”.");
  const alike = nearest(
    plain(text),
    [...directory.devices.values()].map(({ name }) => name),
  );
  return err(`No device is called “${text.trim()}”.${alike.length > 0 ? ` Is ${oneOf(alike)} meant?` : ""}`);
}
