/** A cable: its line by kind, its way around the devices, and the bar of what it carries. */
import { memo } from "react";
import type { Edge, EdgeProps } from "@xyflow/react";
import type { CableId, CableKind, DeviceId } from "#engine";
import { useApp } from "../state/store.ts";
import { ownersOf, type Owners } from "../theme/owners.ts";
import type { Level } from "./level.ts";
import { litAlong, type LitCable } from "./lit.ts";
import { looksOf, type CableLook, type WayLook } from "./looks.ts";
import { barLength } from "./rig.ts";
import type { BarPlace } from "./router/bars.ts";
import { marksAlong, plainWay, roundedPath } from "./router/path.ts";
import type { Route } from "./router/scene.ts";
import { textWidth } from "./text.ts";
import { useLevel, useView } from "./view.ts";

export type CableFlowEdge = Edge<{ readonly route: Route; readonly bar: BarPlace | null }, "cable">;

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
  const owners = useApp((state) => ownersOf(state.show));
  const lit = useApp((state) => litAlong(state.lit, state.analysis, id));
  const moving = useView(
    ({ moving }) => moving.has(props.source as DeviceId) || moving.has(props.target as DeviceId),
  );
  const level = useLevel();
  if (!look || !props.data) return null;
  const { route, bar } = props.data;
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
      className={`cable ${LINE_CLASS[look.kind]}`}
      data-lit={lit !== null || undefined}
      data-trouble={look.trouble ?? undefined}
      data-moving={moving || undefined}
    >
      <path className="cable-hit" d={path} />
      <path className="casing" d={path} />
      <path className="line" d={path} style={owner ? { stroke: owner } : undefined} />
      {look.kind === "multicore" && <path className="core" d={path} />}
      {lit && !moving && <Direction points={points} look={look} lit={lit} unit={level.unit} />}
      {bar && !moving && <Bar look={look} place={bar} owners={owners} level={level} lit={lit} />}
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

/** Pixels across for one direction, and the most that it may take in canvas units. */
const THICK = { far: [4, 14], middle: [11, 17], near: [11, 9] } as const;

function Bar({
  look,
  place,
  owners,
  level,
  lit,
}: {
  look: CableLook;
  place: BarPlace;
  owners: Owners;
  level: Level;
  lit: LitCable | null;
}) {
  const [pixels, most] = THICK[level.depth];
  const thick = Math.min(most, pixels * level.unit);
  const gap = Math.min(2, 1.5 * level.unit);
  const total = look.ways.length * thick + (look.ways.length - 1) * gap;
  const longest = Math.max(...look.ways.map(({ cells }) => barLength(cells.length)));
  const chip = longest <= 14;
  // A far-away chip would be a dot that says no more than the line does.
  if (chip && level.depth === "far") return null;
  const tagSize = Math.min(14, 9.5 * level.unit);
  const forwardIsRight = place.upright ? place.reversed : !place.reversed;
  return (
    <g className="bar" transform={`translate(${place.x} ${place.y})${place.upright ? " rotate(-90)" : ""}`}>
      {look.ways.map((way, row) => (
        <Way
          key={way.to}
          way={way}
          owners={owners}
          level={level}
          lit={lit}
          y={-total / 2 + row * (thick + gap)}
          thick={thick}
          pointsRight={(way.to === 1) === forwardIsRight}
        />
      ))}
      {look.tag && level.depth !== "far" && (
        <text
          className="tag"
          x={-longest / 2 - (chip ? 2 : 6)}
          y={chip ? tagSize * 0.35 : -total / 2 - tagSize * 0.3}
          fontSize={tagSize}
          textAnchor={chip ? "end" : "start"}
        >
          {look.tag}
        </text>
      )}
    </g>
  );
}

function Way({
  way,
  owners,
  level,
  lit,
  y,
  thick,
  pointsRight,
}: {
  way: WayLook;
  owners: Owners;
  level: Level;
  lit: LitCable | null;
  y: number;
  thick: number;
  pointsRight: boolean;
}) {
  const length = barLength(way.cells.length);
  const slot = length / way.cells.length;
  const left = -length / 2;
  const runs = runsOf(way);
  const size = Math.min(10 * level.unit, thick * 0.9);
  const tip = Math.min(5, 4 * level.unit);
  const end = pointsRight ? length / 2 : -length / 2;
  const point = pointsRight ? end + tip : end - tip;
  return (
    <g>
      <path
        className="way-outline"
        d={`M${-end} ${y}H${end}L${point} ${y + thick / 2}L${end} ${y + thick}H${-end}Z`}
      />
      {runs.map(({ first, count, owner }) => (
        <rect
          key={first}
          x={left + first * slot}
          y={y}
          width={count * slot}
          height={thick}
          fill={(owner !== null && owners.get(owner)?.pattern) || "var(--stage-signal)"}
        />
      ))}
      {level.depth !== "far" && (
        <Ticks
          way={way}
          left={left}
          slot={slot}
          y={y}
          thick={thick}
          every={level.depth === "near" ? 1 : way.block}
        />
      )}
      {level.depth !== "far" &&
        runs.map(({ first, count, owner }) => {
          const look = owner === null ? null : owners.get(owner);
          if (!look || textWidth(look.letter, size) + 2 > count * slot) return null;
          const x = left + (first + count / 2) * slot;
          const ground = textWidth(look.letter, size) + size * 0.5;
          return (
            <g key={`letter ${first}`}>
              <rect x={x - ground / 2} y={y} width={ground} height={thick} fill={look.fill} />
              <text
                x={x}
                y={y + thick / 2 + size * 0.36}
                fontSize={size}
                fontWeight={700}
                textAnchor="middle"
                fill={look.ink}
              >
                {look.letter}
              </text>
            </g>
          );
        })}
      {lit &&
        way.terminals.map((terminal, n) =>
          lit.terminals.has(terminal) ? (
            <rect key={terminal} className="lit-slot" x={left + n * slot} y={y} width={slot} height={thick} />
          ) : null,
        )}
    </g>
  );
}

function Ticks({
  way,
  left,
  slot,
  y,
  thick,
  every,
}: {
  way: WayLook;
  left: number;
  slot: number;
  y: number;
  thick: number;
  every: number;
}) {
  let path = "";
  for (let n = every; n < way.cells.length; n += every) path += `M${left + n * slot} ${y}v${thick}`;
  return <path className="ticks" d={path} />;
}

interface BarRun {
  readonly first: number;
  readonly count: number;
  readonly owner: DeviceId | null;
}

function runsOf({ cells }: WayLook): readonly BarRun[] {
  const runs: BarRun[] = [];
  cells.forEach(({ owner, fed }, first) => {
    if (!fed) return;
    const last = runs.at(-1);
    if (last && last.owner === owner && last.first + last.count === first)
      runs[runs.length - 1] = { ...last, count: last.count + 1 };
    else runs.push({ first, count: 1, owner });
  });
  return runs;
}
