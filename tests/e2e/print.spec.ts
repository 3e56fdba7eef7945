/** Printing: the diagram of what is on the screen, as a PDF beside the show. */
import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { expect, menu, test } from "./app.ts";

test("the diagram is printed beside the show, on one sheet of its paper, and a second print takes another name", async ({
  app: { page, showFile },
}) => {
  const folder = dirname(showFile);
  const first = join(folder, "Quayside Winter Concert signal flow.pdf");
  await menu(page, "File", /^Print diagram to PDF/);
  await expect(page.getByText(`The diagram is in ${first}`)).toBeVisible({ timeout: 30_000 });
  const pdf = readFileSync(first).toString("latin1");
  expect(pdf.startsWith("%PDF-")).toBe(true);
  expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  // A3 lying, by ISO 216: 420 × 297 mm in points of 1/72 inch, as near as the browser rounds.
  const [, width, height] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/.exec(pdf)!;
  expect(Math.abs(Number(width) - (420 / 25.4) * 72)).toBeLessThan(1.5);
  expect(Math.abs(Number(height) - (297 / 25.4) * 72)).toBeLessThan(1.5);

  const second = join(folder, "Quayside Winter Concert signal flow (2).pdf");
  await page.keyboard.press("ControlOrMeta+p");
  await expect(page.getByText(`The diagram is in ${second}`)).toBeVisible({ timeout: 30_000 });
  expect(existsSync(second)).toBe(true);
});
