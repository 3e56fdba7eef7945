/** Everything that follows from a show: its wiring, how each trace ends, and what is wrong. */
import { findAgain, findEach, listed, type FoundBy } from "./findings/checks.ts";
import type { Finding } from "./findings/finding.ts";
import type { Show } from "./model/show.ts";
import { arrivals, rearrive, type Arrivals } from "./trace/arrivals.ts";
import { compile, recompile } from "./wiring/compile.ts";
import type { Away, Wiring } from "./wiring/wiring.ts";

/** What arrives where in a show, with nothing checked. */
export interface Unchecked {
  readonly show: Show;
  /** What was switched off or pulled for this look at it. */
  readonly away: Away;
  readonly wiring: Wiring;
  readonly arrivals: Arrivals;
}

export interface Analysis extends Unchecked {
  /** Errors first. */
  readonly findings: readonly Finding[];
  /** The same, check by check. */
  readonly foundBy: FoundBy;
}

/** Analyses a show from scratch, with devices off or cables pulled if need be. */
export function analyse(show: Show, away: Away = {}): Analysis {
  const wiring = compile(show, away);
  const found = arrivals(wiring);
  const foundBy = findEach({ wiring, arrivals: found });
  return { show, away, wiring, arrivals: found, findings: listed(foundBy), foundBy };
}

/**
 * Analyses a show after an edit, with the same taken away as before. Says the same as `analyse`, and does again only what
 * the edit touches: records that are the same objects as before count as unchanged.
 */
export const reanalyse = (show: Show, before: Analysis): Analysis => checked(rewired(show, before), before);

/** A show after an edit, with nothing checked. */
export function rewired(show: Show, before: Unchecked): Unchecked {
  if (show === before.show) return before;
  const { away } = before;
  const compiled = recompile(show, away, before.wiring);
  const { wiring } = compiled;
  return { show, away, wiring, arrivals: rearrive(compiled, before.wiring, before.arrivals) };
}

/** A rig with its findings. `before`: the same before some edits. */
export function checked(rig: Unchecked, before: Analysis): Analysis {
  if (rig === before) return before;
  const foundBy = findAgain(rig, before, before.foundBy);
  return { ...rig, findings: listed(foundBy), foundBy };
}
