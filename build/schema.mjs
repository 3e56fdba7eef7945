/** `npm run schema`: generates the validator of show files from the published schema; `--check` only says whether it is up to date. */
import { runTool } from "./lib/tool.mjs";

await runTool("schema");
