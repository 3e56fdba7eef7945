/**
 * Follows a pointer that was pressed until it is lifted, wherever it goes: mouse, pen or finger. Escape, or the system
 * taking the pointer away, lets go without a drop.
 */
import type { Point } from "#engine";

/** Pixels that a press may tremble and is still no drag. */
const TREMBLE = 4;

interface Follow {
  /** The first move, once it is one. */
  readonly begin?: (at: Point) => void;
  readonly move: (at: Point) => void;
  /** Where the pointer was lifted; not called where it never moved. */
  readonly drop: (at: Point) => void;
  /** Always, after the drop. */
  readonly end: () => void;
}

export function followPointer(down: React.PointerEvent, { begin, move, drop, end }: Follow): void {
  const { pointerId } = down;
  const start = pageOf(down);
  let moved = false;

  const onMove = (event: PointerEvent): void => {
    if (event.pointerId !== pointerId) return;
    const at = pageOf(event);
    if (!moved && Math.hypot(at.x - start.x, at.y - start.y) < TREMBLE) return;
    if (!moved) begin?.(at);
    moved = true;
    move(at);
  };
  const onUp = (event: PointerEvent): void => {
    if (event.pointerId !== pointerId) return;
    stop();
    // What the drag has put up is still there for the drop to read.
    if (moved) drop(pageOf(event));
    end();
  };
  const letGo = (): void => {
    stop();
    end();
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.key !== "Escape") return;
    event.preventDefault();
    event.stopPropagation();
    letGo();
  };
  const stop = (): void => {
    window.removeEventListener("pointermove", onMove);
    window.removeEventListener("pointerup", onUp);
    window.removeEventListener("pointercancel", letGo);
    window.removeEventListener("keydown", onKey, { capture: true });
  };
  window.addEventListener("pointermove", onMove);
  window.addEventListener("pointerup", onUp);
  window.addEventListener("pointercancel", letGo);
  window.addEventListener("keydown", onKey, { capture: true });
}

export const pageOf = ({
  clientX,
  clientY,
}: {
  readonly clientX: number;
  readonly clientY: number;
}): Point => ({
  x: clientX,
  y: clientY,
});
