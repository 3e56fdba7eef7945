/**
 * What others do to the file that is open here: another window has it, another program wrote it. Asked every few seconds
 * and whenever the user comes back to the window, so that it is known before anything is saved.
 */
import { createStore, useStore } from "zustand";
import { never, type FileNews, type HostApi } from "#engine";
import type { AppStore } from "../state/store.ts";

export const ASK_MS = 4_000;

export interface News extends FileNews {
  /** The news that the user put away, so that the same doesn't come up again; null: none. */
  readonly hidden: string | null;
}

const NONE: News = { others: 0, onDisk: { kind: "same" }, hidden: null };

export const news = createStore<News>(() => NONE);

export const useNews = (): News => useStore(news);

/** Tells two pieces of news apart; null: there is none. The file itself stands before who has it open. */
export function newsKey({ others, onDisk }: FileNews): string | null {
  switch (onDisk.kind) {
    case "changed":
      return `changed ${onDisk.at}`;
    case "gone":
      return "gone";
    case "same":
      return others > 0 ? "others" : null;
    default:
      return never(onDisk);
  }
}

export function hideNews(): void {
  news.setState((state) => ({ hidden: newsKey(state) }));
}

export interface FileWatch {
  /** Asks now. Resolves when the answer is in `news`. */
  ask(): Promise<void>;
  stop(): void;
}

export function watchFile(host: HostApi, app: AppStore, window: string): FileWatch {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let stopped = false;

  async function ask(): Promise<void> {
    clearTimeout(timer);
    const { path, stamp } = app.getState().file;
    const answer = await host.watchFile({ window, path, stamp });
    if (stopped) return;
    clearTimeout(timer);
    timer = setTimeout(() => void ask(), ASK_MS);
    const { file } = app.getState();
    // A save under way, or one that came between: what was compared is no longer what the window holds.
    if (!answer.ok || file.saving || file.path !== path || file.stamp !== stamp) return;
    const { hidden } = news.getState();
    const key = newsKey(answer.value);
    news.setState({ ...answer.value, hidden: key === null ? null : hidden });
  }

  const unsubscribe = app.subscribe(({ file }, before) => {
    if (file.path === before.file.path && file.stamp === before.file.stamp) return;
    news.setState(file.path === before.file.path ? { onDisk: { kind: "same" } } : NONE);
    void ask();
  });
  void ask();

  return {
    ask,
    stop() {
      stopped = true;
      clearTimeout(timer);
      unsubscribe();
      news.setState(NONE);
      void host.watchFile({ window, path: null, stamp: null });
    },
  };
}

const KEPT = "hopline.window";

/** The window's own name. A reload keeps it, so that the window doesn't take itself for another; a copied tab has its own. */
export function windowName(): string {
  const fresh = crypto.randomUUID();
  try {
    const [navigation] = performance.getEntriesByType("navigation") as PerformanceNavigationTiming[];
    const kept = navigation?.type === "reload" ? sessionStorage.getItem(KEPT) : null;
    const name = kept ?? fresh;
    sessionStorage.setItem(KEPT, name);
    return name;
  } catch {
    return fresh;
  }
}
