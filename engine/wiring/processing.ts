/** The mixer's processing counts once, where a channel enters it; on from a mix to a matrix it is the same pass. */
import type { Delay } from "../model/device-type.ts";
import type { WiredDevice } from "./wiring.ts";

/** What a mix member, by its number in the wiring, adds in entering a mix of its own device. */
export function processingOf({ base, fabric: { layout } }: WiredDevice, member: number): Delay | undefined {
  const span = layout.spans[layout.spanAt[member - base]!]!;
  return span.side === "bus" && span.section.role === "channel" ? layout.type.mixer?.processing : undefined;
}
