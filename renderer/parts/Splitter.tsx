/** The line between two parts, dragged or moved with the arrow keys; Enter or a double click closes the part. */
import { useRef } from "react";
import { LIMITS, resize, setOpen, useUi, type Part } from "../state/ui.ts";

const STEP = 16;

interface Props {
  readonly part: Part;
  readonly label: string;
  /** Where the part lies, seen from the line. */
  readonly side: "left" | "right" | "below";
}

export function Splitter({ part, label, side }: Props) {
  const size = useUi((state) => state.size[part]);
  const start = useRef<{ at: number; size: number } | null>(null);
  const flat = side === "below";
  /** Which way a growing part moves its line. */
  const grows = side === "left" ? 1 : -1;
  const larger = flat ? "ArrowUp" : grows === 1 ? "ArrowRight" : "ArrowLeft";
  const smaller = flat ? "ArrowDown" : grows === 1 ? "ArrowLeft" : "ArrowRight";
  const place = (event: React.PointerEvent): number => (flat ? event.clientY : event.clientX);

  return (
    <div
      role="separator"
      aria-label={label}
      aria-orientation={flat ? "horizontal" : "vertical"}
      aria-valuenow={size}
      aria-valuemin={LIMITS[part].least}
      aria-valuemax={LIMITS[part].most}
      tabIndex={0}
      className={`splitter ${flat ? "flat" : "upright"}`}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        start.current = { at: place(event), size };
      }}
      onPointerMove={(event) => {
        if (start.current) resize(part, start.current.size + (place(event) - start.current.at) * grows);
      }}
      onPointerUp={() => (start.current = null)}
      onPointerCancel={() => (start.current = null)}
      onDoubleClick={() => setOpen(part, false)}
      onKeyDown={(event) => {
        const steps: Readonly<Record<string, number>> = {
          [larger]: size + STEP,
          [smaller]: size - STEP,
          Home: LIMITS[part].least,
          End: LIMITS[part].most,
        };
        const to = steps[event.key];
        if (to !== undefined) resize(part, to);
        else if (event.key === "Enter") setOpen(part, false);
        else return;
        event.preventDefault();
      }}
    />
  );
}
