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

  /** `noticedBefore`: which test noticed a mutant in an earlier run, if one did. */
  constructor(tests: readonly KnownTest[], noticedBefore: (key: string) => string | null) {
    this.#tests = tests;
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
    return (4 * inUnit + inFile + 0.3) / (test.ms + 1);
  }
}
