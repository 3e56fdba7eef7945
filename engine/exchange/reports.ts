/**
 * What the headless program prints as JSON. Each report names its format and version; a field is never taken away or
 * changed in meaning within one version. Delays are milliseconds.
 */
import type { Analysis } from "../analysis.ts";
import type { Finding } from "../findings/finding.ts";
import type { DeviceId } from "../model/ids.ts";
import { round } from "../model/units.ts";
import type { At } from "../trace/at.ts";
import { blockGatekeepers, outputBlocks, outputJacks, ownerThrough } from "../trace/owners.ts";
import { reachOf } from "../trace/reach.ts";
import { cablesById, wantNames, wantsById } from "../trace/records.ts";
import { findTerminal, locate, sideName, spanRun } from "../trace/terminal.ts";
import { decidedBy, originName, terminalName, verdictText } from "../trace/told.ts";
import { gatekeepers, type Trace, type VerdictKind } from "../trace/trace.ts";
import { traceOf } from "../trace/walk.ts";
import type { Wiring } from "../wiring/wiring.ts";

/** At what a report was taken, where that isn't the show as the file has it. */
export interface AtReport {
  readonly revision?: { readonly name: string; readonly date: string };
  readonly off: readonly string[];
  readonly pulled: readonly string[];
}

/** A cable without a tag is told by its id. */
export const atReport = ({ revision, off, pulled }: At): AtReport => ({
  ...(revision ? { revision: { name: revision.name, date: revision.date } } : {}),
  off: off.map(({ name }) => name),
  pulled: pulled.map(({ tag, id }) => tag || id),
});

/** The report with `at` beside its format. */
export function takenAt<Report extends { readonly format: string }>(
  { format, ...rest }: Report,
  at: AtReport,
): Report & { readonly at: AtReport } {
  return { format, at, ...rest } as unknown as Report & { readonly at: AtReport };
}

export interface StepReport {
  readonly kind: string;
  readonly from: string;
  readonly to: string;
  /** The cable, setting or mode that decides the step. */
  readonly by: string;
  readonly delayMs: number;
}

export interface TraceReport {
  readonly device: string;
  readonly bank: string;
  readonly number: number;
  readonly label: string;
  readonly verdict: VerdictKind;
  /** The verdict in words, with where and how many. */
  readonly reason: string;
  readonly owner: string | null;
  readonly origin: string | null;
  readonly delayMs: number;
  readonly wants: readonly string[];
  readonly gatekeepers: readonly string[];
  readonly hops: readonly { readonly device: string; readonly steps: readonly StepReport[] }[];
}

export interface TracesReport {
  readonly format: "hopline.trace/1";
  readonly at?: AtReport;
  readonly source?: string;
  readonly traces: readonly TraceReport[];
}

/** Far below a sample, far above what adding up floating-point numbers leaves behind. */
export const delayMs = (time: number): number => round(time, 6);

const deviceName = (wiring: Wiring, id: DeviceId): string =>
  wiring.show.devices[wiring.indexOf.get(id) ?? -1]?.name ?? id;

export function traceReport({ wiring, arrivals }: Analysis, trace: Trace): TraceReport {
  const { target, verdict } = trace;
  const number = findTerminal(wiring, target)!;
  const owner = ownerThrough(wiring, arrivals, trace);
  return {
    device: deviceName(wiring, target.device),
    bank: sideName(locate(wiring, number).span),
    number: target.number,
    label: terminalName(wiring, target),
    verdict: verdict.kind,
    reason: verdictText(wiring, trace),
    owner: owner === null ? null : deviceName(wiring, owner),
    origin: verdict.kind === "arrives" ? originName(wiring, verdict.origin) : null,
    delayMs: delayMs(trace.delay),
    wants: wantNames(wiring, number),
    gatekeepers: gatekeepers(trace).map((id) => deviceName(wiring, id)),
    hops: trace.hops.map((hop) => ({
      device: deviceName(wiring, hop.device),
      steps: hop.steps.map((step) => ({
        kind: step.kind,
        from: terminalName(wiring, step.from),
        to: terminalName(wiring, step.to),
        by: decidedBy(wiring, step),
        delayMs: delayMs(step.delay),
      })),
    })),
  };
}

/** One trace for each output jack of the rig, in the show's order. */
export function allTraces(analysis: Analysis): TracesReport {
  const { wiring } = analysis;
  const traces = wiring.devices.flatMap((wired) =>
    (wired ? outputJacks(wired) : []).flatMap(({ span, first }) =>
      Array.from({ length: span.count }, (_, n) => traceReport(analysis, traceOf(wiring, first + n))),
    ),
  );
  return { format: "hopline.trace/1", traces };
}

export const oneTrace = (analysis: Analysis, terminal: number): TracesReport => ({
  format: "hopline.trace/1",
  traces: [traceReport(analysis, traceOf(analysis.wiring, terminal))],
});

/** One trace for each branch from a source to a jack. */
export function sourceTraces(analysis: Analysis, sourceIndex: number): TracesReport {
  const { wiring } = analysis;
  const source = wiring.show.sources[sourceIndex]!;
  const start = findTerminal(wiring, source.at);
  const traces = start === null ? [] : reachOf(wiring, start).traces;
  return {
    format: "hopline.trace/1",
    source: source.name,
    traces: traces.map((trace) => traceReport(analysis, trace)),
  };
}

export interface BlockReport {
  readonly device: string;
  readonly bank: string;
  /** The block's signals, numbered within the bank: a jack that carries a pair has two. */
  readonly first: number;
  readonly last: number;
  /** `Out 1–8`: bank and jacks. */
  readonly label: string;
  readonly state: string;
  readonly owners: readonly string[];
  readonly fed: number;
  readonly gatekeepers: readonly string[];
}

export interface OwnersReport {
  readonly format: "hopline.owners/1";
  readonly at?: AtReport;
  readonly blocks: readonly BlockReport[];
}

export function ownersReport({ wiring, arrivals }: Analysis): OwnersReport {
  const blocks = wiring.devices.flatMap((wired) =>
    (wired ? outputBlocks(wiring, arrivals, wired) : []).map((block) => ({
      device: block.wired.device.name,
      bank: sideName(block.span),
      first: block.first,
      last: block.last,
      label: spanRun(block.span, block.first, block.last - block.first + 1),
      state: block.state,
      owners: block.owners.map((id) => deviceName(wiring, id)),
      fed: block.fed,
      gatekeepers: blockGatekeepers(wiring, block).map((id) => deviceName(wiring, id)),
    })),
  );
  return { format: "hopline.owners/1", blocks };
}

export interface FindingsReport {
  readonly format: "hopline.findings/1";
  readonly at?: AtReport;
  readonly findings: readonly {
    readonly id: string;
    readonly check: string;
    readonly severity: Finding["severity"];
    readonly title: string;
    readonly reason: string;
    readonly terminals: readonly string[];
    readonly devices: readonly string[];
    readonly cables: readonly string[];
    readonly wants: readonly string[];
  }[];
}

export function findingsReport({ wiring, findings }: Analysis): FindingsReport {
  return {
    format: "hopline.findings/1",
    findings: findings.map(({ id, check, severity, title, reason, terminals, devices, cables, wants }) => ({
      id,
      check,
      severity,
      title,
      reason,
      terminals: terminals.map((terminal) => terminalName(wiring, terminal)),
      devices: [...new Set(devices)].map((device) => deviceName(wiring, device)),
      cables: cables.map((cable) => cablesById(wiring.show).get(cable)?.tag || cable),
      wants: wants.map((want) => wantsById(wiring.show).get(want)?.name ?? want),
    })),
  };
}
