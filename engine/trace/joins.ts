/**
 * What comes to each passive join: the roots of its legs, which are opened on where a leg comes from another join. A trace
 * ends at a join, so these stand beside the chase; rigs without joins have none. The J rules of SPEC.md.
 */
import { State, type Wiring } from "../wiring/wiring.ts";

/** In `Arrivals.root`: the chase runs into a loop. */
export const LOOP = -1;

/** What the legs of one terminal of a join bring. */
export interface Joined {
  /** Taps and sources that arrive over its legs, each once, in the order in which they are met. */
  readonly roots: readonly number[];
  /** The joins that were opened for it, itself first. */
  readonly passed: readonly number[];
  /** Where those of its legs stop that don't arrive; legs in a loop are left out. */
  readonly stops: readonly number[];
  /** Index of the device that owns all that arrives; −1: none does. */
  readonly owner: number;
  /** Index of each device that owns some of it. */
  readonly owners: readonly number[];
}

/** By the join's terminal. Null: the rig has no join. */
export type Joins = ReadonlyMap<number, Joined> | null;

/** Joins stand one behind another; past so many the rest is left out, so that no file can make this take for ever. */
export const MOST_JOINS = 256;

/** `root`: as in `Arrivals`. */
export function joinsOf(wiring: Wiring, root: Int32Array): Joins {
  let joins: Map<number, Joined> | null = null;
  for (const terminal of joinTerminals(wiring)) {
    if (wiring.state[terminal] !== State.tap) continue;
    joins ??= new Map();
    joins.set(terminal, joinedAt(wiring, root, terminal));
  }
  return joins;
}

/** The terminals of all joins, whether they are on or not. */
function* joinTerminals({ devices }: Wiring): Iterable<number> {
  for (const wired of devices) {
    if (!wired) continue;
    for (const { start, count } of wired.fabric.layout.joins) {
      for (let n = 0; n < count; n++) yield wired.base + start + n;
    }
  }
}

function joinedAt(wiring: Wiring, root: Int32Array, terminal: number): Joined {
  const { state, mixInto, deviceOf } = wiring;
  const roots = new Set<number>();
  const stops = new Set<number>();
  const joins = new Set([terminal]);
  // A set goes on to what is added while it is walked.
  for (const join of joins) {
    for (let n = mixInto.start[join]!; n < mixInto.start[join + 1]!; n++) {
      const end = root[mixInto.terminal[n]!]!;
      if (end === LOOP) continue;
      if (state[end] !== State.tap && state[end] !== State.source) stops.add(end);
      else if (!isJoin(wiring, end)) roots.add(end);
      else if (joins.size < MOST_JOINS) joins.add(end);
    }
  }
  const owners = new Set<number>();
  let ownerless = false;
  for (const end of roots) {
    if (state[end] === State.tap) owners.add(deviceOf[end]!);
    else ownerless = true;
  }
  const [first] = owners;
  const owner = first === undefined || ownerless || owners.size > 1 ? -1 : first;
  return { roots: [...roots], passed: [...joins], stops: [...stops], owner, owners: [...owners] };
}

/** Whether a terminal belongs to a join. */
export function isJoin({ devices, deviceOf }: Wiring, terminal: number): boolean {
  const { base, fabric } = devices[deviceOf[terminal]!]!;
  return fabric.layout.joins.some(
    ({ start, count }) => terminal - base >= start && terminal - base < start + count,
  );
}

/** The joins that bring something else than before; both rigs have the same shape. */
export function changedJoins(before: Joins, after: Joins): readonly number[] {
  const changed: number[] = [];
  for (const [terminal, joined] of after ?? []) {
    const known = before?.get(terminal);
    if (!known || !alike(known.roots, joined.roots) || !alike(known.stops, joined.stops))
      changed.push(terminal);
  }
  for (const terminal of before?.keys() ?? []) if (!after?.has(terminal)) changed.push(terminal);
  return changed;
}

const alike = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((each, n) => each === b[n]);
