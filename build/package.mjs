/**
 * `npm run package [-- --mac | --win | --linux]`: makes the installers, for this system unless others are named. Needs
 * Electron's program for each, which is fetched.
 */
import { join } from "node:path";
import { APP_TARGETS, ensureBuilt } from "./build.mjs";
import { fetchElectron, findElectron } from "./lib/electron-binary.mjs";
import { checkNode, ensureInstalled } from "./lib/install.mjs";
import { PlainStop, ROOT, runNode, runScript } from "./lib/project.mjs";

const SYSTEMS = ["--mac", "--win", "--linux"];

await runScript(async () => {
  checkNode();
  const args = process.argv.slice(2);
  const unknown = args.find((arg) => !SYSTEMS.includes(arg));
  if (unknown !== undefined) {
    throw new PlainStop(
      `“${unknown}” is not a system. Usage: npm run package [-- ${SYSTEMS.join(" | ")}]`,
      2,
    );
  }
  await ensureInstalled();
  await ensureBuilt(APP_TARGETS, { say: console.log });
  if (
    findElectron() === undefined &&
    (await fetchElectron({ say: console.log, force: true })) === undefined
  ) {
    throw new PlainStop(
      "No installer was made: it needs Electron's program. Try again on a machine that can fetch it.",
    );
  }
  const { code } = await runNode(join(ROOT, "node_modules", "electron-builder", "cli.js"), [
    "--config=build/electron-builder.json",
    ...args,
  ]);
  return code;
});
