/** A trace drawn left to right: every hop, what decides it, and how late the signal is by then. */
import { Popover } from "radix-ui";
import { useMemo } from "react";
import {
  fullName,
  findTerminal,
  locate,
  membersOf,
  ownerOf,
  reachOf,
  stepsOf,
  shortName,
  State,
  type Analysis,
  type DeviceId,
  type Step,
  type Terminal,
  type Trace,
} from "#engine";
import { Icon } from "../parts/Icon.tsx";
import { OwnerMark, OwnerTag } from "../parts/OwnerMark.tsx";
import { Pill } from "../parts/Pill.tsx";
import type { Focus } from "../state/contract.ts";
import { app, useApp } from "../state/store.ts";
import { setOpen, ui, useUi } from "../state/ui.ts";
import { ownersOf } from "../theme/owners.ts";
import { calledFullName, calledName, deviceName, signalName } from "../words/names.ts";
import {
  deciderOf,
  isAssumed,
  msText,
  plural,
  provenanceCounts,
  samplesText,
  verdictName,
  verdictSentence,
  VERDICT_TONES,
} from "../words/verdicts.ts";
import { BranchList } from "./BranchList.tsx";

export function HopStrip() {
  const analysis = useApp((state) => state.analysis);
  const focus = useApp((state) => state.focus);
  const traces = useApp((state) => state.lit.traces);
  const chosen = useUi((state) => state.branch);
  const branch = Math.min(chosen, traces.length - 1);
  const trace = traces[branch];

  return (
    <section className="strip" aria-label="Hop strip">
      {trace ? (
        <>
          <StripHead analysis={analysis} trace={trace} />
          <div className="strip-body">
            {traces.length > 1 && (
              <BranchList
                analysis={analysis}
                focus={focus!}
                traces={traces}
                chosen={branch}
                onChoose={(index) => ui.setState({ branch: index })}
              />
            )}
            <Hops analysis={analysis} trace={trace} />
          </div>
        </>
      ) : (
        <EmptyStrip analysis={analysis} focus={focus} />
      )}
      <button
        type="button"
        className="icon-button strip-close"
        aria-label="Close hop strip"
        onClick={() => setOpen("strip", false)}
      >
        <Icon name="close" size={14} />
      </button>
    </section>
  );
}

function EmptyStrip({ analysis, focus }: { analysis: Analysis; focus: Focus | null }) {
  const text =
    analysis.show.devices.length === 0
      ? "A trace appears here, hop by hop, once there is a rig to look at."
      : focus?.kind === "source" || focus?.kind === "mix"
        ? "This reaches no jack: nothing takes it yet."
        : focus?.kind === "finding"
          ? "This finding concerns no single path. The devices and cables that it names are lit."
          : "Choose a jack, a source or a mix, here or on the canvas: its path appears hop by hop, with what decides each.";
  return (
    <div className="empty strip-empty">
      <p className="soft">{text}</p>
    </div>
  );
}

function StripHead({ analysis, trace }: { analysis: Analysis; trace: Trace }) {
  const { wiring, show } = analysis;
  const target = findTerminal(wiring, trace.target);
  const owner = ownersOf(show).get(ownerOf(trace) ?? ("" as DeviceId));
  const counts = provenanceCounts(trace);
  const assumed = counts.get("assumed") ?? 0;
  const { verdict } = trace;
  return (
    <header className="strip-head">
      <h2 className="cut">{target === null ? "A terminal that is gone" : fullName(wiring, target)}</h2>
      {owner && <OwnerMark owner={owner} />}
      <Pill tone={VERDICT_TONES[verdict.kind]}>{verdictName(verdict.kind)}</Pill>
      <p className="cut">{verdictSentence(analysis, trace)}</p>
      <span className="strip-sums">
        {verdict.kind === "arrives" && (
          <span className="number">
            <strong>{msText(trace.delay)} ms</strong>{" "}
            <span className="soft">{samplesText(trace.delay, show.settings.sampleRate)} samples</span>
          </span>
        )}
        {assumed > 0 && (
          <span className="soft number" title="Values that no sheet, standard or measurement stands behind">
            ≈ {plural(assumed, "value", "values")} assumed
          </span>
        )}
      </span>
    </header>
  );
}

/** One column: the way into a terminal, and the terminal. */
interface Column {
  readonly step: Step | null;
  readonly terminal: Terminal;
  readonly running: number;
}

interface Group {
  readonly device: DeviceId;
  readonly columns: readonly Column[];
}

/** Columns by device; a cable's column stands between two devices, and conversions join the jack that makes them. */
function columnsOf(trace: Trace): readonly Group[] {
  const steps = stepsOf(trace);
  const start = steps[0]?.from ?? trace.target;
  const groups: { device: DeviceId; columns: Column[] }[] = [
    { device: start.device, columns: [{ step: null, terminal: start, running: 0 }] },
  ];
  let running = 0;
  for (const step of steps) {
    running += step.delay;
    const column = { step, terminal: step.to, running };
    const last = groups.at(-1)!;
    if (last.device === step.to.device) last.columns.push(column);
    else groups.push({ device: step.to.device, columns: [column] });
  }
  return groups;
}

function Hops({ analysis, trace }: { analysis: Analysis; trace: Trace }) {
  const groups = useMemo(() => columnsOf(trace), [trace]);
  const stopped = trace.verdict.kind !== "arrives";
  return (
    <ol className="hops" aria-label="Hops, in the direction of the signal" tabIndex={0}>
      {groups.map(({ device, columns }, index) => (
        <li key={`${index}:${device}`} className="hop">
          <button
            type="button"
            className="hop-device"
            onClick={() => app.getState().look({ kind: "device", device }, true)}
          >
            <OwnerTag device={device} />
            <span className="cut">{deviceName(analysis, device)}</span>
          </button>
          <ol className="hop-steps" aria-label={`In ${deviceName(analysis, device)}`}>
            {columns.map((column, place) => (
              <StepColumn
                key={place}
                analysis={analysis}
                column={column}
                stopped={stopped && index === 0 && place === 0 ? verdictName(trace.verdict.kind) : null}
                isTarget={index === groups.length - 1 && place === columns.length - 1}
              />
            ))}
          </ol>
        </li>
      ))}
    </ol>
  );
}

function StepColumn({
  analysis,
  column: { step, terminal, running },
  stopped,
  isTarget,
}: {
  analysis: Analysis;
  column: Column;
  /** The verdict, in the column where the trace stopped. */
  stopped: string | null;
  isTarget: boolean;
}) {
  const { wiring, show } = analysis;
  const at = findTerminal(wiring, terminal);
  const name = at === null ? "gone" : shortName(wiring, at);
  const called = at === null ? null : signalName(analysis, at);
  const rate = show.settings.sampleRate;
  return (
    <li className="step" data-kind={step?.kind ?? "start"} data-target={isTarget || undefined}>
      {step ? (
        <StepWay analysis={analysis} step={step} />
      ) : (
        <StartWay analysis={analysis} at={at} stopped={stopped} />
      )}
      <div className="step-stop">
        <span className="step-dot" data-stopped={stopped !== null || undefined} />
        <button
          type="button"
          className="step-terminal"
          onClick={() => app.getState().look({ kind: "terminal", terminal })}
        >
          <span className="cut">{name}</span>
        </button>
        {called && <span className="cut soft small">{called}</span>}
        <span className="step-time number small" title={partsText(step)}>
          {step && step.delay > 0 ? (
            <span className="soft">
              {isAssumed(step) ? "≈" : "+"}
              {msText(step.delay)}
            </span>
          ) : (
            <span className="soft">–</span>
          )}
          <span>{msText(running)} ms</span>
          <span className="soft">{samplesText(running, rate)} smp</span>
        </span>
      </div>
    </li>
  );
}

const partsText = (step: Step | null): string =>
  step?.parts.map(({ what, ms, provenance }) => `${what} ${msText(ms)} ms (${provenance})`).join(", ") ?? "";

function StepWay({ analysis, step }: { analysis: Analysis; step: Step }) {
  const { kind, head, detail } = deciderOf(analysis, step);
  const content = (
    <>
      <span className="way-head cut" data-decider={kind}>
        {kind === "cable" && <Icon name="cable" size={13} />}
        <span className="cut">{head}</span>
      </span>
      <span className="way-detail soft small">{detail}</span>
    </>
  );
  if (step.kind === "cable") {
    return (
      <button
        type="button"
        className="step-way"
        aria-label={`Cable ${head}, ${detail}`}
        onClick={() => app.getState().look({ kind: "cable", cable: step.cable })}
      >
        {content}
      </button>
    );
  }
  return <div className="step-way">{content}</div>;
}

/** What stands before the first terminal: what feeds a tap, what is plugged in a jack, or where the trace stopped. */
function StartWay({
  analysis,
  at,
  stopped,
}: {
  analysis: Analysis;
  at: number | null;
  stopped: string | null;
}) {
  if (stopped !== null) {
    return (
      <div className="step-way">
        <span className="way-head tone-danger">stops here</span>
        <span className="way-detail small tone-danger">{stopped}</span>
      </div>
    );
  }
  const isTap = at !== null && analysis.wiring.state[at] === State.tap;
  return isTap ? (
    <Members analysis={analysis} tap={at} />
  ) : (
    <div className="step-way">
      <span className="way-head soft">source</span>
    </div>
  );
}

/** A tap can be opened to the channels that feed it. */
function Members({ analysis, tap }: { analysis: Analysis; tap: number }) {
  const members = useMemo(() => membersOf(analysis.wiring, tap), [analysis, tap]);
  if (members.length === 0) {
    return (
      <div className="step-way">
        <span className="way-head soft">nothing mixed in</span>
      </div>
    );
  }
  return (
    <div className="step-way">
      <Popover.Root>
        <Popover.Trigger className="button small">
          {plural(members.length, "feed", "feeds")} mixed in
          <Icon name="chevron" size={11} />
        </Popover.Trigger>
        <Popover.Portal>
          <Popover.Content
            className="popover members"
            side="top"
            align="start"
            sideOffset={6}
            collisionPadding={8}
          >
            <h3>Into {calledFullName(analysis, tap)}</h3>
            <ul>
              {members.map(({ member, step }) => {
                const { wired, span, number } = locate(analysis.wiring, member);
                const group = span.side === "bus" ? span.section.id : null;
                return (
                  <li key={member}>
                    <Popover.Close asChild>
                      <button
                        type="button"
                        className="member"
                        onClick={() =>
                          group &&
                          app.getState().look({
                            kind: "terminal",
                            terminal: { device: wired.device.id, group, side: "bus", number },
                          })
                        }
                      >
                        <span className="cut">{calledName(analysis, member)}</span>
                        <span className="soft small">{step.kind === "mixed" ? step.tap : ""}</span>
                      </button>
                    </Popover.Close>
                  </li>
                );
              })}
            </ul>
          </Popover.Content>
        </Popover.Portal>
      </Popover.Root>
    </div>
  );
}

/** Whether reach stopped counting, for the list's foot. */
export const reachIsComplete = (analysis: Analysis, at: number): boolean =>
  reachOf(analysis.wiring, at).complete;
