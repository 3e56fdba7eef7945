/**
 * Time that stands still until a test moves it: what `vi.useFakeTimers()` is to the few tests that need it. Timers run in
 * the order of their time, and what they promise is waited for before the next one.
 */
interface Timer {
  readonly at: number;
  readonly every: number | null;
  readonly run: () => void;
}

const REAL = {
  setTimeout: globalThis.setTimeout,
  clearTimeout: globalThis.clearTimeout,
  setInterval: globalThis.setInterval,
  clearInterval: globalThis.clearInterval,
  Date: globalThis.Date,
};

/** Lets everything run that only waits for promises. */
const settled = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

export function fakeTimers() {
  let now = REAL.Date.now();
  let next = 1;
  const timers = new Map<number, Timer>();
  const add = (run: () => void, delay = 0, every: number | null = null): number => {
    timers.set(next, { at: now + Math.max(0, delay), every, run });
    return next++;
  };
  const drop = (id: number | undefined): void => void (id !== undefined && timers.delete(id));
  return {
    use(): void {
      Object.assign(globalThis, {
        setTimeout: (run: () => void, delay?: number) => add(run, delay),
        clearTimeout: drop,
        setInterval: (run: () => void, delay = 1) => add(run, delay, Math.max(1, delay)),
        clearInterval: drop,
        Date: class extends REAL.Date {
          constructor(...values: readonly unknown[]) {
            super(...((values.length === 0 ? [now] : values) as [number]));
          }
          static override now = (): number => now;
        },
      });
    },
    stop(): void {
      timers.clear();
      Object.assign(globalThis, REAL);
    },
    async advance(by: number): Promise<void> {
      const end = now + by;
      await settled();
      for (;;) {
        const [due] = [...timers].filter(([, { at }]) => at <= end).sort(([, a], [, b]) => a.at - b.at);
        if (!due) break;
        const [id, { at, every, run }] = due;
        now = at;
        if (every === null) timers.delete(id);
        else timers.set(id, { at: at + every, every, run });
        run();
        await settled();
      }
      now = end;
    },
  };
}
