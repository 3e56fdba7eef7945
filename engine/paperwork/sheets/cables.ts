/** The cable schedule: every cable with its ends, and what to bring for all of them. */
import type { Analysis } from "../../analysis.ts";
import { CABLES } from "../../catalog/cables.ts";
import { CABLE_KINDS } from "../../model/device-type.ts";
import { gather } from "../../model/once.ts";
import type { Cable } from "../../model/show.ts";
import { lengthName, metres, round, type Metres } from "../../model/units.ts";
import { placesById, wiredOf } from "../../trace/records.ts";
import type { PluggedCable } from "../../wiring/plugs.ts";
import type { PaperRow, PaperTable } from "../block.ts";
import { flowEntry } from "../flow.ts";
import type { SheetEntry } from "./entry.ts";
import { endName } from "./words.ts";

/** Spares to bring for a number of cables of one sort: one in ten, at least one (common practice), of the longest. */
export const sparesFor = (count: number): number => Math.ceil(count / 10);

/** `multicore, 8 ways`: cables of one sort can stand in for each other but for their length. */
const sortOf = ({ kind, ways }: Cable): string =>
  ways > 1 ? `${CABLES[kind].name}, ${ways} ways` : CABLES[kind].name;

export function scheduleTable({ wiring, show }: Analysis): PaperTable {
  const placeOf = ({ cable }: PluggedCable, n: 0 | 1): string => {
    const device = wiredOf(wiring, cable.ends[n].device)?.device;
    return device ? placesById(show).get(device.place)?.name || "no place" : "not in the rig";
  };
  const runs = new Map<string, PluggedCable[]>();
  for (const plugged of wiring.plugs.cables) {
    const [from, to] = [placeOf(plugged, 0), placeOf(plugged, 1)];
    gather(runs, from === to ? `Within ${from}` : `${from} to ${to}`, plugged);
  }
  const order = show.places.map(({ name }) => name);
  const rank = (run: string): number => {
    const at = order.findIndex((name) => run === `Within ${name}` || run.startsWith(`${name} to `));
    return (run.startsWith("Within ") ? order.length + 1 : 0) + (at < 0 ? order.length : at);
  };
  return {
    title: "",
    columns: [
      { title: "Tag", grow: 0 },
      { title: "Kind", grow: 1 },
      { title: "Length", kind: "number", grow: 0 },
      { title: "From", grow: 2 },
      { title: "To", grow: 2 },
      { title: "Laid", kind: "tick" },
    ],
    rows: [...runs]
      .sort(([a], [b]) => rank(a) - rank(b))
      .flatMap(([group, cables]) =>
        cables.map((plugged): PaperRow => {
          const { cable } = plugged;
          return {
            group,
            cells: [
              { text: cable.tag || "no tag", strong: cable.tag !== "", soft: cable.tag === "" },
              sortOf(cable),
              cable.length === undefined
                ? { text: "not known", strong: true }
                : lengthName(cable.length, show.settings.units),
              endName(wiring, plugged, cable.ends[0]),
              endName(wiring, plugged, cable.ends[1]),
              "",
            ],
          };
        }),
      ),
    empty: "No cables yet.",
  };
}

/** How many of each sort and length to bring, with spares, and the length of all of them together. */
export function shoppingTable({ show }: Analysis): PaperTable {
  const { units } = show.settings;
  const sorts = new Map<string, Cable[]>();
  const order = new Map(CABLE_KINDS.map((kind, n) => [kind, n]));
  const sorted = [...show.cables].sort(
    (a, b) =>
      order.get(a.kind)! - order.get(b.kind)! ||
      b.ways - a.ways ||
      (b.length ?? Infinity) - (a.length ?? Infinity),
  );
  for (const cable of sorted) gather(sorts, sortOf(cable), cable);
  const rows: PaperRow[] = [];
  for (const [sort, cables] of sorts) {
    const lengths = new Map<Metres | undefined, number>();
    for (const { length } of cables) lengths.set(length, (lengths.get(length) ?? 0) + 1);
    const longest = Math.max(...cables.map(({ length }) => length ?? 0));
    let [all, spares, total] = [0, 0, 0];
    for (const [length, count] of lengths) {
      const spare = length === longest || longest === 0 ? sparesFor(cables.length) : 0;
      all += count;
      spares += spare;
      total += (length ?? 0) * (count + spare);
      rows.push({
        group: sort,
        cells: [
          length === undefined ? { text: "not known", strong: true } : lengthName(length, units),
          String(count),
          spare === 0 ? "" : String(spare),
          String(count + spare),
          length === undefined ? "" : lengthName(metres(round(length * (count + spare), 1)), units),
          "",
        ],
      });
    }
    if (lengths.size > 1) {
      const together = lengthName(metres(round(total, 1)), units);
      rows.push({
        group: sort,
        strong: true,
        cells: ["all", String(all), String(spares), String(all + spares), together, ""],
      });
    }
  }
  return {
    title: "What to bring",
    columns: [
      { title: "Length", kind: "number", grow: 0, least: 40 },
      { title: "In the rig", kind: "number", grow: 0 },
      { title: "Spare", kind: "number", grow: 0 },
      { title: "To bring", kind: "number", grow: 0 },
      { title: "Together", kind: "number", grow: 0 },
      { title: "Packed", kind: "tick" },
    ],
    rows,
    empty: "Nothing.",
  };
}

export const cableSheets = (analysis: Analysis): SheetEntry[] => [
  flowEntry("cables", {
    id: "cables",
    title: "Cable schedule",
    orientation: "upright",
    blocks: () => [
      { kind: "table", table: scheduleTable(analysis) },
      { kind: "table", table: shoppingTable(analysis) },
      {
        kind: "text",
        text: "Spares: one in ten of each sort, at least one, of the longest, which can stand in for any (common practice).",
      },
    ],
  }),
];
