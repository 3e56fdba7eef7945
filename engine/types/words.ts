/** A type's parts and rules in words. Problems, the editor and the trace of a type all speak through here. */
import type { CarryRule, DeviceType, FabricRule, PatchRule, Range, WiredRule } from "../model/device-type.ts";
import type { GroupId } from "../model/ids.ts";
import { never } from "../model/result.ts";
import { sideName } from "../trace/terminal.ts";
import { layoutOf, type Span, type TypeLayout } from "../wiring/layout.ts";

/** `3`, `1–8`. */
export const numbers = (first: number, count: number): string =>
  count === 1 ? String(first) : `${first}–${first + count - 1}`;

/** `Out 1–8`, `Link A in 33–48`; a group that the type lacks by its id. */
export const runWords = (span: Span | undefined, group: GroupId, first: number, count: number): string =>
  `${span ? sideName(span) : `“${group}”`} ${numbers(first, count)}`;

/** A rule as a sentence: `Out 1–8 takes from Link A in 1–48, in blocks of 8`. */
export function ruleWords(type: DeviceType, rule: FabricRule): string {
  const layout = layoutOf(type);
  switch (rule.kind) {
    case "patch":
      return patchWords(layout, rule);
    case "wired":
      return wiredWords(layout, rule);
    case "carry":
      return carryWords(layout, rule);
    default:
      return never(rule);
  }
}

const many = (count: number): boolean => count > 1;

function patchWords(layout: TypeLayout, { to, from, run }: PatchRule): string {
  const range = (spans: ReadonlyMap<GroupId, Span>, { group, first, count }: Range): string =>
    runWords(spans.get(group), group, first, count);
  const sources = from.map((each) => range(layout.sources, each));
  const listed =
    sources.length < 2
      ? (sources[0] ?? "nothing")
      : `${sources.slice(0, -1).join(", ")} or ${sources.at(-1)!}`;
  const how = run === 1 ? (many(to.count) ? ", one by one" : "") : `, in blocks of ${run}`;
  return `${range(layout.destinations, to)} ${many(to.count) ? "take" : "takes"} from ${listed}${how}`;
}

function wiredWords(layout: TypeLayout, { to, from, count }: WiredRule): string {
  const target = runWords(layout.destinations.get(to.group), to.group, to.first, count);
  const source = runWords(layout.sources.get(from.group), from.group, from.first, count);
  const moves = [
    moveWords(from.perPosition, "the source"),
    moveWords(to.perPosition, "the destination"),
  ].filter((words) => words !== null);
  const chain = moves.length > 0 ? `; each place further down the chain ${moves.join(" and ")}` : "";
  return `${target} ${many(count) ? "are" : "is"} wired from ${source}${chain}`;
}

/** `16 later at the source` */
const moveWords = (by: number | undefined, where: string): string | null =>
  by ? `${Math.abs(by)} ${by > 0 ? "later" : "earlier"} at ${where}` : null;

function carryWords(layout: TypeLayout, { to, from, shift }: CarryRule): string {
  const name = (spans: ReadonlyMap<GroupId, Span>, group: GroupId): string => {
    const span = spans.get(group);
    return span ? sideName(span) : `“${group}”`;
  };
  const how =
    shift === 0
      ? "slot for slot"
      : `slot ${shift > 0 ? 1 : 1 - shift} from slot ${shift > 0 ? 1 + shift : 1}, and so on`;
  return `${name(layout.destinations, to)} carries on what comes in at ${name(layout.sources, from)}, ${how}`;
}

/** Which rule a path leads to, since one reads much as another: `Mode “Chain”, rule 2`. Empty for other paths. */
export function rulePlace({ modes }: DeviceType, path: string): string {
  const [, mode, rule] = /^(?:modes\[(\d+)\]\.)?rules\[(\d+)\]/.exec(path) ?? [];
  if (rule === undefined) return "";
  const where = mode === undefined ? "Every mode" : `Mode “${modes[Number(mode)]?.name ?? ""}”`;
  return `${where}, rule ${Number(rule) + 1}`;
}
