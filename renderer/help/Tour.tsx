/** A short way round the window: one card at a time beside the part that it tells of. Never in the way: Escape ends it. */
import { useEffect, useLayoutEffect, useRef, useState } from "react";
import { isBlank } from "../state/blank.ts";
import { useDrawn } from "../state/first-sight.ts";
import { ui, useUi } from "../state/ui.ts";
import { endTour, startTour, STOPS, wasToured, type Stop } from "./tour.ts";
import "./tour.css";

export function Tour() {
  const at = useUi((state) => state.tour);
  const stop = at === null ? undefined : STOPS[at];
  return stop && at !== null ? <Card key={at} at={at} stop={stop} /> : null;
}

interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

function Card({ at, stop }: { at: number; stop: Stop }) {
  const card = useRef<HTMLDivElement>(null);
  const next = useRef<HTMLButtonElement>(null);
  const [part, setPart] = useState<Box | null>(null);
  const [place, setPlace] = useState<{ readonly left: number; readonly top: number } | null>(null);
  useLayoutEffect(() => {
    const measure = (): void => {
      const found = document.querySelector(stop.part)?.getBoundingClientRect() ?? null;
      const size = card.current?.getBoundingClientRect();
      setPart(found);
      if (size) setPlace(beside(found, size));
    };
    measure();
    addEventListener("resize", measure);
    return () => removeEventListener("resize", measure);
  }, [stop]);
  useEffect(() => {
    next.current?.focus();
    // A menu that it was begun from hands the keys back once it has closed.
    let frame = requestAnimationFrame(() => {
      frame = requestAnimationFrame(() => next.current?.focus());
    });
    // Wherever the keys have gone since.
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.key !== "Escape" || event.defaultPrevented) return;
      if (document.querySelector("[role=menu],.dialog")) return;
      event.preventDefault();
      endTour();
    };
    addEventListener("keydown", onKeyDown, true);
    return () => {
      cancelAnimationFrame(frame);
      removeEventListener("keydown", onKeyDown, true);
    };
  }, []);
  const isLast = at === STOPS.length - 1;
  return (
    <>
      {part && (
        <div
          className="tour-ring"
          aria-hidden="true"
          style={{ left: part.left, top: part.top, width: part.width, height: part.height }}
        />
      )}
      <div
        ref={card}
        className="tour-card"
        role="dialog"
        aria-labelledby="tour-title"
        aria-describedby="tour-text"
        style={place ?? { visibility: "hidden" }}
      >
        <h2 id="tour-title">{stop.title}</h2>
        <p id="tour-text">{stop.text}</p>
        <div className="tour-buttons">
          <span className="soft small number">
            {at + 1} of {STOPS.length}
          </span>
          <span className="spring" />
          {!isLast && (
            <button type="button" className="button small" onClick={endTour}>
              Enough
            </button>
          )}
          {at > 0 && (
            <button type="button" className="button small" onClick={() => ui.setState({ tour: at - 1 })}>
              Back
            </button>
          )}
          <button
            ref={next}
            type="button"
            className="button small main"
            onClick={() => (isLast ? endTour() : ui.setState({ tour: at + 1 }))}
          >
            {isLast ? "Done" : "Next"}
          </button>
        </div>
      </div>
    </>
  );
}

const SPACE = 12;

/** Below the part, else above it, else to its right, else in its middle; always inside the window. */
function beside(part: Box | null, card: { readonly width: number; readonly height: number }) {
  const { innerWidth, innerHeight } = globalThis;
  const inside = (left: number, top: number) => ({
    left: Math.max(SPACE, Math.min(left, innerWidth - card.width - SPACE)),
    top: Math.max(SPACE, Math.min(top, innerHeight - card.height - SPACE)),
  });
  if (!part) return inside((innerWidth - card.width) / 2, (innerHeight - card.height) / 2);
  const { left, top, width, height } = part;
  if (top + height + SPACE + card.height < innerHeight) return inside(left, top + height + SPACE);
  if (top - SPACE - card.height > 0) return inside(left, top - SPACE - card.height);
  if (left + width + SPACE + card.width < innerWidth) return inside(left + width + SPACE, top);
  return inside(left + (width - card.width) / 2, top + (height - card.height) / 2);
}

/** Where nothing is looked at, until it was taken or ended once. */
export function TourOffer() {
  const running = useUi((state) => state.tour !== null);
  const blank = useDrawn(isBlank);
  if (running || wasToured() || blank) return null;
  return (
    <button type="button" className="button small" onClick={startTour}>
      New here? A short tour
    </button>
  );
}
