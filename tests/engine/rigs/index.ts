/** The catalogue of rigs, by number. A new case joins with the next free number and a drawing. */
import type { Rig } from "../tell.ts";
import * as consoles from "./consoles-and-boxes.ts";
import * as faults from "./faults.ts";
import * as inserts from "./inserts.ts";
import * as jacks from "./jacks.ts";
import * as joins from "./joins.ts";
import * as links from "./links.ts";
import * as plans from "./plans.ts";

export * from "./consoles-and-boxes.ts";
export * from "./faults.ts";
export * from "./inserts.ts";
export * from "./jacks.ts";
export * from "./joins.ts";
export * from "./links.ts";
export * from "./plans.ts";

export const RIGS: ReadonlyMap<string, Rig> = new Map(
  Object.entries({ ...consoles, ...faults, ...inserts, ...jacks, ...joins, ...links, ...plans } as Record<
    string,
    Rig
  >).sort(([a], [b]) => a.localeCompare(b)),
);
