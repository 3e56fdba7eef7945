/** What goes into a tap: the members of mixes and what is fixed, each with the step that takes it in. */
import { ms } from "../model/units.ts";
import { DIRECT } from "../wiring/mixes.ts";
import { processingOf } from "../wiring/processing.ts";
import { delayMs } from "../wiring/sheet.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { locate, terminalOf } from "./terminal.ts";
import type { Step } from "./trace.ts";

/** The step from a mix member into a tap. */
export function mixStep(wiring: Wiring, member: number, tap: number, mixIndex: number): Step {
  const { wired } = locate(wiring, tap);
  const mix = mixIndex === DIRECT ? null : wiring.show.mixes[mixIndex]!;
  const from = terminalOf(wiring, member);
  // The return of an insert stands in for its channel.
  const { span } = locate(wiring, member);
  const place =
    span.side === "bus" && span.section.role === "return"
      ? { group: span.section.from[0], number: from.number }
      : from;
  const entry = mix?.members.find(({ group, number }) => group === place.group && number === place.number);
  const processing = processingOf(wired, member, tap);
  const delay = ms(delayMs(processing, wired.rate));
  return {
    kind: "mixed",
    mix: mix?.id ?? null,
    tap: entry?.tap ?? "direct",
    from,
    to: terminalOf(wiring, tap),
    delay,
    parts: processing ? [{ what: "processing", ms: delay, provenance: processing.provenance }] : [],
  };
}

/** What goes into a tap: its members in the wiring's order, each with the step that takes it in. */
export function membersOf(
  wiring: Wiring,
  tap: number,
): readonly { readonly member: number; readonly step: Step }[] {
  const { start, terminal, mix } = wiring.mixInto;
  const members: { readonly member: number; readonly step: Step }[] = [];
  for (let n = start[tap]!; n < start[tap + 1]!; n++) {
    members.push({ member: terminal[n]!, step: mixStep(wiring, terminal[n]!, tap, mix[n]!) });
  }
  return members;
}
