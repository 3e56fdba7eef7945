/** `npm run types`: checks each room with its own config, which says what platform the room may see. */
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { checkNode, ensureInstalled } from "./lib/install.mjs";
import { ROOT, runNode, runScript } from "./lib/project.mjs";

export const ROOMS = [
  "engine",
  "renderer",
  "electron",
  "electron/preload",
  "electron/browser-host/client",
  "tests",
  "build",
];

/**
 * @param {string} room
 * @returns {Promise<{ passed: boolean, text: string }>}
 */
export async function checkRoom(room) {
  const { code, text } = await runNode(
    join(ROOT, "node_modules", "typescript-native", "bin", "tsc"),
    ["-p", room, "--pretty", "false"],
    { output: "capture" },
  );
  return { passed: code === 0, text: text.trim() };
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  await runScript(async () => {
    checkNode();
    await ensureInstalled();
    let failed = 0;
    for (const room of ROOMS) {
      const { passed, text } = await checkRoom(room);
      console.log(`${passed ? "passed" : "FAILED"}  ${room}`);
      if (text) console.log(text);
      if (!passed) failed++;
    }
    return failed > 0 ? 1 : 0;
  });
}
