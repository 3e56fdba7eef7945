/** Inserts that are in: the return that stands in for a channel or feeds a bus, and the send before it. Offsets within a device. */
import type { MixSection, SectionRole } from "../model/device-type.ts";
import type { Device } from "../model/show.ts";
import type { Span, TypeLayout } from "./layout.ts";

type Bus = Extract<Span, { side: "bus" }>;

/** One number of a section whose insert is in. */
export interface InsertPoint {
  /** The channel or bus that the insert stands in. */
  readonly at: number;
  readonly role: SectionRole;
  readonly comesBack: number;
  /** Null: the type has no send there. */
  readonly goesOut: number | null;
  /** Which of the device's inserts. */
  readonly insert: number;
}

export interface Inserts {
  readonly points: readonly InsertPoint[];
  /** By the channel or bus. */
  readonly byPlace: ReadonlyMap<number, InsertPoint>;
}

const NONE: Inserts = { points: [], byPlace: new Map() };
const known = new WeakMap<Device, { readonly layout: TypeLayout; readonly inserts: Inserts }>();

/** Worked out once for a device's record, which never changes. */
export function insertsOf(device: Device, layout: TypeLayout): Inserts {
  if (!device.inserts || device.inserts.length === 0) return NONE;
  const before = known.get(device);
  if (before?.layout === layout) return before.inserts;
  const byPlace = new Map<number, InsertPoint>();
  device.inserts.forEach(({ group, first, count }, insert) => {
    const back = layout.destinations.get(group);
    const place =
      back?.side === "bus" && back.section.role === "return" ? placeOf(layout, back.section) : null;
    if (!place || back?.side !== "bus") return;
    const out = sendOf(layout, place.section);
    const last = Math.min(first + count - 1, back.count, place.count);
    for (let n = Math.max(first, 1) - 1; n < last; n++) {
      const at = place.start + n;
      if (byPlace.has(at)) continue;
      const goesOut = out && n < out.count ? out.start + n : null;
      byPlace.set(at, { at, role: place.section.role, comesBack: back.start + n, goesOut, insert });
    }
  });
  const inserts = { points: [...byPlace.values()], byPlace };
  known.set(device, { layout, inserts });
  return inserts;
}

export const TAKE_INSERTS: ReadonlySet<SectionRole> = new Set(["channel", "mix", "main", "matrix"]);

/** The channels or buses that a send or return belongs to; null where its type names none. */
export function placeOf(layout: TypeLayout, { from: [group] }: MixSection): Bus | null {
  const span =
    group === undefined ? undefined : (layout.destinations.get(group) ?? layout.sources.get(group));
  return span?.side === "bus" && TAKE_INSERTS.has(span.section.role) ? span : null;
}

/** The first insert send of a section. */
const sendOf = (layout: TypeLayout, { id }: MixSection): Bus | undefined =>
  layout.spans.find(
    (span): span is Bus => span.side === "bus" && span.section.role === "send" && span.section.from[0] === id,
  );
