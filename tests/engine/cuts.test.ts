/** The cable graph, its single points of failure, and how much can get through it. */
import { describe, expect, test } from "vitest";
import { maxFlow, slotFlow } from "#engine/routes/flow.ts";
import { compile } from "#engine/wiring/compile.ts";
import { cableGraph, cutsOf } from "#engine/wiring/cuts.ts";
import type { Away, Wiring } from "#engine/wiring/wiring.ts";
import { rig } from "./rigs/build.ts";

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
  });

  test("[G1] [G2] a device that is off joins nothing", () => {
    expect(told({ devices: new Set(["box"]) })).toEqual({ cables: ["X1"], cuts: [], bridges: ["X1"] });
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
