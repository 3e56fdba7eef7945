/** The worker's side: keeps the document and its analysis, and answers each edit with what it changes. */
import { analyse, pack, reanalyse, wayFor, type Analysis } from "#engine";
import type { Answer, Question } from "./analyst.ts";
import { applyDelta } from "./delta.ts";

export function answers(): (question: Question) => Answer {
  let last: Analysis | null = null;
  return (question) => {
    if (question.kind === "way") {
      const { serial, sources, targets } = question;
      if (!last) throw new Error("a way before any show");
      const found = wayFor(last, sources, targets);
      if (found.kind === "none") return { kind: "way", serial, none: found };
      const { after, ...way } = found;
      return { kind: "way", serial, none: null, way, after: pack(after, last) };
    }
    const show = applyDelta(last?.show ?? null, question.delta);
    const analysis: Analysis = last ? reanalyse(show, last) : analyse(show);
    const parcel = pack(analysis, last);
    last = analysis;
    return { kind: "show", parcel };
  };
}
