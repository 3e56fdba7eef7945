/**
 * Findings after an edit as the objects of before, so far as they say the same: one renamed source leaves the thousands
 * of terminals alone that findings point at, and whoever draws or sends findings needn't look through them.
 */
import type { Terminal } from "../trace/terminal.ts";
import type { Finding } from "./finding.ts";

/** What a check finds now, in place of what it found before. */
export function kept(now: readonly Finding[], before: readonly Finding[]): readonly Finding[] {
  if (now.length === 0 || before.length === 0) return now.length === before.length ? before : now;
  const known = new Map(before.map((finding) => [finding.id, finding]));
  const all = now.map((finding) => keptFinding(finding, known.get(finding.id)));
  return sameList(all, before) ? before : all;
}

function keptFinding(now: Finding, before: Finding | undefined): Finding {
  if (!before || !sameTerminals(now.terminals, before.terminals)) return now;
  const saysTheSame =
    now.title === before.title &&
    now.reason === before.reason &&
    now.severity === before.severity &&
    now.check === before.check &&
    sameList(now.devices, before.devices) &&
    sameList(now.cables, before.cables) &&
    sameList(now.wants, before.wants);
  return saysTheSame ? before : { ...now, terminals: before.terminals };
}

const sameList = <Entry>(a: readonly Entry[], b: readonly Entry[]): boolean =>
  a.length === b.length && a.every((entry, n) => entry === b[n]);

const sameTerminals = (a: readonly Terminal[], b: readonly Terminal[]): boolean =>
  a.length === b.length && a.every((terminal, n) => sameTerminal(terminal, b[n]!));

const sameTerminal = (a: Terminal, b: Terminal): boolean =>
  a.number === b.number && a.device === b.device && a.group === b.group && a.side === b.side;
