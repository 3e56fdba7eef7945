/** What the tests of building share: a blank show, edits applied, names told. */
import { analyse } from "#engine/analysis.ts";
import { applyEdits, type Edit } from "#engine/model/edit.ts";
import { id, type CableId, type DeviceId, type GroupId, type PlaceId } from "#engine/model/ids.ts";
import type { CableEnd, Show } from "#engine/model/show.ts";
import { rig, type RigText } from "../rigs/build.ts";

export const device = (text: string): DeviceId => id<DeviceId>(text);
export const place = (text: string): PlaceId => id<PlaceId>(text);
export const cable = (text: string): CableId => id<CableId>(text);

/** `box.out.3`: a device's bank or port, from a jack on. */
export function end(text: string): CableEnd {
  const [at, group, first = "1"] = text.split(".");
  return { device: device(at!), group: id<GroupId>(group!), first: Number(first) };
}

export const blank = (): Show => ({ ...rig({ devices: {} }), places: [], types: [] });

export const after = (show: Show, edits: readonly Edit[]): Show => applyEdits(show, edits);

/** Ids of the findings of a check. */
export const found = (show: Show, check: string): readonly string[] =>
  analyse(show)
    .findings.filter((finding) => finding.check === check)
    .map((finding) => finding.id);

export { rig, type RigText };
