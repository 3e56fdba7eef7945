/** Where the user looked before: back and forward through focuses, as a browser does through pages. */
import type { AppState, Focus } from "./contract.ts";
import { app, type AppStore } from "./store.ts";

const MOST = 100;

export interface Views {
  canGo(by: 1 | -1): boolean;
  go(by: 1 | -1): void;
}

export function followViews(store: AppStore): Views {
  let seen: readonly Focus[] = [];
  let at = -1;
  let travelling = false;

  store.subscribe((state: AppState, before: AppState) => {
    if (state.show.id !== before.show.id) {
      seen = [];
      at = -1;
    }
    if (travelling || state.focus === before.focus || state.focus === null) return;
    seen = [...seen.slice(0, at + 1), state.focus].slice(-MOST);
    at = seen.length - 1;
  });

  const canGo = (by: 1 | -1): boolean => seen[at + by] !== undefined;
  return {
    canGo,
    go(by) {
      if (!canGo(by)) return;
      at += by;
      travelling = true;
      store.getState().look(seen[at]!, true);
      travelling = false;
    },
  };
}

export const views: Views = followViews(app);
