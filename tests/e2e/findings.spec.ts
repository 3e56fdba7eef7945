/** The show with faults planted: findings, what they show, and editing a device until one is settled. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, goTo, inspector, openPanel, strip, test } from "./app.ts";

test.use({
  show: join(fileURLToPath(new URL("../..", import.meta.url)), "assets", "demo", "quayside-faults.hopline"),
});

test("a finding's “Show me” lights its path and tells why", async ({ app: { page } }) => {
  await page
    .getByRole("banner")
    .getByRole("button", { name: /^Findings: [1-9]\d* errors?/ })
    .click();
  const panel = page.getByRole("tabpanel", { name: "Findings" });
  const finding = panel.getByRole("article").filter({ hasText: "Loudspeaker processor" }).first();
  const heading = (await finding.getByRole("heading").textContent())!;
  await finding.getByRole("button", { name: /^Show me/ }).click();
  await expect(inspector(page).getByRole("heading", { level: 2 })).toContainText(heading);
  await expect(strip(page)).toContainText("stops here: not wired in this mode");
  await expect(strip(page).getByRole("button", { name: "Loudspeaker processor" }).first()).toBeVisible();
});

test("F8 walks through the findings", async ({ app: { page } }) => {
  await openPanel(page, "Findings");
  const headings = page.getByRole("tabpanel", { name: "Findings" }).getByRole("article").getByRole("heading");
  // The show may still be on its way.
  await headings.nth(1).waitFor();
  const [first, second] = await headings.allTextContents();
  await page.keyboard.press("F8");
  await expect(inspector(page).getByRole("heading", { level: 2 })).toContainText(first!);
  await page.keyboard.press("F8");
  await expect(inspector(page).getByRole("heading", { level: 2 })).toContainText(second!);
});

test("a finding's way out is one step, and undo brings the finding back", async ({ app: { page } }) => {
  await openPanel(page, "Findings");
  const panel = page.getByRole("tabpanel", { name: "Findings" });
  await panel
    .getByRole("article")
    .filter({ hasText: "Loudspeaker processor" })
    .getByRole("button")
    .first()
    .click();
  const title = (await inspector(page).getByRole("heading", { level: 2 }).textContent())!;
  await inspector(page).getByRole("listitem").getByRole("button", { name: /mode/i }).first().click();
  await expect(inspector(page).getByRole("heading", { level: 2 })).toHaveText("This finding is settled.");
  await page.keyboard.press("ControlOrMeta+z");
  await expect(inspector(page).getByRole("heading", { level: 2 })).toHaveText(title);
  await page.keyboard.press("ControlOrMeta+F8");
  await expect(inspector(page).getByRole("heading", { level: 2 })).toHaveText("This finding is settled.");
});

test("a device set right settles its finding, and undo brings it back", async ({ app: { page } }) => {
  const findings = page.getByRole("banner").getByRole("button", { name: /^Findings: / });
  await expect(findings).toHaveAccessibleName(/^Findings: [1-9]/);
  const before = await findings.getAttribute("aria-label");
  await goTo(page, "loudspeaker processor");
  await inspector(page).getByRole("combobox", { name: "Mode" }).selectOption("Eight ways from eight inputs");
  await expect(findings).not.toHaveAccessibleName(before!);
  await page.keyboard.press("ControlOrMeta+z");
  await expect(findings).toHaveAccessibleName(before!);
});

test("“Why?” tells on the spot what the check looks for and what to do", async ({ app: { page } }) => {
  await openPanel(page, "Findings");
  const card = page.getByRole("article").filter({ hasText: "is 15 m too long" });
  await card.getByRole("button", { name: /^Why\?/ }).click();
  const why = page.getByRole("dialog", { name: /^Why: / });
  await expect(why).toContainText("a cable longer than its ends allow");
  await expect(why).toContainText("another kind, a shorter run, a repeater");
  // In the list the reason is cut after three lines.
  await expect(why).toContainText((await card.locator("p").textContent())!);
  await page.keyboard.press("Escape");
  await expect(why).toBeHidden();
  await expect(card.getByRole("button", { name: /^Why\?/ })).toBeFocused();
});

test("a word says what it means when the keyboard comes to it, and Escape leaves the look alone", async ({
  app: { page },
}) => {
  await openPanel(page, "Findings");
  const card = page.getByRole("article").filter({ hasText: "Loudspeaker processor" }).first();
  await card.getByRole("button", { name: /^Show me/ }).click();
  const word = strip(page).getByRole("button", { name: "stops here: not wired in this mode" });
  await word.focus();
  await expect(page.getByRole("tooltip")).toContainText("Another mode may.");
  await page.keyboard.press("Escape");
  await expect(page.getByRole("tooltip")).toBeHidden();
  await expect(word).toBeVisible();
});

test("a tap keeps a word's meaning open", async ({ app: { page } }) => {
  await openPanel(page, "Findings");
  const card = page.getByRole("article").filter({ hasText: "Loudspeaker processor" }).first();
  await card.getByRole("button", { name: /^Show me/ }).click();
  await strip(page).getByRole("button", { name: "not wired in this mode", exact: true }).click();
  await expect(page.getByRole("tooltip")).toContainText("Another mode may.");
});

test("Help lists every word, and every check", async ({ app: { page } }) => {
  const help = async (entry: string) => {
    await page.getByRole("menuitem", { name: "Help" }).click();
    await page.getByRole("menuitem", { name: entry }).click();
  };
  await help("Words");
  await expect(page.getByRole("dialog", { name: "Words" })).toContainText("gatekeeper");
  await page.keyboard.press("Escape");
  await help("What is checked");
  await expect(page.getByRole("dialog", { name: "What is checked" })).toContainText("Held block");
});
