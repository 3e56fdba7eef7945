/** How findings speak of things. */
import { CABLES } from "../catalog/cables.ts";
import type { Cable, CableEnd } from "../model/show.ts";
import { locate, shortName } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { spanGroup, spanName } from "../wiring/layout.ts";

/** `cable K12` or, where it bears no tag, `the Cat 5e, shielded cable from A to B`. */
export function plugs(wiring: Wiring, id: string): string {
  const cable = wiring.show.cables.find((candidate) => candidate.id === id);
  return cable ? cableName(wiring, cable) : `cable ${id}`;
}

export function cableName(wiring: Wiring, cable: Cable): string {
  if (cable.tag) return `Cable ${cable.tag}`;
  return `The ${CABLES[cable.kind].name} from ${endName(wiring, cable.ends[0])} to ${endName(wiring, cable.ends[1])}`;
}

/** `Front of house Link 1`, `Stage left In 17`. */
export function endName(wiring: Wiring, end: CableEnd): string {
  const wired = wiring.devices[wiring.indexOf.get(end.device) ?? -1];
  const device =
    wiring.show.devices.find(({ id }) => id === end.device)?.name ?? `missing device ${end.device}`;
  const span = wired?.fabric.layout.spans.find((candidate) => spanGroup(candidate) === end.group);
  if (!span) return `${device} ${end.group}`;
  return span.side === "jack" ? `${device} ${spanName(span)} ${end.first}` : `${device} ${spanName(span)}`;
}

/** `Vocal ears L (Monitors Mix 9)` or just the tap's own name where no mix is named there. */
export function tapName(wiring: Wiring, terminal: number): string {
  const { wired, span, number } = locate(wiring, terminal);
  const name = `${wired.device.name} ${shortName(wiring, terminal)}`;
  if (span.side !== "bus") return name;
  const mix = wiring.show.mixes.find(
    (candidate) =>
      candidate.console === wired.device.id &&
      candidate.group === spanGroup(span) &&
      number >= candidate.first &&
      number < candidate.first + candidate.width,
  );
  return mix?.name ? `${name} (${mix.name})` : name;
}
