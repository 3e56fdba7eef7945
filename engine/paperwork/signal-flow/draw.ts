/** The signal-flow diagram as a sheet: what was laid out, drawn on pages with head, legend and foot. */
import { roundedPath } from "../../layout/router/path.ts";
import type { Point } from "../../model/show.ts";
import { furnished, FOOT, HEAD, legendHeight, MARGIN, marksOf, type Face } from "../furniture.ts";
import type { OwnerMark } from "../owner-marks.ts";
import {
  INK,
  LINE,
  ON_STAGE,
  PALE,
  pageSize,
  PT,
  SMALLEST,
  SOFT,
  type Page,
  type PageSize,
  type PaperJob,
  type Sheet,
} from "../page.ts";
import { inkOf, line, ownerMark } from "../pen.ts";
import { element } from "../svg.ts";
import { fitMiddle, paperWidth, wrapped } from "../type.ts";
import type { Link } from "./items.ts";
import type { PlacedCable, PlacedGraph, PlacedPage, PlacedShape } from "./pages.ts";
import { planOf, type DiagramChoice, type DiagramPlan } from "./plan.ts";
import { ARROW, type Piece, type Stub } from "./shape.ts";

/** Below the diagram: what its signs mean. */
const KEY_LINE = 4;
/** A diagram that leaves much of the page empty is drawn larger. */
const LARGEST = 1.4;

const CAUTION =
  "Before re-patching a live rig: mute and turn down the destination, in-ears out of ears, bring up slowly. A plan, not a statement that the rig is safe.";

/** What a signal-flow diagram is laid out from: hand it to `layOutDiagram`, and what comes of that to `diagramSheet`. */
export function diagramGraph(job: PaperJob, choice: DiagramChoice): DiagramPlan {
  const size = pageSize(job.paper, "lying");
  const keys = keyLines(size.width - 2 * MARGIN, choice.scope.kind === "jack").length;
  const top = HEAD + legendHeight(faceOf(job, null, size));
  const height = size.height - FOOT - top - keys * KEY_LINE - 3;
  return planOf(job.analysis, choice, { width: size.width - 2 * MARGIN, height });
}

/** Room for the legend is kept for all owners of the show, so that it doesn't depend on what is laid out where. */
const faceOf = (job: PaperJob, plan: DiagramPlan | null, size: PageSize): Face => ({
  size,
  title: plan?.title ?? "",
  note: plan ? noteOf(job, plan) : "",
  owners: [...marksOf(job).values()],
});

/** `12 of 50 devices, 14 of 53 cables, as arranged on the canvas`: how much of the rig stands on the sheet. */
function noteOf({ analysis: { show } }: PaperJob, { items, links, arrangement, notes }: DiagramPlan): string {
  const devices = items.reduce((sum, item) => sum + item.devices.length, 0);
  const of = (some: number, all: number, name: string): string =>
    `${some === all ? "" : `${some} of `}${all} ${name}${all === 1 ? "" : "s"}`;
  return [
    of(devices, show.devices.length, "device"),
    of(links.length, show.cables.length, "cable"),
    ...(arrangement === "canvas" ? ["as arranged on the canvas"] : []),
    ...notes,
  ].join(", ");
}

/** `id`: of the sheet, within the show. */
export function diagramSheet(job: PaperJob, id: string, { plan, pages }: PlacedGraph): Sheet {
  const size = pageSize(job.paper, "lying");
  const face = faceOf(job, plan, size);
  const names = shortenedOn(pages);
  const listed = listPages(
    [
      ...plan.feeds,
      { title: "Names in full", rows: names.map(({ short, whole }) => [short, whole] as const) },
      {
        title: "Cables plugged in nothing that the show has",
        rows: looseOf(plan).map(({ tag, about }) => [tag, about] as const),
      },
    ],
    size,
    HEAD + legendHeight(face),
  );
  const bodies = [
    ...pages.map((page) => ({ body: pageBody(plan, page, face), assumed: assumedOn(page) })),
    ...listed.map((body) => ({ body, assumed: 0 })),
  ];
  if (bodies.length === 0) bodies.push({ body: emptyBody(plan, face), assumed: 0 });
  return {
    id,
    title: plan.title,
    pages: bodies.map(({ body, assumed }, n): Page => ({
      ...size,
      svg: furnished(job, face, { number: n + 1, of: bodies.length, assumed }, body),
    })),
    tables: [
      {
        title: "Names in full",
        columns: [{ title: "On the diagram" }, { title: "In full" }],
        rows: names.map(({ short, whole }) => ({ cells: [short, whole] })),
        empty: "No name was shortened.",
      },
      ...plan.feeds.map(({ title, rows }) => ({
        title,
        columns: [{ title: "Takes" }, { title: "What comes there" }],
        rows: rows.map((cells) => ({ cells })),
        empty: "Nothing goes into it.",
      })),
    ],
  };
}

const assumedOn = ({ shapes }: PlacedPage): number =>
  shapes.reduce((sum, { shape }) => sum + shape.assumed, 0);

function emptyBody({ notes }: DiagramPlan, face: Face): string {
  const top = HEAD + legendHeight(face);
  const words = notes.length > 0 ? notes : ["There is nothing to show here."];
  return words.map((note, n) => line(note, MARGIN, top + 6 + n * 5, { points: ON_STAGE })).join("");
}

/** Where the diagram's points come on the page, and how large. */
interface Frame {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
  readonly owners: ReadonlyMap<number, OwnerMark>;
}

function pageBody(plan: DiagramPlan, page: PlacedPage, face: Face): string {
  const { area } = plan;
  const top = HEAD + legendHeight(face);
  // A box too large for any page is drawn smaller rather than cut.
  const scale = Math.min(LARGEST, area.width / page.width, area.height / page.height);
  const frame: Frame = {
    x: MARGIN + (area.width - page.width * scale) / 2,
    y: top + 1 + (area.height - page.height * scale) / 2,
    scale,
    owners: plan.owners,
  };
  const keys = keyLines(area.width, plan.feeds.length > 0);
  const bottom = face.size.height - FOOT - (keys.length - 1) * KEY_LINE - 1.5;
  return element(
    "g",
    {},
    ...page.cables.map((cable) => cableSvg(frame, cable)),
    ...page.shapes.map((shape) => shapeSvg(frame, shape, plan)),
    ...keys.map((entries, n) => keySvg(entries, bottom + n * KEY_LINE)),
  );
}

const put = ({ x, y, scale }: Frame, at: Point): Point => ({ x: x + at.x * scale, y: y + at.y * scale });

const THICK = 0.55;
const THIN = 0.35;

function styleOf({ owners, scale }: Frame, link: PlacedCable["link"]): { stroke: string; width: number } {
  const owner = owners.get(link.owner);
  return { stroke: owner ? inkOf(owner).edge : INK, width: (link.isLink ? THICK : THIN) * scale };
}

function cableSvg(frame: Frame, { link, points }: PlacedCable): string {
  const { stroke, width } = styleOf(frame, link);
  return element("path", {
    d: roundedPath(
      points.map((point) => put(frame, point)),
      0.8 * frame.scale,
    ),
    fill: "none",
    stroke,
    "stroke-width": width,
  });
}

function shapeSvg(frame: Frame, { shape, at }: PlacedShape, plan: DiagramPlan): string {
  const { scale } = frame;
  const { item, box, rules, pieces, stubs } = shape;
  const corner = put(frame, { x: at.x + box.x, y: at.y + box.y });
  const size = { width: box.width * scale, height: box.height * scale };
  const links = new Map(plan.links.map((link) => [link.cable, link]));
  return element(
    "g",
    {},
    ...stubs.map((stub) => stubSvg(frame, at, stub, links.get(stub.plug.cable)!)),
    element("rect", {
      ...corner,
      ...size,
      rx: 0.8,
      fill: "#fff",
      stroke: INK,
      "stroke-width": (item.isConsole ? 0.7 : 0.35) * scale,
      "stroke-dasharray": item.dashed ? "1.5 1" : undefined,
    }),
    ...rules.map((y) => {
      const from = put(frame, { x: at.x + box.x, y: at.y + y });
      return element("line", {
        x1: from.x,
        y1: from.y,
        x2: from.x + size.width,
        y2: from.y,
        stroke: LINE,
        "stroke-width": 0.2 * scale,
      });
    }),
    ...pieces.map((piece) => pieceSvg(frame, at, piece)),
  );
}

function pieceSvg(frame: Frame, at: Point, piece: Piece): string {
  const { x, y } = put(frame, { x: at.x + piece.x, y: at.y + piece.y });
  const { scale } = frame;
  switch (piece.kind) {
    case "text":
      return line(piece.text, x, y, {
        points: piece.points * scale,
        bold: piece.bold,
        fill: piece.soft ? SOFT : INK,
      });
    case "owner":
      return ownerMark(frame.owners.get(piece.owner)!, x, y, piece.points * scale);
    default:
      return plainMark(piece.kind, x, y, piece.width * scale, scale);
  }
}

/** Straight from sources: grey, with a dot. Nothing arrives: white, struck through. Neither has a letter. */
function plainMark(kind: "sources" | "nothing", x: number, y: number, width: number, scale: number): string {
  const height = 1.2 * SMALLEST * PT * scale;
  const rect = { x, y: y - 0.95 * SMALLEST * PT * scale, width, height };
  const frame = { stroke: SOFT, "stroke-width": 0.2 * scale };
  if (kind === "sources")
    return (
      element("rect", { ...rect, fill: "#d6dadb", ...frame }) +
      element("circle", { cx: x + width / 2, cy: rect.y + height / 2, r: 0.6 * scale, fill: INK })
    );
  return (
    element("rect", { ...rect, fill: "#fff", ...frame }) +
    element("line", { x1: x, y1: rect.y + height, x2: x + width, y2: rect.y, ...frame })
  );
}

/** The cable through the strip beside its box, with an arrow where signals come in, and a flag where it goes on elsewhere. */
function stubSvg(frame: Frame, at: Point, stub: Stub, link: PlacedCable["link"]): string {
  const { scale } = frame;
  const { stroke, width } = styleOf(frame, link);
  const west = stub.side === "west";
  const box = put(frame, { x: at.x + stub.box, y: at.y + stub.y });
  // A marked cable ends with its words, not at the far side of the strip.
  const edge = put(frame, { x: at.x + stub.edge, y: at.y + stub.y });
  const out = west ? -1 : 1;
  const parts = [
    element("line", { x1: box.x, y1: box.y, x2: edge.x, y2: edge.y, stroke, "stroke-width": width }),
  ];
  const long = (ARROW - 0.6) * scale;
  const half = 0.75 * scale;
  const arrow = (tip: number, tail: number): string =>
    element("path", {
      d: `M${hundredth(tip)} ${hundredth(box.y)}L${hundredth(tail)} ${hundredth(box.y - half)}L${hundredth(tail)} ${hundredth(box.y + half)}Z`,
      fill: stroke,
    });
  if (link.into[stub.plug.end]) parts.push(arrow(box.x, box.x + out * long));
  // Of a cable that goes on elsewhere the other arrow would be out of sight.
  if (stub.marked && link.into[stub.plug.end === 0 ? 1 : 0]) parts.push(arrow(edge.x, edge.x - out * long));
  return parts.join("");
}

const hundredth = (value: number): number => Math.round(value * 100) / 100;

/** One sign of the key: how it is drawn at `x`, `y`, and how wide it is. */
interface KeyEntry {
  readonly width: number;
  readonly words: string;
  readonly sign: (x: number, y: number) => string;
  readonly signWidth: number;
}

const stroke = (x: number, y: number, width: number): string =>
  element("line", { x1: x, y1: y - 0.9, x2: x + 7, y2: y - 0.9, stroke: INK, "stroke-width": width });

const KEY: readonly Omit<KeyEntry, "width">[] = [
  {
    words: "straight from sources",
    signWidth: 4.2,
    sign: (x, y) => plainMark("sources", x, y, 4.2, 1),
  },
  { words: "nothing arrives", signWidth: 4.2, sign: (x, y) => plainMark("nothing", x, y, 4.2, 1) },
  { words: "link", signWidth: 7, sign: (x, y) => stroke(x, y, THICK) },
  {
    words: "jack cable, in the colour of its one owner",
    signWidth: 7,
    sign: (x, y) => stroke(x, y, THIN),
  },
  {
    words: "signal comes in",
    signWidth: 4,
    sign: (x, y) => element("path", { d: arrowPath(x, y), fill: INK }),
  },
  {
    words: "K3 → page 4: the cable goes on there, at the mark K3",
    signWidth: 0,
    sign: () => "",
  },
  { words: "sh.: shielded", signWidth: 0, sign: () => "" },
  { words: CAUTION, signWidth: 0, sign: () => "" },
];

const OPENED: Omit<KeyEntry, "width"> = {
  words: "Channel, Mix: what a console mixes for the jack, by name on the last page",
  signWidth: 0,
  sign: () => "",
};

const arrowPath = (x: number, y: number): string =>
  `M${hundredth(x + 3)} ${hundredth(y - 0.9)}L${hundredth(x)} ${hundredth(y - 1.65)}L${hundredth(x)} ${hundredth(y - 0.15)}Z`;

/** `opens`: mixes stand opened. */
function keyLines(room: number, opens: boolean): KeyEntry[][] {
  const lines: KeyEntry[][] = [];
  let used = Number.POSITIVE_INFINITY;
  for (const entry of opens ? [...KEY.slice(0, -1), OPENED, ...KEY.slice(-1)] : KEY) {
    const width = entry.signWidth + (entry.signWidth > 0 ? 1 : 0) + paperWidth(entry.words, SMALLEST) + 5;
    if (used + width - 5 > room) {
      lines.push([]);
      used = 0;
    }
    lines.at(-1)!.push({ ...entry, width });
    used += width;
  }
  return lines;
}

function keySvg(entries: readonly KeyEntry[], y: number): string {
  let x = MARGIN;
  return entries
    .map(({ sign, signWidth, words, width }) => {
      const start = x;
      x += width;
      return (
        sign(start, y) +
        line(words, start + signWidth + (signWidth > 0 ? 1 : 0), y, { points: SMALLEST, fill: SOFT })
      );
    })
    .join("");
}

interface Shortened {
  readonly short: string;
  readonly whole: string;
}

/** The texts that were shortened anywhere, each once. */
function shortenedOn(pages: readonly PlacedPage[]): readonly Shortened[] {
  const found = new Map<string, Shortened>();
  for (const { shapes } of pages)
    for (const { shape } of shapes)
      for (const each of shape.shortened) found.set(`${each.short}\n${each.whole}`, each);
  return [...found.values()].sort((a, b) => (a.short < b.short ? -1 : 1));
}

/** The cables that no box is shown for, at neither end. */
function looseOf({ items, links }: DiagramPlan): readonly Link[] {
  const plugged = new Set(
    items.flatMap(({ rows }) => rows.flatMap(({ plug }) => (plug ? [plug.cable] : []))),
  );
  return links.filter(({ cable }) => !plugged.has(cable));
}

interface List {
  readonly title: string;
  readonly rows: readonly (readonly [string, string])[];
}

const LIST_LINE = 4.4;

/** Pages of lists in two columns, each list under its title; none where there is nothing to list. */
function listPages(lists: readonly List[], size: PageSize, top: number): string[] {
  const left = 70;
  const room = size.width - 2 * MARGIN - left;
  const bottom = size.height - FOOT;
  const bodies: string[] = [];
  let y = bottom;
  const write = (svg: string): void => {
    bodies[bodies.length - 1] += svg;
  };
  for (const { title, rows } of lists) {
    let titled = false;
    for (const [short, whole] of rows) {
      const lines = wrapped(whole, ON_STAGE, room);
      const height = lines.length * LIST_LINE + 1.4;
      if (y + height + (titled ? 0 : 9) > bottom) {
        bodies.push("");
        y = top;
        titled = false;
      }
      if (!titled) {
        write(line(title, MARGIN, y + 6, { points: 12, bold: true }));
        y += 9;
        titled = true;
      }
      write(element("rect", { x: MARGIN, y, width: size.width - 2 * MARGIN, height: 0.1, fill: PALE }));
      write(
        line(fitMiddle(short, ON_STAGE, left - 4, true), MARGIN, y + 4, { points: ON_STAGE, bold: true }),
      );
      lines.forEach((words, n) =>
        write(line(words, MARGIN + left, y + 4 + n * LIST_LINE, { points: ON_STAGE })),
      );
      y += height;
    }
  }
  return bodies;
}
