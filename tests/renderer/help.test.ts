/** Help on the spot: what each finding means and what each word means, from one source each. */
import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { VERDICT_NAMES } from "#engine";
import { CHECKS } from "#engine/findings/checks.ts";
import { CHECK_PAGES, pageOf, ruleParts, RULES } from "../../renderer/help/checks.ts";
import { pieces } from "../../renderer/help/guide.ts";
import { shippedNames } from "../../renderer/files/ShowLists.tsx";
import { GLOSSARY, GLOSSARY_PARTS } from "../../renderer/words/glossary.ts";

const plain = (line: readonly { readonly text: string }[]): string => line.map(({ text }) => text).join("");

test("every show that comes with the app says what it is", () => {
  const files = readdirSync("assets/demo").map((name) => ({ name, path: name, kind: "show" as const }));
  expect(files.length).toBeGreaterThan(0);
  const entries = shippedNames(files);
  expect(entries.filter(({ detail }) => detail === "")).toEqual([]);
  expect(new Set(entries.map(({ detail }) => detail)).size).toBe(files.length);
});

describe("what is checked", () => {
  test.each(CHECKS.map(({ id }) => [id]))("%s has its page: when, what to do, the exact rule", (id) => {
    const page = pageOf(id);
    expect(page, id).toBeDefined();
    for (const line of [page!.when, page!.todo, page!.exactly]) expect(plain(line)).not.toBe("");
  });

  test("every page is of a check that there is, and of a rule of its own", () => {
    const ids = new Set(CHECKS.map(({ id }) => id));
    expect(CHECK_PAGES.map(({ check }) => check).filter((check) => !ids.has(check))).toEqual([]);
    expect(new Set(CHECK_PAGES.map(({ rule }) => rule)).size).toBe(CHECK_PAGES.length);
  });

  test("the texts are those of the engine's pages, whole", () => {
    // Read off FINDINGS.md and SPEC.md by eye.
    const page = pageOf("cable-too-long")!;
    expect(page.rule).toBe("F8");
    expect(page.severity).toBe("error");
    expect(plain(page.when)).toBe("a cable longer than its ends allow");
    expect(plain(page.todo)).toBe("another kind, a shorter run, a repeater. Fix: a kind that reaches");
    expect(plain(page.exactly)).toBe(
      "cable too long (error): longer than the port or jack allows for its kind.",
    );
    // A rule of several lines, up to the empty line that ends the part.
    expect(plain(pageOf("held-block")!.exactly)).toMatch(
      /^held block \(warning\): a planned feed .* feeds that wait for one setting are one finding\.$/,
    );
  });

  test("a rule's number in a text leads to that rule, other figures to none", () => {
    expect(ruleParts("The first counts (W13, W14); AES3 and 48 V.")).toEqual([
      { text: "The first counts (", rule: null },
      { text: "W13", rule: RULES.get("W13") },
      { text: ", ", rule: null },
      { text: "W14", rule: RULES.get("W14") },
      { text: "); AES3 and 48 V.", rule: null },
    ]);
    expect(plain(RULES.get("W13")!)).toMatch(/^Of two cables in one port, /);
  });

  test("italics stand between underscores at the edge of words", () => {
    expect(pieces("_Fix:_ both_ends stay _so_.")).toEqual([
      { kind: "italic", text: "Fix:" },
      { kind: "text", text: " both_ends stay " },
      { kind: "italic", text: "so" },
      { kind: "text", text: "." },
    ]);
  });
});

describe("words", () => {
  const listed = GLOSSARY_PARTS.flatMap(({ words }) => words);

  test("the page lists each word once", () => {
    expect(new Set(listed)).toEqual(new Set(Object.keys(GLOSSARY)));
    expect(listed).toHaveLength(new Set(listed).size);
    const names = listed.map((id) => GLOSSARY[id].name);
    expect(names).toHaveLength(new Set(names).size);
  });

  test("a verdict is called what the traces call it", () => {
    for (const [kind, name] of Object.entries(VERDICT_NAMES)) {
      expect(GLOSSARY[kind as keyof typeof VERDICT_NAMES].name).toBe(name);
    }
  });

  test("each is a sentence or two, short enough for a tip", () => {
    for (const id of listed) {
      const { means } = GLOSSARY[id];
      expect(means, id).toMatch(/^[A-Z0-9].*\.$/);
      expect(means.length, id).toBeLessThan(180);
    }
  });
});
