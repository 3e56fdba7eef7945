/** Two windows on one file, and a file that others change: told before anything is saved. */
import { rmSync, writeFileSync } from "node:fs";
import type { Page } from "@playwright/test";
import { startHost } from "../host/support/app.ts";
import { expect, menu, readShow, test } from "./app.ts";

const news = (page: Page) => page.getByRole("status", { name: "News of the file" });
const title = (page: Page) => page.getByRole("heading", { level: 1 });
/** The window asks when the user comes to it; the test's pages are never left. */
const come = (page: Page) => page.evaluate(() => dispatchEvent(new Event("focus")));

test("a second window on the file, of another program, is told in both, until it goes", async ({
  app: { page, showFile, documents, data },
  context,
}) => {
  await expect(title(page)).toHaveText("Quayside Winter Concert");
  await expect(news(page)).toBeEmpty();
  const second = await startHost(showFile, { documents, data });
  try {
    const other = await context.newPage();
    await other.goto(second.address);
    await expect(news(other)).toContainText("also open in another window");
    await come(page);
    await expect(news(page)).toContainText("also open in another window");
    await expect(news(page).getByRole("button", { name: "Save as…" })).toBeVisible();
    await news(page).getByRole("button", { name: "Hide this" }).click();
    await expect(news(page)).toBeEmpty();
    // A reload is not another window.
    await other.close();
    await page.reload();
    await expect(title(page)).toHaveText("Quayside Winter Concert");
    await come(page);
    await expect(news(page)).toBeEmpty();
  } finally {
    await second.kill();
  }
});

test("a file that changed on disk is told with its age; reload takes it", async ({
  app: { page, showFile },
}) => {
  await expect(title(page)).toHaveText("Quayside Winter Concert");
  writeFileSync(showFile, JSON.stringify({ ...readShow(showFile), title: "Theirs" }));
  await come(page);
  await expect(news(page)).toContainText(/“quayside\.hopline” was changed on disk \d+ s ago\./);
  await news(page).getByRole("button", { name: "Reload" }).click();
  await expect(title(page)).toHaveText("Theirs");
  await expect(news(page)).toBeEmpty();
});

test("with changes of one's own nothing is dropped unasked; a file that is gone is told", async ({
  app: { page, showFile },
}) => {
  await menu(page, "Edit", "Rename show…");
  await page.getByRole("textbox", { name: "Title of the show" }).fill("Mine");
  await page.getByRole("button", { name: "Rename" }).click();
  writeFileSync(showFile, JSON.stringify({ ...readShow(showFile), title: "Theirs" }));
  await come(page);
  await news(page).getByRole("button", { name: "Choose…" }).click();
  const question = page.getByRole("alertdialog", { name: /has changed on disk/ });
  await question.getByRole("button", { name: "Cancel" }).click();
  await expect(title(page)).toHaveText("Mine");
  rmSync(showFile);
  await come(page);
  await expect(news(page)).toContainText("no longer where it was");
  await news(page).getByRole("button", { name: "Save as…" }).click();
  await expect(page.getByRole("dialog", { name: "Save the show" })).toBeVisible();
});
