/** A place: an area behind its devices, moved as a whole by its name. */
import { memo } from "react";
import type { Node, NodeProps } from "@xyflow/react";
import { useApp } from "../state/store.ts";
import { placeOfNode } from "./node-ids.ts";

export type PlaceFlowNode = Node<Record<string, never>, "place">;

export const PlaceNode = memo(function PlaceNode({ id, width, height }: NodeProps<PlaceFlowNode>) {
  const name = useApp(
    (state) => state.analysis.show.places.find((place) => place.id === placeOfNode(id))?.name ?? "",
  );
  return (
    <div className="place" style={{ width, height }}>
      <span className="place-name" title="Drag to move the place and its devices">
        {name}
      </span>
    </div>
  );
});
