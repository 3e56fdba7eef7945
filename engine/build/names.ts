/**
 * New ids and new names. Both follow from the show alone, so that the same edit of the same show makes the same records:
 * a name with the lowest number that is free, an id made of the name.
 */
import type { ListName } from "../model/edit.ts";
import type { Show } from "../model/show.ts";

/** Labels that differ in case and outer space only are one label to a reader (F21). */
const label = (name: string): string => name.trim().toLowerCase();

/** The schema allows an id 64 characters; some are left for a number. */
const LONGEST_STEM = 48;
/** The schema allows a name 200 characters. */
export const LONGEST_NAME = 200;

/** Hands out ids and names that no record of the show has, each once. */
export interface Namer {
  /** An id that no record of the list has or, in a revision that is kept, has had. */
  id(list: ListName, stem: string): string;
  /** `wanted` itself where it is free, else with the next free number: `Stage left 2`, after `Wedge 3` `Wedge 4`. */
  name(kind: Named, wanted: string): string;
  /** The stem with the lowest free number: `Stage box 1`. */
  numbered(kind: Named, stem: string): string;
}

/** What people tell apart by a label. */
export type Named = "places" | "devices" | "sources" | "tags";

export function namerOf(show: Show): Namer {
  const ids = new Map<ListName, Set<string>>();
  const names = new Map<Named, Set<string>>();

  const idsOf = (list: ListName): Set<string> => {
    let taken = ids.get(list);
    if (taken) return taken;
    taken = new Set((show[list] ?? []).map(({ id }) => id));
    for (const { was } of show.revisions) for (const { id } of was?.[list] ?? []) taken.add(id);
    ids.set(list, taken);
    return taken;
  };
  const namesOf = (kind: Named): Set<string> => {
    let taken = names.get(kind);
    if (taken) return taken;
    const used = kind === "tags" ? show.cables.map(({ tag }) => tag) : show[kind].map(({ name }) => name);
    names.set(kind, (taken = new Set(used.map(label))));
    return taken;
  };
  const first = (taken: Set<string>, stem: string, from: number): string => {
    let number = from;
    while (taken.has(label(`${stem}${number}`))) number++;
    const found = `${stem}${number}`;
    taken.add(label(found));
    return found;
  };

  return {
    id(list, stem) {
      const taken = idsOf(list);
      const plain = slug(stem);
      if (!taken.has(plain)) {
        taken.add(plain);
        return plain;
      }
      let number = 2;
      while (taken.has(`${plain}-${number}`)) number++;
      const found = `${plain}-${number}`;
      taken.add(found);
      return found;
    },
    name(kind, wanted) {
      const taken = namesOf(kind);
      if (!taken.has(label(wanted))) {
        taken.add(label(wanted));
        return wanted;
      }
      const [, stem, number] = /^(.*?)(\d{1,6})$/s.exec(wanted) ?? [];
      if (stem !== undefined && number !== undefined) return first(taken, stem, Number(number) + 1);
      return first(taken, `${wanted.slice(0, LONGEST_NAME - 8)}${kind === "tags" ? "-" : " "}`, 2);
    },
    numbered: (kind, stem) => first(namesOf(kind), stem, 1),
  };
}

/** `Stage box 2` → `stage-box-2`; letters that an id can't have are left out. */
function slug(text: string): string {
  const plain = text
    .normalize("NFKD")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .slice(0, LONGEST_STEM)
    .replaceAll(/^-+|-+$/g, "");
  return plain || "new";
}
