/** F5: a block whose signals come from two consoles. Whoever sets it, sets it for both. */
import { isOutput, type Span, type TypeLayout } from "../wiring/layout.ts";
import type { Arrivals, Sight } from "../trace/arrivals.ts";
import { mixedBlocksOf, type Block } from "../trace/owners.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { spanRun, terminalOf } from "../trace/terminal.ts";
import type { Analysed, Check, Finding } from "./finding.ts";
import { once } from "../model/once.ts";
import { wiredOf } from "../trace/records.ts";
import { modeFixes } from "./remedies.ts";

export const sharedBlock: Check = {
  id: "shared-block",
  about: "an output block or link block that two consoles feed",
  reads: ({ wiring, arrivals }) => [arrivals.root, wiring.conduct],
  run: (rig) =>
    unevenBlocks(rig)
      .filter(({ state }) => state === "shared")
      .map((block) => told(rig, block)),
  // A mode may cut the block where its rules part.
  propose: ({ wiring }, { devices: [id] }) => modeFixes(wiredOf(wiring, id!)!),
};

/**
 * The blocks of every row of send slots and every bank of output jacks, device by device, that two consoles feed or that
 * are fed in part.
 */
export const unevenBlocks = once(({ wiring, arrivals }: Analysed): readonly Block[] =>
  arrivals.sights.flatMap((sight) => unevenAt(sight, wiring, arrivals)),
);

/** What can be seen from a device decides its blocks, so they are kept with that. */
const known = new WeakMap<Sight, readonly Block[]>();

/** The rows of send slots and the banks of output jacks. */
const sendingOn = once(({ spans }: TypeLayout): readonly Span[] =>
  spans.filter((span) => span.side === "send" || isOutput(span)),
);

function unevenAt(sight: Sight, wiring: Wiring, arrivals: Arrivals): readonly Block[] {
  const { wired } = sight;
  if (!wired) return [];
  let blocks = known.get(sight);
  if (!blocks) {
    const sends = sendingOn(wired.fabric.layout);
    blocks = sends.flatMap((span) => mixedBlocksOf(wiring, arrivals, wired, span));
    known.set(sight, blocks);
  }
  return blocks;
}

function told({ wiring }: Analysed, block: Block): Finding {
  const { wired, span, first, last, owners } = block;
  const names = owners.map((id) => wiring.show.devices[wiring.indexOf.get(id)!]!.name);
  const start = wired.base + span.start;
  const terminals = Array.from({ length: last - first + 1 }, (_, n) =>
    terminalOf(wiring, start + first - 1 + n),
  );
  const where = `${wired.device.name} ${spanRun(span, first, last - first + 1)}`;
  return {
    id: `shared-block:${wired.device.id}:${terminals[0]!.group}:${span.side}:${first}`,
    check: "shared-block",
    severity: "warning",
    title: `${where} is shared by ${names.join(" and ")}`,
    reason: `The block carries signals of ${names.length} consoles; agree who sets it, and what must stay untouched.`,
    terminals,
    devices: [...new Set([wired.device.id, ...owners])],
    cables: [],
    wants: [],
  };
}
