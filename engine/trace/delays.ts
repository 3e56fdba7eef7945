/** Delays against each other: how far apart two jacks or a group arrive, and what that means where they are heard. */
import {
  firstNull,
  ms,
  msToSamples,
  travel,
  type Metres,
  type Ms,
  type Samples,
  type SampleRate,
} from "../model/units.ts";
import type { Wiring } from "../wiring/wiring.ts";
import type { Arrivals } from "./arrivals.ts";
import { arrivesAt } from "./owners.ts";

/** Below this two arrivals count as one: common practice, as measured between a local and a linked output. */
export const EQUAL_WITHIN = ms(0.01);

export interface DelayDifference {
  /** How much later the second arrives; negative where it is the earlier one. */
  readonly later: Ms;
  /** The same at the show's rate. */
  readonly samples: Samples;
  /** How far sound travels in that time: what moving one loudspeaker would make up for. */
  readonly distance: Metres;
  /** First null, in hertz, where both are heard at one place; `Infinity` where they arrive together. */
  readonly firstNull: number;
  readonly together: boolean;
}

/** Compares two delays in the medium air at `celsius` degrees. */
export function compareDelays(first: Ms, second: Ms, rate: SampleRate, celsius: number): DelayDifference {
  const later = ms(second - first);
  const apart = ms(Math.abs(later));
  const together = apart < EQUAL_WITHIN;
  return {
    later,
    samples: msToSamples(later, rate),
    distance: travel(apart, celsius),
    firstNull: together ? Number.POSITIVE_INFINITY : firstNull(apart),
    together,
  };
}

export interface Arrival {
  readonly terminal: number;
  readonly delay: Ms;
  /** How much later than the first of the group. */
  readonly after: Ms;
}

export interface Spread {
  /** In the order in which they arrive. What doesn't arrive is left out. */
  readonly arrivals: readonly Arrival[];
  /** From the first to the last. */
  readonly spread: Ms;
}

/** The arrivals of a group that should come together, each counted from the tap or source that it comes from. */
export function spreadOf(wiring: Wiring, found: Arrivals, terminals: readonly number[]): Spread {
  const { delay } = found;
  const arriving = terminals
    .filter((terminal) => arrivesAt(wiring, found, terminal))
    .sort((a, b) => delay[a]! - delay[b]! || a - b);
  const first = arriving[0] === undefined ? 0 : delay[arriving[0]]!;
  const last = arriving.at(-1);
  return {
    arrivals: arriving.map((terminal) => ({
      terminal,
      delay: ms(delay[terminal]!),
      after: ms(delay[terminal]! - first),
    })),
    spread: ms(last === undefined ? 0 : delay[last]! - first),
  };
}

/** An axis of time to draw arrivals on. */
export interface TimeAxis {
  readonly from: Ms;
  readonly to: Ms;
  /** Round times from `from` to `to`, evenly apart. */
  readonly ticks: readonly Ms[];
  /** Decimals that tell the ticks apart. */
  readonly digits: number;
}

/** The share of the axis that a spread has to fill to be seen when the axis starts at nought. */
const SEEN = 0.2;

/**
 * The axis for arrivals from `first` to `last`. It starts at nought unless the spread would be too small to see there;
 * then it is cut out around the arrivals. Its steps are 1, 2 or 5 times a power of ten, five at most.
 */
export function timeAxis(first: Ms, last: Ms): TimeAxis {
  const spread = last - first;
  // Less than this counts as together, and an axis that shows it would show noise.
  const least = 2 * EQUAL_WITHIN;
  const cut = spread >= EQUAL_WITHIN && spread < SEEN * last;
  const low = cut ? Math.max(0, first - spread / 2) : 0;
  const high = Math.max(cut ? last + spread / 2 : last * 1.05, low + least);
  const step = roundStep((high - low) / 5);
  const start = Math.floor(low / step + 1e-9);
  const end = Math.ceil(high / step - 1e-9);
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks = Array.from({ length: end - start + 1 }, (_, n) =>
    ms(Number(((start + n) * step).toFixed(digits))),
  );
  return { from: ticks[0]!, to: ticks.at(-1)!, ticks, digits };
}

/** The next of … 0.1, 0.2, 0.5, 1, 2, 5, 10 … that isn't below `least`. */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return [1, 2, 5, 10].map((times) => times * power).find((step) => step >= least * (1 - 1e-9))!;
}
