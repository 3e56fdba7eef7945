/** `npm run mutate`: breaks the engine on purpose and counts what the tests notice. */
import { runTool } from "./lib/tool.mjs";

await runTool("mutate");
