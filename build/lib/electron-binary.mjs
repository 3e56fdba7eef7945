/** Electron's program: where it is, and fetching it. The npm package holds only the script that fetches it. */
import { existsSync, readFileSync } from "node:fs";
import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { ROOT, runNode } from "./project.mjs";

const PACKAGE = join(ROOT, "node_modules", "electron");
const REFUSED = join(ROOT, "dist", ".electron-refused");
/** About 120 MB: on a slow line a matter of minutes. */
const FETCH_LIMIT_MS = 5 * 60 * 1000;
const RETRY_AFTER_MS = 24 * 60 * 60 * 1000;

/** @returns {string | undefined} */
export function findElectron() {
  const folder = process.env["ELECTRON_OVERRIDE_DIST_PATH"] ?? join(PACKAGE, "dist");
  try {
    const program = join(folder, readFileSync(join(PACKAGE, "path.txt"), "utf8").trim());
    return existsSync(program) ? program : undefined;
  } catch {
    return undefined;
  }
}

/**
 * Why Electron's window can't open on this machine, whether its program is there or not.
 *
 * @param {{ platform: NodeJS.Platform, env: Readonly<Record<string, string | undefined>>, uid: number | undefined }} machine
 * @returns {string | undefined}
 */
export function electronObstacle({ platform, env, uid }) {
  if (platform !== "linux") return undefined;
  if (!env["DISPLAY"] && !env["WAYLAND_DISPLAY"]) return "there is no display";
  if (uid === 0) return "Electron does not run as root";
  return undefined;
}

/**
 * Fetches the program. A refusal is remembered for a day, so that a machine without a way out doesn't wait at every
 * start; `force` asks again.
 *
 * @param {{ say: (line: string) => void, force: boolean }} options
 * @returns {Promise<string | undefined>} The program, or undefined with the reason told.
 */
export async function fetchElectron({ say, force }) {
  const refusedAt = Number(await readFile(REFUSED, "utf8").catch(() => "0"));
  if (!force && Date.now() - refusedAt < RETRY_AFTER_MS) {
    say("Electron could not be fetched within the last day, so it is not tried now (--electron tries it).");
    return undefined;
  }
  say("Fetching Electron, once (about 120 MB) …");
  const outcome = await runNode(join(PACKAGE, "install.js"), [], {
    output: "capture",
    timeoutMs: FETCH_LIMIT_MS,
  });
  const program = findElectron();
  if (program !== undefined && outcome.code === 0) {
    await rm(REFUSED, { force: true });
    return program;
  }
  await mkdir(join(ROOT, "dist"), { recursive: true });
  await writeFile(REFUSED, String(Date.now()));
  say(
    outcome.code === 124
      ? "Electron could not be fetched: it took longer than 5 minutes."
      : `Electron could not be fetched (${firstReason(outcome.text)}).`,
  );
  return undefined;
}

/**
 * The fetching script's complaint in the user's words, where it is a usual one.
 *
 * @param {string} text
 */
export function firstReason(text) {
  if (/fetch failed|ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH/.test(text)) {
    return "its server can't be reached from here";
  }
  if (/\b(?:403|404|407)\b/.test(text)) return "its server, or a proxy on the way, refused it";
  if (/ENOSPC/.test(text)) return "the disk is full";
  const line = text.split("\n").find((candidate) => /error/i.test(candidate));
  return (line ?? "no reason given").trim().slice(0, 160);
}
