/** The mutation check itself, on files small enough that their mutants can be listed by hand. */
import { execFile } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { ensureBuilt, outputOf } from "../../build/build.mjs";
import { mutantsOf, mutatedText } from "../../build/mutate/mutants.ts";
import { titlesOf } from "../../build/mutate/order.ts";
import { textOf } from "../../build/mutate/report.ts";
import { sample } from "../../build/mutate/sample.ts";
import { tempFolder } from "./support/temp.ts";

const slips = (text: string): readonly string[] =>
  mutantsOf("engine/trace/tiny.ts", text).map(({ original, mutated }) => `${original} → ${mutated}`);

describe("what is mutated", () => {
  test("a comparison: its boundary, its opposite, and the condition that it is", () => {
    expect(slips("const f = (a: number) => (a < b ? c : d);")).toEqual([
      "a < b → true",
      "a < b → false",
      "a < b → a <= b",
      "a < b → a >= b",
    ]);
  });

  test("logic, operand by operand", () => {
    expect(slips("const f = a && b && c;")).toEqual([
      "a && b && c → ((a && b) || c)",
      "a && b → (a || b)",
      "a → true",
      "b → true",
      "c → true",
    ]);
    expect(slips("const f = a ?? b;")).toEqual(["a ?? b → (a && b)", "a ?? b → a"]);
    expect(slips("const f = a ?? b ?? c;").slice(0, 2)).toEqual([
      "a ?? b ?? c → ((a ?? b) && c)",
      "a ?? b ?? c → a ?? b",
    ]);
  });

  test("numbers, text, lists, methods and optional chains", () => {
    expect(slips("const f = g(-1);")).toEqual(["-1 → 0", "-1 → (-2)"]);
    expect(slips('const f = g("x", "", `${y}m`);')).toEqual(['"x" → ""', '"" → "?"', '`${y}m` → ""']);
    expect(slips("const f = [x];")).toEqual(["[x] → []"]);
    expect(slips("const f = a?.b;")).toEqual(["a?.b → a.b"]);
    expect(slips("const f = g.some(h);")).toEqual(["g.some(h) → g.every(h)"]);
    expect(slips("const f = Math.min(g, h);")).toEqual(["Math.min(g, h) → Math.max(g, h)"]);
    expect(slips("const f = g.filter(h);")).toEqual(["g.filter(h) → g"]);
  });

  test("statements, but for the one that is all of an if, and for what returns the result", () => {
    expect(slips("function f() { g(); return h; }")).toEqual(["{ g(); return h; } → {}", "g(); → ;"]);
    expect(slips("function f() { if (g) return; h(); i(); }")).toEqual([
      "{ if (g) return; h(); i(); } → {}",
      "g → true",
      "g → false",
      "h(); → ;",
      "i(); → ;",
    ]);
  });

  test("not types, keys, tags that are compared, imports, nor what is thrown", () => {
    expect(slips('type A = "x" | 1; interface B { readonly c: "y" } import { d } from "e";')).toEqual([]);
    expect(slips('const f = g as "x";')).toEqual([]);
    expect(slips('const f = { "a-b": c };')).toEqual([]);
    expect(slips('function f() { throw new Error("x" + 1); }')).toEqual([]);
    expect(slips('const f = g === "x";')).toEqual(['g === "x" → g !== "x"']);
  });

  test("a replacement stands where it says, and a key stays when lines shift", () => {
    const text = "export const f = (a: number) =>\n  a + 1;\n";
    const [plus] = mutantsOf("engine/trace/tiny.ts", text);
    expect(mutatedText(text, plus!)).toBe(text.replace("+", "-"));
    expect(plus).toMatchObject({ line: 2, key: "trace/tiny.ts f: a + 1 → a - 1" });
    const [shifted] = mutantsOf("engine/trace/tiny.ts", `const other = g;\n\n\n${text}`);
    expect(shifted).toMatchObject({ line: 5, key: plus!.key });
  });

  test("two mutants that read the same have keys of their own", () => {
    const keys = mutantsOf("engine/trace/tiny.ts", "const f = [g(1), g(1)];").map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
  });
});

test("the tests of a file's own rules are tried first", () => {
  const finds = (comment: string, title: string): boolean | undefined => titlesOf(comment)?.test(title);
  expect(finds("/** F8–F11: cables.", "[F10] a length")).toBe(true);
  expect(finds("/** F8–F11: cables.", "[F1] dark")).toBe(false);
  expect(finds("/** F18 and F19: mixes.", "[T1] [F19] refused")).toBe(true);
  expect(finds("/** The W rules of SPEC.md", "[W17] reversed")).toBe(true);
  expect(titlesOf("/** How findings speak of things.")).toBeNull();
});

test("a sample is the same for one seed, and keeps the order", () => {
  const items = Array.from({ length: 100 }, (_, n) => n);
  const drawn = sample(items, 10, 7);
  expect(drawn).toHaveLength(10);
  expect(drawn).toEqual([...drawn].sort((a, b) => a - b));
  expect(sample(items, 10, 7)).toEqual(drawn);
  expect(sample(items, 10, 8)).not.toEqual(drawn);
  expect(sample(items, 200, 7)).toEqual(items);
});

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly error: string;
}

function mutate(...words: string[]): Promise<Ran> {
  return new Promise((resolve) => {
    execFile(process.execPath, [outputOf("mutate"), ...words], (problem, out, error) => {
      resolve({ code: problem ? Number(problem.code) : 0, out, error });
    });
  });
}

function project(files: Readonly<Record<string, string>>): string {
  const root = tempFolder();
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(root, name)), { recursive: true });
    writeFileSync(join(root, name), text);
  }
  return root;
}

const LATE = `
  export const isLate = (ms: number, limit: number): boolean => ms > limit;
  export function countDown(from: number): number {
    let steps = 0;
    while (from > 0) {
      from -= 1;
      steps++;
    }
    return steps;
  }
  export const unused = (a: number): number => a * 2;
`;

/** At the limit itself nothing is asked, so that \`>=\` survives; so does what is called by no test. */
const LATE_TEST = `
  import { describe, expect, test } from "vitest";
  import { countDown, isLate } from "#engine/trace/late.ts";
  describe("late", () => {
    test.each([[3, true], [1, false]])("%d ms", (ms, late) => expect(isLate(ms, 2)).toBe(late));
    test("counting down", async () => {
      await Promise.resolve();
      expect(countDown(3)).toBe(3);
    });
  });
`;

describe("npm run mutate", () => {
  beforeAll(() => ensureBuilt(["mutate"]));

  test("tells what was noticed and what survived, with the reason where one is listed", async () => {
    const harmless = [
      { why: "nobody asks", mutants: ["trace/late.ts isLate: ms > limit → ms >= limit", "gone"] },
    ];
    const root = project({
      "engine/trace/late.ts": LATE,
      "tests/engine/late.test.ts": LATE_TEST,
      "build/mutate/harmless.json": JSON.stringify(harmless),
    });
    const { code, out } = await mutate("--root", root, "--jobs", "1", "--json");
    expect(code).toBe(0);
    const report = JSON.parse(out);
    const survived: readonly { original: string; mutated: string; why: string | null; reachedBy: number }[] =
      report.survivors;
    expect(survived.map(({ original, mutated, why }) => [`${original} → ${mutated}`, why])).toEqual([
      ["ms > limit → ms >= limit", "nobody asks"],
      ["a * 2 → a / 2", null],
      ["2 → 3", null],
      ["2 → 1", null],
    ]);
    expect(survived.map(({ reachedBy }) => reachedBy)).toEqual([2, 0, 0, 0]);
    // isLate 2; countDown: its block, 0 twice, the loop's condition, > twice, 0 twice, the loop's block, two statements,
    // -=, 1 twice and ++; unused 3. Some of them never end, and are noticed by that.
    expect(report.total).toEqual({ mutants: 20, noticed: 16, survived: 4 });
    expect(report.met).toBe(false);
    expect(report.gone).toEqual(["gone"]);

    const text = textOf(report);
    expect(text).toContain(
      "engine/trace/late.ts:2 comparison\n  - ms > limit\n  + ms >= limit\n  read: nobody asks\n",
    );
    expect(text).toContain("survived, read: 1; survived, not read: 3");
    expect(text).toContain("no longer there, take it off the list: gone");
    expect(text).toContain("80.0 % noticed; the bar of 90 % is not met");
  });

  test("the app's files are tried by its own tests, with what these ask of vitest: hooks, a time of their own, spies", async () => {
    const root = project({
      "renderer/theme/scheme.ts": `
        export function later(run: () => void): void { setTimeout(run, 5); }
        export const kept = async (answer: Promise<void>): Promise<boolean> => { await answer; return true; };
      `,
      "tests/renderer/scheme.test.ts": `
        import { afterEach, beforeEach, expect, test, vi } from "vitest";
        import { kept, later } from "../../renderer/theme/scheme.ts";
        let seen;
        beforeEach(() => { vi.useFakeTimers(); seen = vi.fn(); });
        afterEach(() => vi.useRealTimers());
        test("waits", async () => {
          later(seen);
          await vi.advanceTimersByTimeAsync(4);
          expect(seen).not.toHaveBeenCalled();
          await vi.advanceTimersByTimeAsync(1);
          expect(seen).toHaveBeenCalledTimes(1);
        });
        test("keeps", async () => { expect(await kept(Promise.resolve())).toBe(true); });
      `,
    });
    const { code, out } = await mutate("--root", root, "--room", "renderer", "--jobs", "1", "--json");
    expect(code).toBe(0);
    const report = JSON.parse(out);
    // later: its statement, 5 twice. kept: its block, the statement that waits, true. Nobody sees that it waits.
    expect(report.total).toEqual({ mutants: 6, noticed: 5, survived: 1 });
    expect(report.survivors.map(({ original }: { original: string }) => original)).toEqual(["await answer;"]);
    const other = await mutate("--room", "cellar");
    expect(other).toEqual({
      code: 2,
      out: "",
      error: "--room takes engine or renderer, not “cellar”.\n",
    });
  });

  test("what can't run says so in one line and fails", async () => {
    const broken = LATE_TEST.replace("toBe(3)", "toBe(4)");
    const root = project({ "engine/trace/late.ts": LATE, "tests/engine/late.test.ts": broken });
    const failing = await mutate("--root", root, "--jobs", "1");
    expect(failing.code).toBe(1);
    expect(failing.error).toContain("late › counting down fails on clean code: expected 3 to be 4");
    const nothing = await mutate("--root", root, "--only", "nowhere");
    expect(nothing).toEqual({ code: 2, out: "", error: "There is nothing to mutate in “nowhere”.\n" });
  });
});
