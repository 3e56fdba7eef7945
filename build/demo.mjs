/** `npm run demo`: writes the demo shows into assets/demo. */
import { runTool } from "./lib/tool.mjs";

await runTool("demo");
