/** What the label of each jack says: what comes there, whose it is, which channels carry it, what is plugged in. */
import type { Analysis } from "../../analysis.ts";
import type { JackBank } from "../../model/device-type.ts";
import type { DeviceId } from "../../model/ids.ts";
import { gather, once } from "../../model/once.ts";
import type { ChannelPlan } from "../../model/show.ts";
import { arrivesAt, rootsAt } from "../../trace/owners.ts";
import { busName, sourcesById, wantNames } from "../../trace/records.ts";
import { findTerminal, locate, ranges, shortName, terminalOf } from "../../trace/terminal.ts";
import { jackCables, wayTag, type Plugged } from "../jack-cables.ts";
import { ownersOf } from "../signals.ts";
import { Edge, State, type WiredDevice, type Wiring } from "../../wiring/wiring.ts";

export interface JackLabel {
  /** Counted from 1 within the bank. */
  readonly jack: number;
  /** What is planned or comes there; empty where neither is known. */
  readonly name: string;
  /** The console's output that it comes from: `Mix 3`; empty where it comes straight from a source. */
  readonly tap: string;
  /** Whose signal it is; more than one behind a join, or where a jack carries a pair. */
  readonly owners: readonly DeviceId[];
  /** Numbers of the channels that carry it, console by console in the show's order. */
  readonly channels: readonly { readonly console: DeviceId; readonly numbers: string }[];
  /** `W3 to Wedge 3`, of a multicore `M1/5 from Split`; empty where nothing is plugged in. */
  readonly cable: string;
  /** Something is planned there, and nothing comes. */
  readonly isDark: boolean;
}

/** The labels of a bank's jacks, in order. */
export function jackLabels(analysis: Analysis, wired: WiredDevice, bank: JackBank): readonly JackLabel[] {
  const { layout } = wired.fabric;
  const span = (bank.direction === "in" ? layout.sources : layout.destinations).get(bank.id);
  if (!span) return [];
  const first = wired.base + span.start;
  return Array.from({ length: bank.count }, (_, n) => {
    const terminals = Array.from(
      { length: bank.perJack },
      (_unused, half) => first + n * bank.perJack + half,
    );
    return jackLabel(analysis, n + 1, terminals);
  });
}

function jackLabel(analysis: Analysis, jack: number, terminals: readonly number[]): JackLabel {
  const { wiring, arrivals } = analysis;
  const told = terminals.map((terminal) => signalAt(analysis, terminal));
  const plans = new Set(terminals.flatMap((terminal) => channelsAt(analysis).get(terminal) ?? []));
  const name = listed(told.map((each) => each.name));
  return {
    jack,
    name,
    tap: listed(told.map((each) => each.tap)),
    owners: ownersOf(analysis, terminals),
    channels: byConsole(wiring, [...plans]),
    cable: listed(
      terminals.flatMap((terminal) => (jackCables(wiring).get(terminal) ?? []).map(cableWords)),
      ", ",
    ),
    isDark: name !== "" && !terminals.some((terminal) => arrivesAt(wiring, arrivals, terminal)),
  };
}

/** The texts, each once, those left out that are empty. */
const listed = (texts: readonly string[], between = " / "): string =>
  [...new Set(texts.filter((text) => text !== ""))].join(between);

interface Signal {
  readonly name: string;
  readonly tap: string;
}

/** The name of what is planned or comes at a terminal, and the tap that it comes from; behind a join all of them. */
function signalAt({ wiring, arrivals }: Analysis, terminal: number): Signal {
  const wanted = wantedAt(wiring, terminal);
  if (!arrivesAt(wiring, arrivals, terminal)) return { name: wanted, tap: "" };
  const roots = rootsAt(arrivals, terminal).map((root) => originAt(wiring, root));
  const tap = listed(roots.map((root) => root.tap));
  const name = wanted || listed(roots.map((root) => root.name));
  return name === "" ? { name: tap, tap: "" } : { name, tap };
}

function originAt(wiring: Wiring, root: number): Signal {
  if (wiring.state[root] === State.source) {
    return { name: wiring.show.sources[wiring.sourceAt[root]!]?.name ?? "", tap: "" };
  }
  return { name: busName(wiring.show, terminalOf(wiring, root)) ?? "", tap: shortName(wiring, root) };
}

/** What is wanted at a terminal; else, of an output jack, at the jacks that its cables lead to. */
function wantedAt(wiring: Wiring, terminal: number): string {
  const here = wantNames(wiring, terminal);
  if (here.length > 0) return listed(here);
  const below = wiring.downList.subarray(wiring.downStart[terminal], wiring.downStart[terminal + 1]);
  return listed(
    [...below].flatMap((next) => (wiring.edge[next] === Edge.cable ? wantNames(wiring, next) : [])),
  );
}

/**
 * The channels of each jack: at a source's own jack those that are planned to carry it, at every jack that they get it
 * through those again.
 */
const channelsAt = once(({ wiring }: Analysis): ReadonlyMap<number, readonly ChannelPlan[]> => {
  const found = new Map<number, ChannelPlan[]>();
  const sources = sourcesById(wiring.show);
  for (const plan of wiring.show.channels) {
    const source = plan.source === undefined ? undefined : sources.get(plan.source);
    const origin = source ? findTerminal(wiring, source.at) : null;
    if (origin === null) continue;
    gather(found, origin, plan);
    const channel = findTerminal(wiring, { device: plan.console, group: plan.group, number: plan.number });
    const way = channel === null ? [] : wayUp(wiring, channel);
    if (way.at(-1) !== origin) continue;
    for (const terminal of way.slice(0, -1)) {
      if (locate(wiring, terminal).span.side === "jack") gather(found, terminal, plan);
    }
  }
  return found;
});

/** The terminals that a terminal gets its signal through, upstream to the root. */
function wayUp({ feeder }: Wiring, terminal: number): readonly number[] {
  const way = new Set<number>();
  for (let at = feeder[terminal]!; at >= 0 && !way.has(at); at = feeder[at]!) way.add(at);
  return [...way];
}

function byConsole(wiring: Wiring, plans: readonly ChannelPlan[]): JackLabel["channels"] {
  const numbers = new Map<DeviceId, number[]>();
  for (const { console, number } of plans) gather(numbers, console, number);
  return [...numbers]
    .sort(([a], [b]) => (wiring.indexOf.get(a) ?? 0) - (wiring.indexOf.get(b) ?? 0))
    .map(([console, each]) => ({ console, numbers: ranges(each) }));
}

/** `W3 to Wedge 3`, of a multicore `M1/5 from Split`. */
const cableWords = (plugged: Plugged): string =>
  `${wayTag(plugged)} ${plugged.leads} ${plugged.device.device.name}`.trim();
