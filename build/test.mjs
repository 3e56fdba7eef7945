/**
 * `npm test`: everything that must hold, in the order in which it tells most for the time it takes. Ends with one line,
 * `N passed, N failed`, over all of it. Needs Node and npm; installs the rest.
 */
import { mkdir, readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { APP_TARGETS, ensureBuilt } from "./build.mjs";
import { checkNode, ensureInstalled } from "./lib/install.mjs";
import { PlainStop, ROOT, runNode, runScript } from "./lib/project.mjs";
import { ensureBrowser } from "./lib/test-browser.mjs";
import { ROOMS, checkRoom } from "./types.mjs";

const RESULTS = join(ROOT, "test-results");

/** @typedef {{ passed: number, failed: number, skipped: number }} Tally */

const PASSED = { passed: 1, failed: 0, skipped: 0 };
const FAILED = { passed: 0, failed: 1, skipped: 0 };

/** @param {string} path */
const bin = (path) => join(ROOT, "node_modules", path);

/**
 * A step that passes or fails as a whole; what it wrote shows only when it failed.
 *
 * @param {string} script
 * @param {readonly string[]} args
 * @returns {Promise<Tally>}
 */
async function wholeStep(script, args) {
  const { code, text } = await runNode(script, args, { output: "capture" });
  if (code === 0) return PASSED;
  console.log(text.trim());
  return FAILED;
}

/**
 * @param {string} file
 * @returns {Promise<any>} The report, or undefined where there is none.
 */
async function report(file) {
  try {
    return JSON.parse(await readFile(join(RESULTS, file), "utf8"));
  } catch {
    return undefined;
  }
}

/**
 * Adds up a runner's own report. A runner that broke off, or that failed outside its tests, is a failure too.
 *
 * @param {number} code
 * @param {Tally | undefined} counted
 * @returns {Tally}
 */
export function runnerTally(code, counted) {
  if (!counted || counted.passed + counted.failed + counted.skipped === 0) return FAILED;
  return code !== 0 && counted.failed === 0 ? { ...counted, failed: 1 } : counted;
}

/** @returns {Promise<Tally>} */
async function vitest() {
  const { code } = await runNode(bin("vitest/vitest.mjs"), [
    "run",
    "--config=build/vitest.config.ts",
    "--reporter=dot",
    "--reporter=json",
    `--outputFile.json=${join(RESULTS, "vitest.json")}`,
  ]);
  const found = await report("vitest.json");
  return runnerTally(
    code,
    found && {
      passed: found.numPassedTests,
      // A file that can't be loaded has no tests to fail.
      failed:
        found.numFailedTests +
        found.testResults.filter(
          (/** @type {any} */ file) => file.status === "failed" && file.assertionResults.length === 0,
        ).length,
      skipped: found.numPendingTests + found.numTodoTests,
    },
  );
}

/** @returns {Promise<Tally>} */
async function playwright() {
  const { code } = await runNode(bin("@playwright/test/cli.js"), [
    "test",
    "--config=build/playwright.config.ts",
  ]);
  const found = await report("playwright.json");
  for (const reason of skipReasons(found?.suites ?? [])) console.log(`skipped: ${reason}`);
  return runnerTally(
    code,
    found && {
      passed: found.stats.expected + found.stats.flaky,
      failed: found.stats.unexpected,
      skipped: found.stats.skipped,
    },
  );
}

/**
 * Why tests were left out, each reason once.
 *
 * @param {readonly any[]} suites
 * @returns {Set<string>}
 */
function skipReasons(suites) {
  const own = suites
    .flatMap((suite) => suite.specs ?? [])
    .flatMap((spec) => spec.tests)
    // The first reason is the one that decided; more may follow it.
    .map((test) => test.annotations.find((/** @type {any} */ note) => note.type === "skip")?.description)
    .filter((reason) => reason !== undefined);
  return new Set([...own, ...suites.flatMap((suite) => [...skipReasons(suite.suites ?? [])])]);
}

/** @returns {Promise<Tally>} */
async function build() {
  try {
    await ensureBuilt(APP_TARGETS, { say: console.log });
    return PASSED;
  } catch (error) {
    if (!(error instanceof PlainStop)) throw error;
    console.log(error.message);
    return FAILED;
  }
}

/** @typedef {readonly (readonly [name: string, step: () => Promise<Tally>])[]} Steps */

/** @type {Steps} */
const STATIC = [
  ["format", () => wholeStep(bin("oxfmt/bin/oxfmt"), ["--check"])],
  [
    "lint",
    () =>
      wholeStep(bin("eslint/bin/eslint.js"), ["--config=build/eslint.config.js", "--max-warnings=0", "."]),
  ],
  [
    "lint by types",
    () =>
      wholeStep(bin("oxlint/bin/oxlint"), [
        "--config=build/oxlint.json",
        "--type-aware",
        "--deny-warnings",
        ".",
      ]),
  ],
  ...ROOMS.map(
    (room) =>
      /** @type {const} */ ([
        `types ${room}`,
        async () => {
          const { passed, text } = await checkRoom(room);
          if (!passed) console.log(text);
          return passed ? PASSED : FAILED;
        },
      ]),
  ),
  ["schema", () => wholeStep(join(ROOT, "build", "schema.mjs"), ["--check"])],
  ["hand-out", () => wholeStep(join(ROOT, "build", "handout.mjs"), ["--check"])],
  ["demo", () => wholeStep(join(ROOT, "build", "demo.mjs"), ["--check"])],
  ["build", build],
];

/** @type {Steps} */
const UNIT = [["unit, oracle, property and host tests", vitest]];

/** @type {Steps} */
const END_TO_END = [["end to end", playwright]];

/** What reads the code and what runs it, side by side: each of them keeps little more than one core busy. */
const STAGES = [[STATIC, UNIT], [END_TO_END]];

async function main() {
  checkNode();
  await ensureInstalled();
  // In a log colours are noise.
  if (!process.stdout.isTTY) Object.assign(process.env, { NO_COLOR: "1", FORCE_COLOR: "0" });
  await rm(RESULTS, { recursive: true, force: true });
  await mkdir(RESULTS, { recursive: true });
  const browser = await ensureBrowser(console.log);
  console.log(
    browser ? `Browser for the tests: ${browser}` : "No browser for the tests: those that need one fail.",
  );

  const total = { passed: 0, failed: 0, skipped: 0 };
  /** @param {Steps} steps */
  const inTurn = async (steps) => {
    for (const [name, step] of steps) {
      const began = performance.now();
      const tally = await step();
      total.passed += tally.passed;
      total.failed += tally.failed;
      total.skipped += tally.skipped;
      const seconds = ((performance.now() - began) / 1000).toFixed(1);
      console.log(`${tally.failed === 0 ? "passed" : "FAILED"}  ${name}: ${sumLine(tally)} (${seconds} s)`);
    }
  };
  for (const stage of STAGES) await Promise.all(stage.map(inTurn));
  console.log(sumLine(total));
  return total.failed === 0 && total.passed > 0 ? 0 : 1;
}

/** @param {Tally} tally */
export function sumLine({ passed, failed, skipped }) {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}`;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) await runScript(main);
