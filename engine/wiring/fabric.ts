/**
 * What the rules of a type make of its destinations in one mode and chain position, before any setting: which rule
 * decides each terminal, and for wired and carried ones what feeds it.
 */
import type { DeviceType, FabricRule, Mode, PatchRule, Range } from "../model/device-type.ts";
import type { GroupId, ModeId } from "../model/ids.ts";
import type { Assignment } from "../model/show.ts";
import { layoutOf, type TypeLayout } from "./layout.ts";

/** Where a terminal's rule stands in `Fabric.rules`; −1: no rule reaches it in this mode. */
export const NO_RULE = -1;

/** In `Fabric.feed`: nothing fixed feeds the terminal, or the slot that should doesn't exist on its port at any rate. */
export const NO_FEED = -1;
export const BEYOND_PORT = -2;

export interface Fabric {
  readonly layout: TypeLayout;
  /** Null: the type has no mode of that id. */
  readonly mode: Mode | null;
  readonly rules: readonly FabricRule[];
  readonly rule: Int16Array;
  /** Offset of the fixed feeder within the device, `NO_FEED` or `BEYOND_PORT`. */
  readonly feed: Int32Array;
}

const fabrics = new WeakMap<DeviceType, Map<string, Fabric>>();

/** The fabric of a type in a mode and position; made once for each. */
export function fabricOf(type: DeviceType, mode: ModeId, position: number): Fabric {
  let known = fabrics.get(type);
  if (!known) fabrics.set(type, (known = new Map()));
  const key = `${position}:${mode}`;
  let fabric = known.get(key);
  if (!fabric) known.set(key, (fabric = makeFabric(type, mode, position)));
  return fabric;
}

function makeFabric(type: DeviceType, modeId: ModeId, position: number): Fabric {
  const layout = layoutOf(type);
  const mode = type.modes.find((candidate) => candidate.id === modeId) ?? null;
  // A device in a mode that its type lacks is one that nothing is known of: none of its rules count.
  const rules = mode ? [...mode.rules, ...type.rules] : [];
  const rule = new Int16Array(layout.size).fill(NO_RULE);
  const feed = new Int32Array(layout.size).fill(NO_FEED);
  rules.forEach((entry, index) => {
    switch (entry.kind) {
      case "patch":
        return cover(layout, entry.to, (offset) => {
          if (rule[offset] === NO_RULE) rule[offset] = index;
        });
      case "wired": {
        const first = (end: { first: number; perPosition?: number }): number =>
          end.first + (position - 1) * (end.perPosition ?? 0);
        return fix(index, entry.to.group, first(entry.to), entry.from.group, first(entry.from), entry.count);
      }
      case "carry": {
        const count = layout.destinations.get(entry.to)?.count ?? 0;
        return fix(index, entry.to, 1, entry.from, 1 + entry.shift, count);
      }
    }
  });

  /** Feeds `count` terminals of `to` from as many of `from`, leaving those that an earlier rule decided. */
  function fix(
    index: number,
    to: FabricGroup,
    toFirst: number,
    from: FabricGroup,
    fromFirst: number,
    count: number,
  ): void {
    const target = layout.destinations.get(to);
    const source = layout.sources.get(from);
    if (!target || !source) return;
    const carried = rules[index]?.kind === "carry";
    // A run may start before the group or end after it; what lies outside isn't walked.
    const last = Math.min(count, target.count - toFirst + 1);
    for (let n = Math.max(0, 1 - toFirst); n < last; n++) {
      const offset = target.start + toFirst + n - 1;
      if (rule[offset] !== NO_RULE) continue;
      const taken = fromFirst + n - 1;
      const exists = taken >= 0 && taken < source.count;
      // A shifted carry leaves the slots that have no counterpart to later rules; a wired run names each of its slots.
      if (!exists && carried) continue;
      rule[offset] = index;
      feed[offset] = exists ? source.start + taken : BEYOND_PORT;
    }
  }

  return { layout, mode, rules, rule, feed };
}

type FabricGroup = Range["group"];

function cover(layout: TypeLayout, range: Range, visit: (offset: number) => void): void {
  const span = layout.destinations.get(range.group);
  if (!span) return;
  const last = Math.min(range.first + range.count - 1, span.count);
  for (let number = Math.max(range.first, 1); number <= last; number++) visit(span.start + number - 1);
}

/**
 * Whether a device can hold the n-th terminal of a setting under the patch rule that decides its destination. A device
 * sets whole runs, so the run that the terminal lies in is looked at: the rule must list all of its source, both starts
 * must be aligned, and it must be whole, unless it ends with one of the two ranges.
 */
export function holds(rule: PatchRule, { to, from, count }: Assignment, n: number): boolean {
  const skip = n - (n % rule.run);
  const length = Math.min(rule.run, count - skip);
  const toFirst = to.first + skip;
  const fromFirst = from.first + skip;
  if (to.group !== rule.to.group) return false;
  if (toFirst < rule.to.first || toFirst + length > rule.to.first + rule.to.count) return false;
  const end = fromFirst + length;
  return rule.from.some((range) => {
    const last = range.first + range.count;
    if (range.group !== from.group || fromFirst < range.first || end > last) return false;
    const aligned = (toFirst - rule.to.first) % rule.run === 0 && (fromFirst - range.first) % rule.run === 0;
    const whole = length === rule.run || toFirst + length === rule.to.first + rule.to.count || end === last;
    return aligned && whole;
  });
}

/** The whole run under a rule that feeds one destination from one source; null where no range lists such a run. */
export function wholeRun(rule: PatchRule, to: number, group: GroupId, from: number): Assignment | null {
  const skip = (to - rule.to.first) % rule.run;
  const range = rule.from.find(
    (each) =>
      each.group === group &&
      from >= each.first &&
      from < each.first + each.count &&
      (from - each.first) % rule.run === skip,
  );
  if (!range) return null;
  const toFirst = to - skip;
  const fromFirst = from - skip;
  const count = Math.min(
    rule.run,
    rule.to.first + rule.to.count - toFirst,
    range.first + range.count - fromFirst,
  );
  return { to: { group: rule.to.group, first: toFirst }, from: { group, first: fromFirst }, count };
}
