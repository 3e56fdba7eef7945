/**
 * The mixer's processing counts once: where a channel, or the return of its insert, enters the mixer. On from a mix to a
 * matrix it is the same pass, a channel's insert send stands before it, and a passive join has none.
 */
import type { Delay } from "../model/device-type.ts";
import { placeOf } from "./inserts.ts";
import type { TypeLayout } from "./layout.ts";
import type { WiredDevice } from "./wiring.ts";

/** What a mix member adds in entering a tap of its own device; both by their numbers in the wiring. */
export function processingOf(
  { base, fabric: { layout } }: WiredDevice,
  member: number,
  tap: number,
): Delay | undefined {
  const [from, to] = [sectionAt(layout, member - base), sectionAt(layout, tap - base)];
  if (from?.role !== "channel" && from?.role !== "return") return undefined;
  if (to?.role === "join") return undefined;
  const before = to?.role === "send" && placeOf(layout, to)?.section.role === "channel";
  return before ? undefined : layout.type.mixer?.processing;
}

function sectionAt(layout: TypeLayout, offset: number) {
  const span = layout.spans[layout.spanAt[offset]!]!;
  return span.side === "bus" ? span.section : null;
}
