/** The canvas by keys: from device to device, into one, along a cable, and moving. */
import type { ReactFlowInstance } from "@xyflow/react";
import { freeFrom, type DeviceId, type Point } from "#engine";
import { app } from "../state/store.ts";
import { ui } from "../state/ui.ts";
import { focusOf } from "./aim.ts";
import type { CableFlowEdge } from "./CableEdge.tsx";
import type { FlowNode } from "./elements.ts";
import { GRID, nodeGeometry, type Rect } from "#engine/layout/geometry.ts";
import { looksOf } from "./looks.ts";
import { glide } from "./motion.ts";
import { movesOf, type Moves } from "./moves.ts";
import { placeKeys } from "./place-keys.ts";
import { sizeOf, typesOf } from "#engine/layout/scene.ts";
import { NOTHING_MOVES, view, type Cursor } from "./view.ts";
import { ARROWS, nearest, readingOrder, sameSpot, spotsOf, type Direction } from "./walk.ts";

const STEPS: Readonly<Record<Direction, Point>> = {
  left: { x: -GRID, y: 0 },
  right: { x: GRID, y: 0 },
  up: { x: 0, y: -GRID },
  down: { x: 0, y: GRID },
};

export interface KeyHandlers {
  readonly onKeyDown: (event: React.KeyboardEvent) => void;
  readonly onKeyUp: (event: React.KeyboardEvent) => void;
  readonly onBlur: () => void;
  readonly onFocus: (event: React.FocusEvent) => void;
}

/** Made once for a canvas: what goes on over several key presses is kept in here. */
export function keyHandlers(flow: ReactFlowInstance<FlowNode, CableFlowEdge>): KeyHandlers {
  /** A run of moves by key: where its devices stood, how far it has come. Written down as one step when it ends. */
  let run: { readonly from: ReadonlyMap<string, Point>; by: Point; moves: Moves } | null = null;

  const places = placeKeys();

  const endRun = (keep = true): void => {
    places.end(keep);
    if (!run) return;
    const { moves } = run;
    run = null;
    if (keep) app.getState().change(moves.change, moves.label);
    view.setState({ moving: NOTHING_MOVES, moves: null });
  };

  const moveBy = (device: DeviceId, step: Point): void => {
    const { show } = app.getState();
    if (!run) {
      const { selected } = view.getState();
      const ids = selected.has(device) ? selected : new Set<string>([device]);
      const from = new Map<string, Point>(
        show.devices.filter(({ id }) => ids.has(id)).map(({ id, at }) => [id, at]),
      );
      view.setState({ moving: new Set([...from.keys()] as DeviceId[]) });
      run = { from, by: { x: 0, y: 0 }, moves: movesOf(show, from) };
    }
    run.by = { x: run.by.x + step.x, y: run.by.y + step.y };
    const { by } = run;
    run.moves = movesOf(
      show,
      new Map([...run.from].map(([id, { x, y }]) => [id, { x: x + by.x, y: y + by.y }])),
    );
    view.setState({ moves: run.moves });
  };

  const boxes = (): ReadonlyMap<DeviceId, Rect> => {
    const { show } = app.getState();
    const types = typesOf(show);
    return new Map(show.devices.map((device) => [device.id, { ...device.at, ...sizeOf(types, device) }]));
  };

  /** Pans where the device lies outside, so that the node is there to take the page's focus. */
  const bringIntoView = (device: DeviceId): void => {
    const box = boxes().get(device);
    const page = document.querySelector(".canvas")?.getBoundingClientRect();
    if (!box || !page) return;
    const { x, y, zoom } = flow.getViewport();
    const left = box.x * zoom + x;
    const top = box.y * zoom + y;
    const inside =
      left >= 0 &&
      top >= 0 &&
      left + box.width * zoom <= page.width &&
      top + box.height * zoom <= page.height;
    // A glide that is still under way would take it out of view again.
    if (inside) return void flow.setViewport(flow.getViewport());
    void flow.setCenter(box.x + box.width / 2, box.y + box.height / 2, { zoom, ...glide(160) });
  };

  const goTo = (cursor: Cursor): void => {
    view.setState({ cursor, place: null });
    bringIntoView(cursor.device);
  };

  const goInto = (device: DeviceId): void => {
    const look = looksOf(app.getState().analysis).devices.get(device);
    if (!look) return;
    if (view.getState().level.depth === "far")
      void flow.fitView({ nodes: [{ id: device }], padding: 0.1, maxZoom: 1, ...glide(200) });
    const [first] = spotsOf(nodeGeometry(look.type), look.spans, false);
    if (first) view.setState({ cursor: { device, at: first[0] } });
  };

  const walkWithin = (cursor: Cursor, direction: Direction): void => {
    const look = looksOf(app.getState().analysis).devices.get(cursor.device);
    if (!look || !cursor.at) return;
    const single = view.getState().level.depth === "near";
    const spots = spotsOf(nodeGeometry(look.type), look.spans, single);
    const { at } = cursor;
    // After a change of depth the cursor may stand on a block among cells, or the other way round.
    const here =
      spots.find(([spot]) => sameSpot(spot, at)) ??
      spots.find(([spot]) => spot.span === at.span && spot.first <= at.first && at.first <= spot.last);
    if (!here) return;
    const next = nearest(
      here[1],
      spots.filter(([spot]) => spot !== here[0]),
      direction,
    );
    if (next) view.setState({ cursor: { device: cursor.device, at: next } });
  };

  /** The cable that is plugged where the cursor stands, followed to its other end. */
  const alongCable = (cursor: Cursor): void => {
    const { show, analysis, look: lookAt } = app.getState();
    const looks = looksOf(analysis);
    const here = looks.devices.get(cursor.device);
    const span = cursor.at ? here?.spans[cursor.at.span]?.span : undefined;
    const group = span && (span.side === "jack" ? span.bank.id : span.side === "bus" ? null : span.port.id);
    for (const cable of show.cables) {
      const end = cable.ends.findIndex(
        (one) =>
          one.device === cursor.device &&
          (!cursor.at ||
            (one.group === group &&
              (span?.side !== "jack" ||
                (one.first <= cursor.at.last && one.first + cable.ways - 1 >= cursor.at.first)))),
      );
      if (end < 0) continue;
      const far = cable.ends[1 - end]!;
      const there = looks.devices.get(far.device);
      lookAt({ kind: "cable", cable: cable.id });
      const at =
        there &&
        spotsOf(nodeGeometry(there.type), there.spans, false).find(([spot]) => {
          const one = there.spans[spot.span]!.span;
          const id = one.side === "jack" ? one.bank.id : one.side === "bus" ? null : one.port.id;
          return id === far.group && spot.last >= far.first;
        });
      return goTo({ device: far.device, at: at?.[0] ?? null });
    }
  };

  /** Gathers the device, or lets go of it: the next command is about all that are gathered. */
  const gather = (device: DeviceId): void => {
    const selected = new Set(view.getState().selected);
    if (!selected.delete(device)) selected.add(device);
    view.setState({ selected, place: null });
  };

  /** Lists what the port or jack under the cursor can be plugged in; on a device as a whole, first its ends. */
  const plugAt = ({ device, at }: Cursor): void => {
    const span = at ? looksOf(app.getState().analysis).devices.get(device)?.spans[at.span]?.span : undefined;
    if (!at || !span || span.side === "bus") {
      return ui.setState({ dialog: { kind: "plug", from: device, moving: null } });
    }
    const { show } = app.getState();
    const end =
      span.side === "jack"
        ? { device, group: span.bank.id, first: Math.ceil(at.first / span.bank.perJack) }
        : { device, group: span.port.id, first: 1 };
    // A block stands for its first free jack.
    const from = at.first === at.last ? end : freeFrom(show, end);
    ui.setState({ dialog: { kind: "plug", from, moving: null } });
  };

  const firstDevice = (): DeviceId | undefined => readingOrder(boxes())[0];

  const onKeyDown = (event: React.KeyboardEvent): void => {
    if (event.defaultPrevented || event.altKey) return;
    if (event.target instanceof Element && event.target.closest("button, input, .legend")) return;
    const { cursor, place } = view.getState();
    const direction = ARROWS[event.key];
    const command = event.ctrlKey || event.metaKey;
    if (direction && place !== null && event.shiftKey !== command) {
      event.preventDefault();
      return places.press(place, STEPS[direction], command ? "resize" : "move");
    }
    if (event.key !== "Shift" && event.key !== "Control" && event.key !== "Meta")
      places.end(event.key !== "Escape");
    if (run && !(direction && event.shiftKey)) endRun(event.key !== "Escape");
    if (direction && !command) {
      event.preventDefault();
      if (!cursor) {
        const device = firstDevice();
        if (device) goTo({ device, at: null });
      } else if (event.shiftKey) moveBy(cursor.device, STEPS[direction]);
      else if (cursor.at) walkWithin(cursor, direction);
      else {
        const all = boxes();
        const from = all.get(cursor.device);
        const next =
          from &&
          nearest(
            from,
            [...all].filter(([id]) => id !== cursor.device),
            direction,
          );
        if (next) goTo({ device: next, at: null });
      }
      return;
    }
    if (command) return;
    switch (event.key) {
      case " ":
        if (!cursor) return;
        event.preventDefault();
        if (cursor.at) return app.getState().look(focusOf(cursor.device, cursor.at, null));
        return gather(cursor.device);
      case "p":
      case "P":
        if (!cursor) return;
        event.preventDefault();
        return plugAt(cursor);
      case "Enter":
        if (!cursor) return;
        event.preventDefault();
        app.getState().look(focusOf(cursor.device, cursor.at, null));
        if (!cursor.at) goInto(cursor.device);
        return;
      case "c":
      case "C":
        if (!cursor) return;
        event.preventDefault();
        return alongCable(cursor);
      case "Tab": {
        if (!cursor) return;
        const order = readingOrder(boxes());
        const next = order[order.indexOf(cursor.device) + (event.shiftKey ? -1 : 1)];
        // Past the last one the Tab key leaves the canvas as it does everywhere.
        if (!next) return view.setState({ cursor: null });
        event.preventDefault();
        return goTo({ device: next, at: null });
      }
      case "Escape":
        if (cursor?.at) {
          event.preventDefault();
          return view.setState({ cursor: { device: cursor.device, at: null } });
        }
        if (app.getState().focus || view.getState().selected.size > 0) {
          event.preventDefault();
          view.setState({ selected: new Set(), place: null });
          app.getState().look(null);
        }
    }
  };

  return {
    onKeyDown,
    onKeyUp: (event) => {
      if (["Shift", "Control", "Meta"].includes(event.key)) endRun();
    },
    onBlur: () => endRun(),
    onFocus: (event) => {
      // Whatever takes the page's focus, by pointer or by a screen reader, is where the keys go on from.
      const id = event.target.classList.contains("react-flow__node-device")
        ? event.target.getAttribute("data-id")
        : null;
      const { cursor } = view.getState();
      if (id && cursor?.device !== id) view.setState({ cursor: { device: id as DeviceId, at: null } });
    },
  };
}
