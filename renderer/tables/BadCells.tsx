/** Cells that can't be read, told one by one before anything is written. */
import { Frame } from "../dialogs/Frame.tsx";
import { plural } from "../words/verdicts.ts";
import type { Outcome } from "./write.ts";

interface Props {
  readonly outcome: Outcome;
  /** What is being done, such as `paste`. */
  readonly doing: string;
  /** Looks at what was pasted column by column. */
  readonly onMatch: (() => void) | null;
  readonly onAnswer: (takeTheRest: boolean) => void;
}

export function BadCells({ outcome: { bad, added, changed }, doing, onMatch, onAnswer }: Props) {
  const rest = [
    added > 0 ? `${plural(added, "row", "rows")} added` : "",
    changed > 0 ? `${plural(changed, "row", "rows")} changed` : "",
  ].filter(Boolean);
  return (
    <Frame
      question
      wide
      title={`${plural(bad.length, "cell", "cells")} can’t be read`}
      onClose={() => onAnswer(false)}
      buttons={
        <>
          {onMatch && (
            <button type="button" className="button" onClick={onMatch}>
              Match its columns…
            </button>
          )}
          <span className="spring" />
          <button type="button" className="button" onClick={() => onAnswer(false)}>
            Cancel the {doing}
          </button>
          <button type="button" className="button main" autoFocus onClick={() => onAnswer(true)}>
            Leave these out
          </button>
        </>
      }
    >
      <p>
        {rest.length > 0
          ? `Without them the ${doing} means ${rest.join(", ")}.`
          : `Without them the ${doing} changes nothing.`}{" "}
        New rows that lack something stay at the end until they are whole.
      </p>
      <BadList bad={bad} />
    </Frame>
  );
}

const MOST_SHOWN = 200;

export function BadList({
  bad,
  rowName = (row) => String(row + 1),
}: {
  bad: Outcome["bad"];
  rowName?: (row: number) => string;
}) {
  return (
    <div className="bad-cells">
      <table>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Column</th>
            <th scope="col">Cell</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {bad.slice(0, MOST_SHOWN).map(({ row, column, heading, text, reason }) => (
            <tr key={`${row}:${column}`}>
              <td className="number">{rowName(row)}</td>
              <td>{heading}</td>
              <td className="cut">{text}</td>
              <td>{reason}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {bad.length > MOST_SHOWN && <p className="soft">… and {bad.length - MOST_SHOWN} more.</p>}
    </div>
  );
}
