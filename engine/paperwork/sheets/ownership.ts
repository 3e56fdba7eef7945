/** Whose each block of outputs is, over which way it comes, and which devices could break it. */
import type { Analysis } from "../../analysis.ts";
import { deviceName } from "../../findings/describe.ts";
import type { Category } from "../../model/device-type.ts";
import { gatekeepers, stepsOf, type Trace } from "../../trace/trace.ts";
import { outputBlocks, type Block as OwnedBlock } from "../../trace/owners.ts";
import { placesById } from "../../trace/records.ts";
import { findTerminal, locate, sideName, spanRun, type Terminal } from "../../trace/terminal.ts";
import { verdictText } from "../../trace/told.ts";
import { traceOf } from "../../trace/walk.ts";
import type { WiredDevice, Wiring } from "../../wiring/wiring.ts";
import type { PaperCell, PaperRow, PaperTable } from "../block.ts";
import { cellOf } from "../columns.ts";
import { flowEntry } from "../flow.ts";
import { slugs, standsOf, type SheetEntry } from "./entry.ts";
import { unbroken } from "./unbroken.ts";

/** Those whose outputs are dealt out in blocks, boxes first. The rest hand on what comes in, jack by jack. */
const DEALT: readonly Category[] = [
  "stage box",
  "breakout",
  "interface",
  "network",
  "processor",
  "console",
  "recorder",
];

/** The whole rig's; and each place's, where they stand in several. */
export function ownershipSheets(analysis: Analysis): SheetEntry[] {
  const { show } = analysis;
  const devices = dealt(analysis);
  if (devices.length === 0) return [];
  const stands = standsOf(show, "No place")
    .map(({ name, holds }) => ({ name, here: devices.filter(({ device }) => holds(device)) }))
    .filter(({ here }) => here.length > 0);
  const ids = slugs(stands.map(({ name }) => name));
  return [
    entry(analysis, "ownership", "Block ownership", devices),
    ...(stands.length < 2
      ? []
      : stands.map(({ name, here }, n) =>
          entry(analysis, `ownership/${ids[n]!}`, `Block ownership: ${name}`, here),
        )),
  ];
}

const entry = (analysis: Analysis, id: string, title: string, devices: readonly WiredDevice[]): SheetEntry =>
  flowEntry("ownership", {
    id,
    title,
    note: "Every device on a block’s way could break it: ask its owner before you change anything there.",
    orientation: "lying",
    blocks: () => [{ kind: "table", table: ownershipTable(analysis, devices) }],
  });

function dealt({ wiring, arrivals }: Analysis): readonly WiredDevice[] {
  const rank = ({ fabric }: WiredDevice): number => DEALT.indexOf(fabric.layout.type.category);
  return wiring.devices
    .filter((wired) => wired !== null)
    .filter((wired) => rank(wired) >= 0 && outputBlocks(wiring, arrivals, wired).length > 0)
    .sort((a, b) => rank(a) - rank(b) || a.index - b.index);
}

function ownershipTable(analysis: Analysis, devices: readonly WiredDevice[]): PaperTable {
  const { wiring, arrivals } = analysis;
  const rows = devices.flatMap((wired) =>
    outputBlocks(wiring, arrivals, wired).map((block) => blockRow(wiring, block)),
  );
  const least = (n: number): number => unbroken(rows.map(({ cells }) => cellOf(cells[n]).text));
  return {
    title: "",
    columns: [
      { title: "Block", grow: 0, least: least(0) },
      { title: "State", grow: 0, least: least(1) },
      { title: "Owner", grow: 0 },
      { title: "Fed", grow: 0, least: least(3) },
      { title: "Could break it", grow: 1 },
      { title: "Way here", grow: 2 },
    ],
    rows,
    empty: "No device of the rig hands outputs out.",
  };
}

function blockRow(wiring: Wiring, block: OwnedBlock): PaperRow {
  const { wired, span, first, last, state, owners, fed } = block;
  const traces = Array.from({ length: last - first + 1 }, (_, n) =>
    traceOf(wiring, wired.base + span.start + first + n - 1),
  );
  const keepers = [...new Set(traces.flatMap(gatekeepers))];
  const isPlain = state === "one owner" || state === "sources only";
  const owner: PaperCell = {
    text: owners.map((id) => deviceName(wiring, id)).join(", "),
    ...(owners.length > 0 ? { owners } : {}),
  };
  return {
    group: groupOf(wiring, wired),
    cells: [
      { text: spanRun(span, first, last - first + 1), strong: true },
      isPlain ? state : { text: state, strong: true },
      owner,
      `${fed} of ${last - first + 1}`,
      keepers.map((id) => deviceName(wiring, id)).join(", "),
      waysOf(wiring, traces, first).join("; "),
    ],
  };
}

function groupOf({ show }: Wiring, { device, fabric }: WiredDevice): string {
  const place = placesById(show).get(device.place)?.name;
  const { type } = fabric.layout;
  const mode = type.modes.length > 1 ? `mode “${fabric.mode?.name ?? device.mode}”` : undefined;
  return [device.name, type.name, mode, place].filter(Boolean).join("  ·  ");
}

interface Way {
  /** Number of the first jack within its bank. */
  readonly first: number;
  readonly trace: Trace;
  /** The terminals that are told, of the first jack; those of the n-th have numbers n higher. */
  readonly stops: readonly Terminal[];
  count: number;
}

/** The ways of a block’s jacks, those that go side by side told as one. */
function waysOf(wiring: Wiring, traces: readonly Trace[], first: number): string[] {
  const ways: Way[] = [];
  traces.forEach((trace, n) => {
    const stops = stopsOf(trace);
    const last = ways.at(-1);
    if (last && goesBeside(last, trace, stops)) last.count++;
    else ways.push({ first: first + n, trace, stops, count: 1 });
  });
  return ways.map((way) => {
    const text = wayText(wiring, way);
    return ways.length === 1 ? text : `${runOf(way.first, way.count)}: ${text}`;
  });
}

/** Where the signal starts, and where it leaves each device for the next. */
function stopsOf(trace: Trace): readonly Terminal[] {
  const { verdict } = trace;
  if (verdict.kind !== "arrives") return [];
  const leaves = stepsOf(trace).filter(({ kind }) => kind === "cable");
  return [verdict.origin.at, ...leaves.map(({ from }) => from)];
}

function goesBeside({ trace: before, stops, count }: Way, trace: Trace, next: readonly Terminal[]): boolean {
  if (before.verdict.kind !== trace.verdict.kind || stops.length !== next.length) return false;
  const { verdict } = trace;
  const { verdict: last } = before;
  if (verdict.kind !== "arrives") {
    // The same jack's place apart, they stop for one reason.
    if ("at" in verdict && "at" in last)
      return verdict.at.device === last.at.device && verdict.at.group === last.at.group;
    return true;
  }
  return stops.every(({ device, group, side, number }, n) => {
    const other = next[n]!;
    return (
      other.device === device &&
      other.group === group &&
      other.side === side &&
      other.number === number + count
    );
  });
}

const runOf = (first: number, count: number): string =>
  count === 1 ? `${first}` : `${first}–${first + count - 1}`;

function wayText(wiring: Wiring, { trace, stops, count }: Way): string {
  if (trace.verdict.kind !== "arrives") {
    const text = verdictText(wiring, trace);
    return count === 1 ? text : `${text}, and ${count - 1} more likewise`;
  }
  let device: string | null = null;
  const told: string[] = [];
  let before: Terminal | null = null;
  for (const stop of stops) {
    // A source’s jack that leads on straight away is told once.
    if (before && before.device === stop.device && before.group === stop.group && before.side === stop.side)
      continue;
    const { wired, span } = locate(wiring, findTerminal(wiring, stop)!);
    const name = `${sideName(span)} ${runOf(stop.number, count)}`;
    told.push(device === wired.device.id ? name : `${wired.device.name} ${name}`);
    device = wired.device.id;
    before = stop;
  }
  return told.join(" → ");
}
