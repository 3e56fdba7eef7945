/** The cable graph, its single points of failure, and how much can get through it. */
import { describe, expect, test } from "vitest";
import { maxFlow, slotFlow } from "#engine/routes/flow.ts";
import { compile } from "#engine/wiring/compile.ts";
import { cableGraph, cutsOf } from "#engine/wiring/cuts.ts";
import type { Away, Wiring } from "#engine/wiring/wiring.ts";
import { bank } from "#engine/catalog/parts.ts";
import { rig } from "./rigs/build.ts";
import { EIGHT, port, type } from "./rigs/types.ts";

/**
 *     House ═══ Box ─── Breakout
 *       └────── Wedge (by a jack of House)      Lonely
 */
const show = rig({
  devices: {
    house: { name: "House", type: "console-48" },
    box: { name: "Box", type: "box-16-8", mode: "chain" },
    breakout: { name: "Breakout", type: "breakout-16" },
    desk: { name: "Desk", type: "console-24", clock: "internal" },
    lonely: { name: "Lonely", type: "breakout-16" },
  },
  cables: [
    "L1: house.link1 - box.a",
    "L2: house.link2 - box.b",
    "P1: box.pm - breakout.pm",
    "X1: house.out.1 - desk.in.1 x4, line",
    // Second in its port: it joins nothing. And one to nowhere.
    "L3: desk.link1 - box.a",
    "L4: desk.link2 - gone.a",
  ],
});

const told = (
  away: Away = {},
): { readonly cables: string[]; readonly cuts: string[]; readonly bridges: string[] } => {
  const wiring = compile(show, away);
  const graph = cableGraph(wiring);
  const { vertices, bridges } = cutsOf(graph);
  const cable = (edge: number): string => show.cables[graph.cables[edge]!.cable]!.id;
  return {
    cables: graph.cables.map((_, edge) => cable(edge)),
    cuts: vertices.map((index) => show.devices[index]!.id),
    bridges: bridges.map(cable),
  };
};

const indices = (wiring: Wiring, ...ids: readonly string[]): number[] =>
  ids.map((id) => wiring.devices.findIndex((wired) => wired?.device.id === id));

describe("the cable graph", () => {
  test("[G1] holds the cables that join two devices; [G2] [G3] of two between the same devices neither is a bridge", () => {
    expect(told()).toEqual({
      cables: ["L1", "L2", "P1", "X1"],
      cuts: ["house", "box"],
      bridges: ["P1", "X1"],
    });
  });

  test("[G1] [G3] a pulled cable is no edge, and its twin is a bridge then", () => {
    expect(told({ cables: new Set(["L2"]) })).toEqual({
      cables: ["L1", "P1", "X1"],
      cuts: ["house", "box"],
      bridges: ["L1", "P1", "X1"],
    });
    expect(told({ cables: new Set(["X1"]) }).cables).toEqual(["L1", "L2", "P1"]);
  });

  test("[G1] [G2] a device that is off joins nothing", () => {
    expect(told({ devices: new Set(["box"]) })).toEqual({ cables: ["X1"], cuts: [], bridges: ["X1"] });
  });

  test("[G1] [G4] each edge carries what its cable brings each way: slots of the link, signals of the jacks", () => {
    const carrier = type("carrier", {
      banks: [
        bank("in", "In", "in", 4, "XLR", "AES3", { perJack: 2 }),
        bank("out", "Out", "out", 6, "XLR", "AES3", { perJack: 2 }),
        bank("one", "One", "in", 4, "XLR", "AES3"),
      ],
      ports: [
        port("x", { single: 8, double: 4, quad: 2 }, { send: { single: 6, double: 3, quad: 1 } }),
        port("y", EIGHT),
      ],
      clock: "none",
    });
    const edges = (cables: readonly string[], off = false): readonly string[] => {
      const rigged = rig({
        types: [carrier],
        devices: {
          a: { name: "A", type: "carrier" },
          b: { name: "B", type: "carrier" },
          c: { name: "C", type: "carrier", off },
        },
        cables,
      });
      const { cables: found, edges: ends } = cableGraph(compile(rigged));
      return found.map(
        ({ cable, there, back }, n) =>
          `${rigged.cables[cable]!.id} ${ends[n]!.join("-")}: ${there} there, ${back} back`,
      );
    };
    // X sends 6 and receives 8, Y 8 both ways.
    expect(edges(["L: a.x - b.x"])).toEqual(["L 0-1: 6 there, 6 back"]);
    expect(edges(["L: a.x - b.y"])).toEqual(["L 0-1: 6 there, 8 back"]);
    expect(edges(["L: b.y - a.x"])).toEqual(["L 1-0: 8 there, 6 back"]);
    // Pairs to pairs carry two a jack, to single ones one; told from output to input, however the cable is written.
    expect(edges(["P: a.out.1 - b.in.1 x2, digital-110"])).toEqual(["P 0-1: 4 there, 0 back"]);
    expect(edges(["P: b.in.1 - a.out.1 x2, digital-110"])).toEqual(["P 0-1: 4 there, 0 back"]);
    expect(edges(["P: a.out.1 - b.one.1 x2, digital-110"])).toEqual(["P 0-1: 2 there, 0 back"]);
    // Of eight ways two find an input from jack 3 of 4 on, three an output from jack 4 of 6 on, and none past the last.
    expect(edges(["P: a.out.1 - b.in.3 x8, digital-110"])).toEqual(["P 0-1: 4 there, 0 back"]);
    expect(edges(["P: a.out.4 - b.in.1 x8, digital-110"])).toEqual(["P 0-1: 6 there, 0 back"]);
    expect(edges(["P: a.out.6 - b.in.4 x8, digital-110"])).toEqual(["P 0-1: 2 there, 0 back"]);
    expect(edges(["P: a.out.7 - b.in.1, digital-110", "Q: a.out.1 - b.in.5, digital-110"])).toEqual([]);
    // No edge: to itself, to one that is off, from one that is off, unlike ends, second in a port at either end.
    expect(edges(["S: a.x - a.y", "T: a.out.1 - a.in.1, digital-110"])).toEqual([]);
    expect(edges(["L: a.x - c.x", "M: c.y - b.x", "P: c.out.1 - b.in.1, digital-110"], true)).toEqual([]);
    expect(edges(["U: a.x - b.in.1", "V: a.in.1 - b.in.2, digital-110"])).toEqual([]);
    expect(edges(["L: a.x - b.x", "M: c.x - b.x", "N: a.x - c.y"])).toEqual(["L 0-1: 6 there, 6 back"]);
  });

  test("[G2] [G3] small graphs whose cuts and bridges are seen at a glance", () => {
    const of = (order: number, ...edges: readonly (readonly [number, number])[]): unknown => {
      const { vertices, bridges } = cutsOf({ order, edges });
      return [vertices, bridges];
    };
    expect(of(2, [0, 1])).toEqual([[], [0]]);
    expect(of(2, [0, 1], [0, 1])).toEqual([[], []]);
    expect(of(3, [0, 1], [1, 2])).toEqual([[1], [0, 1]]);
    expect(of(3, [1, 0], [0, 2])).toEqual([[0], [0, 1]]);
    expect(of(3, [0, 1], [1, 2], [2, 0])).toEqual([[], []]);
    // Two triangles that share a vertex, and two that an edge joins.
    expect(of(5, [0, 1], [1, 2], [2, 0], [2, 3], [3, 4], [4, 2])).toEqual([[2], []]);
    expect(of(6, [0, 1], [1, 2], [2, 0], [2, 3], [3, 4], [4, 5], [5, 3])).toEqual([[2, 3], [3]]);
    // A star around its first and around its last vertex, and two parts that nothing joins.
    expect(of(4, [0, 1], [0, 2], [0, 3])).toEqual([[0], [0, 1, 2]]);
    expect(of(4, [3, 0], [3, 1], [3, 2])).toEqual([[3], [0, 1, 2]]);
    expect(of(5, [3, 4], [0, 1], [1, 2])).toEqual([[1], [0, 1, 2]]);
    // A square with a tail on the vertex that comes last.
    expect(of(5, [4, 3], [0, 1], [1, 2], [2, 3], [3, 0])).toEqual([[3], [0]]);
  });

  test("[G2] [G3] a chain as long as a show can have devices is walked without recursion", () => {
    const order = 200_000;
    const edges = Array.from({ length: order - 1 }, (_, n) => [n, n + 1] as const);
    const { vertices, bridges } = cutsOf({ order, edges });
    expect([vertices.length, bridges.length]).toEqual([order - 2, order - 1]);
    // Closed to a ring it has neither.
    expect(cutsOf({ order, edges: [...edges, [order - 1, 0]] })).toEqual({ vertices: [], bridges: [] });
  });

  test("[G2] [G3] no vertex, no edge, and an edge from a vertex to itself", () => {
    expect(cutsOf({ order: 0, edges: [] })).toEqual({ vertices: [], bridges: [] });
    expect(
      cutsOf({
        order: 2,
        edges: [
          [0, 0],
          [0, 1],
        ],
      }),
    ).toEqual({ vertices: [], bridges: [1] });
  });
});

describe("how much gets through", () => {
  test("[G4] slots from a console to a box count over all of its links, and no further than the narrowest cable", () => {
    const wiring = compile(show);
    const between = (from: string, to: string): number =>
      slotFlow(wiring, indices(wiring, from), indices(wiring, to)).value;
    expect(between("house", "box")).toBe(96);
    expect(between("house", "breakout")).toBe(16);
    // Four jacks, one way.
    expect(between("house", "desk")).toBe(4);
    expect(between("desk", "house")).toBe(0);
    expect(between("house", "lonely")).toBe(0);
  });

  test("[G4] from several and to several, and what stands in the way is told", () => {
    const wiring = compile(show);
    const flow = slotFlow(wiring, indices(wiring, "house", "desk"), indices(wiring, "breakout", "lonely"));
    expect([flow.value, flow.cut]).toEqual([16, indices(wiring, "house", "box", "desk").sort()]);
  });

  test("[G4] what flows into a vertex flows out of it, and no arc takes more than it can", () => {
    const arcs = [
      { from: 0, to: 1, capacity: 3 },
      { from: 0, to: 2, capacity: 2 },
      { from: 1, to: 2, capacity: 5 },
      { from: 1, to: 3, capacity: 2 },
      { from: 2, to: 3, capacity: 3 },
    ];
    const { value, over } = maxFlow(4, arcs, [0], [3]);
    expect(value).toBe(5);
    const balance = [0, 0, 0, 0];
    arcs.forEach(({ from, to, capacity }, n) => {
      expect(over[n]).toBeLessThanOrEqual(capacity);
      balance[from]! -= over[n]!;
      balance[to]! += over[n]!;
    });
    expect(balance).toEqual([-5, 0, 0, 5]);
  });
});
