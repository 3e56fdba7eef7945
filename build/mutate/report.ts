/** What a run found, for people and for programs. */
import type { Mutant } from "./mutants.ts";
import type { Outcome } from "./runner.ts";

/** The share of mutants that the tests are to notice. */
export const BAR = 0.9;

export interface Tried {
  readonly mutant: Mutant;
  readonly outcome: Outcome;
  /** How many tests run the place that it changes. */
  readonly reachedBy: number;
}

/** Survivors that have been read, by reason: `build/mutate/harmless.json`. */
export type Harmless = readonly { readonly why: string; readonly mutants: readonly string[] }[];

export interface Tally {
  readonly mutants: number;
  readonly noticed: number;
  readonly survived: number;
}

export interface Survivor {
  readonly key: string;
  readonly place: string;
  readonly operator: string;
  readonly original: string;
  readonly mutated: string;
  readonly reachedBy: number;
  /** Why it is harmless; null where nobody has read it. */
  readonly why: string | null;
}

export interface Report {
  readonly files: readonly (Tally & { readonly file: string })[];
  readonly total: Tally;
  readonly bar: number;
  readonly met: boolean;
  readonly survivors: readonly Survivor[];
  /** Keys of the list of harmless ones that name no mutant of today's code, or one that is noticed now. */
  readonly gone: readonly string[];
  readonly noticedNow: readonly string[];
}

function tally(tried: readonly Tried[]): Tally {
  const noticed = tried.filter(({ outcome }) => outcome.noticed).length;
  return { mutants: tried.length, noticed, survived: tried.length - noticed };
}

/** `known`: the keys of all mutants, tried or not. */
export function reportOn(tried: readonly Tried[], harmless: Harmless, known: ReadonlySet<string>): Report {
  const whyOf = new Map(harmless.flatMap(({ why, mutants }) => mutants.map((key) => [key, why] as const)));
  const byFile = new Map<string, Tried[]>();
  for (const each of tried) {
    const listed = byFile.get(each.mutant.file);
    if (listed) listed.push(each);
    else byFile.set(each.mutant.file, [each]);
  }
  const total = tally(tried);
  const noticed = new Set(tried.filter(({ outcome }) => outcome.noticed).map(({ mutant }) => mutant.key));
  return {
    files: [...byFile].map(([file, list]) => ({ file, ...tally(list) })),
    total,
    bar: BAR,
    met: total.mutants > 0 && total.noticed / total.mutants >= BAR,
    survivors: tried
      .filter(({ outcome }) => !outcome.noticed)
      .map(({ mutant, reachedBy }) => ({
        key: mutant.key,
        place: `${mutant.file}:${mutant.line}`,
        operator: mutant.operator,
        original: mutant.original,
        mutated: mutant.mutated,
        reachedBy,
        why: whyOf.get(mutant.key) ?? null,
      })),
    gone: [...whyOf.keys()].filter((key) => !known.has(key)),
    noticedNow: [...whyOf.keys()].filter((key) => noticed.has(key)),
  };
}

export const percent = ({ mutants, noticed }: Tally): string =>
  mutants === 0 ? "–" : `${((100 * noticed) / mutants).toFixed(1)} %`;

export function textOf(report: Report): string {
  const width = Math.max(5, ...report.files.map(({ file }) => file.length));
  const row = (name: string, each: Tally): string =>
    [
      name.padEnd(width),
      `${each.mutants}`.padStart(8),
      `${each.noticed}`.padStart(8),
      `${each.survived}`.padStart(9),
      percent(each).padStart(9),
    ].join("");
  const heading = `${"file".padEnd(width)} mutants noticed survived         `;
  const { total, survivors } = report;
  const read = survivors.filter(({ why }) => why !== null).length;
  return [
    ...survivors.flatMap(survivorLines),
    heading.trimEnd(),
    ...report.files.map((each) => row(each.file, each)),
    row("total", total),
    "",
    `survived, read: ${read}; survived, not read: ${survivors.length - read}`,
    ...listed("no longer there, take it off the list", report.gone),
    ...listed("noticed now, take it off the list", report.noticedNow),
    `${percent(total)} noticed; the bar of ${100 * report.bar} % is ${report.met ? "met" : "not met"}`,
  ].join("\n");
}

function survivorLines({ place, operator, original, mutated, reachedBy, why }: Survivor): readonly string[] {
  return [
    `${place} ${operator}${reachedBy === 0 ? ", run by no test" : ""}`,
    `  - ${original}`,
    `  + ${mutated}`,
    why === null ? "  not read" : `  read: ${why}`,
    "",
  ];
}

const listed = (what: string, keys: readonly string[]): readonly string[] =>
  keys.map((key) => `${what}: ${key}`);
