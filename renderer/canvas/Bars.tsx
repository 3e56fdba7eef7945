/**
 * The bars of all cables: what each carries, slot by slot, both ways. They stand in a layer of their own above the
 * lines, so that no cable runs over another's bar.
 */
import { memo } from "react";
import { ViewportPortal } from "@xyflow/react";
import type { CableId, DeviceId } from "#engine";
import { app, useApp } from "../state/store.ts";
import { ownersOf, type Owners } from "../theme/owners.ts";
import type { CableFlowEdge } from "./CableEdge.tsx";
import type { Level } from "./level.ts";
import { litAlong, type LitCable } from "./lit.ts";
import { looksOf, type CableLook, type WayLook } from "./looks.ts";
import { barLength, CHIP } from "./rig.ts";
import type { BarPlace } from "#engine/layout/router/bars.ts";
import { textWidth } from "#engine/layout/text.ts";
import { useLevel, useView } from "./view.ts";

export const Bars = memo(function Bars({
  edges,
  places,
}: {
  edges: readonly CableFlowEdge[];
  places: ReadonlyMap<string, BarPlace>;
}) {
  return (
    <ViewportPortal>
      <svg className="bars" width="1" height="1">
        {edges.map(({ id, source, target }) => {
          const place = places.get(id);
          return (
            place && (
              <CableBar
                key={id}
                id={id as CableId}
                from={source as DeviceId}
                to={target as DeviceId}
                place={place}
              />
            )
          );
        })}
      </svg>
    </ViewportPortal>
  );
});

const CableBar = memo(function CableBar({
  id,
  from,
  to,
  place,
}: {
  id: CableId;
  from: DeviceId;
  to: DeviceId;
  place: BarPlace;
}) {
  const look = useApp((state) => looksOf(state.analysis).cables.get(id));
  const owners = useApp((state) => ownersOf(state.analysis.show));
  const lit = useApp((state) => litAlong(state.lit, state.analysis, id));
  const moving = useView((state) => state.moving.has(from) || state.moving.has(to));
  const level = useLevel();
  if (!look || moving || look.ways.length === 0) return null;
  return (
    // The cable's own edge has its name; the bar is more of the same thing to press.
    <g
      className="cable-bar"
      data-cable={id}
      data-lit={lit !== null || undefined}
      aria-hidden="true"
      onClick={() => app.getState().look({ kind: "cable", cable: id })}
    >
      <Bar look={look} place={place} owners={owners} level={level} lit={lit} />
    </g>
  );
});

/** Pixels across for one direction, and the most that it may take in canvas units. */
const THICK = { far: [3.5, 12], middle: [11, 17], near: [11, 9] } as const;

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
  const chip = longest <= CHIP;
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
        litRuns(way, lit).map(({ first, count }) => (
          <rect
            key={`lit ${first}`}
            className="lit-slot"
            x={left + first * slot}
            y={y}
            width={count * slot}
            height={thick}
          />
        ))}
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

function litRuns(
  { terminals }: WayLook,
  lit: LitCable,
): readonly { readonly first: number; readonly count: number }[] {
  const runs: { first: number; count: number }[] = [];
  terminals.forEach((terminal, first) => {
    if (!lit.terminals.has(terminal)) return;
    const last = runs.at(-1);
    if (last && last.first + last.count === first) last.count++;
    else runs.push({ first, count: 1 });
  });
  return runs;
}
