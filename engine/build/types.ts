/** Device types on their way into a show: one that is there already is used, and no two get the same id. */
import { CATALOGUE } from "../catalog/types.ts";
import type { DeviceType } from "../model/device-type.ts";
import type { Edit } from "../model/edit.ts";
import { id, type TypeId } from "../model/ids.ts";
import { sameData } from "../model/same.ts";
import type { Show } from "../model/show.ts";
import { namerOf, type Namer } from "./names.ts";

/** Whether two types say the same, whatever their ids. */
const sameType = (a: DeviceType, b: DeviceType): boolean => sameData({ ...a, id: null }, { ...b, id: null });

/**
 * The show's own type that says the same, else the type itself, under another id where another type has that one; then
 * with the edit that puts it in the show.
 */
export function typeIn(
  show: Show,
  type: DeviceType,
  namer: Namer = namerOf(show),
): { readonly type: DeviceType; readonly edits: readonly Edit[] } {
  const there = show.types.find(({ id: own }) => own === type.id);
  const same = there && sameType(there, type) ? there : show.types.find((own) => sameType(own, type));
  if (same) return { type: same, edits: [] };
  const fresh = namer.id("types", type.id);
  const record = fresh === type.id ? type : { ...type, id: id<TypeId>(fresh) };
  return { type: record, edits: [{ kind: "put", list: "types", record }] };
}

/** Every type that a device can be made of: the show's own first, then those of the catalogue that it doesn't have. */
export function typesToAdd(show: Show): readonly DeviceType[] {
  const own = new Set<string>(show.types.map(({ id: each }) => each));
  return [...show.types, ...CATALOGUE.filter((type) => !own.has(type.id))];
}
