/** Runs one of the project's own tools, which are TypeScript like the rest and so are bundled first. */
import { ensureBuilt, outputOf } from "../build.mjs";
import { checkNode, ensureInstalled } from "./install.mjs";
import { runNode, runScript } from "./project.mjs";

/**
 * @param {"demo" | "bench" | "schema" | "mutate" | "screen"} name
 * @param {readonly ("renderer" | "browser-host" | "client" | "bare")[]} [needs] What it finds built, besides itself.
 */
export async function runTool(name, needs = []) {
  await runScript(async () => {
    checkNode();
    await ensureInstalled();
    await ensureBuilt([name, ...needs]);
    const { code } = await runNode("--enable-source-maps", [outputOf(name), ...process.argv.slice(2)]);
    return code;
  });
}
