/** The hand-out beside the traces: one line for each thing that it tells otherwise. */
import type { Analysis } from "#engine/analysis.ts";
import { LOOP } from "#engine/trace/arrivals.ts";
import { locate, terminalOf } from "#engine/trace/terminal.ts";
import { traceReport } from "#engine/exchange/reports.ts";
import { VERDICT_NAMES } from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { deviceName, deviceOf, fullName, outcomeOf, traceTo, type Rig } from "../../renderer/handout/rig.ts";

/** Names of a rig may stand there twice, so terminals are matched in their order, which both have. */
export function handoutDifferences(analysis: Analysis, rig: Rig): readonly string[] {
  const { wiring } = analysis;
  const wrong: string[] = [];
  const told = new Set(["jack", "bus"]);
  let node = 0;
  for (let terminal = 0; terminal < wiring.size && node < rig.count; terminal++) {
    const trace = traceOf(wiring, terminal);
    const report = traceReport(analysis, trace);
    if (
      locate(wiring, terminal).wired.index !== deviceOf(rig, node) ||
      report.label !== fullName(rig, node)
    ) {
      // What it doesn't know may be slots and unused buses only.
      if (terminalOf(wiring, terminal).side === "jack") wrong.push(`${report.label} is missing`);
      continue;
    }
    const at = node++;
    if (!told.has(terminalOf(wiring, terminal).side)) continue;
    const outcome = outcomeOf(rig, at);
    const same = (what: string, got: unknown, expected: unknown): void => {
      if (got !== expected) wrong.push(`${report.label}, ${what}: ${String(got)} for ${String(expected)}`);
    };
    same("verdict", outcome.verdict, VERDICT_NAMES[report.verdict]);
    same("reason", outcome.reason, report.verdict === "arrives" ? "" : report.reason);
    same("owner", outcome.owner < 0 ? null : deviceName(rig, outcome.owner), report.owner);
    // A trace that goes on through a join starts before it; the hand-out's starts at it.
    const throughJoin = report.hops.some(({ steps }) => steps.some(({ kind }) => kind === "mixed"));
    const loop = report.verdict === "loop";
    if (throughJoin || (loop && analysis.arrivals.root[terminal] !== LOOP)) continue;
    if (Math.abs(outcome.delay - report.delayMs) > 2e-5) same("delay", outcome.delay, report.delayMs);
    const steps = report.hops.flatMap((hop) => hop.steps.filter(({ kind }) => kind !== "converted"));
    const way = traceTo(rig, at);
    const streamed =
      steps.some(({ kind }) => kind === "streamed") || steps.some(({ by }) => by.includes("stream "));
    if (streamed) continue;
    same(
      "way",
      way
        .slice(loop ? 1 : 0)
        .map((each) => fullName(rig, each))
        .join(" > "),
      [
        ...(steps.length > 0 && !loop ? [steps[0]!.from] : []),
        ...steps.map(({ to }) => to),
        ...(steps.length === 0 && !loop ? [report.label] : []),
      ].join(" > "),
    );
    same(
      "by",
      way
        .slice(1)
        .map((each) => rig.data.texts[rig.by[each]!])
        .join(" > "),
      steps.map(({ by }) => by).join(" > "),
    );
  }
  if (node !== rig.count) wrong.push(`${rig.count - node} nodes are no terminals`);
  return wrong;
}
