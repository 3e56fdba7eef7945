/** The demo shows as the file has them. */
import { readFileSync } from "node:fs";
import { loadShow } from "#engine/exchange/load.ts";
import type { Show } from "#engine/model/show.ts";

export const demoText = (name: string): string =>
  readFileSync(new URL(`../../assets/demo/${name}.hopline`, import.meta.url), "utf8");

export const STARTERS = ["starter-club", "starter-festival", "starter-theatre"] as const;

export function demo(name: "quayside" | "quayside-faults" | (typeof STARTERS)[number] = "quayside"): Show {
  const loaded = loadShow(demoText(name));
  if (!loaded.ok) throw new Error(loaded.error.message);
  return loaded.value;
}
