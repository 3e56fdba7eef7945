/** When outputs arrive: the picture of a group, and a group made from what is looked at. */
import { expect, goTo, openPanel, strip, test } from "./app.ts";

test("a group's arrivals stand on one axis, the latest last, and lead to their traces", async ({
  app: { page },
}) => {
  await openPanel(page, "Delays");
  const panel = page.getByRole("tabpanel", { name: "Delays" });
  await panel.getByRole("combobox", { name: "Outputs to compare" }).selectOption({ label: "Wedges" });
  await expect(panel).toContainText("0.063 ms apart");
  // 3 samples of 48 kHz are the 62.5 µs that a link more takes.
  await expect(panel).toContainText("3.0 samples");
  const rows = panel.getByRole("list", { name: /^Arrivals of Wedges/ }).getByRole("button");
  await expect(rows).toHaveCount(12);
  const bars = await rows
    .locator(".delay-mark")
    .evaluateAll((marks) => marks.map((mark) => mark.getBoundingClientRect().x));
  expect(bars).toEqual([...bars].sort((a, b) => a - b));
  expect(bars.at(-1)! - bars[0]!).toBeGreaterThan(40);
  await rows.last().click();
  await expect(strip(page)).toContainText("Band A");
});

test("a group is made from a jack, named, widened, undone step by step and taken out", async ({
  app: { page },
}) => {
  await goTo(page, "Stage left Out 9");
  await page.keyboard.press("ControlOrMeta+g");
  const panel = page.getByRole("tabpanel", { name: "Delays" });
  const choice = panel.getByRole("combobox", { name: "Outputs to compare" });
  await choice.selectOption({ label: "Stage left Out 9" });
  await panel.getByRole("textbox", { name: "Name of the group" }).fill("Front pair");
  await page.keyboard.press("Enter");
  await expect(choice.getByRole("option", { name: "Front pair" })).toBeAttached();
  await goTo(page, "Band A Out 1");
  await panel.getByRole("button", { name: "Add jacks" }).click();
  await expect(panel.getByRole("list", { name: /^Arrivals of Front pair/ }).getByRole("button")).toHaveCount(
    2,
  );
  await expect(panel).toContainText("ms apart");
  await page.keyboard.press("ControlOrMeta+z");
  await expect(panel.getByRole("list", { name: /^Arrivals of Front pair/ }).getByRole("button")).toHaveCount(
    1,
  );
  await panel.getByRole("button", { name: "Take out" }).click();
  await expect(choice.getByRole("option", { name: "Front pair" })).not.toBeAttached();
});
