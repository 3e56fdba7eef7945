/** What waits for a store. */
interface Watched<State> {
  getState(): State;
  subscribe(listener: () => void): () => void;
}

/** Runs at once, or when the store has come to a state that is `ready`; of several that wait each looks anew, in turn. */
export function when<State>(store: Watched<State>, ready: (state: State) => boolean, run: () => void): void {
  if (ready(store.getState())) return run();
  const stop = store.subscribe(() => {
    // Whoever waited before may have changed it again.
    if (!ready(store.getState())) return;
    stop();
    run();
  });
}
