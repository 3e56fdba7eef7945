/** The worker processes: each takes the next task when it is done with one. */
import { fork, type ChildProcess } from "node:child_process";
import type { Memory } from "./memory.ts";
import type { Mutant } from "./mutants.ts";
import { Order } from "./order.ts";
import type { KnownTest, Outcome } from "./runner.ts";
import type { Answer, Task } from "./worker.ts";

/** Cleanly run tests are few enough and short enough; this is for what no count of steps stops. */
const patience = (cleanMs: number): number => 30_000 + 10 * cleanMs;

export interface Program {
  /** The script that calls `work` when it finds `args`. */
  readonly script: string;
  readonly args: readonly string[];
  readonly jobs: number;
}

class Worker {
  readonly #program: Program;
  #child: ChildProcess | null = null;

  constructor(program: Program) {
    this.#program = program;
  }

  /** Null: the process ended, or was ended since it took too long. The next task gets a new one. */
  ask(task: Task, limitMs: number): Promise<Answer | null> {
    const child = (this.#child ??= fork(this.#program.script, this.#program.args, { execArgv: [] }));
    return new Promise((resolve) => {
      const done = (answer: Answer | null): void => {
        clearTimeout(timer);
        child.removeAllListeners();
        if (answer === null) this.stop();
        resolve(answer);
      };
      const timer = setTimeout(() => done(null), limitMs);
      child.once("message", (answer: Answer) => done(answer));
      child.once("exit", () => done(null));
      child.once("error", () => done(null));
      child.send(task);
    });
  }

  get isRunning(): boolean {
    return this.#child !== null;
  }

  stop(): void {
    this.#child?.kill("SIGKILL");
    this.#child = null;
  }
}

/** Gives every item to whichever worker is free. */
async function share<Item>(
  workers: readonly Worker[],
  items: readonly Item[],
  each: (worker: Worker, item: Item) => Promise<void>,
): Promise<void> {
  let next = 0;
  await Promise.all(
    workers.map(async (worker) => {
      while (next < items.length) await each(worker, items[next++]!);
    }),
  );
}

export class Pool {
  readonly #workers: readonly Worker[];
  readonly #memory: Memory;

  constructor(program: Program, memory: Memory) {
    this.#memory = memory;
    this.#workers = Array.from({ length: program.jobs }, () => new Worker(program));
  }

  /** Every test of the files on clean code. */
  async cover(files: readonly string[]): Promise<readonly KnownTest[]> {
    const byFile = new Map<string, readonly KnownTest[]>();
    await share(this.#workers, files, async (worker, file) => {
      const known = this.#memory.covered(file);
      if (known) return void byFile.set(file, known);
      const answer = await worker.ask({ kind: "cover", file }, 10 * 60_000);
      if (answer?.kind !== "covered") throw new Error(`${file} could not be run: ${whyOf(answer)}`);
      byFile.set(file, answer.tests);
      this.#memory.keepCovered(file, answer.tests);
    });
    return files.flatMap((file) => byFile.get(file)!);
  }

  async attempt(
    mutants: readonly Mutant[],
    tests: readonly KnownTest[],
    told: (mutant: Mutant, outcome: Outcome, reached: number) => void,
  ): Promise<void> {
    const order = new Order(tests, this.#memory.noticedBy, (file) => this.#memory.textOf(file));
    // What a test reaches is the order's business; the workers do without the long lists.
    const brief = tests.map((test) => ({ ...test, reached: {} }));
    for (const worker of this.#workers) worker.stop();
    await share(this.#workers, mutants, async (worker, mutant) => {
      const chosen = order.testsFor(mutant);
      if (chosen.length === 0) return told(mutant, { noticed: false }, 0);
      if (!worker.isRunning) await worker.ask({ kind: "tests", tests: brief }, 60_000);
      const limit = patience(chosen.reduce((sum, n) => sum + tests[n]!.ms, 0));
      const answer = await worker.ask({ kind: "attempt", mutant, tests: chosen }, limit);
      // A slip of ours: what isn't code tells nothing of the tests.
      if (answer?.kind === "broken") throw new Error(`${mutant.key} can't be tried: ${answer.why}`);
      const outcome: Outcome =
        answer?.kind === "attempted" ? answer.outcome : { noticed: true, by: "the clock", how: "endless" };
      if (outcome.noticed) {
        order.learn(mutant, outcome.by);
        this.#memory.keepNoticed(mutant.key, outcome.by);
      }
      told(mutant, outcome, chosen.length);
    });
  }

  stop(): void {
    for (const worker of this.#workers) worker.stop();
  }
}

const whyOf = (answer: Answer | null): string =>
  answer === null ? "the process ended" : answer.kind === "broken" ? answer.why : answer.kind;
