import { delimiter, join } from "node:path";
import { describe, expect, it } from "vitest";
import { findBrowser } from "../../electron/services/find-browser.mjs";
import type { Machine } from "../../electron/services/find-browser.mjs";

/** A machine on which just these programs exist, and these folders have entries. */
const machine = (
  platform: NodeJS.Platform,
  programs: readonly string[],
  {
    env = {},
    folders = {},
  }: { env?: Record<string, string>; folders?: Record<string, readonly string[]> } = {},
): Machine => ({
  platform,
  env: { PATH: ["/opt/bin", "/usr/bin"].join(delimiter), ...env },
  home: "/home/tech",
  isProgram: (path) => programs.includes(path),
  list: (folder) => folders[folder] ?? [],
});

describe("[H55] a browser is found", () => {
  it("on the path, in the order of names rather than of folders", () => {
    expect(findBrowser(machine("linux", ["/opt/bin/microsoft-edge", "/usr/bin/chromium"]))).toBe(
      "/usr/bin/chromium",
    );
    expect(findBrowser(machine("linux", ["/opt/bin/microsoft-edge"]))).toBe("/opt/bin/microsoft-edge");
    expect(findBrowser(machine("linux", ["/snap/bin/chromium"], { env: { PATH: "" } }))).toBe(
      "/snap/bin/chromium",
    );
  });

  it("among the Mac's applications, the user's own too", () => {
    const mine = "/home/tech/Applications/Chromium.app/Contents/MacOS/Chromium";
    expect(findBrowser(machine("darwin", [mine]))).toBe(mine);
  });

  it("among Windows' programs, for all users and for one", () => {
    const env = { PROGRAMFILES: "/pf", LOCALAPPDATA: "/local" };
    const edge = join("/pf", "Microsoft", "Edge", "Application", "msedge.exe");
    const chrome = join("/local", "Google", "Chrome", "Application", "chrome.exe");
    expect(findBrowser(machine("win32", [edge], { env }))).toBe(edge);
    expect(findBrowser(machine("win32", [chrome], { env }))).toBe(chrome);
  });

  it("where Playwright put it, the newest one", () => {
    const cache = "/home/tech/.cache/ms-playwright";
    const program = (revision: string) => join(cache, revision, "chrome-linux64", "chrome");
    const found = machine("linux", [program("chromium-990"), program("chromium-1200")], {
      folders: { [cache]: ["chromium-990", "firefox-1500", "chromium-1200", "chromium-oddity"] },
    });
    expect(findBrowser(found)).toBe(program("chromium-1200"));
  });

  it("where the variable says, and then nowhere else", () => {
    const env = { HOPLINE_BROWSER: "/mine/browser" };
    expect(findBrowser(machine("linux", ["/mine/browser", "/usr/bin/chromium"], { env }))).toBe(
      "/mine/browser",
    );
    expect(findBrowser(machine("linux", ["/usr/bin/chromium"], { env }))).toBeUndefined();
  });

  it.each(["linux", "darwin", "win32"] as const)("nowhere on a bare %s, without a fuss", (platform) => {
    expect(findBrowser(machine(platform, []))).toBeUndefined();
  });
});
