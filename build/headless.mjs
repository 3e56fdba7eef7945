/**
 * `npm run -s headless -- VERB FILE [options]`: the engine without a window. Stdout belongs to the command, so whatever
 * has to be done first is done without a word there.
 */
import { pathToFileURL } from "node:url";
import { ensureBuilt, outputOf } from "./build.mjs";
import { checkNode, ensureInstalled } from "./lib/install.mjs";
import { runScript } from "./lib/project.mjs";

await runScript(async () => {
  checkNode();
  await ensureInstalled();
  await ensureBuilt(["headless"]);
  // In the folder that the user is in: their files are named from there.
  process.chdir(process.env["INIT_CWD"] ?? process.cwd());
  process.setSourceMapsEnabled(true);
  // In this process, since another one takes its time to start. It reads the same words.
  await import(pathToFileURL(outputOf("headless")).href);
  return Number(process.exitCode ?? 0);
});
