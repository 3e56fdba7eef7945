/** Files: nothing is lost unasked, a bad file is refused, a save holds what is on the screen. */
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import { dragDevice, expect, menu, readShow, saveState, test } from "./app.ts";

const title = (page: Page) => page.getByRole("heading", { level: 1 });
const modified = (page: Page) => page.getByRole("img", { name: "has unsaved changes" });

const placeOf = (file: string, name: string) =>
  readShow(file).devices.find((device) => device.name === name)!.at;

async function rename(page: Page, to: string): Promise<void> {
  await menu(page, "Edit", "Rename show…");
  await page.getByRole("textbox", { name: "Title of the show" }).fill(to);
  await page.getByRole("button", { name: "Rename" }).click();
  await expect(title(page)).toHaveText(to);
}

test("a moved device is one step, undone and redone, and what is saved is what loads again", async ({
  app: { page, showFile },
}) => {
  const before = placeOf(showFile, "Monitors");
  await dragDevice(page, "Monitors", { x: 60, y: 30 });
  await expect(modified(page)).toBeVisible();
  const edit = page.getByRole("menubar").getByRole("menuitem", { name: "Edit" });
  await edit.click();
  await expect(page.getByRole("menuitem", { name: /^Undo .*Monitors/ })).toBeVisible();
  await page.getByRole("menuitem", { name: /^Undo/ }).click();
  await expect(modified(page)).toHaveCount(0);
  await page.keyboard.press("ControlOrMeta+Shift+z");
  await expect(modified(page)).toBeVisible();

  await page.keyboard.press("ControlOrMeta+s");
  await expect(saveState(page)).toHaveText(/^saved \d+ s ago$/);
  await expect(modified(page)).toHaveCount(0);
  const saved = placeOf(showFile, "Monitors");
  expect(saved).not.toEqual(before);

  await page.reload();
  await expect(title(page)).toHaveText("Quayside Winter Concert");
  await page.keyboard.press("ControlOrMeta+s");
  await expect(saveState(page)).toHaveText(/^saved/);
  expect(placeOf(showFile, "Monitors")).toEqual(saved);
});

test("unsaved changes are asked about: cancel stays, don't save leaves, save writes", async ({
  app: { page, showFile },
}) => {
  await rename(page, "Second night");
  const question = page.getByRole("alertdialog", { name: "Save the changes to “Second night”?" });

  await menu(page, "File", "New show");
  await question.getByRole("button", { name: "Cancel" }).click();
  await expect(title(page)).toHaveText("Second night");
  await expect(modified(page)).toBeVisible();

  await menu(page, "File", "New show");
  await question.getByRole("button", { name: "Save", exact: true }).click();
  await expect(title(page)).toHaveText("Untitled show");
  expect(readShow(showFile).title).toBe("Second night");
  await expect(saveState(page)).toHaveText("never saved");
  await expect(page.getByRole("main", { name: "Signal flow" })).toContainText("This show is empty.");
});

test("a file that is no show is refused in one line, and the present show stays", async ({
  app: { page, documents },
}) => {
  writeFileSync(join(documents, "broken.hopline"), '{ "format": "hopline.show", "version": 1, "id": 5 }');
  await rename(page, "Present show");
  await page.keyboard.press("ControlOrMeta+s");
  await page.keyboard.press("ControlOrMeta+o");
  const chooser = page.getByRole("dialog", { name: "Open a show" });
  await chooser.getByRole("button", { name: "broken.hopline" }).click();
  await chooser.getByRole("button", { name: "Open", exact: true }).click();
  const message = page.getByRole("region", { name: /Messages/ }).getByRole("listitem");
  await expect(message).toContainText("“broken.hopline” can't be opened.");
  await expect(title(page)).toHaveText("Present show");
});

test("saving under a new name goes through the app's own chooser", async ({ app: { page, documents } }) => {
  await menu(page, "File", "Save as…");
  const chooser = page.getByRole("dialog", { name: "Save the show" });
  await chooser.getByRole("textbox", { name: "Name" }).fill("copy");
  await chooser.getByRole("button", { name: "Save", exact: true }).click();
  await expect(saveState(page)).toHaveText(/^saved/);
  expect(readShow(join(documents, "copy.hopline")).title).toBe("Quayside Winter Concert");

  await menu(page, "File", "Save as…");
  await chooser.getByRole("textbox", { name: "Name" }).fill("quayside");
  await chooser.getByRole("button", { name: "Save", exact: true }).click();
  await expect(chooser.getByRole("alert")).toContainText("is there already");
  await chooser.getByRole("button", { name: "Cancel" }).click();
});

/** Folders are listed no sooner than they are let go. */
async function holdFolders(page: Page): Promise<() => void> {
  let known: () => void = () => undefined;
  const asked = new Promise<void>((resolve) => (known = resolve));
  await page.route("**/listFolder", async (route) => {
    await asked;
    await route.continue();
  });
  return known;
}

test("Enter in the chooser saves, though the folder isn't known yet when it is pressed", async ({
  app: { page, documents },
}) => {
  mkdirSync(join(documents, "Tour"));
  let known = await holdFolders(page);
  await page.keyboard.press("ControlOrMeta+Shift+s");
  const chooser = page.getByRole("dialog", { name: "Save the show" });
  await expect(chooser.getByRole("textbox", { name: "Name" })).toBeFocused();
  await page.keyboard.type("quick");
  await page.keyboard.press("Enter");
  await expect(chooser).toBeVisible();
  known();
  await expect(saveState(page)).toHaveText(/^saved/);
  expect(readShow(join(documents, "quick.hopline")).title).toBe("Quayside Winter Concert");

  // Nor does it save in the folder before.
  await page.keyboard.press("ControlOrMeta+Shift+s");
  await chooser.getByRole("button", { name: "quick.hopline" }).waitFor();
  known = await holdFolders(page);
  await chooser.getByRole("button", { name: "Tour" }).click();
  await chooser.getByRole("textbox", { name: "Name" }).fill("night one");
  await page.keyboard.press("Enter");
  await expect(chooser).toBeVisible();
  known();
  await expect(chooser).toBeHidden();
  await expect.poll(() => existsSync(join(documents, "Tour", "night one.hopline"))).toBe(true);
  expect(existsSync(join(documents, "night one.hopline"))).toBe(false);
});

test("a folder is typed before any is known, and opens at the first of two presses", async ({
  app: { page, documents },
}) => {
  mkdirSync(join(documents, "Tour"));
  writeFileSync(join(documents, "Tour", "night one.hopline"), "{}");
  const known = await holdFolders(page);
  await page.keyboard.press("ControlOrMeta+o");
  const chooser = page.getByRole("dialog", { name: "Open a show" });
  const folder = chooser.getByRole("textbox", { name: "Folder" });
  await expect(folder).toBeFocused();
  await page.keyboard.type(documents);
  known();
  await chooser.getByRole("button", { name: "Tour" }).waitFor();
  await expect(folder).toBeFocused();
  await page.keyboard.type("/Tour");
  await expect(folder).toHaveValue(join(documents, "Tour"));
  await page.keyboard.press("Enter");
  const show = chooser.getByRole("button", { name: "night one.hopline" });
  await expect(show).toBeVisible();
  await chooser.getByRole("button", { name: "Up one folder" }).click();
  await expect(folder).toHaveValue(documents);
  // The second press would be on what has come in the folder's place.
  await chooser.getByRole("button", { name: "Tour" }).dblclick({ delay: 20 });
  await expect(show).toHaveAttribute("aria-pressed", "false");
  await expect(folder).toHaveValue(join(documents, "Tour"));
  await expect(chooser).toBeVisible();
});

test("a file that changed on disk isn't overwritten unasked", async ({ app: { page, showFile } }) => {
  await rename(page, "Mine");
  const theirs = { ...readShow(showFile), title: "Theirs" };
  writeFileSync(showFile, JSON.stringify(theirs));
  await page.keyboard.press("ControlOrMeta+s");
  const question = page.getByRole("alertdialog", { name: /has changed on disk/ });
  await expect(saveState(page)).toHaveText("not saved: changed on disk");
  expect(readShow(showFile).title).toBe("Theirs");
  await question.getByRole("button", { name: "Overwrite with mine" }).click();
  await expect(saveState(page)).toHaveText(/^saved/);
  expect(readShow(showFile).title).toBe("Mine");
});

test("work that was not saved is offered back after the window was lost", async ({
  app: { page, showFile },
}) => {
  const kept = page.waitForResponse((response) => response.url().endsWith("/writeRecovery"));
  await rename(page, "Before the crash");
  await kept;
  page.on("dialog", (dialog) => void dialog.accept());
  await page.reload();
  const offer = page.getByRole("alertdialog", { name: "Unsaved work from last time" });
  await expect(offer).toContainText("Before the crash");
  await offer.getByRole("button", { name: "Open" }).click();
  await expect(title(page)).toHaveText("Before the crash");
  await expect(modified(page)).toBeVisible();
  expect(readShow(showFile).title).toBe("Quayside Winter Concert");
});

test("a demo opens as a show of its own, so that saving asks where", async ({ app: { page } }) => {
  await page.keyboard.press("ControlOrMeta+o");
  await page
    .getByRole("dialog", { name: "Open a show" })
    .getByRole("button", { name: /^Quayside a whole concert/ })
    .click();
  await expect(saveState(page)).toHaveText("never saved");
  await page.keyboard.press("ControlOrMeta+s");
  await expect(page.getByRole("dialog", { name: "Save the show" })).toBeVisible();
});

test("a revision marked is one step, and the file keeps what the show was", async ({
  app: { page, showFile },
}) => {
  await menu(page, "File", "Mark a revision…");
  const dialog = page.getByRole("dialog", { name: "Mark a revision" });
  await dialog.getByRole("textbox", { name: "Name of the revision" }).fill("Doors");
  await dialog.getByRole("button", { name: "Mark" }).click();
  await rename(page, "Second night");
  await page.keyboard.press("ControlOrMeta+s");
  await expect(saveState(page)).toHaveText(/^saved/);
  const [first, doors] = readShow(showFile).revisions;
  expect(first).not.toHaveProperty("was");
  // What differs from the show as it is: the title, and no more.
  expect(doors).toMatchObject({ name: "Doors", was: { title: "Quayside Winter Concert" } });
  await page.keyboard.press("ControlOrMeta+z");
  await page.keyboard.press("ControlOrMeta+z");
  await expect(page.getByRole("menubar")).toBeVisible();
  await page.keyboard.press("ControlOrMeta+s");
  await expect.poll(() => readShow(showFile).revisions.length).toBe(1);
});
