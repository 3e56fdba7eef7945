/**
 * An analysis on its way from one thread to another. What both sides can make of the show in no time is left out; the
 * tables and the findings go, and of these only what isn't the same as in the analysis before.
 */
import type { Analysis } from "./analysis.ts";
import { listed } from "./findings/checks.ts";
import type { Finding } from "./findings/finding.ts";
import type { Show } from "./model/show.ts";
import { joinsOf } from "./trace/joins.ts";
import { rigOf, type Rig } from "./wiring/compile.ts";
import { staleAfter } from "./wiring/stale.ts";
import type { Away, Tables, Wiring } from "./wiring/wiring.ts";

type Arrays = Tables & Pick<Wiring, "downStart" | "downList" | "mixInto" | "mixWhole"> & Chased;

/** `Arrivals` without what comes to joins, and what can be seen from each device, which only the checks ask for. */
interface Chased {
  readonly root: Int32Array;
  readonly steps: Int32Array;
  readonly arrival: Float64Array;
}

export interface Parcel {
  /** Those that are left out are the same as before. */
  readonly arrays: Partial<Arrays>;
  /** Check by check; null: the same as before. */
  readonly foundBy: readonly (readonly Sent[] | null)[];
}

/** A finding; or the place, in its check's list before, of the one that it still is or still points at the terminals of. */
type Sent = Finding | number | (Omit<Finding, "terminals"> & { readonly terminals: number });

function arraysOf({ wiring, arrivals }: Analysis): Arrays {
  const { feeder, state, edge, setting, delay, sourceAt, downStart, downList } = wiring;
  const { mixInto, mixWhole } = wiring;
  const { root, steps, delay: arrival } = arrivals;
  const tables = { feeder, state, edge, setting, delay, sourceAt, downStart, downList };
  return { ...tables, mixInto, mixWhole, root, steps, arrival };
}

/** `before`: what the other side has. Null: nothing. */
export function pack(after: Analysis, before: Analysis | null): Parcel {
  const known: Partial<Arrays> = before ? arraysOf(before) : {};
  const changed = Object.entries(arraysOf(after)).filter(
    ([name, array]) => known[name as keyof Arrays] !== array,
  );
  return {
    arrays: Object.fromEntries(changed),
    foundBy: after.foundBy.map((found, n) => {
      const known = before?.foundBy[n] ?? [];
      return before && known === found ? null : sent(found, known);
    }),
  };
}

function sent(found: readonly Finding[], known: readonly Finding[]): readonly Sent[] {
  const places = new Map<object, number>();
  known.forEach((finding, n) => places.set(finding, n).set(finding.terminals, n));
  return found.map((finding) => {
    const terminals = places.get(finding.terminals);
    return places.get(finding) ?? (terminals === undefined ? finding : { ...finding, terminals });
  });
}

const received = (found: readonly Sent[], known: readonly Finding[]): readonly Finding[] =>
  found.map((each) => {
    if (typeof each === "number") return known[each]!;
    const { terminals } = each;
    return typeof terminals === "number"
      ? { ...each, terminals: known[terminals]!.terminals }
      : (each as Finding);
  });

/**
 * `show`: what was analysed, as this side has it, with nothing taken away. `before`: the analysis that the parcel was
 * packed against.
 */
export function unpack(show: Show, { arrays, foundBy }: Parcel, before: Analysis | null): Analysis {
  const all = { ...(before ? arraysOf(before) : {}), ...arrays } as Arrays;
  const allFound = foundBy.map((found, n) => {
    const known = before?.foundBy[n] ?? [];
    return found ? received(found, known) : known;
  });
  return analysisOf(rigOf(show, {}, before?.wiring ?? null), {}, all, allFound);
}

/**
 * The analysis of a show in which no signal, mix or clock differs from before, such as after a move on the canvas; null
 * where one does. Its findings are those from before, and may speak of an old name.
 */
export function reframe(show: Show, before: Analysis): Analysis | null {
  if (show.mixes !== before.show.mixes) return null;
  const rig = rigOf(show, before.away, before.wiring);
  if (rig.shape !== before.wiring.shape || staleAfter(before.wiring, rig)?.includes(1) !== false) return null;
  return analysisOf(rig, before.away, arraysOf(before), before.foundBy);
}

function analysisOf(
  rig: Rig,
  away: Away,
  { root, steps, arrival, ...tables }: Arrays,
  foundBy: Analysis["foundBy"],
): Analysis {
  const sights = rig.devices.map((wired) => ({ wired }));
  const wiring = { ...rig, ...tables };
  return {
    show: rig.show,
    away,
    wiring,
    arrivals: { root, steps, delay: arrival, joins: joinsOf(wiring, root), sights },
    findings: listed(foundBy),
    foundBy,
  };
}
