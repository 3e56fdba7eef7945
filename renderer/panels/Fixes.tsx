/** Ways out of a finding, each a press. */
import { useMemo } from "react";
import { fixesOf, type Finding, type Fix } from "#engine";
import { app, useApp } from "../state/store.ts";

export function useFixes(finding: Finding): readonly Fix[] {
  const analysis = useApp((state) => state.analysis);
  return useMemo(() => fixesOf(analysis, finding), [analysis, finding]);
}

export const fixesTitle = (fixes: readonly Fix[]): string => (fixes.length === 1 ? "A way out" : "Ways out");

export function FixList({ fixes }: { fixes: readonly Fix[] }) {
  // While the engine is at work a way out could undo what was edited since.
  const current = useApp((state) => state.analysis.show === state.show);
  return (
    <ul className="fixes">
      {fixes.map(({ label, edits }) => (
        <li key={label}>
          <button
            type="button"
            className="button"
            disabled={!current}
            onClick={() => app.getState().change({ kind: "edits", edits }, label)}
          >
            {label}
          </button>
        </li>
      ))}
    </ul>
  );
}
