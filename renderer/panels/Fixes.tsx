/** Ways out of a finding, each a press. */
import { useMemo } from "react";
import { fixesOf, type Finding, type Fix } from "#engine";
import { app, onceAnalysed, useApp } from "../state/store.ts";

export function useFixes(finding: Finding): readonly Fix[] {
  const analysis = useApp((state) => state.analysis);
  return useMemo(() => fixesOf(analysis, finding), [analysis, finding]);
}

export const fixesTitle = (fixes: readonly Fix[]): string => (fixes.length === 1 ? "A way out" : "Ways out");

/** While the engine is at work a way out could undo what was edited since, so it is looked for in what is found then. */
function take({ id }: Finding, label: string): void {
  onceAnalysed(() => {
    const { analysis, change } = app.getState();
    const finding = analysis.findings.find((each) => each.id === id);
    const fix = finding && fixesOf(analysis, finding).find((each) => each.label === label);
    if (fix) change({ kind: "edits", edits: fix.edits }, label);
  });
}

export function FixList({ finding, fixes }: { finding: Finding; fixes: readonly Fix[] }) {
  return (
    <ul className="fixes">
      {fixes.map(({ label }) => (
        <li key={label}>
          <button type="button" className="button" onClick={() => take(finding, label)}>
            {label}
          </button>
        </li>
      ))}
    </ul>
  );
}
