/** The findings on paper, worst first, with what is concerned. */
import type { Analysis } from "../../analysis.ts";
import type { Finding } from "../../findings/finding.ts";
import { findingsReport } from "../../exchange/reports.ts";
import type { PaperTable } from "../block.ts";
import { flowEntry } from "../flow.ts";
import type { SheetEntry } from "./entry.ts";

const GROUPS: Readonly<Record<Finding["severity"], string>> = {
  error: "Errors: something doesn’t work",
  warning: "Warnings: something may go wrong",
  note: "Notes",
};

export function findingsTable(analysis: Analysis): PaperTable {
  const { findings } = findingsReport(analysis);
  const order = Object.keys(GROUPS);
  const sorted = [...findings].sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity));
  return {
    title: "",
    columns: [
      { title: "Rule", grow: 0 },
      { title: "Finding", grow: 1 },
      { title: "Why", grow: 3 },
      { title: "Done", kind: "tick" },
    ],
    rows: sorted.map(({ check, severity, title, reason }) => ({
      cells: [check, { text: title, strong: true }, reason, ""],
      group: GROUPS[severity],
    })),
    empty: "Nothing found.",
  };
}

export const findingsSheets = (analysis: Analysis): SheetEntry[] => [
  flowEntry("findings", {
    id: "findings",
    title: "Findings",
    orientation: "upright",
    blocks: () => [{ kind: "table", table: findingsTable(analysis) }],
  }),
];
