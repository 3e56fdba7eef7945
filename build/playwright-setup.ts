/** Before the end-to-end tests: what they open is built from what stands here now. */
import { ensureBuilt } from "./build.mjs";

export default async function setUp(): Promise<void> {
  await ensureBuilt(["renderer", "main", "preload", "browser-host", "client"]);
}
