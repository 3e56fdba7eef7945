/**
 * Where everything on a device's node stands, worked out from its type alone. Nodes, handles and the router all ask
 * here, so nothing depends on measuring a page, and a node keeps its size at every depth of zoom.
 *
 * The look of it, top to bottom: a header; a row or more for each section of the mix engine, then for each link port,
 * then for each bank of inputs and of outputs, so that cables to what stands below leave close to their jacks. A row is
 * a label, and to its right *cells*, one for each terminal. There are two sizes of cell:
 * - **large**, for jacks and for short sections: one beside the other, with room for a label;
 * - **small**, for slots and long sections: in columns of two, odd over even, so that a stereo pair is a column and a
 *   block of eight is as wide wherever it stands.
 */
import type { DeviceType } from "../model/device-type.ts";
import type { GroupId } from "../model/ids.ts";
import { layoutOf, spanBlock, spanName, type Span } from "../wiring/layout.ts";

export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

export const SIDES = ["left", "right", "bottom", "top"] as const;
export type NodeSide = (typeof SIDES)[number];

/** A point on a node's border where a cable may leave, relative to the node. */
export interface Anchor {
  readonly side: NodeSide;
  readonly x: number;
  readonly y: number;
}

/** Sizes in canvas units. Everything is a multiple of the grid in the end, so snapped nodes line up. */
export const GRID = 10;
export const PAD = 14;
export const HEADER = 48;
export const CELL = { width: 30, height: 20 } as const;
/** Two small cells stand over each other in the height of a large one. */
export const SMALL = { width: 10, height: 10 } as const;
const SMALL_LEAST = 7.5;
const ROW = 22;
const GROUP_GAP = 4;
const LABEL = 84;
const ARROW = 12;
/** A column of cells: eight large ones, or 48 slots. */
const COLUMN = 8 * CELL.width;
const LEAST_WIDTH = 160;
/** Up to so many terminals a device without ports is a one-row node: a loudspeaker, a transmitter. */
const COMPACT = 4;
/** More rows than this in one column, and the node takes two. */
const MOST_NARROW_ROWS = 9;
/** A letter of a label at the smallest zoom at which labels are drawn. */
const LETTER = 8;

/** The cells of one span on a node. */
export interface SpanGeometry {
  readonly span: Span;
  readonly size: "large" | "small";
  /** Where the first cell stands, and how cells go on from there. */
  readonly x: number;
  readonly y: number;
  readonly cell: Size;
  /** Cells in one row of the node. */
  readonly perRow: number;
  /** A wide row leaves its middle free, as the two halves of a port's row do. */
  readonly middleGap: number;
  /** Around all of the cells. */
  readonly rect: Rect;
  /** Where the arrow that tells the direction stands; null for the mix engine's sections and where there is no room. */
  readonly arrow: (Rect & { readonly way: "in" | "out" }) | null;
}

/** What is labelled as one: a bank, a section, or both ways of a port. */
export interface GroupGeometry {
  readonly id: GroupId;
  readonly name: string;
  readonly kind: "section" | "port" | "bank";
  readonly label: Rect;
  readonly rect: Rect;
  readonly spans: readonly SpanGeometry[];
}

export interface NodeGeometry extends Size {
  readonly type: DeviceType;
  readonly form: "compact" | "narrow" | "wide";
  readonly header: Rect;
  readonly groups: readonly GroupGeometry[];
}

const known = new WeakMap<DeviceType, NodeGeometry>();

/** The geometry of a type's node; made once for each type object, which never changes. */
export function nodeGeometry(type: DeviceType): NodeGeometry {
  let geometry = known.get(type);
  if (!geometry) known.set(type, (geometry = makeGeometry(type)));
  return geometry;
}

/**
 * The size of a device's node, always in tens. The rules:
 * - **compact**: no ports and at most four terminals. One row under the header; 80 high, 160 wide or as its labels need.
 * - **narrow**: 14 + 84 for labels + 12 + cells + 14. Cells take 30 for each of up to 8 jacks in a row, and 5 for each
 *   slot up to 48 in a row (64 slots are squeezed into the room of 48). At least 160, at most 370 wide.
 * - **wide**, where narrow would take more than 9 rows: 620 in width; 16 jacks or 96 bus slots in a row, and both ways
 *   of a port side by side.
 *
 * Height: 48 for the header, 22 for each row, 4 between groups, 8 below. Leave at least 40 between nodes for cables.
 */
export function nodeSize(type: DeviceType): Size {
  const { width, height } = nodeGeometry(type);
  return { width, height };
}

const toGrid = (length: number): number => Math.ceil(length / GRID) * GRID;

interface Group {
  readonly id: GroupId;
  readonly name: string;
  readonly kind: GroupGeometry["kind"];
  readonly spans: readonly Span[];
}

function groupsOf(type: DeviceType): readonly Group[] {
  const { spans } = layoutOf(type);
  const groups: Group[] = [];
  const add = (kind: Group["kind"], id: GroupId, name: string, of: readonly Span[]): void => {
    const filled = of.filter((span) => span.count > 0);
    if (filled.length > 0) groups.push({ id, name, kind, spans: filled });
  };
  for (const span of spans) if (span.side === "bus") add("section", span.section.id, spanName(span), [span]);
  for (const port of type.ports) {
    const ways = spans.filter(
      (span) => (span.side === "receive" || span.side === "send") && span.port === port,
    );
    add("port", port.id, port.name, ways);
  }
  for (const direction of ["in", "out"] as const) {
    for (const span of spans) {
      if (span.side === "jack" && span.bank.direction === direction)
        add("bank", span.bank.id, spanName(span), [span]);
    }
  }
  return groups;
}

/** Jacks that a plug goes in are always large; all else is where it fits in one row. */
function isLarge(span: Span, columns: 1 | 2): boolean {
  if (span.side === "jack" && span.bank.connector !== "none") return true;
  return span.side !== "receive" && span.side !== "send" && span.count <= columns * 8;
}

function perRow(span: Span, columns: 1 | 2): number {
  if (isLarge(span, columns)) return 8 * columns;
  const oneColumn = (COLUMN / (span.count > 48 * columns ? SMALL_LEAST : SMALL.width)) * 2;
  return span.side === "receive" || span.side === "send" ? oneColumn : oneColumn * columns;
}

const rowsOf = (span: Span, columns: 1 | 2): number => Math.ceil(span.count / perRow(span, columns));

function makeGeometry(type: DeviceType): NodeGeometry {
  const groups = groupsOf(type);
  const terminals = layoutOf(type).size;
  if (type.ports.length === 0 && terminals <= COMPACT) return compact(type, groups);
  const narrowRows = groups.reduce(
    (rows, { spans }) => rows + spans.reduce((sum, span) => sum + rowsOf(span, 1), 0),
    0,
  );
  return rowed(type, groups, narrowRows > MOST_NARROW_ROWS ? 2 : 1);
}

function compact(type: DeviceType, groups: readonly Group[]): NodeGeometry {
  let x = PAD;
  const y = HEADER;
  const placed = groups.map((group): GroupGeometry => {
    const left = x;
    const label = { x, y, width: group.name.length * LETTER + 6, height: CELL.height };
    x += label.width;
    const spans = group.spans.map((span) => {
      // The label stands where an arrow would, and says as much.
      const geometry = { ...place(span, "large", x, y, CELL, span.count, 0), arrow: null };
      x += geometry.rect.width + 8;
      return geometry;
    });
    return {
      id: group.id,
      name: group.name,
      kind: group.kind,
      label,
      rect: { x: left, y, width: x - 8 - left, height: CELL.height },
      spans,
    };
  });
  return {
    type,
    form: "compact",
    width: toGrid(Math.max(LEAST_WIDTH, x - 8 + PAD)),
    height: toGrid(y + CELL.height + 8),
    header: { x: 0, y: 0, width: Math.max(LEAST_WIDTH, x - 8 + PAD), height: HEADER },
    groups: placed,
  };
}

function rowed(type: DeviceType, groups: readonly Group[], columns: 1 | 2): NodeGeometry {
  const left = PAD + LABEL + ARROW;
  const secondColumn = left + COLUMN + ARROW;
  let y = HEADER;
  const placed = groups.map((group): GroupGeometry => {
    const top = y;
    let bottom = y;
    const spans = group.spans.map((span) => {
      const large = isLarge(span, columns);
      // Both ways of a port share a row where there are two columns: what it receives left, what it sends right.
      const right = columns === 2 && span.side === "send";
      const at = columns === 2 ? top : bottom;
      const inRow = perRow(span, columns);
      const cell = large
        ? CELL
        : { width: (COLUMN / (inRow / (isPort(span) ? 1 : columns))) * 2, height: SMALL.height };
      const gap = columns === 2 && !isPort(span) ? ARROW : 0;
      const geometry = place(
        span,
        large ? "large" : "small",
        right ? secondColumn : left,
        at,
        cell,
        inRow,
        gap,
      );
      bottom = Math.max(bottom, at + rowsOf(span, columns) * ROW);
      return geometry;
    });
    y = bottom + GROUP_GAP;
    const width = Math.max(...spans.map(({ rect }) => rect.x + rect.width)) - PAD;
    const height = bottom - top - (ROW - CELL.height);
    return {
      id: group.id,
      name: group.name,
      kind: group.kind,
      label: { x: PAD, y: top, width: LABEL, height },
      rect: { x: PAD, y: top, width, height },
      spans,
    };
  });
  const content = Math.max(0, ...placed.map(({ rect }) => rect.x + rect.width));
  const width = toGrid(Math.max(LEAST_WIDTH, content + PAD));
  return {
    type,
    form: columns === 2 ? "wide" : "narrow",
    width,
    height: toGrid(y - GROUP_GAP + 8),
    header: { x: 0, y: 0, width, height: HEADER },
    groups: placed,
  };
}

const isPort = (span: Span): boolean => span.side === "receive" || span.side === "send";

function wayOf(span: Span): "in" | "out" | null {
  if (span.side === "bus") return null;
  if (span.side === "jack") return span.bank.direction;
  return span.side === "receive" ? "in" : "out";
}

function place(
  span: Span,
  size: SpanGeometry["size"],
  x: number,
  y: number,
  cell: Size,
  inRow: number,
  middleGap: number,
): SpanGeometry {
  const stacked = size === "small" ? 2 : 1;
  const columns = Math.ceil(Math.min(span.count, inRow) / stacked);
  const rows = Math.ceil(span.count / inRow);
  const half = inRow / stacked / 2;
  const width = columns * cell.width + (middleGap > 0 && columns > half ? middleGap : 0);
  const way = wayOf(span);
  return {
    span,
    size,
    x,
    y,
    cell,
    perRow: inRow,
    middleGap,
    rect: { x, y, width, height: rows * ROW - (ROW - CELL.height) },
    arrow: way === null ? null : { x: x - ARROW, y, width: ARROW, height: CELL.height, way },
  };
}

/** The cell of a terminal. `number` counts from 1 within the span. */
export function cellRect(geometry: SpanGeometry, number: number): Rect {
  const { x, y, cell, perRow: inRow, middleGap, size } = geometry;
  const index = number - 1;
  const row = Math.floor(index / inRow);
  const inThisRow = index - row * inRow;
  const stacked = size === "small" ? 2 : 1;
  const column = Math.floor(inThisRow / stacked);
  const gap = middleGap > 0 && column >= inRow / stacked / 2 ? middleGap : 0;
  return {
    x: x + column * cell.width + gap,
    y: y + row * ROW + (stacked === 2 ? (inThisRow % 2) * cell.height : 0),
    width: cell.width,
    height: cell.height,
  };
}

/** An unbroken stretch of a row, and the numbers of the cells in it. */
export interface Stretch {
  readonly first: number;
  readonly last: number;
  readonly rect: Rect;
}

/** Neighbouring cells, cut where a row ends or leaves its middle free. */
export function stretchesOf(geometry: SpanGeometry, first: number, last: number): readonly Stretch[] {
  const stretches: Stretch[] = [];
  const { perRow: inRow, middleGap } = geometry;
  const longest = middleGap > 0 ? inRow / 2 : inRow;
  for (let start = first; start <= last;) {
    const end = Math.min(last, Math.ceil(start / longest) * longest);
    const from = cellRect(geometry, start);
    const to = cellRect(geometry, end);
    const y = geometry.y + Math.floor((start - 1) / inRow) * ROW;
    const rect = { x: from.x, y, width: to.x + to.width - from.x, height: CELL.height };
    stretches.push({ first: start, last: end, rect });
    start = end + 1;
  }
  return stretches;
}

/** What neighbouring cells cover. */
export const runRects = (geometry: SpanGeometry, first: number, last: number): readonly Rect[] =>
  stretchesOf(geometry, first, last).map(({ rect }) => rect);

/** The span's blocks as the type has them, first to last, whatever the mode cuts. */
export function spanBlocks(span: Span): readonly { readonly first: number; readonly last: number }[] {
  const size = Math.max(1, spanBlock(span));
  const blocks: { first: number; last: number }[] = [];
  for (let first = 1; first <= span.count; first += size)
    blocks.push({ first, last: Math.min(span.count, first + size - 1) });
  return blocks;
}

const inside = (rect: Rect, x: number, y: number): boolean =>
  x >= rect.x && x < rect.x + rect.width && y >= rect.y && y < rect.y + rect.height;

/** What stands at a point of a node: a group, and the terminal's span and number where it is on a cell. */
export function hitNode(
  geometry: NodeGeometry,
  x: number,
  y: number,
): {
  readonly group: GroupGeometry;
  readonly cell: { readonly at: SpanGeometry; readonly number: number } | null;
} | null {
  for (const group of geometry.groups) {
    if (!inside({ ...group.rect, height: group.rect.height + (ROW - CELL.height) }, x, y)) continue;
    for (const at of group.spans) {
      if (!inside({ ...at.rect, height: at.rect.height + (ROW - CELL.height) }, x, y)) continue;
      const number = numberAt(at, x, y);
      if (number !== null) return { group, cell: { at, number } };
    }
    return { group, cell: null };
  }
  return null;
}

function numberAt(at: SpanGeometry, x: number, y: number): number | null {
  const stacked = at.size === "small" ? 2 : 1;
  const row = Math.floor((y - at.y) / ROW);
  const half = (at.perRow / stacked / 2) * at.cell.width;
  let along = x - at.x;
  if (at.middleGap > 0 && along >= half) along = Math.max(half, along - at.middleGap);
  const column = Math.floor(along / at.cell.width);
  const under = stacked === 2 && y - at.y - row * ROW >= at.cell.height ? 1 : 0;
  const index = row * at.perRow + column * stacked + under;
  return index >= 0 && index < at.span.count ? index + 1 : null;
}

/**
 * Where a cable plugged in a port, or in `ways` jacks from `first` on, may leave the node. A port leaves at its own
 * row, left or right; jacks also up or down at their own column, since many of them share a row.
 */
export function anchorsOf(type: DeviceType, group: GroupId, first: number, ways: number): readonly Anchor[] {
  const geometry = nodeGeometry(type);
  const found = geometry.groups.find(({ id }) => id === group);
  const at = found?.spans[0];
  if (!found || !at) return middleAnchors(geometry);
  const { width, height } = geometry;
  if (found.kind !== "bank" || at.span.side !== "jack") {
    const y = found.rect.y + found.rect.height / 2;
    return [
      { side: "left", x: 0, y },
      { side: "right", x: width, y },
    ];
  }
  const { perJack } = at.span.bank;
  const last = Math.min(at.span.count, Math.max(1, (first + ways - 1) * perJack));
  const from = cellRect(at, Math.min(last, Math.max(1, (first - 1) * perJack + 1)));
  const to = cellRect(at, last);
  const many = from.y !== to.y;
  const middle = many ? at.rect.x + at.rect.width / 2 : (from.x + to.x + to.width) / 2;
  // Cables of one row leave a little apart, by column to the sides and by row upwards and downwards.
  const spread = many || geometry.form === "compact" ? 0 : ((middle - at.rect.x) / at.rect.width - 0.5) * 16;
  const tier = (Math.round((from.y - HEADER) / ROW) % 3) - 1;
  const compactShift = geometry.form === "compact" ? (at.span.bank.direction === "in" ? -5 : 5) : 0;
  const y = (from.y + to.y + to.height) / 2 + spread + compactShift;
  const x = middle + (geometry.form === "compact" ? 0 : tier * 6);
  return [
    { side: "left", x: 0, y },
    { side: "right", x: width, y },
    { side: "bottom", x, y: height },
    { side: "top", x, y: 0 },
  ];
}

/** For a cable whose group the type no longer has: it still hangs on the device. */
const middleAnchors = ({ width, height }: NodeGeometry): readonly Anchor[] => [
  { side: "left", x: 0, y: height / 2 },
  { side: "right", x: width, y: height / 2 },
];
