/**
 * The layout library's side of a signal-flow diagram. The engine imports no package: whoever has the library hands it in,
 * and these are the parts of its interface that are used.
 */
import type { Point } from "../../model/show.ts";

export interface ElkRequest {
  id: string;
  layoutOptions: Record<string, string>;
  children: {
    id: string;
    width: number;
    height: number;
    layoutOptions: Record<string, string>;
    ports: {
      id: string;
      x: number;
      y: number;
      width: number;
      height: number;
      layoutOptions: Record<string, string>;
    }[];
  }[];
  edges: { id: string; sources: string[]; targets: string[] }[];
}

export interface ElkAnswer {
  readonly width?: number;
  readonly height?: number;
  readonly children?: readonly { readonly id: string; readonly x?: number; readonly y?: number }[];
  readonly edges?: readonly {
    readonly id: string;
    readonly sections?: readonly {
      readonly startPoint: Point;
      readonly endPoint: Point;
      readonly bendPoints?: readonly Point[];
    }[];
  }[];
}

export interface Elk {
  layout(graph: ElkRequest): Promise<ElkAnswer>;
}

/** The same library, asked once for each graph: what stands on a page of the whole rig is often that of a place, too. */
export function remembering(elk: Elk): Elk {
  const known = new Map<string, Promise<ElkAnswer>>();
  return {
    layout: (graph) => {
      const key = JSON.stringify(graph);
      let answer = known.get(key);
      if (!answer) known.set(key, (answer = elk.layout(graph)));
      return answer;
    },
  };
}

/** What is laid out: boxes with fixed ports, and cables from an east port to a west port. Millimetres. */
export interface PlainGraph {
  readonly nodes: readonly {
    readonly id: string;
    readonly width: number;
    readonly height: number;
    readonly ports: readonly { readonly id: string; readonly side: "west" | "east"; readonly y: number }[];
  }[];
  readonly edges: readonly { readonly id: string; readonly from: string; readonly to: string }[];
}

export interface PlainLayout {
  readonly nodes: ReadonlyMap<string, Point>;
  readonly edges: ReadonlyMap<string, readonly Point[]>;
}

/** The library thinks in pixels; some of its bounds are whole ones. */
const UNIT = 10;

const OPTIONS: Readonly<Record<string, string>> = {
  "elk.algorithm": "layered",
  "elk.direction": "RIGHT",
  "elk.edgeRouting": "ORTHOGONAL",
  "elk.randomSeed": "1",
  "elk.padding": "[top=0,left=0,bottom=0,right=0]",
  "elk.spacing.nodeNode": String(2.4 * UNIT),
  "elk.spacing.edgeNode": String(1.4 * UNIT),
  "elk.spacing.edgeEdge": String(1.3 * UNIT),
  "elk.layered.spacing.nodeNodeBetweenLayers": String(4 * UNIT),
  "elk.layered.spacing.edgeNodeBetweenLayers": String(1.5 * UNIT),
  "elk.layered.spacing.edgeEdgeBetweenLayers": String(1.3 * UNIT),
  "elk.spacing.componentComponent": String(6 * UNIT),
  "elk.layered.thoroughness": "7",
  "elk.layered.nodePlacement.favorStraightEdges": "true",
};

/** Another way to place boxes, which now and then takes less room. */
export const NETWORK_SIMPLEX = { "elk.layered.nodePlacement.strategy": "NETWORK_SIMPLEX" };

/** `aspect`: width of the page's room over its height. */
export async function laidOut(
  elk: Elk,
  { nodes, edges }: PlainGraph,
  aspect: number,
  more: Readonly<Record<string, string>> = {},
): Promise<PlainLayout> {
  const answer = await elk.layout({
    id: "diagram",
    layoutOptions: { ...OPTIONS, "elk.aspectRatio": aspect.toFixed(3), ...more },
    children: nodes.map(({ id, width, height, ports }) => ({
      id,
      width: width * UNIT,
      height: height * UNIT,
      layoutOptions: { "elk.portConstraints": "FIXED_POS" },
      ports: ports.map((port) => ({
        id: port.id,
        x: port.side === "west" ? 0 : width * UNIT,
        y: port.y * UNIT,
        width: 0,
        height: 0,
        layoutOptions: { "elk.port.side": port.side === "west" ? "WEST" : "EAST" },
      })),
    })),
    edges: edges.map(({ id, from, to }) => ({ id, sources: [from], targets: [to] })),
  });
  return {
    nodes: new Map((answer.children ?? []).map(({ id, x, y }) => [id, point({ x: x ?? 0, y: y ?? 0 })])),
    edges: new Map(
      (answer.edges ?? []).map(({ id, sections }) => {
        const section = sections?.[0];
        return [
          id,
          section ? [section.startPoint, ...(section.bendPoints ?? []), section.endPoint].map(point) : [],
        ];
      }),
    ),
  };
}

/** A hundredth of a millimetre is finer than any printer, and coarser than what differs between machines. */
const point = ({ x, y }: Point): Point => ({
  x: Math.round((x / UNIT) * 100) / 100,
  y: Math.round((y / UNIT) * 100) / 100,
});
