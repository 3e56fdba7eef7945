/** Runs jobs for the same key one after the other, in the order they came; jobs for different keys don't wait. */
export class KeyedQueue {
  readonly #tails = new Map<string, Promise<unknown>>();

  run<Value>(key: string, job: () => Promise<Value>): Promise<Value> {
    const before = this.#tails.get(key) ?? Promise.resolve();
    // A job that failed is its caller's business; the next one runs all the same.
    const result = before.then(job, job);
    const tail = result.catch(() => undefined);
    this.#tails.set(key, tail);
    void tail.then(() => {
      if (this.#tails.get(key) === tail) this.#tails.delete(key);
    });
    return result;
  }

  /** Resolves once nothing is running or waiting. */
  async idle(): Promise<void> {
    while (this.#tails.size > 0) await Promise.all(this.#tails.values());
  }
}
