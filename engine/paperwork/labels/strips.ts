/**
 * Strips for the panels of boxes, at real size: one strip for each row of a bank's jacks, as long as a 19-inch panel, in
 * parts that fit the paper. Each cell says what comes to its jack.
 */
import type { Analysis } from "../../analysis.ts";
import type { JackBank } from "../../model/device-type.ts";
import type { DeviceId } from "../../model/ids.ts";
import type { Device, Show } from "../../model/show.ts";
import { placesById } from "../../trace/records.ts";
import type { WiredDevice } from "../../wiring/wiring.ts";
import type { PaperRow, PaperTable } from "../block.ts";
import { digitLetters } from "../digits.ts";
import { FOOT, furnished, HEAD, legendHeight, MARGIN, marksOf, type Face } from "../furniture.ts";
import {
  INK,
  LINE,
  ON_STAGE,
  PALE,
  pageSize,
  SMALLEST,
  SOFT,
  type OwnerMarks,
  type PaperJob,
  type Sheet,
} from "../page.ts";
import type { OwnerMark } from "../owner-marks.ts";
import { line, markWidth, ownerMark } from "../pen.ts";
import { slugs, standsOf, type SheetEntry } from "../sheets/entry.ts";
import { element } from "../svg.ts";
import { fitMiddle, paperWidth } from "../type.ts";
import { jackLabels, type JackLabel } from "./jack-labels.ts";
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
  stroke,
} from "./marks.ts";
import { PANEL, stripParts, type StripPart } from "./parts.ts";

export const ROW_SIZES = [8, 12, 16] as const;
export type RowSize = (typeof ROW_SIZES)[number];

export interface StripChoice {
  /** Jacks in a row of the panel. `fit`: the most that share a bank evenly, so that 24 are two rows of 12. */
  readonly perRow: RowSize | "fit";
  /** One sheet for each of these. */
  readonly by: "rig" | "place" | "device";
  /** The jack's number as colours beside the figures. */
  readonly digits: boolean;
  /** Left out: every device with a bank of `LEAST_JACKS` or more. */
  readonly devices?: readonly DeviceId[];
  /** Millimetres over which a row's jacks stand, edge to edge of their cells. Left out: the opening of the rack. */
  readonly field?: number;
  /** Of a strip, in millimetres. Left out: 20. */
  readonly height?: number;
}

export const USUAL_STRIPS: StripChoice = { perRow: "fit", by: "place", digits: false };

/** Smaller banks stand on devices that have no panel of jacks, such as loudspeakers and receivers. */
export const LEAST_JACKS = 4;

const HEIGHT = 20;
/** A number, a name and one line more. */
const LEAST_HEIGHT = 14;
const MOST_HEIGHT = 60;
/** A plug's flange is 26 mm wide (common practice); smaller jacks stand closer. */
const LEAST_PITCH = 20;

/** Why no strips can be made so, in one line; null where they can. */
export function stripFault({ perRow, field = PANEL.opening, height = HEIGHT }: StripChoice): string | null {
  const cells = perRow === "fit" ? Math.max(...ROW_SIZES) : perRow;
  const least = cells * LEAST_PITCH;
  if (!(field >= least && field <= PANEL.width)) {
    return `A row of ${cells} jacks stands over ${least} to ${PANEL.width} mm of a 19-inch panel.`;
  }
  return height >= LEAST_HEIGHT && height <= MOST_HEIGHT
    ? null
    : `A strip is ${LEAST_HEIGHT} to ${MOST_HEIGHT} mm high.`;
}

/** How many jacks stand in a row of a bank. */
export const rowSize = (count: number, perRow: StripChoice["perRow"]): RowSize =>
  perRow !== "fit"
    ? perRow
    : ((ROW_SIZES.toReversed().find((size) => count % size === 0) ??
        ROW_SIZES.find((size) => count <= size) ??
        Math.max(...ROW_SIZES)) as RowSize);

interface Strip {
  readonly wired: WiredDevice;
  readonly bank: JackBank;
  readonly place: string;
  /** The jacks' labels; shorter than the row where the bank has no more. */
  readonly labels: readonly JackLabel[];
  readonly cells: number;
}

/** The strips' sheets, in the show's order; none where nothing has a panel of jacks. Throws on a choice with a fault. */
export function stripSheets(job: PaperJob, choice: StripChoice): Sheet[] {
  const fault = stripFault(choice);
  if (fault !== null) throw new RangeError(fault);
  const { show, wiring } = job.analysis;
  const strips = wiring.devices.flatMap((wired) => (wired ? stripsOf(job, choice, wired) : []));
  const sheet = (id: string, title: string, of: (device: Device) => boolean): Sheet[] => {
    const some = strips.filter(({ wired }) => of(wired.device));
    return some.length === 0 ? [] : [stripSheet(job, choice, id, title, some)];
  };
  if (choice.by === "rig") return sheet("jack-strips", "Jack strips", () => true);
  if (choice.by === "device") {
    const ids = slugs(show.devices.map(({ name }) => name));
    return show.devices.flatMap(({ id, name }, n) =>
      sheet(`jack-strips/${ids[n]!}`, `Jack strips: ${name}`, (device) => device.id === id),
    );
  }
  return stripPlaces(show).flatMap(({ id, title, holds }) => sheet(id, title, holds));
}

interface StripPlace {
  readonly id: string;
  readonly title: string;
  readonly holds: (device: Device) => boolean;
}

/** What has a sheet of its own where strips are told by place. */
function stripPlaces(show: Show): readonly StripPlace[] {
  const named = standsOf(show, "in no place");
  const ids = slugs(named.map(({ name }) => name));
  return named.map(({ name, holds }, n) => ({
    id: `jack-strips/${ids[n]!}`,
    title: `Jack strips: ${name}`,
    holds,
  }));
}

/** One sheet for each place with panels of jacks, set as the job has it. */
export function stripEntries({ wiring, show }: Analysis): SheetEntry[] {
  const shown = wiring.devices.flatMap((wired) =>
    wired?.fabric.layout.type.banks.some(isPanel) ? [wired.device] : [],
  );
  return stripPlaces(show)
    .filter(({ holds }) => shown.some(holds))
    .map(({ id, title, holds }) => ({
      id,
      kind: "jack strips",
      title,
      make: (job) => {
        const devices = shown.filter(holds).map((device) => device.id);
        const [made] = stripSheets(job, { ...USUAL_STRIPS, ...job.labels?.strips, by: "place", devices });
        if (!made) throw new Error(`no strips of ${title}`);
        return made;
      },
    }));
}

const isPanel = ({ connector, count }: JackBank): boolean => connector !== "none" && count >= LEAST_JACKS;

function stripsOf({ analysis }: PaperJob, { devices, perRow }: StripChoice, wired: WiredDevice): Strip[] {
  const place = placesById(analysis.show).get(wired.device.place)?.name ?? "";
  if (devices?.includes(wired.device.id) === false) return [];
  return wired.fabric.layout.type.banks.filter(isPanel).flatMap((bank) => {
    const labels = jackLabels(analysis, wired, bank);
    const cells = rowSize(bank.count, perRow);
    return Array.from({ length: Math.ceil(bank.count / cells) }, (_, row) => ({
      wired,
      bank,
      place,
      labels: labels.slice(row * cells, (row + 1) * cells),
      cells,
    }));
  });
}

/** Above a part stands its title, below it the marks of the ears. */
const TITLE = 4.6;
const BELOW = 1.4;
/** What of a part goes under the next one. */
const FLAP = 8;
/** Outside of the parts, for cut marks. */
const ASIDE = 4;

interface Setting {
  readonly job: PaperJob;
  readonly marks: OwnerMarks;
  readonly field: number;
  readonly height: number;
  readonly digits: boolean;
}

/** Type sizes of a strip: alike in all cells but for those whose texts are too long. */
interface Type {
  readonly name: number;
  readonly detail: number;
}

function stripSheet(
  job: PaperJob,
  choice: StripChoice,
  id: string,
  title: string,
  strips: readonly Strip[],
): Sheet {
  const size = pageSize(job.paper, "lying");
  const marks = marksOf(job);
  const { field = PANEL.opening, height = HEIGHT, digits } = choice;
  const setting: Setting = { job, marks, field, height, digits };
  const owners = new Set(strips.flatMap(({ labels }) => labels.flatMap(ownersIn)));
  const face: Face = {
    size,
    title,
    note: `For 19-inch panels (IEC 60297: ${PANEL.width} mm), jacks evenly over ${field} mm. Measure your panel before you cut.`,
    owners: [...marks.values()].filter(({ device }) => owners.has(device)),
  };
  const room = size.width - 2 * (MARGIN + ASIDE) - FLAP;
  const top = HEAD + legendHeight(face);
  const bottom = size.height - FOOT - MEASURE_HEIGHT;
  const step = TITLE + height + BELOW;
  const perPage = Math.max(1, Math.floor((bottom - top) / step));
  const bodies: string[][] = [];
  for (const strip of strips) {
    const parts = stripParts(strip.cells, field, room);
    const page = bodies.at(-1);
    // A strip whose parts lie on two pages is easily put together wrongly.
    const isFull = !page || page.length + parts.length > perPage;
    const onto = isFull ? [] : page;
    if (isFull) bodies.push(onto);
    const type = typeOf(setting, strip);
    parts.forEach((part, n) => {
      onto.push(partSvg(setting, type, strip, parts, n, part, top + onto.length * step));
    });
  }
  const pages = bodies.map((body, n) => ({
    ...size,
    svg: furnished(
      job,
      face,
      { number: n + 1, of: bodies.length, assumed: 0 },
      body.join("") + measure(MARGIN + ASIDE, size.height - FOOT),
    ),
  }));
  return { id, title, pages, tables: [stripTable(marks, strips)] };
}

const ownersIn = ({ owners, channels }: JackLabel): DeviceId[] => [
  ...owners,
  ...channels.map(({ console }) => console),
];

/** `1–16`: the jacks of a strip. */
const rangeOf = ({ labels }: Strip): string =>
  labels.length === 1 ? `${labels[0]!.jack}` : `${labels[0]!.jack}–${labels.at(-1)!.jack}`;

function partSvg(
  setting: Setting,
  type: Type,
  strip: Strip,
  parts: readonly StripPart[],
  n: number,
  { from, to }: StripPart,
  top: number,
): string {
  const { field, height } = setting;
  const { wired, bank, cells } = strip;
  const ear = (PANEL.width - field) / 2;
  const pitch = field / cells;
  const rect = { x: MARGIN + ASIDE, y: top + TITLE, width: to - from, height };
  const at = (panel: number): number => rect.x + panel - from;
  const right = rect.x + rect.width;
  const isLast = n === parts.length - 1;
  const part = parts.length === 1 ? "whole" : `part ${n + 1} of ${parts.length}`;
  const told = `${part}: cells of ${pitch.toFixed(2)} mm`;
  const rest = rect.width - 5 - paperWidth(told, SMALLEST);
  const name = fitMiddle(`${wired.device.name} ${bank.name} ${rangeOf(strip)}`, 8, rest, true);
  const drawn = [
    line(name, rect.x + 1.5, rect.y - 1.4, { points: 8, bold: true }),
    line(told, right - 1.5, rect.y - 1.4, { points: SMALLEST, anchor: "end" }),
    cutMarks(rect),
    // The ears, where the strip begins or ends.
    ...(from === 0 ? [earSvg({ ...rect, width: ear }, [wired.device.name, bank.name, rangeOf(strip)])] : []),
    ...(isLast
      ? [earSvg({ ...rect, x: at(PANEL.width - ear), width: ear }, [strip.place, setting.job.date])]
      : []),
  ];
  for (let cell = 0; cell < cells; cell++) {
    const middle = ear + (cell + 0.5) * pitch;
    if (middle < from || middle > to) continue;
    const box = { x: at(ear + cell * pitch), y: rect.y, width: pitch, height };
    drawn.push(cellSvg(setting, type, strip.labels[cell], box));
  }
  drawn.push(element("rect", { ...rect, fill: "none", stroke: INK, "stroke-width": 0.25 }));
  if (n > 0) drawn.push(joinMarks(rect.x, rect, 1));
  if (!isLast) drawn.push(flapSvg(right, rect, n + 2), joinMarks(right, rect, -1));
  return drawn.join("");
}

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Narrower ears bear no text. */
const LEAST_EAR_TEXT = 9;

/** An ear of the panel, with what fits on it, and marks where it is cut off. */
function earSvg(box: Box, texts: readonly string[]): string {
  if (box.width < 0.5) return "";
  const room = box.width - 2;
  const lines: string[] = [];
  let y = box.y + 1;
  for (const [n, words] of texts.filter((each) => each !== "").entries()) {
    if (room < LEAST_EAR_TEXT) break;
    const most = n === 0 ? 3 : 2;
    // Before a word is broken it is set lighter, and nearer to the edge.
    const whole = setWhole(words, [SMALLEST], room, most, n === 0);
    const tight = whole ? null : setWhole(words, [SMALLEST], room + 1, most);
    const set = whole ?? tight ?? setFitting(words, [SMALLEST], room, most, n === 0);
    if (y + heightOf(set) > box.y + box.height - 0.6) break;
    lines.push(drawText(set, box.x + (tight ? 0.5 : 1), y));
    y += heightOf(set);
  }
  const bottom = box.y + box.height;
  const marks = [box.x, box.x + box.width].map((x) => stroke(x, bottom + 0.4, x, bottom + 1.4, 0.15));
  return (
    element("rect", { ...box, fill: PALE, stroke: LINE, "stroke-width": 0.15 }) +
    lines.join("") +
    marks.join("")
  );
}

/** The flap that goes under the next part. */
function flapSvg(x: number, { y, height }: Box, next: number): string {
  const words = [`part ${next} over this`, `part ${next}`].find(
    (each) => paperWidth(each, SMALLEST) <= height - 1,
  );
  const [middle, base] = [y + height / 2, x + FLAP / 2 + 0.9];
  return (
    element("rect", {
      x,
      y,
      width: FLAP,
      height,
      fill: "none",
      stroke: SOFT,
      "stroke-width": 0.15,
      "stroke-dasharray": "1 0.8",
    }) +
    element(
      "g",
      { transform: `rotate(-90 ${base.toFixed(2)} ${middle.toFixed(2)})` },
      line(words ?? "", base, middle, { points: SMALLEST, fill: SOFT, anchor: "middle" }),
    )
  );
}

/** Half arrowheads above and below, whole where two parts meet. */
function joinMarks(x: number, { y, height }: Box, way: 1 | -1): string {
  const triangle = (base: number, tip: number): string =>
    element("path", {
      d: `M${x.toFixed(2)} ${tip.toFixed(2)}L${x.toFixed(2)} ${base.toFixed(2)}L${(x + way * 1.2).toFixed(2)} ${base.toFixed(2)}Z`,
      fill: INK,
    });
  return triangle(y - 1.9, y - 0.3) + triangle(y + height + 1.3, y + height + 0.3);
}

const NUMBER = 12;
const MARK = 11;
const PAD = 1.1;
/** Between the marks of two owners. */
const GAP = 0.6;
/** From a cell's top to the lines below its number. */
const HEADROOM = 5.5;

function cellSvg(setting: Setting, type: Type, label: JackLabel | undefined, box: Box): string {
  const frame = element("rect", {
    ...box,
    fill: label ? "#fff" : PALE,
    stroke: INK,
    "stroke-width": 0.2,
  });
  if (!label) return frame;
  return frame + cellHead(setting, label, box) + cellText(setting, type, label, box);
}

interface Owners {
  readonly known: readonly OwnerMark[];
  /** What their letters are set in; null where their marks have no room beside the number. */
  readonly points: number | null;
}

/** Millimetres that a jack's number takes, with the space behind it. */
const numberWidth = (jack: number): number => paperWidth(String(jack), NUMBER, true) + 1.2;

/** The owners' marks in a cell: smaller ones where many meet. */
function ownersOf({ jack, owners }: JackLabel, marks: OwnerMarks, width: number): Owners {
  const known = owners.flatMap((owner) => marks.get(owner) ?? []);
  const room = width - 2 * PAD - numberWidth(jack);
  const whole = (points: number): number =>
    known.reduce((sum, mark) => sum + markWidth(mark, points) + GAP, 0);
  return { known, points: [MARK, ON_STAGE, SMALLEST].find((size) => whole(size) <= room) ?? null };
}

function cellHead({ marks, digits }: Setting, label: JackLabel, box: Box): string {
  const base = box.y + 4.4;
  const figures = String(label.jack);
  const drawn = [line(figures, box.x + PAD, base, { points: NUMBER, bold: true })];
  const left = box.x + PAD + numberWidth(label.jack);
  let right = box.x + box.width - PAD;
  const { known, points } = ownersOf(label, marks, box.width);
  if (points !== null) {
    for (const mark of known.toReversed()) {
      right -= markWidth(mark, points);
      drawn.push(ownerMark(mark, right, base, points));
      right -= GAP;
    }
  }
  if (digits && digitsWidth(figures) <= right - left) drawn.push(drawDigits(figures, left, base));
  return drawn.join("");
}

const NAMES = [13, 12, 11, 10, ON_STAGE, 8, SMALLEST];
const DETAILS = [ON_STAGE, 8, SMALLEST];

/** What the lines below the number take at most, and how wide they may be. */
const spaceIn = ({
  width,
  height,
}: Pick<Box, "width" | "height">): { readonly room: number; readonly high: number } => ({
  room: width - 2 * PAD,
  high: height - HEADROOM - 0.7,
});

/** The largest sizes in which every label of the strip is whole; where that would be small for one, the others keep theirs. */
function typeOf({ field, height, marks }: Setting, { labels, cells }: Strip): Type {
  const width = field / cells;
  const { room, high } = spaceIn({ width, height });
  const fits = ({ name, detail }: Type): boolean =>
    labels.every((label) => {
      const details = detailsOf(label, marks, width);
      const lines = details.length + (label.cable === "" ? 0 : 1);
      const most = Math.floor((high - lines * leading(detail)) / leading(name));
      const isNamed =
        label.name === "" || (most > 0 && setWhole(label.name, [name], room, most, true) !== null);
      return isNamed && details.every((words) => setWhole(words, [detail], room, 1) !== null);
    });
  const types = DETAILS.flatMap((detail) =>
    NAMES.filter((name) => name > detail).map((name) => ({ name, detail })),
  );
  return types.find((type) => type.name >= ON_STAGE && fits(type)) ?? { name: ON_STAGE, detail: SMALLEST };
}

/** The lines below the number: the name first, the cable last, as long as there is room. */
function cellText({ marks }: Setting, type: Type, label: JackLabel, box: Box): string {
  const { room, high } = spaceIn(box);
  const upTo = (sizes: readonly number[], most: number): number[] => sizes.filter((size) => size <= most);
  const small = upTo(DETAILS, type.detail);
  const details = detailsOf(label, marks, box.width).map((words) => setFitting(words, small, room, 1));
  const lines = details.length + (label.cable === "" ? 0 : 1);
  const most = Math.max(1, Math.floor((high - lines * leading(type.detail)) / leading(type.name)));
  const named = label.name === "" ? [] : [setFitting(label.name, upTo(NAMES, type.name), room, most, true)];
  const above = [...named, ...details];
  const left = high - above.reduce((sum, set) => sum + heightOf(set), 0);
  const cable = setFitting(label.cable, small, room, Math.max(1, Math.floor(left / leading(SMALLEST))));
  let y = box.y + HEADROOM;
  const drawn: string[] = [];
  for (const set of [...above, cable]) {
    if (y + heightOf(set) > box.y + HEADROOM + high + 0.3) break;
    drawn.push(drawText(set, box.x + PAD, y));
    y += heightOf(set);
  }
  return drawn.join("");
}

/** `Ch F 1 · M 33`: the channels, each with its console's letter. */
const channelsOf = ({ channels }: JackLabel, marks: OwnerMarks): string =>
  channels.length === 0
    ? ""
    : `Ch ${channels.map(({ console, numbers }) => `${marks.get(console)?.letter ?? "?"} ${numbers}`).join(" · ")}`;

/** What stands below the name of a cell of some width, the cable left out. */
function detailsOf(label: JackLabel, marks: OwnerMarks, width: number): string[] {
  const { known, points } = ownersOf(label, marks, width);
  return [
    points === null ? known.map(({ letter }) => letter).join(", ") : "",
    label.isDark ? "nothing arrives" : label.tap,
    channelsOf(label, marks),
  ].filter(Boolean);
}

function stripTable(marks: OwnerMarks, strips: readonly Strip[]): PaperTable {
  const rows = strips.flatMap((strip): PaperRow[] =>
    strip.labels.map((label) => ({
      cells: [
        strip.wired.device.name,
        strip.bank.name,
        String(label.jack),
        label.name,
        {
          text: label.owners.map((owner) => marks.get(owner)?.name ?? owner).join(", "),
          owners: label.owners,
        },
        label.isDark ? "nothing arrives" : label.tap,
        label.channels
          .map(({ console, numbers }) => `${marks.get(console)?.name ?? console} ${numbers}`)
          .join(", "),
        label.cable,
        digitLetters(String(label.jack)),
      ],
    })),
  );
  return {
    title: "Jack strips",
    columns: [
      { title: "Device" },
      { title: "Bank" },
      { title: "Jack", kind: "number" },
      { title: "Label" },
      { title: "Owner" },
      { title: "From" },
      { title: "Channels" },
      { title: "Cable" },
      { title: "Colours" },
    ],
    rows,
    empty: `No bank of ${LEAST_JACKS} or more jacks.`,
  };
}
