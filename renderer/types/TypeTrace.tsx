/** The type on the bench: its drawing, the table of a mode, and what one jack or slot is fed by and feeds. */
import { useEffect, useMemo, useRef, useState } from "react";
import {
  decidedBy,
  feedTable,
  namesOf,
  findTerminal,
  probeType,
  rateName,
  SAMPLE_RATES,
  sideName,
  spanGroup,
  stepsOf,
  terminalName,
  verdictText,
  type DeviceType,
  type MetRule,
  type ModeId,
  type Probe,
  type SampleRate,
  type Terminal,
} from "#engine";
import { editor, jumpTo, useEditor } from "./editor.ts";
import { NumberField, SelectField } from "./fields.tsx";
import { choosable, TypeDrawing } from "./TypeDrawing.tsx";

export function Bench({ type }: { type: DeviceType }) {
  const chosen = useEditor((state) => state.mode);
  const position = Math.min(
    useEditor((state) => state.position),
    type.chain,
  );
  const rate = useEditor((state) => state.rate);
  const spot = useEditor((state) => state.spot);
  const mode = (type.modes.find(({ id }) => id === chosen) ?? type.modes[0])?.id;
  const [room, width] = useWidth();
  const probe = useMemo(
    () => (mode === undefined || spot === null ? null : probeType(type, { mode, position, rate }, spot)),
    [type, mode, position, rate, spot],
  );
  const reached = useMemo(() => (probe ? marked(probe) : []), [probe]);
  if (mode === undefined) return <p className="empty soft">A type without a mode can’t be drawn.</p>;
  return (
    <div className="type-bench" ref={room}>
      <div className="type-bench-set">
        <SelectField
          label="Mode on the bench"
          path=""
          value={mode as string}
          options={type.modes.map(({ id, name }) => [id as string, name])}
          onCommit={(id) => editor.setState({ mode: id as ModeId })}
        />
        {type.chain > 1 && (
          <SelectField
            label="Chain position on the bench"
            path=""
            value={String(position)}
            options={Array.from({ length: type.chain }, (_, n) => [String(n + 1), `position ${n + 1}`])}
            onCommit={(text) => editor.setState({ position: Number(text) })}
          />
        )}
        <SelectField
          label="Sample rate on the bench"
          path=""
          value={String(rate)}
          options={SAMPLE_RATES.map((each) => [String(each), rateName(each)])}
          onCommit={(text) => editor.setState({ rate: Number(text) as SampleRate })}
        />
      </div>
      <div className="type-drawing-room">
        <TypeDrawing
          type={type}
          mode={mode}
          position={position}
          width={width}
          spot={spot}
          reached={reached}
        />
      </div>
      <Pick type={type} />
      {probe ? (
        <Found probe={probe} />
      ) : (
        <p className="soft small">
          {spot
            ? "The type has no such jack or slot."
            : "Choose a jack or slot above, or press one in the drawing."}
        </p>
      )}
      <Table type={type} mode={mode} position={position} />
    </div>
  );
}

/** The way up to the picked terminal, and all that lies below it. */
/** Each once: a jack stands in the trace as what is converted and as what is wired on. */
function marked({ trace, feeds }: Probe): readonly Terminal[] {
  const all = [...stepsOf(trace).map(({ from }) => from), ...feeds.map(({ at }) => at)];
  return [...new Map(all.map((at) => [`${at.group} ${at.side} ${at.number}`, at])).values()];
}

/** The width of the panel's inside, followed as the window changes. */
function useWidth(): [React.RefObject<HTMLDivElement | null>, number] {
  const room = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(320);
  useEffect(() => {
    const element = room.current;
    if (!element) return;
    const observer = new ResizeObserver(([entry]) => entry && setWidth(Math.floor(entry.contentRect.width)));
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [room, width];
}

function Pick({ type }: { type: DeviceType }) {
  const spot = useEditor((state) => state.spot);
  const spans = choosable(type);
  const key = (group: string, side: string): string => `${group} ${side}`;
  const span = spot
    ? spans.find((each) => spanGroup(each) === spot.group && each.side === spot.side)
    : undefined;
  return (
    <div className="type-bench-set">
      <select
        className="field"
        aria-label="Trace of"
        value={span ? key(spanGroup(span), span.side) : ""}
        onChange={(event) => {
          const found = spans.find((each) => key(spanGroup(each), each.side) === event.target.value);
          editor.setState({ spot: found ? { group: spanGroup(found), side: found.side, number: 1 } : null });
        }}
      >
        <option value="">no trace</option>
        {spans.map((each) => (
          <option key={key(spanGroup(each), each.side)} value={key(spanGroup(each), each.side)}>
            {sideName(each)}
          </option>
        ))}
      </select>
      {spot && span && (
        <NumberField
          label={`Number within ${sideName(span)}`}
          path=""
          value={spot.number}
          least={1}
          most={span.count}
          onCommit={(number) => editor.setState({ spot: { ...spot, number } })}
        />
      )}
    </div>
  );
}

function Found({ probe }: { probe: Probe }) {
  const { wiring, trace, name, rule, feeds, mayFeed } = probe;
  const steps = stepsOf(trace);
  const below = feeds.map(({ at }) => findTerminal(wiring, at)).filter((at) => at !== null);
  const own = `${wiring.show.devices[0]!.name} `;
  const inside = (text: string): string => text.replaceAll(own, "");
  return (
    <section className="type-found" aria-label={`Trace of ${name}`}>
      <h3>{name}</h3>
      <dl>
        <dt>Fed by</dt>
        <dd>
          {steps.length === 0 ? (
            comesFrom(probe, inside)
          ) : (
            <ol className="plain-list">
              <li>{comesFrom(probe, inside)}</li>
              {steps
                .filter(({ kind }) => kind !== "converted")
                .map((step, n) => (
                  <li key={n}>
                    {inside(terminalName(wiring, step.from))} → {inside(terminalName(wiring, step.to))}
                    <span className="soft">, {decidedBy(wiring, step)}</span>
                  </li>
                ))}
            </ol>
          )}
        </dd>
        {rule && (
          <>
            <dt>By the rule</dt>
            <dd>
              <RuleLink rule={rule} />
            </dd>
          </>
        )}
        <dt>Takes</dt>
        <dd className="number">
          {Math.round(trace.delay * 1000) / 1000} ms
          {steps.some(({ parts }) => parts.some(({ provenance }) => provenance === "assumed")) && (
            <span className="soft"> (≈ assumed)</span>
          )}
        </dd>
        <dt>Feeds</dt>
        <dd>{below.length === 0 ? "nothing by itself" : inside(namesOf(wiring, below))}</dd>
        {mayFeed.length > 0 && (
          <>
            <dt>May be assigned to</dt>
            <dd>
              <ul className="plain-list">
                {mayFeed.map((each) => (
                  <li key={each.path}>
                    <RuleLink rule={each} />
                  </li>
                ))}
              </ul>
            </dd>
          </>
        )}
      </dl>
    </section>
  );
}

/** On the bench nothing is plugged in, so what waits for a plug is where signals come in. */
function comesFrom({ wiring, trace, at }: Probe, inside: (text: string) => string): string {
  const { verdict } = trace;
  if (verdict.kind === "not-plugged") {
    const isItself = stepsOf(trace).length === 0 && verdict.at.number === at.number;
    return isItself ? "what is plugged in" : `what comes in at ${inside(terminalName(wiring, verdict.at))}`;
  }
  if (verdict.kind === "nothing-assigned") return "whatever is assigned to it";
  if (verdict.kind === "arrives" && stepsOf(trace).length === 0) return "what is mixed into it";
  const text = inside(verdictText(wiring, trace));
  return verdict.kind === "arrives" ? text.replace("arrives from", "the tap") : text;
}

function RuleLink({ rule: { path, words } }: { rule: MetRule }) {
  return (
    <button type="button" className="link rule-link" onClick={() => jumpTo(path)}>
      {words}
    </button>
  );
}

function Table({ type, mode, position }: { type: DeviceType; mode: ModeId; position: number }) {
  const runs = useMemo(() => feedTable(type, mode, position), [type, mode, position]);
  return (
    <section className="type-table" aria-label="What feeds what in this mode">
      <h3>In this mode</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">Destination</th>
            <th scope="col">takes</th>
          </tr>
        </thead>
        <tbody>
          {runs.map(({ to, from, kind, rule }, n) => (
            <tr key={n} data-kind={kind}>
              <th scope="row">{to}</th>
              <td>
                {rule ? (
                  <button type="button" className="link" title={rule.words} onClick={() => jumpTo(rule.path)}>
                    {kind === "assigned" ? "what is assigned" : from}
                  </button>
                ) : (
                  <span className="soft">nothing</span>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
