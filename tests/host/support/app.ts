/**
 * The whole app for an end-to-end test: a browser host with folders of its own, a copy of a show in them, and a page
 * that has opened it.
 */
import { spawn } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, realpathSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { test as base } from "@playwright/test";
import type { Page } from "@playwright/test";

const root = fileURLToPath(new URL("../../..", import.meta.url));
export const DEMO = join(root, "assets", "demo", "quayside.hopline");

export interface App {
  readonly page: Page;
  /** The user's documents folder; the show is in it. */
  readonly documents: string;
  /** The copy that the page opened; it can be saved over. */
  readonly showFile: string;
  /** The app's own folder. */
  readonly data: string;
  /** Stops the host, as a crash would: at once, and with nothing said to the page. */
  kill(): Promise<void>;
}

interface Options {
  /** The show to open, which is copied first. */
  readonly show: string;
}

export const test = base.extend<Options & { app: App }>({
  show: [DEMO, { option: true }],
  app: async ({ page, show }, use) => {
    const folder = realpathSync(mkdtempSync(join(tmpdir(), "hopline-e2e-")));
    const documents = join(folder, "documents");
    mkdirSync(documents);
    const showFile = join(documents, basename(show));
    copyFileSync(show, showFile);
    const data = join(folder, "data");
    const host = await startHost(showFile, { documents, data });
    try {
      await page.goto(host.address);
      // The page is loaded before the app is: a key that is pressed in between goes nowhere.
      await page.locator("#root > *").first().waitFor({ state: "attached" });
      await use({ page, documents, showFile, data, kill: host.kill });
    } finally {
      await host.kill();
      rmSync(folder, { recursive: true, force: true });
    }
  },
});

export { expect } from "@playwright/test";

/** Starts the built program and waits for its address. */
export async function startHost(
  file: string,
  { documents, data }: { readonly documents: string; readonly data: string },
) {
  const child = spawn(
    process.execPath,
    [join(root, "dist", "browser-host", "server.js"), file, "--no-open"],
    {
      env: { ...process.env, HOPLINE_DATA: data, HOPLINE_DOCUMENTS: documents },
      stdio: ["ignore", "pipe", "pipe"],
    },
  );
  const ended = new Promise<void>((resolve) => child.on("close", () => resolve()));
  const address = await new Promise<string>((resolve, reject) => {
    let text = "";
    const read = (chunk: Buffer) => {
      text += chunk.toString();
      const found = /http:\S+/.exec(text)?.[0];
      if (found) resolve(found);
    };
    child.stdout.on("data", read);
    child.stderr.on("data", read);
    child.on("close", () => reject(new Error(`the host ended before it had an address:\n${text}`)));
  });
  const kill = async () => {
    child.kill("SIGKILL");
    await ended;
  };
  return { address, kill };
}
