/**
 * How every terminal's trace ends, as typed arrays: the chase of the whole rig in one pass, each terminal visited once.
 * After an edit only what lies downstream of it is chased again.
 */
import type { Recompiled } from "../wiring/compile.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import { changedJoins, joinsOf, LOOP, type Joins } from "./joins.ts";

export { LOOP } from "./joins.ts";

export interface Arrivals {
  /** The terminal at which the upstream chase of each terminal stops, or `LOOP`. */
  readonly root: Int32Array;
  /** Steps from the root to the terminal; in a loop 0. */
  readonly steps: Int32Array;
  /** Milliseconds from the root to the terminal. */
  readonly delay: Float64Array;
  /** What comes to passive joins, at which `root` stops. */
  readonly joins: Joins;
  /** One for each device, in the show's order. */
  readonly sights: readonly Sight[];
}

/**
 * What can be seen from one device: its record, what feeds each of its terminals, where their traces start, through joins
 * as well, and the names of all devices. As long as none of that changes it is the same object.
 */
export interface Sight {
  readonly wired: WiredDevice | null;
}

const UNSEEN = -2;
const OPEN = -3;

export function arrivals(wiring: Wiring): Arrivals {
  const { size } = wiring;
  const root = new Int32Array(size).fill(UNSEEN);
  const steps = new Int32Array(size);
  const delay = new Float64Array(size);
  chase(wiring, { root, steps, delay }, null);
  const sights = wiring.devices.map((wired): Sight => ({ wired }));
  return { root, steps, delay, joins: joinsOf(wiring, root), sights };
}

/** The arrivals after an edit, from those before it. */
export function rearrive({ wiring, moved }: Recompiled, before: Wiring, known: Arrivals): Arrivals {
  if (moved === null) return arrivals(wiring);
  const seen = new Uint8Array(wiring.devices.length);
  const again = downstreamOf(wiring, moved);
  let found: Omit<Arrivals, "sights"> = known;
  if (again.length > 0) {
    const root = known.root.slice();
    const steps = known.steps.slice();
    const delay = known.delay.slice();
    for (const terminal of again) {
      root[terminal] = UNSEEN;
      steps[terminal] = 0;
      delay[terminal] = 0;
      seen[wiring.deviceOf[terminal]!] = 1;
    }
    chase(wiring, { root, steps, delay }, again);
    const joins = joinsOf(wiring, root);
    found = { root, steps, delay, joins };
    // What hangs behind a join sees through it.
    for (const terminal of downstreamOf(wiring, changedJoins(known.joins, joins)))
      seen[wiring.deviceOf[terminal]!] = 1;
  }
  const renamed = wiring.names !== before.names;
  const sights = wiring.devices.map((wired, index): Sight => {
    const same = !renamed && seen[index] === 0 && wired === before.devices[index];
    return same ? known.sights[index]! : { wired };
  });
  return { ...found, sights };
}

/** The terminals and everything that lies downstream of them, each once. */
function downstreamOf({ downStart, downList, size }: Wiring, starts: readonly number[]): readonly number[] {
  if (starts.length === 0) return starts;
  const met = new Uint8Array(size);
  const list: number[] = [];
  const meet = (terminal: number): void => {
    if (met[terminal] === 1) return;
    met[terminal] = 1;
    list.push(terminal);
  };
  starts.forEach(meet);
  for (let n = 0; n < list.length; n++) {
    const terminal = list[n]!;
    for (let d = downStart[terminal]!; d < downStart[terminal + 1]!; d++) meet(downList[d]!);
  }
  return list;
}

/**
 * Goes up from each unseen terminal to what is known already, and tells every terminal on the way how its trace ends.
 * `starts` null: from all of them. One loop over the arrays and no calls in it, for this is the work of the whole engine.
 */
function chase(
  { feeder, delay: stepDelay, size }: Wiring,
  { root, steps, delay }: Pick<Arrivals, "root" | "steps" | "delay">,
  starts: readonly number[] | null,
): void {
  const count = starts ? starts.length : size;
  const path = new Int32Array(count);
  for (let n = 0; n < count; n++) {
    let at = starts ? starts[n]! : n;
    if (root[at] !== UNSEEN) continue;
    let depth = 0;
    let from = feeder[at]!;
    while (root[at] === UNSEEN && from >= 0) {
      root[at] = OPEN;
      path[depth++] = at;
      at = from;
      from = feeder[at]!;
    }
    if (root[at] === UNSEEN) root[at] = at;
    const end = root[at]!;
    if (end === OPEN || end === LOOP) {
      while (depth > 0) root[path[--depth]!] = LOOP;
      continue;
    }
    let passed = steps[at]!;
    let time = delay[at]!;
    while (depth > 0) {
      const terminal = path[--depth]!;
      root[terminal] = end;
      steps[terminal] = ++passed;
      delay[terminal] = time += stepDelay[terminal]!;
    }
  }
}
