/**
 * Two fingers on a device or a place zoom and pan, as they do on bare ground. The library leaves a touch that begins on a
 * node to the node; near by there is hardly anything else to touch.
 */
import { useEffect, type RefObject } from "react";
import { useReactFlow, type Viewport } from "@xyflow/react";
import type { Point } from "#engine";
import { LEAST_ZOOM, MOST_ZOOM } from "./level.ts";
import { letGo } from "./sight.ts";

/** Where two fingers are: what lies between them, in pixels from the canvas's corner. */
export interface Grip {
  readonly middle: Point;
  readonly apart: number;
}

/** The view that keeps under the fingers what was under them. */
export function pinched({ x, y, zoom }: Viewport, from: Grip, to: Grip): Viewport {
  const next = Math.min(MOST_ZOOM, Math.max(LEAST_ZOOM, (zoom * to.apart) / from.apart));
  const by = next / zoom;
  return {
    x: to.middle.x - (from.middle.x - x) * by,
    y: to.middle.y - (from.middle.y - y) * by,
    zoom: next,
  };
}

export function usePinch(root: RefObject<HTMLElement | null>): void {
  const flow = useReactFlow();
  useEffect(() => {
    const element = root.current;
    if (!element) return;
    let held: Grip | null = null;
    const gripOf = ({ touches }: TouchEvent): Grip => {
      const { left, top } = element.getBoundingClientRect();
      const [a, b] = [touches[0]!, touches[1]!];
      return {
        middle: { x: (a.clientX + b.clientX) / 2 - left, y: (a.clientY + b.clientY) / 2 - top },
        apart: Math.max(1, Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY)),
      };
    };
    // Neither the node nor the library hears of them, or the device would move along.
    const mine = (event: TouchEvent): void => {
      event.stopPropagation();
      if (event.cancelable) event.preventDefault();
    };
    const onStart = (event: TouchEvent): void => {
      const onNode = [...event.touches].some(
        ({ target }) => target instanceof Element && target.closest(".react-flow__node") !== null,
      );
      held = event.touches.length === 2 && onNode ? gripOf(event) : null;
      if (held) mine(event);
    };
    const onMove = (event: TouchEvent): void => {
      if (!held || event.touches.length !== 2) return;
      mine(event);
      const now = gripOf(event);
      letGo();
      void flow.setViewport(pinched(flow.getViewport(), held, now));
      held = now;
    };
    const onEnd = (): void => void (held = null);
    const early = { capture: true, passive: false } as const;
    element.addEventListener("touchstart", onStart, early);
    element.addEventListener("touchmove", onMove, early);
    element.addEventListener("touchend", onEnd, early);
    element.addEventListener("touchcancel", onEnd, early);
    return () => {
      element.removeEventListener("touchstart", onStart, early);
      element.removeEventListener("touchmove", onMove, early);
      element.removeEventListener("touchend", onEnd, early);
      element.removeEventListener("touchcancel", onEnd, early);
    };
  }, [flow, root]);
}
