/** What a point or a spot of a device means at the present depth of zoom, and what looking at it shows. */
import { spanGroup, type DeviceId, type GroupId, type Point, type Terminal } from "#engine";
import type { Focus } from "../state/contract.ts";
import { app } from "../state/store.ts";
import { hitNode, nodeGeometry } from "#engine/layout/geometry.ts";
import { looksOf, terminalAt, type DeviceLook } from "./looks.ts";
import { view } from "./view.ts";
import type { Spot } from "./walk.ts";

const lookAt = (device: DeviceId): DeviceLook | undefined =>
  looksOf(app.getState().analysis).devices.get(device);

/** Null on the header, and anywhere far away: there a device is one thing. */
export function spotAt(
  device: DeviceId,
  { x, y }: Point,
): { readonly group: GroupId; readonly spot: Spot | null } | null {
  const look = lookAt(device);
  const { depth } = view.getState().level;
  if (!look || depth === "far") return null;
  const hit = hitNode(nodeGeometry(look.type), x, y);
  if (!hit) return null;
  const group = hit.group.id;
  if (!hit.cell) return { group, spot: null };
  const { number, at } = hit.cell;
  const span = look.spans.findIndex((one) => one.span === at.span);
  if (depth === "near") return { group, spot: { span, first: number, last: number } };
  const block = look.spans[span]?.blocks.find(({ first, last }) => first <= number && number <= last);
  return { group, spot: block ? { span, first: block.first, last: block.last } : null };
}

/** A spot is one terminal or a block; a group's label stands for all of it; else the device. */
export function focusOf(device: DeviceId, spot: Spot | null, group: GroupId | null): Focus {
  const look = lookAt(device);
  if (!look) return { kind: "device", device };
  if (spot) {
    const { span } = look.spans[spot.span]!;
    const terminals = range(spot.first, spot.last).map((number) => terminalAt(device, span, number));
    return terminals.length === 1
      ? { kind: "terminal", terminal: terminals[0]! }
      : { kind: "block", terminals };
  }
  const terminals = look.spans.flatMap(({ span, cells }): Terminal[] => {
    if (spanGroup(span) !== group) return [];
    // Of a port with hardly a slot in use, the empty ones would only hide what is lit.
    return range(1, span.count)
      .filter((number) => cells[number - 1]!.fed)
      .map((number) => terminalAt(device, span, number));
  });
  return terminals.length > 0 ? { kind: "block", terminals } : { kind: "device", device };
}

const range = (first: number, last: number): readonly number[] =>
  Array.from({ length: last - first + 1 }, (_, n) => first + n);
