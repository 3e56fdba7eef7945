/** What a signal-flow diagram is made of before it is laid out: boxes, cables, the room on a page, and which way it reads. */
import type { Analysis } from "../../analysis.ts";
import { ownerIndex } from "../../trace/owners.ts";
import { Edge } from "../../wiring/wiring.ts";
import { ownerMarks, type OwnerMark } from "../owner-marks.ts";
import type { PageSize } from "../page.ts";
import { feedsOf, type Feeds } from "./feeds.ts";
import { itemsOf, linksOf, type Item, type Link, type Plug } from "./items.ts";
import { scopeOf, type DiagramScope, type Scoped } from "./scope.ts";

export interface DiagramLook {
  /** Laid out anew, or as the user has put the devices on the canvas. */
  readonly arrangement: "tidy" | "canvas";
  /** Running times at slots and jacks. */
  readonly delays: boolean;
}

export interface DiagramChoice extends DiagramLook {
  readonly scope: DiagramScope;
}

export interface DiagramPlan {
  readonly title: string;
  readonly notes: readonly string[];
  readonly arrangement: DiagramChoice["arrangement"];
  /** Room for the diagram on a page, in millimetres. */
  readonly area: PageSize;
  readonly items: readonly Item[];
  readonly links: readonly Link[];
  /** What goes into the mixes that were opened. */
  readonly feeds: readonly Feeds[];
  /** By the device's index in the show. */
  readonly owners: ReadonlyMap<number, OwnerMark>;
  /** Whether a cable of two boxes leaves the one with the first end eastwards. By the cable's index. */
  readonly eastward: ReadonlyMap<number, boolean>;
}

export const plugKey = ({ cable, end }: Plug): string => `${cable}:${end}`;

export function planOf(analysis: Analysis, choice: DiagramChoice, area: PageSize): DiagramPlan {
  const scoped = scopeOf(analysis, choice.scope);
  const items = itemsOf(analysis, scoped, choice.delays);
  const links = linksOf(analysis, scoped);
  const { indexOf } = analysis.wiring;
  const owners = new Map(ownerMarks(analysis.show).map((mark) => [indexOf.get(mark.device)!, mark] as const));
  return {
    title: scoped.title,
    notes: scoped.notes,
    arrangement: choice.arrangement,
    area,
    items,
    links,
    feeds: feedsOf(analysis, scoped.taps),
    owners,
    eastward: eastwardOf(analysis, scoped, choice.arrangement, items, links),
  };
}

/** A pair of boxes with cables between them, and how strongly signals run from the first to the second. */
interface Pair {
  readonly a: number;
  readonly b: number;
  readonly links: Link[];
  weight: number;
}

/** A signal from a console counts for more than all microphones of a rig that run the other way. */
const OWNED = 100_000;

/**
 * Which end of each cable stands west. All cables of two boxes run the same way: with most signals of consoles, then with
 * most signals at all, then away from the consoles. What would lead round in a circle is turned.
 */
function eastwardOf(
  analysis: Analysis,
  scoped: Scoped,
  arrangement: DiagramChoice["arrangement"],
  items: readonly Item[],
  links: readonly Link[],
): ReadonlyMap<number, boolean> {
  const { wiring, show } = analysis;
  const itemAt = new Map(items.flatMap((item, n) => item.devices.map((index) => [index, n] as const)));
  const ends = (link: Link): readonly [number | undefined, number | undefined] => {
    const [first, second] = show.cables[link.cable]!.ends;
    return [
      itemAt.get(wiring.indexOf.get(first.device) ?? -1),
      itemAt.get(wiring.indexOf.get(second.device) ?? -1),
    ];
  };
  const eastward = new Map<number, boolean>();
  const pairs = new Map<string, Pair>();
  const pairOf = new Map<number, { readonly pair: Pair; readonly sign: 1 | -1 }>();
  for (const link of links) {
    const [first, second] = ends(link);
    if (first === undefined || second === undefined || first === second) {
      // One end alone: signals that leave go east.
      eastward.set(link.cable, first === undefined ? link.into[1] || !link.into[0] : link.into[1]);
      continue;
    }
    const [a, b] = first < second ? [first, second] : [second, first];
    const key = `${a} ${b}`;
    let pair = pairs.get(key);
    if (!pair) pairs.set(key, (pair = { a, b, links: [], weight: 0 }));
    pair.links.push(link);
    pairOf.set(link.cable, { pair, sign: first === a ? 1 : -1 });
  }
  if (arrangement === "canvas") {
    for (const { a, b, links: here } of pairs.values())
      for (const link of here) {
        const [first] = ends(link);
        const middle = (n: number): number => items[n]!.at.x + items[n]!.at.width / 2;
        const westmost = middle(a) <= middle(b) ? a : b;
        eastward.set(link.cable, first === westmost);
      }
    return eastward;
  }
  weigh();
  const depth = depths();
  const before = (pair: Pair): boolean => {
    const { a, b, weight } = pair;
    if (weight !== 0) return weight > 0;
    const oneWay = pair.links.reduce((sum, link) => {
      const sign = pairOf.get(link.cable)!.sign;
      return sum + sign * (Number(link.into[1]) - Number(link.into[0]));
    }, 0);
    if (oneWay !== 0) return oneWay > 0;
    return depth[a]! <= depth[b]!;
  };
  const directed = [...pairs.values()].map((pair) => ({ pair, forward: before(pair) }));
  const turned = turnedOf(
    items.length,
    directed.map(({ pair: { a, b }, forward }) => (forward ? [a, b] : [b, a])),
  );
  directed.forEach(({ pair, forward }, n) => {
    const fromA = turned.has(n) ? !forward : forward;
    for (const link of pair.links) eastward.set(link.cable, (pairOf.get(link.cable)!.sign === 1) === fromA);
  });
  return eastward;

  function weigh(): void {
    const { edge, setting, deviceOf, plugs } = wiring;
    const counted = (terminal: number): void => {
      if (edge[terminal] !== Edge.cable) return;
      const found = pairOf.get(setting[terminal]!);
      const cable = plugs.cables[setting[terminal]!];
      if (!found || !cable) return;
      const owned = ownerIndex(wiring, analysis.arrivals, terminal) >= 0;
      const intoSecond = wiring.indexOf.get(cable.cable.ends[1].device) === deviceOf[terminal];
      found.pair.weight += found.sign * (intoSecond ? 1 : -1) * (owned ? OWNED : arrives(terminal) ? 1 : 0);
    };
    if (scoped.way) for (const terminal of scoped.way) counted(terminal);
    else for (let terminal = 0; terminal < wiring.size; terminal++) counted(terminal);
  }

  function arrives(terminal: number): boolean {
    return wiring.feeder[terminal]! >= 0;
  }

  /** How many cables away from a console each box is. */
  function depths(): readonly number[] {
    const far = items.map(({ isConsole }) => (isConsole ? 0 : Number.POSITIVE_INFINITY));
    const near = new Map<number, number[]>();
    for (const { a, b } of pairs.values()) {
      near.set(a, [...(near.get(a) ?? []), b]);
      near.set(b, [...(near.get(b) ?? []), a]);
    }
    const open = [...items.keys()].filter((n) => far[n] === 0);
    for (const at of open) {
      for (const next of near.get(at) ?? []) {
        if (far[next] !== Number.POSITIVE_INFINITY) continue;
        far[next] = far[at]! + 1;
        open.push(next);
      }
    }
    return far;
  }
}

/** Of directed edges those that have to be turned so that no way leads round in a circle. Depth first, in order. */
function turnedOf(count: number, edges: readonly (readonly [number, number])[]): ReadonlySet<number> {
  const out: number[][] = Array.from({ length: count }, () => []);
  edges.forEach(([from], n) => out[from]!.push(n));
  const incoming = new Array<number>(count).fill(0);
  for (const [, to] of edges) incoming[to]!++;
  const turned = new Set<number>();
  const state = new Uint8Array(count);
  // What nothing runs into comes first: from there the fewest edges are found to lead back.
  const starts = [...new Array(count).keys()].sort(
    (a, b) => Number(incoming[a]! > 0) - Number(incoming[b]! > 0) || a - b,
  );
  for (const start of starts) {
    if (state[start] !== 0) continue;
    const path: { readonly at: number; next: number }[] = [{ at: start, next: 0 }];
    state[start] = 1;
    while (path.length > 0) {
      const top = path.at(-1)!;
      const edge = out[top.at]![top.next++];
      if (edge === undefined) {
        state[top.at] = 2;
        path.pop();
        continue;
      }
      const to = edges[edge]![1];
      if (state[to] === 1) turned.add(edge);
      else if (state[to] === 0) {
        state[to] = 1;
        path.push({ at: to, next: 0 });
      }
    }
  }
  return turned;
}
