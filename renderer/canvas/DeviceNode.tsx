/** A device: what it is, its sections, ports and jacks, and the plugs on its border. */
import { memo, useEffect, useRef } from "react";
import type { Node, NodeProps } from "@xyflow/react";
import type { DeviceId, Show } from "#engine";
import { canvasHasKeys } from "./stage.ts";
import { useDrawn, useFirstSight } from "../state/first-sight.ts";
import { useApp } from "../state/store.ts";
import { ownersOf, type Owners } from "../theme/owners.ts";
import { LitCells, SpanCells } from "./cells.tsx";
import { nodeGeometry, runRects, type GroupGeometry, type NodeGeometry } from "#engine/layout/geometry.ts";
import { GLYPHS } from "./glyphs.ts";
import { litOn } from "./lit.ts";
import { bareLooks, looksOf, type DeviceLook } from "./looks.ts";
import { handleId, type Plug } from "./rig.ts";
import { besidePlace } from "./place-names.ts";
import { SocketRings } from "./SocketRings.tsx";
import { BOLD, fittedLabel, lineCount } from "#engine/layout/text.ts";
import { once } from "#engine/model/once.ts";
import { useLevel, useView, type Cabling } from "./view.ts";
import type { Level } from "./level.ts";
import { cellsName } from "./words.ts";

export type DeviceFlowNode = Node<{ readonly plugs: readonly Plug[] }, "device">;

export const DeviceNode = memo(function DeviceNode({ id, data, selected }: NodeProps<DeviceFlowNode>) {
  const device = id as DeviceId;
  const sight = useFirstSight();
  const look = useApp((state) => (sight ? bareLooks(sight) : looksOf(state.analysis)).devices.get(device));
  const name = useDrawn((show) => (look ? null : show.devices.find((one) => one.id === id)?.name));
  if (look)
    return <KnownDevice look={look} plugs={data.plugs} selected={selected} seenOnly={sight !== null} />;
  return (
    <div className="device unknown" style={{ width: 160, height: 80 }}>
      <div className="far-name">{name}</div>
      <div className="unknown-type">type not in the show</div>
    </div>
  );
});

interface KnownDeviceProps {
  readonly look: DeviceLook;
  readonly plugs: readonly Plug[];
  readonly selected: boolean;
  /** At first sight: its name and what it is. What can be done with it comes with its signals. */
  readonly seenOnly: boolean;
}

function KnownDevice({ look, plugs, selected, seenOnly }: KnownDeviceProps) {
  const geometry = nodeGeometry(look.type);
  const level = useLevel();
  const owners = useDrawn(ownersOf);
  const lit = useApp((state) => litOn(state.lit, state.analysis, look.id));
  const takes = useView((state) => takesCable(state.cabling, look.id));
  const place = useDrawn((show) => placeNames(show).get(look.id) ?? "");
  const { width, height, form } = geometry;
  const far = level.depth === "far" ? farName(look, place, geometry, level.unit) : null;
  // Rows that the name covers are left out, instead of showing a sliver.
  const groups = far ? geometry.groups.filter(({ rect }) => rect.y >= far.height - 6) : geometry.groups;
  const litSpans = lit?.some.filter(({ span }) =>
    groups.some(({ spans }) => spans.some((at) => at.span === look.spans[span]?.span)),
  );
  return (
    <div
      className={`device ${form}`}
      style={{ width, height }}
      data-category={look.type.category}
      data-lit={lit !== null || undefined}
      data-some-lit={(lit !== null && lit.some.length > 0) || undefined}
      data-off={!look.powered || undefined}
      data-selected={selected || undefined}
      data-takes={takes ?? undefined}
    >
      <OwnBand look={look} owners={owners} />
      {far ? (
        <FarName look={look} {...far} />
      ) : (
        <Head look={look} owners={owners} compact={form === "compact"} />
      )}
      {far && form !== "compact" && <FarGlyph look={look} top={far.height} height={height} />}
      {!far && groups.map((group) => <Label key={group.id} group={group} unit={level.unit} />)}
      {look.spans.length > 0 && !(far && form === "compact") && (
        <svg className="cells" width={width} height={height}>
          {groups.map((group) => (
            <Group key={group.id} group={group} look={look} owners={owners} level={level} />
          ))}
        </svg>
      )}
      {litSpans && litSpans.length > 0 && !(far && form === "compact") && (
        <svg className="lit-cells" width={width} height={height}>
          {litSpans.map(({ span, numbers }) => {
            const at = groups
              .flatMap(({ spans }) => spans)
              .find((one) => one.span === look.spans[span]!.span)!;
            return (
              <LitCells
                key={span}
                at={at}
                look={look.spans[span]!}
                owners={owners}
                level={level}
                numbers={numbers}
              />
            );
          })}
        </svg>
      )}
      {!seenOnly && (
        <>
          <Plugs plugs={plugs} geometry={geometry} />
          <SocketRings device={look.id} geometry={geometry} />
          <Handles plugs={plugs} />
          <Cursor look={look} geometry={geometry} owners={owners} />
        </>
      )}
    </div>
  );
}

/** Whether a cable in hand goes in anywhere; null while none is in hand. */
function takesCable(cabling: Cabling | null, device: DeviceId): "yes" | "no" | null {
  if (!cabling) return null;
  if (cabling.from.device === device) return "yes";
  const offers = [...(cabling.offers.get(device)?.values() ?? [])];
  return offers.some(({ fit }) => fit.kind === "fits") ? "yes" : "no";
}

/** A console carries the colour that its signals have everywhere else. */
function OwnBand({ look, owners }: { look: DeviceLook; owners: Owners }) {
  const owner = look.type.category === "console" ? owners.get(look.id) : undefined;
  if (!owner) return null;
  return (
    <svg className="own-band" width="100%" height="8" aria-hidden="true">
      <rect width="100%" height="8" fill={owner.pattern} />
    </svg>
  );
}

/** Sizes of a name far away, in pixels; few, so that devices of a kind look of a kind. */
const FAR_SIZES = { compact: [12.5, 11, 9.5, 8.5], other: [15, 13, 11, 9.5] } as const;
const FAR_LEADING = 1.1;

/** What each device's place is called. */
const placeNames = once((show: Show): ReadonlyMap<DeviceId, string> => {
  const places = new Map(show.places.map(({ id, name }) => [id, name]));
  return new Map(show.devices.map(({ id, place }) => [id, places.get(place) ?? ""]));
});

/** How the name is set far away, and how much of the node it takes from the top. */
function farName(
  look: DeviceLook,
  place: string,
  geometry: NodeGeometry,
  unit: number,
): { readonly text: string; readonly size: number; readonly lines: number; readonly height: number } {
  const compact = geometry.form === "compact";
  const mark = look.worst === null || compact ? 0 : 16 * unit;
  const width = geometry.width - (compact ? 12 : 20) - Math.min(mark, 40);
  const room = geometry.height - (compact ? 4 : 16);
  const sizes = FAR_SIZES[compact ? "compact" : "other"].map((pixels) => pixels * unit);
  const fits = (text: string, tried: readonly number[]) => {
    const linesAt = (one: number): number => lineCount(text, one * BOLD, width);
    const size =
      tried.find((one) => linesAt(one) === 1) ??
      tried.find((one) => linesAt(one) * one * FAR_LEADING <= room);
    return size === undefined ? null : { text, size, lines: Math.min(3, linesAt(size)) };
  };
  const least = sizes.at(-1)!;
  // Of a name that fits in no size what the place says already goes first; then the end is kept, which tells Wedge 1
  // from Wedge 2.
  const { text, size, lines } = fits(look.name, sizes) ??
    fits(besidePlace(look.name, place), sizes.slice(-1)) ?? {
      text: fittedLabel(besidePlace(look.name, place).replace("…", ""), least * BOLD, width),
      size: least,
      lines: 1,
    };
  const height = compact ? geometry.height : Math.min(geometry.height, lines * size * FAR_LEADING + 18);
  return { text, size, lines, height };
}

function FarName({
  look,
  text,
  size,
  lines,
  height,
}: {
  look: DeviceLook;
  text: string;
  size: number;
  lines: number;
  height: number;
}) {
  return (
    <div className="far-head" style={{ height }}>
      <span className="far-name" style={{ fontSize: size, WebkitLineClamp: lines }}>
        {text}
      </span>
      <Finding look={look} />
    </div>
  );
}

/** Far away the room of the labels shows what sort of device it is. */
function FarGlyph({ look, top, height }: { look: DeviceLook; top: number; height: number }) {
  const size = Math.min(64, height - top - 20);
  if (size < 28) return null;
  return (
    <svg
      className="far-glyph"
      viewBox="0 0 16 16"
      aria-hidden="true"
      style={{ left: 20, top: top + 4, width: size, height: size }}
    >
      <path d={GLYPHS[look.type.category]} />
    </svg>
  );
}

function Head({ look, owners, compact }: { look: DeviceLook; owners: Owners; compact: boolean }) {
  const owner = look.type.category === "console" ? owners.get(look.id) : undefined;
  return (
    <div className="head">
      {owner ? (
        <span className="own-letter" style={{ background: owner.fill, color: owner.ink }}>
          {owner.letter}
        </span>
      ) : (
        <svg className="glyph" viewBox="0 0 16 16" aria-hidden="true">
          <path d={GLYPHS[look.type.category]} />
        </svg>
      )}
      <span className="names">
        <span className="line">
          <span className="name">{look.name}</span>
          {look.rate !== null && <span className="fact">{look.rate}</span>}
          {!look.powered && <span className="fact">off</span>}
        </span>
        {!compact && (
          <span className="line">
            <span className="type">{look.type.name}</span>
            {look.mode !== null && (
              <span className="mode">
                {look.mode}
                {look.position !== null && look.position > 1 ? `, ${look.position}` : ""}
              </span>
            )}
          </span>
        )}
      </span>
      <Finding look={look} />
    </div>
  );
}

const FINDING_SHAPES = {
  error: "M5.4 1.8h5.2l3.6 3.6v5.2l-3.6 3.6H5.4l-3.6-3.6V5.4z",
  warning: "M8 1.6l7 12.8H1z",
  note: "M8 2a6 6 0 1 1 0 12A6 6 0 0 1 8 2z",
} as const;

function Finding({ look }: { look: DeviceLook }) {
  if (look.worst === null) return null;
  return (
    <svg className={`finding ${look.worst}`} viewBox="0 0 16 16" aria-hidden="true">
      <path className="shape" d={FINDING_SHAPES[look.worst]} />
      <path className="stroke" d={look.worst === "warning" ? "M8 6v4M8 12v.6" : "M8 4.6v4.2M8 10.8v.6"} />
    </svg>
  );
}

const LABEL_TEXT = 10;

const Label = memo(function Label({ group, unit }: { group: GroupGeometry; unit: number }) {
  const { x, y, width, height } = group.label;
  const size = Math.min(15, Math.max(7, LABEL_TEXT * unit));
  return (
    <span className={`group-label ${group.kind}`} style={{ left: x, top: y, width, height, fontSize: size }}>
      {fittedLabel(group.name, size, width)}
    </span>
  );
});

const Group = memo(function Group({
  group,
  look,
  owners,
  level,
}: {
  group: GroupGeometry;
  look: DeviceLook;
  owners: Owners;
  level: Level;
}) {
  return (
    <g role="group" aria-label={group.name}>
      {group.spans.map((at) => {
        const span = look.spans.find((one) => one.span === at.span);
        return (
          span && (
            <g key={at.span.side}>
              {at.arrow && level.depth !== "far" && <Arrow {...at.arrow} />}
              <SpanCells at={at} look={span} owners={owners} level={level} />
            </g>
          )
        );
      })}
    </g>
  );
});

/** Into the device, or out of it. */
function Arrow({ x, y, height, way }: { x: number; y: number; height: number; way: "in" | "out" }) {
  const middle = y + height / 2;
  const [tail, tip] = way === "in" ? [x + 1, x + 7] : [x + 2, x + 8];
  return (
    <path
      className="way"
      d={
        way === "in"
          ? `M${tail} ${middle}H${tip}M${tip - 3} ${middle - 3}L${tip} ${middle}L${tip - 3} ${middle + 3}M${tip + 2} ${middle - 4}v8`
          : `M${tail} ${middle}H${tip}M${tip - 3} ${middle - 3}L${tip} ${middle}L${tip - 3} ${middle + 3}M${tail} ${middle - 4}v8`
      }
    />
  );
}

const PLUG = { long: 9, deep: 5 } as const;

function Plugs({ plugs, geometry }: { plugs: readonly Plug[]; geometry: NodeGeometry }) {
  const open = geometry.groups.filter(
    ({ kind, id }) => kind === "port" && !plugs.some(({ group }) => group === id),
  );
  return (
    <svg className="plugs" width={geometry.width} height={geometry.height} aria-hidden="true">
      {open.map(({ id, rect }) => {
        const y = rect.y + rect.height / 2 - PLUG.long / 2;
        return (
          <rect
            key={id}
            className="plug open"
            x={geometry.width - PLUG.deep / 2}
            y={y}
            width={PLUG.deep}
            height={PLUG.long}
          />
        );
      })}
      {plugs.map(({ cable, end, side, x, y }) => {
        const level = side === "left" || side === "right";
        const width = level ? PLUG.deep : PLUG.long * 0.6;
        const height = level ? PLUG.long * 0.6 : PLUG.deep;
        return (
          <rect
            key={`${cable} ${end}`}
            className="plug"
            x={x - width / 2}
            y={y - height / 2}
            width={width}
            height={height}
          />
        );
      })}
    </svg>
  );
}

/**
 * The library measures handles on the page once, when a node appears, whatever the node object says of them. These
 * stand exactly where it says, so that both agree; `.source` and the two attributes are what it looks for.
 */
const Handles = memo(function Handles({ plugs }: { plugs: readonly Plug[] }) {
  return plugs.map(({ cable, end, side, x, y }) => (
    <i
      key={handleId(cable, end)}
      className="source"
      data-handleid={handleId(cable, end)}
      data-handlepos={side}
      style={{ left: x, top: y }}
    />
  ));
});

/** Where the keyboard is. It holds the page's focus, so that a screen reader says what it stands on. */
function Cursor({ look, geometry, owners }: { look: DeviceLook; geometry: NodeGeometry; owners: Owners }) {
  const cursor = useView((state) => (state.cursor?.device === look.id ? state.cursor : null));
  const mark = useRef<HTMLDivElement>(null);
  const spot = cursor?.at ?? null;
  useEffect(() => {
    // A node may be drawn long after the cursor went there: by then the user may be typing elsewhere.
    if (!cursor || !canvasHasKeys()) return;
    const target = spot ? mark.current : mark.current?.closest<HTMLElement>(".react-flow__node");
    if (target && document.activeElement !== target) target.focus({ preventScroll: true });
  }, [cursor, spot]);
  const span = spot ? look.spans[spot.span] : undefined;
  const at = span && geometry.groups.flatMap(({ spans }) => spans).find((one) => one.span === span.span);
  const rect = at && spot ? runRects(at, spot.first, spot.last)[0] : undefined;
  const box =
    at && rect && spot?.first === spot?.last && at.size === "small"
      ? { ...rect, height: rect.height / 2, y: rect.y + (((spot?.first ?? 1) - 1) % 2) * (rect.height / 2) }
      : rect;
  return (
    <div
      ref={mark}
      className="cursor"
      tabIndex={-1}
      {...(span && spot && box
        ? {
            role: "button",
            "aria-label": cellsName(owners, span, spot.first, spot.last),
            style: { left: box.x, top: box.y, width: box.width, height: box.height },
          }
        : { hidden: !cursor, "aria-hidden": true })}
    />
  );
}
