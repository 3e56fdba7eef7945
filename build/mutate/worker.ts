/** One worker process: tries tests and mutants as it is told, one at a time. */
import type { Mutant } from "./mutants.ts";
import { isMutated, type RoomName } from "./project.ts";
import { Runner, type KnownTest, type Outcome } from "./runner.ts";

export type Task =
  | { readonly kind: "cover"; readonly file: string }
  /** The tests that `attempt` names by number. */
  | { readonly kind: "tests"; readonly tests: readonly KnownTest[] }
  | { readonly kind: "attempt"; readonly mutant: Mutant; readonly tests: readonly number[] };

export type Answer =
  | { readonly kind: "covered"; readonly tests: readonly KnownTest[] }
  | { readonly kind: "attempted"; readonly outcome: Outcome }
  | { readonly kind: "ready" }
  | { readonly kind: "broken"; readonly why: string };

export function work(root: string, room: RoomName): void {
  const runner = new Runner(root, (file) => isMutated(room, file));
  let known: readonly KnownTest[] = [];

  async function answer(task: Task): Promise<Answer> {
    switch (task.kind) {
      case "cover":
        return { kind: "covered", tests: await runner.cover(task.file) };
      case "tests":
        known = task.tests;
        return { kind: "ready" };
      case "attempt": {
        const tests = task.tests.map((n) => known[n]!);
        return { kind: "attempted", outcome: await runner.attempt(task.mutant, tests) };
      }
    }
  }

  process.on("message", (task: Task) => {
    answer(task)
      .catch((error: unknown): Answer => ({
        kind: "broken",
        why: error instanceof Error ? error.stack! : `${error}`,
      }))
      .then((told) => process.send?.(told))
      .catch(() => process.exit(1));
  });
  process.on("disconnect", () => process.exit());
}
