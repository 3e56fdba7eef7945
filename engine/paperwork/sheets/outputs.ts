/** The output patch: for who patches a place, and box by box. */
import type { Analysis } from "../../analysis.ts";
import { outputRank } from "../../tables/outputs.ts";
import { arrivesAt, outputJacks, rootsAt } from "../../trace/owners.ts";
import { placesById, wantNames } from "../../trace/records.ts";
import { shortName } from "../../trace/terminal.ts";
import { traceOf } from "../../trace/walk.ts";
import type { WiredDevice } from "../../wiring/wiring.ts";
import type { PaperRow, PaperTable } from "../block.ts";
import { cellOf } from "../columns.ts";
import { flowEntry } from "../flow.ts";
import { slugs, standsOf, type SheetEntry } from "./entry.ts";
import { jackCables, wayTag } from "../jack-cables.ts";
import { feedCell, jackRange, rootName } from "./words.ts";

/** One output jack, or a run of them on which nothing stands. */
interface Line {
  readonly first: number;
  readonly last: number;
  readonly wants: readonly string[];
  readonly isFree: boolean;
}

/** The output jacks of a device in order. Jacks without a feed, a want or a cable stand together. */
function linesOf(analysis: Analysis, wired: WiredDevice): Line[] {
  const { wiring, arrivals } = analysis;
  const lines: Line[] = [];
  for (const { span, first } of outputJacks(wired)) {
    let free: { first: number; last: number } | null = null;
    const close = (): void => {
      if (free) lines.push({ ...free, wants: [], isFree: true });
      free = null;
    };
    for (let at = first; at < first + span.count; at++) {
      const wants = wantNames(wiring, at);
      const isFree = wants.length === 0 && !arrivesAt(wiring, arrivals, at) && !jackCables(wiring).has(at);
      if (!isFree) {
        close();
        lines.push({ first: at, last: at, wants, isFree });
      } else if (free) free.last = at;
      else free = { first: at, last: at };
    }
    close();
  }
  return lines;
}

/** What a jack is for: what is wanted there, else what the tap that feeds it is called. */
function feedName({ wiring, arrivals }: Analysis, { first, wants }: Line): string {
  if (wants.length > 0) return wants.join(" / ");
  return arrivesAt(wiring, arrivals, first)
    ? rootsAt(arrivals, first)
        .map((root) => rootName(wiring, root))
        .join(" + ")
    : "";
}

/** What is plugged in a jack: the cables, and where each leads. */
function goesTo({ wiring }: Analysis, terminal: number): { readonly to: string; readonly tag: string } {
  const plugged = jackCables(wiring).get(terminal) ?? [];
  const names = plugged.map(({ device: { device, fabric }, far }) =>
    fabric.layout.spans.length === 1 ? device.name : `${device.name} ${shortName(wiring, far)}`,
  );
  return { to: names.join(", "), tag: plugged.map(wayTag).join(", ") };
}

function delayCell({ wiring, arrivals }: Analysis, terminal: number): { text: string; assumed?: boolean } {
  if (!arrivesAt(wiring, arrivals, terminal)) return { text: "" };
  const assumed = traceOf(wiring, terminal).hops.some(({ steps }) =>
    steps.some(({ parts }) => parts.some(({ provenance }) => provenance === "assumed")),
  );
  return { text: arrivals.delay[terminal]!.toFixed(2), assumed };
}

function rowOf(analysis: Analysis, line: Line, group: string, withDelay: boolean): PaperRow {
  const { wiring } = analysis;
  const jack = { text: jackRange(wiring, line.first, line.last), strong: true };
  if (line.isFree) {
    return { cells: [jack, { text: "no feed", soft: true }, "", "", "", ""], group, idle: true };
  }
  const { to, tag } = goesTo(analysis, line.first);
  const isBare = to === "";
  // Whoever patches asks for the cable; where nothing is wanted either there is nothing to patch.
  const idle = isBare && line.wants.length === 0;
  const bare = { text: idle ? "nothing planned" : "no cable in the plan", soft: true };
  const feed = feedCell(analysis, line.first);
  const name = feedName(analysis, line);
  const last = withDelay ? delayCell(analysis, line.first) : "";
  return { cells: [jack, name, feed, tag, isBare ? bare : to, last], group, idle };
}

const COLUMNS = [
  { title: "Jack", grow: 0 },
  { title: "Feed", grow: 2 },
  { title: "Comes from", grow: 1 },
  { title: "Cable", grow: 0 },
  { title: "Goes to", grow: 2 },
] as const;

const BY_PLACE: PaperTable["columns"] = [...COLUMNS, { title: "Patched", kind: "tick" }];
const BY_BOX: PaperTable["columns"] = [...COLUMNS, { title: "ms", kind: "number", grow: 0 }];

const headOf = ({ device, fabric }: WiredDevice): string => {
  const { type } = fabric.layout;
  const mode = type.modes.length > 1 && fabric.mode ? `, mode “${fabric.mode.name}”` : "";
  return `${device.name}: ${type.name}${mode}`;
};

function boxRows(analysis: Analysis, devices: readonly WiredDevice[]): PaperRow[] {
  return devices.flatMap((wired) => {
    const place = placesById(analysis.show).get(wired.device.place)?.name;
    const group = `${headOf(wired)}${place ? `, ${place}` : ""}`;
    return linesOf(analysis, wired).map((line) => rowOf(analysis, line, group, true));
  });
}

/** Devices at which there is nothing to patch stand together at the end, such as wedges that could hand their feed on. */
function placeRows(analysis: Analysis, devices: readonly WiredDevice[]): PaperRow[] {
  const busy: PaperRow[] = [];
  const idle: PaperRow[] = [];
  for (const wired of devices) {
    const rows = linesOf(analysis, wired).map((line) => rowOf(analysis, line, headOf(wired), false));
    if (rows.some((row) => !row.idle)) busy.push(...rows);
    else
      for (const { cells, ...row } of rows) {
        const [jack, ...rest] = cells;
        const named = { ...cellOf(jack), text: `${wired.device.name} ${cellOf(jack).text}` };
        idle.push({ ...row, cells: [named, ...rest], group: IDLE });
      }
  }
  return [...busy, ...idle];
}

const IDLE = "Nothing to patch here";

function tableOf(analysis: Analysis, devices: readonly WiredDevice[], how: "place" | "box"): PaperTable {
  return {
    title: "",
    columns: how === "place" ? BY_PLACE : BY_BOX,
    rows: how === "place" ? placeRows(analysis, devices) : boxRows(analysis, devices),
    empty: "No output jack stands here.",
  };
}

const hasOutputs = (wired: WiredDevice | null): wired is WiredDevice =>
  wired !== null && outputJacks(wired).length > 0;

export function outputsByPlace(analysis: Analysis): SheetEntry[] {
  const devices = analysis.wiring.devices.filter(hasOutputs);
  const stands = standsOf(analysis.show, "No place")
    .map(({ name, holds }) => ({ name, devices: devices.filter(({ device }) => holds(device)) }))
    .filter((stand) => stand.devices.length > 0);
  const ids = slugs(stands.map(({ name }) => name));
  return stands.map((stand, n) =>
    flowEntry("outputs by place", {
      id: `outputs/${ids[n]!}`,
      title: `Output patch: ${stand.name}`,
      orientation: "upright",
      blocks: () => [{ kind: "table", table: tableOf(analysis, stand.devices, "place") }],
    }),
  );
}

/** All boxes one after the other: those on stage first, then what hangs on them, then the consoles' own jacks. */
export function outputsByBox(analysis: Analysis): SheetEntry[] {
  const devices = analysis.wiring.devices
    .filter(hasOutputs)
    .sort((a, b) => outputRank(a.fabric.layout.type.category) - outputRank(b.fabric.layout.type.category));
  if (devices.length === 0) return [];
  return [
    flowEntry("outputs by box", {
      id: "outputs-by-box",
      title: "Output patch by box",
      orientation: "upright",
      blocks: () => [{ kind: "table", table: tableOf(analysis, devices, "box") }],
    }),
  ];
}
