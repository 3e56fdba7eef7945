/** The worker's side: keeps the document and its analysis, and answers each edit with what it changes. */
import {
  analyse,
  changeTypeIn,
  loadShow,
  pack,
  patchPlanned,
  reanalyse,
  wayFor,
  type Analysis,
  type Show,
} from "#engine";
import { drawnAfter } from "../canvas/drawn.ts";
import { wayCounts } from "../canvas/ways.ts";
import type { Answer, Question } from "./analyst.ts";
import { applyDelta } from "./delta.ts";

/** `post`: takes an answer that comes ahead of the one that is returned. */
export function answers(): (question: Question, post: (answer: Answer) => void) => Answer {
  let last: Analysis | null = null;
  /** Read, and to be analysed when the page says so. */
  let waiting: { readonly serial: number; readonly show: Show } | null = null;
  const analysed = (serial: number, show: Show, post: (answer: Answer) => void): Answer => {
    last = analyse(show);
    // The devices can be drawn while ways for the cables are still looked for.
    post({ kind: "read", serial, error: null, parcel: pack(last, null) });
    return { kind: "drawn", show: show.id, drawn: drawnAfter(null, show, wayCounts(last)) };
  };
  return (question, post) => {
    if (question.kind === "type") {
      if (!last) throw new Error("a type before any show");
      return { kind: "type", serial: question.serial, change: changeTypeIn(last, question.type) };
    }
    if (question.kind === "patch") {
      if (!last) throw new Error("patching before any show");
      return { kind: "patch", serial: question.serial, patching: patchPlanned(last, question.what) };
    }
    if (question.kind === "way") {
      const { serial, sources, targets } = question;
      if (!last) throw new Error("a way before any show");
      const found = wayFor(last, sources, targets);
      if (found.kind === "none") return { kind: "way", serial, none: found };
      const { after, ...way } = found;
      return { kind: "way", serial, none: null, way, after: pack(after, last) };
    }
    if (question.kind === "read") {
      const { serial, text, as, waits } = question;
      const loaded = loadShow(text);
      if (!loaded.ok) return { kind: "read", serial, error: loaded.error };
      const show = as === null ? loaded.value : { ...loaded.value, id: as };
      if (waits) {
        waiting = { serial, show };
        return { kind: "seen", serial, show };
      }
      post({ kind: "seen", serial, show });
      return analysed(serial, show, post);
    }
    if (question.kind === "go-on") {
      if (!waiting) throw new Error("no file waits");
      const { serial, show } = waiting;
      waiting = null;
      return analysed(serial, show, post);
    }
    const show = applyDelta(last?.show ?? null, question.delta);
    const analysis: Analysis = last ? reanalyse(show, last) : analyse(show);
    const parcel = pack(analysis, last);
    last = analysis;
    return { kind: "show", parcel };
  };
}
