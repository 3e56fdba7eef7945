/** What arrives at a terminal or a block, where a source goes, what a mix takes: facts that come from traces. */
import { useMemo } from "react";
import {
  findTerminal,
  fullName,
  gatekeepers,
  locate,
  membersOf,
  ownersAt,
  ownerThrough,
  sideName,
  terminalOf,
  traceOf,
  ranges,
  type Analysis,
  type DeviceId,
  type Mix,
  type MixId,
  type Source,
  type SourceId,
  type Span,
  type Terminal,
  type Trace,
} from "#engine";
import { OwnerBar } from "../parts/OwnerBar.tsx";
import { OwnerTag } from "../parts/OwnerMark.tsx";
import { Pill } from "../parts/Pill.tsx";
import { Term } from "../parts/Term.tsx";
import { useApp } from "../state/store.ts";
import type { WordId } from "../words/glossary.ts";
import { calledName, deviceName, namesIn, numberText, originOf, signalName } from "../words/names.ts";
import {
  msText,
  plural,
  provenanceCounts,
  samplesText,
  verdictName,
  verdictSentence,
  VERDICT_TONES,
} from "../words/verdicts.ts";
import { RouteButton } from "../routing/RouteButton.tsx";
import { PreampSection } from "./Preamp.tsx";
import { DeviceLink, DeviceList, Fact, Facts, GoTo, Gone, Head, Section, TerminalLink } from "./parts.tsx";

export function TerminalInspector({ terminal }: { terminal: Terminal }) {
  const analysis = useApp((state) => state.analysis);
  const at = findTerminal(analysis.wiring, terminal);
  const trace = useMemo(() => (at === null ? null : traceOf(analysis.wiring, at)), [analysis, at]);
  if (at === null || !trace) return <Head kind="Terminal" title="This terminal is no longer in the rig." />;
  const { wired, span } = locate(analysis.wiring, at);
  const called = signalName(analysis, at);
  const wants = namesIn(analysis).wantsAt.get(at) ?? [];
  const owner = ownerThrough(analysis.wiring, analysis.arrivals, trace);
  const kind =
    span.side === "jack"
      ? `${span.bank.connector === "none" ? "Track" : span.bank.connector} ${span.bank.direction === "in" ? "input" : "output"}`
      : span.side === "bus"
        ? span.section.role
        : "Slot";
  return (
    <>
      <Head kind={kind} word={wordFor(span)} title={fullName(analysis.wiring, at)}>
        {called && <p className="soft">{called}</p>}
      </Head>
      <Section title="What arrives">
        <p className="with-mark">
          <Term word={trace.verdict.kind}>
            <Pill tone={VERDICT_TONES[trace.verdict.kind]}>{verdictName(trace.verdict.kind)}</Pill>
          </Term>
        </p>
        <p>{verdictSentence(analysis, trace)}</p>
        <RouteButton analysis={analysis} terminals={[terminal]} />
        <Facts>
          <Fact name="Owner" word="owner">
            {owner ? <DeviceLink device={owner} /> : <span className="soft">none</span>}
          </Fact>
          <Fact name="Device">
            <DeviceLink device={wired.device.id} />
          </Fact>
          {trace.verdict.kind === "arrives" && <DelayFact analysis={analysis} trace={trace} />}
          {wants.map(({ id, name, from }) => (
            <Fact key={id} name="Wanted for" word="want">
              {name}
              {from && (
                <span className="soft small">
                  {" from "}
                  <RefLink from={from} />
                </span>
              )}
            </Fact>
          ))}
        </Facts>
      </Section>
      <Section title="Gatekeepers" word="gatekeeper">
        <DeviceList devices={gatekeepers(trace)} />
      </Section>
      <Provenance trace={trace} />
    </>
  );
}

/** Channels and returns are what the desk itself calls so; jacks say what they are. */
function wordFor(span: Span): WordId | undefined {
  if (span.side === "jack") return undefined;
  if (span.side !== "bus") return "slot";
  return span.section.role === "channel" || span.section.role === "return" ? undefined : "tap";
}

function RefLink({ from }: { from: { device: DeviceId; group: Terminal["group"]; number: number } }) {
  const analysis = useApp((state) => state.analysis);
  const at = findTerminal(analysis.wiring, from);
  return at === null ? <>a tap that is gone</> : <TerminalLink terminal={terminalOf(analysis.wiring, at)} />;
}

function DelayFact({ analysis, trace }: { analysis: Analysis; trace: Trace }) {
  return (
    <Fact name="Delay" word="delay">
      <span className="number">
        {msText(trace.delay)} ms{" "}
        <span className="soft">{samplesText(trace.delay, analysis.show.settings.sampleRate)} samples</span>
      </span>
    </Fact>
  );
}

function Provenance({ trace }: { trace: Trace }) {
  const counts = provenanceCounts(trace);
  if (counts.size === 0) return null;
  return (
    <Section title="Where its delays come from">
      <ul className="plain-list">
        {[...counts].map(([from, count]) => (
          <li key={from} className="count-line">
            <Term word={from}>{from}</Term>
            <span className="number soft">{plural(count, "value", "values")}</span>
          </li>
        ))}
      </ul>
    </Section>
  );
}

export function BlockInspector({ terminals }: { terminals: readonly Terminal[] }) {
  const analysis = useApp((state) => state.analysis);
  const found = useMemo(
    () => terminals.map((terminal) => findTerminal(analysis.wiring, terminal)).filter((at) => at !== null),
    [analysis, terminals],
  );
  if (found.length === 0) return <Head kind="Block" title="This block is no longer in the rig." />;
  const { wired, span } = locate(analysis.wiring, found[0]!);
  const traces = found.map((at) => traceOf(analysis.wiring, at));
  const owners = [...new Set(found.flatMap((at) => ownersAt(analysis.wiring, analysis.arrivals, at)))].map(
    (index) => analysis.wiring.devices[index]!.device.id,
  );
  const keepers = [...new Set(traces.flatMap(gatekeepers))];
  const numbers = ranges(found.map((at) => terminalOf(analysis.wiring, at).number));
  return (
    <>
      <Head kind="Block" title={`${wired.device.name} ${sideName(span)} ${numbers}`}>
        <OwnerBar analysis={analysis} terminals={found} cell={Math.min(14, 240 / found.length)} />
      </Head>
      <Section title={owners.length === 1 ? "Owner" : "Owners"} word="owner">
        {owners.length > 0 ? <DeviceList devices={owners} /> : <p className="soft">none</p>}
        <RouteButton analysis={analysis} terminals={terminals} />
      </Section>
      <Section title="Jack by jack">
        <ul className="plain-list">
          {found.map((at, index) => {
            const trace = traces[index]!;
            const origin = originOf(analysis, at);
            const owner = ownerThrough(analysis.wiring, analysis.arrivals, trace);
            return (
              <li key={at} className="jack-line">
                <span className="number soft">{numberText(analysis, at)}</span>
                {owner ? <OwnerTag device={owner} /> : <span className="mark-none" aria-hidden="true" />}
                <GoTo focus={{ kind: "terminal", terminal: trace.target }}>
                  {origin === null ? verdictName(trace.verdict.kind) : calledName(analysis, origin)}
                </GoTo>
              </li>
            );
          })}
        </ul>
      </Section>
      <Section title="Gatekeepers" word="gatekeeper">
        <DeviceList devices={keepers} />
      </Section>
    </>
  );
}

export function SourceInspector({ id }: { id: SourceId }) {
  const analysis = useApp((state) => state.analysis);
  const traces = useApp((state) => state.lit.traces);
  const source = analysis.show.sources.find((candidate) => candidate.id === id);
  if (!source) return <Gone what="source" />;
  return (
    <>
      <Head kind={source.kind} title={source.name} />
      <Section title="Plugged in">
        <SourceFacts analysis={analysis} source={source} />
      </Section>
      <PreampSection analysis={analysis} source={source} />
      <Section title="Channels meant for it">
        <SourceChannels analysis={analysis} source={source} />
      </Section>
      <Section title="Reaches">
        <p>{reachText(traces)}</p>
      </Section>
    </>
  );
}

function SourceFacts({ analysis, source }: { analysis: Analysis; source: Source }) {
  const at = findTerminal(analysis.wiring, source.at);
  return (
    <Facts>
      <Fact name="Jack">
        {at === null ? (
          <span className="tone-danger">no such jack in the rig</span>
        ) : (
          <TerminalLink terminal={terminalOf(analysis.wiring, at)} />
        )}
      </Fact>
      <Fact name="Phantom" word="phantom">
        {source.phantom ? "on, 48 V" : "off"}
      </Fact>
      <Fact name="Preamp owner" word="preamp owner">
        {source.preampOwner ? (
          <DeviceLink device={source.preampOwner} />
        ) : (
          <span className="soft">nobody</span>
        )}
      </Fact>
    </Facts>
  );
}

function SourceChannels({ analysis, source }: { analysis: Analysis; source: Source }) {
  const plans = analysis.show.channels.filter((plan) => plan.source === source.id);
  if (plans.length === 0) return <p className="soft">No console has a channel for it.</p>;
  return (
    <ul className="plain-list">
      {plans.map((plan) => {
        const at = findTerminal(analysis.wiring, {
          device: plan.console,
          group: plan.group,
          number: plan.number,
        });
        const origin = at === null ? null : originOf(analysis, at);
        const arrives =
          origin !== null && analysis.show.sources[analysis.wiring.sourceAt[origin]!]?.id === source.id;
        return (
          <li key={plan.id} className="count-line">
            <span className="with-mark">
              <OwnerTag device={plan.console} />
              {at === null ? (
                <span>no such channel</span>
              ) : (
                <GoTo focus={{ kind: "terminal", terminal: terminalOf(analysis.wiring, at) }}>
                  {deviceName(analysis, plan.console)} {plan.number}
                </GoTo>
              )}
            </span>
            {arrives ? (
              <span className="soft cut">{plan.name}</span>
            ) : (
              <Pill tone="danger">doesn’t arrive</Pill>
            )}
          </li>
        );
      })}
    </ul>
  );
}

function reachText(traces: readonly Trace[]): string {
  if (traces.length === 0) return "No jack: nothing takes it.";
  const jacks = new Set(traces.map(({ target }) => JSON.stringify(target))).size;
  const ways = traces.length > jacks ? `, by ${traces.length} ways` : "";
  return `${plural(jacks, "jack", "jacks")}${ways}, listed in the hop strip.`;
}

export function MixInspector({ id }: { id: MixId }) {
  const analysis = useApp((state) => state.analysis);
  const traces = useApp((state) => state.lit.traces);
  const mix = analysis.show.mixes.find((candidate) => candidate.id === id);
  if (!mix) return <Gone what="mix" />;
  return (
    <>
      <Head kind={mix.width === 2 ? "Stereo mix" : "Mix"} title={mix.name} />
      <Section title="Where">
        <Facts>
          <Fact name="Console">
            <DeviceLink device={mix.console} />
          </Fact>
          <Fact name={mix.width === 2 ? "Buses" : "Bus"}>
            <Buses analysis={analysis} mix={mix} />
          </Fact>
        </Facts>
      </Section>
      <Section title="Reaches">
        <p>{reachText(traces)}</p>
      </Section>
      <MixMembers analysis={analysis} mix={mix} />
    </>
  );
}

/** Where a member is taken off: pre or post fader; a direct out is what it is. */
function TapWord({ tap }: { tap: "pre" | "post" | "direct" }) {
  return (
    <span className="soft small">{tap === "direct" ? tap : <Term word={`${tap} fader`}>{tap}</Term>}</span>
  );
}

function Buses({ analysis, mix }: { analysis: Analysis; mix: Mix }) {
  return Array.from({ length: mix.width }, (_, n) => {
    const at = findTerminal(analysis.wiring, {
      device: mix.console,
      group: mix.group,
      number: mix.first + n,
    });
    return at === null ? (
      <span key={n} className="tone-danger">
        no bus {mix.first + n}
      </span>
    ) : (
      <span key={n}>
        {n > 0 && ", "}
        <TerminalLink terminal={terminalOf(analysis.wiring, at)} short />
      </span>
    );
  });
}

function MixMembers({ analysis, mix }: { analysis: Analysis; mix: Mix }) {
  const tap = findTerminal(analysis.wiring, { device: mix.console, group: mix.group, number: mix.first });
  const members = useMemo(() => (tap === null ? [] : membersOf(analysis.wiring, tap)), [analysis, tap]);
  return (
    <Section title={`Takes ${plural(members.length, "feed", "feeds")}`}>
      <ul className="plain-list">
        {members.map(({ member, step }) => (
          <li key={member} className="count-line">
            <GoTo focus={{ kind: "terminal", terminal: terminalOf(analysis.wiring, member) }}>
              {calledName(analysis, member)}
            </GoTo>
            {step.kind === "mixed" && <TapWord tap={step.tap} />}
          </li>
        ))}
      </ul>
    </Section>
  );
}
