/** What `headless compare delays` prints as JSON: jacks against each other, in the order in which they arrive. */
import type { Analysis } from "../analysis.ts";
import type { ArrivalGroup, TerminalRef } from "../model/show.ts";
import { ms, msToSamples, round } from "../model/units.ts";
import { compareDelays, EQUAL_WITHIN, spreadOf } from "../trace/delays.ts";
import { findTerminal } from "../trace/terminal.ts";
import type { VerdictKind } from "../trace/trace.ts";
import { traceOf } from "../trace/walk.ts";
import { delayMs, traceReport, type AtReport } from "./reports.ts";

/** A jack that doesn't arrive has no delay: `delayMs`, `afterMs` and `afterSamples` are null. */
export interface DelayOfJack {
  readonly label: string;
  readonly wants: readonly string[];
  readonly verdict: VerdictKind;
  readonly reason: string;
  readonly origin: string | null;
  readonly delayMs: number | null;
  /** Behind the first that arrives. */
  readonly afterMs: number | null;
  readonly afterSamples: number | null;
}

export interface DelaysReport {
  readonly format: "hopline.compare-delays/1";
  readonly at?: AtReport;
  readonly countedFrom: "the tap or source that each trace ends at";
  /** Whether all that arrive come from one tap or source, so that the figures have one start. */
  readonly oneOrigin: boolean;
  readonly celsius: number;
  /** In hertz; samples count at this one. */
  readonly sampleRate: number;
  /** The group that was asked for, and how far apart it may arrive. */
  readonly group?: { readonly name: string; readonly withinMs: number };
  /** Those that arrive in the order in which they do, then the others in the order in which they were named. */
  readonly jacks: readonly DelayOfJack[];
  /** Members of the group that name nothing in the rig, as `device group number`. */
  readonly missing: readonly string[];
  readonly spreadMs: number;
  readonly spreadSamples: number;
  /** Of exactly two jacks that both arrive: the second as named against the first; else null. */
  readonly difference: DifferenceReport | null;
}

export interface DifferenceReport {
  readonly first: string;
  readonly second: string;
  /** How much later the second arrives; negative where it is the earlier one. */
  readonly laterMs: number;
  readonly samples: number;
  /** How far sound goes in that time. */
  readonly metres: number;
  /** Null where they arrive together. */
  readonly firstNullHz: number | null;
  readonly together: boolean;
}

/** Compares the jacks with these numbers in the wiring, each counted once. */
export function delaysReport(
  analysis: Analysis,
  terminals: readonly number[],
  celsius: number,
): DelaysReport {
  const { wiring, arrivals, show } = analysis;
  const { sampleRate } = show.settings;
  const named = [...new Set(terminals)];
  const { arrivals: arriving, spread } = spreadOf(wiring, arrivals, named);
  const samples = (time: number): number => round(msToSamples(ms(time), sampleRate), 3);
  const told = (terminal: number): Omit<DelayOfJack, "delayMs" | "afterMs" | "afterSamples"> => {
    const { label, wants, verdict, reason, origin } = traceReport(analysis, traceOf(wiring, terminal));
    return { label, wants, verdict, reason, origin };
  };
  const there = arriving.map(({ terminal, delay, after }) => ({
    ...told(terminal),
    delayMs: delayMs(delay),
    afterMs: delayMs(after),
    afterSamples: samples(after),
  }));
  const arrived = new Set(arriving.map(({ terminal }) => terminal));
  const dark = named.filter((terminal) => !arrived.has(terminal));
  return {
    format: "hopline.compare-delays/1",
    countedFrom: "the tap or source that each trace ends at",
    oneOrigin: new Set(arriving.map(({ terminal }) => arrivals.root[terminal]!)).size <= 1,
    celsius,
    sampleRate,
    jacks: [
      ...there,
      ...dark.map((terminal) => ({ ...told(terminal), delayMs: null, afterMs: null, afterSamples: null })),
    ],
    missing: [],
    spreadMs: delayMs(spread),
    spreadSamples: samples(spread),
    difference: named.length === 2 && dark.length === 0 ? difference() : null,
  };

  function difference(): DifferenceReport {
    const [first, second] = named as [number, number];
    const { delay } = arrivals;
    const found = compareDelays(ms(delay[first]!), ms(delay[second]!), sampleRate, celsius);
    return {
      first: told(first).label,
      second: told(second).label,
      laterMs: delayMs(found.later),
      samples: round(found.samples, 3),
      metres: round(found.distance, 4),
      firstNullHz: found.together ? null : round(found.firstNull, 1),
      together: found.together,
    };
  }
}

/** The same of a group's members. */
export function groupDelays(analysis: Analysis, group: ArrivalGroup, celsius: number): DelaysReport {
  const numbers: number[] = [];
  const missing: string[] = [];
  for (const member of group.members) {
    const terminal = findTerminal(analysis.wiring, member);
    if (terminal === null) missing.push(refText(member));
    else numbers.push(terminal);
  }
  const { format, countedFrom, oneOrigin, ...rest } = delaysReport(analysis, numbers, celsius);
  return {
    format,
    countedFrom,
    oneOrigin,
    group: { name: group.name, withinMs: group.within ?? EQUAL_WITHIN },
    ...rest,
    missing,
  };
}

const refText = ({ device, group, number }: TerminalRef): string => `${device} ${group} ${number}`;
