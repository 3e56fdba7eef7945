/** Finding a terminal or source by what a person calls it. */
import type { Wiring } from "../wiring/wiring.ts";
import type { ArrivalGroup, Show } from "../model/show.ts";
import { err, ok, type Result } from "../model/result.ts";
import { findTerminal, fullName } from "./terminal.ts";

/** Case, spacing and the dots between device and jack don't matter. */
export const plain = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll(/[\s·.:/]+/g, " ")
    .trim();

/** The names nearest to what was typed, for an error that says what was meant instead. */
export interface NotFound {
  readonly wanted: string;
  readonly nearest: readonly string[];
}

/** A terminal by its full name (`Stage left Out 9`) or by the name of the want that stands there. */
export function lookUpTerminal(wiring: Wiring, name: string): Result<number, NotFound> {
  const wanted = plain(name);
  const names = new Map<string, { readonly shown: string; readonly terminal: number }>();
  for (let terminal = 0; terminal < wiring.size; terminal++) {
    const shown = fullName(wiring, terminal);
    if (!names.has(plain(shown))) names.set(plain(shown), { shown, terminal });
  }
  for (const want of wiring.show.wants) {
    const terminal = findTerminal(wiring, want.to);
    if (terminal !== null && !names.has(plain(want.name))) {
      names.set(plain(want.name), { shown: want.name, terminal });
    }
  }
  const found = names.get(wanted);
  if (found) return ok(found.terminal);
  return err({
    wanted: name,
    nearest: nearest(
      wanted,
      [...names.values()].map(({ shown }) => shown),
    ),
  });
}

/** A source by its name; its index in the show. */
export function lookUpSource(wiring: Wiring, name: string): Result<number, NotFound> {
  const wanted = plain(name);
  const index = wiring.show.sources.findIndex((source) => plain(source.name) === wanted);
  if (index >= 0) return ok(index);
  return err({
    wanted: name,
    nearest: nearest(
      wanted,
      wiring.show.sources.map((source) => source.name),
    ),
  });
}

/** A group of outputs that should arrive together, by its name or, where several have one name, by its id. */
export function lookUpGroups({ groups = [] }: Show, name: string): Result<readonly ArrivalGroup[], NotFound> {
  const wanted = plain(name);
  const called = groups.filter((group) => plain(group.name) === wanted);
  const found = called.length > 0 ? called : groups.filter(({ id }) => id === name);
  if (found.length > 0) return ok(found);
  return err({
    wanted: name,
    nearest: nearest(
      wanted,
      groups.map((group) => group.name),
    ),
  });
}

/** The three most alike names, most alike first; none that shares nothing. */
export function nearest(wanted: string, names: readonly string[]): string[] {
  const pairs = pairsOf(wanted);
  return names
    .map((name) => ({ name, likeness: likeness(pairs, pairsOf(plain(name))) }))
    .filter(({ likeness: score }) => score > 0.3)
    .sort((a, b) => b.likeness - a.likeness)
    .slice(0, 3)
    .map(({ name }) => name);
}

function pairsOf(text: string): Map<string, number> {
  const pairs = new Map<string, number>();
  const padded = ` ${text} `;
  for (let n = 0; n + 1 < padded.length; n++) {
    const pair = padded.slice(n, n + 2);
    pairs.set(pair, (pairs.get(pair) ?? 0) + 1);
  }
  return pairs;
}

/** Dice's coefficient over pairs of letters: 1 for the same text, 0 for nothing in common. */
function likeness(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): number {
  let common = 0;
  let total = 0;
  for (const [pair, count] of a) {
    common += Math.min(count, b.get(pair) ?? 0);
    total += count;
  }
  for (const count of b.values()) total += count;
  return total === 0 ? 0 : (2 * common) / total;
}
