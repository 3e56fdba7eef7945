import { fileURLToPath } from "node:url";
import { defineConfig } from "@playwright/test";
import { findBrowser, sandboxSwitches } from "../electron/services/find-browser.mjs";

const browser = findBrowser();
const root = fileURLToPath(new URL("..", import.meta.url));

export default defineConfig({
  testDir: `${root}/tests/e2e`,
  outputDir: `${root}/test-results/e2e`,
  testMatch: "**/*.spec.ts",
  globalSetup: fileURLToPath(new URL("playwright-setup.ts", import.meta.url)),
  forbidOnly: true,
  fullyParallel: false,
  // Each has a host, a browser and a profile of its own, and waits for them much of the time.
  workers: 2,
  timeout: 60_000,
  expect: { timeout: 10_000 },
  reporter: [["list"], ["json", { outputFile: `${root}/test-results/playwright.json` }]],
  use: {
    viewport: { width: 1440, height: 900 },
    launchOptions: {
      ...(browser === undefined ? {} : { executablePath: browser }),
      args: sandboxSwitches(),
    },
    screenshot: "only-on-failure",
    // A trace of every test costs a tenth of the time: `--trace on` where one is wanted.
    trace: "off",
  },
});
