/** Routing a block in the window: seen before it is made, made in one step, taken back in one step. */
import type { Locator, Page } from "@playwright/test";
import { canvas, expect, openPanel, strip, test } from "./app.ts";

async function routeDialog(page: Page): Promise<Locator> {
  await canvas(page)
    .getByRole("group", { name: /^Monitors/ })
    .first()
    .waitFor();
  await page.keyboard.press("Alt+r");
  return page.getByRole("dialog", { name: "Route a block" });
}

test("another console's mixes to a stage box's jacks, and back again", async ({ app: { page } }) => {
  const dialog = await routeDialog(page);
  await dialog.getByLabel("From: device").selectOption("Monitors");
  await dialog.getByLabel("To: device").selectOption("Ears rack");
  await dialog.getByLabel("From: first number").fill("17");
  await expect(dialog.getByText(/^\d settings?, in the order of the signal$/)).toBeVisible();
  // What the jacks have now is said before it goes.
  await expect(dialog.getByText(/Ears rack Out 1–8 have .* now, which goes\./)).toBeVisible();
  await dialog.getByRole("button", { name: /^Make \d settings?$/ }).click();
  await expect(dialog).toBeHidden();
  await expect(strip(page)).toContainText("Mix 17");
  await page.keyboard.press("ControlOrMeta+z");
  await openPanel(page, "Outputs");
  await expect(strip(page)).not.toContainText("Mix 17");
});

test("what can't be routed says why, and nothing can be made", async ({ app: { page } }) => {
  const dialog = await routeDialog(page);
  await dialog.getByLabel("From: device").selectOption("Truck");
  await dialog.getByLabel("To: device").selectOption("Stage left");
  await dialog.getByLabel("To: first number").fill("1");
  await expect(dialog.getByText(/No setting leads from Truck Mix 1/)).toBeVisible();
  await expect(dialog.getByRole("button", { name: "Make the settings" })).toBeDisabled();
});
