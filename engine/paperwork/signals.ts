/** What passes a run of terminals and where it comes out, in as few words as paper has room for. */
import { mixName } from "../findings/describe.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Analysis } from "../analysis.ts";
import { arrivesAt, ownersAt } from "../trace/owners.ts";
import { cablesById } from "../trace/records.ts";
import { fullName, locate, numbersName, sideName } from "../trace/terminal.ts";
import { mixOutOf } from "../wiring/mixes.ts";
import { isOutput, type Span } from "../wiring/layout.ts";
import { Edge, State, type Wiring } from "../wiring/wiring.ts";
import type { PaperCell } from "./block.ts";

/** What people call the signal that starts at a root: its source, its mix, or for a direct out the source of its channel. */
export function signalName({ wiring, arrivals }: Analysis, root: number): string | undefined {
  const source = wiring.show.sources[wiring.sourceAt[root]!];
  if (wiring.state[root] === State.source) return source?.name;
  const mix = mixName(wiring, root);
  if (mix) return mix;
  const { span } = locate(wiring, root);
  if (span.side !== "bus" || span.section.role !== "direct") return undefined;
  const first = wiring.mixInto.start[root]!;
  if (wiring.mixInto.start[root + 1] !== first + 1) return undefined;
  const end = arrivals.root[wiring.mixInto.terminal[first]!]!;
  return end >= 0 && wiring.state[end] === State.source
    ? wiring.show.sources[wiring.sourceAt[end]!]?.name
    : undefined;
}

/** The devices that own the signals at the terminals, each once, in the order in which they are met. */
export function ownersOf({ wiring, arrivals }: Analysis, terminals: readonly number[]): readonly DeviceId[] {
  const owners = new Set<number>();
  for (const terminal of terminals) {
    for (const owner of ownersAt(wiring, arrivals, terminal)) owners.add(owner);
  }
  return [...owners].map((index) => wiring.devices[index]!.device.id);
}

/**
 * The signals at neighbouring terminals: `Kick, Snare`, `Monitors Mix 9–16: Ears Lead vocal, Ears Keys`. Taps of the device
 * `home` itself are told by their names alone, since they stand beside it as what is taken.
 */
export function signalsCell(rig: Analysis, terminals: readonly number[], home: DeviceId): PaperCell {
  const { wiring, arrivals } = rig;
  const parts: { key: string; where: string; span: Span; numbers: number[]; names: Set<string> }[] = [];
  let missing = 0;
  for (const terminal of terminals) {
    if (!arrivesAt(wiring, arrivals, terminal)) {
      missing++;
      continue;
    }
    const root = arrivals.root[terminal]!;
    const { wired, span, number } = locate(wiring, root);
    const isSource = wiring.state[root] === State.source;
    const key = isSource ? "sources" : `${wired.index}:${span.start}`;
    let part = parts.at(-1);
    if (part?.key !== key) {
      const own = isSource || wired.device.id === home;
      const where = own ? "" : `${wired.device.name} ${sideName(span)}`;
      parts.push((part = { key, where, span, numbers: [], names: new Set() }));
    }
    part.numbers.push(number);
    const name = signalName(rig, root);
    if (name) part.names.add(name);
  }
  const told = parts
    .map(({ where, span, numbers, names }) =>
      [where === "" ? "" : `${where} ${numbersName(span, numbers)}`, [...names].join(", ")]
        .filter((text) => text !== "")
        .join(": "),
    )
    .filter((text) => text !== "");
  const dark =
    missing === 0
      ? []
      : [missing === terminals.length ? "nothing arrives" : `nothing arrives at ${missing} of them`];
  const owners = ownersOf(rig, terminals);
  return { text: [...told, ...dark].join("; "), ...(owners.length > 0 ? { owners } : {}) };
}

/**
 * Where the signals of terminals come out: the first output jacks on the way down, a recorder's tracks, channels, returns,
 * and input jacks with nothing behind them. Mixes aren't passed.
 */
export function endsOf(wiring: Wiring, terminals: readonly number[]): readonly number[] {
  const { downStart, downList } = wiring;
  const out = mixOutOf(wiring);
  const ends = new Set<number>();
  const seen = new Set<number>();
  const open = [...terminals];
  for (let terminal = open.pop(); terminal !== undefined; terminal = open.pop()) {
    if (seen.has(terminal)) continue;
    seen.add(terminal);
    const { span } = locate(wiring, terminal);
    const [first, last] = [downStart[terminal]!, downStart[terminal + 1]!];
    const isJack = span.side === "jack" && (span.bank.direction === "out" || first === last);
    const mixes = out.start[terminal]! < out.start[terminal + 1]!;
    if (isJack || span.side === "bus" || mixes) ends.add(terminal);
    else for (let n = first; n < last; n++) open.push(downList[n]!);
  }
  return [...ends].sort((a, b) => a - b);
}

/** What hangs in an output jack: `W1: Wedge 1 In 1`. Empty where nothing does. */
export function pluggedIn(wiring: Wiring, jack: number): string {
  const { downStart, downList, edge, setting, show } = wiring;
  const far = [...downList.subarray(downStart[jack], downStart[jack + 1])].filter(
    (terminal) => edge[terminal] === Edge.cable,
  );
  return far
    .map((terminal) => {
      const cable = show.cables[setting[terminal]!];
      const tag = cable && cablesById(show).get(cable.id)?.tag;
      return [tag, fullName(wiring, terminal)].filter(Boolean).join(": ");
    })
    .join("; ");
}

/** Output jacks of devices, a recorder's tracks aside. */
export const isOutputJack = (wiring: Wiring, terminal: number): boolean =>
  isOutput(locate(wiring, terminal).span);
