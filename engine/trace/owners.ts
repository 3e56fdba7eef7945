/** Who owns the output jacks: each jack's console, and each block's. */
import type { DeviceId } from "../model/ids.ts";
import type { Wiring, WiredDevice } from "../wiring/wiring.ts";
import { State } from "../wiring/wiring.ts";
import { isOutput, spanBlock, type Span } from "../wiring/layout.ts";
import { LOOP, type Arrivals } from "./arrivals.ts";
import { gatekeepers } from "./trace.ts";
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

/** Index of the device that owns a terminal's signal; −1: nothing arrives from a tap. */
export function ownerIndex(wiring: Wiring, { root }: Arrivals, terminal: number): number {
  const end = root[terminal]!;
  return end !== LOOP && wiring.state[end] === State.tap ? wiring.deviceOf[end]! : -1;
}

/** Whether something arrives at the terminal: from a tap or straight from a source. */
export function arrivesAt(wiring: Wiring, { root }: Arrivals, terminal: number): boolean {
  const end = root[terminal]!;
  return end !== LOOP && (wiring.state[end] === State.tap || wiring.state[end] === State.source);
}

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
  const size = spanBlock(span);
  const blocks: Block[] = [];
  for (let start = 0; start < span.count;) {
    let end = start + 1;
    const rule = wired.fabric.rule[span.start + start];
    while (end < span.count && end % size !== 0 && wired.fabric.rule[span.start + end] === rule) end++;
    blocks.push(blockOf(wiring, found, wired, span, start, end));
    start = end;
  }
  return blocks;
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
    const owner = ownerIndex(wiring, found, terminal);
    if (owner >= 0) owners.add(owner);
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
