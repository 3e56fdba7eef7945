/**
 * The wiring as a graph that other programs can read: as `signals`, where every terminal in use is a vertex and every hop
 * an edge in the signal's direction, or as `cables`, the devices and the live cables between them. The V rules of SPEC.md.
 */
import type { Analysis } from "../analysis.ts";
import { CABLES } from "../catalog/cables.ts";
import { never } from "../model/result.ts";
import { endsOf } from "../trace/ends.ts";
import { membersOf } from "../trace/members.ts";
import { cablesById, wantNames, wantsAt } from "../trace/records.ts";
import { locate, shortName, sideName } from "../trace/terminal.ts";
import { decidedBy } from "../trace/told.ts";
import { stepInto } from "../trace/walk.ts";
import { cableGraph } from "../wiring/cuts.ts";
import { spanGroup, type Span } from "../wiring/layout.ts";
import { Edge, type Wiring } from "../wiring/wiring.ts";
import { delayMs } from "./reports.ts";

export const WIRING_LEVELS = ["signals", "cables"] as const;
export type WiringLevel = (typeof WIRING_LEVELS)[number];

/** A text that is empty, and a number that isn't known, are left out of the files. */
export type GraphValue = string | number | undefined;

export interface GraphKey {
  readonly name: string;
  readonly type: "string" | "int" | "double";
}

export interface GraphNode {
  /** Letters and digits only. */
  readonly id: string;
  /** Its name within its cluster. */
  readonly label: string;
  /** Place of its cluster in `clusters`; −1: it stands in none. */
  readonly cluster: number;
  /** One for each of `nodeKeys`. */
  readonly values: readonly GraphValue[];
}

export interface GraphEdge {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly label: string;
  /** One for each of `edgeKeys`. */
  readonly values: readonly GraphValue[];
}

export interface WiringGraph {
  /** What it is of, in one line. */
  readonly title: string;
  readonly directed: boolean;
  readonly clusters: readonly string[];
  readonly nodeKeys: readonly GraphKey[];
  readonly edgeKeys: readonly GraphKey[];
  readonly nodes: readonly GraphNode[];
  readonly edges: readonly GraphEdge[];
}

/** The same show gives the same graph, vertices and edges in one order. */
export function wiringGraph(analysis: Analysis, level: WiringLevel): WiringGraph {
  switch (level) {
    case "signals":
      return signalGraph(analysis);
    case "cables":
      return cablesGraph(analysis);
    default:
      return never(level);
  }
}

const keys = (type: GraphKey["type"], ...names: string[]): GraphKey[] =>
  names.map((name) => ({ name, type }));

function titleOf({ show }: Analysis, what: string): string {
  const revision = show.revisions.at(-1);
  return [show.title, revision ? `revision ${revision.name}` : "", what].filter(Boolean).join(", ");
}

const NODE_KEYS = [
  ...keys("string", "full_name", "device", "device_id", "place", "bank", "bank_id", "side"),
  ...keys("int", "number"),
  ...keys("string", "kind", "source", "wanted_for", "verdict", "reason", "origin", "owner"),
  ...keys("double", "delay_ms"),
];
const EDGE_KEYS = [...keys("string", "kind", "cable", "by"), ...keys("double", "delay_ms")];

function signalGraph(analysis: Analysis): WiringGraph {
  const { show, wiring, arrivals } = analysis;
  const { feeder, mixInto, size } = wiring;
  const endOf = endsOf(analysis);
  const wants = wantsAt(wiring);
  const used = new Uint8Array(size);
  for (let at = 0; at < size; at++) {
    if (wiring.sourceAt[at]! >= 0 || wants.has(at)) used[at] = 1;
    if (feeder[at]! >= 0) used[at] = used[feeder[at]!] = 1;
    for (let n = mixInto.start[at]!; n < mixInto.start[at + 1]!; n++)
      used[at] = used[mixInto.terminal[n]!] = 1;
  }

  const places = new Map(show.places.map(({ id, name }) => [id, name]));
  const nodes: GraphNode[] = [];
  const edges: GraphEdge[] = [];
  const edge = (from: number, to: number, label: string, values: readonly GraphValue[]): void => {
    edges.push({ id: `e${edges.length}`, from: `t${from}`, to: `t${to}`, label, values });
  };
  for (let at = 0; at < size; at++) {
    if (used[at] === 0) continue;
    const { wired, span, number } = locate(wiring, at);
    const { device } = wired;
    const { verdict, reason, origin, owner } = endOf(at);
    const label = shortName(wiring, at);
    nodes.push({
      id: `t${at}`,
      label,
      cluster: wired.index,
      values: [
        `${device.name} ${label}`,
        device.name,
        device.id,
        places.get(device.place) ?? "",
        sideName(span),
        spanGroup(span),
        span.side,
        number,
        kindOf(span),
        show.sources[wiring.sourceAt[at]!]?.name ?? "",
        wantNames(wiring, at).join("; "),
        verdict,
        verdict === "arrives" ? "" : reason,
        origin,
        wiring.devices[owner]?.device.name ?? "",
        verdict === "arrives" ? delayMs(arrivals.delay[at]!) : undefined,
      ],
    });
    if (feeder[at]! >= 0) {
      const { kind, cable, by } = hopInto(wiring, at);
      edge(feeder[at]!, at, cable, [kind, cable, by, delayMs(wiring.delay[at]!)]);
    }
    for (const { member, step } of membersOf(wiring, at)) {
      edge(member, at, "", ["mixed", "", decidedBy(wiring, step), delayMs(step.delay)]);
    }
  }
  return {
    title: titleOf(analysis, "wiring by signal"),
    directed: true,
    clusters: show.devices.map(({ name }) => name),
    nodeKeys: NODE_KEYS,
    edgeKeys: EDGE_KEYS,
    nodes,
    edges,
  };
}

/** The step from its feeder into a terminal: as one, conversions at its ends and the cables of a stream's way included. */
function hopInto(
  wiring: Wiring,
  terminal: number,
): { readonly kind: string; readonly cable: string; readonly by: string } {
  const steps = stepInto(wiring, terminal).filter(({ kind }) => kind !== "converted");
  const tags = steps.flatMap((step) =>
    step.kind === "cable" ? [cablesById(wiring.show).get(step.cable)?.tag || step.cable] : [],
  );
  const stream = wiring.edge[terminal] === Edge.stream;
  const [first] = steps;
  return {
    kind: stream ? "streamed" : first!.kind,
    cable: tags.join(", "),
    by: stream ? `stream ${wiring.ways[wiring.setting[terminal]!]!.stream.name}` : decidedBy(wiring, first!),
  };
}

function kindOf(span: Span): string {
  switch (span.side) {
    case "jack":
      return span.bank.direction === "in" ? "input jack" : "output jack";
    case "receive":
      return "receive slot";
    case "send":
      return "send slot";
    case "bus": {
      const { role } = span.section;
      return role === "send" || role === "return" ? `insert ${role}` : role;
    }
    default:
      return never(span);
  }
}

const DEVICE_KEYS = keys("string", "full_name", "device_id", "type", "category", "place", "mode", "state");
const CABLE_KEYS = [
  ...keys("string", "tag", "cable_id", "kind"),
  ...keys("double", "length_m"),
  ...keys("string", "from_end", "to_end"),
  ...keys("int", "signals_there", "signals_back"),
];

/** The graph of G1: places as clusters. */
function cablesGraph(analysis: Analysis): WiringGraph {
  const { show, wiring } = analysis;
  const placeAt = new Map(show.places.map(({ id }, index) => [id, index]));
  const types = new Map(show.types.map((type) => [type.id, type]));
  const nodes = show.devices.map((device, index): GraphNode => {
    const type = types.get(device.type);
    const place = placeAt.get(device.place) ?? -1;
    return {
      id: `d${index}`,
      label: device.name,
      cluster: place,
      values: [
        device.name,
        device.id,
        type?.name ?? "",
        type?.category ?? "",
        show.places[place]?.name ?? "",
        type?.modes.find(({ id }) => id === device.mode)?.name ?? "",
        wiring.devices[index]?.device.powered === false ? "off" : "on",
      ],
    };
  });
  const { edges: joined, cables } = cableGraph(wiring);
  const edges = joined.map(([a, b], n): GraphEdge => {
    const { cable: index, there, back } = cables[n]!;
    const cable = show.cables[index]!;
    // Between jacks the signal's way decides which end comes first, as in the graph.
    const [from, to] = cable.ends[0].device === show.devices[a]!.id ? cable.ends : cable.ends.toReversed();
    const end = ({ device, group, first }: (typeof cable.ends)[number]): string => {
      const layout = wiring.devices[wiring.indexOf.get(device) ?? -1]?.fabric.layout;
      const port = layout?.type.ports.find(({ id }) => id === group);
      if (port) return port.name;
      const bank = layout?.type.banks.find(({ id }) => id === group);
      return `${bank?.name ?? group} ${cable.ways === 1 ? first : `${first}–${first + cable.ways - 1}`}`;
    };
    return {
      id: `c${index}`,
      from: `d${a}`,
      to: `d${b}`,
      label: cable.tag,
      values: [cable.tag, cable.id, CABLES[cable.kind].name, cable.length, end(from!), end(to!), there, back],
    };
  });
  return {
    title: titleOf(analysis, "wiring by cable"),
    directed: false,
    clusters: show.places.map(({ name }) => name),
    nodeKeys: DEVICE_KEYS,
    edgeKeys: CABLE_KEYS,
    nodes,
    edges,
  };
}
