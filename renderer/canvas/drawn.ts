/** Routes, bars and plugs of a show. Pure: the page makes them after an edit, the worker for a file that it reads. */
import { createStore } from "zustand/vanilla";
import type { DeviceId, Show } from "#engine";
import { placeBars, type BarPlace } from "#engine/layout/router/bars.ts";
import { routeScene, type Routed } from "#engine/layout/router/router.ts";
import { sameScene, sceneOf } from "#engine/layout/scene.ts";
import { barSizes, plugsOf, type Plug } from "./rig.ts";
import type { WayCounts } from "./ways.ts";

export interface Drawn {
  readonly show: Show["id"];
  readonly routed: Routed;
  readonly bars: ReadonlyMap<string, BarPlace>;
  readonly waysKey: string;
  readonly plugs: ReadonlyMap<DeviceId, readonly Plug[]>;
}

/** `last`: of the same show, before. What an edit leaves alone stays where it was. */
export function drawnAfter(last: Drawn | null, show: Show, ways: WayCounts): Drawn {
  const scene = sceneOf(show);
  const waysKey = JSON.stringify([...ways]);
  const sceneStays = last !== null && sameScene(last.routed.scene, scene);
  if (sceneStays && last.waysKey === waysKey) return last;
  const routed = sceneStays ? last.routed : routeScene(scene, last?.routed ?? null);
  const bars = placeBars(
    scene,
    routed.routes,
    barSizes(ways),
    last && last.waysKey === waysKey ? { routes: last.routed.routes, bars: last.bars } : null,
  );
  const plugs = plugsOf(show, routed.routes, last?.plugs ?? new Map());
  return { show: show.id, routed, bars, waysKey, plugs };
}

/** What is drawn of a show while the worker looks for the ways of its cables: its devices. */
export const nothingYet = (show: Show["id"]): Drawn => ({
  show,
  routed: { scene: { boxes: [], wires: [] }, routes: new Map(), searched: 0, ways: new Map() },
  bars: new Map(),
  waysKey: "",
  plugs: new Map(),
});

/** The ways that the worker is at work on, or has found. Null: none, and the page looks for its own. */
export interface Coming {
  readonly show: Show;
  readonly drawn: Drawn;
  readonly found: boolean;
}

export const coming = createStore<{ readonly now: Coming | null }>(() => ({ now: null }));

export const awaitDrawn = (show: Show): void =>
  coming.setState({ now: { show, drawn: nothingYet(show.id), found: false } });

export function noteDrawn(drawn: Drawn): void {
  const { now } = coming.getState();
  if (now?.show.id === drawn.show) coming.setState({ now: { show: now.show, drawn, found: true } });
}

/** Where no ways will come any more. */
export const giveUpDrawn = (): void => coming.setState({ now: null });
