/** The lists: an input list pasted as from a spreadsheet and undone, cells typed, filled, refused and patched. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Locator, Page } from "@playwright/test";
import type { Show } from "#engine";
import { expect, readShow, test } from "./app.ts";

async function openList(page: Page, name: string): Promise<Locator> {
  await page.keyboard.press("Alt+l");
  await page.getByRole("tablist", { name: "Tables" }).getByRole("tab", { name }).click();
  const grid = page.getByRole("grid", { name });
  await grid.focus();
  return grid;
}

async function paste(page: Page, text: string): Promise<void> {
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  await page.evaluate((cells) => navigator.clipboard.writeText(cells), text);
  await page.keyboard.press("ControlOrMeta+v");
}

/** What stands in the row of the cursor. */
const cursorRow = (grid: Locator): Locator =>
  grid.locator("[role=row]:has([data-cursor])").getByRole("gridcell");

async function saved(page: Page, file: string): Promise<Show> {
  await page.keyboard.press("ControlOrMeta+s");
  await expect(page.getByRole("banner").getByText(/^saved/)).toBeVisible();
  return readShow(file);
}

const foot = (page: Page): Locator => page.getByRole("main").getByRole("status");

test("a list of 32 inputs is pasted in one step, and undone in one", async ({ app: { page, showFile } }) => {
  const before = readShow(showFile).sources.length;
  const grid = await openList(page, "Inputs");
  await expect(grid).toHaveAttribute("aria-rowcount", String(before + 2));
  await page.keyboard.press("ControlOrMeta+End");
  await page.keyboard.press("Home");
  const lines = Array.from(
    { length: 32 },
    (_, n) => `Guest ${n + 1}\t${n % 2 ? "DI" : "mic"}\tTruck box ${(n % 16) + 1}\tyes`,
  );
  await paste(page, lines.join("\r\n"));
  await expect(grid).toHaveAttribute("aria-rowcount", String(before + 34));
  await expect(foot(page)).toContainText("32 rows added.");
  const show = await saved(page, showFile);
  expect(
    show.sources.slice(before).map(({ name, kind, at, phantom }) => [name, kind, at.number, phantom]),
  ).toEqual(lines.map((_, n) => [`Guest ${n + 1}`, n % 2 ? "DI" : "microphone", (n % 16) + 1, true]));
  await grid.focus();
  await page.keyboard.press("ControlOrMeta+z");
  await expect(grid).toHaveAttribute("aria-rowcount", String(before + 2));
});

test("cells that can't be read are told before anything is written", async ({ app: { page } }) => {
  const grid = await openList(page, "Inputs");
  await page.keyboard.press("ArrowRight");
  await paste(page, "DI\tStage left 99\nbanjo\tStage left 2");
  const dialog = page.getByRole("alertdialog", { name: "2 cells can’t be read" });
  await expect(dialog.getByRole("row").nth(1)).toContainText("Stage left has no In 99; it has 1–32.");
  await expect(dialog.getByRole("row").nth(2)).toContainText("“banjo”");
  await dialog.getByRole("button", { name: "Cancel the paste" }).click();
  await expect(cursorRow(grid).nth(1)).toHaveText("microphone");
  await expect(page.getByText("changes not saved")).toHaveCount(0);
});

test("typing, Tab, filling down with counting, and undo", async ({ app: { page } }) => {
  const grid = await openList(page, "Inputs");
  await page.keyboard.type("Vox 1");
  await page.keyboard.press("Enter");
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("Shift+ArrowDown");
  await page.keyboard.press("Shift+ArrowDown");
  await page.keyboard.press("ControlOrMeta+d");
  const cell = (row: number): Locator => grid.locator(`[data-row="${row}"]`).getByRole("gridcell").first();
  await expect(cell(0)).toHaveText("Vox 1");
  await expect(cell(2)).toHaveText("Vox 3");
  await page.keyboard.press("ControlOrMeta+z");
  await expect(cell(2)).not.toHaveText("Vox 3");
  await page.keyboard.press("ControlOrMeta+z");
  await expect(cell(0)).not.toHaveText("Vox 1");
});

test("a cell that can't be read keeps its editor open and says why", async ({ app: { page } }) => {
  await openList(page, "Cables");
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await page.keyboard.type("long");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("alert")).toHaveText("“long” is no length, such as 75 or 250 ft.");
  await page.keyboard.press("Escape");
  await expect(page.getByRole("alert")).toHaveCount(0);
});

test("a planned channel is patched to its source after a preview", async ({ app: { page } }) => {
  const grid = await openList(page, "Inputs");
  // Kick in, on the split, goes to channel 90 of front of house, which takes nothing yet.
  await page.keyboard.press("End");
  await page.keyboard.press("ArrowLeft");
  await page.keyboard.press("ArrowLeft");
  await page.keyboard.type("90");
  await page.keyboard.press("Enter");
  await expect(grid.locator('[data-row="0"]')).toContainText("90");
  await page.getByRole("button", { name: "Patch channels to their sources…" }).click();
  const dialog = page.getByRole("dialog", { name: "Patch channels to their sources" });
  await expect(dialog).toContainText("1 channel can be brought.");
  await expect(dialog.getByRole("row").nth(1)).toContainText("Channel 90 takes Link 1 in 1");
  await dialog.getByRole("button", { name: "Make 1 setting" }).click();
  await page.getByRole("button", { name: "Patch channels to their sources…" }).click();
  await expect(dialog).not.toContainText("can be brought");
});

test("a CSV file is imported after a look at what it would change, and exported again", async ({
  app: { page, documents, showFile },
}) => {
  const before = readShow(showFile);
  const grid = await openList(page, "Inputs");
  await page.getByRole("button", { name: "Import inputs…" }).click();
  const dialog = page.getByRole("dialog", { name: "Import inputs" });
  // Semicolons, a box and a jack in columns of their own, a column that is nobody's, a kind that is none.
  const csv = [
    "Instrument;Box;Jack;Mic/DI;Stand",
    "Kick in;Split;1;DI;short",
    "Guest fiddle;Truck box;9;mic;tall",
    "Guest banjo;Truck box;10;brush;tall",
  ].join("\r\n");
  await dialog
    .getByLabel("CSV file")
    .setInputFiles({ name: "guests.csv", mimeType: "text/csv", buffer: Buffer.from(csv) });
  await expect(dialog.getByRole("status")).toHaveText(
    "2 inputs added, 1 input changed, 1 cell can’t be read and is left out.",
  );
  await expect(dialog.getByRole("combobox", { name: "Box is" })).toHaveValue("2");
  await expect(dialog.getByRole("combobox", { name: "Stand is" })).toHaveValue("");
  await dialog.getByRole("button", { name: "Import 3 rows" }).click();
  await expect(grid).toHaveAttribute("aria-rowcount", String(before.sources.length + 4));
  const show = await saved(page, showFile);
  expect(show.sources[0]).toMatchObject({ name: "Kick in", kind: "DI" });
  expect(show.sources.at(-1)).toMatchObject({ name: "Guest banjo", kind: "microphone", at: { number: 10 } });

  await page.getByRole("button", { name: "Export inputs as CSV" }).click();
  await expect(page.getByText(/The list of inputs is in .*inputs\.csv/)).toBeVisible();
  const exported = readFileSync(join(documents, "Quayside Winter Concert inputs.csv"), "utf8");
  expect(exported.split("\r\n")).toHaveLength(show.sources.length + 2);

  await grid.focus();
  await page.keyboard.press("ControlOrMeta+z");
  await expect(grid).toHaveAttribute("aria-rowcount", String(before.sources.length + 2));
});
