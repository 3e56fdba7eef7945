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

import { fakeTimers } from "./timers.ts";

export interface NotedTest {
  readonly title: string;
  readonly run: () => unknown;
}

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);
// Pictures of text that vitest keeps in the test: nothing is told by them here.
chai.util.addMethod(chai.Assertion.prototype, "toMatchInlineSnapshot", () => undefined);

const expect = Object.assign(
  (value: unknown, message?: string) => chai.expect(value, message),
  chai.expect,
  Reflect.get(globalThis, ASYMMETRIC_MATCHERS_OBJECT),
);
Reflect.set(globalThis, GLOBAL_EXPECT, expect);
setState({ assertionCalls: 0, isExpectingAssertions: false }, expect as never);

interface Hook {
  readonly when: "before" | "after";
  readonly run: () => unknown;
}

type Body = (...values: readonly unknown[]) => unknown;

/** The module for one test file; `tests` fills while the file is loaded. */
export function standIn(): { readonly tests: readonly NotedTest[]; readonly module: object } {
  const tests: NotedTest[] = [];
  const titles = new Map<string, number>();
  let around: readonly string[] = [];
  let hooks: readonly Hook[] = [];

  /** Each test is run by itself, so what is to be done once before all is done before each. */
  function note(title: string, run: () => unknown): void {
    const full = [...around, title].join(" › ");
    const count = (titles.get(full) ?? 0) + 1;
    titles.set(full, count);
    const outer = hooks;
    const own = (when: Hook["when"]) => outer.filter((hook) => hook.when === when);
    const withHooks = async (): Promise<void> => {
      for (const hook of own("before")) await hook.run();
      try {
        await run();
      } finally {
        for (const hook of own("after").toReversed()) await hook.run();
      }
    };
    const isBare = outer.length === 0;
    tests.push({ title: count === 1 ? full : `${full} #${count}`, run: isBare ? run : withHooks });
  }

  const hook =
    (when: Hook["when"]) =>
    (run: () => unknown): void =>
      void (hooks = [...hooks, { when, run }]);

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
    const outside = { around, hooks };
    around = [...around, title];
    body();
    ({ around, hooks } = outside);
  }
  const describe = Object.assign(group, { each: each(group) });

  const before = hook("before");
  const after = hook("after");
  const allHooks = { beforeEach: before, beforeAll: before, afterEach: after, afterAll: after };
  return { tests, module: { __esModule: true, test, it: test, describe, expect, vi: tools(), ...allHooks } };
}

/** What the tests use of `vi`. */
function tools() {
  const timers = fakeTimers();
  return {
    fn(answer: Body = () => undefined) {
      const calls: (readonly unknown[])[] = [];
      const noting = (...values: readonly unknown[]): unknown => {
        calls.push(values);
        return answer(...values);
      };
      return Object.assign(noting, { mock: { calls }, _isMockFunction: true, getMockName: () => "spy" });
    },
    stubGlobal: (name: string, value: unknown) => Reflect.set(globalThis, name, value),
    useFakeTimers: () => timers.use(),
    useRealTimers: () => timers.stop(),
    advanceTimersByTimeAsync: (by: number) => timers.advance(by),
  };
}
