/**
 * Finds an installed browser of the Chromium family: the window of the browser host, the PDF printer where there is no
 * Electron, and the tests' browser. Plain JavaScript with `node:` modules only, because the start and test scripts use
 * it before anything is installed.
 */
import { accessSync, constants, existsSync, readdirSync } from "node:fs";
import { homedir } from "node:os";
import { delimiter, join } from "node:path";

/**
 * What the search looks at; tests put a machine of their own in its place.
 *
 * @typedef {object} Machine
 * @property {NodeJS.Platform} platform
 * @property {Readonly<Record<string, string | undefined>>} env
 * @property {string} home
 * @property {(path: string) => boolean} isProgram
 * @property {(folder: string) => readonly string[]} list Names in a folder; none where it can't be read.
 */

/** @type {Machine} */
export const thisMachine = {
  platform: process.platform,
  env: process.env,
  home: homedir(),
  isProgram: (path) => {
    try {
      accessSync(path, process.platform === "win32" ? constants.F_OK : constants.X_OK);
      return existsSync(path);
    } catch {
      return false;
    }
  },
  list: (folder) => {
    try {
      return readdirSync(folder);
    } catch {
      return [];
    }
  },
};

const LINUX_NAMES = [
  "chromium",
  "chromium-browser",
  "google-chrome-stable",
  "google-chrome",
  "microsoft-edge-stable",
  "microsoft-edge",
];

const MAC_APPS = ["Google Chrome", "Chromium", "Microsoft Edge"];

const WINDOWS_PROGRAMS = [
  ["Google", "Chrome", "Application", "chrome.exe"],
  ["Chromium", "Application", "chrome.exe"],
  ["Microsoft", "Edge", "Application", "msedge.exe"],
];

/**
 * The path of a browser, or undefined. `HOPLINE_BROWSER` names one; then no other is taken.
 *
 * @param {Machine} [machine]
 * @returns {string | undefined}
 */
export function findBrowser(machine = thisMachine) {
  const named = machine.env["HOPLINE_BROWSER"];
  if (named) return machine.isProgram(named) ? named : undefined;
  return [...installed(machine), ...playwrightBrowsers(machine)].find(machine.isProgram);
}

/**
 * @param {Machine} machine
 * @returns {string[]}
 */
function installed({ platform, env, home }) {
  switch (platform) {
    case "darwin":
      return ["/Applications", join(home, "Applications")].flatMap((folder) =>
        MAC_APPS.map((app) => join(folder, `${app}.app`, "Contents", "MacOS", app)),
      );
    case "win32":
      return [env["PROGRAMFILES"], env["PROGRAMFILES(X86)"], env["LOCALAPPDATA"]]
        .filter((folder) => folder !== undefined)
        .flatMap((folder) => WINDOWS_PROGRAMS.map((path) => join(folder, ...path)));
    default:
      return LINUX_NAMES.flatMap((name) =>
        [...(env["PATH"] ?? "").split(delimiter).filter(Boolean), "/usr/bin", "/snap/bin"].map((folder) =>
          join(folder, name),
        ),
      );
  }
}

/**
 * Browsers that Playwright has installed, newest first. Folder names inside have changed over time, so all are tried.
 *
 * @param {Machine} machine
 * @returns {string[]}
 */
function playwrightBrowsers({ platform, env, home, list }) {
  const cache =
    platform === "darwin"
      ? join(home, "Library", "Caches", "ms-playwright")
      : platform === "win32"
        ? join(env["LOCALAPPDATA"] ?? join(home, "AppData", "Local"), "ms-playwright")
        : join(env["XDG_CACHE_HOME"] ?? join(home, ".cache"), "ms-playwright");
  const asked = env["PLAYWRIGHT_BROWSERS_PATH"];
  const folder = asked && asked !== "0" ? asked : cache;
  const programs =
    platform === "darwin"
      ? ["mac", "mac-arm64", "mac-x64"].flatMap((inner) => [
          [`chrome-${inner}`, "Chromium.app", "Contents", "MacOS", "Chromium"],
          [
            `chrome-${inner}`,
            "Google Chrome for Testing.app",
            "Contents",
            "MacOS",
            "Google Chrome for Testing",
          ],
        ])
      : platform === "win32"
        ? [
            ["chrome-win", "chrome.exe"],
            ["chrome-win64", "chrome.exe"],
          ]
        : [
            ["chrome-linux", "chrome"],
            ["chrome-linux64", "chrome"],
          ];
  const revision = (/** @type {string} */ name) => Number(name.slice("chromium-".length));
  return list(folder)
    .filter((name) => /^chromium-\d+$/.test(name))
    .sort((a, b) => revision(b) - revision(a))
    .flatMap((name) => programs.map((path) => join(folder, name, ...path)));
}

/** Switches for every start of such a browser by us: nothing but the page that we give it. */
export const QUIET_SWITCHES = [
  "--no-first-run",
  "--no-default-browser-check",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** As root the browser's sandbox can't work and it refuses to start with one. */
export const sandboxSwitches = () => (process.getuid?.() === 0 ? ["--no-sandbox"] : []);
