/** When outputs arrive, on one axis of time: a group that should arrive together, a device, or what is looked at. */
import { useMemo, useState } from "react";
import {
  arrivesAt,
  compareDelays,
  distanceName,
  EQUAL_WITHIN,
  findTerminal,
  fullName,
  ms,
  ownerIndex,
  outputJacks,
  round,
  spreadOf,
  terminalOf,
  timeAxis,
  temperatureName,
  USUAL_TEMPERATURE,
  type Analysis,
  type Arrival,
  type ArrivalGroup,
  type DeviceId,
  type Spread,
  type TimeAxis,
} from "#engine";
import { Commit } from "../inspector/parts.tsx";
import { OwnerMark } from "../parts/OwnerMark.tsx";
import { boxOutputs } from "../state/derived.ts";
import { app, latest, useApp } from "../state/store.ts";
import { groupOf, lookedAtOutputs, widened } from "../state/groups.ts";
import { ownersOf } from "../theme/owners.ts";
import { namesIn } from "../words/names.ts";
import { msText, plural, samplesText, verdictAt, verdictName } from "../words/verdicts.ts";

interface Choice {
  readonly key: string;
  readonly name: string;
  readonly terminals: readonly number[];
  readonly group: ArrivalGroup | null;
}

export function DelaysPanel() {
  const analysis = useApp((state) => state.analysis);
  const focus = useApp((state) => state.focus);
  const [chosen, setChosen] = useState<string | null>(null);
  const choices = useMemo(() => choicesOf(analysis), [analysis]);
  const looked = useMemo(() => lookedAtOutputs(analysis, focus), [analysis, focus]);
  const all: readonly Choice[] =
    looked.length > 0
      ? [{ key: "looked", name: "What is looked at", terminals: looked, group: null }, ...choices]
      : choices;
  const choice = all.find(({ key }) => key === chosen) ?? choices[0];

  return (
    <section className="panel" aria-labelledby="delays-title">
      <header className="panel-head">
        <h2 id="delays-title">Delays</h2>
        <span className="soft">on one axis</span>
      </header>
      {choice ? (
        <>
          <div className="panel-tools">
            <select
              className="field"
              aria-label="Outputs to compare"
              value={choice.key}
              onChange={(event) => setChosen(event.target.value)}
            >
              {all.map(({ key, name }) => (
                <option key={key} value={key}>
                  {name}
                </option>
              ))}
            </select>
            {choice.group ? (
              <GroupTools analysis={analysis} group={choice.group} looked={looked} />
            ) : (
              <p className="soft small">
                To have outputs watched that should arrive together, look at their block or at one of them,
                then “Make an arrival group” in the Edit menu.
              </p>
            )}
          </div>
          <Picture analysis={analysis} choice={choice} />
        </>
      ) : (
        <p className="soft empty">No device in this show has output jacks.</p>
      )}
    </section>
  );
}

/** The show's groups first, then every device with output jacks. */
function choicesOf(analysis: Analysis): readonly Choice[] {
  const { show, wiring } = analysis;
  const groups = (show.groups ?? []).map((group) => ({
    key: `group:${group.id}`,
    name: group.name,
    terminals: group.members.map((ref) => findTerminal(wiring, ref)).filter((terminal) => terminal !== null),
    group,
  }));
  const devices = boxOutputs(analysis).map(({ wired }) => ({
    key: `device:${wired.device.id}`,
    name: `All outputs of ${wired.device.name}`,
    terminals: outputJacks(wired).flatMap(({ span, first }) =>
      Array.from({ length: span.count }, (_, n) => first + n),
    ),
    group: null,
  }));
  return [...groups, ...devices];
}

function GroupTools({
  analysis,
  group,
  looked,
}: {
  analysis: Analysis;
  group: ArrivalGroup;
  looked: readonly number[];
}) {
  const put = (edit: (now: ArrivalGroup) => ArrivalGroup, label: string): void => {
    const record = edit(latest(({ groups = [] }) => groups, group));
    app.getState().change({ kind: "edits", edits: [{ kind: "put", list: "groups", record }] }, label);
  };
  const within = group.within ?? EQUAL_WITHIN;
  return (
    <div className="group-tools">
      <Commit
        label="Name of the group"
        value={group.name}
        onCommit={(name) => put((now) => ({ ...now, name }), `renaming ${group.name}`)}
      />
      <label className="soft small">
        within
        <Commit
          label="Longest time from first to last, in milliseconds"
          value={String(round(within, 3))}
          onCommit={(text) => {
            const value = Number(text.trim().replace(",", "."));
            if (text.trim() !== "" && Number.isFinite(value) && value >= 0)
              put((now) => ({ ...now, within: ms(value) }), `what counts as together in ${group.name}`);
          }}
        />
        ms
      </label>
      <button
        type="button"
        className="button small"
        disabled={looked.length === 0}
        title="Adds the output jacks that are looked at"
        onClick={() =>
          put((now) => widened(now, groupOf(analysis, looked)), `more outputs for ${group.name}`)
        }
      >
        Add jacks
      </button>
      <button
        type="button"
        className="button small"
        onClick={() =>
          app
            .getState()
            .change(
              { kind: "edits", edits: [{ kind: "remove", list: "groups", id: group.id }] },
              `taking group ${group.name} out`,
            )
        }
      >
        Take out
      </button>
    </div>
  );
}

function Picture({ analysis, choice }: { analysis: Analysis; choice: Choice }) {
  const { wiring, arrivals } = analysis;
  const { terminals, group } = choice;
  const spread = useMemo(() => spreadOf(wiring, arrivals, terminals), [wiring, arrivals, terminals]);
  const dark = terminals.filter((terminal) => !arrivesAt(wiring, arrivals, terminal));
  const first = spread.arrivals[0];
  const last = spread.arrivals.at(-1);
  if (!first || !last) {
    return (
      <p className="soft empty">
        Nothing arrives at {terminals.length === 1 ? "this jack" : "any of these jacks"}.
      </p>
    );
  }
  const axis = timeAxis(first.delay, last.delay);
  const within = group?.within ?? EQUAL_WITHIN;
  return (
    <div className="delays">
      <Summary analysis={analysis} spread={spread} within={within} first={first} last={last} />
      <div className="delay-axis" aria-hidden="true">
        {axis.ticks.map((tick) => (
          <span key={tick} style={{ left: percent(tick, axis) }}>
            {tick.toFixed(axis.digits)}
          </span>
        ))}
        <span className="delay-unit">ms</span>
      </div>
      <ol className="delay-rows" aria-label={`Arrivals of ${choice.name}, first to last`}>
        {spread.arrivals.map((arrival) => (
          <Row
            key={arrival.terminal}
            analysis={analysis}
            arrival={arrival}
            axis={axis}
            span={[first, last]}
            within={within}
          />
        ))}
      </ol>
      {dark.length > 0 && (
        <div className="delay-dark">
          <h3>{plural(dark.length, "jack", "jacks")} with nothing to compare</h3>
          <ul className="plain-list">
            {dark.slice(0, 40).map((terminal) => (
              <li key={terminal} className="count-line">
                <span className="cut">{fullName(wiring, terminal)}</span>
                <span className="soft cut">{verdictName(verdictAt(analysis, terminal))}</span>
              </li>
            ))}
          </ul>
          {dark.length > 40 && <p className="soft small">and {dark.length - 40} more</p>}
        </div>
      )}
    </div>
  );
}

const percent = (time: number, { from, to }: TimeAxis): string =>
  `${round(((time - from) / (to - from)) * 100, 3)}%`;

function Summary({
  analysis: { show },
  spread: { spread, arrivals },
  within,
  first,
  last,
}: {
  analysis: Analysis;
  spread: Spread;
  within: number;
  first: Arrival;
  last: Arrival;
}) {
  const { sampleRate, units, temperature = USUAL_TEMPERATURE } = show.settings;
  const apart = spread > within;
  const { distance, firstNull, together } = compareDelays(first.delay, last.delay, sampleRate, temperature);
  return (
    <p className="delay-summary" data-apart={apart || undefined}>
      <strong>
        {together ? "Together" : `${msText(spread)} ms apart`}
        {arrivals.length > 1 ? "" : ": one arrival"}
      </strong>
      {!together && (
        <span className="soft">
          {" "}
          {samplesText(spread, sampleRate)} samples, {distanceName(distance, units)} of air at{" "}
          {temperatureName(temperature, units)}, first null {Math.round(firstNull)} Hz
        </span>
      )}
    </p>
  );
}

function Row({
  analysis,
  arrival: { terminal, delay, after },
  axis,
  span: [first, last],
  within,
}: {
  analysis: Analysis;
  arrival: Arrival;
  axis: TimeAxis;
  span: readonly [Arrival, Arrival];
  within: number;
}) {
  const { wiring, arrivals, show } = analysis;
  const index = ownerIndex(wiring, arrivals, terminal);
  const device: DeviceId | null = index < 0 ? null : wiring.devices[index]!.device.id;
  const owner = device ? (ownersOf(show).get(device) ?? null) : null;
  const name = fullName(wiring, terminal);
  const called = namesIn(analysis).wantsAt.get(terminal)?.[0]?.name;
  const late = after > within;
  return (
    <li>
      <button
        type="button"
        className="delay-row"
        aria-label={`${name}${called ? `, ${called}` : ""}: ${msText(delay)} ms${after > 0 ? `, ${msText(after)} ms after the first` : ""}`}
        onClick={() =>
          app.getState().look({ kind: "terminal", terminal: terminalOf(wiring, terminal) }, true)
        }
      >
        <span className="delay-name">
          {owner && <OwnerMark owner={owner} decorative />}
          <span className="cut delay-jack">{name}</span>
          {called && <span className="soft cut">{called}</span>}
          <span className="number" data-late={late || undefined}>
            {msText(delay)}
            {after >= EQUAL_WITHIN && <span className="soft"> +{msText(after)}</span>}
          </span>
        </span>
        <span className="delay-line">
          <span
            className="delay-band"
            style={{ left: percent(first.delay, axis), right: `calc(100% - ${percent(last.delay, axis)})` }}
          />
          <span
            className="delay-bar"
            style={{ width: percent(delay, axis), background: owner?.fill ?? "var(--unlit)" }}
          />
          <span className="delay-mark" style={{ left: percent(delay, axis) }} />
        </span>
      </button>
    </li>
  );
}
