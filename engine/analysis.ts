/** Everything that follows from a show: its wiring, how each trace ends, and what is wrong. */
import { findAll } from "./findings/checks.ts";
import type { Finding } from "./findings/finding.ts";
import type { Show } from "./model/show.ts";
import { arrivals, type Arrivals } from "./trace/arrivals.ts";
import { compile } from "./wiring/compile.ts";
import type { Away, Wiring } from "./wiring/wiring.ts";

export interface Analysis {
  readonly show: Show;
  /** What was switched off or pulled for this look at it. */
  readonly away: Away;
  readonly wiring: Wiring;
  readonly arrivals: Arrivals;
  readonly findings: readonly Finding[];
}

export function analyse(show: Show, away: Away = {}): Analysis {
  const wiring = compile(show, away);
  const found = arrivals(wiring);
  return { show, away, wiring, arrivals: found, findings: findAll({ wiring, arrivals: found }) };
}
