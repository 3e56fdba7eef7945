/** What the canvas knows of itself while it is on screen: neither document nor focus. */
import { createStore, useStore } from "zustand";
import type { CableEnd, CableId, DeviceId, GroupId, Offer, PlaceId, Point } from "#engine";
import type { Rect } from "#engine/layout/geometry.ts";
import { levelAt, type Level } from "./level.ts";
import type { Moves } from "./moves.ts";

/** What the pointer is over. Text is worked out by whoever shows it. */
export type Hovered =
  | { readonly kind: "device"; readonly device: DeviceId }
  | { readonly kind: "group"; readonly device: DeviceId; readonly group: GroupId }
  | {
      readonly kind: "cells";
      readonly device: DeviceId;
      /** Place of the span in the device's layout. */
      readonly span: number;
      readonly first: number;
      readonly last: number;
    }
  | { readonly kind: "cable"; readonly cable: CableId };

/** Where the keyboard is within a device. */
export interface Cursor {
  readonly device: DeviceId;
  /** Null: on the device as a whole. */
  readonly at: { readonly span: number; readonly first: number; readonly last: number } | null;
}

/** A cable in hand: the end that is plugged already, and what it may go to. */
export interface Cabling {
  readonly from: CableEnd;
  /** A cable that is being plugged elsewhere, and which of its ends. Null: a new one. */
  readonly moving: { readonly cable: CableId; readonly side: 0 | 1 } | null;
  readonly offers: ReadonlyMap<DeviceId, ReadonlyMap<GroupId, Offer>>;
  /** On the page. */
  readonly start: Point;
  readonly at: Point;
  /** What the pointer is over; null: nothing that a cable goes in. */
  readonly over: { readonly text: string; readonly fits: boolean } | null;
}

/** A block that is dragged to where its signals should be, in pixels of the page. */
export interface Carrying {
  readonly start: Point;
  readonly at: Point;
  /** What a drop there would take; null over nothing that signals can be brought to. */
  readonly over: { readonly text: string; readonly fits: boolean } | null;
}

export interface ViewState {
  readonly level: Level;
  readonly hovered: { readonly what: Hovered; readonly at: Point } | null;
  readonly cursor: Cursor | null;
  /** Devices that are being dragged or moved by keys: their cables show a preview. */
  readonly moving: ReadonlySet<DeviceId>;
  /** Where they stand meanwhile; the document hears of it at the drop. */
  readonly moves: Moves | null;
  /** Nodes gathered to be moved together. */
  readonly selected: ReadonlySet<string>;
  /** The place whose name was pressed last; until something else is looked at. */
  readonly place: PlaceId | null;
  /** A place whose border is being dragged. */
  readonly resizing: { readonly place: PlaceId; readonly rect: Rect } | null;
  readonly cabling: Cabling | null;
  readonly carrying: Carrying | null;
  readonly legend: boolean;
  /** The first picture stands. What only a pointer finds comes after it. */
  readonly settled: boolean;
}

export const NOTHING_MOVES: ReadonlySet<DeviceId> = new Set();

export const view = createStore<ViewState>(() => ({
  level: levelAt(0.5, null),
  hovered: null,
  cursor: null,
  moving: NOTHING_MOVES,
  moves: null,
  selected: new Set(),
  place: null,
  resizing: null,
  cabling: null,
  carrying: null,
  legend: false,
  settled: false,
}));

export function useView<Part>(select: (state: ViewState) => Part): Part {
  return useStore(view, select);
}

export const useLevel = (): Level => useView(({ level }) => level);

export function noteZoom(zoom: number): Level {
  const { level } = view.getState();
  const next = levelAt(zoom, level);
  if (next !== level) view.setState({ level: next });
  return next;
}
