/** What is plugged in jacks: each way of a jack cable with what it leads to, for the patch sheets and labels alike. */
import { gather, once } from "../model/once.ts";
import type { Cable } from "../model/show.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";

export interface Plugged {
  readonly cable: Cable;
  /** Which of the cable's ways it is, from 1. */
  readonly way: number;
  /** Number of the terminal that this one is joined with. */
  readonly far: number;
  readonly device: WiredDevice;
  /** Signals leave by it, or come in. */
  readonly leads: "to" | "from";
}

/**
 * The cables at each jack terminal, from outputs on and back from inputs, in the show's order: an output jack hands its
 * signal to all of them. A way with no jack at its far end leads nowhere and is left out.
 */
export const jackCables = once((wiring: Wiring): ReadonlyMap<number, readonly Plugged[]> => {
  const found = new Map<number, Plugged[]>();
  for (const { join, cable } of wiring.plugs.cables) {
    if (join.kind !== "jacks") continue;
    const { from, to } = join;
    const out = from.device.fabric.layout.destinations.get(from.bank.id);
    const into = to.device.fabric.layout.sources.get(to.bank.id);
    if (!out || !into) continue;
    const ways = Math.min(cable.ways, from.bank.count - from.first + 1, to.bank.count - to.first + 1);
    for (let n = 0; n < ways; n++) {
      for (let leg = 0; leg < Math.min(from.bank.perJack, to.bank.perJack); leg++) {
        const one = from.device.base + out.start + (from.first - 1 + n) * from.bank.perJack + leg;
        const other = to.device.base + into.start + (to.first - 1 + n) * to.bank.perJack + leg;
        const both = { cable, way: n + 1 };
        gather(found, one, { ...both, far: other, device: to.device, leads: "to" });
        gather(found, other, { ...both, far: one, device: from.device, leads: "from" });
      }
    }
  }
  return found;
});

/** `W3`, of a multicore `M1/5`: as the tail is marked. Empty where the cable has no tag, but for a way's number. */
export const wayTag = ({ cable: { tag, ways }, way }: Plugged): string =>
  ways === 1 ? tag : `${tag}/${way}`;
