/** F25: one source that lands on two channels of one console at different times. */
import { firstNull, ms, msToSamples, rateName, round } from "../model/units.ts";
import { EQUAL_WITHIN } from "../trace/delays.ts";
import { locate, ranges, shortName, sideName, spanAt, terminalOf } from "../trace/terminal.ts";
import { spanGroup } from "../wiring/layout.ts";
import { State, type WiredDevice } from "../wiring/wiring.ts";
import { counted } from "./describe.ts";
import { found, type Analysed, type Check, type Finding } from "./finding.ts";
import { gather } from "../model/once.ts";
import { wiredOf } from "../trace/records.ts";
import { assignFix } from "./remedies.ts";

/** One source's earliest and latest channel at a console. */
interface Pair {
  readonly source: number;
  readonly early: number;
  readonly late: number;
}

export const arrivesTwice: Check = {
  id: "arrives-twice",
  about: "one source on two channels of a console at different times",
  reads: ({ wiring, arrivals }) => [arrivals.root, wiring.conduct, wiring.show.sources],
  run: (rig) => {
    const landed = new Int32Array(rig.wiring.size);
    return rig.wiring.devices.flatMap((wired) =>
      wired ? Array.from(pairsAt(rig, wired, landed), ([key, pairs]) => told(rig, wired, key, pairs)) : [],
    );
  },
  // Takes the later channel from where the console has the source first.
  propose: (rig, { id, devices: [device] }) => {
    const wired = wiredOf(rig.wiring, device!)!;
    return [...pairsAt(rig, wired, new Int32Array(rig.wiring.size))].flatMap(([key, pairs]) => {
      if (id !== idOf(wired, key)) return [];
      const wishes = new Map(pairs.map(({ late }) => [late, rig.arrivals.root[late]!]));
      return assignFix(rig, wired, wishes) ?? [];
    });
  },
};

const idOf = ({ device }: WiredDevice, key: string): string => `arrives-twice:${device.id}:${key}`;

/**
 * By the two ways in: the pairs that come over the same two ports or banks are one finding. `landed` has room for a note at
 * each terminal of the rig; devices that are looked at in their order may share it.
 */
function pairsAt(
  rig: Analysed,
  wired: WiredDevice,
  landed: Int32Array,
): ReadonlyMap<string, readonly Pair[]> {
  const { wiring, arrivals } = rig;
  const pairs = new Map<string, Pair[]>();
  const way = (terminal: number): string => spanGroup(spanAt(wiring, wiring.feeder[terminal]!));
  for (const pair of twiceAt(rig, wired, landed)) {
    const { early, late } = pair;
    // Rounded, for sums of the same delays in another order differ in their last digits.
    if (round(arrivals.delay[late]! - arrivals.delay[early]!, 9) <= EQUAL_WITHIN) continue;
    gather(pairs, `${way(early)}:${way(late)}`, pair);
  }
  return pairs;
}

/** The earliest and latest channel of each source that lands on two or more of a device's. */
function twiceAt(
  { wiring, arrivals: { root: roots, delay } }: Analysed,
  { base, fabric }: WiredDevice,
  landed: Int32Array,
): Iterable<Pair> {
  const twice = new Map<number, { readonly source: number; early: number; late: number }>();
  for (const span of fabric.layout.spans) {
    if (span.side !== "bus" || span.section.role !== "channel") continue;
    for (let terminal = base + span.start; terminal < base + span.start + span.count; terminal++) {
      const root = roots[terminal]!;
      // Neither a loop, which is no terminal, nor a tap is a source.
      if (wiring.state[root] !== State.source) continue;
      // The channel where the source landed first, from 1 on. Devices before this one have lower numbers.
      const before = landed[root]! - 1;
      if (before < base) {
        landed[root] = terminal + 1;
        continue;
      }
      let pair = twice.get(root);
      // At the very same time, as behind one box, which is how most of them are.
      if (!pair && delay[terminal] === delay[before]) continue;
      if (!pair) twice.set(root, (pair = { source: wiring.sourceAt[root]!, early: before, late: before }));
      if (delay[terminal]! < delay[pair.early]!) pair.early = terminal;
      if (delay[terminal]! > delay[pair.late]!) pair.late = terminal;
    }
  }
  return twice.values();
}

function told(
  { wiring, arrivals }: Analysed,
  wired: WiredDevice,
  key: string,
  pairs: readonly Pair[],
): Finding {
  const { show } = wiring;
  const gap = ({ early, late }: Pair): number => arrivals.delay[late]! - arrivals.delay[early]!;
  const worst = pairs.reduce((most, pair) => (gap(pair) > gap(most) ? pair : most));
  const time = ms(gap(worst));
  const name = show.sources[worst.source]!.name;
  const way = (terminal: number): string => sideName(spanAt(wiring, wiring.feeder[terminal]!));
  const numbers = (end: "early" | "late"): string =>
    ranges(pairs.map((pair) => locate(wiring, pair[end]).number));
  const others = pairs.length - 1;
  const more =
    others > 0
      ? ` So ${others === 1 ? "does" : "do"} ${others} more, channels ${numbers("early")} and ${numbers("late")}.`
      : "";
  return found(
    {
      id: idOf(wired, key),
      check: "arrives-twice",
      severity: "warning",
      title:
        pairs.length === 1
          ? `${name} reaches ${wired.device.name} twice, ${round(time, 3)} ms apart`
          : `${counted(pairs.length, "source")} reach ${wired.device.name} twice, up to ${round(time, 3)} ms apart`,
      reason: `${name} is at ${shortName(wiring, worst.early)} after ${round(arrivals.delay[worst.early]!, 3)} ms by ${way(worst.early)}, and at ${shortName(wiring, worst.late)} after ${round(arrivals.delay[worst.late]!, 3)} ms by ${way(worst.late)}: ${round(time, 3)} ms or ${round(msToSamples(time, wired.rate), 1)} samples at ${rateName(wired.rate)} apart. Summed, the first null lies at ${Math.round(firstNull(time))} Hz.${more} It only matters where both are heard together.`,
    },
    {
      terminals: pairs.flatMap(({ early, late }) => [terminalOf(wiring, early), terminalOf(wiring, late)]),
      devices: [wired.device.id],
    },
  );
}
