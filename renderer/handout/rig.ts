/** The hand-out's data, unpacked: everything by node number. Knows nothing of the page. */
import type { Handout } from "#engine/exchange/handout.ts";

export interface Rig {
  readonly data: Handout;
  readonly count: number;
  /** Row of each node. */
  readonly row: Int32Array;
  readonly number: readonly string[];
  readonly feeder: Int32Array;
  readonly by: Int32Array;
  readonly time: Int32Array;
  readonly end: Int32Array;
  /** First node of each row, and one past the last. */
  readonly starts: readonly number[];
  readonly fed: readonly (readonly number[])[];
  readonly membersOf: ReadonlyMap<number, readonly number[]>;
  readonly tapsOf: ReadonlyMap<number, readonly number[]>;
  readonly sourceAt: ReadonlyMap<number, readonly number[]>;
  readonly namesAt: ReadonlyMap<number, readonly string[]>;
}

export function unpack(data: Handout): Rig {
  const number: string[] = [];
  const starts: number[] = [];
  const rows: number[] = [];
  data.rows.forEach(({ numbers }, row) => {
    starts.push(number.length);
    for (const each of numbers) {
      const [first, count] = typeof each === "string" ? [each, 1] : each;
      for (let n = 0; n < count; n++) {
        number.push(typeof first === "string" ? first : String(first + n));
        rows.push(row);
      }
    }
  });
  const count = number.length;
  starts.push(count);
  const column = (runs: readonly number[], counts: boolean): Int32Array => {
    const values = new Int32Array(count);
    let at = 0;
    for (let n = 0; n < runs.length; n += 2) {
      const start = runs[n]!;
      for (let k = 0; k < runs[n + 1]!; k++) values[at++] = counts && start >= 0 ? start + k : start;
    }
    return values;
  };
  const feeder = column(data.feeders, true);
  const fed = Array.from({ length: count }, (): number[] => []);
  feeder.forEach((from, at) => fed[from]?.push(at));
  const membersOf = new Map<number, number[]>();
  const tapsOf = new Map<number, number[]>();
  for (const [tap, member, length, step] of data.members) {
    for (let n = 0; n < length; n++) {
      add(membersOf, tap + (step === 1 ? n : 0), member + n);
      add(tapsOf, member + n, tap + (step === 1 ? n : 0));
    }
  }
  const sourceAt = new Map<number, number[]>();
  data.sources.forEach(({ at }, source) => add(sourceAt, at, source));
  const namesAt = new Map<number, string[]>();
  for (const [at, name] of data.names) add(namesAt, at, data.texts[name]!);
  return {
    data,
    count,
    row: Int32Array.from(rows),
    number,
    feeder,
    by: column(data.by, false),
    time: column(data.time, false),
    end: column(data.end, false),
    starts,
    fed,
    membersOf,
    tapsOf,
    sourceAt,
    namesAt,
  };
}

function add<Value>(lists: Map<number, Value[]>, key: number, value: Value): void {
  const list = lists.get(key);
  if (list) list.push(value);
  else lists.set(key, [value]);
}

export const deviceOf = ({ data, row }: Rig, node: number): number => data.rows[row[node]!]!.device;
export const deviceName = ({ data }: Rig, device: number): string => data.texts[data.devices[device]!.name]!;
export const kindOf = ({ data, row }: Rig, node: number): Handout["rows"][number]["kind"] =>
  data.rows[row[node]!]!.kind;

/** `Out 5` */
export const shortName = ({ data, row, number }: Rig, node: number): string =>
  `${data.texts[data.rows[row[node]!]!.name]!} ${number[node]!}`;
/** `Stage left Out 5` */
export const fullName = (rig: Rig, node: number): string =>
  `${deviceName(rig, deviceOf(rig, node))} ${shortName(rig, node)}`;

/** What people call it: the source there, the channel, the mix, what is wanted there; empty where nobody named it. */
export const called = ({ sourceAt, namesAt, data }: Rig, node: number): string =>
  [
    ...new Set([
      ...(sourceAt.get(node) ?? []).map((source) => data.texts[data.sources[source]!.name]!),
      ...(namesAt.get(node) ?? []),
    ]),
  ].join(", ");

/** The nodes of a trace in the direction of the signal, the node itself last. */
export function traceTo({ feeder }: Rig, node: number): readonly number[] {
  const way = [node];
  for (let at = feeder[node]!; at >= 0; at = feeder[at]!) way.push(at);
  return way.reverse();
}

export interface Outcome {
  readonly origin: number;
  readonly arrives: boolean;
  /** `arrives`, `not plugged`, … */
  readonly verdict: string;
  /** In words, where nothing arrives. */
  readonly reason: string;
  /** Index of the device that owns what arrives; −1: none. */
  readonly owner: number;
  /** Milliseconds. */
  readonly delay: number;
}

export function outcomeOf(rig: Rig, node: number): Outcome {
  const { data, feeder, time, end } = rig;
  let nanoseconds = 0;
  let origin = node;
  for (; feeder[origin]! >= 0; origin = feeder[origin]!) nanoseconds += time[origin]!;
  const { verdict, reason, owner } = data.endings[end[origin]!]!;
  return {
    origin,
    arrives: reason < 0,
    verdict: data.texts[verdict]!,
    reason: reason < 0 ? "" : data.texts[reason]!,
    owner,
    delay: nanoseconds / 1e6,
  };
}

/** The jacks and channels downstream of a node, mixes not passed, in the order of the table. */
export function endsBelow(rig: Rig, node: number): readonly number[] {
  const ends: number[] = [];
  const open = [...rig.fed[node]!];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const kind = kindOf(rig, at);
    const goesOn = rig.fed[at]!.length > 0;
    if (kind === "out" || kind === "channel" || (kind === "in" && !goesOn)) ends.push(at);
    open.push(...rig.fed[at]!);
  }
  return ends.sort((a, b) => a - b);
}
