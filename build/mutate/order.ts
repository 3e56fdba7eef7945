/** Which tests are run on a mutant, and in which order: those that are likely to notice it soon come first. */
import type { Mutant } from "./mutants.ts";
import type { KnownTest } from "./runner.ts";

export class Order {
  readonly #tests: readonly KnownTest[];
  /** For each file and place the tests that run it, as numbers in `#tests`. */
  readonly #reaching = new Map<string, number[]>();
  /** How many mutants of a unit, and of a file, a test has noticed. */
  readonly #noticed = new Map<string, number>();

  readonly #noticedBefore: (key: string) => string | null;

  readonly #textOf: (file: string) => string;
  readonly #rules = new Map<string, RegExp | null>();

  /**
   * `noticedBefore`: which test noticed a mutant in an earlier run, if one did. `textOf`: a file's text, whose first
   * comment may say which rules it is about.
   */
  constructor(
    tests: readonly KnownTest[],
    noticedBefore: (key: string) => string | null,
    textOf: (file: string) => string,
  ) {
    this.#tests = tests;
    this.#textOf = textOf;
    this.#noticedBefore = noticedBefore;
    tests.forEach(({ reached }, n) => {
      for (const [file, places] of Object.entries(reached)) {
        for (const place of places) {
          const key = `${file}:${place}`;
          const known = this.#reaching.get(key);
          if (known) known.push(n);
          else this.#reaching.set(key, [n]);
        }
      }
    });
  }

  /** Numbers of tests. */
  testsFor(mutant: Mutant): readonly number[] {
    const before = this.#noticedBefore(mutant.key);
    const reaching = this.#reaching.get(`${mutant.file}:${mutant.anchor}`) ?? [];
    return reaching
      .map((n) => ({ n, worth: this.#worth(mutant, this.#tests[n]!, before) }))
      .sort((a, b) => b.worth - a.worth)
      .map(({ n }) => n);
  }

  /** Mutants of one function are mostly noticed by the same tests. */
  learn(mutant: Mutant, by: string): void {
    for (const key of [`${mutant.file} ${by}`, `${mutant.file} ${mutant.unit} ${by}`]) {
      this.#noticed.set(key, (this.#noticed.get(key) ?? 0) + 1);
    }
  }

  #worth({ file, unit }: Mutant, test: KnownTest, before: string | null): number {
    const by = `${test.file} › ${test.title}`;
    if (by === before) return Number.POSITIVE_INFINITY;
    const inFile = this.#noticed.get(`${file} ${by}`) ?? 0;
    const inUnit = this.#noticed.get(`${file} ${unit} ${by}`) ?? 0;
    const about = this.#rulesOf(file)?.test(test.title) ? 5 : 0;
    return (4 * inUnit + inFile + about + 0.3) / (test.ms + 1);
  }

  /** What the title of a test of the file's rules holds; null where the file names none. */
  #rulesOf(file: string): RegExp | null {
    let rules = this.#rules.get(file);
    if (rules === undefined) this.#rules.set(file, (rules = titlesOf(this.#textOf(file).split("*/")[0]!)));
    return rules;
  }
}

/** `F8–F11: …`, `F18 and F19: …`, `The W rules of SPEC.md`: titles with `[F8]`, `[F9]` and so on. */
export function titlesOf(comment: string): RegExp | null {
  const ids: string[] = [];
  for (const [, letter, first, last] of comment.matchAll(/\b([A-Z])(\d+)(?:–[A-Z]?(\d+))?/g)) {
    for (let n = Number(first); n <= Number(last ?? first); n++) ids.push(`${letter}${n}`);
  }
  for (const [, letter] of comment.matchAll(/\b([A-Z]) rules?\b/g)) ids.push(`${letter}\\d+`);
  return ids.length > 0 ? new RegExp(`\\[(?:${ids.join("|")})\\]`) : null;
}
