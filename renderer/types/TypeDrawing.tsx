/** The type as its node looks on the canvas. Each cell that something inside feeds is filled; a press picks one. */
import { useMemo } from "react";
import {
  feedTable,
  layoutOf,
  mostSlots,
  sideName,
  spanGroup,
  type DeviceType,
  type FeedRun,
  type ModeId,
  type Span,
  type Terminal,
} from "#engine";
import { cellRect, hitNode, nodeGeometry, type SpanGeometry } from "#engine/layout/geometry.ts";
import { fittedLabel } from "#engine/layout/text.ts";
import { SpanCells } from "../canvas/cells.tsx";
import { GLYPHS } from "../canvas/glyphs.ts";
import type { Level } from "../canvas/level.ts";
import type { BlockLook, CellLook, SpanLook } from "../canvas/looks.ts";
import type { Owners } from "../theme/owners.ts";
import { editor, type Spot } from "./editor.ts";

/** On the bench nothing has an owner. */
const NO_OWNERS: Owners = new Map();

const cell = (fed: boolean): CellLook => ({
  owner: null,
  fed,
  verdict: fed ? "arrives" : "not-wired",
  trouble: null,
  label: null,
});
const FED = cell(true);
const BARE = cell(false);

/** A span's picture: blocks are cut where another rule takes over, as they are in a rig. */
function lookOf(span: Span, runs: readonly FeedRun[]): SpanLook {
  const own = runs.filter((run) => run.span === span);
  const isFed = (number: number): boolean =>
    own.some(
      ({ kind, first, count }) =>
        kind !== "nothing" && kind !== "beyond" && number >= first && number < first + count,
    );
  const cells = Array.from({ length: span.count }, (_, n) => (isFed(n + 1) ? FED : BARE));
  const blocks = (own.length > 0 ? own : [{ first: 1, count: span.count }]).map(
    ({ first, count }): BlockLook => ({
      first,
      last: first + count - 1,
      state: isFed(first) ? "sources only" : "unfed",
      owners: [],
      fed: isFed(first) ? count : 0,
    }),
  );
  return { span, name: sideName(span), cells, blocks };
}

export function TypeDrawing({
  type,
  mode,
  position,
  width,
  spot,
  reached,
}: {
  type: DeviceType;
  mode: ModeId;
  position: number;
  /** Of the room that there is, in pixels. */
  width: number;
  spot: Spot | null;
  /** What the picked terminal feeds, and what feeds it. */
  reached: readonly Terminal[];
}) {
  const geometry = nodeGeometry(type);
  const runs = useMemo(() => feedTable(type, mode, position), [type, mode, position]);
  const looks = useMemo(
    () => new Map(layoutOf(type).spans.map((span) => [span, lookOf(span, runs)])),
    [type, runs],
  );
  // Smaller than this nothing could be read; a wide node scrolls.
  const scale = Math.max(0.58, Math.min(1.15, (width - 1) / geometry.width));
  const level: Level = { depth: "middle", unit: 1 / scale };
  const spans = geometry.groups.flatMap((group) => group.spans);
  const at = (group: string, side: string): SpanGeometry | undefined =>
    spans.find(({ span }) => spanGroup(span) === group && span.side === side);
  const mark = (of: Pick<Terminal, "group" | "side" | "number">, className: string, key: string) => {
    const found = at(of.group, of.side);
    return found && of.number <= found.span.count ? (
      <rect key={key} className={className} {...cellRect(found, of.number)} />
    ) : null;
  };
  return (
    <svg
      className="type-drawing"
      width={geometry.width * scale}
      height={geometry.height * scale}
      viewBox={`0 0 ${geometry.width} ${geometry.height}`}
      role="img"
      aria-label={`${type.name}, as it looks on the canvas`}
      onClick={(event) => {
        const box = event.currentTarget.getBoundingClientRect();
        const hit = hitNode(geometry, (event.clientX - box.left) / scale, (event.clientY - box.top) / scale);
        if (!hit?.cell) return;
        const { span } = hit.cell.at;
        editor.setState({
          spot: { group: spanGroup(span), side: span.side, number: hit.cell.number },
        });
      }}
    >
      <rect
        className="type-node"
        x={0.5}
        y={0.5}
        width={geometry.width - 1}
        height={geometry.height - 1}
        rx={5}
      />
      <svg x={12} y={14} width={18} height={18} viewBox="0 0 16 16">
        <path className="type-glyph" d={GLYPHS[type.category]} />
      </svg>
      <text className="type-node-name" x={38} y={21} fontSize={Math.min(15, 12.5 / scale)}>
        {fittedLabel(type.name, Math.min(15, 12.5 / scale), geometry.width - 50)}
      </text>
      <text className="type-node-mode" x={38} y={38} fontSize={Math.min(14, 11 / scale)}>
        {type.modes.find(({ id }) => id === mode)?.name}
        {type.chain > 1 ? `, position ${position}` : ""}
      </text>
      {geometry.groups.map((group) => (
        <text
          key={`${group.kind} ${group.id}`}
          className="type-node-label"
          x={group.label.x}
          y={group.label.y + group.label.height / 2 + 4}
          fontSize={Math.min(14, 10.5 / scale)}
        >
          {fittedLabel(group.name, Math.min(14, 10.5 / scale), group.label.width)}
        </text>
      ))}
      {spans.map((geometryOf) => (
        <SpanCells
          key={`${spanGroup(geometryOf.span)} ${geometryOf.span.side}`}
          at={geometryOf}
          look={looks.get(geometryOf.span)!}
          owners={NO_OWNERS}
          level={level}
        />
      ))}
      {reached.map((terminal) =>
        mark(terminal, "type-reached", `${terminal.group} ${terminal.side} ${terminal.number}`),
      )}
      {spot && mark(spot, "type-spot", "spot")}
    </svg>
  );
}

/** Spans of a type that have terminals, for a list to choose from. */
export const choosable = (type: DeviceType): readonly Span[] =>
  layoutOf(type).spans.filter(
    (span) =>
      span.count > 0 &&
      (span.side !== "receive" || mostSlots(span.port.receive) > 0) &&
      (span.side !== "send" || mostSlots(span.port.send) > 0),
  );
