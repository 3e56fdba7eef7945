/** Runs tests in this process: each alone on clean code, to learn what it reaches, and the fitting ones on a mutant. */
import { mutatedText, type Mutant } from "./mutants.ts";
import { Code, Sandbox, TooManySteps, type Probes } from "./sandbox.ts";
import type { NotedTest } from "./stand-in.ts";

/** A test on clean code. */
export interface KnownTest {
  readonly file: string;
  readonly title: string;
  /** Steps of loops that it takes, and the processor's time for it and for loading its file. */
  readonly steps: number;
  readonly ms: number;
  /** Null where it passed. */
  readonly failure: string | null;
  /** It fails alone and passes after those before it in its file: it isn't run on mutants. */
  readonly leans: boolean;
  /** By file of the engine the places that it runs: see `probes.ts`. */
  readonly reached: Readonly<Record<string, readonly number[]>>;
}

export type Outcome =
  | { readonly noticed: true; readonly by: string; readonly how: "failed" | "not loaded" | "endless" }
  | { readonly noticed: false };

/** How many more steps than on clean code a test may take on a mutant. */
const stepLimit = (clean: number): number => 10 * clean + 200_000;

export class Runner {
  /** Code that counts the places that it runs, and code that doesn't and is faster for it. */
  readonly #covering: Code;
  readonly #code: Code;
  readonly #isMutated: (file: string) => boolean;

  constructor(root: string, isMutated: (file: string) => boolean) {
    this.#covering = new Code(root, isMutated);
    this.#code = new Code(root, () => false);
    this.#isMutated = isMutated;
  }

  /** Every test of a file, each run by itself on modules of its own: what one test leaves behind is no other's. */
  async cover(file: string): Promise<readonly KnownTest[]> {
    await this.#covering.fetchPackages(file);
    const names = new Sandbox(this.#covering, SILENT).tests(file).map(({ title }) => title);
    const tests: KnownTest[] = [];
    for (const [n, title] of names.entries()) tests.push(await this.#coverOne(file, title, n));
    if (tests.every(({ failure }) => failure === null)) return tests;
    const together: (string | null)[] = [];
    for (const test of new Sandbox(this.#covering, SILENT).tests(file)) together.push(await failureOf(test));
    return tests.map((test, n) => ({
      ...test,
      failure: together[n]!,
      leans: test.failure !== null && together[n] === null,
    }));
  }

  async #coverOne(file: string, title: string, n: number): Promise<KnownTest> {
    const reached = new Map<string, Uint8Array>();
    let steps = 0;
    const probes: Probes = {
      tick: () => void steps++,
      hitIn: (ran) => {
        if (!this.#isMutated(ran)) return NO_HIT;
        const places = new Uint8Array(this.#covering.read(ran).length);
        reached.set(ran, places);
        return (anchor) => void (places[anchor] = 1);
      },
    };
    const began = cpuMs();
    const failure = await failureOf(new Sandbox(this.#covering, probes).tests(file)[n]!);
    return {
      file,
      title,
      steps,
      ms: cpuMs() - began,
      failure,
      leans: false,
      reached: Object.fromEntries([...reached].map(([name, places]) => [name, numbersIn(places)])),
    };
  }

  /** Runs the tests in the given order until one fails. */
  async attempt(mutant: Mutant, tests: readonly KnownTest[]): Promise<Outcome> {
    const { file } = mutant;
    const changed = this.#code.compile(file, mutatedText(this.#code.read(file), mutant));
    let left = 0;
    const probes: Probes = {
      tick: () => {
        if (--left < 0) throw new TooManySteps("more steps than the test may take");
      },
      hitIn: () => NO_HIT,
    };
    const sandbox = new Sandbox(this.#code, probes, new Map([[file, changed]]));
    const loaded = new Map<string, ReadonlyMap<string, NotedTest>>();
    for (const { file: testFile, title, steps, ms } of tests) {
      left = stepLimit(steps);
      const by = `${testFile} › ${title}`;
      let noted = loaded.get(testFile);
      if (!noted) {
        await this.#code.fetchPackages(testFile);
        try {
          noted = new Map(sandbox.tests(testFile).map((test) => [test.title, test]));
        } catch {
          return { noticed: true, by, how: left < 0 ? "endless" : "not loaded" };
        }
        loaded.set(testFile, noted);
      }
      const test = noted.get(title);
      // A test whose title comes from the engine may be another one now; that by itself notices nothing.
      if (!test) continue;
      const failure = await Promise.race([failureOf(test), tooLate(waitLimit(ms))]);
      if (left < 0) return { noticed: true, by, how: "endless" };
      if (failure !== null) return { noticed: true, by, how: "failed" };
    }
    return { noticed: false };
  }
}

/** Other work on the machine doesn't count. */
function cpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

const NO_HIT = (): void => {};
const SILENT: Probes = { tick: () => {}, hitIn: () => NO_HIT };

const numbersIn = (places: Uint8Array): number[] => [...places.keys()].filter((place) => places[place] === 1);

/** As it is at the start: tests may put a time of their own in its place. */
const realTimeout = globalThis.setTimeout;

/** How long a test may wait for what a mutant may never answer; what it works out itself is never cut short by this. */
const waitLimit = (cleanMs: number): number => 3_000 + 10 * cleanMs;

const tooLate = (limitMs: number): Promise<string> =>
  new Promise((resolve) => realTimeout(() => resolve("waited for what never came"), limitMs).unref());

async function failureOf(test: NotedTest): Promise<string | null> {
  try {
    await test.run();
    return null;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
