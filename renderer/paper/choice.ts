/** What is chosen where papers are made, and what becomes of the show by making them. */
import {
  changedSinceRevision,
  nextRevisionName,
  type Analysis,
  type Edit,
  type Paper,
  type Show,
} from "#engine";
import { LABEL_GRIDS, type LabelGridId } from "#engine/paperwork/labels/grid.ts";
import type { StripChoice } from "#engine/paperwork/labels/strips.ts";
import type { TagChoice } from "#engine/paperwork/labels/tags.ts";
import { paperOfLists } from "#engine/paperwork/page.ts";
import { namesOfSheets, sheetsKept, usualSheets } from "#engine/paperwork/set.ts";
import { signalDiagram } from "#engine/paperwork/sheets/diagram.ts";
import { slug, type SheetEntry, type SheetKind, type Signal } from "#engine/paperwork/sheets/entry.ts";
import type { Paperwork } from "#engine/model/show.ts";
import type { Focus } from "../state/contract.ts";
import type { SheetOrder } from "../worker/paper-answers.ts";

export interface Choice {
  /** Ids of sheets. */
  readonly chosen: ReadonlySet<string>;
  readonly paper: Paper;
  readonly listPaper: Paper;
  readonly author: string;
  readonly arrangement: "tidy" | "canvas";
  readonly delays: boolean;
  readonly perRow: StripChoice["perRow"];
  readonly digits: boolean;
  readonly tagsOn: "plain" | LabelGridId;
  readonly tagOrder: TagChoice["order"];
  /** The first label that is still on the sheet; another one each time, so it isn't kept. */
  readonly startAt: number;
  /** Whether a revision is marked where the show isn't what it was at the last one. */
  readonly marks: boolean;
}

export function choiceOf({ settings, paperwork = {} }: Show, entries: readonly SheetEntry[]): Choice {
  const { author = "", sheets, listPaper, diagram = {}, strips = {}, tags = {} } = paperwork;
  const found = sheets ? sheetsKept(entries, sheets) : usualSheets(entries);
  return {
    chosen: new Set(found.map(({ id }) => id)),
    paper: settings.paper,
    listPaper: listPaper ?? paperOfLists(settings.paper),
    author,
    arrangement: diagram.arrangement ?? "tidy",
    delays: diagram.delays ?? false,
    perRow: strips.perRow ?? "fit",
    digits: strips.digits ?? false,
    tagsOn: tags.on !== undefined && isGrid(tags.on) ? tags.on : "plain",
    tagOrder: tags.order ?? "cable",
    startAt: 1,
    marks: true,
  };
}

export const isGrid = (id: string): id is LabelGridId => Object.hasOwn(LABEL_GRIDS, id);

/** The sheets of a show and, with its other diagrams, that of the signal that the user looks at. */
export function offered(
  analysis: Analysis,
  sheets: readonly SheetEntry[],
  focus: Focus | null,
): readonly SheetEntry[] {
  const signal = signalAt(focus);
  if (!signal) return sheets;
  const lists = sheets.findIndex(({ kind }) => kind !== "diagram");
  return sheets.toSpliced(lists < 0 ? sheets.length : lists, 0, signalDiagram(analysis, signal));
}

function signalAt(focus: Focus | null): Signal | null {
  if (focus?.kind === "terminal") return { kind: "jack", at: focus.terminal };
  return focus?.kind === "source" ? { kind: "source", source: focus.source } : null;
}

/** Sheets by their kinds, in the set's order. */
export function byKind(
  entries: readonly SheetEntry[],
): readonly { readonly kind: SheetKind; readonly entries: readonly SheetEntry[] }[] {
  const kinds = new Map<SheetKind, SheetEntry[]>();
  for (const entry of entries) kinds.set(entry.kind, [...(kinds.get(entry.kind) ?? []), entry]);
  return [...kinds].map(([kind, of]) => ({ kind, entries: of }));
}

export function toggled(
  chosen: ReadonlySet<string>,
  ids: readonly string[],
  on: boolean,
): ReadonlySet<string> {
  const next = new Set(chosen);
  for (const id of ids) {
    if (on) next.add(id);
    else next.delete(id);
  }
  return next;
}

/** Sheets that are about one device or place, by its name: the end of their ids. */
export interface Subject {
  readonly tail: string;
  readonly name: string;
}

/** What single sheets are about, for whoever wants all sheets of one console or place. */
export function subjectsOf(entries: readonly SheetEntry[], show: Show): readonly Subject[] {
  const tails = new Set(entries.flatMap(({ id }) => tailOf(id) ?? []));
  const names = new Map([...show.devices, ...show.places].map(({ name }) => [slug(name), name]));
  return [...names].flatMap(([tail, name]) => (tails.has(tail) ? [{ tail, name }] : []));
}

export const tailOf = (id: string): string | null => /\/(.+)$/.exec(id)?.[1] ?? null;

/** The revision that making papers marks; null where the show has one of what it is. */
export function revisionToMark(show: Show, marks: boolean): { readonly name: string } | null {
  return marks && changedSinceRevision(show) ? { name: nextRevisionName(show.revisions) } : null;
}

/** How sheets are made: of the show as it will be once it is printed, so that the preview has the same foot as the print. */
export function orderOf(show: Show, choice: Omit<Choice, "chosen">, date: string): SheetOrder {
  const mark = revisionToMark(show, choice.marks);
  return {
    job: {
      paper: choice.paper,
      listPaper: choice.listPaper,
      date,
      author: choice.author,
      labels: {
        strips: { perRow: choice.perRow, digits: choice.digits },
        tags: { on: choice.tagsOn, startAt: choice.startAt, order: choice.tagOrder },
      },
    },
    diagram: { arrangement: choice.arrangement, delays: choice.delays },
    mark: mark && { name: mark.name, date },
  };
}

/** What the show keeps of the choice. */
export function editsFor(show: Show, choice: Choice, entries: readonly SheetEntry[]): readonly Edit[] {
  const { paper, listPaper, author, arrangement, delays, perRow, digits, tagsOn, tagOrder, chosen } = choice;
  const diagram = {
    ...(arrangement === "tidy" ? {} : { arrangement }),
    ...(delays ? { delays } : {}),
  };
  const strips = { ...(perRow === "fit" ? {} : { perRow }), ...(digits ? { digits } : {}) };
  const tags = {
    ...(tagsOn === "plain" ? {} : { on: tagsOn }),
    ...(tagOrder === "cable" ? {} : { order: tagOrder }),
  };
  const paperwork: Paperwork = {
    ...(author === "" ? {} : { author }),
    sheets: namesOfSheets(entries, chosen),
    ...(listPaper === paperOfLists(paper) ? {} : { listPaper }),
    ...filled({ diagram, strips, tags }),
  };
  return [
    ...(paper === show.settings.paper
      ? []
      : [{ kind: "settings", settings: { ...show.settings, paper } } as const]),
    { kind: "paperwork", paperwork },
  ];
}

/** Without what says nothing. */
const filled = <Parts extends Readonly<Record<string, object>>>(parts: Parts): Partial<Parts> =>
  Object.fromEntries(
    Object.entries(parts).filter(([, part]) => Object.keys(part).length > 0),
  ) as Partial<Parts>;

/** `printed: 34 pages of Input lists, Worksheets`. */
export function noteOf(pages: number, kinds: readonly string[]): string {
  return `printed: ${pages} ${pages === 1 ? "page" : "pages"} of ${kinds.join(", ")}`;
}
