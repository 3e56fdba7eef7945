/** What using a new version would break, told before it is done; and a file's type that the show has otherwise. */
import { deviceName } from "../words/names.ts";
import { plural, verdictName } from "../words/verdicts.ts";
import type { DeviceChange, EndChange, TypeChange } from "#engine";
import { Frame } from "../dialogs/Frame.tsx";
import { useApp } from "../state/store.ts";
import type { TypeFileAnswer } from "../state/ui.ts";

/** Entries of a list that are told one by one; the rest is counted. */
const MOST_TOLD = 40;

export function UseTypeDialog({
  name,
  change: { devices, lost, ends, findings },
  onAnswer,
}: {
  name: string;
  change: TypeChange;
  onAnswer: (yes: boolean) => void;
}) {
  const analysis = useApp((state) => state.analysis);
  // What is left with nothing to name is told above, each with its reason.
  const others = findings.filter(({ check }) => check !== "dangling");
  return (
    <Frame
      question
      wide
      title={`What the new version of “${name}” changes`}
      onClose={() => onAnswer(false)}
      buttons={
        <>
          <span className="spring" />
          <button type="button" className="button" autoFocus onClick={() => onAnswer(false)}>
            Go on editing
          </button>
          <button type="button" className="button main" onClick={() => onAnswer(true)}>
            Use it
          </button>
        </>
      }
    >
      <div className="use-type">
        <p>
          {plural(devices.length, "device follows", "devices follow")}:{" "}
          {devices.map((device) => deviceName(analysis, device)).join(", ")}. One undo takes it all back.
        </p>
        {lost.length > 0 && (
          <section>
            <h3>Left with nothing to name ({lost.length})</h3>
            <ul className="plain-list">
              {lost.slice(0, MOST_TOLD).map(({ device, name: what, why }, n) => (
                <li key={n}>
                  {what}, <span className="soft">{deviceName(analysis, device)}:</span> {why}
                </li>
              ))}
              <Rest count={lost.length} />
            </ul>
            <p className="soft small">The records stay as they are; the findings tell of them.</p>
          </section>
        )}
        {ends.length > 0 && (
          <section>
            <h3>Jacks and channels that get something else</h3>
            <ul className="plain-list">
              {ends.map((each) => (
                <li key={each.device}>
                  <details>
                    <summary>
                      {each.name}: {countsOf(each)}
                    </summary>
                    <ul className="plain-list use-ends">
                      {each.ends.slice(0, MOST_TOLD).map((end, n) => (
                        <li key={n}>
                          {end.name}: {stateOf(end.was, "new")} → {stateOf(end.becomes, "gone")}
                        </li>
                      ))}
                      <Rest count={each.ends.length} />
                    </ul>
                  </details>
                </li>
              ))}
            </ul>
          </section>
        )}
        {others.length > 0 && (
          <section>
            <h3>New findings besides ({others.length})</h3>
            <ul className="plain-list">
              {others.slice(0, MOST_TOLD).map(({ id, severity, title }) => (
                <li key={id}>
                  <span className={severity === "error" ? "tone-danger" : "tone-warn"}>{severity}</span>{" "}
                  {title}
                </li>
              ))}
              <Rest count={others.length} />
            </ul>
          </section>
        )}
      </div>
    </Frame>
  );
}

function Rest({ count }: { count: number }) {
  return count > MOST_TOLD ? <li className="soft">and {count - MOST_TOLD} more</li> : null;
}

function countsOf({ dark, lit, moved, other }: DeviceChange): string {
  return [
    dark > 0 ? `${dark} go dark` : "",
    moved > 0 ? `${moved} come from elsewhere` : "",
    lit > 0 ? `${lit} come to life` : "",
    other > 0 ? `${other} stay dark for another reason` : "",
  ]
    .filter(Boolean)
    .join(", ");
}

const stateOf = (end: EndChange["was"], none: string): string =>
  end === null ? none : (end.from ?? verdictName(end.verdict));

export function ImportTypeDialog({
  name,
  present,
  onAnswer,
}: {
  name: string;
  present: string;
  onAnswer: (choice: TypeFileAnswer) => void;
}) {
  return (
    <Frame
      question
      title={`The show has another “${present}”`}
      onClose={() => onAnswer("cancel")}
      buttons={
        <>
          <span className="spring" />
          <button type="button" className="button" onClick={() => onAnswer("cancel")}>
            Cancel
          </button>
          <button type="button" className="button" onClick={() => onAnswer("copy")}>
            As a copy
          </button>
          <button type="button" className="button main" autoFocus onClick={() => onAnswer("version")}>
            As a new version
          </button>
        </>
      }
    >
      <p>
        The file’s “{name}” is meant for the same type and says something else. As a new version the devices
        of that type follow it once you use it; as a copy they stay as they are. Either way it opens as a
        draft first.
      </p>
    </Frame>
  );
}
