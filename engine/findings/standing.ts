/** Where the records of a show stand in the wiring. Nearly every check asks, so it is looked up once. */
import type { DeviceId, GroupId } from "../model/ids.ts";
import { findTerminal } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { once } from "../model/once.ts";

/** In place of a terminal: the rig has none such, or the record names none. */
export const NOWHERE = -1;

/** Terminals, in the order of the show's lists. */
export interface Standing {
  readonly wants: Int32Array;
  /** What the wants are to come from. */
  readonly origins: Int32Array;
  readonly channels: Int32Array;
  readonly sources: Int32Array;
}

export const standing = once((wiring: Wiring): Standing => {
  const { wants, channels, sources } = wiring.show;
  const at = (device: DeviceId, group: GroupId, number: number): number =>
    findTerminal(wiring, { device, group, number }) ?? NOWHERE;
  return {
    wants: Int32Array.from(wants, ({ to }) => at(to.device, to.group, to.number)),
    origins: Int32Array.from(wants, ({ from }) =>
      from ? at(from.device, from.group, from.number) : NOWHERE,
    ),
    channels: Int32Array.from(channels, ({ console: desk, group, number }) => at(desk, group, number)),
    sources: Int32Array.from(sources, ({ at: jack }) => at(jack.device, jack.group, jack.number)),
  };
});
