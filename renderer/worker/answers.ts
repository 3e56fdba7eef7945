/** The worker's side: keeps the document and its analysis, and answers each edit with what it changes. */
import { analyse, pack, reanalyse, type Analysis, type Parcel } from "#engine";
import type { Question } from "./analyst.ts";
import { applyDelta } from "./delta.ts";

export function answers(): (question: Question) => Parcel {
  let last: Analysis | null = null;
  return ({ delta }) => {
    const show = applyDelta(last?.show ?? null, delta);
    const analysis: Analysis = last ? reanalyse(show, last) : analyse(show);
    const parcel = pack(analysis, last);
    last = analysis;
    return parcel;
  };
}
