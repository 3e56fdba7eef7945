/** The signal-flow diagrams of a show: the whole rig, each console's view, each place's; and any one signal's. */
import type { Analysis } from "../../analysis.ts";
import type { SourceId } from "../../model/ids.ts";
import type { TerminalRef } from "../../model/show.ts";
import { sourcesById } from "../../trace/records.ts";
import { lookUpSource, lookUpTerminal, nearest, type NotFound } from "../../trace/lookup.ts";
import { err, ok, type Result } from "../../model/result.ts";
import { findTerminal, fullName, terminalOf } from "../../trace/terminal.ts";
import type { PaperJob, Sheet } from "../page.ts";
import { diagramGraph, diagramSheet } from "../signal-flow/draw.ts";
import { layOut } from "../signal-flow/pages.ts";
import type { DiagramChoice } from "../signal-flow/plan.ts";
import type { DiagramScope } from "../signal-flow/scope.ts";
import { slug, slugs, type PaperTools, type SheetEntry, type Signal } from "./entry.ts";

export function diagramSheets({ show, wiring }: Analysis): readonly SheetEntry[] {
  const consoles = show.devices.filter(
    (_, index) => wiring.devices[index]?.fabric.layout.type.category === "console",
  );
  const places = show.places.filter(({ id }) => show.devices.some(({ place }) => place === id));
  const ids = slugs([...consoles.map(({ name }) => `of ${name}`), ...places.map(({ name }) => `at ${name}`)]);
  return [
    entry("diagram", "Signal flow", { kind: "rig" }),
    ...consoles.map(({ id, name }, n) =>
      entry(`diagram/${ids[n]!}`, `Signal flow of ${name}`, { kind: "console", device: id }),
    ),
    ...places.map(({ id, name }, n) =>
      entry(`diagram/${ids[consoles.length + n]!}`, `Signal flow at ${name}`, { kind: "place", place: id }),
    ),
  ];
}

/** The diagram of what becomes of one source. */
export const sourceDiagram = (analysis: Analysis, source: SourceId): SheetEntry =>
  signalDiagram(analysis, { kind: "source", source });

/** The diagram of where a jack's signal comes from and where it goes. */
export const jackDiagram = (analysis: Analysis, at: TerminalRef): SheetEntry =>
  signalDiagram(analysis, { kind: "jack", at });

export function signalDiagram({ show, wiring }: Analysis, signal: Signal): SheetEntry {
  const name = nameOf();
  return { ...entry(`signal/${slug(name)}`, `Signal flow of ${name}`, signal), signal };

  function nameOf(): string {
    if (signal.kind === "source") return sourcesById(show).get(signal.source)?.name ?? signal.source;
    const { at } = signal;
    const terminal = findTerminal(wiring, at);
    return terminal === null ? `${at.device} ${at.group} ${at.number}` : fullName(wiring, terminal);
  }
}

/** The diagram of a source by its name, else of a jack by its full name or that of its want. */
export function signalNamed(analysis: Analysis, name: string): Result<SheetEntry, NotFound> {
  const { show, wiring } = analysis;
  const source = lookUpSource(wiring, name);
  if (source.ok) return ok(sourceDiagram(analysis, show.sources[source.value]!.id));
  const jack = lookUpTerminal(wiring, name);
  if (jack.ok) return ok(jackDiagram(analysis, terminalOf(wiring, jack.value)));
  return err({ wanted: name, nearest: nearest(name, [...jack.error.nearest, ...source.error.nearest]) });
}

const entry = (id: string, title: string, scope: DiagramScope): SheetEntry => ({
  id,
  kind: "diagram",
  title,
  make: (job, tools) => drawn(job, tools, id, scope),
});

async function drawn(job: PaperJob, tools: PaperTools, id: string, scope: DiagramScope): Promise<Sheet> {
  const { arrangement = "tidy", delays = false } = tools.diagram ?? {};
  const elk = arrangement === "tidy" ? ((await tools.elk?.()) ?? null) : null;
  const choice: DiagramChoice = { scope, arrangement: elk ? "tidy" : "canvas", delays };
  return diagramSheet(job, id, await layOut(diagramGraph(job, choice), elk));
}
