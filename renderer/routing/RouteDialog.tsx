/**
 * Routes a block from where it is to where it should be: the engine finds the settings, the user sees each of them and
 * who would lose what, and makes them in one step. What lies between is never changed unseen.
 */
import { useEffect, useState } from "react";
import {
  arrivesAt,
  lineCountOf,
  namesOf,
  noWayText,
  settingLines,
  signalAt,
  terminalOf,
  type Analysis,
  type NoWay,
  type Way,
} from "#engine";
import { Frame } from "../dialogs/Frame.tsx";
import { FormButtons } from "../dialogs/questions.tsx";
import { OwnerTag } from "../parts/OwnerMark.tsx";
import { app, useApp } from "../state/store.ts";
import "./routing.css";
import { msText, plural } from "../words/verdicts.ts";
import { numberText, runName, signalName } from "../words/names.ts";
import {
  devicesFor,
  endIn,
  firstGroup,
  groupsFor,
  spanOf,
  startOf,
  terminalsOf,
  type Block,
  type End,
  type EndRole,
} from "./ends.ts";

export function RouteDialog({
  from,
  to,
  onClose,
}: {
  from: Block | null;
  to: Block | null;
  onClose: () => void;
}) {
  const analysis = useApp((state) => state.analysis);
  const [asked, setAsked] = useState(() => startOf(analysis, from, to));
  // It may have been opened on the heels of an edit, after which devices stand elsewhere in the rig.
  const [seen, setSeen] = useState(analysis);
  if (seen !== analysis) {
    setSeen(analysis);
    const ends = asked && [asked.from, asked.to].map((end) => endIn(analysis, seen, end));
    const [start, goal] = ends ?? [];
    setAsked(asked && start && goal ? { ...asked, from: start, to: goal } : startOf(analysis, null, null));
  }
  const sources = asked ? terminalsOf(analysis, asked.from, asked.count) : [];
  const targets = asked ? terminalsOf(analysis, asked.to, asked.count) : [];
  const fits = asked !== null && sources.length === asked.count && targets.length === asked.count;
  const found = useWay(analysis, fits ? sources : NONE, fits ? targets : NONE);
  // What stands there while another way is looked for is that of before, and can't be taken.
  const isStale = fits && (found === null || !sameNumbers(found, { analysis, sources, targets }));
  const way = fits && found?.analysis === analysis ? found.way : null;
  if (!asked) {
    return (
      <Frame title="Route a block" onClose={onClose}>
        <p>There is nothing to route yet: add a console and a stage box first.</p>
      </Frame>
    );
  }
  const isSet = way?.kind === "way" && way.settings.length === 0;
  const set = (): void => {
    if (way?.kind !== "way" || isSet || isStale) return;
    const { change, look } = app.getState();
    change(
      { kind: "edits", edits: way.edits },
      `routing ${runName(analysis, sources)} to ${deviceOf(analysis, targets[0]!)} ${runName(analysis, targets)}`,
    );
    look({ kind: "block", terminals: targets.map((terminal) => terminalOf(analysis.wiring, terminal)) });
    onClose();
  };
  return (
    <Frame
      wide
      title="Route a block"
      onClose={onClose}
      buttons={
        <FormButtons
          form="route"
          does={
            way?.kind === "way" && way.settings.length > 0
              ? `Make ${plural(lineCountOf(way), "setting", "settings")}`
              : "Make the settings"
          }
          ready={way?.kind === "way" && !isSet && !isStale}
          onClose={onClose}
        />
      }
    >
      <form
        id="route"
        className="route-form"
        onSubmit={(event) => {
          event.preventDefault();
          set();
        }}
      >
        <EndFields
          analysis={analysis}
          role="from"
          end={asked.from}
          onEnd={(end) => setAsked({ ...asked, from: end })}
        />
        <EndFields
          analysis={analysis}
          role="to"
          end={asked.to}
          onEnd={(end) => setAsked({ ...asked, to: end })}
        />
        <label className="route-count">
          <span className="soft">How many</span>
          <input
            className="field number"
            type="number"
            min={1}
            max={mostOf(analysis, asked.from, asked.to)}
            value={asked.count}
            onChange={(event) => {
              const count = Math.round(Number(event.target.value));
              if (count >= 1) setAsked({ ...asked, count });
            }}
          />
        </label>
      </form>
      <div className="route-answer" aria-live="polite" data-stale={isStale || undefined}>
        {!fits && <p className="tone-danger">{tooFew(analysis, asked.from, asked.to, asked.count)}</p>}
        {isStale && way === null && <p className="soft">Looking for a route…</p>}
        {way?.kind === "none" && <p className="tone-danger">{noWayText(analysis.wiring, way)}</p>}
        {way?.kind === "way" && found && (
          <>
            <Pairs analysis={analysis} sources={found.sources} targets={found.targets} />
            <WayTold analysis={analysis} way={way} targets={found.targets} />
          </>
        )}
      </div>
    </Frame>
  );
}

const NONE: readonly number[] = [];

interface Asked {
  readonly analysis: Analysis;
  readonly sources: readonly number[];
  readonly targets: readonly number[];
}

const sameNumbers = (a: Asked, b: Asked): boolean =>
  a.analysis === b.analysis &&
  String(a.sources) === String(b.sources) &&
  String(a.targets) === String(b.targets);

/** The way that was found last, with what it was asked for. Null: none yet. */
function useWay(
  analysis: Analysis,
  sources: readonly number[],
  targets: readonly number[],
): (Asked & { readonly way: Way | NoWay }) | null {
  const [found, setFound] = useState<(Asked & { readonly way: Way | NoWay }) | null>(null);
  const key = `${String(sources)} ${String(targets)}`;
  useEffect(() => {
    if (sources.length === 0) return;
    let current = true;
    void app
      .getState()
      .findWay(analysis, sources, targets)
      .then((way) => current && setFound({ analysis, sources, targets, way }));
    return () => {
      current = false;
    };
    // The numbers are made anew with each rendering; the key tells whether they differ.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [analysis, key]);
  return found;
}

const deviceOf = ({ wiring }: Analysis, terminal: number): string =>
  wiring.devices[wiring.deviceOf[terminal]!]!.device.name;

const mostOf = (analysis: Analysis, ...ends: readonly End[]): number =>
  Math.max(1, Math.min(...ends.map((end) => (spanOf(analysis, end)?.count ?? 1) - end.first + 1)));

function tooFew(analysis: Analysis, from: End, to: End, count: number): string {
  const short = [from, to].find((end) => terminalsOf(analysis, end, count).length < count);
  const there = short ? terminalsOf(analysis, short, count) : [];
  return short && there.length > 0
    ? `${deviceOf(analysis, there[0]!)} has only ${there.length} from ${runName(analysis, there.slice(0, 1))} onwards.`
    : "Nothing there has that number.";
}

function EndFields({
  analysis,
  role,
  end,
  onEnd,
}: {
  analysis: Analysis;
  role: EndRole;
  end: End;
  onEnd: (end: End) => void;
}) {
  const devices = devicesFor(analysis, role);
  const wired = analysis.wiring.devices[end.device];
  const groups = wired ? groupsFor(wired, role) : [];
  const span = spanOf(analysis, end);
  const what = role === "from" ? "From" : "To";
  return (
    <fieldset className="route-end">
      <legend>
        {what} {wired && <OwnerTag device={wired.device.id} />}
      </legend>
      <select
        className="field"
        aria-label={`${what}: device`}
        value={end.device}
        onChange={(event) => {
          const next = analysis.wiring.devices[Number(event.target.value)];
          if (next) onEnd({ device: next.index, span: firstGroup(next, role), first: 1 });
        }}
      >
        {devices.map(({ index, device }) => (
          <option key={index} value={index}>
            {device.name}
          </option>
        ))}
      </select>
      <select
        className="field"
        aria-label={`${what}: group`}
        value={end.span}
        onChange={(event) => onEnd({ ...end, span: Number(event.target.value), first: 1 })}
      >
        {groups.map(({ at, name }) => (
          <option key={at} value={at}>
            {name}
          </option>
        ))}
      </select>
      <input
        className="field number"
        type="number"
        aria-label={`${what}: first number`}
        min={1}
        max={span?.count ?? 1}
        value={end.first}
        onChange={(event) => {
          const first = Math.round(Number(event.target.value));
          if (first >= 1) onEnd({ ...end, first });
        }}
      />
    </fieldset>
  );
}

/** What goes where, by name, so that a slip of one shows before it is made. */
function Pairs({
  analysis,
  sources,
  targets,
}: {
  analysis: Analysis;
  sources: readonly number[];
  targets: readonly number[];
}) {
  return (
    <ol className="route-pairs" aria-label="Signals">
      {sources.map((source, n) => (
        <li key={source}>
          <span className="number">{numberText(analysis, source)}</span>
          <span className="cut" title={signalName(analysis, source) ?? undefined}>
            {signalName(analysis, source) ?? ""}
          </span>
          <span aria-hidden="true">→</span>
          <span className="visually-hidden">to</span>
          <span className="number">{numberText(analysis, targets[n]!)}</span>
        </li>
      ))}
    </ol>
  );
}

function WayTold({ analysis, way, targets }: { analysis: Analysis; way: Way; targets: readonly number[] }) {
  const { wiring } = analysis;
  if (way.settings.length === 0) return <p>All of this is set already.</p>;
  // What the targets themselves have now is asked to go, and is told all the same.
  const replaced = targets
    .filter(
      (target) =>
        arrivesAt(wiring, analysis.arrivals, target) &&
        analysis.arrivals.root[target] !== way.after.arrivals.root[target],
    )
    .map((target) => analysis.arrivals.root[target]!);
  const latest = Math.max(...targets.map((target) => way.after.arrivals.delay[target]!));
  return (
    <>
      <h3 className="route-title">{plural(lineCountOf(way), "setting", "settings")}, in signal order</h3>
      <ol className="route-settings">
        {settingLines(wiring, way.settings).map(({ device, reads, before }) => (
          <li key={`${device} ${reads}`}>
            <strong>{device}</strong>
            <span className="number">{reads}</span>
            <span className="soft">now {before}</span>
          </li>
        ))}
      </ol>
      <p className="soft small">
        {way.parts > 1 ? `In ${way.parts} parts. ` : ""}
        {`Latency at most ${msText(latest)} ms. `}
        Modes and cables stay as they are. On a live rig, first mute and turn down the destination and take
        in-ears out of ears; then bring it up slowly.
      </p>
      {replaced.length > 0 && (
        <p className="tone-warn route-replaced">
          This replaces what {namesOf(wiring, targets)} {targets.length === 1 ? "gets" : "get"} now:{" "}
          {namesOf(wiring, replaced)}.
        </p>
      )}
      {way.disturbed.length > 0 && <DisturbedList analysis={analysis} way={way} />}
    </>
  );
}

const MOST_SHOWN = 8;

function DisturbedList({ analysis: { wiring }, way }: { analysis: Analysis; way: Way }) {
  const { disturbed } = way;
  const shown = disturbed.slice(0, MOST_SHOWN);
  return (
    <div className="route-disturbed" role="group" aria-label="Feeds that would be lost">
      <p className="tone-danger">
        {plural(
          disturbed.length,
          "other jack or channel loses its feed",
          "other jacks and channels lose their feeds",
        )}
        :
      </p>
      <ul className="plain-list">
        {shown.map(({ terminal, was }) => (
          <li key={terminal}>
            <span>{namesOf(wiring, [terminal])}</span>{" "}
            <span className="soft">now gets {signalAt(wiring, was)}</span>
          </li>
        ))}
        {disturbed.length > shown.length && (
          <li className="soft">and {disturbed.length - shown.length} more</li>
        )}
      </ul>
    </div>
  );
}
