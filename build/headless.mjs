/**
 * `npm run -s headless -- VERB FILE [options]`: the engine without a window. Stdout belongs to the command, so whatever
 * has to be done first is done without a word there.
 */
import { spawn } from "node:child_process";
import { ensureBuilt, outputOf } from "./build.mjs";
import { checkNode, ensureInstalled } from "./lib/install.mjs";
import { runScript } from "./lib/project.mjs";

await runScript(async () => {
  checkNode();
  await ensureInstalled();
  await ensureBuilt(["headless"]);
  return new Promise((resolve) => {
    // In the folder that the user is in: their files are named from there.
    const child = spawn(
      process.execPath,
      ["--enable-source-maps", outputOf("headless"), ...process.argv.slice(2)],
      { cwd: process.env["INIT_CWD"] ?? process.cwd(), stdio: "inherit" },
    );
    child.on("close", (code) => resolve(code ?? 1));
  });
});
