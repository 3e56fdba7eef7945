/** Each console's input list: its channels, what they are meant to carry, where that is plugged, who sets the preamp. */
import type { Analysis } from "../../analysis.ts";
import { trimRange } from "../../findings/followers.ts";
import type { ChannelPlan } from "../../model/show.ts";
import { INPUT_JACK, tellTerminal } from "../../tables/places.ts";
import { arrivesAt, rootsAt } from "../../trace/owners.ts";
import { sourcesById } from "../../trace/records.ts";
import { findTerminal, locate, shortName, sideName } from "../../trace/terminal.ts";
import { verdictText } from "../../trace/told.ts";
import { traceOf } from "../../trace/walk.ts";
import type { WiredDevice } from "../../wiring/wiring.ts";
import type { CellLike, PaperRow, PaperTable } from "../block.ts";
import { flowEntry } from "../flow.ts";
import { slugs, type SheetEntry } from "./entry.ts";
import { rootName } from "./words.ts";

const decibels = (value: number): string => `${value > 0 ? "+" : value < 0 ? "−" : ""}${Math.abs(value)}`;

/** How the signal comes into the console, and a word where something else comes than is planned. */
function waysIn(
  { wiring, arrivals }: Analysis,
  terminal: number | null,
  plan: ChannelPlan,
): { readonly way: string; readonly wrong: string } {
  if (terminal === null) return { way: "", wrong: "the console has no such channel" };
  const feeder = wiring.feeder[terminal]!;
  const way = feeder >= 0 ? shortName(wiring, feeder) : "";
  if (!arrivesAt(wiring, arrivals, terminal)) {
    return { way, wrong: verdictText(wiring, traceOf(wiring, terminal)) };
  }
  const planned = plan.source === undefined ? undefined : sourcesById(wiring.show).get(plan.source);
  const roots = rootsAt(arrivals, terminal);
  const isPlanned =
    planned === undefined || roots.some((root) => wiring.show.sources[wiring.sourceAt[root]!] === planned);
  return { way, wrong: isPlanned ? "" : `gets ${roots.map((root) => rootName(wiring, root)).join(" + ")}` };
}

function rowOf(analysis: Analysis, desk: WiredDevice, plan: ChannelPlan, group: string): PaperRow {
  const { wiring, show } = analysis;
  const source = plan.source === undefined ? undefined : sourcesById(show).get(plan.source);
  const terminal = findTerminal(wiring, { device: plan.console, group: plan.group, number: plan.number });
  const { way, wrong } = waysIn(analysis, terminal, plan);
  const owner = source?.preampOwner;
  const isOwn = owner === desk.device.id;
  const ownerCell: CellLike =
    owner === undefined ? "" : { text: isOwn ? "here" : "", owners: [owner], strong: isOwn };
  const trims = terminal !== null && trimRange(wiring, terminal) !== undefined;
  const trim = plan.trim ?? 0;
  const name = plan.name || source?.name || "";
  return {
    ...(group === "" ? {} : { group }),
    cells: [
      { text: String(plan.number), strong: true },
      { text: name, strong: true },
      wrong ? { text: wrong, strong: true } : source && source.name !== name ? source.name : "",
      source?.kind ?? "",
      source ? tellTerminal(show, source.at, INPUT_JACK) : "",
      way,
      source?.phantom ? "48 V" : "",
      ownerCell,
      source?.gain === undefined ? "" : decibels(source.gain),
      [trim === 0 ? "" : decibels(trim), trims && plan.follows ? "follows" : ""].filter(Boolean).join(" "),
    ],
  };
}

export function inputsTable(analysis: Analysis, desk: WiredDevice): PaperTable {
  const { wiring, show } = analysis;
  const plans = show.channels.filter((plan) => plan.console === desk.device.id);
  const order = new Map(desk.fabric.layout.spans.map((span, n) => [sideName(span), n]));
  const sectionOf = (plan: ChannelPlan): string => {
    const terminal = findTerminal(wiring, { device: plan.console, group: plan.group, number: plan.number });
    return terminal === null ? plan.group : sideName(locate(wiring, terminal).span);
  };
  const sorted = plans
    .map((plan) => ({ plan, section: sectionOf(plan) }))
    .sort(
      (a, b) =>
        (order.get(a.section) ?? order.size) - (order.get(b.section) ?? order.size) ||
        a.plan.number - b.plan.number,
    );
  const several = new Set(sorted.map(({ section }) => section)).size > 1;
  return {
    title: "",
    columns: [
      { title: "Ch", kind: "number", grow: 0 },
      { title: "Name", grow: 2 },
      { title: "Source", grow: 1, isOptional: true },
      { title: "Kind", grow: 0 },
      { title: "Plugged in", grow: 2 },
      { title: "Comes in on", grow: 1 },
      { title: "Phantom", grow: 0, isOptional: true },
      { title: "Preamp", grow: 0 },
      { title: "Gain dB", kind: "number", grow: 0, isOptional: true },
      { title: "Trim dB", grow: 0, isOptional: true },
    ],
    rows: sorted.map(({ plan, section }) => rowOf(analysis, desk, plan, several ? section : "")),
    empty: "No channel of this console is planned.",
  };
}

export function inputSheets(analysis: Analysis): SheetEntry[] {
  const planned = new Set(analysis.show.channels.map((plan) => plan.console));
  const desks = analysis.wiring.devices.filter(
    (wired): wired is WiredDevice => wired !== null && planned.has(wired.device.id),
  );
  const ids = slugs(desks.map(({ device }) => device.name));
  return desks.map((desk, n) =>
    flowEntry("inputs", {
      id: `inputs/${ids[n]!}`,
      title: `Input list: ${desk.device.name}`,
      note: desk.fabric.layout.type.name,
      orientation: "upright",
      blocks: () => [{ kind: "table", table: inputsTable(analysis, desk) }],
    }),
  );
}
