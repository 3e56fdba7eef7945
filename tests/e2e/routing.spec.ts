/** Routing a block in the window: seen before it is made, made in one step, taken back in one step. */
import type { Locator, Page } from "@playwright/test";
import { fileURLToPath } from "node:url";
import { canvas, expect, openPanel, strip, test } from "./app.ts";

const STARTER = fileURLToPath(new URL("../../assets/demo/starter-club.hopline", import.meta.url));

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
  await expect(dialog.getByText(/^\d settings?, in signal order$/)).toBeVisible();
  // What the jacks have now is said before it goes.
  await expect(dialog.getByText(/^This replaces what Ears rack Out 1–8 get now: .*\.$/)).toBeVisible();
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

test.describe("by drag", () => {
  test.use({ show: STARTER });
  test("a block is dropped on a box's block: what it takes stands by the pointer, and Escape lets go", async ({
    app: { page },
  }) => {
    await page.setViewportSize({ width: 2200, height: 1400 });
    await page.reload();
    await canvas(page)
      .getByRole("group", { name: /^House/ })
      .first()
      .waitFor();
    const cell = async (device: RegExp, group: string, side = 0) => {
      const box = (await canvas(page)
        .getByRole("group", { name: device })
        .first()
        .getByRole("group", { name: group, exact: true })
        .boundingBox())!;
      return { x: box.x + (side === 0 ? 20 : box.width - 20), y: box.y + box.height / 2 };
    };
    const from = await cell(/^House/, "Matrix");
    const to = await cell(/^Stage box/, "Out");
    const drag = async (): Promise<void> => {
      await page.mouse.move(from.x, from.y);
      await page.mouse.down();
      await page.mouse.move(from.x + 60, from.y + 20, { steps: 4 });
      await page.mouse.move(to.x, to.y, { steps: 12 });
    };
    await drag();
    await expect(
      page.getByRole("status").filter({ hasText: "Matrix 1–8 to Out 1–8: 1 setting" }),
    ).toBeVisible();
    await page.keyboard.press("Escape");
    await page.mouse.up();
    await expect(page.getByRole("dialog", { name: "Route a block" })).toBeHidden();
    await drag();
    await page.mouse.up();
    const dialog = page.getByRole("dialog", { name: "Route a block" });
    await expect(dialog.getByText("Link 1 out 1–8 takes Matrix 1–8")).toBeVisible();
    await dialog.getByRole("button", { name: "Make 1 setting" }).click();
    await expect(strip(page)).toContainText("Matrix 1");
  });
});
