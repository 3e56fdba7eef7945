/** The specification and the tests' titles name the same rules. */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";

const tests = new URL("../", import.meta.url);
const textOf = (path: string): string => readFileSync(new URL(path, tests), "utf8");

/** `- **W5** …` opens a rule. */
const RULES = [...textOf("../engine/SPEC.md").matchAll(/^- \*\*([A-Z]\d+)\*\*/gm)].map(([, rule]) => rule!);

/** The first text of every `test(…)`, of every `describe(…)`, and the text after every `test.each(…)(`. */
function titles(text: string): readonly string[] {
  return [...text.matchAll(/(?:\btest\(|\bdescribe\(|\)\()\s*(["'`])((?:\\.|(?!\1).)*)\1/g)].map(
    ([, , title]) => title!,
  );
}

const TITLES = ["engine", "oracle", "property"].flatMap((folder) =>
  readdirSync(new URL(`${folder}/`, tests), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".test.ts"))
    .map((name) => ({ file: `${folder}/${name}`, titles: titles(textOf(`${folder}/${name}`)) })),
);

const idsIn = (title: string): readonly string[] =>
  [...title.matchAll(/\[([A-Z]\d+)\]/g)].map(([, rule]) => rule!);

describe("the rules", () => {
  test("each stands once in the specification", () => {
    expect(RULES.length).toBeGreaterThan(50);
    expect(RULES.filter((rule, n) => RULES.indexOf(rule) !== n)).toEqual([]);
  });

  test("each stands in the title of a test of the engine", () => {
    const told = new Set(
      TITLES.filter(({ file }) => file.startsWith("engine/")).flatMap((each) => each.titles.flatMap(idsIn)),
    );
    expect(RULES.filter((rule) => !told.has(rule))).toEqual([]);
  });

  test("each that stands in a title stands in the specification", () => {
    const unknown = TITLES.flatMap(({ file, titles: each }) =>
      each.flatMap((title) =>
        idsIn(title)
          .filter((rule) => !RULES.includes(rule))
          .map((rule) => `${file}: ${rule}`),
      ),
    );
    expect(unknown).toEqual([]);
  });
});
