/** The reports as text for a terminal. */
import {
  distanceName,
  metres,
  rateName,
  round,
  temperatureName,
  VERDICT_NAMES,
  type AtReport,
  type DelaysReport,
  type DifferenceReport,
  type SampleRate,
  type FindingsReport,
  type OwnersReport,
  type Settings,
  type TraceReport,
  type TracesReport,
} from "#engine";
import type { ExportReport } from "./export.ts";

/** What a terminal may get: of a show's names no control characters, which could move its cursor or change its colours. */
export const forTerminal = (text: string): string => text.replaceAll(/(?!\n)\p{Cc}/gu, "\u{FFFD}");

const ms = (time: number): string => `${time.toFixed(3)} ms`;

/** At what everything below was taken. */
export function atText({ revision, off, pulled }: AtReport): string {
  const then = revision ? [`revision ${[revision.name, revision.date].filter(Boolean).join(", ")}`] : [];
  const parts = [...then, ...off.map((name) => `${name} off`), ...pulled.map((tag) => `cable ${tag} pulled`)];
  return `At: ${parts.join(", ")}\n\n`;
}

export function tracesText({ source, traces }: TracesReport): string {
  if (source !== undefined) return sourceText(source, traces);
  return traces.length === 1 ? traceText(traces[0]!) : listText(traces);
}

/** One trace, hop by hop, with the running delay on the right. */
function traceText(trace: TraceReport): string {
  const lines = [
    `${trace.label}: ${VERDICT_NAMES[trace.verdict]}`,
    `  ${trace.reason}`,
    ...(trace.wants.length > 0 ? [`  wanted for ${trace.wants.join(", ")}`] : []),
    `  owner: ${trace.owner ?? "none"}; gatekeepers: ${trace.gatekeepers.join(", ")}; ${ms(trace.delayMs)}`,
  ];
  let running = 0;
  for (const hop of trace.hops) {
    lines.push(`  ${hop.device}`);
    for (const step of hop.steps) {
      running += step.delayMs;
      const way = step.from === step.to ? step.to : `${step.from} → ${step.to}`;
      lines.push(`    ${step.kind.padEnd(9)} ${way}  [${step.by}]  ${ms(running)}`);
    }
  }
  return `${lines.join("\n")}\n`;
}

/** Many traces, a line each. */
function listText(traces: readonly TraceReport[]): string {
  const rows = traces.map((trace) => [
    trace.label,
    trace.verdict === "arrives" ? (trace.origin ?? "") : VERDICT_NAMES[trace.verdict],
    trace.owner ?? "–",
    trace.verdict === "arrives" ? ms(trace.delayMs) : "",
    trace.wants.join(", "),
  ]);
  return table(["Jack", "From", "Owner", "Delay", "Wanted for"], rows);
}

function sourceText(source: string, traces: readonly TraceReport[]): string {
  const rows = traces.map((trace) => {
    const mixes = trace.hops.flatMap(({ steps }) => steps.filter(({ kind }) => kind === "mixed"));
    return [trace.label, mixes.map(({ by }) => by).join(" → "), ms(trace.delayMs), trace.wants.join(", ")];
  });
  const head = `${source} reaches ${new Set(traces.map(({ label }) => label)).size} jacks\n`;
  return rows.length > 0 ? `${head}\n${table(["Jack", "Through", "Delay", "Wanted for"], rows)}` : head;
}

export function delaysText(report: DelaysReport, units: Settings["units"]): string {
  const { jacks, group, difference, missing, spreadMs, spreadSamples, sampleRate } = report;
  const rate = rateName(sampleRate as SampleRate);
  const arriving = jacks.filter(({ delayMs }) => delayMs !== null);
  const rows = jacks.map(({ label, verdict, origin, delayMs, afterMs, afterSamples, wants }) => [
    label,
    origin ?? VERDICT_NAMES[verdict],
    delayMs === null ? "–" : ms(delayMs),
    afterMs === null ? "–" : `${ms(afterMs)}, ${count(afterSamples!, 2, "sample")}`,
    wants.join(", "),
  ]);
  const lines = [
    `Delays, each counted from ${report.countedFrom}; samples at ${rate}, air at ${temperatureName(report.celsius, units)}`,
    ...(group ? [`Group ${group.name}, which may arrive within ${ms(group.withinMs)}`] : []),
    "",
    table(["Jack", "From", "Delay", "Behind the first", "Wanted for"], rows),
    ...jacks.filter(({ delayMs }) => delayMs === null).map(({ label, reason }) => `${label}: ${reason}`),
    ...missing.map((name) => `${name} is not in the rig`),
    ...(difference ? [differenceText(difference, units)] : []),
    ...(arriving.length > 1
      ? [`From the first to the last: ${ms(spreadMs)}, ${count(spreadSamples, 2, "sample")}`]
      : []),
    ...(report.oneOrigin
      ? []
      : ["They come from different taps or sources: what lies before those is not in."]),
  ];
  return `${lines.join("\n")}\n`;
}

function differenceText(
  { first, second, laterMs, samples, metres: far, firstNullHz }: DifferenceReport,
  units: Settings["units"],
): string {
  if (firstNullHz === null) return `${first} and ${second} arrive together`;
  const [early, late] = laterMs > 0 ? [first, second] : [second, first];
  const apart = `${ms(Math.abs(laterMs))}, ${count(Math.abs(samples), 2, "sample")}`;
  return `${late} arrives after ${early}: ${apart}, ${distanceName(metres(far), units)} of air, first null at ${firstNullHz} Hz`;
}

const count = (number: number, digits: number, what: string): string => {
  const told = String(round(number, digits));
  return `${told} ${what}${told === "1" ? "" : "s"}`;
};

export function ownersText({ blocks }: OwnersReport): string {
  const rows = blocks.map((block) => [
    block.device,
    block.label,
    block.owners.length > 0 ? block.owners.join(", ") : "–",
    block.state === "partly fed"
      ? `${block.state}, ${block.fed} of ${block.last - block.first + 1}`
      : block.state,
    block.gatekeepers.join(", "),
  ]);
  return table(["Device", "Block", "Owner", "State", "Gatekeepers"], rows);
}

export const exportText = ({ files }: ExportReport): string =>
  files.map(({ path }) => `wrote ${path}\n`).join("");

export function findingsText({ findings }: FindingsReport): string {
  if (findings.length === 0) return "Nothing found.\n";
  const count = (severity: string, name: string): string[] => {
    const number = findings.filter((finding) => finding.severity === severity).length;
    return number === 0 ? [] : [`${number} ${name}${number === 1 ? "" : "s"}`];
  };
  const head = [...count("error", "error"), ...count("warning", "warning"), ...count("note", "note")].join(
    ", ",
  );
  const entries = findings.map(
    ({ severity, title, reason, check }) => `${severity.toUpperCase()}  ${title}  (${check})\n    ${reason}`,
  );
  return `${head}\n\n${entries.join("\n\n")}\n`;
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = head.map((title, column) =>
    Math.max(title.length, ...rows.map((row) => row[column]!.length)),
  );
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, column) => cell.padEnd(widths[column]!))
      .join("  ")
      .trimEnd();
  return `${[head, ...rows].map(line).join("\n")}\n`;
}
