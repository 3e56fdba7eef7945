/** Words that several sheets use: where a thing stands, a cable's end, what feeds a jack. */
import type { Analysis } from "../../analysis.ts";
import type { PaperCell } from "../block.ts";
import type { CableEnd } from "../../model/show.ts";
import { tellEnd } from "../../tables/places.ts";
import { arrivesAt, rootsAt } from "../../trace/owners.ts";
import { fullName, locate, numberName, shortName, sideName, terminalOf } from "../../trace/terminal.ts";
import { verdictText } from "../../trace/told.ts";
import { traceOf } from "../../trace/walk.ts";
import { ownersOf } from "../signals.ts";
import { spanGroup } from "../../wiring/layout.ts";
import { busName, wiredOf } from "../../trace/records.ts";
import type { PluggedCable } from "../../wiring/plugs.ts";
import type { Wiring } from "../../wiring/wiring.ts";

/** The name of a bus as the show calls it, or of a source; else the terminal's own: `Wedge 3`, `Kick in`, `Mix 9`. */
export function rootName(wiring: Wiring, root: number): string {
  const source = wiring.show.sources[wiring.sourceAt[root]!];
  return source?.name ?? busName(wiring.show, terminalOf(wiring, root)) ?? shortName(wiring, root);
}

/** What feeds a terminal: its owner's mark and its tap; where nothing arrives, why, in bold. */
export function feedCell(analysis: Analysis, terminal: number): PaperCell {
  const { wiring, arrivals } = analysis;
  if (!arrivesAt(wiring, arrivals, terminal)) {
    return { text: verdictText(wiring, traceOf(wiring, terminal)), strong: true };
  }
  const roots = rootsAt(arrivals, terminal);
  const text = roots
    .map((root) => (wiring.sourceAt[root]! >= 0 ? fullName(wiring, root) : shortName(wiring, root)))
    .join(" + ");
  return { text, owners: ownersOf(analysis, [terminal]) };
}

/** A cable's end as it is plugged: `Stage left Link A`, `Stage left Out 9–16`. */
export function endName(wiring: Wiring, { cable }: PluggedCable, end: CableEnd): string {
  const wired = wiredOf(wiring, end.device);
  const span = wired?.fabric.layout.spans.find(
    (each) => spanGroup(each) === end.group && each.side === "jack",
  );
  if (!wired || span?.side !== "jack") return tellEnd(wiring.show, end);
  const last = end.first + cable.ways - 1;
  const jacks = cable.ways === 1 ? `${end.first}` : `${end.first}–${last}`;
  return `${wired.device.name} ${sideName(span)} ${span.bank.count === 1 ? "" : jacks}`.trimEnd();
}

/** `Out 5`, `Out 9–16`, `AES out 2A–3B`. */
export function jackRange(wiring: Wiring, first: number, last: number): string {
  if (first === last) return shortName(wiring, first);
  const { span, number } = locate(wiring, last);
  return `${shortName(wiring, first)}–${numberName(span, number)}`;
}
