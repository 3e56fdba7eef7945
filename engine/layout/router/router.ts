/**
 * Ways for all wires of a scene: orthogonal, around every box, with few bends and crossings, side by side where they
 * run together. Pure and with one outcome: the same scene and the same former ways give the same ways again.
 *
 * A scene that follows another keeps the ways that its changes don't touch. The search then runs for the wires of the
 * boxes that changed, for those in whose way a box now stands, and for those that had gone around its old place.
 */
import type { Point } from "../../model/show.ts";
import type { Rect } from "../geometry.ts";
import { spreadLanes } from "./lanes.ts";
import { gridOf } from "./lines.ts";
import { plainWay } from "./path.ts";
import { CLEARANCE, MARGIN, type Box, type Route, type Scene, type Wire } from "./scene.ts";
import { findWay } from "./search.ts";
import { Traffic } from "./traffic.ts";

export interface Routed {
  readonly scene: Scene;
  /** By wire. A way that is as before is the same object as before. */
  readonly routes: ReadonlyMap<string, Route>;
  /** How many wires the search ran for. */
  readonly searched: number;
  /** Ways before lanes were taken apart. */
  readonly ways: ReadonlyMap<string, Route>;
}

export function routeScene(scene: Scene, former: Routed | null = null): Routed {
  const boxes = new Map(scene.boxes.map((box) => [box.id, box]));
  const wires = scene.wires.filter(({ ends }) => ends.every(({ box }) => boxes.has(box)));
  const kept = former ? untouched(scene, former) : new Map<string, Route>();
  const grid = gridOf(scene.boxes);
  const traffic = new Traffic();
  const ways = new Map<string, Route>();
  for (const { id } of wires) {
    const way = kept.get(id);
    if (!way) continue;
    ways.set(id, way);
    traffic.add(way.points);
  }
  // Short wires first: they have the fewest ways to choose from, and long ones find their way around them.
  const missing = wires
    .filter(({ id }) => !ways.has(id))
    .map((wire) => ({ wire, span: spanOf(wire, boxes) }))
    .sort((a, b) => a.span - b.span || (a.wire.id < b.wire.id ? -1 : 1));
  for (const { wire } of missing) {
    const found = findWay(grid, wire.ends, traffic, scene.quiet);
    const way: Route = found ? { ...found, boxedIn: false } : plainRoute(wire, boxes);
    ways.set(wire.id, way);
    traffic.add(way.points);
  }
  return {
    scene,
    ways,
    routes: laneRoutes(scene, wires, ways, former),
    searched: missing.length,
  };
}

function spanOf({ ends }: Wire, boxes: ReadonlyMap<string, Box>): number {
  const [a, b] = ends.map(({ box }) => boxes.get(box)!) as [Box, Box];
  return Math.abs(a.x + a.width / 2 - b.x - b.width / 2) + Math.abs(a.y + a.height / 2 - b.y - b.height / 2);
}

function plainRoute({ ends }: Wire, boxes: ReadonlyMap<string, Box>): Route {
  let best: { readonly route: Route; readonly length: number } | null = null;
  const [first, second] = ends;
  const a = boxes.get(first.box)!;
  const b = boxes.get(second.box)!;
  for (const from of first.anchors) {
    for (const to of second.anchors) {
      const start = { x: a.x + from.x, y: a.y + from.y };
      const end = { x: b.x + to.x, y: b.y + to.y };
      const length = Math.abs(start.x - end.x) + Math.abs(start.y - end.y);
      if (best && best.length <= length) continue;
      const points = plainWay(start, from.side, end, to.side);
      best = { route: { points, sides: [from.side, to.side], boxedIn: true }, length };
    }
  }
  return best?.route ?? { points: [], sides: ["right", "left"], boxedIn: true };
}

/** The former ways that stand in the new scene as well. */
function untouched(scene: Scene, former: Routed): ReadonlyMap<string, Route> {
  const before = new Map(former.scene.boxes.map((box) => [box.id, box]));
  const after = new Map(scene.boxes.map((box) => [box.id, box]));
  const changed = new Set<string>();
  const nowTaken: Rect[] = [];
  const nowFree: Rect[] = [];
  for (const box of scene.boxes) {
    const old = before.get(box.id);
    if (old && sameRect(old, box)) continue;
    changed.add(box.id);
    nowTaken.push(box);
    if (old) nowFree.push(old);
  }
  for (const box of former.scene.boxes) if (!after.has(box.id)) nowFree.push(box);

  const wiresBefore = new Map(former.scene.wires.map((wire) => [wire.id, wire]));
  const kept = new Map<string, Route>();
  for (const wire of scene.wires) {
    const way = former.ways.get(wire.id);
    const old = wiresBefore.get(wire.id);
    if (!way || !old || way.boxedIn || !sameEnds(old, wire)) continue;
    if (wire.ends.some(({ box }) => changed.has(box))) continue;
    if (nowTaken.some((rect) => touches(way.points, rect, CLEARANCE))) continue;
    if (nowFree.some((rect) => touches(way.points, rect, MARGIN + 1))) continue;
    kept.set(wire.id, way);
  }
  return kept;
}

const sameRect = (a: Rect, b: Rect): boolean =>
  a.x === b.x && a.y === b.y && a.width === b.width && a.height === b.height;

const sameEnds = (a: Wire, b: Wire): boolean =>
  a === b ||
  a.ends.every(
    (end, n) =>
      end.box === b.ends[n]!.box &&
      end.anchors.length === b.ends[n]!.anchors.length &&
      end.anchors.every((anchor, k) => {
        const other = b.ends[n]!.anchors[k]!;
        return anchor.side === other.side && anchor.x === other.x && anchor.y === other.y;
      }),
  );

/** Whether a way runs through a rectangle that has grown by `margin` on each side. */
export function touches(points: readonly Point[], rect: Rect, margin: number): boolean {
  for (let n = 1; n < points.length; n++) {
    const a = points[n - 1]!;
    const b = points[n]!;
    if (
      Math.max(a.x, b.x) > rect.x - margin &&
      Math.min(a.x, b.x) < rect.x + rect.width + margin &&
      Math.max(a.y, b.y) > rect.y - margin &&
      Math.min(a.y, b.y) < rect.y + rect.height + margin
    )
      return true;
  }
  return false;
}

function laneRoutes(
  scene: Scene,
  wires: readonly Wire[],
  ways: ReadonlyMap<string, Route>,
  former: Routed | null,
): ReadonlyMap<string, Route> {
  const lanes = spreadLanes(
    scene.boxes,
    wires.map(({ id }) => ways.get(id)!.points),
  );
  return new Map(
    wires.map(({ id }, index) => {
      const { sides, boxedIn } = ways.get(id)!;
      const points = lanes[index]!;
      const old = former?.routes.get(id);
      const same =
        old !== undefined &&
        old.boxedIn === boxedIn &&
        old.points.length === points.length &&
        old.points.every(({ x, y }, n) => x === points[n]!.x && y === points[n]!.y);
      return [id, same ? old : { points, sides, boxedIn }];
    }),
  );
}
