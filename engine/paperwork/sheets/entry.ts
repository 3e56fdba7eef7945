/** A sheet that a show can print, before it is made. */
import type { SourceId } from "../../model/ids.ts";
import type { Device, Show, TerminalRef } from "../../model/show.ts";
import type { PaperJob, Sheet } from "../page.ts";
import type { Elk } from "../signal-flow/elk.ts";
import type { DiagramLook } from "../signal-flow/plan.ts";

/** Closed list of the kinds of sheet, in the order in which a set is printed. */
export const SHEET_KINDS = [
  "diagram",
  "inputs",
  "outputs by place",
  "outputs by box",
  "ownership",
  "worksheets",
  "cables",
  "line check",
  "findings",
  "jack strips",
  "cable tags",
] as const;
export type SheetKind = (typeof SHEET_KINDS)[number];

/** How each kind is called where sheets are chosen, and what it is for. */
export const KIND_WORDS: Readonly<Record<SheetKind, { readonly name: string; readonly use: string }>> = {
  diagram: { name: "Signal-flow diagram", use: "the rig on one page, or over several" },
  inputs: { name: "Input lists", use: "each console’s channels with source, jack and preamp" },
  "outputs by place": { name: "Output patch by place", use: "what goes where, for who patches that place" },
  "outputs by box": { name: "Output patch by box", use: "each box’s output jacks in order" },
  ownership: { name: "Block ownership", use: "which console owns which block, and who could break it" },
  worksheets: { name: "Worksheets", use: "what to set on each device, step by step" },
  cables: { name: "Cable schedule", use: "every cable with its ends, lengths, spares and what to bring" },
  "line check": { name: "Line-check sheets", use: "jack by jack, to be ticked" },
  findings: { name: "Findings", use: "what is wrong or worth knowing" },
  "jack strips": { name: "Jack strips", use: "labels at real size for 19-inch panels" },
  "cable tags": { name: "Cable tags", use: "both ends of each cable" },
};

/** What some sheets need from outside the engine, and how they are to be made. */
export interface PaperTools {
  /** The layout library, fetched when a diagram asks for it. Without it devices stand as on the canvas. */
  readonly elk?: () => Promise<Elk>;
  /** Left out: laid out anew, without delays. */
  readonly diagram?: DiagramLook;
}

/** A source, or a jack or other terminal. */
export type Signal =
  | { readonly kind: "source"; readonly source: SourceId }
  | { readonly kind: "jack"; readonly at: TerminalRef };

export interface SheetEntry {
  /** Stable within a show and readable: `inputs/foh`. One of its kind alone has the kind's name. */
  readonly id: string;
  readonly kind: SheetKind;
  readonly title: string;
  /** Of a single signal's diagram, which is made when it is asked for: what it is of. */
  readonly signal?: Signal;
  readonly make: (job: PaperJob, tools: PaperTools) => Sheet | Promise<Sheet>;
}

/** Where devices stand, in the show's order of places; last, under the name `rest`, those whose place isn't in the show. */
export function standsOf(
  { places }: Show,
  rest: string,
): readonly { readonly name: string; readonly holds: (device: Device) => boolean }[] {
  const known = new Set<string>(places.map(({ id }) => id));
  return [
    ...places.map(({ id, name }) => ({ name, holds: ({ place }: Device) => place === id })),
    { name: rest, holds: ({ place }: Device) => !known.has(place) },
  ];
}

/** `Stage left` → `stage-left`. */
export const slug = (name: string): string =>
  name
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, "-")
    .replaceAll(/^-|-$/g, "") || "unnamed";

/** Ids for things that go by names, which may be alike: `foh`, `foh-2`. */
export function slugs(names: readonly string[]): readonly string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    const base = slug(name);
    let id = base;
    for (let n = 2; taken.has(id); n++) id = `${base}-${n}`;
    taken.add(id);
    return id;
  });
}
