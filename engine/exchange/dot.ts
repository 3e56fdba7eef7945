/** The wiring in the DOT language of graph drawing: a cluster for each device, or for each place. */
import type { Analysis } from "../analysis.ts";
import { gather } from "../model/once.ts";
import { printable } from "../paperwork/svg.ts";
import {
  wiringGraph,
  type GraphKey,
  type GraphNode,
  type GraphValue,
  type WiringLevel,
} from "./wiring-graph.ts";

/**
 * A quoted text. In labels a backslash begins a command, so it is written twice and a line break as `\n`; values that
 * aren't drawn are written alike, and read by the same rule.
 */
const quoted = (text: string): string =>
  `"${printable(text)
    .replaceAll("\\", "\\\\")
    .replaceAll('"', '\\"')
    .replaceAll(/\r\n|\r|\n/g, "\\n")}"`;

/** What is drawn may name signs as HTML does: `&amp;` would come out as `&`. */
const drawn = (text: string): string => quoted(text.replaceAll(/&(?=#?\w+;)/g, "&amp;"));

function attributes(label: string, keys: readonly GraphKey[], values: readonly GraphValue[]): string {
  const told = keys.flatMap(({ name }, n) => {
    const value = values[n];
    if (value === undefined || value === "") return [];
    return [`${name}=${typeof value === "number" ? value : quoted(value)}`];
  });
  return `[${[...(label === "" ? [] : [`label=${drawn(label)}`]), ...told].join(", ")}]`;
}

/** Without the date, so that files of two days can be compared. */
export function dot(analysis: Analysis, level: WiringLevel = "signals"): string {
  const { title, directed, clusters, nodeKeys, edgeKeys, nodes, edges } = wiringGraph(analysis, level);
  const members = new Map<number, GraphNode[]>();
  for (const node of nodes) gather(members, node.cluster, node);
  const line = ({ id, label, values }: GraphNode): string => `${id} ${attributes(label, nodeKeys, values)};`;
  const arrow = directed ? "->" : "--";
  return [
    `${directed ? "digraph" : "graph"} ${quoted(title)} {`,
    `  graph [label=${drawn(title)}, rankdir=LR, fontname="sans-serif"];`,
    '  node [shape=box, fontname="sans-serif"];',
    '  edge [fontname="sans-serif"];',
    ...clusters.flatMap((name, index) => {
      const inside = members.get(index) ?? [];
      if (inside.length === 0) return [];
      return [
        `  subgraph cluster_${index} {`,
        `    label=${drawn(name)};`,
        ...inside.map((node) => `    ${line(node)}`),
        "  }",
      ];
    }),
    ...(members.get(-1) ?? []).map((node) => `  ${line(node)}`),
    ...edges.map(
      ({ from, to, label, values }) => `  ${from} ${arrow} ${to} ${attributes(label, edgeKeys, values)};`,
    ),
    "}",
    "",
  ].join("\n");
}
