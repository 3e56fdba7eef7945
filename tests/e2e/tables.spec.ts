/** The lists: an input list pasted as from a spreadsheet and undone, cells typed, filled, refused and patched. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Locator, Page } from "@playwright/test";
import { id, saveType, type Show, type TypeId } from "#engine";
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

test("a list with headings goes by them, wherever it is pasted; the menu is about cells, and gives the keys back", async ({
  app: { page },
}) => {
  await page.keyboard.press("Alt+l");
  const grid = page.getByRole("grid", { name: "Inputs" });
  await expect(grid).toBeFocused();
  const rows = Number(await grid.getAttribute("aria-rowcount"));
  await paste(page, "Ch\tInstrument\tStage box\n47\tGong\tTruck box 16\n48\tHarp\tTruck box 15");
  const dialog = page.getByRole("dialog", { name: "Import inputs" });
  await expect(dialog.getByRole("combobox", { name: "Ch is" })).toHaveText(/All consoles’ ch/);
  await expect(dialog.getByRole("button", { name: "Import 2 rows" })).toBeFocused();
  await page.keyboard.press("Enter");
  await expect(grid).toHaveAttribute("aria-rowcount", String(rows + 2));
  await expect(foot(page)).toContainText("2 rows added.");
  // All chosen cells of a column are typed at once, without the row for new ones.
  await grid.focus();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ControlOrMeta+Shift+ArrowDown");
  await page.keyboard.type("line");
  await page.keyboard.press("ControlOrMeta+Enter");
  await expect(foot(page)).toContainText(`rows changed.`);
  await expect(page.getByText(/unfinished/)).toHaveCount(0);
  await page.getByRole("menubar").getByRole("menuitem", { name: "Edit" }).click();
  await page.getByRole("menuitem", { name: /^Copy the cells/ }).click();
  await expect(grid).toBeFocused();
  expect(await page.evaluate(() => navigator.clipboard.readText())).toMatch(/^line\r?\nline/);
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
  await expect(dialog).toContainText("1 channel can be patched.");
  await expect(dialog.getByRole("row").nth(1)).toContainText("Channel 90 takes Link 1 in 1");
  await dialog.getByRole("button", { name: "Make 1 setting" }).click();
  await page.getByRole("button", { name: "Patch channels to their sources…" }).click();
  await expect(dialog).not.toContainText("can be patched");
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
    "2 inputs to add, 1 input to change, 1 cell can’t be read and is left out.",
  );
  const told = dialog.getByRole("region", { name: "What would change" }).getByRole("row");
  await expect(told.filter({ hasText: "brush" })).toContainText(/^3Kind/);
  await expect(told.filter({ hasText: `was ${before.sources[0]!.kind}` })).toHaveText(/^1KindDI/);
  await expect(told.filter({ hasText: "Guest fiddle" })).toHaveText("2SourceGuest fiddlenew");
  await expect(dialog.getByRole("combobox", { name: "Box is" })).toHaveValue("2");
  await expect(dialog.getByRole("combobox", { name: "Stand is" })).toHaveValue("");
  // The keys are where the work goes on.
  await expect(dialog.getByRole("button", { name: "Import 3 rows" })).toBeFocused();
  await page.keyboard.press("Enter");
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

test("the matrix of members: space and paste set cells, undo takes them back", async ({
  app: { page, showFile },
}) => {
  const grid = await openList(page, "Members");
  await page.getByRole("combobox", { name: "Console whose mixes are shown" }).selectOption("Monitors");
  const [first] = readShow(showFile).mixes.filter(
    ({ console: desk }) => readShow(showFile).devices.find(({ id }) => id === desk)?.name === "Monitors",
  );
  const taps = async (): Promise<readonly (string | undefined)[]> => {
    const { mixes } = await saved(page, showFile);
    const { members } = mixes.find(({ id }) => id === first!.id)!;
    return [1, 2, 3].map(
      (channel) => members.find(({ group, number }) => group === "ch" && number === channel)?.tap,
    );
  };
  const before = await taps();
  await grid.focus();
  // Past the channel and its name stands the first mix.
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await paste(page, "post\r\npre\r\npost");
  expect(await taps()).toEqual(["post", "pre", "post"]);
  // All three go where the cell of the cursor goes: from post to pre.
  await grid.focus();
  await page.keyboard.press("Space");
  expect(await taps()).toEqual(["pre", "pre", "pre"]);
  await page.keyboard.press("ControlOrMeta+z");
  await page.keyboard.press("ControlOrMeta+z");
  expect(await taps()).toEqual(before);
});

test("columns are made wider by keys and by the pointer, and stay so in this window", async ({
  app: { page },
}) => {
  const grid = await openList(page, "Inputs");
  const heading = (): Locator => grid.getByRole("columnheader").nth(1);
  const width = async (): Promise<number> => Math.round((await heading().boundingBox())!.width);
  const usual = await width();
  await page.keyboard.press("Alt+Shift+ArrowRight");
  await page.keyboard.press("Alt+Shift+ArrowRight");
  expect(await width()).toBe(usual + 32);
  const grip = heading().getByRole("separator");
  const { x, y } = (await grip.boundingBox())!;
  await page.mouse.move(x + 4, y + 4);
  await page.mouse.down();
  await page.mouse.move(x + 34, y + 4, { steps: 4 });
  await page.mouse.up();
  expect(await width()).toBe(usual + 62);
  await page.reload();
  await openList(page, "Inputs");
  expect(await width()).toBe(usual + 62);
  await heading().getByRole("separator").dblclick();
  expect(await width()).toBe(usual);
});

/** Drops a file onto the window as a file manager does. */
async function dropFile(page: Page, name: string, text: string): Promise<void> {
  await page.evaluate(
    ([fileName, content]) => {
      const data = new DataTransfer();
      data.items.add(new File([content!], fileName!));
      document.body.dispatchEvent(
        new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }),
      );
    },
    [name, text],
  );
}

test("a dropped CSV file opens the import of the list that its headings are of, which can be changed", async ({
  app: { page },
}) => {
  await openList(page, "Outputs");
  await dropFile(page, "cables.csv", "Tag,Length\r\nL1,12\r\n");
  const dialog = page.getByRole("dialog", { name: "Import cables" });
  await expect(dialog.getByRole("region", { name: "What would change" })).toContainText("12");
  await dialog.getByRole("combobox", { name: "List to import into" }).selectOption("Devices");
  await expect(page.getByRole("dialog", { name: "Import devices" })).toBeVisible();
  await page.keyboard.press("Escape");
  await dropFile(page, "notes.docx", "x");
  await expect(page.getByRole("region", { name: /Messages/ })).toContainText("can be dropped here");
});

test("a dropped device type opens among the types", async ({ app: { page, showFile } }) => {
  const [type] = readShow(showFile).types;
  // A show that comes after it would take the place of what is in the making.
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Quayside Winter Concert");
  const guest = { ...type!, id: id<TypeId>("guest-box"), name: "Guest box" };
  await dropFile(page, "guest.hopline-type", saveType(guest));
  await expect(page.getByRole("main", { name: "Device types" })).toContainText("Guest box");
});
