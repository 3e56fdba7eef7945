/**
 * What the hand-out for phones knows of a rig. Every terminal has at most one feeder, so a table of feeders holds all
 * traces, and hops that they share stand in it once. Neighbours mostly say the same or count on, so columns are told in
 * runs: the festival rig of the benchmarks takes a small part of a megabyte. The V rules of SPEC.md.
 */
import type { Analysis } from "../analysis.ts";
import { gather } from "../model/once.ts";
import type { TerminalRef } from "../model/show.ts";
import { LOOP } from "../trace/arrivals.ts";
import { endsOf } from "../trace/ends.ts";
import { membersOf } from "../trace/members.ts";
import { findTerminal, locate, shortName, sideName } from "../trace/terminal.ts";
import { decidedBy } from "../trace/told.ts";
import { VERDICT_NAMES } from "../trace/trace.ts";
import { cycleAt, stepInto } from "../trace/walk.ts";
import { State, type Wiring } from "../wiring/wiring.ts";
import type { Span } from "../wiring/layout.ts";
import { hatchOf, OWNER_COLOURS, ownerMarks } from "../paperwork/owner-marks.ts";
import { rateName } from "../model/units.ts";

/** A node: a terminal that the hand-out knows, by its place in the table. */
export type NodeNumber = number;
/** A text, by its place in `texts`. */
export type TextNumber = number;

/** What a bank, port or section is to who looks for it. */
export type RowKind = "in" | "out" | "slots" | "channel" | "tap";

export interface HandoutRow {
  readonly device: number;
  readonly name: TextNumber;
  readonly kind: RowKind;
  /** Numbers of its nodes in order, as the device names them: `7`, `2A`. */
  readonly numbers: readonly (string | readonly [first: number, count: number])[];
}

export interface Handout {
  readonly format: "hopline.hand-out/1";
  readonly title: string;
  readonly venue: string;
  /** Empty where none is marked. */
  readonly revision: string;
  readonly date: string;
  readonly rate: string;
  readonly cautions: readonly string[];
  readonly texts: readonly string[];
  readonly places: readonly TextNumber[];
  /** `place` −1: it stands in none. `mark`: its letter, colour and hatch where it can own signals. */
  readonly devices: readonly {
    readonly name: TextNumber;
    readonly type: TextNumber;
    readonly place: number;
    readonly mark?: readonly [letter: string, colour: number, hatch: number];
  }[];
  /** Nodes are numbered row by row. */
  readonly rows: readonly HandoutRow[];
  /** Each node's feeder: runs of `[feeder, count]`, of which −1 stays and all others count on. */
  readonly feeders: readonly number[];
  /** What decides the step from the feeder: runs of `[text, count]`; −1 where there is none. */
  readonly by: readonly number[];
  /** Nanoseconds of that step: runs of `[time, count]`. */
  readonly time: readonly number[];
  /** How a trace ends that ends at the node: runs of `[place in endings, count]`; −1 where it goes on. */
  readonly end: readonly number[];
  /** `reason` −1: it arrives. `owner` −1: no device owns it. */
  readonly endings: readonly {
    readonly verdict: TextNumber;
    readonly reason: TextNumber;
    readonly owner: number;
  }[];
  /** What goes into taps: `count` members from `member` on, all into `tap`, or for `step` 1 each into the next one. */
  readonly members: readonly (readonly [tap: NodeNumber, member: NodeNumber, count: number, step: 0 | 1])[];
  readonly sources: readonly {
    readonly name: TextNumber;
    readonly kind: TextNumber;
    readonly at: NodeNumber;
    readonly phantom: boolean;
    /** −1: not told. */
    readonly preamp: number;
  }[];
  /** Names of channels, mixes and wants. */
  readonly names: readonly (readonly [at: NodeNumber, name: TextNumber, kind: "channel" | "mix" | "want"])[];
}

/** DESIGN section 8. */
export const HANDOUT_CAUTIONS: readonly string[] = [
  "Before you re-patch a live rig: mute and turn down the destination, take in-ears out of ears, bring up slowly.",
  "Never defeat a protective earth to cure hum.",
  "Mains, rigging and hearing limits follow local codes and a competent person. This is a plan, not a statement that the rig is safe.",
];

/** `date` is told as it stands. */
export function handoutData(analysis: Analysis, date: string): Handout {
  const { show, wiring } = analysis;
  const texts = new Texts();
  const nodes = nodesOf(wiring);
  const rows = rowsOf(wiring, nodes, texts);
  const places = new Map(show.places.map(({ id }, index) => [id, index]));
  const types = new Map(show.types.map((type) => [type.id, type]));
  const marks = new Map(ownerMarks(show).map((mark) => [mark.device, mark]));
  const revision = show.revisions.at(-1);
  const node = (at: TerminalRef): NodeNumber | null => {
    const terminal = findTerminal(wiring, at);
    return terminal === null ? null : (nodes.numberOf.get(terminal) ?? null);
  };
  const named: Handout["names"][number][] = [];
  const name = (at: TerminalRef, text: string, kind: "channel" | "mix" | "want"): void => {
    const number = node(at);
    if (number !== null && text !== "") named.push([number, texts.number(text), kind]);
  };
  for (const { console: device, group, number, name: text } of show.channels)
    name({ device, group, number }, text, "channel");
  for (const { console: device, group, first, width, name: text } of show.mixes) {
    for (let n = 0; n < width; n++) name({ device, group, number: first + n }, text, "mix");
  }
  for (const { to, name: text } of show.wants) name(to, text, "want");
  return {
    format: "hopline.hand-out/1",
    title: show.title,
    venue: show.venue,
    revision: revision ? [revision.name, revision.date].filter(Boolean).join(", ") : "",
    date,
    rate: rateName(show.settings.sampleRate),
    cautions: HANDOUT_CAUTIONS,
    places: show.places.map((place) => texts.number(place.name)),
    devices: show.devices.map((device) => {
      const mark = marks.get(device.id);
      return {
        name: texts.number(device.name),
        type: texts.number(types.get(device.type)?.name ?? ""),
        place: places.get(device.place) ?? -1,
        ...(mark ? { mark: [mark.letter, mark.index % OWNER_COLOURS, hatchOf(mark.index)] as const } : {}),
      };
    }),
    rows,
    ...stepsOf(analysis, nodes, texts),
    members: linksOf(wiring, nodes),
    sources: show.sources.flatMap(({ name: text, kind, at, phantom, preampOwner }) => {
      const number = node(at);
      if (number === null) return [];
      const preamp = preampOwner === undefined ? -1 : (wiring.indexOf.get(preampOwner) ?? -1);
      return [{ name: texts.number(text), kind: texts.number(kind), at: number, phantom, preamp }];
    }),
    names: named,
    // Last: all that is told has been gathered by now.
    texts: texts.list,
  };
}

/** Each text once. */
class Texts {
  readonly list: string[] = [];
  readonly #numbers = new Map<string, TextNumber>();

  number(text: string): TextNumber {
    let number = this.#numbers.get(text);
    if (number === undefined) {
      number = this.list.push(text) - 1;
      this.#numbers.set(text, number);
    }
    return number;
  }
}

/** The terminals that the hand-out knows, in ascending order, and each one's place. */
interface Nodes {
  readonly terminals: readonly number[];
  readonly numberOf: ReadonlyMap<number, NodeNumber>;
}

/**
 * All jacks, channels that something comes to or that are planned, taps that are planned or that a trace ends at, and
 * whatever stands before one of them.
 */
function nodesOf(wiring: Wiring): Nodes {
  const { show, size, state, feeder, mixInto } = wiring;
  const known = new Uint8Array(size);
  const found: number[] = [];
  const want = (start: number): void => {
    for (let at = start; at >= 0 && known[at] === 0; at = feeder[at]!) {
      known[at] = 1;
      found.push(at);
    }
  };
  for (let at = 0; at < size; at++) {
    const { span } = locate(wiring, at);
    const channel = span.side === "bus" && span.section.role === "channel";
    if (span.side === "jack" || (channel && state[at] === State.fed)) want(at);
  }
  const told = (ref: TerminalRef): void => want(findTerminal(wiring, ref) ?? -1);
  for (const { console: device, group, number } of show.channels) told({ device, group, number });
  for (const { console: device, group, first, width } of show.mixes) {
    for (let n = 0; n < width; n++) told({ device, group, number: first + n });
  }
  for (const { to } of show.wants) told(to);
  // What goes into a tap that is told is told too; the list grows while it is walked.
  for (let n = 0; n < found.length; n++) {
    const tap = found[n]!;
    for (let m = mixInto.start[tap]!; m < mixInto.start[tap + 1]!; m++) want(mixInto.terminal[m]!);
  }
  const terminals = found.sort((a, b) => a - b);
  return { terminals, numberOf: new Map(terminals.map((at, n) => [at, n])) };
}

function kindOf(span: Span): RowKind {
  if (span.side === "jack") return span.bank.direction;
  if (span.side !== "bus") return "slots";
  const { role } = span.section;
  return role === "channel" || role === "return" ? "channel" : "tap";
}

function rowsOf(wiring: Wiring, { terminals }: Nodes, texts: Texts): readonly HandoutRow[] {
  const rows: {
    device: number;
    name: TextNumber;
    kind: RowKind;
    numbers: HandoutRow["numbers"][number][];
  }[] = [];
  let before: Span | null = null;
  let run: [number, number] | null = null;
  for (const at of terminals) {
    const { wired, span } = locate(wiring, at);
    if (span !== before || rows.at(-1)!.device !== wired.index) {
      rows.push({ device: wired.index, name: texts.number(sideName(span)), kind: kindOf(span), numbers: [] });
      before = span;
      run = null;
    }
    const number = shortName(wiring, at).slice(sideName(span).length + 1);
    const { numbers } = rows.at(-1)!;
    if (!/^\d+$/.test(number)) numbers.push(number);
    else if (run && Number(number) === run[0] + run[1]) run[1]++;
    else numbers.push((run = [Number(number), 1]));
  }
  return rows;
}

/** `[value, count, …]`: neighbours that say the same; with `counts`, also those that count on, unless below nought. */
class Runs {
  readonly list: number[] = [];
  readonly #counts: boolean;

  constructor(counts = false) {
    this.#counts = counts;
  }

  add(value: number): void {
    const { list } = this;
    const last = list.length - 2;
    if (last >= 0) {
      const start = list[last]!;
      const next = this.#counts && start >= 0 ? start + list[last + 1]! : start;
      if (value === next) {
        list[last + 1]!++;
        return;
      }
    }
    list.push(value, 1);
  }
}

function stepsOf(
  analysis: Analysis,
  { terminals, numberOf }: Nodes,
  texts: Texts,
): Pick<Handout, "feeders" | "by" | "time" | "end" | "endings"> {
  const { wiring, arrivals } = analysis;
  const endOf = endsOf(analysis);
  const [feeders, by, time, end] = [new Runs(true), new Runs(), new Runs(), new Runs()];
  const endings: Handout["endings"][number][] = [];
  const known = new Map<string, number>();
  const cut = loopStarts(wiring, arrivals.root, terminals);
  for (const at of terminals) {
    const feeder = wiring.feeder[at]!;
    if (feeder >= 0 && !cut.has(at)) {
      feeders.add(numberOf.get(feeder)!);
      by.add(texts.number(deciding(wiring, at)));
      time.add(Math.round(wiring.delay[at]! * 1e6));
      end.add(-1);
      continue;
    }
    const { verdict, reason, owner } = endOf(at);
    const told = verdict === "arrives" ? -1 : texts.number(reason);
    const key = `${verdict} ${told} ${owner}`;
    let number = known.get(key);
    if (number === undefined) {
      number = endings.push({ verdict: texts.number(VERDICT_NAMES[verdict]), reason: told, owner }) - 1;
      known.set(key, number);
    }
    feeders.add(-1);
    by.add(-1);
    time.add(0);
    end.add(number);
  }
  return { feeders: feeders.list, by: by.list, time: time.list, end: end.list, endings };
}

/** What decides the step into a terminal; of a stream each cable on its way. */
function deciding(wiring: Wiring, terminal: number): string {
  const steps = stepInto(wiring, terminal).filter(({ kind }) => kind !== "converted" && kind !== "streamed");
  return steps.map((step) => decidedBy(wiring, step)).join(" → ");
}

/** The terminals of loops: a trace that comes to one of them ends there, with the loop as its reason (T3). */
function loopStarts(wiring: Wiring, root: Int32Array, terminals: readonly number[]): ReadonlySet<number> {
  const onLoops = new Set<number>();
  const seen = new Set<number>();
  for (const start of terminals) {
    if (root[start] !== LOOP || seen.has(start)) continue;
    const path = new Set<number>();
    let at = start;
    for (; !seen.has(at) && !path.has(at); at = wiring.feeder[at]!) path.add(at);
    if (path.has(at)) for (const each of cycleAt(wiring, at)) onLoops.add(each);
    for (const each of path) seen.add(each);
  }
  return onLoops;
}

/** The members of taps, those in a row as one. */
function linksOf(wiring: Wiring, { terminals, numberOf }: Nodes): Handout["members"] {
  const links: [number, number, number, 0 | 1][] = [];
  const byTap = new Map<number, number[]>();
  for (const at of terminals) {
    const tap = numberOf.get(at)!;
    for (const { member } of membersOf(wiring, at)) gather(byTap, tap, numberOf.get(member)!);
  }
  for (const [tap, members] of byTap) {
    const runs: [number, number, number, 0 | 1][] = [];
    for (const member of new Set(members)) {
      const last = runs.at(-1);
      if (last && last[1] + last[2] === member) last[2]++;
      else runs.push([tap, member, 1, 0]);
    }
    const [only] = runs;
    const last = links.at(-1);
    // Direct outs, insert sends: the next tap takes the next member.
    if (runs.length === 1 && only![2] === 1 && last && (last[3] === 1 || last[2] === 1)) {
      if (last[0] + last[2] === tap && last[1] + last[2] === only![1]) {
        last[2]++;
        last[3] = 1;
        continue;
      }
    }
    links.push(...runs);
  }
  return links;
}
