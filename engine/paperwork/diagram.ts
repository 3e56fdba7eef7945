/**
 * The signal-flow diagram of the whole rig on one sheet, as the user arranged it. Rendered from the model, never from
 * the screen: the same show and date give the same bytes.
 */
import type { Analysis } from "../analysis.ts";
import {
  nodeGeometry,
  runRects,
  type NodeGeometry,
  type Rect,
  type SpanGeometry,
} from "../layout/geometry.ts";
import { roundedPath } from "../layout/router/path.ts";
import { routeScene } from "../layout/router/router.ts";
import type { Route } from "../layout/router/scene.ts";
import { sceneOf } from "../layout/scene.ts";
import { BOLD, fitted, fittedLabel, textWidth } from "../layout/text.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Device, Paper, Point } from "../model/show.ts";
import { rateName } from "../model/units.ts";
import { blocksOf, ownerIndex, outputJacks, type Block } from "../trace/owners.ts";
import type { PluggedCable } from "../wiring/plugs.ts";
import { Edge } from "../wiring/wiring.ts";
import { hatchPath } from "./hatch.ts";
import { hatchOf, OWNER_COLOURS, ownerMarks, type OwnerMark } from "./owner-marks.ts";
import { element, escaped, text } from "./svg.ts";

/** Sheets lying on their long side, in millimetres: ISO 216, and ANSI/ASME Y14.1 for Letter and Tabloid. */
export const SHEETS: Readonly<Record<Paper, { readonly width: number; readonly height: number }>> = {
  A4: { width: 297, height: 210 },
  A3: { width: 420, height: 297 },
  Letter: { width: 279.4, height: 215.9 },
  Tabloid: { width: 431.8, height: 279.4 },
};

/** Type sizes in points. */
const NAME = 8;
const TAG = 6.5;
const DETAIL = 5;
/** Points between the lines of a hatch. */
const HATCH = 2.6;

const MARGIN = 9;
const TITLE = 17;
/** Millimetres of a printer's point. */
const PT = 25.4 / 72;

/** Ink on white: the light scheme's colours, which are the colour-blind-safe ones of the screen. */
const COLOURS: readonly { readonly fill: string; readonly ink: string; readonly edge: string }[] = [
  { fill: "#0072b2", ink: "#ffffff", edge: "#00659e" },
  { fill: "#e69f00", ink: "#191d20", edge: "#9a6700" },
  { fill: "#00976d", ink: "#04140e", edge: "#007a58" },
  { fill: "#cc79a7", ink: "#1f0c16", edge: "#a8487c" },
  { fill: "#d55e00", ink: "#180a00", edge: "#b34f00" },
  { fill: "#56b4e9", ink: "#06141d", edge: "#2279ac" },
  { fill: "#d8c800", ink: "#191700", edge: "#7b7100" },
  { fill: "#6d7479", ink: "#ffffff", edge: "#5a6166" },
];
const INK = "#191d20";
const SOFT = "#4f575d";
const LINE = "#9aa2a6";

interface Sheet {
  readonly analysis: Analysis;
  readonly owners: ReadonlyMap<DeviceId, OwnerMark>;
  /** Canvas units that make a point of type on the sheet. */
  readonly point: number;
}

/** The sheet as a page of its own, for a host to print. No script, nothing from elsewhere. */
export function diagramHtml(analysis: Analysis, date: string): string {
  const { paper } = analysis.show.settings;
  const { width, height } = SHEETS[paper];
  const style = `@page{size:${width}mm ${height}mm;margin:0}html,body{margin:0;padding:0;background:#fff}svg{display:block;width:${width}mm;height:${height}mm}`;
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${escaped(analysis.show.title)}: signal flow</title><style>${style}</style></head><body>${diagramSvg(analysis, date)}</body></html>\n`;
}

/** The sheet as SVG, lying, in the show's paper size. `date` is printed as it stands. */
export function diagramSvg(analysis: Analysis, date: string): string {
  const { show } = analysis;
  const { width, height } = SHEETS[show.settings.paper];
  const scene = sceneOf(show);
  const { routes } = routeScene(scene);
  const area = { x: MARGIN, y: MARGIN, width: width - 2 * MARGIN, height: height - 2 * MARGIN - TITLE };
  const drawn = bounds([
    ...show.places.map(({ at, size }) => ({ ...at, ...size })),
    ...scene.boxes,
    ...[...routes.values()].flatMap(({ points }) =>
      points.map((point) => ({ ...point, width: 0, height: 0 })),
    ),
  ]);
  const scale = Math.min(area.width / drawn.width, area.height / drawn.height);
  const marks = ownerMarks(show);
  const sheet: Sheet = {
    analysis,
    owners: new Map(marks.map((mark) => [mark.device, mark])),
    point: PT / scale,
  };
  const left = area.x + (area.width - drawn.width * scale) / 2 - drawn.x * scale;
  const top = area.y + (area.height - drawn.height * scale) / 2 - drawn.y * scale;
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width: `${width}mm`,
      height: `${height}mm`,
      viewBox: `0 0 ${width} ${height}`,
      "font-family": "Inter, 'Liberation Sans', Arial, Helvetica, sans-serif",
      fill: INK,
    },
    element("title", {}, escaped(`${show.title}: signal flow`)),
    element("rect", { x: 0, y: 0, width, height, fill: "#fff" }),
    element(
      "g",
      { transform: `translate(${left.toFixed(3)} ${top.toFixed(3)}) scale(${scale.toFixed(6)})` },
      ...show.places.map((place) => placeSvg(sheet, place.name, { ...place.at, ...place.size })),
      ...analysis.wiring.plugs.cables.map((plugged) => wireSvg(sheet, plugged, routes.get(plugged.cable.id))),
      ...show.devices.map((device) => deviceSvg(sheet, device)),
      tagsSvg(sheet, routes, [...scene.boxes, ...(scene.quiet ?? [])]),
    ),
    titleBlock(sheet, marks, date, {
      x: MARGIN,
      y: height - MARGIN - TITLE + 2,
      width: width - 2 * MARGIN,
      height: TITLE - 2,
    }),
  );
}

function bounds(rects: readonly Rect[]): Rect {
  if (rects.length === 0) return { x: 0, y: 0, width: 100, height: 100 };
  const x = Math.min(...rects.map((rect) => rect.x));
  const y = Math.min(...rects.map((rect) => rect.y));
  const right = Math.max(...rects.map((rect) => rect.x + rect.width));
  const bottom = Math.max(...rects.map((rect) => rect.y + rect.height));
  return { x, y, width: Math.max(right - x, 1), height: Math.max(bottom - y, 1) };
}

const colourOf = ({ index }: OwnerMark): (typeof COLOURS)[number] => COLOURS[index % OWNER_COLOURS]!;

/** A rectangle in an owner's colour and hatch. */
function ownedRect({ point }: Sheet, mark: OwnerMark, rect: Rect): string {
  const { fill, ink } = colourOf(mark);
  const lines = hatchPath(hatchOf(mark.index), rect, HATCH * point);
  const hatch = { d: lines, stroke: ink, "stroke-opacity": 0.7, "stroke-width": 0.45 * point, fill: "none" };
  return element("rect", { ...rect, fill }) + (lines === "" ? "" : element("path", hatch));
}

function placeSvg({ point }: Sheet, name: string, { x, y, width, height }: Rect): string {
  return (
    element("rect", { x, y, width, height, rx: 8, fill: "#f4f5f5", stroke: LINE, "stroke-width": 1.5 }) +
    text(fitted(name, NAME * point, width - 24), {
      x: x + 12,
      y: y + 10 * point,
      "font-size": NAME * point,
      fill: SOFT,
    })
  );
}

/** A link is drawn in ink, since it carries several owners; an analogue cable in its owner's colour. */
function wireSvg(sheet: Sheet, plugged: PluggedCable, route: Route | undefined): string {
  if (!route) return "";
  const { cable } = plugged;
  const owner = looseOwner(sheet, plugged);
  const stroke = owner ? colourOf(owner).edge : INK;
  const isLink = owner === null;
  return element("path", {
    d: roundedPath(route.points),
    fill: "none",
    stroke,
    "stroke-width": isLink ? 4 : 2.5,
    "stroke-dasharray": cable.kind === "coax-75" ? "14 7" : undefined,
  });
}

/** The one owner of all that a jack cable carries; null for links, and where it has none or several. */
function looseOwner(
  { analysis: { wiring, arrivals }, owners }: Sheet,
  { cable, join }: PluggedCable,
): OwnerMark | null {
  if (join.kind !== "jacks") return null;
  const { to } = join;
  const span = to.device.fabric.layout.sources.get(to.bank.id)!;
  const found = new Set<number>();
  for (let n = 0; n < cable.ways * to.bank.perJack; n++) {
    const terminal = to.device.base + span.start + (to.first - 1) * to.bank.perJack + n;
    if (wiring.edge[terminal] === Edge.cable) found.add(ownerIndex(wiring, arrivals, terminal));
  }
  const [only] = found;
  if (found.size !== 1 || only === undefined || only < 0) return null;
  return owners.get(wiring.devices[only]!.device.id) ?? null;
}

/**
 * The cables' tags, each on the longest stretch of its cable that has room: off the devices, off the places' names and
 * off the tags before it. A tag that finds none is left out rather than printed over something.
 */
function tagsSvg(sheet: Sheet, routes: ReadonlyMap<string, Route>, taken: readonly Rect[]): string {
  const size = TAG * sheet.point;
  const placed: Rect[] = [...taken];
  return sheet.analysis.show.cables
    .map((cable) => {
      const route = routes.get(cable.id);
      if (!route || cable.tag === "") return "";
      const tag = { width: textWidth(cable.tag, size) + 0.6 * size, height: 1.2 * size };
      const at = tagPlaces(route.points, tag).find((rect) => !placed.some((other) => overlap(rect, other)));
      if (!at) return "";
      placed.push(at);
      const box = element("rect", { ...at, rx: 3, fill: "#fff", "fill-opacity": 0.92 });
      const middle = { x: at.x + at.width / 2, y: at.y + 0.95 * size };
      return box + text(cable.tag, { ...middle, "font-size": size, "text-anchor": "middle" });
    })
    .join("");
}

const overlap = (a: Rect, b: Rect): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** Where a tag could stand: along the longest stretches first, at their middles first. */
function tagPlaces(points: readonly Point[], { width, height }: Pick<Rect, "width" | "height">): Rect[] {
  const stretches = points.slice(1).map((to, n) => ({ from: points[n]!, to }));
  const long = ({ from, to }: (typeof stretches)[number]): number =>
    Math.abs(to.x - from.x) + Math.abs(to.y - from.y);
  return stretches
    .filter((stretch) => long(stretch) > (stretch.from.y === stretch.to.y ? width : height))
    .sort((a, b) => long(b) - long(a))
    .flatMap(({ from, to }) =>
      [0.5, 0.35, 0.65, 0.2, 0.8].map((along) => ({
        x: from.x + along * (to.x - from.x) - width / 2,
        y: from.y + along * (to.y - from.y) - height / 2,
        width,
        height,
      })),
    );
}

function deviceSvg(sheet: Sheet, device: Device): string {
  const { wiring } = sheet.analysis;
  const wired = wiring.devices[wiring.indexOf.get(device.id)!];
  const at = { transform: `translate(${device.at.x} ${device.at.y})` };
  if (!wired) {
    const box = {
      width: 160,
      height: 80,
      fill: "#fff",
      stroke: INK,
      "stroke-width": 2,
      "stroke-dasharray": "6 4",
    };
    const name = fitted(device.name, 7 * sheet.point, 144);
    return element("g", at, element("rect", box), text(name, { x: 8, y: 30, "font-size": 7 * sheet.point }));
  }
  const { type } = wired.fabric.layout;
  const geometry = nodeGeometry(type);
  const { width, height } = geometry;
  const owner = sheet.owners.get(device.id);
  return element(
    "g",
    at,
    element("rect", {
      width,
      height,
      rx: 6,
      fill: "#fff",
      stroke: INK,
      "stroke-width": type.category === "console" ? 4 : 2,
    }),
    headSvg(sheet, geometry, device, wired.fabric.mode?.name ?? device.mode, type.modes.length > 1, owner),
    ...geometry.groups.map((group) =>
      element(
        "g",
        {},
        ...group.spans.map((span) => spanSvg(sheet, wired, span)),
        text(fittedLabel(group.name, DETAIL * sheet.point, group.label.width + 8), {
          x: group.label.x - 6,
          y: group.label.y + group.label.height / 2 + 0.36 * DETAIL * sheet.point,
          "font-size": DETAIL * sheet.point,
          fill: SOFT,
        }),
      ),
    ),
  );
}

function headSvg(
  sheet: Sheet,
  { width, header }: NodeGeometry,
  device: Device,
  mode: string,
  hasModes: boolean,
  owner: OwnerMark | undefined,
): string {
  const { point } = sheet;
  const room = width - 16 - (owner ? 26 : 0);
  // A small device's name is set smaller before it is cut.
  const name = [NAME, 7, 6].find((size) => textWidth(device.name, size * point) * BOLD <= room) ?? 6;
  const badge = owner
    ? ownedRect(sheet, owner, { x: width - 30, y: 8, width: 22, height: 22 }) +
      element("rect", { x: width - 26, y: 11, width: 14, height: 16, fill: colourOf(owner).fill }) +
      text(owner.letter, {
        x: width - 19,
        y: 25,
        "font-size": 16,
        "font-weight": 700,
        "text-anchor": "middle",
        fill: colourOf(owner).ink,
      })
    : "";
  const detail = hasModes
    ? text(fitted(mode, DETAIL * point, room), {
        x: 8,
        y: header.height - 6,
        "font-size": DETAIL * point,
        fill: SOFT,
      })
    : "";
  return (
    text(fitted(device.name, name * point * BOLD, room), {
      x: 8,
      y: 3 + name * point,
      "font-size": name * point,
      "font-weight": 700,
    }) +
    detail +
    badge
  );
}

/** A span's blocks: filled and lettered by owner, grey where a signal comes straight from sources, empty where none. */
function spanSvg(sheet: Sheet, wired: Parameters<typeof blocksOf>[2], geometry: SpanGeometry): string {
  const { wiring, arrivals } = sheet.analysis;
  return blocksOf(wiring, arrivals, wired, geometry.span)
    .map((block) => blockSvg(sheet, geometry, block))
    .join("");
}

function blockSvg(sheet: Sheet, geometry: SpanGeometry, block: Block): string {
  const { owners, point } = sheet;
  const marks = block.owners.flatMap((owner) => owners.get(owner) ?? []);
  return runRects(geometry, block.first, block.last)
    .map((rect) => {
      const { x, y, width, height } = rect;
      const ground = element("rect", { ...rect, fill: block.fed > 0 ? "#d6dadb" : "#fff" });
      const frame = element("rect", { ...rect, fill: "none", stroke: INK, "stroke-width": 1 });
      const share = width / Math.max(marks.length, 1);
      const filled = marks.map((mark, n) =>
        ownedRect(sheet, mark, { x: x + n * share, y, width: share, height }),
      );
      const size = Math.min(6 * point, height - 3);
      const letters = marks.map((mark, n) => {
        const middle = x + (n + 0.5) * share;
        const wide = textWidth(mark.letter, size) + 4;
        if (wide > share) return "";
        return (
          element("rect", {
            x: middle - wide / 2,
            y: y + 1.5,
            width: wide,
            height: height - 3,
            fill: colourOf(mark).fill,
          }) +
          text(mark.letter, {
            x: middle,
            y: y + height / 2 + 0.36 * size,
            "font-size": size,
            "font-weight": 700,
            "text-anchor": "middle",
            fill: colourOf(mark).ink,
          })
        );
      });
      return ground + filled.join("") + letters.join("") + frame;
    })
    .join("");
}

/** What it is, of when, whose colours are whose, and what it doesn't promise. */
function titleBlock(sheet: Sheet, marks: readonly OwnerMark[], date: string, at: Rect): string {
  const { show, wiring, arrivals } = sheet.analysis;
  const jacks = new Map<number, number>();
  for (const wired of wiring.devices) {
    for (const { span, first } of wired ? outputJacks(wired) : []) {
      for (let terminal = first; terminal < first + span.count; terminal++) {
        const owner = ownerIndex(wiring, arrivals, terminal);
        jacks.set(owner, (jacks.get(owner) ?? 0) + 1);
      }
    }
  }
  const revision = show.revisions.at(-1);
  const facts = [
    show.venue,
    revision ? `revision ${revision.name}, ${revision.date}` : "no revision",
    rateName(show.settings.sampleRate),
    `printed ${date}`,
    "page 1 of 1",
  ].filter(Boolean);
  const parts = [
    element("line", { x1: at.x, y1: at.y, x2: at.x + at.width, y2: at.y, stroke: INK, "stroke-width": 0.3 }),
    text(fitted(`${show.title}: signal flow`, 14 * PT, at.width * 0.45), {
      x: at.x,
      y: at.y + 6,
      "font-size": 14 * PT,
      "font-weight": 700,
    }),
    text(fitted(facts.join("  ·  "), 8 * PT, at.width * 0.5), {
      x: at.x,
      y: at.y + 10.5,
      "font-size": 8 * PT,
      fill: SOFT,
    }),
    text(CAUTION, { x: at.x, y: at.y + 14.4, "font-size": 7 * PT, fill: SOFT }),
  ];
  let x = at.x + at.width;
  for (const mark of [...marks].reverse()) {
    const count = jacks.get(wiring.indexOf.get(mark.device)!) ?? 0;
    const name = `${mark.name}, ${count} ${count === 1 ? "jack" : "jacks"}`;
    const wide = textWidth(name, 9 * PT) + 9;
    if (x - wide < at.x + at.width * 0.5) break;
    x -= wide;
    const { fill, ink } = colourOf(mark);
    const swatch = { x, y: at.y + 2.5, width: 5.5, height: 4.5 };
    // The title block is drawn in millimetres, so a point is a point here.
    parts.push(
      ownedRect({ ...sheet, point: PT }, mark, swatch),
      element("rect", { x: x + 1.4, y: at.y + 2.9, width: 2.7, height: 3.7, fill }),
      element("rect", { ...swatch, fill: "none", stroke: INK, "stroke-width": 0.2 }),
      text(mark.letter, {
        x: x + 2.75,
        y: at.y + 6,
        "font-size": 9 * PT,
        "font-weight": 700,
        "text-anchor": "middle",
        fill: ink,
      }),
      text(name, { x: x + 6.5, y: at.y + 6, "font-size": 9 * PT }),
    );
  }
  return element("g", {}, ...parts);
}

const CAUTION =
  "Before re-patching a live rig: mute and turn down the destination, in-ears out of ears, bring up slowly. A plan, not a statement that the rig is safe.";
