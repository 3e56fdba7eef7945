/**
 * Keeps a copy of unsaved work with the host: soon after an edit, and at least every few seconds while edits go on. What
 * is being typed counts as an edit, as it does in a file that is saved.
 */
import { saveShow, type HostApi } from "#engine";
import type { AppStore } from "../state/store.ts";
import { typing } from "../state/typing.ts";
import type { Unfinished } from "./unfinished.ts";

/** Quiet for this long after an edit, then the copy is written. */
export const QUIET_MS = 700;
/** While edits go on without a pause, a copy is written at least this often. */
export const LONGEST_MS = 4_000;

/** And this long it may wait for a moment in which the window has nothing else to do. */
const IDLE_MS = 250;

export interface RecoveryKeeper {
  /** Writes the copy now if one is due, for closing windows and crashes. False: it could not be written. */
  flush(): Promise<boolean>;
  stop(): void;
}

export function keepRecovery(
  host: HostApi,
  app: AppStore,
  onProblem: (line: string) => void,
  unfinished: Unfinished = { now: () => null, subscribe: () => () => {} },
): RecoveryKeeper {
  let timer: ReturnType<typeof setTimeout> | undefined;
  /** When the oldest edit without a copy was made. */
  let since: number | null = null;
  /** The copy has more than the document: what was being typed, or is unfinished. */
  let more = false;
  let writing: Promise<boolean> = Promise.resolve(true);
  let complained = false;

  /** The copy has what the document hasn't. */
  const hasMore = (): boolean => typing.getState().take !== null || unfinished.now() !== null;

  const unsubscribe = [
    app.subscribe((state, before) => {
      const sameShow = state.show.id === before.show.id;
      if (sameShow && state.revision === before.revision && state.modified === before.modified) return;
      if (!sameShow) more = false;
      if (state.modified || (sameShow && hasMore())) return soon();
      clearTimeout(timer);
      since = null;
      more = false;
      // Saved, or undone back to what the file holds: a copy would offer something that nobody misses.
      if (before.modified && sameShow) void host.dropRecovery(state.show.id);
    }),
    // What is taken back, or an edit by now, the copy still has.
    typing.subscribe(({ take }) => (take || more) && soon()),
    unfinished.subscribe(() => (unfinished.now() !== null || more) && soon()),
  ];

  function soon(): void {
    const now = Date.now();
    since ??= now;
    clearTimeout(timer);
    timer = setTimeout(whenIdle, Math.max(0, Math.min(QUIET_MS, since + LONGEST_MS - now)));
  }

  /** Between two frames: a large show takes longer to write out than one frame has. */
  function whenIdle(): void {
    if (typeof requestIdleCallback === "undefined") void flush();
    else requestIdleCallback(() => void flush(), { timeout: IDLE_MS });
  }

  function flush(): Promise<boolean> {
    clearTimeout(timer);
    writing = writing.then(write);
    return writing;
  }

  async function write(): Promise<boolean> {
    const { show, file, modified, rehearse } = app.getState();
    if (since === null) return true;
    since = null;
    const { take } = typing.getState();
    const withTyped = take ? rehearse(take) : show;
    const begun = unfinished.now();
    const had = more;
    more = withTyped !== show || begun !== null;
    if (!modified && !more) {
      if (had) await host.dropRecovery(show.id);
      return true;
    }
    const written = await host.writeRecovery({
      showId: show.id,
      title: show.title,
      path: file.path,
      // A file that has all of the show may be a newer one by the time that the copy is looked at.
      text: modified || withTyped !== show || file.path === null ? saveShow(withTyped) : "",
      unfinished: begun,
    });
    // Once: the same line every few seconds would only be in the way.
    if (!written.ok && !complained) {
      complained = true;
      onProblem(`No recovery copy could be written, so save often. ${written.error.message}`);
    } else if (written.ok) complained = false;
    // Saved or given up while the copy was on its way: it would offer work that nobody misses.
    const now = app.getState();
    if (now.show.id !== show.id || !(now.modified || hasMore())) await host.dropRecovery(show.id);
    return written.ok;
  }

  return {
    flush,
    stop() {
      clearTimeout(timer);
      for (const stop of unsubscribe) stop();
    },
  };
}
