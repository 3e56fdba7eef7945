/** A cable: its line by kind, and its way around the devices. What it carries stands on its bar (Bars.tsx). */
import { memo } from "react";
import type { Edge, EdgeProps } from "@xyflow/react";
import type { CableId, CableKind, DeviceId } from "#engine";
import { useApp } from "../state/store.ts";
import { ownersOf, type Owners } from "../theme/owners.ts";
import { litAlong, type LitCable } from "./lit.ts";
import { looksOf, type CableLook } from "./looks.ts";
import { marksAlong, plainWay, roundedPath } from "#engine/layout/router/path.ts";
import type { Route } from "#engine/layout/router/scene.ts";
import { useLevel, useView } from "./view.ts";

export type CableFlowEdge = Edge<{ readonly route: Route }, "cable">;

/** Kinds that look alike on the canvas; the legend lists them. */
export const LINE_CLASS: Readonly<Record<CableKind, string>> = {
  cat5e: "link",
  "cat5e-shielded": "link",
  "coax-75": "coax",
  fibre: "fibre",
  "digital-110": "digital",
  microphone: "single",
  line: "single",
  multicore: "multicore",
  loudspeaker: "loudspeaker",
};

export const CableEdge = memo(function CableEdge(props: EdgeProps<CableFlowEdge>) {
  const id = props.id as CableId;
  const look = useApp((state) => looksOf(state.analysis).cables.get(id));
  const owners = useApp((state) => ownersOf(state.analysis.show));
  const lit = useApp((state) => litAlong(state.lit, state.analysis, id));
  const moving = useView(
    ({ moving }) => moving.has(props.source as DeviceId) || moving.has(props.target as DeviceId),
  );
  const level = useLevel();
  if (!look || !props.data) return null;
  const { route } = props.data;
  const points = moving
    ? plainWay(
        { x: props.sourceX, y: props.sourceY },
        route.sides[0],
        { x: props.targetX, y: props.targetY },
        route.sides[1],
      )
    : route.points;
  const path = roundedPath(points);
  const owner = soleOwner(look, owners);
  return (
    <g
      className={`cable kind-${LINE_CLASS[look.kind]}`}
      data-lit={lit !== null || undefined}
      data-trouble={look.trouble ?? undefined}
      data-moving={moving || undefined}
    >
      <path className="cable-hit" d={path} />
      <path className="casing" d={path} />
      <path className="line" d={path} style={owner ? { stroke: owner } : undefined} />
      {look.kind === "multicore" && <path className="core" d={path} />}
      {lit && !moving && <Direction points={points} look={look} lit={lit} unit={level.unit} />}
    </g>
  );
});

/** A cable of one or two ways is one owner's or nobody's, and its whole line says whose. */
function soleOwner({ ways }: CableLook, owners: Owners): string | null {
  const cells = ways.flatMap((way) => way.cells);
  const [first] = cells;
  if (!first?.owner || cells.length > 2 || cells.some(({ owner }) => owner !== first.owner)) return null;
  return owners.get(first.owner)?.edge ?? null;
}

const ARROW_SPACING = 64;

function Direction({
  points,
  look,
  lit,
  unit,
}: {
  points: Route["points"];
  look: CableLook;
  lit: LitCable;
  unit: number;
}) {
  const directions = look.ways.filter(
    ({ terminals }) => lit.terminals.size === 0 || terminals.some((terminal) => lit.terminals.has(terminal)),
  );
  // A cable that is lit as a whole, both ways, has no direction to show.
  if (directions.length !== 1) return directions.length === 2 && lit.terminals.size > 0 ? both() : null;
  return <>{arrows(directions[0]!.to === 1 ? points : [...points].reverse())}</>;

  function arrows(along: Route["points"], every = ARROW_SPACING): React.ReactNode[] {
    const size = 4.5 * unit;
    return marksAlong(along, every * unit).map(({ x, y, angle }, n) => (
      <path
        key={`${along[0]?.x} ${n}`}
        className="direction"
        d={`M${-size * 0.7} ${-size}L${size * 0.7} 0L${-size * 0.7} ${size}`}
        transform={`translate(${x} ${y}) rotate(${angle})`}
      />
    ));
  }
  function both(): React.ReactNode {
    return (
      <>
        {arrows(points, ARROW_SPACING * 1.6)}
        {arrows([...points].reverse(), ARROW_SPACING * 1.1)}
      </>
    );
  }
}
