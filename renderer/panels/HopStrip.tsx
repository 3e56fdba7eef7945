/** A trace drawn left to right: every hop, what decides it, and how late the signal is by then. */
import { TourOffer } from "../help/Tour.tsx";
import { Popover } from "radix-ui";
import { useMemo } from "react";
import {
  fullName,
  findTerminal,
  locate,
  membersOf,
  ownerThrough,
  stepsOf,
  shortName,
  State,
  type Analysis,
  type DeviceId,
  type Show,
  type Step,
  type Terminal,
  type Trace,
} from "#engine";
import { Icon } from "../parts/Icon.tsx";
import { OwnerMark, OwnerTag } from "../parts/OwnerMark.tsx";
import { Pill } from "../parts/Pill.tsx";
import { Term } from "../parts/Term.tsx";
import type { Focus } from "../state/contract.ts";
import { useDrawn } from "../state/first-sight.ts";
import { app, useApp } from "../state/store.ts";
import { setOpen, ui, useUi } from "../state/ui.ts";
import { ownersOf } from "../theme/owners.ts";
import type { WordId } from "../words/glossary.ts";
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
  type Decider,
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
        <EmptyStrip focus={focus} />
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

function EmptyStrip({ focus }: { focus: Focus | null }) {
  // A finding that is settled is nothing to look at any more; what comes next is.
  const settled = useApp(
    ({ analysis }) => focus?.kind === "finding" && !analysis.findings.some(({ id }) => id === focus.finding),
  );
  const text = useDrawn((show) => emptyText(show, settled ? null : focus));
  return (
    <div className="empty strip-empty">
      <p className="soft">{text}</p>
      {focus === null && <TourOffer />}
    </div>
  );
}

/** Why there is no trace, and what comes next for whoever builds a rig. */
function emptyText(show: Show, focus: Focus | null): string {
  const wired = new Set(show.cables.flatMap(({ ends }) => ends.map(({ device }) => device)));
  const bare = show.devices.filter(({ id }) => !wired.has(id)).length;
  if (show.devices.length === 0) return "A trace appears here, hop by hop, once there is a rig to look at.";
  if (focus?.kind === "source" || focus?.kind === "mix") return "This reaches no jack: nothing takes it yet.";
  if (focus?.kind === "finding")
    return "This finding concerns no single path. The devices and cables that it names are lit.";
  if (show.devices.length === 1) return "Next: the device at the other end of the cable, from Gear.";
  if (show.cables.length === 0)
    return "Next: cables. Point at a device and drag from one of the rings at its edge to another device; what fits lights up.";
  if (show.sources.length === 0 && show.wants.length === 0 && bare > 0)
    return `Next: the other cables. ${bare === 1 ? "One device has" : `${bare} devices have`} none yet.`;
  if (show.sources.length === 0 && show.wants.length === 0)
    return "Next: what is plugged in. Type or paste it under Lists: inputs, mixes, then outputs.";
  if (show.sources.length > 0 && show.devices.every(({ routing }) => routing.length === 0))
    return show.channels.length < show.sources.length
      ? "Next: the channel of each input at the consoles, in the list of inputs; then “Patch channels to their sources…”."
      : "Next: “Patch channels to their sources…”, in the list of inputs.";
  if (show.wants.length === 0)
    return show.mixes.length === 0
      ? "Next: the mixes, in their list, and what goes into them, in the list of members."
      : "Next: what each output jack is to get, in the list of outputs; then “Patch what the wants say…”.";
  if (show.wants.every(({ from }) => from === undefined))
    return "Next: which mix each output is to get, under “From” in the list of outputs; then “Patch what the wants say…”.";
  return "Choose a jack, a source or a mix, here or on the canvas: its path appears hop by hop, with what decides each.";
}

function StripHead({ analysis, trace }: { analysis: Analysis; trace: Trace }) {
  const { wiring, show } = analysis;
  const target = findTerminal(wiring, trace.target);
  const owner = ownersOf(show).get(ownerThrough(wiring, analysis.arrivals, trace) ?? ("" as DeviceId));
  const counts = provenanceCounts(trace);
  const assumed = counts.get("assumed") ?? 0;
  const { verdict } = trace;
  return (
    <header className="strip-head">
      <h2 className="cut">{target === null ? "A terminal that is gone" : fullName(wiring, target)}</h2>
      {owner && <OwnerMark owner={owner} />}
      <Term word={verdict.kind}>
        <Pill tone={VERDICT_TONES[verdict.kind]}>{verdictName(verdict.kind)}</Pill>
      </Term>
      <p className="cut">{verdictSentence(analysis, trace)}</p>
      <span className="strip-sums">
        {verdict.kind === "arrives" && (
          <span className="number">
            <strong>{msText(trace.delay)} ms</strong>{" "}
            <Term word="samples">
              <span className="soft">{samplesText(trace.delay, show.settings.sampleRate)} samples</span>
            </Term>
          </span>
        )}
        {assumed > 0 && (
          <span className="soft number">
            <Term word="assumed">≈ {plural(assumed, "value", "values")} assumed</Term>
          </span>
        )}
      </span>
    </header>
  );
}

/** The way from one terminal to the next: a step, with a conversion at the jack before or after it. */
interface Segment {
  readonly steps: readonly Step[];
  readonly delay: number;
}

interface Stop {
  readonly terminal: Terminal;
  readonly running: number;
  /** On to the next stop within the device; null for its last. */
  readonly next: Segment | null;
}

interface Station {
  readonly device: DeviceId;
  readonly stops: readonly Stop[];
  /** The cable that the signal leaves by; null where the trace ends. */
  readonly cable: Segment | null;
}

/** A trace as devices, the terminals that it passes in each, and the cables between them. */
function stationsOf(trace: Trace): readonly Station[] {
  const segments: Step[][] = [];
  let open: Step[] = [];
  for (const step of stepsOf(trace)) {
    // A conversion belongs to the way inside the device: at an input before it, at an output after it.
    const last = segments.at(-1);
    const atOutput = step.kind === "converted" && last && last[0]!.kind !== "cable";
    if (atOutput) last.push(step);
    else {
      open.push(step);
      if (step.kind === "converted") continue;
      segments.push(open);
      open = [];
    }
  }
  const first = segments[0]?.[0]?.from ?? trace.target;
  const stations: { device: DeviceId; stops: Stop[]; cable: Segment | null }[] = [
    { device: first.device, stops: [{ terminal: first, running: 0, next: null }], cable: null },
  ];
  let running = 0;
  for (const steps of segments) {
    const delay = steps.reduce((sum, step) => sum + step.delay, 0);
    running += delay;
    const segment = { steps, delay };
    const terminal = steps.at(-1)!.to;
    const station = stations.at(-1)!;
    const stop: Stop = { terminal, running, next: null };
    if (terminal.device === station.device) {
      station.stops.push({ ...stop });
      station.stops[station.stops.length - 2] = { ...station.stops.at(-2)!, next: segment };
    } else {
      station.cable = segment;
      stations.push({ device: terminal.device, stops: [stop], cable: null });
    }
  }
  return stations;
}

function Hops({ analysis, trace }: { analysis: Analysis; trace: Trace }) {
  const stations = useMemo(() => stationsOf(trace), [trace]);
  return (
    <ol className="hops" aria-label="Hops, in the direction of the signal" tabIndex={0}>
      {stations.flatMap(({ device, stops, cable }, index) => [
        <li key={`${index}:${device}`} className="hop">
          <button
            type="button"
            className="hop-device"
            style={{ gridColumn: `1 / span ${stops.length}` }}
            onClick={() => app.getState().look({ kind: "device", device }, true)}
          >
            <OwnerTag device={device} />
            <span className="cut">{deviceName(analysis, device)}</span>
          </button>
          {stops.map((stop, place) => (
            <StopColumn
              key={place}
              analysis={analysis}
              stop={stop}
              trace={index === 0 && place === 0 ? trace : null}
              isTarget={index === stations.length - 1 && place === stops.length - 1}
            />
          ))}
        </li>,
        cable && (
          <li key={`${index}:cable`} className="hop">
            <div className="stop">
              <Way analysis={analysis} segment={cable} />
              <div className="stop-end" />
            </div>
          </li>
        ),
      ])}
    </ol>
  );
}

function StopColumn({
  analysis,
  stop: { terminal, running, next },
  trace,
  isTarget,
}: {
  analysis: Analysis;
  stop: Stop;
  /** The whole trace, at its first stop. */
  trace: Trace | null;
  isTarget: boolean;
}) {
  const { wiring, show } = analysis;
  const at = findTerminal(wiring, terminal);
  const called = at === null ? null : signalName(analysis, at);
  const stopsHere = trace !== null && trace.verdict.kind !== "arrives";
  return (
    <div className="stop" data-target={isTarget || undefined}>
      {next ? <Way analysis={analysis} segment={next} /> : <div className="hop-way" />}
      <div className="stop-end">
        <span className="stop-dot" data-stopped={stopsHere || undefined} />
        <button
          type="button"
          className="stop-terminal"
          onClick={() => app.getState().look({ kind: "terminal", terminal })}
        >
          {at === null ? "gone" : shortName(wiring, at)}
          {called && <span className="soft"> {called}</span>}
        </button>
        {trace && <Start analysis={analysis} at={at} trace={trace} />}
        {(trace === null || isTarget) && (
          <span className="stop-time number small">
            <span>{msText(running)} ms</span>
            <span className="soft">{samplesText(running, show.settings.sampleRate)} smp</span>
          </span>
        )}
      </div>
    </div>
  );
}

const DECIDER_WORDS: Readonly<Record<Decider["kind"], WordId>> = {
  cable: "link",
  setting: "set",
  mode: "mode",
  fixed: "fixed",
  mix: "mixed",
  converter: "converter",
};

function Way({ analysis, segment: { steps, delay } }: { analysis: Analysis; segment: Segment }) {
  const main = steps.find((step) => step.kind !== "converted") ?? steps[0]!;
  const { kind, head, detail } = deciderOf(analysis, main);
  const conversions = steps.filter((step) => step.kind === "converted");
  const content = (
    <>
      <span className="way-head" data-decider={kind}>
        {kind === "cable" && <Icon name="cable" size={13} />}
        {main.kind === "cable" ? (
          <span className="cut">{head}</span>
        ) : (
          <Term word={main.kind === "carried" ? "carry" : DECIDER_WORDS[kind]}>
            <span className="cut">{head}</span>
          </Term>
        )}
      </span>
      <span className="way-detail soft small">
        {detail}
        {conversions.map((step, index) => (
          <span key={index} className="way-conversion">
            {deciderOf(analysis, step).head} {deciderOf(analysis, step).detail}
          </span>
        ))}
      </span>
      {delay > 0 && (
        <span className="way-delay number small" title={steps.map(partsText).filter(Boolean).join(", ")}>
          {steps.some(isAssumed) ? "≈ " : "+ "}
          {msText(delay)}
        </span>
      )}
    </>
  );
  if (main.kind !== "cable") return <div className="hop-way">{content}</div>;
  return (
    <button
      type="button"
      className="hop-way"
      aria-label={`Cable ${head}, ${detail}`}
      onClick={() => app.getState().look({ kind: "cable", cable: main.cable })}
    >
      {content}
    </button>
  );
}

const partsText = (step: Step): string =>
  step.parts.map(({ what, ms, provenance }) => `${what} ${msText(ms)} ms, ${provenance}`).join("; ");

/** What stands at the first terminal: what is mixed into a tap, or why the trace stops there. */
function Start({ analysis, at, trace }: { analysis: Analysis; at: number | null; trace: Trace }) {
  const { verdict } = trace;
  if (verdict.kind !== "arrives")
    return (
      <span className="stop-verdict small">
        <Term word={verdict.kind}>stops here: {verdictName(verdict.kind)}</Term>
      </span>
    );
  const isTap = at !== null && analysis.wiring.state[at] === State.tap;
  return isTap ? <Members analysis={analysis} tap={at} /> : null;
}

/** A tap can be opened to the channels that feed it. */
function Members({ analysis, tap }: { analysis: Analysis; tap: number }) {
  const members = useMemo(() => membersOf(analysis.wiring, tap), [analysis, tap]);
  if (members.length === 0) return <span className="soft small">nothing mixed in</span>;
  return (
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
  );
}
