/** What stands on every page around its body: which sheet it is, of which show and when, whose marks are whose. */
import { rateName } from "../model/units.ts";
import { ownerMarks, type OwnerMark } from "./owner-marks.ts";
import { INK, PAPER_FONT, SMALLEST, SOFT, type OwnerMarks, type PageSize, type PaperJob } from "./page.ts";
import { line, markWidth, ownerMark } from "./pen.ts";
import { element, escaped } from "./svg.ts";
import { fitMiddle, paperWidth } from "./type.ts";

export const MARGIN = 10;
/** Where the body may begin, and how much it leaves free below, in millimetres. */
export const HEAD = 25;
export const FOOT = 17;

const TITLE = 15;
const NOTE = 9;
const OWNER = 8;
const OWNER_LINE = 4.6;

/** What the furniture of all pages of a sheet says. */
export interface Face {
  readonly size: PageSize;
  readonly title: string;
  readonly note: string;
  /** Owners whose marks stand on the sheet. */
  readonly owners: readonly OwnerMark[];
}

export interface PageNumber {
  readonly number: number;
  readonly of: number;
  /** Values on the page that nobody has confirmed. */
  readonly assumed: number;
}

export const marksOf = ({ analysis }: PaperJob): OwnerMarks =>
  new Map(ownerMarks(analysis.show).map((mark) => [mark.device, mark]));

/** Millimetres that the owners' legend takes below the head. */
export function legendHeight(face: Face): number {
  const rows = legendRows(face).length;
  return rows === 0 ? 0 : rows * OWNER_LINE + 1;
}

/** A page: its body between head and foot. */
export const furnished = (job: PaperJob, face: Face, page: PageNumber, body: string): string =>
  barePage(
    face.size,
    `${job.analysis.show.title}: ${face.title}, page ${page.number} of ${page.of}`,
    head(job, face) + legend(face) + body + foot(job, face, page),
  );

/** A page without head and foot. */
export function barePage({ width, height }: PageSize, title: string, body: string): string {
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width: `${width}mm`,
      height: `${height}mm`,
      viewBox: `0 0 ${width} ${height}`,
      "font-family": PAPER_FONT,
      fill: INK,
    },
    element("title", {}, escaped(title)),
    element("rect", { x: 0, y: 0, width, height, fill: "#fff" }),
    body,
  );
}

function head({ analysis: { show } }: PaperJob, { size, title, note }: Face): string {
  const room = size.width - 2 * MARGIN;
  const right = MARGIN + room;
  const name = fitMiddle(show.title, NOTE, room * 0.4, true);
  const venue = fitMiddle(show.venue, NOTE, room * 0.4);
  const left = room - 6 - Math.max(paperWidth(name, NOTE, true), paperWidth(venue, NOTE));
  const points = [TITLE, 13, 11].find((each) => paperWidth(title, each, true) <= left) ?? 11;
  return (
    line(fitMiddle(title, points, left, true), MARGIN, MARGIN + 5, { points, bold: true }) +
    line(fitMiddle(note, NOTE, left), MARGIN, MARGIN + 10, { points: NOTE, fill: SOFT }) +
    line(name, right, MARGIN + 5, { points: NOTE, bold: true, anchor: "end" }) +
    line(venue, right, MARGIN + 10, { points: NOTE, fill: SOFT, anchor: "end" }) +
    rule(MARGIN + 12, size)
  );
}

interface LegendEntry {
  readonly mark: OwnerMark;
  readonly name: string;
  readonly width: number;
}

function legendRows({ owners, size }: Face): LegendEntry[][] {
  const room = size.width - 2 * MARGIN;
  const rows: LegendEntry[][] = [];
  let used = Infinity;
  for (const mark of owners) {
    const name = fitMiddle(mark.name, OWNER, 60);
    const width = markWidth(mark, OWNER) + 1.2 + paperWidth(name, OWNER) + 5;
    if (used + width > room) {
      rows.push([]);
      used = 0;
    }
    rows.at(-1)!.push({ mark, name, width });
    used += width;
  }
  return rows;
}

function legend(face: Face): string {
  return legendRows(face)
    .map((row, n) => {
      const y = HEAD + 2.6 + n * OWNER_LINE;
      let x = MARGIN;
      return row
        .map(({ mark, name, width }) => {
          const drawn =
            ownerMark(mark, x, y, OWNER) + line(name, x + markWidth(mark, OWNER) + 1.2, y, { points: OWNER });
          x += width;
          return drawn;
        })
        .join("");
    })
    .join("");
}

function foot(job: PaperJob, { size }: Face, { number, of, assumed }: PageNumber): string {
  const { show } = job.analysis;
  const revision = show.revisions.at(-1);
  const room = size.width - 2 * MARGIN;
  const y = size.height - MARGIN;
  const page = `page ${number} of ${of}`;
  const facts = [
    revision ? `revision ${revision.name}, ${revision.date}` : "no revision marked",
    `printed ${job.date}`,
    job.author,
    rateName(show.settings.sampleRate),
    show.settings.units === "metric" ? "lengths in metres" : "lengths in feet",
  ].filter(Boolean);
  return (
    rule(y - 4, size) +
    line(
      assumed === 0
        ? ""
        : `* ${assumed} assumed ${assumed === 1 ? "value" : "values"} on this page, to be confirmed`,
      MARGIN,
      y - 5,
      { points: SMALLEST },
    ) +
    line(fitMiddle(facts.join("  ·  "), SMALLEST, room - paperWidth(page, NOTE, true) - 6), MARGIN, y, {
      points: SMALLEST,
      fill: SOFT,
    }) +
    line(page, MARGIN + room, y, { points: NOTE, bold: true, anchor: "end" })
  );
}

const rule = (y: number, { width }: PageSize): string =>
  element("line", { x1: MARGIN, y1: y, x2: width - MARGIN, y2: y, stroke: INK, "stroke-width": 0.35 });
