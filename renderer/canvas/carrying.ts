/**
 * A block that is dragged from where its signals are to where they should be. What would have to be set stands by the
 * pointer all the way; the drop shows each setting, and nothing is made before the user says so.
 */
import { lineCountOf, noWayText, wayFor, type Analysis, type DeviceId, type Point } from "#engine";
import { blockOf, roleOf, terminalsOf, type Block } from "../routing/ends.ts";
import { followPointer, pageOf } from "../parts/follow-pointer.ts";
import { app } from "../state/store.ts";
import { ui } from "../state/ui.ts";
import { plural } from "../words/verdicts.ts";
import { runName } from "../words/names.ts";
import { focusOf, spotAt } from "./aim.ts";
import { panStage, stageAt } from "./stage.ts";
import { view } from "./view.ts";

/** The block of cells under a point of the page; null beside them, and far out, where there are none. */
function blockUnder(page: Point, analysis: Analysis): Block | null {
  const node = document.elementFromPoint(page.x, page.y)?.closest(".react-flow__node-device");
  const device = node?.getAttribute("data-id") as DeviceId | null | undefined;
  const record = analysis.show.devices.find(({ id }) => id === device);
  if (!record) return null;
  const at = stageAt(page);
  if (!at) return null;
  const found = spotAt(record.id, { x: at.x - record.at.x, y: at.y - record.at.y });
  const focus = found?.spot ? focusOf(record.id, found.spot, null) : null;
  if (focus?.kind === "terminal") return blockOf(analysis, [focus.terminal]);
  return focus?.kind === "block" ? blockOf(analysis, focus.terminals) : null;
}

/** What a drop on a block would take, in a line; worked out again only where the pointer comes to another block. */
function teller(
  analysis: Analysis,
  from: Block,
): (to: Block) => { readonly text: string; readonly fits: boolean } {
  const known = new Map<string, { readonly text: string; readonly fits: boolean }>();
  return (to) => {
    const key = JSON.stringify(to);
    let told = known.get(key);
    if (!told) known.set(key, (told = tell(analysis, from, to)));
    return told;
  };
}

function tell(analysis: Analysis, from: Block, to: Block): { readonly text: string; readonly fits: boolean } {
  const count = Math.min(from.count, to.count);
  const sources = terminalsOf(analysis, from.end, count);
  const targets = terminalsOf(analysis, to.end, count);
  const way = wayFor(analysis, sources, targets);
  if (way.kind === "none") return { text: noWayText(analysis.wiring, way), fits: false };
  const what = `${runName(analysis, sources)} to ${runName(analysis, targets)}`;
  const lines = lineCountOf(way);
  if (lines === 0) return { text: `${what}: set already`, fits: true };
  const loses = way.disturbed.length;
  const hurt =
    loses > 0 ? `, ${plural(loses, "jack or channel loses", "jacks and channels lose")} what it has` : "";
  return { text: `${what}: ${plural(lines, "setting", "settings")}${hurt}`, fits: true };
}

const EDGE = 44;
const PUSH = 14;

/** How far the view moves in a frame while the pointer is so near to the canvas's edge. */
function edgePush({ x, y }: Point): Point {
  const box = document.querySelector(".canvas")?.getBoundingClientRect();
  if (!box) return { x: 0, y: 0 };
  const along = (at: number, low: number, high: number): number =>
    at < low + EDGE ? -PUSH : at > high - EDGE ? PUSH : 0;
  return { x: along(x, box.left, box.right), y: along(y, box.top, box.bottom) };
}

/** How long a finger rests on a block to pick it up; before that it moves the device, as everywhere else on it. */
const REST_MS = 350;
/** Pixels that a resting finger may stray. */
const STRAY = 10;

/**
 * Begins on cells that signals can be taken from, at the depths that show them; elsewhere a drag moves the device, and this
 * does nothing. Mouse and pen carry at once, a finger once it has rested there. Goes on at the window until the button or
 * finger is lifted, or Escape is pressed.
 */
export function carryBlock(event: React.PointerEvent): void {
  if (event.button !== 0 || event.shiftKey || event.metaKey || event.ctrlKey || event.altKey) return;
  const { analysis } = app.getState();
  const from = blockUnder(pageOf(event), analysis);
  if (!from || roleOf(analysis, from) !== "from") return;
  if (event.pointerType === "touch") {
    // Nor does the menu come up, which a resting finger asks for elsewhere.
    event.preventDefault();
    afterRest(event, () => carry(event, analysis, from));
    return;
  }
  // The library would take the pointer to move the device.
  event.preventDefault();
  event.stopPropagation();
  carry(event, analysis, from);
}

/** Runs `begin` where the finger rests; not where it moves, is lifted, or another one comes to pinch. */
function afterRest(down: React.PointerEvent, begin: () => void): void {
  const start = pageOf(down);
  const { pointerId } = down;
  const rested = setTimeout(() => {
    stop();
    begin();
  }, REST_MS);
  const onMove = (event: PointerEvent): void => {
    const at = pageOf(event);
    if (event.pointerId === pointerId && Math.hypot(at.x - start.x, at.y - start.y) > STRAY) stop();
  };
  // This press itself is still on its way to the window.
  const onDown = (event: PointerEvent): void => void (event.pointerId !== pointerId && stop());
  const stop = (): void => {
    clearTimeout(rested);
    window.removeEventListener("pointermove", onMove);
    window.removeEventListener("pointerdown", onDown);
    window.removeEventListener("pointerup", stop);
    window.removeEventListener("pointercancel", stop);
  };
  window.addEventListener("pointermove", onMove);
  window.addEventListener("pointerdown", onDown);
  window.addEventListener("pointerup", stop);
  window.addEventListener("pointercancel", stop);
}

/**
 * Keeps the moves of a finger from the library, which follows it by touch events and would move the device. It hears of the
 * end, and that of a drag is no press.
 */
function keepTouches(moved: () => boolean): () => void {
  const onMove = (event: TouchEvent): void => {
    event.preventDefault();
    event.stopImmediatePropagation();
  };
  const onEnd = (event: TouchEvent): void => {
    if (moved()) event.preventDefault();
  };
  const options = { capture: true, passive: false };
  window.addEventListener("touchmove", onMove, options);
  window.addEventListener("touchend", onEnd, options);
  return () => {
    window.removeEventListener("touchmove", onMove, options);
    // The end of the touch comes after that of the pointer.
    setTimeout(() => window.removeEventListener("touchend", onEnd, options));
  };
}

function carry(event: React.PointerEvent, analysis: Analysis, from: Block): void {
  const start = pageOf(event);
  const told = teller(analysis, from);
  const dropAt = (page: Point): Block | null => {
    const to = blockUnder(page, analysis);
    return to && roleOf(analysis, to) === "to" ? to : null;
  };
  // Near the edge the view goes on by itself, since both ends seldom stand in it at a depth that shows blocks.
  let panning = 0;
  let origin = start;
  const pan = (at: Point): void => {
    cancelAnimationFrame(panning);
    const by = edgePush(at);
    if (by.x === 0 && by.y === 0) return;
    panning = requestAnimationFrame(() => {
      panStage(by);
      origin = { x: origin.x - by.x, y: origin.y - by.y };
      const { carrying } = view.getState();
      if (carrying) view.setState({ carrying: { ...carrying, start: origin } });
      pan(at);
    });
  };
  let moved = false;
  const touches = event.pointerType === "touch";
  const letTouches = touches ? keepTouches(() => moved) : () => {};
  // A finger hides what it is on, so it is said that it has the block.
  if (touches) {
    const text = `${runName(analysis, terminalsOf(analysis, from.end, from.count))}: drag it to where it should be`;
    view.setState({ carrying: { start, at: start, over: { text, fits: true } }, hovered: null });
  }
  followPointer(event, {
    move(at) {
      moved = true;
      pan(at);
      const to = dropAt(at);
      view.setState({ carrying: { start: origin, at, over: to ? told(to) : null }, hovered: null });
    },
    drop(at) {
      const to = dropAt(at);
      if (to) ui.setState({ dialog: { kind: "route", from, to } });
    },
    end() {
      cancelAnimationFrame(panning);
      letTouches();
      view.setState({ carrying: null });
    },
  });
}
