/** `npm run bench`: measures the engine against the numbers that it has to reach. */
import { runTool } from "./lib/tool.mjs";

await runTool("bench");
