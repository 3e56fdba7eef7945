/** The output patch: for who patches a place, and box by box. */
import type { Analysis } from "../../analysis.ts";
import { gather } from "../../model/once.ts";
import type { Place, Want } from "../../model/show.ts";
import { arrivesAt, outputJacks } from "../../trace/owners.ts";
import { findTerminal } from "../../trace/terminal.ts";
import { traceOf } from "../../trace/walk.ts";
import { rootsAt } from "../../trace/owners.ts";
import type { WiredDevice } from "../../wiring/wiring.ts";
import type { PaperRow, PaperTable } from "../block.ts";
import { flowSheet } from "../flow.ts";
import { slugs, type SheetEntry } from "./entry.ts";
import { feedCell, jackCables, jackName, jackRange, placeName, rootName } from "./words.ts";

/** One output jack, or a run of them on which nothing stands. */
interface Line {
  readonly first: number;
  readonly last: number;
  readonly wants: readonly Want[];
  readonly isFree: boolean;
}

/** The output jacks of a device in order. Jacks without a feed, a want or a cable stand together. */
function linesOf(
  analysis: Analysis,
  wired: WiredDevice,
  wantsAt: ReadonlyMap<number, readonly Want[]>,
): Line[] {
  const { wiring, arrivals } = analysis;
  const lines: Line[] = [];
  for (const { span, first } of outputJacks(wired)) {
    let free: { first: number; last: number } | null = null;
    const close = (): void => {
      if (free) lines.push({ ...free, wants: [], isFree: true });
      free = null;
    };
    for (let at = first; at < first + span.count; at++) {
      const wants = wantsAt.get(at) ?? [];
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

function wantsByTerminal({ wiring }: Analysis): ReadonlyMap<number, readonly Want[]> {
  const found = new Map<number, Want[]>();
  for (const want of wiring.show.wants) {
    const terminal = findTerminal(wiring, want.to);
    if (terminal !== null) gather(found, terminal, want);
  }
  return found;
}

/** What a jack is for: what is wanted there, else what the tap that feeds it is called. */
function feedName({ wiring, arrivals }: Analysis, { first, wants }: Line): string {
  if (wants.length > 0) return wants.map(({ name }) => name).join(" / ");
  return arrivesAt(wiring, arrivals, first)
    ? rootsAt(arrivals, first)
        .map((root) => rootName(wiring, root))
        .join(" + ")
    : "";
}

/** What is plugged in a jack: the cable and where it leads. */
function goesTo({ wiring }: Analysis, terminal: number): { readonly to: string; readonly tag: string } {
  const found = jackCables(wiring).get(terminal);
  if (!found) return { to: "", tag: "" };
  const { device } = found.device;
  const isAlone = found.device.fabric.layout.spans.length === 1;
  return {
    to: isAlone ? device.name : `${device.name} ${jackName(wiring, found.far)}`,
    tag: found.plugged.cable.tag,
  };
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
    return { cells: [jack, { text: "no feed", soft: true }, "", "", "", ""], group };
  }
  const { to, tag } = goesTo(analysis, line.first);
  const feed = feedCell(analysis, line.first);
  const name = feedName(analysis, line);
  const last = withDelay ? delayCell(analysis, line.first) : "";
  return { cells: [jack, name, feed, tag, to, last], group };
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

function tableOf(analysis: Analysis, devices: readonly WiredDevice[], how: "place" | "box"): PaperTable {
  const wantsAt = wantsByTerminal(analysis);
  const { show } = analysis;
  return {
    title: "",
    columns: how === "place" ? BY_PLACE : BY_BOX,
    rows: devices.flatMap((wired) => {
      const place = placeName(show, wired.device);
      const group = how === "place" ? headOf(wired) : `${headOf(wired)}${place ? `, ${place}` : ""}`;
      return linesOf(analysis, wired, wantsAt).map((line) => rowOf(analysis, line, group, how === "box"));
    }),
    empty: "No output jack stands here.",
  };
}

const hasOutputs = (wired: WiredDevice | null): wired is WiredDevice =>
  wired !== null && outputJacks(wired).length > 0;

export function outputsByPlace(analysis: Analysis): SheetEntry[] {
  const { wiring, show } = analysis;
  const inPlace = (place: Place): readonly WiredDevice[] =>
    wiring.devices.filter(hasOutputs).filter(({ device }) => device.place === place.id);
  const places = show.places.filter((place) => inPlace(place).length > 0);
  const ids = slugs(places.map(({ name }) => name));
  return places.map((place, n): SheetEntry => {
    const id = `outputs/${ids[n]!}`;
    const title = `Output patch: ${place.name}`;
    return {
      id,
      kind: "outputs by place",
      title,
      make: (job) =>
        flowSheet(job, {
          id,
          title,
          orientation: "upright",
          blocks: [{ kind: "table", table: tableOf(analysis, inPlace(place), "place") }],
        }),
    };
  });
}

/** All boxes one after the other: those on stage first, then what hangs on them, then the consoles' own jacks. */
export function outputsByBox(analysis: Analysis): SheetEntry[] {
  const order = ["stage box", "breakout", "personal mixer", "console"];
  const rank = ({ fabric }: WiredDevice): number => {
    const at = order.indexOf(fabric.layout.type.category);
    return at < 0 ? order.length : at;
  };
  const devices = analysis.wiring.devices.filter(hasOutputs).sort((a, b) => rank(a) - rank(b));
  if (devices.length === 0) return [];
  return [
    {
      id: "outputs-by-box",
      kind: "outputs by box",
      title: "Output patch by box",
      make: (job) =>
        flowSheet(job, {
          id: "outputs-by-box",
          title: "Output patch by box",
          orientation: "upright",
          blocks: [{ kind: "table", table: tableOf(analysis, devices, "box") }],
        }),
    },
  ];
}
