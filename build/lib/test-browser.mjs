/** The end-to-end tests' browser: one that is installed, else one that is installed now. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { findBrowser } from "../../electron/services/find-browser.mjs";
import { ROOT, run, runNode } from "./project.mjs";

const DOWNLOAD_LIMIT_MS = 4 * 60 * 1000;

/**
 * @param {(line: string) => void} say
 * @returns {Promise<string | undefined>}
 */
export async function ensureBrowser(say) {
  const found = findBrowser();
  if (found !== undefined) return found;

  say("No Chrome, Chromium or Edge found; installing Chromium …");
  const playwright = join(ROOT, "node_modules", "@playwright", "test", "cli.js");
  await runNode(playwright, ["install", "chromium"], { output: "capture", timeoutMs: DOWNLOAD_LIMIT_MS });
  const downloaded = findBrowser();
  if (downloaded !== undefined) return downloaded;

  if (existsSync("/etc/debian_version") && process.getuid?.() === 0) {
    const env = { DEBIAN_FRONTEND: "noninteractive" };
    await run("apt-get", ["update"], { output: "capture", env, timeoutMs: DOWNLOAD_LIMIT_MS });
    await run("apt-get", ["install", "-y", "chromium"], {
      output: "capture",
      env,
      timeoutMs: DOWNLOAD_LIMIT_MS,
    });
  }
  return findBrowser();
}
