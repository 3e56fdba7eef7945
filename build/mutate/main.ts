/**
 * `npm run mutate`: breaks the engine in thousands of small ways, one at a time, and counts how many the tests notice.
 * It says whether the bar is met and never fails by it.
 */
import { existsSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { PlainStop, ROOT, runScript } from "../lib/project.mjs";
import { Memory } from "./memory.ts";
import { mutantsOf, type Mutant } from "./mutants.ts";
import { Pool } from "./pool.ts";
import { mutatedFiles, ROOMS, testFiles, type RoomName } from "./project.ts";
import { reportOn, textOf, type Harmless, type Report, type Tried } from "./report.ts";
import { sample } from "./sample.ts";
import { work } from "./worker.ts";

const HELP = `npm run mutate [-- OPTIONS]
  --room ROOM     engine, or renderer: what of the app needs no page (engine)
  --only PATH     only files whose path holds PATH
  --sample N      only N mutants, drawn by --seed S (1)
  --quick         without the tests that take longest; more mutants survive
  --tests PATH    only test files whose path holds PATH
  --survivors F   only those that survived in F, the JSON of an earlier run
  --jobs N        worker processes (2)
  --json          the report as JSON
  --root FOLDER   another project of the same build`;

interface Options {
  readonly root: string;
  readonly room: RoomName;
  readonly only: string;
  readonly sample: number | null;
  readonly seed: number;
  readonly quick: boolean;
  readonly tests: string;
  readonly survivors: string | null;
  readonly jobs: number;
  readonly json: boolean;
}

/** Fewer random rigs than in `npm test`, though enough that each test of theirs finds what it looks for. */
const RIGS = "80";

/** The processor's time of a test that `--quick` still runs. */
const QUICK_MS = 250;

function readOptions(args: readonly string[]): Options | "help" {
  const { values } = parse(args);
  if (values.help) return "help";
  return {
    root: resolve(values.root ?? ROOT),
    room: roomOf(values.room ?? "engine"),
    only: values.only ?? "",
    sample: values.sample === undefined ? null : number("sample", values.sample, 1),
    seed: number("seed", values.seed ?? "1", 0),
    quick: values.quick ?? false,
    tests: values.tests ?? "",
    survivors: values.survivors ?? null,
    jobs: number("jobs", values.jobs ?? "2", 1),
    json: values.json ?? false,
  };
}

function parse(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      options: {
        root: { type: "string" },
        room: { type: "string" },
        only: { type: "string" },
        sample: { type: "string" },
        seed: { type: "string" },
        quick: { type: "boolean" },
        tests: { type: "string" },
        survivors: { type: "string" },
        jobs: { type: "string" },
        json: { type: "boolean" },
        help: { type: "boolean" },
      },
    });
  } catch (error) {
    throw new PlainStop(error instanceof Error ? error.message : String(error), 2);
  }
}

function number(name: string, text: string, least: number): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < least) {
    throw new PlainStop(`--${name} takes a whole number from ${least} on, not “${text}”.`, 2);
  }
  return value;
}

function roomOf(text: string): RoomName {
  if (text !== "engine" && text !== "renderer") {
    throw new PlainStop(`--room takes ${Object.keys(ROOMS).join(" or ")}, not “${text}”.`, 2);
  }
  return text;
}

function allMutants({ root, room }: Options): readonly Mutant[] {
  return mutatedFiles(root, room).flatMap((file) => mutantsOf(file, readFileSync(join(root, file), "utf8")));
}

/** Those of the room: the app's begin with its name, the engine's with a folder of it. */
function readHarmless({ root, room }: Options): Harmless {
  const file = join(root, "build", "mutate", "harmless.json");
  if (!existsSync(file)) return [];
  return (readJson(file) as Harmless).map(({ why, mutants }) => ({
    why,
    mutants: mutants.filter((key) => key.startsWith("renderer/") === (room === "renderer")),
  }));
}

const keysIn = (file: string): ReadonlySet<string> =>
  new Set((readJson(file) as Report).survivors.map(({ key }) => key));

function readJson(file: string): unknown {
  try {
    return JSON.parse(readFileSync(file, "utf8"));
  } catch (error) {
    throw new PlainStop(`${file} can't be read: ${error instanceof Error ? error.message : error}`);
  }
}

async function run(options: Options): Promise<void> {
  const say = (line: string): void => console.error(line);
  const all = allMutants(options);
  const survivors = options.survivors === null ? null : keysIn(options.survivors);
  const concerned = all.filter(
    ({ file, key }) => file.includes(options.only) && (survivors === null || survivors.has(key)),
  );
  const mutants = options.sample === null ? concerned : sample(concerned, options.sample, options.seed);
  if (mutants.length === 0) throw new PlainStop(`There is nothing to mutate in “${options.only}”.`, 2);

  const began = performance.now();
  const seconds = (): string => `${((performance.now() - began) / 1000).toFixed(0)} s`;
  process.env["HOPLINE_RIGS"] ??= RIGS;
  const memory = new Memory(options.root);
  const program = {
    script: process.argv[1]!,
    args: ["--worker", options.root, options.room],
    jobs: options.jobs,
  };
  const pool = new Pool(program, memory);
  try {
    const covered = await pool.cover(
      testFiles(options.root, options.room).filter((file) => file.includes(options.tests)),
    );
    const failing = covered.find(({ failure }) => failure !== null);
    if (failing)
      throw new PlainStop(`${failing.file} › ${failing.title} fails on clean code: ${failing.failure}`);
    memory.save();
    const alone = covered.filter(({ leans }) => !leans);
    const tests = options.quick ? alone.filter(({ ms }) => ms < QUICK_MS) : alone;
    const leaning = covered.length - alone.length;
    say(`clean code passes ${covered.length} tests, ${leaning} of them only after others (${seconds()})`);
    say(`${mutants.length} of ${all.length} mutants against ${tests.length} tests`);
    const tried = new Map<string, Tried>();
    await pool.attempt(mutants, tests, (mutant, outcome, reachedBy) => {
      tried.set(mutant.key, { mutant, outcome, reachedBy });
      if (!outcome.noticed && !options.json) say(`survived: ${mutant.key}`);
      if (tried.size % 250 === 0) {
        say(`${tried.size} of ${mutants.length} (${seconds()})`);
        memory.save();
      }
    });
    const report = reportOn(
      mutants.map(({ key }) => tried.get(key)!),
      readHarmless(options),
      new Set(all.map(({ key }) => key)),
    );
    console.log(options.json ? JSON.stringify(report, null, 2) : textOf(report));
    say(`${seconds()} with ${options.jobs} ${options.jobs === 1 ? "job" : "jobs"}`);
  } finally {
    memory.save();
    pool.stop();
  }
}

const args = process.argv.slice(2);
if (args[0] === "--worker") work(args[1]!, roomOf(args[2]!));
else {
  await runScript(async () => {
    const options = readOptions(args);
    if (options === "help") console.log(HELP);
    else await run(options);
  });
}
