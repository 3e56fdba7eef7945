/** Search by whatever a thing is called: every word of the query stands in its name, the best fit first. */
import { called, deviceName, fullName, kindOf, type Rig } from "./rig.ts";

/** Of things that fit alike, what stands on stage comes first. */
const ORDER = { source: 0, out: 1, in: 2, device: 3, tap: 4, channel: 5 } as const;

export type Hit =
  | { readonly kind: "node"; readonly node: number }
  | { readonly kind: "device"; readonly device: number };

interface Entry {
  readonly hit: Hit;
  readonly name: string;
  readonly all: string;
  readonly order: number;
}

const plain = (text: string): string =>
  text
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll(/[\s·.:/,;]+/g, " ")
    .trim();

/** Things that can be looked for. Slots of links are found on the way of a trace and not by name. */
export function indexOf(rig: Rig): readonly Entry[] {
  const entries: Entry[] = rig.data.devices.map((_, device) => {
    const name = plain(deviceName(rig, device));
    return { hit: { kind: "device", device }, name, all: name, order: ORDER.device };
  });
  for (let node = 0; node < rig.count; node++) {
    const name = called(rig, node);
    const kind = kindOf(rig, node);
    if (kind === "slots" || (kind === "tap" && name === "" && rig.fed[node]!.length === 0)) continue;
    const full = plain(fullName(rig, node));
    const own = plain(name);
    entries.push({
      hit: { kind: "node", node },
      name: own === "" ? full : own,
      all: `${own} ${full}`,
      order: ORDER[rig.sourceAt.has(node) ? "source" : kind],
    });
  }
  return entries;
}

export const MOST_HITS = 60;

/** At most `MOST_HITS`, and how many there are in all. */
export function find(
  entries: readonly Entry[],
  query: string,
): { readonly hits: readonly Hit[]; readonly count: number } {
  const wanted = plain(query);
  if (wanted === "") return { hits: [], count: 0 };
  const words = wanted.split(" ");
  const found = entries.filter(({ all }) => words.every((word) => all.includes(word)));
  const rank = ({ name, all }: Entry): number => {
    if (name === wanted || all === wanted) return 0;
    if (name.startsWith(wanted) || all.endsWith(` ${wanted}`)) return 1;
    return words.every((word) => ` ${all} `.includes(` ${word} `)) ? 2 : 3;
  };
  const ranked = found.map((entry, at) => ({ entry, at, rank: rank(entry) }));
  ranked.sort((a, b) => a.rank - b.rank || a.entry.order - b.entry.order || a.at - b.at);
  return { hits: ranked.slice(0, MOST_HITS).map(({ entry }) => entry.hit), count: found.length };
}
