/** The real app in the real Electron, where its program is and a window can open. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { _electron, expect, test } from "@playwright/test";
import type { ElectronApplication, Page } from "@playwright/test";
import type { HostApi } from "#engine";
import { electronObstacle, findElectron } from "../../build/lib/electron-binary.mjs";

declare global {
  var hoplineHost: HostApi;
}

const root = fileURLToPath(new URL("../..", import.meta.url));
const program = findElectron();
const obstacle = electronObstacle({ platform: process.platform, env: process.env, uid: process.getuid?.() });

test.describe("Electron", () => {
  test.skip(program === undefined, "not run: no Electron binary");
  test.skip(obstacle !== undefined, `not run: ${obstacle}`);

  let data: string;
  let app: ElectronApplication;
  let page: Page;

  test.beforeEach(async () => {
    data = mkdtempSync(join(tmpdir(), "hopline-electron-"));
    app = await _electron.launch({
      executablePath: program ?? "",
      args: [root],
      env: { ...(process.env as Record<string, string>), HOPLINE_DATA: data },
    });
    page = await app.firstWindow();
  });
  test.afterEach(async () => {
    await app.close();
    rmSync(data, { recursive: true, force: true });
  });

  test("the app starts in one window and shows the demo", async () => {
    await page.waitForLoadState();
    expect(page.url()).toBe("hopline-app://app/index.html");
    expect(await page.evaluate(() => hoplineHost.kind)).toBe("electron");
    const started = await page.evaluate(() => hoplineHost.startFile());
    expect(started).toMatchObject({ ok: true, value: expect.stringContaining("quayside.hopline") });
    const opened = () =>
      app.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows().map((one) => one.getTitle()));
    await expect.poll(opened).toEqual([expect.stringMatching(/^.+ – Hopline$/)]);
  });

  test("[H30] the page is isolated, sandboxed and has no Node", async () => {
    const preferences = await app.evaluate(({ BrowserWindow }) =>
      // Not in the published types, and the one way to read what really holds.
      (
        BrowserWindow.getAllWindows()[0]?.webContents as unknown as {
          getLastWebPreferences(): Record<string, unknown>;
        }
      ).getLastWebPreferences(),
    );
    expect(preferences).toMatchObject({
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      webSecurity: true,
      webviewTag: false,
    });
    const reach = await page.evaluate(() => [typeof globalThis.process, "require" in globalThis]);
    expect(reach).toEqual(["undefined", false]);
  });

  test("[H33] the page can't be led away, and opens no windows", async () => {
    await page.evaluate(() => {
      window.open("https://example.com/");
      location.href = "https://example.com/";
    });
    expect(await page.evaluate(() => location.href)).toBe("hopline-app://app/index.html");
    expect(app.windows()).toHaveLength(1);
  });

  test("[H38] a paper becomes a PDF", async () => {
    const path = join(data, "paper.pdf");
    const printed = await page.evaluate(
      (to) =>
        hoplineHost.printPdf({
          job: "one",
          suggestedName: "paper.pdf",
          // The letters of the second are none of the paper typeface, so that Electron has to set it.
          pages: ["Paper", "舞台"].map((words) => ({
            width: 100,
            height: 50,
            svg: `<svg viewBox="0 0 100 50"><text x="10" y="10" font-size="5">${words}</text></svg>`,
          })),
          facts: { title: "Paper", author: "", date: "2026-11-26", outline: [] },
          path: to,
        }),
      path,
    );
    expect(printed).toEqual({ ok: true, value: path });
  });
});
