/** The side of the papers' worker: makes sheets, and files for other programs, of the one show that it was given. */
import { analyse, dot, graphml, handoutHtml, type Analysis, type Show } from "#engine";
import type { PaperJob, Sheet } from "#engine/paperwork/page.ts";
import type { Elk } from "#engine/paperwork/signal-flow/elk.ts";
import type { DiagramLook } from "#engine/paperwork/signal-flow/plan.ts";
import { signalDiagram } from "#engine/paperwork/sheets/diagram.ts";
import type { Signal } from "#engine/paperwork/sheets/entry.ts";
import { sheetEntries } from "#engine/paperwork/sheets/sheets.ts";

/** How sheets are made, but for the show itself. */
export interface SheetOrder {
  readonly job: Omit<PaperJob, "analysis">;
  readonly diagram: DiagramLook;
  /** The revision that the papers name; null: the show's last. */
  readonly mark: { readonly name: string; readonly date: string } | null;
}

/** A file for other programs. */
export type FileWish =
  | { readonly kind: "graphml" }
  | { readonly kind: "dot" }
  | { readonly kind: "handout"; readonly date: string };

export type PaperQuestion =
  /** Before any other question. `forSheets`: the first of them is a sheet. */
  | { readonly kind: "show"; readonly show: Show; readonly forSheets: boolean }
  | {
      readonly kind: "sheet";
      readonly serial: number;
      readonly id: string;
      /** Null: a sheet of the show's own. */
      readonly signal: Signal | null;
      readonly order: SheetOrder;
    }
  | { readonly kind: "file"; readonly serial: number; readonly wish: FileWish };

export type PaperAnswer =
  | { readonly kind: "sheet"; readonly serial: number; readonly sheet: Sheet }
  | { readonly kind: "file"; readonly serial: number; readonly text: string }
  | { readonly kind: "problem"; readonly serial: number; readonly problem: string };

export function fileOf(analysis: Analysis, wish: FileWish): string {
  switch (wish.kind) {
    case "graphml":
      return graphml(analysis);
    case "dot":
      return dot(analysis);
    case "handout":
      return handoutHtml(analysis, wish.date);
    default:
      return wish satisfies never;
  }
}

/** The job of an order; the same object for the same order, by which much is worked out once for all its sheets. */
export function jobs(analysis: Analysis): (order: SheetOrder) => PaperJob {
  let last: { readonly key: string; readonly job: PaperJob } | null = null;
  return ({ job, mark }) => {
    const key = JSON.stringify([job, mark]);
    if (last?.key !== key) {
      const { show } = analysis;
      const revisions = mark ? [...show.revisions, { ...mark, note: "" }] : show.revisions;
      last = { key, job: { ...job, analysis: { ...analysis, show: { ...show, revisions } } } };
    }
    return last.job;
  };
}

/** Answers one question; none where there is nothing to say. Diagrams wait for the layout library, others don't wait for them. */
export function paperAnswers(
  elk: () => Promise<Elk>,
): (question: PaperQuestion) => Promise<PaperAnswer | null> {
  let known: { readonly analysis: Analysis; readonly jobOf: (order: SheetOrder) => PaperJob } | null = null;
  return async (question) => {
    if (question.kind === "show") {
      const analysis = analyse(question.show);
      known = { analysis, jobOf: jobs(analysis) };
      return null;
    }
    const { serial } = question;
    try {
      if (!known) throw new Error("papers before any show");
      const { analysis, jobOf } = known;
      if (question.kind === "file") return { kind: "file", serial, text: fileOf(analysis, question.wish) };
      const entry = question.signal
        ? signalDiagram(analysis, question.signal)
        : sheetEntries(analysis).find(({ id }) => id === question.id);
      if (!entry) throw new Error(`there is no sheet “${question.id}”`);
      const { order } = question;
      const sheet = await entry.make(jobOf(order), { elk, diagram: order.diagram });
      return { kind: "sheet", serial, sheet };
    } catch (error) {
      return { kind: "problem", serial, problem: error instanceof Error ? error.message : String(error) };
    }
  };
}
