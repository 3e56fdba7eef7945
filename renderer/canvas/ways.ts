/** What each cable carries, one direction at a time: the terminals that receive. */
import { linkSlots, type Analysis, type CableId, type GroupId, type Span, type WiredDevice } from "#engine";

export type PluggedCable = Analysis["wiring"]["plugs"]["cables"][number];

/** One direction of a cable. */
export interface CableWay {
  /** The end that receives. */
  readonly to: 0 | 1;
  readonly span: Span;
  /** Receiving terminals, first slot first. */
  readonly terminals: readonly number[];
  readonly block: number;
}

export function cableWays({ join, cable }: PluggedCable): readonly CableWay[] {
  const ways: CableWay[] = [];
  const add = (
    to: 0 | 1,
    wired: WiredDevice,
    group: GroupId,
    first: number,
    count: number,
    block: number,
  ): void => {
    const span = wired.fabric.layout.sources.get(group);
    if (!span) return;
    const terminals = Array.from(
      { length: Math.max(0, Math.min(count, span.count - first)) },
      (_, index) => wired.base + span.start + first + index,
    );
    if (terminals.length > 0) ways.push({ to, span, terminals, block });
  };
  if (join.kind === "link") {
    const [a, b] = join.ends;
    add(1, b.device, b.port.id, 0, linkSlots(a, b), b.port.block);
    add(0, a.device, a.port.id, 0, linkSlots(b, a), a.port.block);
  } else if (join.kind === "jacks") {
    const { to } = join;
    const end = cable.ends[1].device === to.device.device.id && cable.ends[1].group === to.bank.id ? 1 : 0;
    const { perJack } = to.bank;
    add(end, to.device, to.bank.id, (to.first - 1) * perJack, cable.ways * perJack, to.bank.block);
  }
  return ways;
}

/** Slots of each direction of each cable. */
export type WayCounts = ReadonlyMap<CableId, readonly number[]>;

export function wayCounts({ wiring }: Analysis): WayCounts {
  const counts = new Map<CableId, readonly number[]>();
  for (const plugged of wiring.plugs.cables) {
    if (counts.has(plugged.cable.id)) continue;
    counts.set(
      plugged.cable.id,
      cableWays(plugged).map(({ terminals }) => terminals.length),
    );
  }
  return counts;
}
