/** A place: an area behind its devices, moved as a whole by its name and resized by its corners and edges. */
import { memo } from "react";
import type { Node, NodeProps } from "@xyflow/react";
import { resizedPlace, type PlaceId } from "#engine";
import { GRID, type Rect } from "#engine/layout/geometry.ts";
import { snap } from "#engine/build/room.ts";
import { followPointer, pageOf } from "../parts/follow-pointer.ts";
import { useDrawn } from "../state/first-sight.ts";
import { app } from "../state/store.ts";
import { step } from "./build.ts";
import { placeOfNode } from "./node-ids.ts";
import { stageAt } from "./stage.ts";
import { nameSpots } from "./place-names.ts";
import { useLevel, useView, view } from "./view.ts";

export type PlaceFlowNode = Node<Record<string, never>, "place">;

/** Empty where there is no such place. */
export const usePlaceName = (place: PlaceId | null): string =>
  useDrawn((show) => show.places.find(({ id }) => id === place)?.name ?? "");

/** Where its name stands from far; none: where the style has it. As text, so that what stays the same draws nothing. */
export function usePlaceNameStyle(place: PlaceId | null): React.CSSProperties | undefined {
  const { unit } = useLevel();
  const told = useDrawn((show) => {
    const spot = place === null ? undefined : nameSpots(show, unit).get(place);
    return spot ? `${spot.top} ${spot.size}` : "";
  });
  if (told === "") return undefined;
  const [top, size] = told.split(" ");
  // The same height as in the style, with its air below the letters: a device may begin right there.
  return { top: `${top}px`, fontSize: `${size}px`, lineHeight: 1, paddingBottom: "0.25em" };
}

export const PlaceNode = memo(function PlaceNode({ id, width, height }: NodeProps<PlaceFlowNode>) {
  const place = placeOfNode(id);
  const name = usePlaceName(place);
  const nameStyle = usePlaceNameStyle(place);
  const chosen = useView((state) => state.place === place);
  const takes = useView((state) => place !== null && state.moves?.takers.has(place) === true);
  return (
    <div
      className="place"
      style={{ width, height }}
      data-chosen={chosen || undefined}
      data-takes={takes || undefined}
    >
      <span className="place-name" style={nameStyle} title="Drag to move the place and its devices">
        {name}
      </span>
      {chosen && place !== null && <Handles place={place} />}
    </div>
  );
});

const SIDES = ["n", "ne", "e", "se", "s", "sw", "w", "nw"] as const;
type HandleSide = (typeof SIDES)[number];

function Handles({ place }: { place: PlaceId }) {
  return SIDES.map((side) => (
    <i
      key={side}
      className="place-handle nodrag nopan"
      data-side={side}
      onPointerDown={(event) => pull(event, place, side)}
    />
  ));
}

/** The rectangle while it is pulled; the document hears of it at the drop. */
function pull(down: React.PointerEvent, place: PlaceId, side: HandleSide): void {
  const found = app.getState().show.places.find(({ id }) => id === place);
  const start = stageAt(pageOf(down));
  if (down.button !== 0 || !found || !start) return;
  down.preventDefault();
  down.stopPropagation();
  const before: Rect = { ...found.at, ...found.size };
  followPointer(down, {
    move(page) {
      const at = stageAt(page);
      if (!at) return;
      const by = { x: snap(at.x - start.x), y: snap(at.y - start.y) };
      view.setState({ resizing: { place, rect: pulled(before, side, by) } });
    },
    drop() {
      const { resizing } = view.getState();
      if (!resizing) return;
      step(resizedPlace(app.getState().show, place, resizing.rect), `resizing ${found.name}`);
    },
    end: () => view.setState({ resizing: null }),
  });
}

function pulled(
  { x, y, width, height }: Rect,
  side: HandleSide,
  by: { readonly x: number; readonly y: number },
): Rect {
  const left = side.includes("w") ? Math.min(by.x, width - GRID) : 0;
  const top = side.includes("n") ? Math.min(by.y, height - GRID) : 0;
  const right = side.includes("e") ? by.x : 0;
  const bottom = side.includes("s") ? by.y : 0;
  return {
    x: x + left,
    y: y + top,
    width: Math.max(GRID, width - left + right),
    height: Math.max(GRID, height - top + bottom),
  };
}
