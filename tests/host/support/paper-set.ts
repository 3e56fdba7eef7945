/** Full sets of papers: of the shows that come with the app, by name, and of the generated rigs. */
import { readFileSync } from "node:fs";
import Elk from "elkjs/lib/elk.bundled.js";
import { analyse, loadShow, type Show } from "#engine";
import type { PaperFont } from "#engine/paperwork/html.ts";
import { paperOfLists } from "#engine/paperwork/page.ts";
import { madeSheets, type MadeSheet } from "#engine/paperwork/set.ts";
import type { Elk as Layouts } from "#engine/paperwork/signal-flow/elk.ts";
import type { PaperTools } from "#engine/paperwork/sheets/entry.ts";
import { sheetEntries } from "#engine/paperwork/sheets/sheets.ts";
import { benchRig, type RigName } from "../../bench/rigs.ts";

const asset = (name: string): string =>
  readFileSync(new URL(`../../../assets/${name}`, import.meta.url), "utf8");

export const paperFonts = JSON.parse(asset("fonts/paper-font.json")) as readonly PaperFont[];

const library = new Elk();
const tools: PaperTools = { elk: () => Promise.resolve(library as Layouts) };

const RIGS: readonly RigName[] = ["club", "festival", "arena week"];

export function showCalled(name: string): Show {
  const generated = RIGS.find((rig) => rig === name);
  if (generated) return benchRig(generated);
  const loaded = loadShow(asset(`demo/${name}.hopline`));
  if (!loaded.ok) throw new Error(loaded.error.message);
  return loaded.value;
}

export async function setOf(name: string): Promise<readonly MadeSheet[]> {
  const show = showCalled(name);
  const analysis = analyse(show);
  const { paper } = show.settings;
  const job = { analysis, paper, listPaper: paperOfLists(paper), date: "2026-11-26", author: "A. Tech" };
  const made: MadeSheet[] = [];
  for await (const each of madeSheets(sheetEntries(analysis), job, tools)) made.push(each);
  return made;
}
