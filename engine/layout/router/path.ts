/** From points to what is drawn: a path with rounded corners, places along it, and the plain way of a preview. */
import type { Point } from "../../model/show.ts";
import type { NodeSide } from "../geometry.ts";
import { OUTWARD } from "./scene.ts";

export const CORNER = 8;

const number = (value: number): string => String(Math.round(value * 100) / 100);

/** An SVG path through the points. A corner's radius shrinks where its arms are short. */
export function roundedPath(points: readonly Point[], radius = CORNER): string {
  const [first] = points;
  if (!first) return "";
  let path = `M${number(first.x)} ${number(first.y)}`;
  for (let n = 1; n < points.length; n++) {
    const here = points[n]!;
    const next = points[n + 1];
    if (!next) {
      path += `L${number(here.x)} ${number(here.y)}`;
      continue;
    }
    const before = points[n - 1]!;
    const r = Math.min(radius, distance(before, here) / 2, distance(here, next) / 2);
    const from = toward(here, before, r);
    const to = toward(here, next, r);
    path += `L${number(from.x)} ${number(from.y)}Q${number(here.x)} ${number(here.y)} ${number(to.x)} ${number(to.y)}`;
  }
  return path;
}

export const distance = (a: Point, b: Point): number => Math.abs(a.x - b.x) + Math.abs(a.y - b.y);

function toward(from: Point, to: Point, length: number): Point {
  const whole = distance(from, to) || 1;
  return { x: from.x + ((to.x - from.x) / whole) * length, y: from.y + ((to.y - from.y) / whole) * length };
}

export const lengthOf = (points: readonly Point[]): number =>
  points.reduce((sum, point, n) => (n === 0 ? 0 : sum + distance(points[n - 1]!, point)), 0);

export interface Mark extends Point {
  /** Direction of travel in degrees: 0 to the right, 90 downwards. */
  readonly angle: number;
}

/** Marks along the way, `spacing` apart and centred on each stretch, none within a corner; at least one in all. */
export function marksAlong(points: readonly Point[], spacing: number): readonly Mark[] {
  const marks: Mark[] = [];
  let longest: { readonly mark: Mark; readonly length: number } | null = null;
  for (let n = 1; n < points.length; n++) {
    const from = points[n - 1]!;
    const to = points[n]!;
    const length = distance(from, to);
    const angle = from.y === to.y ? (to.x > from.x ? 0 : 180) : to.y > from.y ? 90 : -90;
    const at = (part: number): Mark => ({ ...toward(from, to, length * part), angle });
    if (!longest || length > longest.length) longest = { mark: at(0.5), length };
    const count = Math.floor((length - 2 * CORNER) / spacing);
    for (let k = 0; k < count; k++) marks.push(at((k + 0.5) / count));
  }
  return marks.length > 0 || !longest ? marks : [longest.mark];
}

/** A quick way between two sides that heeds no boxes: for a cable that is being dragged, or one that is boxed in. */
export function plainWay(
  from: Point,
  fromSide: NodeSide,
  to: Point,
  toSide: NodeSide,
  out = 16,
): readonly Point[] {
  const a = { x: from.x + OUTWARD[fromSide].x * out, y: from.y + OUTWARD[fromSide].y * out };
  const b = { x: to.x + OUTWARD[toSide].x * out, y: to.y + OUTWARD[toSide].y * out };
  const level = OUTWARD[fromSide].x !== 0;
  const levelEnd = OUTWARD[toSide].x !== 0;
  if (level && levelEnd) {
    const x = (a.x + b.x) / 2;
    return [from, { x, y: a.y }, { x, y: b.y }, to];
  }
  if (!level && !levelEnd) {
    const y = (a.y + b.y) / 2;
    return [from, { x: a.x, y }, { x: b.x, y }, to];
  }
  const corner = level ? { x: b.x, y: a.y } : { x: a.x, y: b.y };
  return [from, corner, to];
}
