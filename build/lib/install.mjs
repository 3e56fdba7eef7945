/** What every script does first: the right Node, and the dependencies that the lock file names. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { PlainStop, ROOT, run } from "./project.mjs";

/** Node versions that work: 20.19 and later in its line, and 22 and later. Vite asks for the same. */
export function nodeWorks(version = process.versions.node) {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  return major > 22 || (major === 22 && minor >= 12) || (major === 20 && minor >= 19);
}

export function checkNode() {
  if (!nodeWorks()) {
    throw new PlainStop(
      `Hopline needs Node.js 20.19 or later (or 22.12 or later); this is ${process.versions.node}. Install a newer one from nodejs.org.`,
    );
  }
}

/**
 * @typedef {{ version?: string, optional?: boolean, devOptional?: boolean, peer?: boolean, link?: boolean }} LockedPackage
 * @typedef {Record<string, LockedPackage>} LockedPackages
 */

/**
 * Whether what is installed is what the lock file names. npm keeps a lock file of its own in node_modules, so that is
 * a comparison of two tables. Optional packages may be missing: they are for other platforms.
 *
 * @param {LockedPackages} locked
 * @param {LockedPackages} installed
 */
export function matchesLock(locked, installed) {
  return Object.entries(locked).every(([path, wanted]) => {
    if (path === "") return true;
    const found = installed[path];
    if (!found) return Boolean(wanted.optional || wanted.devOptional);
    return found.version === wanted.version;
  });
}

/** @param {string} file */
function packagesIn(file) {
  try {
    const lock = /** @type {{ packages?: LockedPackages }} */ (JSON.parse(readFileSync(file, "utf8")));
    return lock.packages;
  } catch {
    return undefined;
  }
}

function isInstalled() {
  const locked = packagesIn(join(ROOT, "package-lock.json"));
  const installed = packagesIn(join(ROOT, "node_modules", ".package-lock.json"));
  return locked !== undefined && installed !== undefined && matchesLock(locked, installed);
}

/** Installs the locked dependencies where they are missing or differ. Says so on stderr: stdout may be data. */
export async function ensureInstalled() {
  if (isInstalled()) return;
  console.error("Installing dependencies (npm ci) …");
  // Under `npm run` npm says where it is itself; elsewhere it's the one on the path, a .cmd file on Windows.
  const npm = process.env["npm_execpath"];
  const outcome =
    npm && /\.[cm]?js$/.test(npm) && existsSync(npm)
      ? await run(process.execPath, [npm, "ci"], { output: "stderr" })
      : await run("npm", ["ci"], { output: "stderr", shell: process.platform === "win32" });
  if (outcome.code !== 0) {
    throw new PlainStop(
      "The dependencies could not be installed (see above). Check the network connection, then try again.",
    );
  }
}
