/**
 * A type on the bench: one device of it in a show of its own, with nothing plugged in, compiled as any show is. So what
 * feeds a jack inside, and what it feeds, is told by the very traces that tell it in a rig.
 */
import type { DeviceType, FabricRule } from "../model/device-type.ts";
import { id, type DeviceId, type GroupId, type ModeId, type PlaceId, type ShowId } from "../model/ids.ts";
import { SHOW_FORMAT, SHOW_VERSION, type Show } from "../model/show.ts";
import type { SampleRate } from "../model/units.ts";
import { findTerminal, locate, shortName, sideName, terminalOf, type Terminal } from "../trace/terminal.ts";
import type { Trace } from "../trace/trace.ts";
import { traceOf } from "../trace/walk.ts";
import { mixOutOf } from "../wiring/mixes.ts";
import { compile } from "../wiring/compile.ts";
import { BEYOND_PORT, fabricOf, NO_RULE, type Fabric } from "../wiring/fabric.ts";
import { layoutOf, type Side, type Span } from "../wiring/layout.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { numbers, ruleWords } from "./words.ts";

export const BENCH_DEVICE = id<DeviceId>("bench");
const BENCH_PLACE = id<PlaceId>("bench");

/** How the device on the bench is set. */
export interface BenchSetting {
  readonly mode: ModeId;
  readonly position: number;
  readonly rate: SampleRate;
}

/** A show with one device of the type and nothing else. */
export const benchShow = (type: DeviceType, { mode, position, rate }: BenchSetting): Show => ({
  format: SHOW_FORMAT,
  version: SHOW_VERSION,
  id: id<ShowId>("bench"),
  title: type.name,
  venue: "",
  notes: "",
  settings: { sampleRate: rate, units: "metric", paper: "A4" },
  places: [{ id: BENCH_PLACE, name: "Bench", at: { x: 0, y: 0 }, size: { width: 1, height: 1 } }],
  types: [type],
  devices: [
    {
      id: BENCH_DEVICE,
      name: type.name,
      type: type.id,
      place: BENCH_PLACE,
      at: { x: 0, y: 0 },
      mode,
      position,
      powered: true,
      routing: [],
    },
  ],
  cables: [],
  sources: [],
  channels: [],
  mixes: [],
  wants: [],
  lineChecks: [],
  revisions: [],
});

/** A rule that a probe met, with its path in the type. */
export interface MetRule {
  readonly path: string;
  readonly words: string;
}

export interface Reached {
  readonly at: Terminal;
  readonly name: string;
  /** Upstream from there; ends at the tap where the way leads through a mixer. */
  readonly trace: Trace;
}

export interface Probe {
  readonly wiring: Wiring;
  /** Its number in the wiring. */
  readonly terminal: number;
  readonly at: Terminal;
  readonly name: string;
  /** What feeds it inside the device. */
  readonly trace: Trace;
  /** The rule that decides it; null where none reaches it, or none has to. */
  readonly rule: MetRule | null;
  /** Everything inside that it feeds, in the order of the device's parts. */
  readonly feeds: readonly Reached[];
  /** Patch rules by which a setting may take it on. */
  readonly mayFeed: readonly MetRule[];
}

/** What a jack, slot, channel or tap is fed by and feeds. Null where the type has no such terminal. */
export function probeType(
  type: DeviceType,
  setting: BenchSetting,
  at: { readonly group: GroupId; readonly side: Side; readonly number: number },
): Probe | null {
  const wiring = compile(benchShow(type, setting));
  const terminal = findTerminal(wiring, { device: BENCH_DEVICE, ...at });
  const wired = wiring.devices[0];
  if (terminal === null || !wired) return null;
  const { fabric } = wired;
  const index = fabric.rule[terminal - wired.base]!;
  const met = (n: number): MetRule => ({
    path: rulePath(type, fabric, n),
    words: ruleWords(type, fabric.rules[n]!),
  });
  return {
    wiring,
    terminal,
    at: terminalOf(wiring, terminal),
    name: shortName(wiring, terminal),
    trace: traceOf(wiring, terminal),
    rule: index === NO_RULE ? null : met(index),
    feeds: downstream(wiring, terminal),
    mayFeed: takersOf(fabric, locate(wiring, terminal).span, at.number).map(met),
  };
}

/** `modes[1].rules[0]`, or `rules[0]` where the rule holds in every mode. */
function rulePath(type: DeviceType, { mode }: Fabric, index: number): string {
  const own = mode?.rules.length ?? 0;
  return index < own
    ? `modes[${type.modes.findIndex((each) => each === mode)}].rules[${index}]`
    : `rules[${index - own}]`;
}

/** Everything below a terminal, over rules, direct outs, insert sends and joins. */
function downstream(wiring: Wiring, start: number): readonly Reached[] {
  const { downStart, downList } = wiring;
  const out = mixOutOf(wiring);
  const below = new Set([start]);
  for (const at of below) {
    for (let n = downStart[at]!; n < downStart[at + 1]!; n++) below.add(downList[n]!);
    for (let n = out.start[at]!; n < out.start[at + 1]!; n++) below.add(out.terminal[n]!);
  }
  below.delete(start);
  return [...below]
    .sort((a, b) => a - b)
    .map((at) => ({ at: terminalOf(wiring, at), name: shortName(wiring, at), trace: traceOf(wiring, at) }));
}

/** The patch rules in force somewhere that list a terminal among what may be assigned. */
function takersOf(fabric: Fabric, span: Span, number: number): readonly number[] {
  const inForce = new Set(fabric.rule);
  const lists = (rule: FabricRule): boolean =>
    rule.kind === "patch" &&
    rule.from.some(({ group, first, count }) => {
      const source = fabric.layout.sources.get(group);
      return source === span && number >= first && number < first + count;
    });
  return fabric.rules.flatMap((rule, n) => (inForce.has(n) && lists(rule) ? [n] : []));
}

/** Neighbouring destinations that one rule feeds in step. */
export interface FeedRun {
  readonly to: string;
  /** `Link A in 1–8`; `assigned`, `nothing` or `beyond the slots` where no terminal feeds them. */
  readonly from: string;
  readonly kind: "wired" | "carried" | "assigned" | "nothing" | "beyond";
  readonly span: Span;
  readonly first: number;
  readonly count: number;
  /** Null where no rule reaches them. */
  readonly rule: MetRule | null;
}

/** What feeds every destination of a type in one mode and position: the table on a maker's sheet. */
export function feedTable(type: DeviceType, mode: ModeId, position: number): readonly FeedRun[] {
  const fabric = fabricOf(type, mode, position);
  const layout = layoutOf(type);
  const rows: FeedRun[] = [];
  for (const span of layout.spans) {
    if (![...layout.destinations.values()].includes(span)) continue;
    for (let n = 0; n < span.count;) {
      const count = inStep(fabric, span, n);
      rows.push(feedRun(type, fabric, span, n + 1, count));
      n += count;
    }
  }
  return rows;
}

/** How many terminals from the n-th on one rule feeds in step. */
function inStep({ rule, feed, layout }: Fabric, { start, count }: Span, n: number): number {
  const at = start + n;
  let length = 1;
  for (; n + length < count; length++) {
    const next = at + length;
    if (rule[next] !== rule[at]) break;
    const [a, b] = [feed[at]!, feed[next]!];
    if (a < 0 ? b !== a : b !== a + length || layout.spanAt[a] !== layout.spanAt[b]) break;
  }
  return length;
}

function feedRun(type: DeviceType, fabric: Fabric, span: Span, first: number, count: number): FeedRun {
  const offset = span.start + first - 1;
  const index = fabric.rule[offset]!;
  const rule = fabric.rules[index];
  const common = {
    to: `${sideName(span)} ${numbers(first, count)}`,
    span,
    first,
    count,
    rule: rule ? { path: rulePath(type, fabric, index), words: ruleWords(type, rule) } : null,
  };
  if (!rule) return { ...common, from: "nothing", kind: "nothing" };
  if (rule.kind === "patch") return { ...common, from: "assigned", kind: "assigned" };
  const feed = fabric.feed[offset]!;
  if (feed === BEYOND_PORT) return { ...common, from: "beyond the slots", kind: "beyond" };
  const source = fabric.layout.spans[fabric.layout.spanAt[feed]!]!;
  const from = `${sideName(source)} ${numbers(feed - source.start + 1, count)}`;
  return { ...common, from, kind: rule.kind === "wired" ? "wired" : "carried" };
}
