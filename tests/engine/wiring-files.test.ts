/** The wiring as GraphML and DOT: what each vertex and edge says, worked out by hand on small rigs, and hostile names. */
import { Graphviz } from "@hpcc-js/wasm-graphviz";
import Graph from "graphology";
import { parse } from "graphology-graphml";
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { dot } from "#engine/exchange/dot.ts";
import { graphml } from "#engine/exchange/graphml.ts";
import { WIRING_LEVELS } from "#engine/exchange/wiring-graph.ts";
import type { Show } from "#engine/model/show.ts";
import { demo } from "./demo.ts";
import { MARKUP, withText } from "./payload.ts";
import { rig } from "./rigs/build.ts";

const graphviz = await Graphviz.load();

/** The text that a quoted value of a DOT file stands for. */
const plain = (value: string): string =>
  value.replaceAll(/\\(.)/g, (_all, sign: string) => (sign === "n" ? "\n" : sign));

const OFF_AND_ON: Show = rig({
  devices: {
    house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "ch 1 x16 < link1 1"] },
    box: { name: "Box", type: "box-16-8", mode: "one" },
    wedge: { name: "Wedge", type: "wedge" },
    spare: { name: "Spare", type: "wedge" },
  },
  cables: ["L1: house.link1 - box.a, 50 m", "X1: box.out.3 - wedge.in.1, 10 m"],
  sources: ["Kick: box.in.1"],
  mixes: ["Drums: house.mix.3 < ch 1 pre"],
  wants: ["Wedge of the drummer: wedge.in.1", "Nothing yet: spare.in.1"],
});

interface Told {
  readonly nodes: ReadonlyMap<string, Readonly<Record<string, unknown>>>;
  readonly into: ReadonlyMap<
    string,
    readonly (readonly [from: string, told: Readonly<Record<string, unknown>>])[]
  >;
}

function told(text: string): Told {
  const graph = parse(Graph, text);
  const name = (node: string): string => String(graph.getNodeAttribute(node, "full_name"));
  return {
    nodes: new Map(graph.mapNodes((node, values) => [name(node), values] as const)),
    into: new Map(
      graph.mapNodes((node) => [
        name(node),
        graph.mapInEdges(node, (_edge, values, from) => [name(from), values] as const),
      ]),
    ),
  };
}

describe("the wiring as a graph", () => {
  const { nodes, into } = told(graphml(analyse(OFF_AND_ON)));

  test("[V2] vertices are the terminals in use: joined, assigned, with a source, or wanted", () => {
    // A wedge's thru jack is wired to its input.
    expect([...nodes.keys()].filter((name) => name.startsWith("Spare"))).toEqual([
      "Spare In 1",
      "Spare Thru 1",
    ]);
    expect(nodes.get("Spare In 1")).toMatchObject({
      kind: "input jack",
      wanted_for: "Nothing yet",
      verdict: "not-plugged",
      reason: "nothing is plugged in Spare In 1",
    });
    expect(nodes.has("House Mix 3")).toBe(true);
    // No setting takes the console's own inputs, and nothing is plugged there.
    expect([...nodes.keys()].filter((name) => name.startsWith("House Local in"))).toEqual([]);
  });

  test("[V2] a vertex says what it is, what stands there, how its trace ends and how late it is", () => {
    expect(nodes.get("Box In 1")).toMatchObject({
      kind: "input jack",
      source: "Kick",
      device: "Box",
      side: "jack",
      number: 1,
    });
    expect(nodes.get("Wedge In 1")).toMatchObject({
      wanted_for: "Wedge of the drummer",
      verdict: "arrives",
      origin: "House Mix 3",
      owner: "House",
    });
    expect(nodes.get("Wedge In 1")).not.toHaveProperty("reason");
  });

  test("[V3] each hop is one edge, in the direction of the signal, with what decides it and its delay", () => {
    const way: string[] = [];
    for (let at = "Wedge In 1"; into.get(at)!.length > 0;) {
      const [[from, { kind, by, cable }]] = into.get(at)! as [[string, Record<string, unknown>]];
      way.push(`${String(kind)} ${String(cable ?? "–")} [${String(by)}] from ${from}`);
      at = from;
      if (at === "House Channel 1") break;
    }
    expect(way).toEqual([
      "cable X1 [cable X1, line cable, 10 m] from Box Out 3",
      "wired – [mode “One console”, position 1] from Box Link A in 3",
      "cable L1 [cable L1, Cat 5e, shielded, 50 m] from House Link 1 out 3",
      "patched – [Link 1 out 1–8 takes Mix 1–8] from House Mix 3",
      "mixed – [Drums, pre fader] from House Channel 1",
    ]);
    // 10 m at 5 ns/m: two thirds of the speed of light, common practice.
    expect(into.get("Wedge In 1")![0]![1]["delay_ms"]).toBe(0.00005);
  });

  test("[V4] by cable: devices, and a live cable that joins two of them with its ends and how much it carries each way", () => {
    const graph = parse(Graph, graphml(analyse(OFF_AND_ON), "cables"));
    expect(graph.mapNodes((_node, { full_name: name }) => String(name))).toEqual([
      "House",
      "Box",
      "Wedge",
      "Spare",
    ]);
    expect(graph.mapEdges((_edge, values) => values)).toMatchObject([
      { tag: "L1", from_end: "Link 1", to_end: "Link A", length_m: 50 },
      { tag: "X1", from_end: "Out 3", to_end: "In 1", length_m: 10, signals_there: 1, signals_back: 0 },
    ]);
    const pulled = analyse(OFF_AND_ON, { cables: new Set([OFF_AND_ON.cables[0]!.id]) });
    expect(parse(Graph, graphml(pulled, "cables")).size).toBe(1);
  });

  test("[V1] the same show gives the same bytes", () => {
    for (const level of WIRING_LEVELS) {
      expect(graphml(analyse(demo()), level)).toBe(graphml(analyse(demo()), level));
      expect(dot(analyse(demo()), level)).toBe(dot(analyse(demo()), level));
    }
  });
});

describe("names that would be something else in the file", () => {
  /** What XML and both readers can hold of a text: half pairs and control signs are replaced. */
  const held = (text: string): string =>
    // eslint-disable-next-line no-control-regex -- these are what it is about
    text.replaceAll(/[\u0000-\u0008]|\ud800|\udc00/g, "\ufffd");

  test.each(MARKUP)("[V1] %j stays text in GraphML", (text) => {
    const graph = parse(Graph, graphml(analyse(withText(OFF_AND_ON, text))));
    expect(graph.order).toBe(nodesOf);
    expect(graph.getNodeAttribute(graph.nodes()[0]!, "device")).toBe(held(text));
    expect(graph.edges().map((edge) => graph.getEdgeAttribute(edge, "cable") as unknown)).toContain(
      held(text),
    );
  });

  test.each(MARKUP)("[V1] %j stays text in DOT", (text) => {
    for (const level of WIRING_LEVELS) {
      const graph = graphviz.createGraph().read(dot(analyse(withText(OFF_AND_ON, text)), level));
      const [first] = graph.nodeNames();
      // A line break is one, however it was written.
      const read = held(text).replaceAll(/\r\n?/g, "\n");
      expect(plain(graph.getNodeAttr(first!, level === "cables" ? "full_name" : "device"))).toBe(read);
      if (level === "signals") expect(graph.nodeCount()).toBe(nodesOf);
      graph.delete();
    }
  });

  test("[V1] drawn by Graphviz, a name is the text that it is", () => {
    const svg = graphviz.layout(
      dot(analyse(withText(OFF_AND_ON, 'R&amp;B \\N "x" <i>')), "cables"),
      "svg",
      "dot",
    );
    expect(svg).toContain(">R&amp;amp;B \\N &quot;x&quot; &lt;i&gt;</text>");
  });

  const nodesOf = parse(Graph, graphml(analyse(OFF_AND_ON))).order;
});
