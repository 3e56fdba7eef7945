/** Where the records of a show stand in the wiring. Nearly every check asks, so it is looked up once. */
import { terminalFinder } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import type { SourceId } from "../model/ids.ts";
import { once } from "../model/once.ts";
import type { Show } from "../model/show.ts";

/** In place of a terminal: the rig has none such, or the record names none. */
export const NOWHERE = -1;

/** Terminals, in the order of the show's lists. */
export interface Standing {
  readonly wants: Int32Array;
  /** What the wants are to come from. */
  readonly origins: Int32Array;
  readonly channels: Int32Array;
  readonly sources: Int32Array;
  /** No terminals: the place of each channel's source in the show's list. */
  readonly planned: Int32Array;
}

export const standing = once((wiring: Wiring): Standing => {
  const { wants, channels, sources } = wiring.show;
  const find = terminalFinder(wiring);
  const at: Standing = {
    wants: new Int32Array(wants.length),
    origins: new Int32Array(wants.length),
    channels: new Int32Array(channels.length),
    sources: new Int32Array(sources.length),
    planned: plannedSources(wiring.show),
  };
  wants.forEach(({ to }, n) => {
    at.wants[n] = find(to.device, to.group, to.number);
  });
  // Apart from the jacks, since records are found soonest where their devices come in runs.
  wants.forEach(({ from }, n) => {
    at.origins[n] = from ? find(from.device, from.group, from.number) : NOWHERE;
  });
  channels.forEach(({ console: desk, group, number }, n) => {
    at.channels[n] = find(desk, group, number);
  });
  sources.forEach(({ at: jack }, n) => {
    at.sources[n] = find(jack.device, jack.group, jack.number);
  });
  return at;
});

function plannedSources({ channels, sources }: Show): Int32Array {
  const planned = new Int32Array(channels.length).fill(NOWHERE);
  let places: Map<SourceId, number> | null = null;
  // Channels name the sources in their order mostly, so the next one is tried before any is looked up.
  let next = 0;
  channels.forEach(({ source }, n) => {
    if (source === undefined) return;
    if (sources[next]?.id !== source) {
      places ??= new Map(sources.map(({ id }, place) => [id, place]));
      next = places.get(source) ?? NOWHERE;
    }
    planned[n] = next++;
  });
  return planned;
}
