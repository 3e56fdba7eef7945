/** The rig on screen: places, devices and cables, at three depths of zoom. */
import { useEffect, useId, useLayoutEffect, useMemo, useRef, useState } from "react";
import {
  ConnectionMode,
  getNodesBounds,
  getViewportForBounds,
  ReactFlow,
  ReactFlowProvider,
  useReactFlow,
  useStoreApi,
  type EdgeTypes,
  type NodeChange,
  type NodeTypes,
  type ReactFlowInstance,
  type Viewport,
} from "@xyflow/react";
import "./canvas.css";
import type { CableId, DeviceId, GroupId, Point } from "#engine";
import { CableInHand } from "./CableInHand.tsx";
import { carryBlock } from "./carrying.ts";
import { CanvasMenu } from "./ContextMenu.tsx";
import { followFocus } from "./chosen.ts";
import { listenToClipboard } from "./clipboard.ts";
import { pinched, usePinch } from "./pinch.ts";
import { bringIntoSight, setStage } from "./stage.ts";
import { useFirstSight } from "../state/first-sight.ts";
import { app, useApp } from "../state/store.ts";
import { ui } from "../state/ui.ts";
import { CableEdge, type CableFlowEdge } from "./CableEdge.tsx";
import { Bars } from "./Bars.tsx";
import { Controls } from "./Controls.tsx";
import { DeviceNode } from "./DeviceNode.tsx";
import { GRID } from "#engine/layout/geometry.ts";
import { Legend } from "./Legend.tsx";
import { LEAST_ZOOM, MOST_ZOOM } from "./level.ts";
import { placeOfNode } from "./node-ids.ts";
import { PlaceNode } from "./PlaceNode.tsx";
import { PlacePlates } from "./PlacePlates.tsx";
import { Readout } from "./Readout.tsx";
import { focusOf, spotAt } from "./aim.ts";
import { useFlowElements, type FlowNode } from "./elements.ts";
import { keyHandlers } from "./keyboard.ts";
import { movesOf, type Moves } from "./moves.ts";
import { noteZoom, NOTHING_MOVES, useLevel, useView, view, type Hovered } from "./view.ts";
import { glide } from "./motion.ts";
import { FIT_ALL, letGo, useSight } from "./sight.ts";
import { pointingTeller, zoomFactor } from "./wheel.ts";
import { WORDS } from "./words.ts";

const NODE_TYPES: NodeTypes = { device: DeviceNode, place: PlaceNode };
const EDGE_TYPES: EdgeTypes = { cable: CableEdge };
const SNAP: [number, number] = [GRID, GRID];
const MULTI_KEYS = ["Shift", "Meta", "Control"];

/** Where the canvas looks at first, and the room that it has. */
interface Start {
  readonly width: number;
  readonly height: number;
  readonly viewport: Viewport;
  /** There is nothing to fit yet: the first device will be. */
  readonly empty: boolean;
}

/**
 * The room is measured before anything is drawn in it. So all is drawn once, where it stands and as large as it will be;
 * the library by itself would draw it at full size first, then measure, then draw it anew.
 */
export function Canvas() {
  const room = useRef<HTMLDivElement>(null);
  const elements = useFlowElements();
  const { nodes, edges } = elements;
  const [start, setStart] = useState<Start | null>(null);
  useLayoutEffect(() => {
    if (start || !room.current) return;
    const { clientWidth: width, clientHeight: height } = room.current;
    const empty = nodes.length === 0;
    const viewport = empty
      ? { x: 0, y: 0, zoom: 1 }
      : getViewportForBounds(
          getNodesBounds([...nodes]),
          width,
          height,
          LEAST_ZOOM,
          FIT_ALL.maxZoom,
          FIT_ALL.padding,
        );
    noteZoom(viewport.zoom);
    setStart({ width, height, viewport, empty });
  }, [start, nodes]);
  if (!start) return <div ref={room} className="canvas" />;
  return (
    <ReactFlowProvider
      initialNodes={nodes}
      initialEdges={edges}
      initialWidth={start.width}
      initialHeight={start.height}
      initialMinZoom={LEAST_ZOOM}
      initialMaxZoom={FIT_ALL.maxZoom}
      initialFitViewOptions={FIT_ALL}
      fitView
    >
      <Rig start={start} elements={elements} />
    </ReactFlowProvider>
  );
}

function Rig({ start, elements }: { start: Start; elements: ReturnType<typeof useFlowElements> }) {
  const root = useRef<HTMLDivElement>(null);
  const help = useId();
  const flow = useReactFlow<FlowNode, CableFlowEdge>();
  const { nodes, edges, bars } = elements;
  const level = useLevel();
  // A device by itself is marked; it says nothing of the others, which would look switched off beside it.
  const someLit = useApp(
    ({ lit, focus }) => focus?.kind !== "device" && (lit.devices.size > 0 || lit.cables.size > 0),
  );
  const [keys] = useState(() => keyHandlers(flow));
  const [drag] = useState(dragHandlers);
  const pointer = useMemo(() => pointerHandlers(flow), [flow]);
  const flowStore = useStoreApi();
  const pan = useMemo(() => panHandlers(flowStore), [flowStore]);
  useZoomLevel();
  useWheel(root);
  usePinch(root);
  useStage(root);
  useEffect(followFocus, []);
  useEffect(settle, []);
  useEffect(listenToClipboard, []);
  const cabling = useView((state) => state.cabling !== null);
  const sight = useSight();
  const first = useFirstSight() !== null;

  return (
    <CanvasMenu>
      <div
        ref={root}
        className="canvas"
        role="application"
        aria-label={WORDS.canvas}
        aria-describedby={help}
        tabIndex={0}
        data-some-lit={someLit || undefined}
        data-depth={level.depth}
        data-cabling={cabling || undefined}
        data-first-sight={first || undefined}
        style={{ "--u": level.unit } as React.CSSProperties}
        {...keys}
        {...pointer.root}
      >
        <p id={help} className="visually-hidden">
          {WORDS.help}
        </p>
        <ReactFlow
          nodes={nodes}
          edges={edges}
          nodeTypes={NODE_TYPES}
          edgeTypes={EDGE_TYPES}
          onNodesChange={drag.onChanges}
          onNodeDragStart={drag.onStart}
          onNodeDragStop={drag.onStop}
          onSelectionDragStart={drag.onSelectionStart}
          onSelectionDragStop={drag.onStop}
          onNodeClick={pointer.onNodeClick}
          onNodeDoubleClick={pointer.onNodeDoubleClick}
          onEdgeClick={pointer.onEdgeClick}
          onPaneClick={pointer.onPaneClick}
          onMoveStart={(event) => {
            sight.onMoveStart(event);
            pointer.onMoveStart();
            pan.onMoveStart(event);
          }}
          onMove={pan.onMove}
          onMoveEnd={pan.onMoveEnd}
          onlyRenderVisibleElements
          connectionMode={ConnectionMode.Loose}
          nodesConnectable={false}
          edgesFocusable={false}
          disableKeyboardA11y
          elevateNodesOnSelect={false}
          deleteKeyCode={null}
          multiSelectionKeyCode={MULTI_KEYS}
          nodeDragThreshold={3}
          snapToGrid
          snapGrid={SNAP}
          minZoom={LEAST_ZOOM}
          maxZoom={MOST_ZOOM}
          panOnScroll
          zoomOnScroll={false}
          zoomOnPinch
          zoomOnDoubleClick={false}
          defaultViewport={start.viewport}
          fitView={start.empty}
          fitViewOptions={FIT_ALL}
          proOptions={{ hideAttribution: true }}
        >
          <PlacePlates nodes={nodes} />
          <Bars edges={edges} places={bars} />
        </ReactFlow>
        <Controls />
        {/* Of an empty rig it would explain nothing, and stand over what there is to start from. */}
        {nodes.length > 0 && <Legend />}
        <Readout />
        <CableInHand />
      </div>
    </CanvasMenu>
  );
}

/** The frame that this one begins in is drawn before the next but one. */
function settle(): void {
  requestAnimationFrame(() => requestAnimationFrame(() => view.setState({ settled: true })));
}

/** Says where the canvas looks to those who put something on it. */
function useStage(root: React.RefObject<HTMLDivElement | null>): void {
  const flow = useReactFlow();
  const store = useStoreApi();
  useEffect(
    () =>
      setStage({
        at: ({ x, y }) => flow.screenToFlowPosition({ x, y }, { snapToGrid: false }),
        view: () => {
          const { width, height } = store.getState();
          const { x, y, zoom } = flow.getViewport();
          return { x: -x / zoom, y: -y / zoom, width: width / zoom, height: height / zoom };
        },
        goTo: (area) => {
          const { width, height } = store.getState();
          const most = Math.min(width / (area.width + 80), height / (area.height + 80));
          const zoom = Math.max(LEAST_ZOOM, Math.min(flow.getZoom(), most));
          void flow.setCenter(area.x + area.width / 2, area.y + area.height / 2, { zoom, ...glide(260) });
        },
        pan: (by) => {
          const { x, y, zoom } = flow.getViewport();
          letGo();
          void flow.setViewport({ x: x - by.x, y: y - by.y, zoom });
        },
        stay: () => void flow.setViewport(flow.getViewport()),
        focus: () => {
          const { cursor, selected } = view.getState();
          const [first] = app.getState().show.devices.filter(({ id }) => selected.has(id));
          const { focus } = app.getState();
          const looked = focus?.kind === "device" ? focus.device : undefined;
          const device = first?.id ?? looked ?? cursor?.device;
          root.current?.focus();
          if (device === undefined) return;
          // A node out of view isn't on the page, and can't take the keys.
          bringIntoSight([device]);
          view.setState({ cursor: { device, at: null } });
        },
      }),
    [flow, store, root],
  );
}

/**
 * While the user pans, what is drawn is moved and not drawn anew, which takes less than half the time of a frame. Not for
 * good and not while the zoom changes: a picture that is only scaled is blurred.
 */
function panHandlers(store: ReturnType<typeof useStoreApi>) {
  let zoom = 0;
  const stop = (): void => store.getState().domNode?.removeAttribute("data-panning");
  return {
    onMoveStart(event: unknown) {
      if (!event) return;
      const { transform, domNode } = store.getState();
      zoom = transform[2];
      domNode?.setAttribute("data-panning", "");
    },
    onMove: (_event: unknown, viewport: { readonly zoom: number }) => viewport.zoom !== zoom && stop(),
    onMoveEnd: stop,
  };
}

/** Depth and size of text follow the zoom, and change only where a step of it is passed. */
function useZoomLevel(): void {
  const flow = useStoreApi();
  useEffect(() => {
    noteZoom(flow.getState().transform[2]);
    return flow.subscribe(({ transform }, before) => {
      if (transform[2] !== before.transform[2]) noteZoom(transform[2]);
    });
  }, [flow]);
}

/** A mouse wheel zooms about the pointer; two fingers on a trackpad pan and pinch, which the library does itself. */
function useWheel(root: React.RefObject<HTMLDivElement | null>): void {
  const flow = useReactFlow();
  useEffect(() => {
    const element = root.current;
    if (!element) return;
    const tell = pointingTeller();
    const onWheel = (event: WheelEvent): void => {
      if (!(event.target instanceof Element) || !event.target.closest(".react-flow")) return;
      if (event.ctrlKey || tell(event as WheelEvent & { wheelDeltaY?: number }) === "trackpad") return;
      event.preventDefault();
      event.stopPropagation();
      const { left, top } = element.getBoundingClientRect();
      const middle = { x: event.clientX - left, y: event.clientY - top };
      letGo();
      const to = { middle, apart: zoomFactor(event) };
      void flow.setViewport(pinched(flow.getViewport(), { middle, apart: 1 }, to));
    };
    element.addEventListener("wheel", onWheel, { capture: true, passive: false });
    return () => element.removeEventListener("wheel", onWheel, { capture: true });
  }, [flow, root]);
}

/** Moving by pointer. What moves stays here until the drop, then becomes one change. */
function dragHandlers() {
  let current: { moves: Moves | null; cancelled: boolean } | null = null;

  const stand = (): void => view.setState({ moving: NOTHING_MOVES, moves: null });
  const begin = (ids: readonly string[]): void => {
    current = { moves: null, cancelled: false };
    const { show } = app.getState();
    const places = new Set(ids.flatMap((id) => placeOfNode(id) ?? []));
    const moving = new Set([
      ...ids.filter((id) => placeOfNode(id) === null).map((id) => id as DeviceId),
      ...show.devices.filter(({ place }) => places.has(place)).map(({ id }) => id),
    ]);
    view.setState({ moving, hovered: null });
    window.addEventListener("keydown", onKey, { capture: true });
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.key !== "Escape" || !current) return;
    event.preventDefault();
    event.stopPropagation();
    current.cancelled = true;
    stand();
  };
  const onStop = (): void => {
    window.removeEventListener("keydown", onKey, { capture: true });
    const drag = current;
    current = null;
    if (drag?.moves && !drag.cancelled) app.getState().change(drag.moves.change, drag.moves.label);
    stand();
  };
  const move = (changes: readonly NodeChange<FlowNode>[]): void => {
    if (!current || current.cancelled) return;
    const to = new Map<string, Point>();
    for (const change of changes) {
      if (change.type === "position" && change.position) to.set(change.id, change.position);
    }
    if (to.size === 0) return;
    current.moves = movesOf(app.getState().show, to);
    view.setState({ moves: current.moves });
  };
  const select = (changes: readonly NodeChange<FlowNode>[]): void => {
    const choices = changes.filter((change) => change.type === "select");
    if (choices.length === 0) return;
    const selected = new Set(view.getState().selected);
    for (const { id, selected: chosen } of choices) {
      if (chosen) selected.add(id);
      else selected.delete(id);
    }
    view.setState({ selected });
  };
  return {
    onStart: (_: unknown, node: FlowNode, nodes: readonly FlowNode[]) =>
      begin([...new Set([node, ...nodes].map(({ id }) => id))]),
    onSelectionStart: (_: unknown, nodes: readonly FlowNode[]) => begin(nodes.map(({ id }) => id)),
    onStop,
    onChanges(changes: readonly NodeChange<FlowNode>[]) {
      move(changes);
      select(changes);
    },
  };
}

/** Looking by pointer: what a click means at the present depth, and what the pointer is over. */
function pointerHandlers(flow: ReactFlowInstance<FlowNode, CableFlowEdge>) {
  const local = (event: { clientX: number; clientY: number }, node: FlowNode): Point => {
    const at = flow.screenToFlowPosition({ x: event.clientX, y: event.clientY }, { snapToGrid: false });
    return { x: at.x - node.position.x, y: at.y - node.position.y };
  };
  const under = (event: React.PointerEvent): Hovered | null => {
    if (!(event.target instanceof Element)) return null;
    const edge = event.target.closest(".react-flow__edge");
    if (edge) return { kind: "cable", cable: edge.getAttribute("data-id") as CableId };
    const id = event.target.closest(".react-flow__node-device")?.getAttribute("data-id");
    const node = id ? flow.getNode(id) : undefined;
    if (!node) return null;
    const device = node.id as DeviceId;
    // Half of a ring lies outside of the device, and beside its row where that is far away.
    const group = event.target.closest(".socket")?.getAttribute("data-group");
    if (group) return { kind: "group", device, group: group as GroupId };
    const found = spotAt(device, local(event, node));
    if (!found) return { kind: "device", device };
    return found.spot
      ? { kind: "cells", device, ...found.spot }
      : { kind: "group", device, group: found.group };
  };
  return {
    root: {
      onPointerMove(event: React.PointerEvent) {
        if (event.pointerType === "touch" || event.buttons !== 0) return;
        const what = under(event);
        const { hovered } = view.getState();
        if (what === null) {
          if (hovered) view.setState({ hovered: null });
        } else if (!hovered || !sameHovered(hovered.what, what)) {
          view.setState({ hovered: { what, at: { x: event.clientX, y: event.clientY } } });
        }
      },
      onPointerLeave: () => view.setState({ hovered: null }),
      onPointerDown(event: React.PointerEvent) {
        view.setState({ hovered: null });
        carryBlock(event);
      },
    },
    onNodeClick(event: React.MouseEvent, node: FlowNode) {
      // With one of these keys a click gathers devices to move.
      if (event.shiftKey || event.metaKey || event.ctrlKey) return;
      const place = placeOfNode(node.id);
      if (place !== null) {
        app.getState().look(null);
        return view.setState({ place, selected: new Set() });
      }
      const device = node.id as DeviceId;
      const found = spotAt(device, local(event, node));
      const spot = found?.spot ?? null;
      view.setState({ cursor: { device, at: spot }, hovered: null });
      app.getState().look(focusOf(device, spot, found?.group ?? null));
    },
    onNodeDoubleClick({ target }: React.MouseEvent, node: FlowNode) {
      const isName = target instanceof Element && target.closest(".names .name, .place-name") !== null;
      const place = placeOfNode(node.id);
      if (place !== null) {
        if (isName) ui.setState({ dialog: { kind: "rename-place", place } });
        return;
      }
      if (isName) return ui.setState({ dialog: { kind: "rename-device", device: node.id as DeviceId } });
      letGo();
      void flow.fitView({ nodes: [{ id: node.id }], padding: 0.06, maxZoom: 2, ...glide(260) });
    },
    onEdgeClick(_: unknown, edge: { readonly id: string }) {
      view.setState({ hovered: null, selected: new Set(), place: null });
      app.getState().look({ kind: "cable", cable: edge.id as CableId });
    },
    onPaneClick: () => {
      view.setState({ place: null });
      app.getState().look(null);
    },
    onMoveStart: () => view.getState().hovered && view.setState({ hovered: null }),
  };
}

function sameHovered(a: Hovered, b: Hovered): boolean {
  const keys = Object.keys(a) as (keyof Hovered)[];
  return keys.length === Object.keys(b).length && keys.every((key) => a[key] === b[key]);
}
