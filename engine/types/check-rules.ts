/** K4 to K6, K8 and K9: what the rules name, where they reach, and which of them never come to it. */
import type {
  CarryRule,
  DeviceType,
  FabricRule,
  Mode,
  PatchRule,
  Range,
  WiredRule,
} from "../model/device-type.ts";
import type { GroupId } from "../model/ids.ts";
import { never } from "../model/result.ts";
import { ranges, sideName } from "../trace/terminal.ts";
import { fabricOf, type Fabric } from "../wiring/fabric.ts";
import { layoutOf, legsOf, type Span, type TypeLayout } from "../wiring/layout.ts";
import type { Problems } from "./problem.ts";
import { numbers, ruleWords } from "./words.ts";

/** Terminals times modes and positions that are looked through for rules that never count. */
const MOST_LOOKED_THROUGH = 20_000_000;

interface Placed {
  readonly rule: FabricRule;
  readonly path: string;
  readonly positions: readonly number[];
}

export function checkRules(found: Problems, type: DeviceType): void {
  const everywhere = [...new Set(type.modes.flatMap((mode) => positionsOf(type, mode)))].sort(
    (a, b) => a - b,
  );
  const faulty = new Set<FabricRule>();
  const check = (placed: Placed): void => {
    const errors = found.list.length;
    checkRule(found, type, placed);
    if (found.list.slice(errors).some(({ severity }) => severity === "error")) faulty.add(placed.rule);
  };
  type.rules.forEach((rule, n) => check({ rule, path: `rules[${n}]`, positions: everywhere }));
  type.modes.forEach((mode, m) => {
    const positions = positionsOf(type, mode);
    mode.rules.forEach((rule, n) => check({ rule, path: `modes[${m}].rules[${n}]`, positions }));
  });
  checkReach(found, type, faulty);
}

/** The chain positions in which a device can be in the mode. */
function positionsOf({ chain }: DeviceType, { positions }: Mode): readonly number[] {
  const all = Array.from({ length: chain }, (_, n) => n + 1);
  return positions ? all.filter((position) => positions.includes(position)) : all;
}

function checkRule(found: Problems, type: DeviceType, placed: Placed): void {
  const { rule, path } = placed;
  switch (rule.kind) {
    case "patch":
      return checkPatch(found, type, rule, path);
    case "wired":
      return checkWired(found, type, rule, placed);
    case "carry":
      return checkCarry(found, type, rule, path);
    default:
      never(rule);
  }
}

/** K4. Null where the group can't be a destination. */
function destination(found: Problems, type: DeviceType, group: GroupId, path: string): Span | null {
  return end(found, type, group, path, "destinations");
}

function source(found: Problems, type: DeviceType, group: GroupId, path: string): Span | null {
  return end(found, type, group, path, "sources");
}

function end(
  found: Problems,
  type: DeviceType,
  group: GroupId,
  path: string,
  as: "destinations" | "sources",
): Span | null {
  const layout = layoutOf(type);
  const span = layout[as].get(group);
  const isTarget = as === "destinations";
  if (!span) {
    found.error("groups", path, wrongEnd(layout, group, isTarget));
    return null;
  }
  if (span.count === 0) {
    found.error(
      "groups",
      path,
      `${sideName(span)} ${isTarget ? "sends" : "receives"} no slots, so a rule can't ${isTarget ? "feed" : "take from"} it.`,
    );
    return null;
  }
  return span;
}

function wrongEnd(layout: TypeLayout, group: GroupId, isTarget: boolean): string {
  const other = (isTarget ? layout.sources : layout.destinations).get(group);
  if (!other) return `The rule names “${group}”, which the type doesn't have.`;
  const name = sideName(other);
  if (other.side === "jack") {
    return isTarget
      ? `${name} are input jacks: a cable feeds them, not a rule.`
      : `${name} are output jacks: nothing inside takes from them.`;
  }
  return isTarget
    ? `${name} are taps of the mixer: what goes into them is mixed, not wired.`
    : `${name} take signals into the mixer: only mixes and direct outs take from them.`;
}

/** K5. */
function checkRange(found: Problems, span: Span, { first, count }: Range, path: string): void {
  if (first + count - 1 <= span.count) return;
  found.error(
    "ranges",
    `${path}.count`,
    `The rule names ${sideName(span)} ${numbers(first, count)}, but there are only ${span.count}.`,
  );
}

function checkPatch(found: Problems, type: DeviceType, rule: PatchRule, path: string): void {
  const { to, from, run } = rule;
  const target = destination(found, type, to.group, `${path}.to.group`);
  if (target) checkRange(found, target, to, `${path}.to`);
  if (from.length === 0) {
    found.error("groups", `${path}.from`, "The rule lists nothing that may be assigned.");
  }
  const spans = from.map((range, n) => {
    const span = source(found, type, range.group, `${path}.from[${n}].group`);
    if (span) checkRange(found, span, range, `${path}.from[${n}]`);
    return span;
  });
  if (run === 1) return;
  // K6. Runs count from the start of each range, so a range that starts off the blocks of its group shifts them.
  if (target && to.count % run !== 0) {
    const rest = to.count % run;
    found.remark(
      "blocks",
      `${path}.to.count`,
      `${sideName(target)} ${numbers(to.first, to.count)} is no whole number of blocks of ${run}: the last one has ${rest}.`,
    );
  }
  [
    { span: target, range: to, at: `${path}.to` },
    ...from.map((range, n) => ({ span: spans[n]!, range, at: `${path}.from[${n}]` })),
  ].forEach(({ span, range, at }) => {
    if (!span || (range.first - 1) % run === 0) return;
    found.remark(
      "blocks",
      `${at}.first`,
      `The blocks of ${run} start at ${sideName(span)} ${range.first}, across those counted from 1. Look it up on the sheet.`,
    );
  });
}

/** K4 and K5, at every chain position that the rule holds in. */
function checkWired(found: Problems, type: DeviceType, rule: WiredRule, { path, positions }: Placed): void {
  const { to, from, count } = rule;
  const target = destination(found, type, to.group, `${path}.to.group`);
  const origin = source(found, type, from.group, `${path}.from.group`);
  for (const [span, start, at, verb] of [
    [target, to, "to", "reaches"],
    [origin, from, "from", "takes from"],
  ] as const) {
    if (!span) continue;
    const step = start.perPosition ?? 0;
    const beyond = positions.filter((position) => {
      const first = start.first + (position - 1) * step;
      return first < 1 || first + count - 1 > span.count;
    });
    if (beyond.length === 0) continue;
    const first = start.first + (beyond[0]! - 1) * step;
    const where = step === 0 ? "The run" : `In chain position ${ranges(beyond)} the run`;
    const numbersThere = first < 1 ? `number ${first}` : numbers(first, count);
    found.error(
      "ranges",
      `${path}.${step !== 0 && beyond[0]! > 1 ? `${at}.perPosition` : step === 0 && start.first <= span.count ? "count" : `${at}.first`}`,
      `${where} ${verb} ${sideName(span)} ${numbersThere}, but there are only ${span.count}.`,
    );
  }
}

function checkCarry(found: Problems, type: DeviceType, rule: CarryRule, path: string): void {
  const target = destination(found, type, rule.to, `${path}.to`);
  const origin = source(found, type, rule.from, `${path}.from`);
  if (!target || !origin) return;
  const { shift } = rule;
  // Slot k takes k + shift: some k must have a counterpart.
  if (shift >= origin.count || -shift >= target.count) {
    found.error(
      "ranges",
      `${path}.shift`,
      `Shifted by ${shift}, no slot of ${sideName(target)} has a counterpart at ${sideName(origin)}.`,
    );
  }
}

/** K8 and K9: rules that never decide anything, and what no rule ever feeds or takes. */
function checkReach(found: Problems, type: DeviceType, faulty: ReadonlySet<FabricRule>): void {
  const layout = layoutOf(type);
  const looks = fabricsOf(type);
  if (looks.length * layout.size > MOST_LOOKED_THROUGH) {
    found.remark("covered", "", "The type is too large to look through for rules that never count.");
    return;
  }
  const counts = new Set<FabricRule>();
  const fed = new Uint8Array(layout.size);
  const taken = new Uint8Array(layout.size);
  for (const fabric of looks) lookThrough(fabric, counts, fed, taken);
  const check = (rule: FabricRule, path: string, where: string): void => {
    if (counts.has(rule) || faulty.has(rule)) return;
    found.remark(
      "covered",
      path,
      `“${ruleWords(type, rule)}” never counts: ${where} rules before it decide all that it reaches.`,
    );
  };
  type.modes.forEach((mode, m) => {
    mode.rules.forEach((rule, n) => check(rule, `modes[${m}].rules[${n}]`, `in mode “${mode.name}”`));
  });
  type.rules.forEach((rule, n) => check(rule, `rules[${n}]`, "in every mode"));
  checkUnfed(found, type, layout, fed, taken);
}

/** One fabric for each mode and position that makes a difference. */
function fabricsOf(type: DeviceType): readonly Fabric[] {
  const steps = (rule: FabricRule): boolean =>
    rule.kind === "wired" && Boolean(rule.to.perPosition ?? rule.from.perPosition);
  return type.modes.flatMap((mode) => {
    const positions = positionsOf(type, mode);
    const moving = [...mode.rules, ...type.rules].some(steps);
    return (moving ? positions : positions.slice(0, 1)).map((position) => fabricOf(type, mode.id, position));
  });
}

function lookThrough(
  { rules, rule, feed, layout }: Fabric,
  counts: Set<FabricRule>,
  fed: Uint8Array,
  taken: Uint8Array,
): void {
  const seen = new Set<number>();
  for (let offset = 0; offset < rule.length; offset++) {
    const index = rule[offset]!;
    if (index < 0) continue;
    seen.add(index);
    fed[offset] = 1;
    if (feed[offset]! >= 0) taken[feed[offset]!] = 1;
  }
  for (const index of seen) {
    const entry = rules[index]!;
    counts.add(entry);
    if (entry.kind !== "patch") continue;
    for (const { group, first, count } of entry.from) {
      const span = layout.sources.get(group);
      if (span) taken.fill(1, span.start + first - 1, span.start + Math.min(span.count, first + count - 1));
    }
  }
  for (const span of layout.joins) {
    if (span.side !== "bus") continue;
    for (const leg of legsOf(layout, span.section.from)) taken.fill(1, leg.start, leg.start + leg.count);
  }
}

function checkUnfed(
  found: Problems,
  type: DeviceType,
  { spans }: TypeLayout,
  fed: Uint8Array,
  taken: Uint8Array,
): void {
  const missing = (span: Span, marks: Uint8Array): readonly number[] => {
    const list: number[] = [];
    for (let n = 0; n < span.count; n++) if (marks[span.start + n] === 0) list.push(n + 1);
    return list;
  };
  for (const span of spans) {
    if (span.count === 0) continue;
    if (span.side === "jack") {
      const path = `banks[${type.banks.indexOf(span.bank)}]`;
      const isInput = span.bank.direction === "in";
      const idle = missing(span, isInput ? taken : fed);
      if (idle.length === 0) continue;
      const where = `${sideName(span)} ${ranges(idle)}`;
      found.remark(
        "unfed",
        path,
        isInput ? `No rule of any mode takes ${where}.` : `No rule of any mode feeds ${where}.`,
      );
    } else if (span.side === "send" && !(type.forwards && span.port.network)) {
      // Slots that stay empty are common; a port that sends nothing at all isn't.
      if (missing(span, fed).length < span.count) continue;
      found.remark(
        "unfed",
        `ports[${type.ports.indexOf(span.port)}].send`,
        `No rule of any mode feeds ${sideName(span)}.`,
      );
    } else if (span.side === "bus" && (span.section.role === "channel" || span.section.role === "return")) {
      const idle = missing(span, fed);
      if (idle.length === 0) continue;
      const index = type.mixer?.sections.indexOf(span.section) ?? 0;
      found.remark(
        "unfed",
        `mixer.sections[${index}]`,
        `No rule of any mode feeds ${sideName(span)} ${ranges(idle)}.`,
      );
    }
  }
}
