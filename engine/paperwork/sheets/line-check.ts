/** Line-check sheets: place by place and jack by jack, what should be heard there, to be ticked. */
import type { Analysis } from "../../analysis.ts";
import { deviceName, tapName } from "../../findings/describe.ts";
import { NOWHERE, standing } from "../../findings/standing.ts";
import { fingerprint } from "../../linecheck/fingerprint.ts";
import { gather, once } from "../../model/once.ts";
import type { LineCheck, Source } from "../../model/show.ts";
import { arrivesAt, comesFrom, outputJacks, rootsAt } from "../../trace/owners.ts";
import {
  findTerminal,
  fullName,
  gathered,
  locate,
  numbersName,
  shortName,
  sideName,
} from "../../trace/terminal.ts";
import { verdictText } from "../../trace/told.ts";
import { wantNames } from "../../trace/records.ts";
import { VERDICT_NAMES } from "../../trace/trace.ts";
import { traceOf } from "../../trace/walk.ts";
import { isOutput } from "../../wiring/layout.ts";
import { State, type WiredDevice, type Wiring } from "../../wiring/wiring.ts";
import type { CellLike, PaperCell, PaperColumn, PaperRow, PaperTable } from "../block.ts";
import { flowEntry } from "../flow.ts";
import { ownersOf, pluggedIn, signalName } from "../signals.ts";
import { CAUTIONS } from "./cautions.ts";
import { slugs, standsOf, type SheetEntry } from "./entry.ts";
import { jackRange } from "./words.ts";

export function lineCheckSheets(analysis: Analysis): SheetEntry[] {
  const { wiring, show } = analysis;
  const all = wiring.devices.filter((wired) => wired !== null);
  const stands = standsOf(show, "No place")
    .map(({ name, holds }) => ({ name, devices: all.filter(({ device }) => holds(device)) }))
    .filter(({ devices }) => devices.some((wired) => hasLines(analysis, wired)));
  const ids = slugs(stands.map(({ name }) => name));
  return stands.map(({ name, devices }, n) =>
    flowEntry("line check", {
      id: `line-check/${ids[n]!}`,
      title: `Line check: ${name}`,
      orientation: "lying",
      blocks: () => [
        { kind: "caution", lines: CAUTIONS },
        ...[
          inputsTable(analysis, inputsAt(analysis, devices)),
          outputsTable(analysis, outputsAt(analysis, devices)),
        ]
          .filter(({ rows }) => rows.length > 0)
          .map((table) => ({ kind: "table" as const, table })),
      ],
    }),
  );
}

/** Whether a device has anything to listen at. */
const hasLines = (analysis: Analysis, wired: WiredDevice): boolean =>
  outputJacks(wired).length > 0 ||
  inputsAt(analysis, [wired]).length > 0 ||
  outputsAt(analysis, [wired]).length > 0;

/** The last result at each jack. */
const checksAt = once((wiring: Wiring): ReadonlyMap<number, LineCheck> => {
  const found = new Map<number, LineCheck>();
  for (const check of wiring.show.lineChecks) {
    const terminal = findTerminal(wiring, check.at);
    const before = terminal === null ? undefined : found.get(terminal);
    if (terminal !== null && (!before || before.date <= check.date)) found.set(terminal, check);
  }
  return found;
});

/** `passed 2026-11-20`; in bold where it failed, or where the way has changed since. */
function lastCheck(analysis: Analysis, jacks: readonly number[]): PaperCell {
  const told = jacks.flatMap((jack) => {
    const check = checksAt(analysis.wiring).get(jack);
    if (!check) return [];
    const isStale = check.trace !== fingerprint(analysis, jack);
    const text = [`${check.result} ${check.date}`, check.note, isStale ? "stale: changed since" : ""]
      .filter((part) => part !== "")
      .join("; ");
    return [{ text, strong: isStale || check.result === "failed" }];
  });
  return { text: told.map(({ text }) => text).join("; "), strong: told.some(({ strong }) => strong) };
}

/** To be ticked, written on, and what the last check said; that only where there has been one. */
function checked(
  analysis: Analysis,
  right: string,
  rows: readonly { readonly jacks: readonly number[] }[],
): {
  readonly columns: readonly PaperColumn[];
  readonly cells: (jacks: readonly number[]) => readonly CellLike[];
} {
  const wasChecked = rows.some(({ jacks }) => jacks.some((jack) => checksAt(analysis.wiring).has(jack)));
  const columns: PaperColumn[] = [
    { title: "Signal", kind: "tick" },
    { title: right, kind: "tick" },
    { title: "Notes", kind: "blank", grow: 1, least: 30 },
  ];
  return wasChecked
    ? {
        columns: [...columns, { title: "Last check", grow: 0 }],
        cells: (jacks) => ["", "", "", lastCheck(analysis, jacks)],
      }
    : { columns, cells: () => ["", "", ""] };
}

interface InputLine {
  readonly source: Source;
  readonly wired: WiredDevice;
  readonly jacks: readonly [number];
}

/** The sources that are plugged in at the devices, in the order of their jacks. */
function inputsAt({ wiring, show }: Analysis, devices: readonly WiredDevice[]): readonly InputLine[] {
  const at = standing(wiring);
  const here = new Map(devices.map((wired) => [wired.index, wired]));
  return show.sources
    .flatMap((source, n): InputLine[] => {
      const jack = at.sources[n]!;
      const wired = jack === NOWHERE ? undefined : here.get(wiring.deviceOf[jack]!);
      return wired ? [{ source, wired, jacks: [jack] }] : [];
    })
    .sort((a, b) => a.jacks[0] - b.jacks[0]);
}

/** The channels that are planned to carry each source. */
const channelsOf = once((wiring: Wiring): ReadonlyMap<string, readonly number[]> => {
  const at = standing(wiring);
  const found = new Map<string, number[]>();
  wiring.show.channels.forEach(({ source }, n) => {
    if (source !== undefined && at.channels[n] !== NOWHERE) gather(found, source, at.channels[n]!);
  });
  return found;
});

function inputsTable(analysis: Analysis, lines: readonly InputLine[]): PaperTable {
  const { wiring } = analysis;
  const { columns, cells } = checked(analysis, "Right channel", lines);
  return {
    title: "Inputs",
    columns: [
      { title: "Jack", grow: 0 },
      { title: "Source", grow: 1 },
      { title: "Kind", grow: 0 },
      { title: "48 V", grow: 0, least: 11 },
      { title: "Gain set by", grow: 0, isOptional: true },
      { title: "Channels", grow: 1 },
      ...columns,
    ],
    rows: lines.map(({ source, wired, jacks }) => ({
      group: wired.device.name,
      cells: [
        { text: shortName(wiring, jacks[0]), strong: true },
        source.name,
        source.kind,
        source.phantom ? { text: "on", strong: true } : "off",
        source.preampOwner === undefined
          ? ""
          : { text: deviceName(wiring, source.preampOwner), owners: [source.preampOwner] },
        channelsText(analysis, channelsOf(wiring).get(source.id) ?? [], jacks[0]),
        ...cells(jacks),
      ],
    })),
    empty: "No source is plugged in here.",
  };
}

/** `Front of house 1, Monitors 1`; a channel that something else comes to says so. */
function channelsText({ wiring, arrivals }: Analysis, channels: readonly number[], jack: number): CellLike {
  if (channels.length === 0) return { text: "no channel planned", soft: true };
  const lost = channels.filter(
    (channel) => !arrivesAt(wiring, arrivals, channel) || !comesFrom(arrivals, channel, jack),
  );
  const told = channels.map((channel) => {
    const { wired, number } = locate(wiring, channel);
    return `${wired.device.name} ${number}${lost.includes(channel) ? " (doesn’t get there)" : ""}`;
  });
  return { text: told.join(", "), strong: lost.length > 0 };
}

/** Jacks at which one thing should be heard, or where it is quiet for one reason. */
interface OutputLine {
  readonly wired: WiredDevice;
  /** As it stands in the jack's column. */
  readonly name: string;
  readonly jacks: readonly number[];
  readonly kind: "feed" | "quiet" | "passed on";
  /** Told under one heading with others of its sort. */
  readonly isSmall: boolean;
}

/** Whatever has this few jacks is told in one line for each signal. */
const FEW = 4;

function outputsAt(analysis: Analysis, devices: readonly WiredDevice[]): readonly OutputLine[] {
  const isSmall = ({ fabric }: WiredDevice): boolean => {
    let jacks = 0;
    for (const span of fabric.layout.spans) if (span.side === "jack") jacks += span.count;
    return jacks <= FEW;
  };
  return [
    ...devices.filter((wired) => !isSmall(wired)).flatMap((wired) => jackByJack(analysis, wired)),
    ...devices.filter(isSmall).flatMap((wired) => signalBySignal(analysis, wired)),
  ];
}

/** The output jacks of a device, and whatever else of it is wanted: a recorder's tracks. */
function listenedAt({ wiring }: Analysis, { base, fabric }: WiredDevice): readonly number[] {
  return fabric.layout.spans.flatMap((span) => {
    const terminals = Array.from({ length: span.count }, (_, n) => base + span.start + n);
    return isOutput(span)
      ? terminals
      : terminals.filter((terminal) => wantNames(wiring, terminal).length > 0);
  });
}

function jackByJack(analysis: Analysis, wired: WiredDevice): readonly OutputLine[] {
  const { wiring } = analysis;
  const lines: (Omit<OutputLine, "name" | "jacks"> & { readonly jacks: number[]; readonly key: string })[] =
    [];
  for (const jack of listenedAt(analysis, wired)) {
    const { span } = locate(wiring, jack);
    const { kind, reason } = kindOf(analysis, wired, jack);
    const key = `${span.start} ${kind} ${reason}`;
    const last = lines.at(-1);
    if (last?.key === key && kind !== "feed" && last.jacks.at(-1) === jack - 1) last.jacks.push(jack);
    else lines.push({ wired, jacks: [jack], kind, isSmall: false, key });
  }
  return lines.map(({ key: _key, ...line }) => ({
    ...line,
    name: jackRange(wiring, line.jacks[0]!, line.jacks.at(-1)!),
  }));
}

/** Quiet jacks that nobody waits for, and sources that a passive device hands on jack by jack, are told together. */
function kindOf(
  { wiring, arrivals }: Analysis,
  wired: WiredDevice,
  jack: number,
): { readonly kind: OutputLine["kind"]; readonly reason: string } {
  const isWanted = wantNames(wiring, jack).length > 0;
  if (!arrivesAt(wiring, arrivals, jack)) {
    if (isWanted || pluggedIn(wiring, jack) !== "") return { kind: "feed", reason: "" };
    return { kind: "quiet", reason: traceOf(wiring, jack).verdict.kind };
  }
  const root = arrivals.root[jack]!;
  const own = wiring.state[root] === State.source && wiring.deviceOf[root] === wired.index;
  if (!own || isWanted) return { kind: "feed", reason: "" };
  const { span } = locate(wiring, root);
  return { kind: "passed on", reason: `${span.start} ${root - jack}` };
}

/** Of a device with a few jacks: one line for each signal, with all jacks at which it stands. */
function signalBySignal(analysis: Analysis, wired: WiredDevice): readonly OutputLine[] {
  const { wiring, arrivals } = analysis;
  const { base, fabric, device } = wired;
  const jacks = fabric.layout.spans.flatMap((span) =>
    span.side === "jack" ? Array.from({ length: span.count }, (_, n) => base + span.start + n) : [],
  );
  const listened = new Set(listenedAt(analysis, wired));
  const groups = new Map<string, number[]>();
  for (const jack of jacks) {
    // A source's own jack stands among the inputs.
    if (!listened.has(jack) && (wiring.sourceAt[jack]! >= 0 || !arrivesAt(wiring, arrivals, jack))) continue;
    const key = arrivesAt(wiring, arrivals, jack)
      ? String(arrivals.root[jack])
      : traceOf(wiring, jack).verdict.kind;
    gather(groups, key, jack);
  }
  return [...groups.values()].map((group): OutputLine => {
    const isQuiet =
      !arrivesAt(wiring, arrivals, group[0]!) && group.every((jack) => wantNames(wiring, jack).length === 0);
    const names = group.map((jack) => shortName(wiring, jack)).join(", ");
    return {
      wired,
      name: `${device.name} ${names}`,
      jacks: group,
      kind: isQuiet ? "quiet" : "feed",
      isSmall: true,
    };
  });
}

function outputsTable(analysis: Analysis, lines: readonly OutputLine[]): PaperTable {
  const { columns, cells } = checked(analysis, "Right place", lines);
  const alone = lines.every(({ isSmall }) => isSmall);
  return {
    title: "Outputs",
    columns: [
      { title: "Jack", grow: 0 },
      { title: "Should be heard", grow: 1 },
      { title: "From", grow: 1 },
      { title: "Plugged in", grow: 1, isOptional: true },
      ...columns,
    ],
    rows: lines.map((line): PaperRow => {
      const row = [
        { text: line.name, strong: line.kind !== "quiet" },
        ...lineCells(analysis, line),
        ...cells(line.jacks),
      ];
      if (line.isSmall)
        return alone ? { cells: row } : { cells: row, group: "Loudspeakers, transmitters and the like" };
      return { cells: row, group: line.wired.device.name };
    }),
    empty: "No output jack stands here.",
  };
}

function lineCells(analysis: Analysis, { jacks, kind, isSmall }: OutputLine): readonly CellLike[] {
  const { wiring, arrivals } = analysis;
  const [jack] = jacks as readonly [number];
  if (kind === "quiet") {
    const reason = VERDICT_NAMES[traceOf(wiring, jack).verdict.kind];
    return [{ text: "nothing", soft: true }, { text: reason, soft: true }, ""];
  }
  const plugged = isSmall ? "" : jacks.map((each) => pluggedIn(wiring, each));
  if (kind === "passed on") {
    const roots = jacks.map((each) => arrivals.root[each]!);
    const { span } = locate(wiring, roots[0]!);
    const numbers = numbersName(
      span,
      roots.map((root) => locate(wiring, root).number),
    );
    return [
      jacks.length === 1
        ? (signalName(analysis, roots[0]!) ?? "")
        : "the sources of these inputs, one by one",
      `${sideName(span)} ${numbers}`,
      pluggedRun(wiring, jacks),
    ];
  }
  return [
    heardAt(analysis, jacks),
    fromCell(analysis, jacks),
    Array.isArray(plugged) ? plugged.join("; ") : plugged,
  ];
}

/** What is wanted at the jacks, or on the way to them; else what people call the signal. */
function heardAt(analysis: Analysis, jacks: readonly number[]): CellLike {
  const { wiring, arrivals } = analysis;
  const [jack] = jacks as readonly [number];
  const isThere = arrivesAt(wiring, arrivals, jack);
  const wants = new Set(jacks.flatMap((each) => wantNames(wiring, each)));
  // A loudspeaker’s feed may be planned at the box that it hangs on.
  for (let at = jack; isThere && wants.size === 0 && at >= 0; at = wiring.feeder[at]!)
    for (const name of wantNames(wiring, at)) wants.add(name);
  if (wants.size > 0) return [...wants].join(", ");
  if (!isThere) return "nothing";
  return signalName(analysis, arrivals.root[jack]!) ?? { text: "no name given", soft: true };
}

/** The tap or source that a jack gets its signal from; in bold why nothing comes, or that it is the wrong one. */
function fromCell(analysis: Analysis, jacks: readonly number[]): PaperCell {
  const { wiring, arrivals } = analysis;
  const [jack] = jacks as readonly [number];
  if (!arrivesAt(wiring, arrivals, jack))
    return { text: verdictText(wiring, traceOf(wiring, jack)), strong: true };
  const owners = ownersOf(analysis, jacks);
  const told = rootsAt(arrivals, jack)
    .map((root) => (wiring.state[root] === State.tap ? shortName(wiring, root) : fullName(wiring, root)))
    .join(" + ");
  const wrong = jacks.flatMap((each) => wrongAt(analysis, each));
  return {
    text: wrong.length === 0 ? told : `${told}, not ${wrong.join(", ")}`,
    owners,
    ...(wrong.length > 0 ? { strong: true } : {}),
  };
}

/** The taps that wants name, by the jack where they are wanted. */
const namedOrigins = once((wiring: Wiring): ReadonlyMap<number, readonly number[]> => {
  const { wants, origins } = standing(wiring);
  const found = new Map<number, number[]>();
  wants.forEach((jack, n) => {
    if (jack !== NOWHERE && origins[n] !== NOWHERE) gather(found, jack, origins[n]!);
  });
  return found;
});

/** What is wanted at a jack and doesn’t come there. */
const wrongAt = ({ wiring, arrivals }: Analysis, jack: number): readonly string[] =>
  (namedOrigins(wiring).get(jack) ?? [])
    .filter((origin) => !comesFrom(arrivals, jack, origin))
    .map((origin) => tapName(wiring, origin));

/** What hangs in neighbouring jacks, one cable’s ways as a run. */
function pluggedRun(wiring: Wiring, jacks: readonly number[]): string {
  const fars = jacks.flatMap((jack) => [
    ...wiring.downList.subarray(wiring.downStart[jack], wiring.downStart[jack + 1]),
  ]);
  return gathered(wiring, fars, ({ device }, span, far) => {
    const tag = wiring.show.cables[wiring.setting[far]!]?.tag ?? "";
    return `${tag === "" ? "" : `${tag}: `}${device.name} ${sideName(span)}`;
  });
}
