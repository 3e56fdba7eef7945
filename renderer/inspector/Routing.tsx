/** The device's routing settings, run by run, each changed in place. */
import { useMemo, useState } from "react";
import {
  feedsThrough,
  id,
  namesOf,
  sideName,
  spanRun,
  type Analysis,
  type Assignment,
  type GroupId,
  type PatchRule,
  type Range,
  type WiredDevice,
} from "#engine";
import { OwnerBar } from "../parts/OwnerBar.tsx";
import { app } from "../state/store.ts";
import { signalName } from "../words/names.ts";
import { Section } from "./parts.tsx";

/** A run of a patch rule's destination, and what it takes now. */
interface Run {
  readonly group: GroupId;
  readonly first: number;
  readonly count: number;
  readonly name: string;
  readonly terminals: readonly number[];
  readonly sources: readonly Source[];
  /** `group:first` of what feeds it; empty: nothing; `mixed`: several settings, or one off the rule's runs. */
  readonly takes: string;
}

interface Source {
  readonly value: string;
  readonly label: string;
  /** Fewer than the run takes, at the end of a range. */
  readonly count: number;
}

export function Routing({ analysis, wired }: { analysis: Analysis; wired: WiredDevice }) {
  const rules = wired.fabric.rules.filter((rule) => rule.kind === "patch");
  const groups = [...new Set(rules.map((rule) => rule.to.group))];
  const [shown, setShown] = useState<GroupId | null>(null);
  const group = shown !== null && groups.includes(shown) ? shown : groups[0];
  const runs = useMemo(
    () => rules.filter((rule) => rule.to.group === group).flatMap((rule) => runsOf(analysis, wired, rule)),
    // The rules belong to the wired device, which is made anew when they change.
    // eslint-disable-next-line react-hooks/exhaustive-deps
    [analysis, wired, group],
  );
  const through = useMemo(() => feedsThrough(analysis, wired.index), [analysis, wired]);
  if (group === undefined) return null;

  return (
    <Section title="Routing">
      {groups.length > 1 && (
        <select
          className="field"
          aria-label="Destinations shown"
          value={group}
          onChange={(event) => setShown(event.target.value as GroupId)}
        >
          {groups.map((candidate) => (
            <option key={candidate} value={candidate}>
              {destinationName(wired, candidate)}
            </option>
          ))}
        </select>
      )}
      <ul className="plain-list">
        {runs.map((run) => (
          <RunLine
            key={`${run.group}:${run.first}`}
            analysis={analysis}
            wired={wired}
            run={run}
            through={through}
          />
        ))}
      </ul>
    </Section>
  );
}

function RunLine({
  analysis,
  wired,
  run,
  through,
}: {
  analysis: Analysis;
  wired: WiredDevice;
  run: Run;
  through: ReadonlyMap<number, readonly number[]>;
}) {
  const feeds = run.terminals
    .flatMap((terminal) => through.get(terminal) ?? [])
    .filter((feed) => !run.terminals.includes(feed));
  // A console has a hundred destinations with two hundred sources each: only the list that is used is filled.
  const [isFilled, setFilled] = useState(false);
  // A setting stays on the device where its mode can't hold it; to show it as nothing would be wrong.
  const isStranded =
    !["", "mixed"].includes(run.takes) && !run.sources.some(({ value }) => value === run.takes);
  const sources = isFilled ? run.sources : run.sources.filter(({ value }) => value === run.takes);
  return (
    <li className="run-line">
      <span className="number">{run.name}</span>
      {run.count > 1 && <OwnerBar analysis={analysis} terminals={run.terminals} cell={5} />}
      <select
        className="field"
        aria-label={`${run.name} takes`}
        value={run.takes}
        onPointerDown={() => setFilled(true)}
        onFocus={() => setFilled(true)}
        onBlur={() => setFilled(false)}
        onChange={(event) => assign(wired, run, event.target.value)}
      >
        <option value="">nothing</option>
        {run.takes === "mixed" && <option value="mixed">several</option>}
        {isStranded && <option value={run.takes}>{takenName(wired, run.takes)}, not in this mode</option>}
        {sources.map(({ value, label }) => (
          <option key={value} value={value}>
            {label}
          </option>
        ))}
      </select>
      {feeds.length > 0 && <RunFeeds analysis={analysis} feeds={feeds} />}
    </li>
  );
}

/** Who gets a signal through the run: a change of it is a change for them. */
function RunFeeds({ analysis, feeds }: { analysis: Analysis; feeds: readonly number[] }) {
  const names = namesOf(analysis.wiring, feeds);
  return (
    <span className="run-feeds soft small cut" title={names}>
      feeds {names}
    </span>
  );
}

const cutSource = (value: string): { readonly group: GroupId; readonly first: number } => {
  const cut = value.lastIndexOf(":");
  return { group: id<GroupId>(value.slice(0, cut)), first: Number(value.slice(cut + 1)) };
};

function takenName(wired: WiredDevice, value: string): string {
  const { group, first } = cutSource(value);
  const span = wired.fabric.layout.sources.get(group);
  return `${span ? sideName(span) : group} ${first}`;
}

function assign(wired: WiredDevice, run: Run, value: string): void {
  if (value === "mixed") return;
  const source = run.sources.find((candidate) => candidate.value === value);
  app.getState().change(
    {
      kind: "assign",
      device: wired.device.id,
      to: { group: run.group, first: run.first },
      count: Math.min(run.count, source?.count ?? run.count),
      clear: run.count,
      from: value === "" ? null : cutSource(value),
    },
    `routing of ${wired.device.name}`,
  );
}

function destinationName(wired: WiredDevice, group: GroupId): string {
  const span = wired.fabric.layout.destinations.get(group);
  return span ? sideName(span) : group;
}

function runsOf(analysis: Analysis, wired: WiredDevice, rule: PatchRule): readonly Run[] {
  const { layout } = wired.fabric;
  const span = layout.destinations.get(rule.to.group);
  if (!span) return [];
  const sources = rule.from.flatMap((range) => sourceRuns(analysis, wired, range, rule.run));
  const runs: Run[] = [];
  for (let skip = 0; skip < rule.to.count; skip += rule.run) {
    const first = rule.to.first + skip;
    const count = Math.min(rule.run, rule.to.count - skip);
    const terminals = Array.from({ length: count }, (_, n) => wired.base + span.start + first - 1 + n);
    const own = count === 1 ? signalName(analysis, terminals[0]!) : null;
    const name = spanRun(span, first, count);
    runs.push({
      group: rule.to.group,
      first,
      count,
      name: own ? `${name} ${own}` : name,
      terminals,
      sources,
      takes: takenBy(wired.device.routing, rule.to.group, first, count),
    });
  }
  return runs;
}

function sourceRuns(analysis: Analysis, wired: WiredDevice, range: Range, run: number): readonly Source[] {
  const span = wired.fabric.layout.sources.get(range.group);
  if (!span) return [];
  const sources: Source[] = [];
  for (let skip = 0; skip < range.count; skip += run) {
    const first = range.first + skip;
    const count = Math.min(run, range.count - skip);
    const at = wired.base + span.start + first - 1;
    const called = count === 1 ? signalName(analysis, at) : null;
    const name = spanRun(span, first, count);
    sources.push({ value: `${range.group}:${first}`, label: called ? `${name} ${called}` : name, count });
  }
  return sources;
}

function takenBy(routing: readonly Assignment[], group: GroupId, first: number, count: number): string {
  const feeds = Array.from({ length: count }, (_, n) => {
    const number = first + n;
    // As in the wiring, the later of two settings on one destination counts.
    const entry = routing.findLast(
      ({ to, count: length }) => to.group === group && number >= to.first && number < to.first + length,
    );
    return entry
      ? { group: entry.from.group, first: entry.from.first + (number - entry.to.first) - n }
      : null;
  });
  // A source with fewer terminals than the run leaves the run's end unassigned.
  const used = feeds.slice(0, feeds.findLastIndex((feed) => feed !== null) + 1);
  const head = used[0];
  if (head === undefined) return "";
  const same = used.every((feed) => feed?.group === head?.group && feed?.first === head?.first);
  return same && head !== null ? `${head.group}:${head.first}` : "mixed";
}
