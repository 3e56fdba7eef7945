/**
 * Names of places once more, above the cables: a place lies under everything, and a cable that can't go round its name
 * would strike it out. The name that is read aloud and dragged is the place's own.
 */
import { memo } from "react";
import { ViewportPortal } from "@xyflow/react";
import type { FlowNode } from "./elements.ts";
import { placeOfNode } from "./node-ids.ts";
import { usePlaceName, usePlaceNameStyle } from "./PlaceNode.tsx";

export const PlacePlates = memo(function PlacePlates({ nodes }: { nodes: readonly FlowNode[] }) {
  return (
    <ViewportPortal>
      {nodes.map((node) => placeOfNode(node.id) !== null && <Plate key={node.id} node={node} />)}
    </ViewportPortal>
  );
});

const Plate = memo(function Plate({ node: { id, position, width } }: { node: FlowNode }) {
  const place = placeOfNode(id);
  const name = usePlaceName(place);
  const style = usePlaceNameStyle(place);
  return (
    <i
      className="place-plate"
      aria-hidden="true"
      style={{ transform: `translate(${position.x}px, ${position.y}px)`, width }}
    >
      <span className="plate" style={style} data-name={name} />
    </i>
  );
});
