/**
 * What comes to each passive join: the roots of its legs, which are opened on where a leg comes from another join. The
 * chase of feeders stops at a join, so these stand beside it; rigs without joins have none. The J rules of SPEC.md.
 */
import { Edge, State, type Wiring } from "../wiring/wiring.ts";

/** In `Arrivals.root`: the chase runs into a loop. */
export const LOOP = -1;

/** What the legs of one terminal of a join bring. */
export interface Joined {
  /** Taps and sources that arrive over its legs, each once, in the order in which they are met; joins past `MOST_JOINS`. */
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

/** Joins stand one behind another; past so many the rest stay closed, so that no file can make this take for ever. */
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
  const { state, deviceOf } = wiring;
  const { roots, stops, joins } = openedAt(wiring, (leg) => root[leg]!, terminal);
  const owners = new Set<number>();
  let ownerless = false;
  for (const end of roots) {
    if (state[end] === State.tap && !isJoin(wiring, end)) owners.add(deviceOf[end]!);
    else ownerless = true;
  }
  const [first] = owners;
  const owner = first === undefined || ownerless || owners.size > 1 ? -1 : first;
  return {
    roots: [...roots],
    passed: [...joins.keys()],
    stops: [...stops.keys()],
    owner,
    owners: [...owners],
  };
}

/** The leg over which something was met: the terminal that goes into `join`. */
interface Via {
  readonly join: number;
  readonly leg: number;
}

interface Opened {
  /** Taps and sources, and joins that were one too many to be opened. */
  readonly roots: ReadonlySet<number>;
  /** What doesn't arrive. */
  readonly stops: ReadonlyMap<number, Via>;
  /** The joins that were opened; the first, which nothing led to, bears no leg. */
  readonly joins: ReadonlyMap<number, Via | null>;
}

/** Opens a join to what its legs bring, nearest first. `endOf`: where the chase of a leg's feeders stops, or `LOOP`. */
function openedAt(wiring: Wiring, endOf: (leg: number) => number, terminal: number): Opened {
  const { state, mixInto } = wiring;
  const roots = new Set<number>();
  const stops = new Map<number, Via>();
  const joins = new Map<number, Via | null>([[terminal, null]]);
  // A map goes on to what is added while it is walked.
  for (const join of joins.keys()) {
    for (let n = mixInto.start[join]!; n < mixInto.start[join + 1]!; n++) {
      const leg = mixInto.terminal[n]!;
      const end = endOf(leg);
      if (end === LOOP) continue;
      if (state[end] !== State.tap && state[end] !== State.source) {
        if (!stops.has(end)) stops.set(end, { join, leg });
      } else if (!isJoin(wiring, end)) roots.add(end);
      else if (joins.size >= MOST_JOINS) {
        if (!joins.has(end)) roots.add(end);
      } else if (!joins.has(end)) joins.set(end, { join, leg });
    }
  }
  return { roots, stops, joins };
}

/**
 * Where nothing arrives at a join, the leg of each join by which a trace goes on. Null: something arrives, and the trace
 * ends here.
 */
export function legsOnward(wiring: Wiring, terminal: number): ReadonlyMap<number, number> | null {
  const { roots, stops, joins } = openedAt(wiring, (leg) => endOfFeeders(wiring, leg), terminal);
  if (roots.size > 0) return null;
  const [first] = stops.keys();
  if (first === undefined) {
    const { start, terminal: legs } = wiring.mixInto;
    return new Map([...joins.keys()].map((join) => [join, legs[start[join]!]!]));
  }
  const legs = new Map<number, number>();
  const used = [...stops.keys()].find((stop) => isUsed(wiring, stop));
  for (let via = stops.get(used ?? first) ?? null; via; via = joins.get(via.join) ?? null)
    legs.set(via.join, via.leg);
  return legs;
}

function endOfFeeders({ feeder, size }: Wiring, terminal: number): number {
  let at = terminal;
  for (let steps = 0; feeder[at]! >= 0; steps++) {
    if (steps > size) return LOOP;
    at = feeder[at]!;
  }
  return at;
}

/** Whether a terminal at which a chase stops has something plugged in, or waits for something else than a plug. */
export const isUsed = ({ state, edge }: Wiring, stop: number): boolean =>
  state[stop] !== State.unplugged || edge[stop] === Edge.cable;

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
