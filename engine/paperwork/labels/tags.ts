/**
 * Tags for cables, two for each: every one tells its own end first, then the other. On plain paper with cut marks, or on
 * sheets of labels by their size, from any label on.
 */
import type { Analysis } from "../../analysis.ts";
import { CABLES } from "../../catalog/cables.ts";
import type { CableId } from "../../model/ids.ts";
import type { Cable, CableEnd, Show } from "../../model/show.ts";
import { lengthName } from "../../model/units.ts";
import { directoryOf, tellEnd } from "../../tables/places.ts";
import { placesById } from "../../trace/records.ts";
import { layoutOf, spanGroup } from "../../wiring/layout.ts";
import type { PaperTable } from "../block.ts";
import { digitLetters, trailingDigits } from "../digits.ts";
import { barePage, FOOT, furnished, HEAD, MARGIN, type Face } from "../furniture.ts";
import type { Rect } from "../../layout/geometry.ts";
import { LINE, pageSize, SMALLEST, SOFT, type Page, type PaperJob, type Sheet } from "../page.ts";
import { line } from "../pen.ts";
import type { SheetEntry } from "../sheets/entry.ts";
import { element } from "../svg.ts";
import { gridFault, labelRect, labelsOn, LABEL_GRIDS, type LabelGrid, type LabelGridId } from "./grid.ts";
import {
  cutMarks,
  digitsWidth,
  drawDigits,
  drawText,
  heightOf,
  leading,
  measure,
  MEASURE_HEIGHT,
  setFitting,
  setWhole,
  type SetText,
} from "./marks.ts";

export interface TagChoice {
  /** A usual sheet of labels, one by its measures, or plain paper to be cut. */
  readonly on: "plain" | LabelGridId | LabelGrid;
  /** The first label that is still on the sheet, counted from 1 row by row. Plain paper always starts at 1. */
  readonly startAt: number;
  /** Both tags of a cable beside each other, or all tags of a place together. */
  readonly order: "cable" | "place";
  /** Left out: all cables. */
  readonly cables?: readonly CableId[] | undefined;
}

export const USUAL_TAGS: TagChoice = { on: "plain", startAt: 1, order: "cable" };

const gridOf = (on: Exclude<TagChoice["on"], "plain">): LabelGrid =>
  typeof on === "string" ? LABEL_GRIDS[on] : on;

/** Why no tags can be printed so, in one line; null where they can. */
export function tagFault({ on, startAt }: TagChoice): string | null {
  if (on === "plain") return null;
  const grid = gridOf(on);
  const most = labelsOn(grid);
  const isThere = Number.isInteger(startAt) && startAt >= 1 && startAt <= most;
  return gridFault(grid) ?? (isThere ? null : `The sheet has labels 1 to ${most}: start at one of these.`);
}

interface TagEnd {
  /** `Stage left Link A`, `Split Direct 1–16`. */
  readonly name: string;
  readonly place: string;
}

export interface Tag {
  readonly cable: Cable;
  readonly text: string;
  /** The figures at the end of the text, told as colours. */
  readonly digits: string;
  /** Where this end is plugged, and where the other is. */
  readonly near: TagEnd;
  readonly far: TagEnd;
  readonly kind: string;
  readonly length: string;
  readonly ways: string;
}

/** The tags, two for each cable, in the order in which they are printed. */
export function tagsOf(show: Show, { order, cables }: Pick<TagChoice, "order" | "cables">): readonly Tag[] {
  const wanted = cables && new Set(cables);
  const chosen = show.cables.filter(({ id }) => wanted?.has(id) ?? true);
  const tags = chosen.flatMap((cable) => {
    const [a, b] = [endOf(show, cable, cable.ends[0]), endOf(show, cable, cable.ends[1])];
    return [tagOf(show, cable, a, b), tagOf(show, cable, b, a)];
  });
  if (order === "cable") return tags;
  const places = [...show.places.map(({ name }) => name), ""];
  return places.flatMap((place) => tags.filter(({ near }) => near.place === place));
}

const tagOf = ({ settings }: Show, cable: Cable, near: TagEnd, far: TagEnd): Tag => ({
  cable,
  text: cable.tag.trim() || "no tag",
  digits: figuresOf(cable.tag),
  near,
  far,
  kind: CABLES[cable.kind].name,
  length: cable.length === undefined ? "length unknown" : lengthName(cable.length, settings.units),
  ways: cable.ways === 1 ? "1 way" : `${cable.ways} ways`,
});

/** More sleeves than these nobody puts on a cable. */
const MOST_FIGURES = 4;

const figuresOf = (tag: string): string => {
  const digits = trailingDigits(tag);
  return digits.length <= MOST_FIGURES ? digits : "";
};

function endOf(show: Show, { ways }: Cable, end: CableEnd): TagEnd {
  const device = directoryOf(show).devices.get(end.device);
  const type = device && show.types.find(({ id }) => id === device.type);
  const place = (device && placesById(show).get(device.place)?.name) ?? "";
  const span = type && layoutOf(type).spans.find((each) => spanGroup(each) === end.group);
  if (!device || !span) return { name: `not in the show: ${tellEnd(show, end)}`, place };
  if (span.side !== "jack")
    return { name: `${device.name} ${span.side === "bus" ? span.section.name : span.port.name}`, place };
  const jacks = ways === 1 ? `${end.first}` : `${end.first}–${end.first + ways - 1}`;
  return { name: `${device.name} ${span.bank.name} ${jacks}`, place };
}

/** The sheet of tags; on labels its first page is one to check them by. None without cables. Throws on a choice with a fault. */
export function tagSheets(job: PaperJob, choice: TagChoice): Sheet[] {
  const fault = tagFault(choice);
  if (fault !== null) throw new RangeError(fault);
  const tags = tagsOf(job.analysis.show, choice);
  if (tags.length === 0) return [];
  return choice.on === "plain"
    ? [plainSheet(job, tags)]
    : [labelSheet(job, gridOf(choice.on), choice.startAt, tags)];
}

/** The tags of all cables, set as the job has it; none where the show has no cable. */
export const tagEntries = ({ show }: Analysis): SheetEntry[] =>
  show.cables.length === 0
    ? []
    : [
        {
          id: SHEET_ID,
          kind: "cable tags",
          title: "Cable tags",
          make: (job) => {
            const [made] = tagSheets(job, { ...USUAL_TAGS, ...job.labels?.tags, cables: undefined });
            if (!made) throw new Error("no cable to tag");
            return made;
          },
        },
      ];

const SHEET_ID = "cable-tags";

const PLAIN = { width: 60, height: 36 } as const;
const PLAIN_GAP = 4;

function plainSheet(job: PaperJob, tags: readonly Tag[]): Sheet {
  const size = pageSize(job.paper, "upright");
  const face: Face = {
    size,
    title: "Cable tags",
    note: "Two for each cable, one for each end. Cut at the marks.",
    owners: [],
  };
  const room = { width: size.width - 2 * MARGIN, height: size.height - HEAD - FOOT - MEASURE_HEIGHT };
  const columns = Math.floor((room.width + PLAIN_GAP) / (PLAIN.width + PLAIN_GAP));
  const rows = Math.floor((room.height + PLAIN_GAP) / (PLAIN.height + PLAIN_GAP));
  const left = (size.width - columns * PLAIN.width - (columns - 1) * PLAIN_GAP) / 2;
  const bodies = chunks(tags, columns * rows).map((some) =>
    some
      .map((tag, n) => {
        const rect = {
          x: left + (n % columns) * (PLAIN.width + PLAIN_GAP),
          y: HEAD + 2 + Math.floor(n / columns) * (PLAIN.height + PLAIN_GAP),
          ...PLAIN,
        };
        return cutMarks(rect, 0.3, 1.5) + outline(rect) + tagSvg(tag, inset(rect, 2));
      })
      .join(""),
  );
  const pages = bodies.map((body, n) => ({
    ...size,
    svg: furnished(
      job,
      face,
      { number: n + 1, of: bodies.length, assumed: 0 },
      body + measure(MARGIN, size.height - FOOT),
    ),
  }));
  return { id: SHEET_ID, title: face.title, pages, tables: [tagTable(tags)] };
}

/** Printers leave the edge of the paper white; 5 mm is common practice. */
const UNPRINTED = 5;

function labelSheet(job: PaperJob, grid: LabelGrid, startAt: number, tags: readonly Tag[]): Sheet {
  const size = pageSize(grid.paper, grid.orientation);
  const printable = inset({ x: 0, y: 0, ...size }, UNPRINTED);
  const perPage = labelsOn(grid);
  const blank: (Tag | null)[] = Array.from({ length: startAt - 1 }, () => null);
  const all = chunks([...blank, ...tags], perPage);
  const pages = all.map((some, n): Page => {
    const title = `${job.analysis.show.title}: cable tags, page ${n + 1} of ${all.length}`;
    const labels = some.map((tag, at) =>
      tag === null ? "" : tagSvg(tag, common(inset(labelRect(grid, at), edgeOf(grid)), printable)),
    );
    return { ...size, svg: barePage(size, title, labels.join("") + marginMeasure(grid, size.height)) };
  });
  return {
    id: SHEET_ID,
    title: `Cable tags, ${grid.name}`,
    pages: [checkPage(job, grid), ...pages],
    tables: [tagTable(tags)],
  };
}

/** White around what stands on a label; less on a small one. */
const edgeOf = ({ height }: LabelGrid): number => (height < 30 ? 1.5 : 2.5);

/** The measure below the labels, where a sheet has the room; the check page has one always. */
function marginMeasure({ top, rows, down, height }: LabelGrid, page: number): string {
  const free = top + (rows - 1) * down + height;
  return page - free >= UNPRINTED + MEASURE_HEIGHT ? measure(UNPRINTED + 5, page - UNPRINTED - 1) : "";
}

/** Outlines and numbers of all labels: held against a sheet of labels, it shows whether they lie under the print. */
function checkPage(job: PaperJob, grid: LabelGrid): Page {
  const size = pageSize(grid.paper, grid.orientation);
  const box = { x: (size.width - 194) / 2, y: size.height / 2 - 16, width: 194, height: 32 };
  const outlines = Array.from({ length: labelsOn(grid) }, (_, n) => {
    const rect = labelRect(grid, n);
    if (touch(rect, box)) return outline(rect);
    const { x, y } = common(inset(rect, 1), inset({ x: 0, y: 0, ...size }, UNPRINTED));
    return outline(rect) + line(String(n + 1), x, y + 3.4, { points: 9, bold: true });
  });
  const told = [
    `Check page: ${grid.name}`,
    "Print this page on plain paper at 100 % and hold it with a sheet of labels against the light: the outlines have to lie on the labels. Then print the other pages on labels. A sheet that is partly used starts at the number of its first label.",
  ];
  let y = box.y + 3;
  const lines = told.map((words, n) => {
    const set = setFitting(words, n === 0 ? [12, 10] : [9], box.width - 8, 3, n === 0);
    const drawn = drawText(set, box.x + 4, y);
    y += heightOf(set) + 0.8;
    return drawn;
  });
  const body = [
    ...outlines,
    element("rect", { ...box, fill: "#fff", stroke: SOFT, "stroke-width": 0.3 }),
    ...lines,
    measure(box.x + 4, box.y + box.height - 4),
  ].join("");
  return { ...size, svg: barePage(size, `${job.analysis.show.title}: check page for labels`, body) };
}

const outline = (rect: Rect): string =>
  element("rect", { ...rect, fill: "none", stroke: LINE, "stroke-width": 0.15 });

const inset = ({ x, y, width, height }: Rect, by: number): Rect => ({
  x: x + by,
  y: y + by,
  width: width - 2 * by,
  height: height - 2 * by,
});

const touch = (a: Rect, b: Rect): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** What two rectangles have in common. */
function common(a: Rect, b: Rect): Rect {
  const [x, y] = [Math.max(a.x, b.x), Math.max(a.y, b.y)];
  return {
    x,
    y,
    width: Math.min(a.x + a.width, b.x + b.width) - x,
    height: Math.min(a.y + a.height, b.y + b.height) - y,
  };
}

function chunks<Item>(items: readonly Item[], size: number): Item[][] {
  const found: Item[][] = [];
  for (let from = 0; from < items.length; from += size) found.push(items.slice(from, from + size));
  return found;
}

/** Type sizes of a tag, in points: its text, its own end, the other end, what stands beside. */
interface Scale {
  readonly text: number;
  readonly near: number;
  readonly far: number;
  readonly beside: number;
}

const SCALES: readonly Scale[] = [
  { text: 20, near: 12, far: 11, beside: 9 },
  { text: 18, near: 11, far: 10, beside: 9 },
  { text: 16, near: 10, far: 9, beside: 9 },
  { text: 14, near: 9, far: 9, beside: 8 },
  { text: 12, near: 9, far: 8, beside: 7 },
  { text: 11, near: 8, far: 8, beside: 7 },
  { text: 10, near: 7, far: 7, beside: 7 },
];

/** Between the parts of a tag. */
const SPACE = 0.6;
const DIGITS_GAP = 2;

/** A tag within its label: the largest type in which all of it is whole. */
function tagSvg(tag: Tag, box: Rect): string {
  for (const scale of SCALES) {
    const whole = wholeTag(tag, scale, box);
    if (whole !== null) return drawTag(tag, whole, box);
  }
  return drawTag(tag, shortTag(tag, box), box);
}

const besideOf = ({ cable, kind, length, ways }: Tag): string =>
  [kind, length, ...(cable.ways > 1 ? [ways] : [])].join(", ");
const atPlace = ({ place }: TagEnd): string => (place === "" ? "" : `at ${place}`);

interface SetTag {
  readonly head: SetText;
  /** What the letters of the figures' colours are set in. */
  readonly swatch: number;
  readonly parts: readonly (readonly SetText[])[];
}

const roomForHead = ({ digits }: Tag, { width }: Rect, swatch: number): number =>
  digits === "" ? width : width - digitsWidth(digits, swatch) - DIGITS_GAP;

/** All of the tag with no word broken and nothing shortened; null where that is too much for the label. */
function wholeTag(tag: Tag, { text, near, far, beside }: Scale, box: Rect): SetTag | null {
  let isWhole = true;
  const set = (words: string, points: number, bold = false): SetText[] => {
    if (words === "") return [];
    const lines = setWhole(words, [points], box.width, 3, bold);
    isWhole &&= lines !== null;
    return lines === null ? [] : [lines];
  };
  const head = setWhole(tag.text, [text], roomForHead(tag, box, beside), 1, true);
  const parts = [
    [...set(tag.near.name, near, true), ...set(atPlace(tag.near), beside)],
    [...set(`to ${tag.far.name}`, far), ...set(atPlace(tag.far), beside)],
    set(besideOf(tag), beside),
  ];
  if (head === null || !isWhole) return null;
  const found = { head, swatch: beside, parts };
  return heightOfTag(found) <= box.height ? found : null;
}

const heightOfTag = ({ head, parts }: SetTag): number =>
  heightOf(head) +
  parts.reduce((sum, part) => sum + SPACE + part.reduce((high, set) => high + heightOf(set), 0), 0);

/**
 * The tag in the smallest type, shortened: both ends first, then the other end's place, its own, and what kind of cable it
 * is, as many lines as there is room for. The list that goes with the sheet has all of it.
 */
function shortTag(tag: Tag, box: Rect): SetTag {
  const scale = SCALES.at(-1)!;
  const room = box.width;
  const head = setFitting(tag.text, [scale.text], roomForHead(tag, box, scale.beside), 1, true);
  let left = Math.floor((box.height - heightOf(head) - 3 * SPACE) / leading(SMALLEST));
  const take = (words: string, most: number, bold = false): SetText[] => {
    if (words === "" || left <= 0) return [];
    const set = setFitting(words, [SMALLEST], room, Math.min(most, left), bold);
    left -= set.lines.length;
    return [set];
  };
  const spare = left >= 5 ? 2 : 1;
  const near = take(tag.near.name, spare, true);
  const far = take(`to ${tag.far.name}`, spare);
  const farPlace = take(atPlace(tag.far), 1);
  const nearPlace = take(atPlace(tag.near), 1);
  const beside = take(besideOf(tag), 1);
  return { head, swatch: scale.beside, parts: [[...near, ...nearPlace], [...far, ...farPlace], beside] };
}

function drawTag({ digits }: Tag, { head, swatch, parts }: SetTag, box: Rect): string {
  const base = box.y + 0.8 * leading(head.points);
  const drawn = [drawText(head, box.x, box.y)];
  if (digits !== "") {
    drawn.push(drawDigits(digits, box.x + box.width - digitsWidth(digits, swatch), base, swatch));
  }
  let y = box.y + heightOf(head);
  for (const [n, part] of parts.entries()) {
    y += SPACE;
    for (const set of part) {
      drawn.push(drawText(set, box.x, y, n === 2 ? SOFT : undefined));
      y += heightOf(set);
    }
  }
  return drawn.join("");
}

function tagTable(tags: readonly Tag[]): PaperTable {
  return {
    title: "Cable tags",
    columns: [
      { title: "Tag" },
      { title: "This end" },
      { title: "In" },
      { title: "Other end" },
      { title: "Other end in" },
      { title: "Kind" },
      { title: "Length" },
      { title: "Ways" },
      { title: "Colours" },
    ],
    rows: tags.map(({ text, near, far, kind, length, ways, digits }) => ({
      cells: [text, near.name, near.place, far.name, far.place, kind, length, ways, digitLetters(digits)],
    })),
    empty: "No cables.",
  };
}
