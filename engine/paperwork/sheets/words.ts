/** Words that several sheets use: where a thing stands, a cable's end, what feeds a jack. */
import type { Analysis } from "../../analysis.ts";
import type { PaperCell } from "../block.ts";
import type { CableEnd } from "../../model/show.ts";
import { once } from "../../model/once.ts";
import { busName } from "../../tables/outputs.ts";
import { tellEnd } from "../../tables/places.ts";
import { arrivesAt, rootsAt } from "../../trace/owners.ts";
import { fullName, locate, numberName, shortName, sideName, terminalOf } from "../../trace/terminal.ts";
import { verdictText } from "../../trace/told.ts";
import { traceOf } from "../../trace/walk.ts";
import { ownersOf } from "../signals.ts";
import { spanGroup } from "../../wiring/layout.ts";
import { wiredOf } from "../../trace/records.ts";
import type { PluggedCable } from "../../wiring/plugs.ts";
import type { WiredDevice, Wiring } from "../../wiring/wiring.ts";

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

export interface Plugged {
  readonly plugged: PluggedCable;
  /** Number of the terminal that this one is joined with. */
  readonly far: number;
  readonly device: WiredDevice;
}

/** The jack cable at each jack terminal, and what it leads to: from outputs on, and back from inputs. */
export const jackCables = once((wiring: Wiring): ReadonlyMap<number, Plugged> => {
  const found = new Map<number, Plugged>();
  for (const plugged of wiring.plugs.cables) {
    const { join, cable } = plugged;
    if (join.kind !== "jacks") continue;
    const { from, to } = join;
    const out = from.device.fabric.layout.destinations.get(from.bank.id);
    const into = to.device.fabric.layout.sources.get(to.bank.id);
    if (!out || !into) continue;
    const ways = Math.min(cable.ways, from.bank.count - from.first + 1, to.bank.count - to.first + 1);
    for (let way = 0; way < ways; way++) {
      for (let leg = 0; leg < Math.min(from.bank.perJack, to.bank.perJack); leg++) {
        const one = from.device.base + out.start + (from.first - 1 + way) * from.bank.perJack + leg;
        const other = to.device.base + into.start + (to.first - 1 + way) * to.bank.perJack + leg;
        if (!found.has(one)) found.set(one, { plugged, far: other, device: to.device });
        if (!found.has(other)) found.set(other, { plugged, far: one, device: from.device });
      }
    }
  }
  return found;
});

/** `Out 5`, `Out 9–16`, `AES out 2A–3B`. */
export function jackRange(wiring: Wiring, first: number, last: number): string {
  if (first === last) return shortName(wiring, first);
  const { span, number } = locate(wiring, last);
  return `${shortName(wiring, first)}–${numberName(span, number)}`;
}
