/** Who owns the output jacks: each jack's console, and each block's. */
import type { DeviceId } from "../model/ids.ts";
import { gather, once } from "../model/once.ts";
import type { Wiring, WiredDevice } from "../wiring/wiring.ts";
import { State } from "../wiring/wiring.ts";
import type { Fabric } from "../wiring/fabric.ts";
import { isOutput, spanBlock, type Span } from "../wiring/layout.ts";
import { LOOP, type Arrivals } from "./arrivals.ts";
import { findTerminal } from "./terminal.ts";
import { gatekeepers, ownerOf, type Trace } from "./trace.ts";
import { traceOf } from "./walk.ts";

/** `sources only`: everything arrives, and straight from sources; no console has a hand in it. */
export type BlockState = "one owner" | "shared" | "unfed" | "partly fed" | "sources only";

export interface Block {
  readonly wired: WiredDevice;
  readonly span: Span;
  /** Numbers within the group, first to last. */
  readonly first: number;
  readonly last: number;
  readonly state: BlockState;
  /** In the order in which they are met; empty where nothing arrives from a tap. */
  readonly owners: readonly DeviceId[];
  readonly fed: number;
}

/** Index of the device that owns a terminal's signal; −1: nothing arrives from a tap, or from taps of several devices. */
export function ownerIndex(wiring: Wiring, { root, joins }: Arrivals, terminal: number): number {
  const end = root[terminal]!;
  if (end === LOOP || wiring.state[end] !== State.tap) return -1;
  return joins?.get(end)?.owner ?? wiring.deviceOf[end]!;
}

/** Whether something arrives at the terminal: from a tap or straight from a source; behind a join, over one of its legs. */
export function arrivesAt(wiring: Wiring, { root, joins }: Arrivals, terminal: number): boolean {
  const end = root[terminal]!;
  if (end === LOOP) return false;
  if (wiring.state[end] !== State.tap) return wiring.state[end] === State.source;
  return joins === null || joins.get(end)?.roots.length !== 0;
}

/** What arrives at a terminal: its root, behind a join the roots of its legs; none in a loop. */
export function rootsAt({ root, joins }: Arrivals, terminal: number): readonly number[] {
  const end = root[terminal]!;
  if (end === LOOP) return [];
  return joins?.get(end)?.roots ?? [end];
}

/** Where the trace of a terminal stops at which nothing arrives, behind a join those of its legs; loops left out. */
export function stopsAt({ root, joins }: Arrivals, terminal: number): readonly number[] {
  const end = root[terminal]!;
  if (end === LOOP) return [];
  return joins?.get(end)?.stops ?? [end];
}

/** Whether a terminal gets what stands at `origin`, be it over one leg of a join. */
export function comesFrom({ root, joins }: Arrivals, terminal: number, origin: number): boolean {
  if (root[terminal] === origin) return true;
  const joined = joins?.get(root[terminal]!);
  return joined !== undefined && (joined.roots.includes(origin) || joined.passed.includes(origin));
}

/** The devices that own the signal of a terminal: more than one only behind a join. */
export function ownersAt(wiring: Wiring, arrivals: Arrivals, terminal: number): readonly number[] {
  const joined = arrivals.joins?.get(arrivals.root[terminal]!);
  if (joined) return joined.owners;
  const owner = ownerIndex(wiring, arrivals, terminal);
  return owner < 0 ? [] : [owner];
}

/** The owner of what a trace tells: of its origin, or of all that comes to the join at which it starts. */
export function ownerThrough(wiring: Wiring, { joins }: Arrivals, trace: Trace): DeviceId | null {
  const { verdict } = trace;
  const at = verdict.kind === "arrives" && joins !== null ? findTerminal(wiring, verdict.origin.at) : null;
  const joined = at === null ? undefined : joins?.get(at);
  return joined ? (wiring.devices[joined.owner]?.device.id ?? null) : ownerOf(trace);
}

/** Whether several devices have a hand in what arrives at the terminal. */
export const isShared = ({ root, joins }: Arrivals, terminal: number): boolean =>
  joins !== null && (joins.get(root[terminal]!)?.owners.length ?? 0) > 1;

/** Terminals of a device's output jacks, those without a connector left out. */
export function outputJacks(wired: WiredDevice): readonly { readonly span: Span; readonly first: number }[] {
  return wired.fabric.layout.spans.filter(isOutput).map((span) => ({ span, first: wired.base + span.start }));
}

/**
 * The blocks of a device's output banks. A block is what the device itself hands out together: the bank's blocks, cut
 * where a rule of the mode ends, so that four jacks wired from link B and four from link C are two blocks.
 */
export function outputBlocks(wiring: Wiring, found: Arrivals, wired: WiredDevice): readonly Block[] {
  return outputJacks(wired).flatMap(({ span }) => blocksOf(wiring, found, wired, span));
}

/** The blocks of any span that sends signals on: an output bank, or the send side of a port. */
export function blocksOf(wiring: Wiring, found: Arrivals, wired: WiredDevice, span: Span): readonly Block[] {
  const ends = blockEnds(wired.fabric).get(span) ?? [];
  return ends.map((end, n) => blockOf(wiring, found, wired, span, n === 0 ? 0 : ends[n - 1]!, end));
}

/** By span: where each of its blocks ends, as the number of places up to there. */
const blockEnds = once(({ layout, rule }: Fabric): ReadonlyMap<Span, readonly number[]> => {
  const ends = new Map<Span, number[]>();
  for (const span of layout.spans) {
    const size = spanBlock(span);
    for (let end = 1; end <= span.count; end++) {
      const last = span.start + end - 1;
      if (end === span.count || end % size === 0 || rule[last + 1] !== rule[last]) gather(ends, span, end);
    }
  }
  return ends;
});

/** The blocks of a span in which not all is of one piece: of two owners, or fed in part. Nearly all blocks are. */
export function mixedBlocksOf(
  wiring: Wiring,
  found: Arrivals,
  wired: WiredDevice,
  span: Span,
): readonly Block[] {
  const blocks: Block[] = [];
  const first = wired.base + span.start;
  let start = 0;
  for (const end of blockEnds(wired.fabric).get(span) ?? []) {
    if (differ(wiring, found, first + start, first + end)) {
      const block = blockOf(wiring, found, wired, span, start, end);
      if (block.state === "shared" || block.state === "partly fed") blocks.push(block);
    }
    start = end;
  }
  return blocks;
}

/** Whether terminals, the last left out, differ in who owns them or in whether anything arrives, or one is shared in itself. */
function differ(wiring: Wiring, found: Arrivals, first: number, last: number): boolean {
  const hand = handAt(wiring, found, first);
  for (let terminal = first + 1; terminal < last; terminal++) {
    if (handAt(wiring, found, terminal) !== hand) return true;
  }
  // One jack behind a join can have two owners.
  for (let terminal = first; found.joins !== null && terminal < last; terminal++) {
    if (isShared(found, terminal)) return true;
  }
  return false;
}

/** `ownerIndex`, told apart from where nothing arrives. */
const DARK = -2;
function handAt(wiring: Wiring, { root, joins }: Arrivals, terminal: number): number {
  const end = root[terminal]!;
  if (end === LOOP) return DARK;
  const state = wiring.state[end];
  if (state !== State.tap) return state === State.source ? -1 : DARK;
  const joined = joins?.get(end);
  if (!joined) return wiring.deviceOf[end]!;
  return joined.roots.length === 0 ? DARK : joined.owner;
}

function blockOf(
  wiring: Wiring,
  found: Arrivals,
  wired: WiredDevice,
  span: Span,
  start: number,
  end: number,
): Block {
  const owners = new Set<number>();
  let fed = 0;
  for (let offset = start; offset < end; offset++) {
    const terminal = wired.base + span.start + offset;
    if (!arrivesAt(wiring, found, terminal)) continue;
    fed++;
    for (const owner of ownersAt(wiring, found, terminal)) owners.add(owner);
  }
  const state = stateOf(fed, end - start, owners.size);
  return {
    wired,
    span,
    first: start + 1,
    last: end,
    state,
    owners: [...owners].map((index) => wiring.devices[index]!.device.id),
    fed,
  };
}

function stateOf(fed: number, size: number, owners: number): BlockState {
  if (fed === 0) return "unfed";
  if (owners > 1) return "shared";
  if (fed < size) return "partly fed";
  return owners === 1 ? "one owner" : "sources only";
}

/** Every device whose settings could break a signal of the block, in the order in which the block's traces meet them. */
export function blockGatekeepers(wiring: Wiring, { wired, span, first, last }: Block): readonly DeviceId[] {
  const keepers = new Set<DeviceId>();
  for (let number = first; number <= last; number++) {
    const trace = traceOf(wiring, wired.base + span.start + number - 1);
    for (const device of gatekeepers(trace)) keepers.add(device);
  }
  return [...keepers];
}
