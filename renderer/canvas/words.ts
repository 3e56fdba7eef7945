/** What the canvas says of things, on screen and to a screen reader; all in one place. */
import { CABLES, VERDICT_NAMES, type DeviceId } from "#engine";
import type { Owners } from "../theme/owners.ts";
import { rangeName, type CableLook, type DeviceLook, type SpanLook, type WayLook } from "./looks.ts";

export const WORDS = {
  canvas: "Rig: devices and cables",
  help:
    "Arrow keys go from device to device. Enter looks at a device and goes into its ports and jacks, where arrow keys " +
    "go from one to the next and Enter looks at its signal. C goes along the cable to its other end. P lists what a port " +
    "or jack can be plugged in. Space gathers devices for what comes next, Delete takes them out. Shift and arrow keys " +
    "move the device. A place is gone to from the list of places; then Shift and arrow keys move it, Control and arrow " +
    "keys resize it. The context menu key lists what can be done. Escape goes back out and ends a look.",
  zoomIn: "Zoom in",
  zoomOut: "Zoom out",
  fit: "Fit the whole rig",
  fitLit: "Fit what is lit",
  legend: "Legend",
} as const;

const count = (number: number, one: string, many: string): string => `${number} ${number === 1 ? one : many}`;

export function deviceName(look: DeviceLook): string {
  return [
    look.name,
    look.type.name,
    look.mode === null ? "" : `mode ${look.mode}`,
    look.position === null ? "" : `position ${look.position}`,
    look.rate ?? "",
    look.powered ? "" : "off",
    look.findings > 0 ? count(look.findings, "finding", "findings") : "",
  ]
    .filter(Boolean)
    .join(", ");
}

const ownerNames = (owners: Owners, ids: readonly DeviceId[]): string =>
  ids.map((id) => owners.get(id)?.name ?? id).join(" and ");

/** `Out 1–8, from Monitors`, `In 3, Snare top`, `Link A out 17, nothing assigned`. */
export function cellsName(owners: Owners, span: SpanLook, first: number, last: number): string {
  const name = `${span.name} ${rangeName(first, last)}`;
  if (first === last) {
    const cell = span.cells[first - 1];
    if (!cell) return name;
    const from = cell.owner === null ? "" : `from ${ownerNames(owners, [cell.owner])}`;
    const verdict = cell.verdict === "arrives" ? (cell.fed ? "" : "not in use") : VERDICT_NAMES[cell.verdict];
    return [name, cell.label ?? "", from, verdict].filter(Boolean).join(", ");
  }
  const cells = span.cells.slice(first - 1, last);
  const fed = cells.filter((cell) => cell.fed).length;
  const from = [...new Set(cells.flatMap(({ owner }) => (owner === null ? [] : [owner])))];
  const trouble = cells.filter((cell) => cell.trouble !== null).length;
  return [
    name,
    from.length > 0 ? `from ${ownerNames(owners, from)}` : fed > 0 ? "from the stage" : "unfed",
    fed > 0 && fed < cells.length ? `${fed} of ${cells.length} in use` : "",
    trouble > 0 ? `${trouble} dark` : "",
  ]
    .filter(Boolean)
    .join(", ");
}

export function wayName(owners: Owners, { cells }: WayLook): string {
  const from = [...new Set(cells.flatMap(({ owner }) => (owner === null ? [] : [owner])))];
  const fed = cells.filter((cell) => cell.fed).length;
  const stage = cells.some((cell) => cell.fed && cell.owner === null);
  const names = [from.length > 0 ? ownerNames(owners, from) : "", stage ? "the stage" : ""].filter(Boolean);
  return fed === 0
    ? `${cells.length} unfed`
    : `${fed} of ${cells.length} in use, from ${names.join(" and ")}`;
}

export const cableTitle = (look: CableLook): string => `${look.name}, ${CABLES[look.kind].name}`;
