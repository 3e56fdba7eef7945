/** F22: blocks that hand on some signals and leave the rest of their slots or jacks with nothing. */
import { arrivesAt, stopsAt, type Block } from "../trace/owners.ts";
import { listFrom, numbersName, sideName, terminalOf } from "../trace/terminal.ts";
import { spanGroup } from "../wiring/layout.ts";
import { State } from "../wiring/wiring.ts";
import { counted } from "./describe.ts";
import { darkFeeds } from "./feeds.ts";
import { found, type Analysed, type Check, type Finding } from "./finding.ts";
import { gather } from "../model/once.ts";
import { unevenBlocks } from "./shared-block.ts";

export const stranded: Check = {
  id: "stranded",
  about: "a block in which some slots or jacks carry a signal and others don't",
  reads: ({ wiring, arrivals }) => [arrivals.root, wiring.conduct, wiring.show.wants, wiring.show.channels],
  run: (rig) => {
    const bySpan = new Map<string, Part[]>();
    for (const block of unevenBlocks(rig)) {
      if (block.state !== "partly fed") continue;
      const empty = emptyOf(rig, block);
      if (empty.length > 0) gather(bySpan, `${block.wired.index}:${block.span.start}`, { block, empty });
    }
    return [...bySpan.values()].map((parts) => told(rig, parts));
  },
};

/** A block, and the numbers of what is stranded in it. */
interface Part {
  readonly block: Block;
  readonly empty: readonly number[];
}

/** A slot of the block that could carry something and doesn't; behind a join, where none of its legs is good for more. */
function open(rig: Analysed, terminal: number): boolean {
  if (arrivesAt(rig.wiring, rig.arrivals, terminal)) return false;
  const stops = stopsAt(rig.arrivals, terminal);
  return stops.length > 0 && stops.every((stop) => isLost(rig, stop));
}

/** Whether nothing can be plugged in or assigned where a trace stops. */
function isLost(rig: Analysed, stop: number): boolean {
  const state = rig.wiring.state[stop];
  // An input jack with nothing in it waits for a source; slots past the link's last aren't there at all.
  if (state === State.unplugged || state === State.beyondSlots) return false;
  if (state === State.unassigned) return !free(rig, stop);
  return state !== State.off && state !== State.mismatch;
}

/** Whether an empty destination can still be assigned by itself; where runs are longer it goes with its run. */
function free({ wiring }: Analysed, terminal: number): boolean {
  const { base, fabric } = wiring.devices[wiring.deviceOf[terminal]!]!;
  const rule = fabric.rules[fabric.rule[terminal - base]!];
  return rule?.kind !== "patch" || rule.run === 1;
}

/** What is stranded in a block; nothing where a wanted feed is dark for the same cause, which is an error already. */
function emptyOf(rig: Analysed, { wired, span, first, last }: Block): readonly number[] {
  const empty: number[] = [];
  for (let number = first; number <= last; number++) {
    const terminal = wired.base + span.start + number - 1;
    if (!open(rig, terminal)) continue;
    if (stopsAt(rig.arrivals, terminal).some((stop) => darkFeeds(rig).has(stop))) return [];
    empty.push(number);
  }
  return empty;
}

function told({ wiring }: Analysed, parts: readonly Part[]): Finding {
  const { wired, span } = parts[0]!.block;
  const { device } = wired;
  const numbers = parts.flatMap(({ empty }) => empty);
  const terminals = numbers.map((number) => terminalOf(wiring, wired.base + span.start + number - 1));
  const each = parts.map(
    ({ block, empty }) =>
      `block ${numbersName(span, listFrom(block.first, block.last - block.first + 1))} carries ${counted(block.fed, "signal")} and ${numbersName(span, empty)} ${empty.length === 1 ? "carries" : "carry"} none`,
  );
  const more = each.length > 4 ? `; and ${each.length - 4} more blocks` : "";
  return found(
    {
      id: `stranded:${device.id}:${spanGroup(span)}:${span.side}`,
      check: "stranded",
      severity: "note",
      title: `${counted(numbers.length, span.side === "jack" ? "jack" : "slot")} of ${device.name} ${sideName(span)} ${numbers.length === 1 ? "is" : "are"} stranded`,
      reason: `${sideName(span)}: ${each.slice(0, 4).join("; ")}${more}. They go with their block and can't serve anything else.`,
    },
    { terminals, devices: [device.id] },
  );
}
