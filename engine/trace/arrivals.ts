/**
 * How every terminal's trace ends, as typed arrays: the chase of the whole rig in one pass, each terminal visited once.
 */
import type { Wiring } from "../wiring/wiring.ts";

/** In `Arrivals.root`: the chase runs into a loop. */
export const LOOP = -1;

export interface Arrivals {
  /** The terminal at which the upstream chase of each terminal stops, or `LOOP`. */
  readonly root: Int32Array;
  /** Steps from the root to the terminal; in a loop 0. */
  readonly steps: Int32Array;
  /** Milliseconds from the root to the terminal. */
  readonly delay: Float64Array;
}

const UNSEEN = -2;
const OPEN = -3;

export function arrivals({ feeder, delay: stepDelay, size }: Wiring): Arrivals {
  const root = new Int32Array(size).fill(UNSEEN);
  const steps = new Int32Array(size);
  const delay = new Float64Array(size);
  const path = new Int32Array(size);
  for (let start = 0; start < size; start++) {
    if (root[start] !== UNSEEN) continue;
    let depth = 0;
    let at = start;
    while (root[at] === UNSEEN && feeder[at]! >= 0) {
      root[at] = OPEN;
      path[depth++] = at;
      at = feeder[at]!;
    }
    if (root[at] === UNSEEN) root[at] = at;
    const end = root[at]!;
    if (end === OPEN || end === LOOP) {
      for (let n = 0; n < depth; n++) root[path[n]!] = LOOP;
      continue;
    }
    let count = steps[at]!;
    let time = delay[at]!;
    while (depth > 0) {
      const terminal = path[--depth]!;
      root[terminal] = end;
      steps[terminal] = ++count;
      delay[terminal] = time += stepDelay[terminal]!;
    }
  }
  return { root, steps, delay };
}
