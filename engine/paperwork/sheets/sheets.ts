/** Every sheet that a show can print. */
import type { Analysis } from "../../analysis.ts";
import { nearest } from "../../trace/lookup.ts";
import { err, ok, type Result } from "../../model/result.ts";
import { SHEET_KINDS, slug, type SheetEntry } from "./entry.ts";
import { stripEntries } from "../labels/strips.ts";
import { tagEntries } from "../labels/tags.ts";
import { cableSheets } from "./cables.ts";
import { diagramSheets } from "./diagram.ts";
import { findingsSheets } from "./findings.ts";
import { inputSheets } from "./inputs.ts";
import { lineCheckSheets } from "./line-check.ts";
import { outputsByBox, outputsByPlace } from "./outputs.ts";
import { ownershipSheets } from "./ownership.ts";
import { worksheetSheets } from "./worksheets.ts";

/** Whoever makes sheets of a kind: each tells which there are for a show. */
const MAKERS: readonly ((analysis: Analysis) => readonly SheetEntry[])[] = [
  diagramSheets,
  inputSheets,
  outputsByPlace,
  outputsByBox,
  ownershipSheets,
  worksheetSheets,
  cableSheets,
  lineCheckSheets,
  findingsSheets,
  stripEntries,
  tagEntries,
];

/** In the order in which a set is printed. */
export function sheetEntries(analysis: Analysis): readonly SheetEntry[] {
  return MAKERS.flatMap((make) => make(analysis)).sort(
    (a, b) => SHEET_KINDS.indexOf(a.kind) - SHEET_KINDS.indexOf(b.kind),
  );
}

/** The sheets that go by a name: an id, a title or a kind. Else one line that says what there is. */
export function sheetsNamed(
  entries: readonly SheetEntry[],
  name: string,
): Result<readonly SheetEntry[], string> {
  const wanted = slug(name.replaceAll("/", " "));
  const fits = (text: string): boolean => slug(text.replaceAll("/", " ")) === wanted;
  const found = entries.filter(({ id, title }) => fits(id) || fits(title));
  if (found.length > 0) return ok(found);
  const kind = entries.filter((entry) => fits(entry.kind));
  if (kind.length > 0) return ok(kind);
  const names = [...new Set(entries.flatMap(({ id, kind: each }) => [slug(each), id]))];
  const meant = nearest(name, names).map((each) => `"${each}"`);
  return err(`the show has no sheet "${name}"${meant.length > 0 ? `; nearest: ${meant.join(", ")}` : ""}`);
}
