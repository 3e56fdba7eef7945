/**
 * Where each terminal of a device stands. A type lays its groups out once, one span after another; a device is the
 * type's layout moved to its own base. A terminal of the whole rig is thus one whole number.
 */
import type { DeviceType, JackBank, LinkPort, MixSection, SlotTable } from "../model/device-type.ts";
import type { GroupId } from "../model/ids.ts";

/** Which end of a group a terminal belongs to. Only ports have two. */
export type Side = "jack" | "receive" | "send" | "bus";

interface SpanBase {
  /** Offset of the first terminal within the device. */
  readonly start: number;
  readonly count: number;
}

export type Span = SpanBase &
  (
    | { readonly side: "jack"; readonly bank: JackBank }
    | { readonly side: "receive" | "send"; readonly port: LinkPort }
    | { readonly side: "bus"; readonly section: MixSection }
  );

export function spanGroup(span: Span): GroupId {
  if (span.side === "jack") return span.bank.id;
  return span.side === "bus" ? span.section.id : span.port.id;
}

export function spanName(span: Span): string {
  if (span.side === "jack") return span.bank.name;
  return span.side === "bus" ? span.section.name : span.port.name;
}

/** Size of the blocks in which the span is spoken of. */
export function spanBlock(span: Span): number {
  if (span.side === "jack") return span.bank.block;
  return span.side === "bus" ? span.section.block : span.port.block;
}

export interface TypeLayout {
  readonly type: DeviceType;
  readonly size: number;
  readonly spans: readonly Span[];
  /** Those of passive joins. */
  readonly joins: readonly Span[];
  /** For each terminal the place of its span in `spans`. */
  readonly spanAt: Uint16Array;
  /** The span that a group names as a source of a rule, and as its destination. */
  readonly sources: ReadonlyMap<GroupId, Span>;
  readonly destinations: ReadonlyMap<GroupId, Span>;
}

const layouts = new WeakMap<DeviceType, TypeLayout>();

/** The layout of a type; made once for each type object, which never changes. */
export function layoutOf(type: DeviceType): TypeLayout {
  let layout = layouts.get(type);
  if (!layout) layouts.set(type, (layout = makeLayout(type)));
  return layout;
}

/** Slots at the rate that has most of them; 0 where a port has none that way. */
export const mostSlots = (slots: SlotTable): number => Math.max(slots.single, slots.double, slots.quad);

/** Output jacks that a plug can reach, which a recorder's tracks are not. */
export const isOutput = (span: Span): boolean =>
  span.side === "jack" && span.bank.direction === "out" && span.bank.connector !== "none";

/** Channels and insert returns are fed by rules and settings; all other sections are taps. */
export const takesRules = ({ role }: MixSection): boolean => role === "channel" || role === "return";

/** What a join takes of the groups that it names: input jacks and channels, each group once. */
export function legsOf(
  { sources, destinations }: Pick<TypeLayout, "sources" | "destinations">,
  from: readonly GroupId[],
): readonly Span[] {
  return [...new Set(from)].flatMap((group): Span[] => {
    const channels = destinations.get(group);
    if (channels?.side === "bus" && channels.section.role === "channel") return [channels];
    const jacks = sources.get(group);
    return jacks?.side === "jack" ? [jacks] : [];
  });
}

function makeLayout(type: DeviceType): TypeLayout {
  const spans: Span[] = [];
  const sources = new Map<GroupId, Span>();
  const destinations = new Map<GroupId, Span>();
  let size = 0;
  const add = (span: Span): Span => {
    spans.push(span);
    size += span.count;
    return span;
  };
  for (const bank of type.banks) {
    const span = add({ side: "jack", bank, start: size, count: bank.count * bank.perJack });
    (bank.direction === "in" ? sources : destinations).set(bank.id, span);
  }
  for (const port of type.ports) {
    sources.set(port.id, add({ side: "receive", port, start: size, count: mostSlots(port.receive) }));
    destinations.set(port.id, add({ side: "send", port, start: size, count: mostSlots(port.send) }));
  }
  for (const section of type.mixer?.sections ?? []) {
    const span = add({ side: "bus", section, start: size, count: section.count });
    (takesRules(section) ? destinations : sources).set(section.id, span);
  }
  const spanAt = new Uint16Array(size);
  spans.forEach(({ start, count }, index) => spanAt.fill(index, start, start + count));
  const joins = spans.filter((span) => span.side === "bus" && span.section.role === "join");
  return { type, size, spans, joins, spanAt, sources, destinations };
}
