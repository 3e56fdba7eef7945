/**
 * What test files get for `vitest` while mutants are tried: the same `expect`, and a `test` and `describe` that only
 * note the tests down, so that single ones can be run again and again in one process.
 */
import {
  ASYMMETRIC_MATCHERS_OBJECT,
  chai,
  GLOBAL_EXPECT,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
  setState,
} from "@vitest/expect";

export interface NotedTest {
  readonly title: string;
  readonly run: () => unknown;
}

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

const expect = Object.assign(
  (value: unknown, message?: string) => chai.expect(value, message),
  chai.expect,
  Reflect.get(globalThis, ASYMMETRIC_MATCHERS_OBJECT),
);
Reflect.set(globalThis, GLOBAL_EXPECT, expect);
setState({ assertionCalls: 0, isExpectingAssertions: false }, expect as never);

type Body = (...values: readonly unknown[]) => unknown;

/** The module for one test file; `tests` fills while the file is loaded. */
export function standIn(): { readonly tests: readonly NotedTest[]; readonly module: object } {
  const tests: NotedTest[] = [];
  const titles = new Map<string, number>();
  let around: readonly string[] = [];

  function note(title: string, run: () => unknown): void {
    const full = [...around, title].join(" › ");
    const count = (titles.get(full) ?? 0) + 1;
    titles.set(full, count);
    tests.push({ title: count === 1 ? full : `${full} #${count}`, run });
  }

  /** Rows of arrays are spread over the arguments, as vitest does. */
  const each =
    (take: (title: string, body: () => unknown) => void) =>
    (rows: readonly unknown[]) =>
    (title: string, body: Body): void => {
      rows.forEach((row, n) =>
        take(`${title} (row ${n + 1})`, () => body(...(Array.isArray(row) ? row : [row]))),
      );
    };

  const noted = (title: string, body: Body): void => note(title, () => body());
  const skip = (): void => {};
  const test = Object.assign(noted, {
    each: each(note),
    skip,
    skipIf: (isSkipped: unknown) => (isSkipped ? skip : noted),
  });

  function group(title: string, body: () => unknown): void {
    const outside = around;
    around = [...around, title];
    body();
    around = outside;
  }
  const describe = Object.assign(group, { each: each(group) });

  return { tests, module: { __esModule: true, test, it: test, describe, expect } };
}
