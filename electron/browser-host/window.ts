/** The browser host's window: an installed browser that shows the app without address bar and tabs. */
import { spawn } from "node:child_process";
import { join } from "node:path";
import { QUIET_SWITCHES, findBrowser, sandboxSwitches } from "../services/find-browser.mjs";

/** Whether there is a screen to open a window on. */
export function hasDisplay(
  platform: NodeJS.Platform = process.platform,
  env: Readonly<Record<string, string | undefined>> = process.env,
): boolean {
  return platform === "win32" || platform === "darwin" || Boolean(env["DISPLAY"] || env["WAYLAND_DISPLAY"]);
}

/**
 * Opens the window, in a profile of its own so that no extension of the user's reads along. Value: whether a browser
 * was found and started.
 */
export function openAppWindow(address: string, data: string): Promise<boolean> {
  const browser = findBrowser();
  if (browser === undefined) return Promise.resolve(false);
  return new Promise((resolve) => {
    const child = spawn(
      browser,
      [
        `--app=${address}`,
        `--user-data-dir=${join(data, "browser")}`,
        "--window-size=1440,900",
        ...QUIET_SWITCHES,
        ...sandboxSwitches(),
      ],
      // On its own: Ctrl-C in the terminal ends the host and leaves the window with the user's work.
      { detached: true, stdio: "ignore" },
    );
    child.on("error", () => resolve(false));
    child.on("spawn", () => {
      child.unref();
      resolve(true);
    });
  });
}
