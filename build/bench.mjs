/** `npm run bench`: measures the engine against the numbers that it has to reach; with `--screen` the window, in a browser. */
import { runTool } from "./lib/tool.mjs";

if (process.argv.includes("--screen"))
  await runTool("screen", ["renderer", "browser-host", "client", "bare"]);
else await runTool("bench");
