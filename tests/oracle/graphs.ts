/** Graphs of the textbooks, and random ones from a seed. */
import type { Graph } from "#engine/wiring/cuts.ts";
import { Dice } from "../property/random-rig.ts";

const complete = (vertices: readonly number[]): [number, number][] =>
  vertices.flatMap((a, n) => vertices.slice(n + 1).map((b): [number, number] => [a, b]));

const ring = (vertices: readonly number[]): [number, number][] =>
  vertices.map((a, n) => [a, vertices[(n + 1) % vertices.length]!]);

const upTo = (count: number): number[] => Array.from({ length: count }, (_, n) => n);

/** Two complete graphs of four joined by a path of two more. networkx documentation, `articulation_points`. */
export const BARBELL: Graph = {
  order: 10,
  edges: [...complete([0, 1, 2, 3]), [3, 4], [4, 5], [5, 6], ...complete([6, 7, 8, 9])],
};

/** Zachary, An information flow model for conflict and fission in small groups, 1977; for each member those after it. */
const KARATE_LISTS: readonly (readonly number[])[] = [
  [1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12, 13, 17, 19, 21, 31],
  [2, 3, 7, 13, 17, 19, 21, 30],
  [3, 7, 8, 9, 13, 27, 28, 32],
  [7, 12, 13],
  [6, 10],
  [6, 10, 16],
  [16],
  [],
  [30, 32, 33],
  [33],
  [],
  [],
  [],
  [33],
  [32, 33],
  [32, 33],
  [],
  [],
  [32, 33],
  [33],
  [32, 33],
  [],
  [32, 33],
  [25, 27, 29, 32, 33],
  [25, 27, 31],
  [31],
  [29, 33],
  [33],
  [31, 33],
  [32, 33],
  [32, 33],
  [32, 33],
  [33],
  [],
];
export const KARATE: Graph = {
  order: 34,
  edges: KARATE_LISTS.flatMap((list, a) => list.map((b): [number, number] => [a, b])),
};

/** Its twelve corners in the order of the networkx library, whose documentation asks for paths from 0 to 6. */
export const ICOSAHEDRON: Graph = {
  order: 12,
  edges: Object.entries({
    0: [1, 5, 7, 8, 11],
    1: [2, 5, 6, 8],
    2: [3, 6, 8, 9],
    3: [4, 6, 9, 10],
    4: [5, 6, 10, 11],
    5: [6, 11],
    7: [8, 9, 10, 11],
    8: [9],
    9: [10],
    10: [11],
  }).flatMap(([a, list]) => list.map((b): [number, number] => [Number(a), b])),
};

export const PETERSEN: Graph = {
  order: 10,
  edges: [
    ...ring(upTo(5)),
    ...upTo(5).map((n): [number, number] => [n, n + 5]),
    ...upTo(5).map((n): [number, number] => [n + 5, ((n + 2) % 5) + 5]),
  ],
};

/** Corners by their coordinates as bits; an edge where one bit differs. */
export const CUBE: Graph = {
  order: 8,
  edges: complete(upTo(8)).filter(([a, b]) => [1, 2, 4].includes(a ^ b)),
};

export const K5: Graph = { order: 5, edges: complete(upTo(5)) };

/** Sparse, so that it has cuts; now and then two vertices are joined twice, or one to itself. */
export function randomGraph(seed: number): Graph {
  const dice = new Dice(seed);
  const order = dice.whole(1, 24);
  const count = Math.floor(order * dice.pick([0.6, 0.9, 1, 1.1, 1.4, 2]));
  const edges = Array.from({ length: count }, (): [number, number] => [
    dice.whole(0, order - 1),
    dice.whole(0, order - 1),
  ]);
  if (edges.length > 0 && dice.chance(0.4)) edges.push(dice.pick(edges));
  return { order, edges };
}
