/** Words that several sheets use: where a thing stands, a cable's end, what feeds a jack. */
import type { Analysis } from "../../analysis.ts";
import type { PaperCell } from "../block.ts";
import type { CableEnd, Show } from "../../model/show.ts";
import { once } from "../../model/once.ts";
import { busName } from "../../tables/outputs.ts";
import { tellEnd } from "../../tables/places.ts";
import { arrivesAt, ownersAt, rootsAt } from "../../trace/owners.ts";
import { fullName, locate, numberName, shortName, sideName, terminalOf } from "../../trace/terminal.ts";
import { verdictText } from "../../trace/told.ts";
import { traceOf } from "../../trace/walk.ts";
import { spanGroup } from "../../wiring/layout.ts";
import { wiredOf } from "../../trace/records.ts";
import type { PluggedCable } from "../../wiring/plugs.ts";
import type { WiredDevice, Wiring } from "../../wiring/wiring.ts";

const placeNames = once(
  ({ places }: Show) => new Map<string, string>(places.map(({ id, name }) => [id, name])),
);

/** The place of a device; empty where the show has no such place. */
export const placeName = (show: Show, { place }: { readonly place: string }): string =>
  placeNames(show).get(place) ?? "";

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
  const owners = ownersAt(wiring, arrivals, terminal).flatMap(
    (index) => wiring.devices[index]?.device.id ?? [],
  );
  const roots = rootsAt(arrivals, terminal);
  const text = roots
    .map((root) => (wiring.sourceAt[root]! >= 0 ? fullName(wiring, root) : shortName(wiring, root)))
    .join(" + ");
  return { text, owners };
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
    const from = join.from.device.fabric.layout.sources.get(join.from.bank.id);
    const to = join.to.device.fabric.layout.destinations.get(join.to.bank.id);
    const a = join.from.device.fabric.layout.spans.find((span) => spanGroup(span) === join.from.bank.id);
    const b = join.to.device.fabric.layout.spans.find((span) => spanGroup(span) === join.to.bank.id);
    const [start, end] = [from ?? a, to ?? b];
    if (!start || !end) continue;
    for (let way = 0; way < cable.ways; way++) {
      for (let leg = 0; leg < Math.min(join.from.bank.perJack, join.to.bank.perJack); leg++) {
        const one =
          join.from.device.base + start.start + (join.from.first - 1 + way) * join.from.bank.perJack + leg;
        const other =
          join.to.device.base + end.start + (join.to.first - 1 + way) * join.to.bank.perJack + leg;
        if (!found.has(one)) found.set(one, { plugged, far: other, device: join.to.device });
        if (!found.has(other)) found.set(other, { plugged, far: one, device: join.from.device });
      }
    }
  }
  return found;
});

/** A jack within its device: `Out 5`, `AES out 2A`. */
export function jackName(wiring: Wiring, terminal: number): string {
  const { span, number } = locate(wiring, terminal);
  return `${sideName(span)} ${numberName(span, number)}`;
}

/** `Out 9–16` */
export function jackRange(wiring: Wiring, first: number, last: number): string {
  if (first === last) return jackName(wiring, first);
  const { span, number } = locate(wiring, last);
  return `${jackName(wiring, first)}–${numberName(span, number)}`;
}
