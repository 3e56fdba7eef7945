/** The wiring as GraphML (Brandes et al. 2002): flat, since few programs read nested graphs; each vertex names its device. */
import type { Analysis } from "../analysis.ts";
import { escaped } from "../paperwork/svg.ts";
import { wiringGraph, type GraphKey, type GraphValue, type WiringLevel } from "./wiring-graph.ts";

/** What readers take for a line break, of XML 1.0 or 1.1, unless it is written as a number. */
const xml = (text: string): string =>
  escaped(text).replaceAll(/[\r\u0085\u2028]/g, (sign) => `&#${sign.charCodeAt(0)};`);

/** Without the date, so that files of two days can be compared. */
export function graphml(analysis: Analysis, level: WiringLevel = "signals"): string {
  const { title, directed, nodeKeys, edgeKeys, nodes, edges } = wiringGraph(analysis, level);
  const keys = (of: "node" | "edge", list: readonly GraphKey[]): string[] =>
    list.map(
      ({ name, type }, n) => `<key id="${of[0]}${n}" for="${of}" attr.name="${name}" attr.type="${type}"/>`,
    );
  const data = (of: "n" | "e", values: readonly GraphValue[]): string =>
    values
      .map((value, n) =>
        value === undefined || value === "" ? "" : `<data key="${of}${n}">${xml(String(value))}</data>`,
      )
      .join("");
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<graphml xmlns="http://graphml.graphdrawing.org/xmlns">',
    ...keys("node", nodeKeys),
    ...keys("edge", edgeKeys),
    `<graph id="wiring" edgedefault="${directed ? "directed" : "undirected"}">`,
    `<desc>${xml(title)}</desc>`,
    ...nodes.map(({ id, values }) => `<node id="${id}">${data("n", values)}</node>`),
    ...edges.map(
      ({ id, from, to, values }) =>
        `<edge id="${id}" source="${from}" target="${to}">${data("e", values)}</edge>`,
    ),
    "</graph>",
    "</graphml>",
    "",
  ].join("\n");
}
