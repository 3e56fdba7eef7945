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
