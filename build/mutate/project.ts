/** What is mutated, and which tests are to notice it. */
import { readdirSync } from "node:fs";
import { join } from "node:path";

const MUTATED = ["engine/wiring", "engine/trace", "engine/findings"];
/** Rooms of tests that check the engine itself. */
const TESTS = ["tests/engine", "tests/property", "tests/oracle"];
/** How the paths there begin that are about other parts of it and take long, or that start other programs. */
const ELSEWHERE = [
  "tests/engine/exchange.",
  "tests/engine/handout.",
  "tests/engine/labels/",
  "tests/engine/paper-",
  "tests/engine/rules.",
  "tests/engine/signal-flow.",
  "tests/engine/wiring-files.",
  "tests/oracle/cuts.",
  "tests/oracle/labels.",
  "tests/oracle/wiring-files.",
  "tests/property/bad-files.",
  "tests/property/handout.",
  "tests/property/worksheets.",
];

export const isMutated = (file: string): boolean => MUTATED.some((folder) => file.startsWith(`${folder}/`));

export const mutatedFiles = (root: string): readonly string[] =>
  MUTATED.flatMap((folder) => filesBelow(root, folder)).filter((file) => file.endsWith(".ts"));

export const testFiles = (root: string): readonly string[] =>
  TESTS.flatMap((folder) => filesBelow(root, folder)).filter(
    (file) => file.endsWith(".test.ts") && !ELSEWHERE.some((start) => file.startsWith(start)),
  );

/** Sorted, relative to the project, with forward slashes. */
function filesBelow(root: string, folder: string): readonly string[] {
  let names: readonly string[];
  try {
    names = readdirSync(join(root, folder), { recursive: true, encoding: "utf8" });
  } catch {
    return [];
  }
  return names.map((name) => `${folder}/${name.replaceAll("\\", "/")}`).sort();
}
