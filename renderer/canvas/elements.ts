/**
 * The show as nodes and edges of the flow library. An element that stays as it was keeps its object, which is what the
 * library and its memoised components go by.
 */
import { useMemo, useState } from "react";
import { Position, type NodeHandle } from "@xyflow/react";
import type { Show } from "#engine";
import { useDrawn, useFirstSight } from "../state/first-sight.ts";
import { useApp } from "../state/store.ts";
import type { CableFlowEdge } from "./CableEdge.tsx";
import type { DeviceFlowNode } from "./DeviceNode.tsx";
import type { NodeSide } from "#engine/layout/geometry.ts";
import { bareLooks, looksOf, type Looks } from "./looks.ts";
import type { Moves } from "./moves.ts";
import { placeNodeId } from "./node-ids.ts";
import type { PlaceFlowNode } from "./PlaceNode.tsx";
import { sizeOf, typesOf } from "#engine/layout/scene.ts";
import { useStore } from "zustand";
import { coming, drawnAfter, nothingYet, type Coming, type Drawn } from "./drawn.ts";
import { handleId, type Plug } from "./rig.ts";
import { useView, type ViewState } from "./view.ts";
import { cableTitle, deviceName } from "./words.ts";

export type FlowNode = DeviceFlowNode | PlaceFlowNode;

/** What was drawn last, which the next drawing keeps as much of as it can. */
export class Drawing {
  private drawn: Drawn | null = null;
  private nodesBefore: ReadonlyMap<string, FlowNode> = new Map();
  private edgesBefore: ReadonlyMap<string, CableFlowEdge> = new Map();

  /** Routes, bars and plugs of the show. */
  draw(show: Show, looks: Looks, ahead: Coming | null = null): Drawn {
    // An edit in the meantime is drawn by itself, from what there is.
    if (ahead?.show === show && !ahead.found) return ahead.drawn;
    const ways = new Map(
      [...looks.cables].map(([id, look]) => [id, look.ways.map(({ cells }) => cells.length)] as const),
    );
    const own = this.drawn?.show === show.id ? this.drawn : null;
    const former = own ?? (ahead?.drawn.show === show.id && ahead.found ? ahead.drawn : null);
    return (this.drawn = drawnAfter(former, show, ways));
  }

  nodes(
    show: Show,
    looks: Looks,
    plugs: Drawn["plugs"],
    moves: Moves | null,
    selected: ReadonlySet<string>,
    resizing: ViewState["resizing"] = null,
  ): FlowNode[] {
    const nodes = nodesAfter(this.nodesBefore, show, looks, plugs, moves, selected, resizing);
    this.nodesBefore = new Map(nodes.map((node) => [node.id, node]));
    return nodes;
  }

  edges(show: Show, looks: Looks, drawn: Drawn): CableFlowEdge[] {
    const edges = edgesAfter(this.edgesBefore, show, looks, drawn);
    this.edgesBefore = new Map(edges.map((edge) => [edge.id, edge]));
    return edges;
  }
}

export function useFlowElements(): {
  readonly nodes: FlowNode[];
  readonly edges: CableFlowEdge[];
  readonly bars: Drawn["bars"];
} {
  const sight = useFirstSight();
  const show = useDrawn((drawn) => drawn);
  const looks = useApp((state) => (sight ? bareLooks(sight) : looksOf(state.analysis)));
  const moves = useView((state) => state.moves);
  const selected = useView((state) => state.selected);
  const resizing = useView((state) => state.resizing);
  const [drawing] = useState(() => new Drawing());
  // What is known already of a show that is seen only is drawn with the rest of it.
  const ahead = useStore(coming, ({ now }) => (sight ? null : now));
  const drawn = useMemo(
    () => (sight ? nothingYet(sight.id) : drawing.draw(show, looks, ahead)),
    [drawing, sight, show, looks, ahead],
  );
  const { plugs } = drawn;
  const nodes = useMemo(
    () => drawing.nodes(show, looks, plugs, moves, selected, resizing),
    [drawing, show, looks, plugs, moves, selected, resizing],
  );
  const edges = useMemo(() => drawing.edges(show, looks, drawn), [drawing, show, looks, drawn]);
  return { nodes, edges, bars: drawn.bars };
}

const POSITIONS: Readonly<Record<NodeSide, Position>> = {
  left: Position.Left,
  right: Position.Right,
  top: Position.Top,
  bottom: Position.Bottom,
};

/**
 * Handles are given by us instead of being measured on the page: a device's node holds those of its plugs. So when
 * ports change the node changes with them, and no edge can stay behind; there is nothing to measure anew.
 */
const handlesOf = (plugs: readonly Plug[]): NodeHandle[] =>
  plugs.map(({ cable, end, side, x, y }) => ({
    id: handleId(cable, end),
    type: "source",
    position: POSITIONS[side],
    x,
    y,
    width: 0,
    height: 0,
  }));

const NO_PLUGS: readonly Plug[] = [];

function nodesAfter(
  before: ReadonlyMap<string, FlowNode>,
  show: Show,
  looks: Looks,
  plugs: Drawn["plugs"],
  moves: Moves | null,
  selected: ReadonlySet<string>,
  resizing: ViewState["resizing"],
): FlowNode[] {
  const types = typesOf(show);
  const nodes: FlowNode[] = [];
  for (const place of show.places) {
    const id = placeNodeId(place.id);
    const dragged = resizing?.place === place.id ? resizing.rect : (moves?.areas.get(place.id) ?? null);
    const position = moves?.at.get(id) ?? (dragged ? { x: dragged.x, y: dragged.y } : place.at);
    const { width, height } = dragged ?? place.size;
    nodes.push(
      kept(before.get(id) as PlaceFlowNode | undefined, {
        id,
        type: "place",
        data: NO_DATA,
        position,
        width,
        height,
        measured: { width, height },
        selectable: false,
        dragHandle: ".place-name",
        zIndex: 0,
        ariaLabel: `Place ${place.name}`,
        className: "place-node",
      }),
    );
  }
  for (const device of show.devices) {
    const { width, height } = sizeOf(types, device);
    const own = plugs.get(device.id) ?? NO_PLUGS;
    const look = looks.devices.get(device.id);
    const former = before.get(device.id) as DeviceFlowNode | undefined;
    const samePlugs = former?.data.plugs === own;
    nodes.push(
      kept(former, {
        id: device.id,
        type: "device",
        data: samePlugs ? former.data : { plugs: own },
        handles: samePlugs ? former.handles! : handlesOf(own),
        position: moves?.at.get(device.id) ?? device.at,
        width,
        height,
        measured: { width, height },
        selected: selected.has(device.id),
        zIndex: 2,
        ariaLabel: look ? deviceName(look) : device.name,
        domAttributes: NOT_IN_TAB_ORDER,
      }),
    );
  }
  return nodes;
}

const NO_DATA = {};
/** The canvas is one stop of the Tab key; within it the keys go from device to device. */
const NOT_IN_TAB_ORDER = { tabIndex: -1, "aria-roledescription": "device" };

/** The former node where the new one says the same. */
function kept<T extends FlowNode>(former: T | undefined, next: T): T {
  if (!former) return next;
  const same =
    former.position.x === next.position.x &&
    former.position.y === next.position.y &&
    former.width === next.width &&
    former.height === next.height &&
    former.data === next.data &&
    Boolean(former.selected) === Boolean(next.selected) &&
    former.ariaLabel === next.ariaLabel;
  return same ? former : next;
}

function edgesAfter(
  before: ReadonlyMap<string, CableFlowEdge>,
  show: Show,
  looks: Looks,
  { routed }: Drawn,
): CableFlowEdge[] {
  return show.cables.flatMap((cable): CableFlowEdge[] => {
    const route = routed.routes.get(cable.id);
    if (!route) return [];
    const look = looks.cables.get(cable.id);
    const ariaLabel = look ? cableTitle(look) : cable.tag;
    const former = before.get(cable.id);
    if (former && former.data?.route === route && former.ariaLabel === ariaLabel) return [former];
    return [
      {
        id: cable.id,
        type: "cable",
        source: cable.ends[0].device,
        target: cable.ends[1].device,
        sourceHandle: handleId(cable.id, 0),
        targetHandle: handleId(cable.id, 1),
        data: { route },
        ariaLabel,
        selectable: false,
        zIndex: 1,
      },
    ];
  });
}
