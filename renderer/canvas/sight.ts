/**
 * What the canvas keeps in sight when its room changes: a panel that opens, the hop strip that comes up, a window that
 * is drawn larger. Until the user pans or zooms that is what was fitted last; after that it is what they look at.
 */
import { useEffect, useRef } from "react";
import { useReactFlow, useStoreApi, type ReactFlowInstance } from "@xyflow/react";
import type { DeviceId } from "#engine";
import { useDrawn } from "../state/first-sight.ts";
import type { Reveal } from "../state/contract.ts";
import { app, useApp } from "../state/store.ts";
import { glide } from "./motion.ts";
import { NOTHING_MOVES, view } from "./view.ts";

/** What is over the canvas stands at its top and its bottom. */
export const FIT_ALL = {
  padding: { top: "52px", right: "4%", bottom: "52px", left: "4%" },
  maxZoom: 1,
} as const;
const FIT_SOME = { padding: 0.1, maxZoom: 1.3 } as const;
/** Pixels between what is kept in sight and the edge of the canvas. */
const MARGIN = 24;

/** What was fitted last; null once the user has moved the view. One canvas stands at a time. */
let fitted: "all" | readonly DeviceId[] | null = "all";

/** The last place that the store sent the canvas to, once it went there. */
let gone: Reveal | null = null;

/** The user asks for the whole rig, which then stays in sight. */
export function fitAll(flow: Pick<ReactFlowInstance, "fitView">, time: number): void {
  fitted = "all";
  void flow.fitView({ padding: FIT_ALL.padding, ...glide(time) });
}

/** The user goes somewhere by a button, a key or a double click: as with a pan, that is what they look at from now on. */
export const letGo = (): void => void (fitted = null);

/** Goes where the store says, fits another show when it is opened, and holds that while the room changes. */
export function useSight(): { readonly onMoveStart: (event: unknown) => void } {
  const flow = useReactFlow();
  const store = useStoreApi();
  const reveal = useApp((state) => state.reveal);
  const show = useDrawn(({ id }) => id);
  const shown = useRef(show);

  // A canvas that comes up shows the whole rig.
  useEffect(() => void (fitted = "all"), []);

  useEffect(() => {
    if (shown.current === show) return;
    shown.current = show;
    fitted = "all";
    view.setState({ cursor: null, hovered: null, moving: NOTHING_MOVES });
    // The library takes the new nodes in after this effect.
    const frame = requestAnimationFrame(() => void flow.fitView(FIT_ALL));
    return () => cancelAnimationFrame(frame);
  }, [flow, show]);

  useEffect(() => {
    // A canvas that comes up again doesn't go where it was sent long ago.
    if (!reveal || reveal === gone) return;
    gone = reveal;
    fitted = reveal.devices;
    void flow.fitView({ nodes: reveal.devices.map((id) => ({ id })), ...FIT_SOME, ...glide(320) });
  }, [flow, reveal]);

  useEffect(() => {
    const hold = (): void => {
      const nodes = fitted;
      if (nodes === "all") void flow.fitView(FIT_ALL);
      else if (nodes) void flow.fitView({ nodes: nodes.map((id) => ({ id })), ...FIT_SOME });
      else keepInSight();
    };
    const keepInSight = (): void => {
      const node = flow.getInternalNode(lookedAt() ?? "");
      if (!node) return;
      const { width, height } = store.getState();
      const { x, y, zoom } = flow.getViewport();
      const dx = shift(node.internals.positionAbsolute.x * zoom + x, (node.width ?? 0) * zoom, width);
      const dy = shift(node.internals.positionAbsolute.y * zoom + y, (node.height ?? 0) * zoom, height);
      if (dx !== 0 || dy !== 0) void flow.setViewport({ x: x + dx, y: y + dy, zoom }, glide(200));
    };
    return store.subscribe(({ width, height }, before) => {
      if (before.width > 0 && (width !== before.width || height !== before.height)) hold();
    });
  }, [flow, store]);

  // The library tells of its own moves too, without an event.
  return { onMoveStart: (event) => event && (fitted = null) };
}

/** The device that the user looks at: the one whose jack's trace stands in the hop strip, or the one in focus. */
function lookedAt(): DeviceId | null {
  const { focus, lit } = app.getState();
  if (focus?.kind === "device") return focus.device;
  return lit.traces[0]?.target.device ?? null;
}

/** How far to move a stretch so that it lies within the room; its beginning counts where it is longer than that. */
function shift(start: number, length: number, room: number): number {
  const over = start + length - (room - MARGIN);
  const moved = over > 0 ? -over : 0;
  return start + moved < MARGIN && (over > 0 || start < MARGIN) ? MARGIN - start : moved;
}
