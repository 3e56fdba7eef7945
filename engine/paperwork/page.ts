/**
 * What every paper is made of: sheets of pages, each page a picture in millimetres that says all by itself. A sheet is
 * made from the model and a date alone, so the same show and date give the same bytes.
 */
import type { Analysis } from "../analysis.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Paper } from "../model/show.ts";
import type { PaperTable } from "./block.ts";
import type { StripChoice } from "./labels/strips.ts";
import type { TagChoice } from "./labels/tags.ts";
import type { OwnerMark } from "./owner-marks.ts";

/** Millimetres of a printer's point. */
export const PT = 25.4 / 72;

/** Smallest type on paper, and on what is read on stage, in points. */
export const SMALLEST = 7;
export const ON_STAGE = 9;

/** The typeface of papers: embedded where the host prints, and alike on every machine. */
export const PAPER_FONT = "'Hopline Paper', Inter, 'Liberation Sans', Arial, Helvetica, sans-serif";

export const INK = "#191d20";
export const SOFT = "#4f575d";
export const LINE = "#9aa2a6";
export const PALE = "#eef0f1";

export type Orientation = "upright" | "lying";

export interface PageSize {
  /** Millimetres. */
  readonly width: number;
  readonly height: number;
}

/** Papers lying on their long side, in millimetres: ISO 216, and ANSI/ASME Y14.1 for Letter and Tabloid. */
const LYING: Readonly<Record<Paper, PageSize>> = {
  A4: { width: 297, height: 210 },
  A3: { width: 420, height: 297 },
  Letter: { width: 279.4, height: 215.9 },
  Tabloid: { width: 431.8, height: 279.4 },
};

export function pageSize(paper: Paper, orientation: Orientation): PageSize {
  const { width, height } = LYING[paper];
  return orientation === "lying" ? { width, height } : { width: height, height: width };
}

/** Lists are read in the hand: where the diagram is drawn on the large paper of a family, they are printed on its half. */
export const paperOfLists = (paper: Paper): Paper =>
  paper === "A3" ? "A4" : paper === "Tabloid" ? "Letter" : paper;

/** One page: a whole `svg` element whose units are millimetres. */
export interface Page extends PageSize {
  readonly svg: string;
}

/** Pages that are handed out together, under one title. */
export interface Sheet {
  /** Stable and readable: `inputs/foh`, `worksheet/stage-left`. */
  readonly id: string;
  readonly title: string;
  readonly pages: readonly Page[];
  /** What its tables say, for CSV. */
  readonly tables: readonly PaperTable[];
}

export interface LabelChoices {
  readonly strips?: Partial<StripChoice>;
  readonly tags?: Partial<TagChoice>;
}

/** What a sheet is made from. */
export interface PaperJob {
  readonly analysis: Analysis;
  readonly paper: Paper;
  /** Of everything but the diagram and what is cut to size. Left out: as `paper`. */
  readonly listPaper?: Paper;
  /** As printed: `2026-11-25`. */
  readonly date: string;
  /** Who answers for the paper; empty where nobody is named. */
  readonly author: string;
  /** How labels are made, where not as usual. */
  readonly labels?: LabelChoices;
}

/** How each owner of the show is told apart on paper. */
export type OwnerMarks = ReadonlyMap<DeviceId, OwnerMark>;
