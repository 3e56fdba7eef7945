/**
 * A signal-flow diagram laid out: on one page where it fits, else parted over several, each laid out for itself. No box is
 * cut by a page's edge. A cable that goes on to another page ends at its box with a mark that says where.
 *
 * Parting looks for few cables between pages: halves are grown from one box along its cables, then boxes change sides as
 * long as that saves cables. Pages that fit on one again are put together afterwards.
 */
import { routeScene, touches } from "../../layout/router/router.ts";
import type { Point } from "../../model/show.ts";
import type { PageSize } from "../page.ts";
import { SMALLEST } from "../page.ts";
import { paperWidth } from "../type.ts";
import { laidOut, NETWORK_SIMPLEX, type Elk, type PlainGraph, type PlainLayout } from "./elk.ts";
import type { Item, Link, Plug } from "./items.ts";
import { plugKey, type DiagramPlan } from "./plan.ts";
import { LESS, NARROW, shapeOf, USUAL, WIDE, type End, type Shape, type Stub, type Width } from "./shape.ts";

/** A box with its place on the page's diagram. */
export interface PlacedShape {
  readonly shape: Shape;
  readonly at: Point;
}

/** A cable of which both ends are on the page: its way from the strip of one box to that of the other. */
export interface PlacedCable {
  readonly link: Link;
  /** From the first end's box to the second's. */
  readonly points: readonly Point[];
}

export interface PlacedPage extends PageSize {
  readonly shapes: readonly PlacedShape[];
  readonly cables: readonly PlacedCable[];
}

export interface PlacedGraph {
  readonly plan: DiagramPlan;
  readonly pages: readonly PlacedPage[];
}

/** Names of marks and numbers of pages aren't known before everything is laid out; this much room is kept for them. */
const LONGEST_MARK = "K888";
const LONGEST_PAGE = "→ page 888: ";

/** What is known of where the other ends of cables are. */
export interface Elsewhere {
  readonly markOf: (cable: number) => string;
  /** Page of the box with the plug, from 1; null where it is on none. */
  readonly pageOf: (plug: Plug) => number | null;
}

/** Before there are pages: every plug of a box that is shown will be on one of them. */
function unknownYet({ items }: DiagramPlan): Elsewhere {
  const shown = itemsByPlug(items);
  return { markOf: () => LONGEST_MARK, pageOf: (plug) => (shown.has(plugKey(plug)) ? 888 : null) };
}

/** Whether a plug's cable has its other end on the same page, in another box. */
function joinsHere(here: ReadonlyMap<string, Item>, { cable, end }: Plug): boolean {
  const near = here.get(plugKey({ cable, end }));
  const far = here.get(plugKey({ cable, end: end === 0 ? 1 : 0 }));
  return near !== undefined && far !== undefined && near !== far;
}

const itemsByPlug = (items: readonly Item[]): Map<string, Item> =>
  new Map(
    items.flatMap((item) => item.rows.flatMap(({ plug }) => (plug ? [[plugKey(plug), item] as const] : []))),
  );

export class Setter {
  readonly plan: DiagramPlan;
  readonly #links: ReadonlyMap<number, Link>;
  constructor(plan: DiagramPlan) {
    this.plan = plan;
    this.#links = new Map(plan.links.map((link) => [link.cable, link]));
  }

  /** The boxes of a page as they are set when these items stand on it. */
  shapes(items: readonly Item[], elsewhere: Elsewhere, width: (n: number) => Width): readonly Shape[] {
    const here = itemsByPlug(items);
    const end = (plug: Plug): End | null => {
      const link = this.#links.get(plug.cable);
      if (!link) return null;
      const east = (this.plan.eastward.get(plug.cable) ?? true) === (plug.end === 0);
      const joined = joinsHere(here, plug);
      const other: Plug = { cable: plug.cable, end: plug.end === 0 ? 1 : 0 };
      const words = link.words[other.end];
      const page = elsewhere.pageOf(other);
      const side = east ? "east" : "west";
      return {
        plug,
        side,
        // The rows of a stack stand as their cables do; a tag at one end is enough.
        tag: joined && east && here.get(plugKey(other))!.stack ? "" : link.tag,
        // Told once where both ends are in sight: at the end that the eye comes to last.
        about: joined && east ? "" : link.about,
        mark: joined
          ? null
          : page === null
            ? { name: "", words: `→ ${words}`, room: 0 }
            : {
                name: elsewhere.markOf(plug.cable),
                words: `→ page ${page}: ${words}`,
                room: Math.min(
                  72,
                  paperWidth(LONGEST_MARK, SMALLEST, true) +
                    1 +
                    paperWidth(`${LONGEST_PAGE}${words}`, SMALLEST),
                ),
              },
      };
    };
    return items.map((item, n) => shapeOf(item, { owners: this.plan.owners, width: width(n), end }));
  }

  /** The cables between boxes of the page, each from its east stub to its west stub. */
  joined(items: readonly Item[]): readonly Link[] {
    const here = itemsByPlug(items);
    return this.plan.links.filter(({ cable }) => joinsHere(here, { cable, end: 0 }));
  }

  graph(items: readonly Item[], shapes: readonly Shape[]): PlainGraph {
    return {
      nodes: shapes.map(({ item, width, height, stubs }) => ({
        id: `item ${item.id}`,
        width,
        height,
        ports: stubs
          .filter(({ marked }) => !marked)
          .map(({ plug, side, y }) => ({ id: plugKey(plug), side, y })),
      })),
      edges: this.joined(items).map(({ cable }) => {
        const east = this.plan.eastward.get(cable) ?? true;
        return {
          id: `cable ${cable}`,
          from: plugKey({ cable, end: east ? 0 : 1 }),
          to: plugKey({ cable, end: east ? 1 : 0 }),
        };
      }),
    };
  }
}

/** Lays the diagram out. The user's own arrangement needs no library; without it, it is taken in any case. */
export async function layOut(asked: DiagramPlan, elk: Elk | null): Promise<PlacedGraph> {
  const plan = elk ? asked : { ...asked, arrangement: "canvas" as const };
  const setter = new Setter(plan);
  const elsewhere = unknownYet(plan);
  const lay = async (items: readonly Item[]): Promise<PlacedPage | null> => {
    return plan.arrangement === "canvas" || elk === null
      ? onCanvas(
          setter,
          items,
          setter.shapes(items, elsewhere, () => USUAL),
        )
      : await tidy(setter, elk, items, (width) => setter.shapes(items, elsewhere, () => width));
  };
  const parts = plan.items.length === 0 ? [] : await parted(setter, plan.items, lay);
  const pages = plan.arrangement === "canvas" ? parts : await together(setter, elsewhere, parts, lay);
  const inOrder = [...pages].sort((a, b) => firstOf(a) - firstOf(b));
  return { plan, pages: named(setter, inOrder) };
}

const itemsOn = (page: PlacedPage): readonly Item[] => page.shapes.map(({ shape }) => shape.item);

const fits = (page: PageSize, area: PageSize): boolean =>
  page.width <= area.width + 1e-6 && page.height <= area.height + 1e-6;

/** Pages stand in the order of their first devices, those with consoles first. */
function firstOf(page: PlacedPage): number {
  const items = itemsOn(page);
  const desks = items.filter(({ isConsole }) => isConsole);
  const first = Math.min(...(desks.length > 0 ? desks : items).map(({ devices }) => devices[0]!));
  return first + (desks.length > 0 ? 0 : 1e9);
}

/** Sets the boxes once more, now that marks and pages have their names; every text stays within the room it had. */
function named(setter: Setter, pages: readonly PlacedPage[]): readonly PlacedPage[] {
  const pageOf = new Map<string, number>();
  pages.forEach((page, n) => {
    for (const key of itemsByPlug(itemsOn(page)).keys()) pageOf.set(key, n + 1);
  });
  const marks = new Map<number, string>();
  for (const page of pages) {
    for (const { shape } of page.shapes) {
      for (const { plug, marked } of shape.stubs) {
        const far = pageOf.get(plugKey({ cable: plug.cable, end: plug.end === 0 ? 1 : 0 }));
        if (marked && far !== undefined && !marks.has(plug.cable))
          marks.set(plug.cable, `K${marks.size + 1}`);
      }
    }
  }
  const elsewhere: Elsewhere = {
    markOf: (cable) => marks.get(cable) ?? "",
    pageOf: (plug) => pageOf.get(plugKey(plug)) ?? null,
  };
  return pages.map((page) => {
    const shapes = setter.shapes(itemsOn(page), elsewhere, (n) => page.shapes[n]!.shape.set);
    return { ...page, shapes: page.shapes.map(({ at }, n) => ({ at, shape: shapes[n]! })) };
  });
}

/**
 * One page by the library. Where it comes out a little too large, boxes are set narrower or wider and placed by other
 * rules before the page is given up.
 */
async function tidy(
  setter: Setter,
  elk: Elk,
  items: readonly Item[],
  shapesAt: (width: Width) => readonly Shape[],
): Promise<PlacedPage | null> {
  const { area } = setter.plan;
  if (items.length > 1 && hopeless(setter, items, shapesAt(NARROW))) return null;
  const lay = async (width: Width, more: Readonly<Record<string, string>>): Promise<PlacedPage> => {
    const shapes = shapesAt(width);
    const layout = await laidOut(elk, setter.graph(items, shapes), area.width / area.height, more);
    return pageOf(setter, items, shapes, layout);
  };
  let best = await lay(USUAL, {});
  const tries: (() => Promise<PlacedPage>)[] = [];
  const [across, down] = [best.width / area.width, best.height / area.height];
  if (across > 1 && across < 1.16 && down < 1.05) tries.push(() => lay(LESS, {}));
  if (across > 1.06 && across < 1.3 && down < 1.05) tries.push(() => lay(NARROW, {}));
  if (down > 1 && down < 1.3 && across < 1.05) tries.push(() => lay(WIDE, {}));
  if (Math.max(across, down) < 1.15) tries.push(() => lay(best.shapes[0]!.shape.set, NETWORK_SIMPLEX));
  for (const attempt of tries) {
    if (fits(best, area)) break;
    const page = await attempt();
    if (overflow(page, area) < overflow(best, area)) best = page;
  }
  return best;
}

/** Boxes and their strips have never covered more of a page than this, on demos and generated rigs alike. */
const FULL = 0.56;

/** Whether boxes can't come to stand on a page: too much of them, or too long a chain of them one behind the other. */
function hopeless(setter: Setter, items: readonly Item[], shapes: readonly Shape[]): boolean {
  const { area, eastward } = setter.plan;
  const covered = shapes.reduce((sum, { width, height }) => sum + width * height, 0);
  if (covered > FULL * area.width * area.height) return true;
  const here = itemsByPlug(items);
  const place = new Map(items.map((item, n) => [item, n]));
  const before = items.map((): number[] => []);
  for (const { cable } of setter.joined(items)) {
    const east = eastward.get(cable) ?? true;
    const from = place.get(here.get(plugKey({ cable, end: east ? 0 : 1 }))!)!;
    before[place.get(here.get(plugKey({ cable, end: east ? 1 : 0 }))!)!]!.push(from);
  }
  const until = new Map<number, number>();
  const reach = (n: number): number => {
    const known = until.get(n);
    if (known !== undefined) return known;
    // Cables run eastwards without a circle; should one be left in, it ends here.
    until.set(n, 0);
    const length = Math.max(0, ...before[n]!.map(reach)) + shapes[n]!.width;
    until.set(n, length);
    return length;
  };
  return items.some((_, n) => reach(n) > area.width);
}

const overflow = (page: PageSize, area: PageSize): number =>
  Math.max(page.width / area.width, page.height / area.height, 1);

/** The layout's answer as a page, with its corner at nought. Where a cable crosses a box all are led anew. */
function pageOf(
  setter: Setter,
  items: readonly Item[],
  shapes: readonly Shape[],
  { nodes, edges }: PlainLayout,
): PlacedPage {
  const placed = shapes.map((shape) => ({ shape, at: nodes.get(`item ${shape.item.id}`) ?? { x: 0, y: 0 } }));
  const links = setter.joined(items);
  const cables = links.map((link): PlacedCable => {
    const points = edges.get(`cable ${link.cable}`) ?? [];
    const east = setter.plan.eastward.get(link.cable) ?? true;
    return { link, points: east ? points : points.toReversed() };
  });
  return bounded(placed, crossing(placed, cables) ? routed(placed, links) : cables);
}

/** Moved so that the corner is at nought. */
function bounded(shapes: readonly PlacedShape[], cables: readonly PlacedCable[]): PlacedPage {
  const xs = [
    ...shapes.flatMap(({ at, shape }) => [at.x, at.x + shape.width]),
    ...cables.flatMap(({ points }) => points.map(({ x }) => x)),
  ];
  const ys = [
    ...shapes.flatMap(({ at, shape }) => [at.y, at.y + shape.height]),
    ...cables.flatMap(({ points }) => points.map(({ y }) => y)),
  ];
  const [left, top] = [least(xs), least(ys)];
  const moved = ({ x, y }: Point): Point => ({ x: hundredth(x - left), y: hundredth(y - top) });
  return {
    width: hundredth(most(xs) - left),
    height: hundredth(most(ys) - top),
    shapes: shapes.map(({ at, shape }) => ({ shape, at: moved(at) })),
    cables: cables.map(({ link, points }) => ({ link, points: points.map(moved) })),
  };
}

const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b), values[0] ?? 0);
const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), values[0] ?? 0);
const hundredth = (value: number): number => Math.round(value * 100) / 100;

/** Whether a cable runs through a box or its strips, isn't level and upright throughout, or doesn't start at its stub. */
export function crossing(shapes: readonly PlacedShape[], cables: readonly PlacedCable[]): boolean {
  const stubs = new Map(
    shapes.flatMap(({ at, shape }) => shape.stubs.map((stub) => [plugKey(stub.plug), { at, stub }] as const)),
  );
  return cables.some(({ link, points }) => {
    if (points.length < 2) return true;
    const ends = [points[0]!, points.at(-1)!];
    const apart = ends.some((point, end) => {
      const found = stubs.get(plugKey({ cable: link.cable, end: end === 0 ? 0 : 1 }));
      if (!found) return true;
      const { at, stub } = found;
      return Math.abs(at.x + stub.edge - point.x) > 0.05 || Math.abs(at.y + stub.y - point.y) > 0.05;
    });
    const slanting = points.some(
      ({ x, y }, n) =>
        n > 0 && Math.abs(x - points[n - 1]!.x) > 0.02 && Math.abs(y - points[n - 1]!.y) > 0.02,
    );
    return (
      apart ||
      slanting ||
      shapes.some(({ at, shape }) =>
        touches(points, { ...at, width: shape.width, height: shape.height }, -0.05),
      )
    );
  });
}

/** The canvas's router counts in pixels. */
const PIXELS = 10;

/** Ways by the engine's own router, around all boxes. */
function routed(shapes: readonly PlacedShape[], links: readonly Link[]): readonly PlacedCable[] {
  const stubs = new Map<string, { readonly id: string; readonly stub: Stub }>();
  for (const { shape } of shapes)
    for (const stub of shape.stubs) stubs.set(plugKey(stub.plug), { id: shape.item.id, stub });
  const end = (cable: number, which: 0 | 1) => {
    const { id, stub } = stubs.get(plugKey({ cable, end: which }))!;
    return {
      box: id,
      anchors: [
        {
          side: stub.side === "west" ? ("left" as const) : ("right" as const),
          x: stub.edge * PIXELS,
          y: stub.y * PIXELS,
        },
      ],
    };
  };
  const { routes } = routeScene({
    boxes: shapes.map(({ at, shape }) => ({
      id: shape.item.id,
      x: at.x * PIXELS,
      y: at.y * PIXELS,
      width: shape.width * PIXELS,
      height: shape.height * PIXELS,
    })),
    wires: links.map(({ cable }) => ({ id: String(cable), ends: [end(cable, 0), end(cable, 1)] as const })),
  });
  return links.map((link) => ({
    link,
    points: (routes.get(String(link.cable))?.points ?? []).map(({ x, y }) => ({
      x: hundredth(x / PIXELS),
      y: hundredth(y / PIXELS),
    })),
  }));
}

/** Boxes stay at least so far apart where the user's arrangement is taken over, for the cables between them. */
const BESIDE = 9;
const ABOVE = 5;

/**
 * The boxes as the user has them on the canvas, as near to each other as paper asks: what stands left of another stays
 * left of it, and what stands above it above, by that direction in which the two are further apart on the canvas. A box
 * that has room to move stands in the middle of it.
 */
function onCanvas(setter: Setter, items: readonly Item[], shapes: readonly Shape[]): PlacedPage {
  const middles = items.map(({ at }) => ({ x: at.x + at.width / 2, y: at.y + at.height / 2 }));
  const level: [number, number][] = [];
  const upright: [number, number][] = [];
  items.forEach(({ at: a }, n) => {
    for (let k = n + 1; k < items.length; k++) {
      const b = items[k]!.at;
      const across = Math.abs(middles[n]!.x - middles[k]!.x) - (a.width + b.width) / 2;
      const down = Math.abs(middles[n]!.y - middles[k]!.y) - (a.height + b.height) / 2;
      if (across >= down) level.push(middles[n]!.x <= middles[k]!.x ? [n, k] : [k, n]);
      else upright.push(middles[n]!.y <= middles[k]!.y ? [n, k] : [k, n]);
    }
  });
  const byX = [...items.keys()].sort((a, b) => middles[a]!.x - middles[b]!.x || a - b);
  const byY = [...items.keys()].sort((a, b) => middles[a]!.y - middles[b]!.y || a - b);
  const links = setter.joined(items);
  const spaced = (by: number): PlacedPage | null => {
    const xs = settled(
      byX,
      level,
      shapes.map(({ width }) => width + by * BESIDE),
    );
    const ys = settled(
      byY,
      upright,
      shapes.map(({ height }) => height + by * ABOVE),
    );
    const placed = shapes.map((shape, n): PlacedShape => ({
      shape,
      at: { x: hundredth(xs[n]!), y: hundredth(ys[n]!) },
    }));
    const ways = routed(placed, links);
    return by < WIDEST && crossing(placed, ways) ? null : bounded(placed, ways);
  };
  // Where boxes stand too near for the cables between them they move apart.
  for (let by = 1; by < WIDEST; by *= 2) {
    const page = spaced(by);
    if (page) return page;
  }
  return spaced(WIDEST)!;
}

/** How many times as far apart as usual boxes are set before a cable is led through one. */
const WIDEST = 8;

/**
 * Places along one axis that keep the pairs in their order, each at least its own length before the next: halfway between
 * the earliest and the latest that are possible. `order` has the first of each pair before the second.
 */
function settled(
  order: readonly number[],
  pairs: readonly (readonly [number, number])[],
  lengths: readonly number[],
): readonly number[] {
  const earliest = lengths.map(() => 0);
  const after = lengths.map((): number[] => []);
  for (const [first, second] of pairs) after[first]!.push(second);
  for (const n of order)
    for (const next of after[n]!) earliest[next] = Math.max(earliest[next]!, earliest[n]! + lengths[n]!);
  const end = Math.max(0, ...earliest.map((at, n) => at + lengths[n]!));
  const latest = lengths.map((length) => end - length);
  for (const n of [...order].reverse())
    for (const next of after[n]!) latest[n] = Math.min(latest[n]!, latest[next]! - lengths[n]!);
  return earliest.map((at, n) => (at + latest[n]!) / 2);
}

/** Null: there is no hope that they fit on one page. */
type Lay = (items: readonly Item[]) => Promise<PlacedPage | null>;

async function parted(setter: Setter, all: readonly Item[], lay: Lay): Promise<PlacedPage[]> {
  const done: PlacedPage[] = [];
  const open: (readonly Item[])[] = [all];
  for (let items = open.pop(); items !== undefined; items = open.pop()) {
    const page = await lay(items);
    if (page && fits(page, setter.plan.area)) {
      done.push(page);
      continue;
    }
    const halves = items.length > 1 ? halved(setter, items, page) : halfItem(items[0]!);
    if (halves) open.push(halves[1], halves[0]);
    // A box that can't be parted is drawn as it is; it has a row or none.
    else if (page) done.push(page);
  }
  return done;
}

function halved(
  setter: Setter,
  items: readonly Item[],
  page: PageSize | null,
): readonly [readonly Item[], readonly Item[]] {
  if (setter.plan.arrangement === "tidy" || page === null) return cutInTwo(setter, items);
  // The user's arrangement is cut straight across its longer side.
  const level = page.width / setter.plan.area.width >= page.height / setter.plan.area.height;
  const sorted = [...items].sort(
    (a, b) => (level ? a.at.x - b.at.x : a.at.y - b.at.y) || a.devices[0]! - b.devices[0]!,
  );
  const half = Math.ceil(sorted.length / 2);
  return [sorted.slice(0, half), sorted.slice(half)];
}

/** A box of more rows than a page holds goes on as another. */
function halfItem(item: Item): readonly [readonly Item[], readonly Item[]] | null {
  if (item.rows.length < 2) return null;
  const half = Math.ceil(item.rows.length / 2);
  const part = (rows: Item["rows"], suffix: string): Item => ({
    ...item,
    id: `${item.id}${suffix}`,
    details: item.details.includes(PART) ? item.details : [...item.details, PART],
    rows,
  });
  return [[part(item.rows.slice(0, half), "/1")], [part(item.rows.slice(half), "/2")]];
}

const PART = "in parts, see the other pages";

/** Two halves with few cables between them, neither much larger than the other. */
function cutInTwo(setter: Setter, items: readonly Item[]): readonly [readonly Item[], readonly Item[]] {
  const shapes = setter.shapes(items, unknownYet(setter.plan), () => USUAL);
  const sizes = shapes.map(({ width, height }) => (width + 8) * (height + 4));
  const total = sizes.reduce((sum, size) => sum + size, 0);
  const near = neighbours(setter, items);
  const balanced = (inFirst: number): boolean => inFirst >= 0.25 * total && inFirst <= 0.75 * total;
  let best: { readonly first: Uint8Array; readonly cut: number; readonly off: number } | null = null;
  const seeds =
    items.length <= 24
      ? [...items.keys()]
      : Array.from({ length: 24 }, (_, n) => Math.floor((n * items.length) / 24));
  for (const seed of seeds) {
    const { first, inFirst } = grown(seed);
    let size = inFirst;
    improve();
    const cut = cutOf(first);
    const off = Math.abs(size - total / 2);
    const evenly = balanced(size) ? 0 : 1e6;
    if (!best || cut + evenly < best.cut || (cut + evenly === best.cut && off < best.off))
      best = { first, cut: cut + evenly, off };

    function improve(): void {
      for (let round = 0; round < 4; round++) {
        let moved = false;
        for (let n = 0; n < items.length; n++) {
          const here = first[n]!;
          let gain = 0;
          for (const [to, count] of near[n]!) gain += first[to] === here ? -count : count;
          const after = size + (here === 1 ? -sizes[n]! : sizes[n]!);
          if (gain <= 0 || !balanced(after)) continue;
          first[n] = 1 - here;
          size = after;
          moved = true;
        }
        if (!moved) return;
      }
    }
  }
  const { first } = best!;
  const halves = [items.filter((_, n) => first[n] === 1), items.filter((_, n) => first[n] === 0)] as const;
  if (halves[0].length > 0 && halves[1].length > 0) return halves;
  const half = Math.ceil(items.length / 2);
  return [items.slice(0, half), items.slice(half)];

  /** Half of the whole, grown from one box: always the one next that most cables lead to. */
  function grown(seed: number): { readonly first: Uint8Array; readonly inFirst: number } {
    const first = new Uint8Array(items.length);
    const pull = new Float64Array(items.length);
    let inFirst = 0;
    let next = seed;
    while (next >= 0) {
      first[next] = 1;
      inFirst += sizes[next]!;
      for (const [to, count] of near[next]!) pull[to]! += count;
      if (inFirst >= total / 2) break;
      next = -1;
      for (let n = 0; n < items.length; n++)
        if (first[n] === 0 && (next < 0 || pull[n]! > pull[next]!)) next = n;
    }
    return { first, inFirst };
  }

  function cutOf(first: Uint8Array): number {
    let cut = 0;
    near.forEach((list, n) => {
      for (const [to, count] of list) if (to > n && first[to] !== first[n]) cut += count;
    });
    return cut;
  }
}

/** For each item the others that cables lead to, with how many do. */
function neighbours(setter: Setter, items: readonly Item[]): readonly ReadonlyMap<number, number>[] {
  const here = itemsByPlug(items);
  const place = new Map(items.map((item, n) => [item, n]));
  const near = items.map(() => new Map<number, number>());
  for (const { cable } of setter.joined(items)) {
    const a = place.get(here.get(plugKey({ cable, end: 0 }))!)!;
    const b = place.get(here.get(plugKey({ cable, end: 1 }))!)!;
    // What stands in one place is looked for on one page.
    const pull = items[a]!.place === items[b]!.place ? 1.5 : 1;
    near[a]!.set(b, (near[a]!.get(b) ?? 0) + pull);
    near[b]!.set(a, (near[b]!.get(a) ?? 0) + pull);
  }
  return near;
}

interface Candidate {
  readonly pair: readonly [PlacedPage, PlacedPage];
  readonly cables: number;
}

/**
 * Two pages on one, if they fit there one below the other or side by side. The cables between them, which the library had
 * no part in, take a way around all boxes by the engine's own router, and so do all others, since boxes without marks
 * are set smaller.
 */
function besideEachOther(
  setter: Setter,
  elsewhere: Elsewhere,
  a: PlacedPage,
  b: PlacedPage,
  cables: number,
): PlacedPage | null {
  const { area } = setter.plan;
  const apart = PARTS + cables * LANE;
  const below = a.height + b.height + apart <= area.height;
  if (!below && a.width + b.width + apart > area.width) return null;
  const by = below ? { x: 0, y: a.height + apart } : { x: a.width + apart, y: 0 };
  const moved = ({ x, y }: Point): Point => ({ x: hundredth(x + by.x), y: hundredth(y + by.y) });
  const both = [...a.shapes, ...b.shapes.map(({ at, shape }) => ({ shape, at: moved(at) }))];
  if (cables === 0)
    return bounded(both, [
      ...a.cables,
      ...b.cables.map(({ link, points }) => ({ link, points: points.map(moved) })),
    ]);
  const items = both.map(({ shape }) => shape.item);
  const shapes = setter.shapes(items, elsewhere, (n) => both[n]!.shape.set);
  // The box itself stays where it was, though the strip on its left has become narrower and rows above others lower.
  const placed = shapes.map((shape, n): PlacedShape => {
    const { at, shape: former } = both[n]!;
    const kept = former.stubs.find(({ marked }) => !marked);
    const now = kept && shape.stubs.find(({ plug }) => plugKey(plug) === plugKey(kept.plug));
    const down = kept && now ? kept.y - now.y : 0;
    return {
      shape,
      at: { x: hundredth(at.x + former.box.x - shape.box.x), y: hundredth(at.y + down) },
    };
  });
  const ways = routed(placed, setter.joined(items));
  return crossing(placed, ways) ? null : bounded(placed, ways);
}

/** For each cable that is led between the two. */
const LANE = 2;

/** Between parts of a page that have nothing to do with each other. */
const PARTS = 6;

/** Puts pages together that fit on one, those with most cables between them first. */
async function together(
  setter: Setter,
  elsewhere: Elsewhere,
  parts: readonly PlacedPage[],
  lay: Lay,
): Promise<readonly PlacedPage[]> {
  let pages = [...parts];
  const tried = new Set<string>();
  const { area } = setter.plan;
  const key = (page: PlacedPage): string =>
    itemsOn(page)
      .map(({ id }) => id)
      .join(" ");
  const boxes = (page: PlacedPage): number =>
    page.shapes.reduce((sum, { shape }) => sum + shape.width * shape.height, 0);
  for (let attempts = 0; attempts < 8 * parts.length; attempts++) {
    const found = candidate();
    if (!found) break;
    const {
      pair: [a, b],
      cables,
    } = found;
    tried.add(`${key(a)} + ${key(b)}`);
    const anew = cables > 0 ? await lay([...itemsOn(a), ...itemsOn(b)]) : null;
    const both = anew && fits(anew, area) ? anew : besideEachOther(setter, elsewhere, a, b, cables);
    if (both && fits(both, area)) pages = [...pages.filter((page) => page !== a && page !== b), both];
  }
  return pages;

  function candidate(): Candidate | null {
    const owner = new Map(
      pages.flatMap((page) => [...itemsByPlug(itemsOn(page)).keys()].map((plug) => [plug, page] as const)),
    );
    const between = new Map<string, number>();
    const number = new Map(pages.map((page, n) => [page, n]));
    for (const { cable } of setter.plan.links) {
      const a = owner.get(plugKey({ cable, end: 0 }));
      const b = owner.get(plugKey({ cable, end: 1 }));
      if (!a || !b || a === b) continue;
      const [low, high] = [number.get(a)!, number.get(b)!].sort((x, y) => x - y);
      between.set(`${low} ${high}`, (between.get(`${low} ${high}`) ?? 0) + 1);
    }
    let best: (Candidate & { readonly size: number }) | null = null;
    pages.forEach((a, n) => {
      for (let k = n + 1; k < pages.length; k++) {
        const b = pages[k]!;
        const size = boxes(a) + boxes(b);
        if (size > FULL * area.width * area.height || tried.has(`${key(a)} + ${key(b)}`)) continue;
        const cables = between.get(`${n} ${k}`) ?? 0;
        if (!best || cables > best.cables || (cables === best.cables && size < best.size))
          best = { pair: [a, b], cables, size };
      }
    });
    return best;
  }
}
