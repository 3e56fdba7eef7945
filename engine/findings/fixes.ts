/**
 * Ways out of a finding. A check proposes; what is offered has been tried on a copy of the show, so that nothing is
 * offered that leaves the fault in place or breaks something else.
 */
import { reanalyse, type Analysis } from "../analysis.ts";
import { applyEdits } from "../model/edit.ts";
import { arrivesAt } from "../trace/owners.ts";
import { terminalOf } from "../trace/terminal.ts";
import { CHECKS } from "./checks.ts";
import { plannedFeeds } from "./feeds.ts";
import { SEVERITIES, type Finding, type Fix, type Severity } from "./finding.ts";

const checkById = new Map(CHECKS.map((check) => [check.id, check]));

/** The fixes that clear a finding and bring no new error, nor anything new as severe as the finding itself. */
export function fixesOf(analysis: Analysis, finding: Finding): readonly Fix[] {
  const proposals = checkById.get(finding.check)?.propose?.(analysis, finding) ?? [];
  return proposals.length === 0 ? [] : proposals.filter(clearing(analysis, finding));
}

/** Whether a fix does. What stood before is the same for all of them. */
function clearing(analysis: Analysis, finding: Finding): (fix: Fix) => boolean {
  const errors = new Set(analysis.findings.flatMap(facts));
  const ids = new Set(analysis.findings.map(({ id, severity }) => `${severity} ${id}`));
  const dark = OF_CLOCKS.has(finding.check) ? darkOf(analysis) : null;
  return ({ edits }) => {
    const rig = reanalyse(applyEdits(analysis.show, edits), analysis);
    const after = rig.findings;
    if (after.some(({ id }) => id === finding.id)) return false;
    // What was dark for its clock may lack a setting too, which shows only now.
    const laidBare = dark !== null && isWithin(darkOf(rig), dark);
    return after.every((found) => {
      if (found.check === "dark-feed" && laidBare) return true;
      if (found.severity === "error") return facts(found).every((fact) => errors.has(fact));
      return rank(found.severity) > rank(finding.severity) || ids.has(`${found.severity} ${found.id}`);
    });
  };
}

/** Checks whose faults darken whole devices, so that what else the feeds there lack is hidden behind them. */
const OF_CLOCKS: ReadonlySet<string> = new Set(["clock-mismatch", "clock-source"]);

/** The planned feeds that don't arrive. */
const darkOf = ({ wiring, arrivals }: Analysis): ReadonlySet<string> =>
  new Set(
    plannedFeeds(wiring)
      .filter(({ terminal }) => !arrivesAt(wiring, arrivals, terminal))
      .map(({ terminal }) => JSON.stringify(terminalOf(wiring, terminal))),
  );

const isWithin = (some: ReadonlySet<string>, all: ReadonlySet<string>): boolean =>
  [...some].every((each) => all.has(each));

const rank = (severity: Severity): number => SEVERITIES.indexOf(severity);

/**
 * What an error holds, one by one. One finding may gather many feeds, so that its id alone doesn't show whether it has
 * got worse.
 */
function facts({ id, check, severity, terminals, cables, wants }: Finding): readonly string[] {
  if (severity !== "error") return [];
  return [
    id,
    ...terminals.map(({ device, group, side, number }) => `${check} ${device}:${group}:${side}:${number}`),
    ...cables.map((cable) => `${check} cable ${cable}`),
    ...wants.map((want) => `${check} want ${want}`),
  ];
}
