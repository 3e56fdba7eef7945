/** Killed in the middle of an edit, window and host at once: what was typed comes back. */
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  realpathSync,
  rmSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test as base, type Page } from "@playwright/test";
import type { Recovery } from "#engine";
import { DEMO, startHost } from "../host/support/app.ts";
import { expect, saveState } from "./app.ts";

/** A browser and a host that can be killed, and started again on the same folders. */
interface Machine {
  start(): Promise<Page>;
  /** As a power cut ends them: at once, and nothing is said to anybody. */
  kill(): Promise<void>;
  /** When the one recovery copy was written, by the host's clock; null: there is none. */
  copyWritten(): number | null;
}

const test = base.extend<{ machine: Machine }>({
  machine: async ({ playwright, launchOptions }, use) => {
    const folder = realpathSync(mkdtempSync(join(tmpdir(), "hopline-killed-")));
    const [documents, data] = [join(folder, "documents"), join(folder, "data")];
    mkdirSync(documents);
    const file = join(documents, "quayside.hopline");
    copyFileSync(DEMO, file);
    let kill = (): Promise<unknown> => Promise.resolve();
    await use({
      start: async () => {
        const host = await startHost(file, { documents, data });
        const browser = await playwright.chromium.launchServer(launchOptions);
        kill = () => Promise.all([browser.kill(), host.kill()]);
        const window = await playwright.chromium.connect(browser.wsEndpoint());
        const page = await window.newPage({ viewport: { width: 1440, height: 900 } });
        await page.goto(host.address);
        return page;
      },
      kill: async () => void (await kill()),
      copyWritten: () => {
        const recovery = join(data, "recovery");
        try {
          const [name] = readdirSync(recovery).filter((each) => each.endsWith(".json"));
          if (name === undefined) return null;
          return (JSON.parse(readFileSync(join(recovery, name), "utf8")) as Recovery).writtenAt;
        } catch {
          return null;
        }
      },
    });
    await kill();
    rmSync(folder, { recursive: true, force: true });
  },
});

async function toInputs(page: Page): Promise<void> {
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Quayside Winter Concert");
  await page.keyboard.press("Alt+l");
  await page.getByRole("tab", { name: "Inputs" }).click();
  await page.getByRole("grid", { name: "Inputs" }).focus();
}

const firstCell = (page: Page, row = 0) =>
  page.getByRole("grid", { name: "Inputs" }).locator(`[data-row="${row}"]`).getByRole("gridcell").first();

/** Remembers in the page when it was first edited, and the longest that it had no turn since: a busy machine's doing. */
async function timeEdits(page: Page): Promise<void> {
  await page.evaluate(() => {
    const timed = globalThis as typeof globalThis & { edited?: number; pause?: number };
    let last = performance.now();
    timed.pause = 0;
    const turn = (): void => {
      timed.pause = Math.max(timed.pause!, performance.now() - last);
      last = performance.now();
      requestAnimationFrame(turn);
    };
    requestAnimationFrame(turn);
    addEventListener("keydown", (event) => event.key === "Enter" && (timed.edited ??= Date.now()), true);
  });
}

const editTimes = (page: Page): Promise<{ edited: number; pause: number }> =>
  page.evaluate(() => {
    const { edited = 0, pause = 0 } = globalThis as typeof globalThis & { edited?: number; pause?: number };
    return { edited, pause };
  });

test("a typed cell is kept within a second, and one that isn't finished with it; both are offered back after the kill", async ({
  machine,
}) => {
  test.slow();
  const page = await machine.start();
  await toInputs(page);
  await timeEdits(page);
  await page.keyboard.type("Kick inside");
  await page.keyboard.press("Enter");
  await expect.poll(machine.copyWritten, { intervals: [20], timeout: 15_000 }).not.toBeNull();
  const written = machine.copyWritten()!;
  const { edited, pause } = await editTimes(page);
  // A word that isn't finished stands in the next cell.
  await page.keyboard.type("Kick ou");
  await expect.poll(machine.copyWritten, { intervals: [20], timeout: 15_000 }).not.toBe(written);
  await machine.kill();
  expect(written - edited, "from the edit to the copy").toBeLessThan(1_000 + pause);

  const again = await machine.start();
  const offer = again.getByRole("alertdialog", { name: "Unsaved work from last time" });
  await expect(offer).toContainText("Quayside Winter Concert");
  await offer.getByRole("button", { name: "Open" }).click();
  await toInputs(again);
  await expect(firstCell(again)).toHaveText("Kick inside");
  await expect(firstCell(again, 1)).toHaveText("Kick ou");
  await expect(saveState(again)).toHaveText("changes not saved");
  // The program that was killed is no other window.
  await expect(again.getByRole("status", { name: "News of the file" })).toBeEmpty();
});

test("edits without a pause are kept within five seconds", async ({ machine }) => {
  test.slow();
  const page = await machine.start();
  await toInputs(page);
  // A word that isn't finished would be lost with the window, which asks for it as for an edit.
  await page.keyboard.type("Kick ou");
  await expect(page).toHaveTitle("• Quayside Winter Concert – Hopline");
  await page.keyboard.press("Escape");
  await expect(page).toHaveTitle("Quayside Winter Concert – Hopline");
  await timeEdits(page);
  for (let n = 1; machine.copyWritten() === null && n < 1000; n++) {
    await page.keyboard.type(`V${n}`);
    await page.keyboard.press("Enter");
    // To and fro, so that there is always a cell to type into.
    await page.keyboard.press("ArrowUp");
  }
  const written = machine.copyWritten();
  const { edited, pause } = await editTimes(page);
  await machine.kill();
  expect(written! - edited, "from the first edit to the copy").toBeLessThan(5_000 + pause);

  const again = await machine.start();
  await again
    .getByRole("alertdialog", { name: "Unsaved work from last time" })
    .getByRole("button", { name: "Open" })
    .click();
  await toInputs(again);
  await expect(firstCell(again)).toHaveText(/^V\d+$/);
});
