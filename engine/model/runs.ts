/** Neighbouring numbers, `first … first + count - 1`. */
export interface Run {
  readonly first: number;
  readonly count: number;
}

/** Ascending numbers, each once, as runs of neighbours. */
export function runsIn(numbers: readonly number[]): readonly Run[] {
  const runs: { first: number; count: number }[] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last && last.first + last.count === number) last.count++;
    else runs.push({ first: number, count: 1 });
  }
  return runs;
}
