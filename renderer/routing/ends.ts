/** The two ends of a block to be routed: which groups of a rig can be either, and what the user has in mind already. */
import {
  canBeTaken,
  findTerminal,
  isOutput,
  locate,
  sideName,
  spanGroup,
  type Analysis,
  type Span,
  type Terminal,
  type WiredDevice,
} from "#engine";
import type { Focus } from "../state/contract.ts";

export type EndRole = "from" | "to";

/** Terminals `first` and on of one group of one device; the device by its place in the rig. */
export interface End {
  readonly device: number;
  readonly span: number;
  readonly first: number;
}

export interface Block {
  readonly end: End;
  readonly count: number;
}

/** The groups of a device that signals can be taken from, or brought to; by their place in its layout. */
export function groupsFor(
  wired: WiredDevice,
  role: EndRole,
): readonly { readonly at: number; readonly name: string }[] {
  const { spans, sources, destinations } = wired.fabric.layout;
  const row = role === "from" ? sources : destinations;
  return spans.flatMap((span, at) =>
    span.count > 0 && row.get(spanGroup(span)) === span ? [{ at, name: sideName(span) }] : [],
  );
}

/** The devices that have such a group, in the rig's order. */
export const devicesFor = ({ wiring }: Analysis, role: EndRole): readonly WiredDevice[] =>
  wiring.devices.filter((wired): wired is WiredDevice => wired !== null && groupsFor(wired, role).length > 0);

export const spanOf = ({ wiring }: Analysis, { device, span }: End): Span | null =>
  wiring.devices[device]?.fabric.layout.spans[span] ?? null;

/** Numbers of the block's terminals in the wiring; fewer than `count` where the group ends before. */
export function terminalsOf(analysis: Analysis, end: End, count: number): readonly number[] {
  const wired = analysis.wiring.devices[end.device];
  const span = spanOf(analysis, end);
  if (!wired || !span || end.first < 1) return [];
  const length = Math.max(0, Math.min(count, span.count - end.first + 1));
  return Array.from({ length }, (_, n) => wired.base + span.start + end.first - 1 + n);
}

/** The block that neighbouring terminals of one group make; null where they don't, or aren't in the rig. */
export function blockOf({ wiring }: Analysis, terminals: readonly Terminal[]): Block | null {
  const numbers = terminals.map((terminal) => findTerminal(wiring, terminal));
  const first = numbers[0];
  if (first === undefined || first === null) return null;
  if (numbers.some((terminal, n) => terminal !== first + n)) return null;
  const { wired, span, number } = locate(wiring, first);
  const at = wired.fabric.layout.spans.indexOf(span);
  if (number + numbers.length - 1 > span.count) return null;
  return { end: { device: wired.index, span: at, first: number }, count: numbers.length };
}

/** The same group of the same device in another analysis, where devices may have other places; null: it is gone. */
export function endIn(after: Analysis, before: Analysis, end: End): End | null {
  const device = before.wiring.devices[end.device]?.device.id;
  const span = spanOf(before, end);
  const index = device === undefined ? undefined : after.wiring.indexOf.get(device);
  const wired = index === undefined ? null : after.wiring.devices[index];
  if (!wired || !span) return null;
  const { spans } = wired.fabric.layout;
  const at = spans.findIndex((each) => each.side === span.side && spanGroup(each) === spanGroup(span));
  return at < 0 ? null : { ...end, device: wired.index, span: at };
}

/** Whether the block's signals can be taken on, or are to be brought there. */
export function roleOf(analysis: Analysis, { end }: Block): EndRole {
  const [terminal] = terminalsOf(analysis, end, 1);
  return terminal !== undefined && canBeTaken(analysis.wiring, terminal) ? "from" : "to";
}

/** The block as the end that it can be, the other one open. */
export function endsFrom(
  analysis: Analysis,
  block: Block | null,
): { readonly from: Block | null; readonly to: Block | null } {
  const isFrom = block !== null && roleOf(analysis, block) === "from";
  return { from: isFrom ? block : null, to: isFrom ? null : block };
}

const terminalsIn = (focus: Focus | null): readonly Terminal[] =>
  focus?.kind === "block" ? focus.terminals : focus?.kind === "terminal" ? [focus.terminal] : [];

/** What is looked at, if it can be one end. */
export const lookedAtBlock = (analysis: Analysis, focus: Focus | null): Block | null =>
  blockOf(analysis, terminalsIn(focus));

/** Both ends and how many, from what is known of them; what isn't starts at the first console's mixes, the first box's outputs. */
export function startOf(
  analysis: Analysis,
  from: Block | null,
  to: Block | null,
): { readonly from: End; readonly to: End; readonly count: number } | null {
  const start =
    from?.end ?? firstEnd(analysis, "from", (wired) => wired.fabric.layout.type.category === "console");
  const goal =
    to?.end ?? firstEnd(analysis, "to", (wired) => wired.fabric.layout.type.category === "stage box");
  if (!start || !goal) return null;
  const counts = [from?.count, to?.count].filter((count) => count !== undefined);
  const count = counts.length > 0 ? Math.min(...counts) : 8;
  const room = [start, goal].map((end) => (spanOf(analysis, end)?.count ?? 1) - end.first + 1);
  return { from: start, to: goal, count: Math.max(1, Math.min(count, ...room)) };
}

function firstEnd(analysis: Analysis, role: EndRole, isLikely: (wired: WiredDevice) => boolean): End | null {
  const devices = devicesFor(analysis, role);
  const wired = devices.find(isLikely) ?? devices[0];
  return wired ? { device: wired.index, span: firstGroup(wired, role), first: 1 } : null;
}

/** Mixes before everything else to take from, output jacks to bring to: what is asked for most. */
export function firstGroup(wired: WiredDevice, role: EndRole): number {
  const { spans } = wired.fabric.layout;
  const groups = groupsFor(wired, role);
  const likely = groups.find(({ at }) => {
    const span = spans[at]!;
    return role === "from" ? span.side === "bus" && span.section.role === "mix" : isOutput(span);
  });
  return (likely ?? groups[0])?.at ?? 0;
}
