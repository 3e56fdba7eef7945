/** Writes the two demo shows and the rigs to start from. `--check` writes nothing and fails where the files are not what would be written. */
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { saveShow } from "../../engine/exchange/save.ts";
import { ROOT } from "../lib/project.mjs";
import { withFaults } from "./faults.ts";
import { quayside } from "./quayside.ts";
import { club, festival, theatre } from "./starters.ts";

const FOLDER = join(ROOT, "assets", "demo");
const shows = {
  "quayside.hopline": quayside(),
  "quayside-faults.hopline": withFaults(quayside()),
  "starter-club.hopline": club(),
  "starter-festival.hopline": festival(),
  "starter-theatre.hopline": theatre(),
};

await mkdir(FOLDER, { recursive: true });
let stale = 0;
for (const [name, show] of Object.entries(shows)) {
  const path = join(FOLDER, name);
  const text = saveShow(show);
  if (process.argv.includes("--check")) {
    const there = await readFile(path, "utf8").catch(() => null);
    if (there === text) continue;
    console.error(`${name} is not what build/demo writes; run npm run demo`);
    stale++;
  } else await writeFile(path, text);
}
process.exitCode = stale > 0 ? 1 : 0;
