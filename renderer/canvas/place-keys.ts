/**
 * A place that was chosen, by keys: Shift and arrows move it with its devices, the command key and arrows move its right
 * and lower edge. A run of presses is written down as one step when it ends.
 */
import { resizedPlace, type PlaceId, type Point } from "#engine";
import { GRID, type Rect } from "#engine/layout/geometry.ts";
import { app } from "../state/store.ts";
import { step } from "./build.ts";
import { movesOf, type Moves } from "./moves.ts";
import { placeNodeId } from "./node-ids.ts";
import { NOTHING_MOVES, view } from "./view.ts";

type Run =
  | { readonly kind: "move"; readonly place: PlaceId; readonly to: Point; readonly moves: Moves }
  | { readonly kind: "resize"; readonly place: PlaceId; readonly rect: Rect };

export interface PlaceKeys {
  press(place: PlaceId, by: Point, kind: Run["kind"]): void;
  end(keep?: boolean): void;
}

export function placeKeys(): PlaceKeys {
  let run: Run | null = null;

  const end = (keep = true): void => {
    if (!run) return;
    const done = run;
    run = null;
    const { show, change } = app.getState();
    if (keep && done.kind === "move") change(done.moves.change, done.moves.label);
    if (keep && done.kind === "resize") {
      const name = show.places.find(({ id }) => id === done.place)?.name ?? "";
      step(resizedPlace(show, done.place, done.rect), `resizing ${name}`);
    }
    view.setState({ moving: NOTHING_MOVES, moves: null, resizing: null });
  };

  return {
    end,
    press(place, by, kind) {
      if (run && (run.kind !== kind || run.place !== place)) end();
      const { show } = app.getState();
      const found = show.places.find(({ id }) => id === place);
      if (!found) return;
      if (kind === "move") {
        const from = run?.kind === "move" ? run.to : found.at;
        const to = { x: from.x + by.x, y: from.y + by.y };
        const moves = movesOf(show, new Map([[placeNodeId(place), to]]));
        run = { kind, place, to, moves };
        const moving = new Set(show.devices.filter((each) => each.place === place).map(({ id }) => id));
        view.setState({ moving, moves });
      } else {
        const before: Rect = run?.kind === "resize" ? run.rect : { ...found.at, ...found.size };
        const rect = {
          ...before,
          width: Math.max(GRID, before.width + by.x),
          height: Math.max(GRID, before.height + by.y),
        };
        run = { kind, place, rect };
        view.setState({ resizing: { place, rect } });
      }
    },
  };
}
