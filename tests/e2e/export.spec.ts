/** What leaves the app for phones and for other programs. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import { expect, test } from "./app.ts";

async function command(page: Page, name: string): Promise<void> {
  await page.keyboard.press("ControlOrMeta+Shift+p");
  await page.getByRole("combobox", { name: "Go to anything" }).fill(`>${name}`);
  await page.getByRole("option").first().waitFor();
  await page.keyboard.press("Enter");
}

test("the hand-out and the wiring are written beside the show, and it is said where", async ({
  app: { page, documents },
}) => {
  await expect(page.getByRole("banner").getByText("Quayside Winter Concert")).toBeVisible();
  const wanted = [
    [
      "Export hand-out for phones",
      "Quayside Winter Concert hand-out.html",
      "The hand-out is in",
      "<!doctype html>",
    ],
    [
      "Export wiring as GraphML",
      "Quayside Winter Concert wiring.graphml",
      "The wiring as GraphML is in",
      "<?xml",
    ],
    ["Export wiring as DOT", "Quayside Winter Concert wiring.dot", "The wiring as DOT is in", "digraph"],
  ] as const;
  for (const [name, file, said, start] of wanted) {
    await command(page, name);
    await expect(page.getByText(said)).toBeVisible();
    expect(readdirSync(documents)).toContain(file);
    expect(readFileSync(join(documents, file), "utf8").startsWith(start)).toBe(true);
  }
});
