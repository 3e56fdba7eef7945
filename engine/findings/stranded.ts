/** F22: blocks that hand on some signals and leave the rest of their slots or jacks with nothing. */
import { arrivesAt, blocksOf, type Block } from "../trace/owners.ts";
import { LOOP } from "../trace/arrivals.ts";
import { ranges, sideName, terminalOf } from "../trace/terminal.ts";
import type { Span } from "../wiring/layout.ts";
import { State, type WiredDevice } from "../wiring/wiring.ts";
import { counted } from "./describe.ts";
import { darkFeeds } from "./feeds.ts";
import { found, type Analysed, type Check, type Finding } from "./finding.ts";

export const stranded: Check = {
  id: "stranded",
  about: "a block in which some slots or jacks carry a signal and others don't",
  run: (rig) =>
    rig.wiring.devices.flatMap((wired) =>
      (wired?.fabric.layout.spans ?? []).filter(handsOn).flatMap((span) => lookAt(rig, wired!, span)),
    ),
};

const handsOn = (span: Span): boolean =>
  span.side === "send" ||
  (span.side === "jack" && span.bank.direction === "out" && span.bank.connector !== "none");

/** A slot of the block that could carry something and doesn't. */
function open(rig: Analysed, terminal: number): boolean {
  const { wiring, arrivals } = rig;
  if (arrivesAt(wiring, arrivals, terminal)) return false;
  const root = arrivals.root[terminal]!;
  if (root === LOOP) return false;
  const state = wiring.state[root];
  // An input jack with nothing in it waits for a source; slots past the link's last aren't there at all.
  if (state === State.unplugged || state === State.beyondSlots) return false;
  if (state === State.unassigned) return !free(rig, root);
  return state !== State.off && state !== State.mismatch;
}

/** Whether an empty destination can still be assigned by itself; where runs are longer it goes with its run. */
function free({ wiring }: Analysed, terminal: number): boolean {
  const { base, fabric } = wiring.devices[wiring.deviceOf[terminal]!]!;
  const rule = fabric.rules[fabric.rule[terminal - base]!];
  return rule?.kind !== "patch" || rule.run === 1;
}

function lookAt(rig: Analysed, wired: WiredDevice, span: Span): Finding[] {
  const { wiring, arrivals } = rig;
  const blocks: { readonly block: Block; readonly empty: readonly number[] }[] = [];
  for (const block of blocksOf(wiring, arrivals, wired, span)) {
    if (block.state !== "partly fed") continue;
    const empty: number[] = [];
    let told = false;
    for (let number = block.first; number <= block.last; number++) {
      const terminal = wired.base + span.start + number - 1;
      if (!open(rig, terminal)) continue;
      empty.push(number);
      // Where a wanted feed is dark for the same cause there is an error already.
      if (darkFeeds(rig).has(arrivals.root[terminal]!)) told = true;
    }
    if (empty.length > 0 && !told) blocks.push({ block, empty });
  }
  if (blocks.length === 0) return [];
  const { device } = wired;
  const numbers = blocks.flatMap(({ empty }) => empty);
  const terminals = numbers.map((number) => terminalOf(wiring, wired.base + span.start + number - 1));
  const what = span.side === "jack" ? "jack" : "slot";
  const each = blocks.map(
    ({ block, empty }) =>
      `block ${block.first}–${block.last} carries ${counted(block.fed, "signal")} and ${ranges(empty)} ${empty.length === 1 ? "carries" : "carry"} none`,
  );
  return [
    found(
      {
        id: `stranded:${device.id}:${terminals[0]!.group}:${span.side}`,
        check: "stranded",
        severity: "note",
        title: `${counted(numbers.length, what)} of ${device.name} ${sideName(span)} ${numbers.length === 1 ? "is" : "are"} stranded`,
        reason: `${sideName(span)}: ${each.slice(0, 4).join("; ")}${each.length > 4 ? `; and ${each.length - 4} more blocks` : ""}. They go with their block and can't serve anything else.`,
      },
      { terminals, devices: [device.id] },
    ),
  ];
}
