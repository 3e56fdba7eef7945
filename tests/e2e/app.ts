/** What the end-to-end tests do over and over in the window, by what a user sees there. */
import { readFileSync } from "node:fs";
import type { Locator, Page } from "@playwright/test";
import type { Show } from "#engine";

export { test, expect, DEMO } from "../host/support/app.ts";

export const canvas = (page: Page): Locator => page.getByRole("main", { name: "Signal flow" });
export const strip = (page: Page): Locator => page.getByRole("region", { name: "Hop strip" });
export const inspector = (page: Page): Locator => page.getByRole("complementary", { name: "Inspector" });
export const saveState = (page: Page): Locator =>
  page
    .getByRole("banner")
    .getByText(/^(as in the file|never saved|changes not saved|saved|saving|not saved)/);

const PANELS = ["Rig", "Sources", "Outputs", "Delays", "Findings"] as const;

/** Opens a panel of the rail. */
export async function openPanel(page: Page, name: (typeof PANELS)[number]): Promise<void> {
  await page.keyboard.press(`Alt+${PANELS.indexOf(name) + 1}`);
  await page.getByRole("tabpanel", { name }).waitFor();
}

/** Goes to something by name, through the search field. */
export async function goTo(page: Page, name: string): Promise<void> {
  await page.keyboard.press("ControlOrMeta+k");
  await page.getByRole("combobox", { name: "Go to anything" }).fill(name);
  await page.getByRole("option").first().waitFor();
  await page.keyboard.press("Enter");
}

export const readShow = (file: string): Show => JSON.parse(readFileSync(file, "utf8")) as Show;

/** Drags the device by its name, as one step. */
export async function dragDevice(page: Page, name: string, by: { x: number; y: number }): Promise<void> {
  const node = canvas(page)
    .getByRole("group", { name: new RegExp(`^${name}\\b`) })
    .first();
  const box = (await node.boundingBox())!;
  const [x, y] = [box.x + Math.min(40, box.width / 2), box.y + Math.min(10, box.height / 2)];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + by.x / 2, y + by.y / 2, { steps: 4 });
  await page.mouse.move(x + by.x, y + by.y, { steps: 4 });
  await page.mouse.up();
}

/** Chooses an entry of the menu bar. */
export async function menu(page: Page, name: string, entry: string | RegExp): Promise<void> {
  await page.getByRole("menubar").getByRole("menuitem", { name }).click();
  await page.getByRole("menu").getByRole("menuitem", { name: entry }).click();
}
