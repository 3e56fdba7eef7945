/** A device type written by hand: built in the editor, tried on the bench, used for a device, given out as a file. */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import type { Locator, Page } from "@playwright/test";
import { loadType, saveType } from "#engine";
import { expect, inspector, openPanel, readShow, test } from "./app.ts";

const list = (page: Page): Locator => page.getByRole("navigation", { name: "Device types" });
const bench = (page: Page): Locator => page.getByRole("complementary", { name: "On the bench" });

async function open(page: Page): Promise<void> {
  await page.keyboard.press("Alt+t");
  await list(page).waitFor();
}

/** Types into a field and leaves it, as one step. */
async function put(page: Page, name: string, value: string): Promise<void> {
  const field = page.getByRole("textbox", { name, exact: true });
  await field.fill(value);
  await field.press("Enter");
}
const choose = (page: Page, name: string, option: string): Promise<unknown> =>
  page.getByRole("combobox", { name, exact: true }).selectOption({ label: option });
const press = (page: Page, name: string): Promise<void> =>
  page.getByRole("button", { name, exact: true }).click();

/** `Out 1–4 are wired from Link B in 1`: a rule at the end of a mode's. */
async function wire(
  page: Page,
  where: string,
  n: number,
  to: string,
  first: number,
  last: number,
  from: string,
): Promise<void> {
  await press(page, `Add a rule to ${where}: wired`);
  const rule = `Rule ${n} of ${where}`;
  await choose(page, `${rule}, destination, group`, to);
  await put(page, `${rule}, destination, last`, String(last));
  await put(page, `${rule}, destination, first`, String(first));
  await choose(page, `${rule}, source, group`, from);
}

test("a stage box with two modes is built, tried, used for a device and saved as a file", async ({
  app: { page, documents, showFile },
}) => {
  await open(page);
  // The guide stands beside what it tells to do.
  await press(page, "How to write one");
  const guide = page.getByRole("complementary", { name: "Writing a device type" });
  await expect(guide.getByRole("document", { name: "Writing a device type" })).toBeFocused();
  await press(page, "Blank");
  const use = page.getByRole("button", { name: "Use this version" });
  await expect(use).toBeDisabled();
  await expect(bench(page)).toContainText("The type has neither jacks nor ports");
  await put(page, "Name of the type", "Wharf box 8 in, 8 out");
  await press(page, "+ Inputs");
  await expect(guide).toContainText("+ Inputs");
  await guide.getByRole("button", { name: "Close" }).click();
  await expect(page.getByRole("button", { name: "How to write one" })).toBeFocused();
  await press(page, "+ Outputs");
  await press(page, "+ Port");
  await press(page, "+ Port");
  await choose(page, "Word clock", "follows Link A");
  await put(page, "Name of mode 1", "One console");
  await wire(page, "mode One console", 1, "Out", 1, 8, "Link A in");
  await press(page, "+ Mode");
  await put(page, "Name of mode 2", "Two consoles");
  await wire(page, "mode Two consoles", 1, "Out", 1, 4, "Link A in");
  await wire(page, "mode Two consoles", 2, "Out", 5, 8, "Link B in");
  await wire(page, "every mode", 1, "Link A out", 1, 8, "In");
  await wire(page, "every mode", 2, "Link B out", 1, 8, "In");
  await expect(bench(page)).toContainText("Nothing wrong with it.");

  // Output 5 with two consoles is the first of the second four: slot 1 of link B.
  await choose(page, "Mode on the bench", "Two consoles");
  await choose(page, "Trace of", "Out");
  await put(page, "Number within Out", "5");
  await expect(bench(page).getByRole("region", { name: "Trace of Out 5" })).toContainText(
    "what comes in at Link B in 1",
  );
  // Input 3 stands on slot 3 of both links.
  await choose(page, "Trace of", "In");
  await put(page, "Number within In", "3");
  await expect(bench(page).getByRole("region", { name: "Trace of In 3" })).toContainText(
    "Link A out 3; Link B out 3",
  );
  // Where it is converted it stands in the trace twice; its mark goes with the trace all the same.
  await choose(page, "In, conversion, unit", "ms");
  await choose(page, "Trace of", "Link A out");
  await put(page, "Number within Link A out", "3");
  await choose(page, "Trace of", "Out");
  await put(page, "Number within Out", "5");
  await expect(bench(page).locator(".type-reached")).toHaveCount(1);

  await use.click();
  await expect(page.getByRole("status").filter({ hasText: "as in the show" })).toBeVisible();
  await press(page, "Save as a file…");
  await expect(page.getByText(/^The type is in /)).toBeVisible();
  const [file] = readdirSync(documents).filter((name) => name.endsWith(".hopline-type"));
  expect(file).toBe("Wharf box 8 in, 8 out.hopline-type");
  const text = readFileSync(join(documents, file!), "utf8");
  const loaded = loadType(text);
  if (!loaded.ok) throw new Error(loaded.error.message);
  expect(saveType(loaded.value)).toBe(text);
  expect(loaded.value.modes.map(({ name, rules }) => [name, rules.length])).toEqual([
    ["One console", 1],
    ["Two consoles", 2],
  ]);

  await press(page, "Place a device of it");
  await expect(inspector(page)).toContainText("Wharf box 8 in, 8 out");
  await inspector(page).getByRole("combobox", { name: "Mode" }).selectOption({ label: "Two consoles" });
  await page.keyboard.press("ControlOrMeta+s");
  await expect.poll(() => readShow(showFile).types.at(-1)?.name).toBe("Wharf box 8 in, 8 out");
  expect(readShow(showFile).devices.at(-1)).toMatchObject({ type: loaded.value.id, mode: "new-mode" });
});

test("a new version tells what it breaks before it is used, and a draft waits", async ({ app: { page } }) => {
  await open(page);
  await list(page)
    .getByRole("button", { name: /^Stage box 32 in, 16 out/ })
    .click();
  await put(page, "Out, number of jacks", "8");
  // Its fixed runs reach past the jacks now.
  await expect(page.getByRole("button", { name: "Use this version" })).toBeDisabled();
  const problems = bench(page).getByRole("region", { name: "Problems" });
  await problems
    .getByRole("button", { name: /Out 1–16, but there are only 8/ })
    .first()
    .click();
  await expect(
    page.getByRole("textbox", { name: "Rule 1 of mode One console, destination, last" }),
  ).toBeFocused();
  await press(page, "Undo");
  await put(page, "Name of mode 1", "Only console");
  for (const mode of ["Two consoles", "Two consoles, monitor bus from B", "Three consoles", "Chain"]) {
    await press(page, `Take mode ${mode} out`);
  }
  await page.keyboard.press("Alt+c");
  await open(page);
  await expect(page.getByRole("textbox", { name: "Name of mode 1" })).toHaveValue("Only console");
  await press(page, "Use this version");
  const dialog = page.getByRole("alertdialog");
  await expect(dialog).toContainText("the mode is gone");
  await expect(dialog).toContainText(/\d+ go dark/);
  await press(page, "Go on editing");
  await expect(page.getByRole("status").filter({ hasText: "a draft" })).toBeVisible();
  await press(page, "Use this version");
  await dialog.getByRole("button", { name: "Use it" }).click();
  await page.keyboard.press("Alt+c");
  await openPanel(page, "Findings");
  await expect(page.getByRole("tabpanel", { name: "Findings" })).toContainText("points at nothing");
  // Beside a type that has no step of its own to take back, undo takes back the show's.
  await open(page);
  await page.keyboard.press("ControlOrMeta+z");
  await expect(page.getByRole("textbox", { name: "Name of mode 1" })).toHaveValue("One console");
  await page.keyboard.press("Alt+c");
  await expect(page.getByRole("tabpanel", { name: "Findings" })).not.toContainText("points at nothing");
});

test("a type's file comes in, and what isn't one is refused in a line", async ({
  app: { page, showFile },
}) => {
  await open(page);
  const file = page.getByLabel("A device type’s file");
  const bytes = (text: string) => ({ name: "box.hopline-type", mimeType: "", buffer: Buffer.from(text) });
  await file.setInputFiles(bytes("{"));
  await expect(page.getByText("“box.hopline-type” can't be taken in. The file is not JSON")).toBeVisible();
  const type = readShow(showFile).types.find(({ id }) => id === "box-16-8")!;
  await file.setInputFiles(bytes(saveType(type)));
  await expect(page.getByText(/^The show has “Stage box 16 in, 8 out” already/)).toBeVisible();
  await file.setInputFiles(bytes(saveType({ ...type, chain: 2, modes: type.modes.slice(0, 1) })));
  await page.getByRole("alertdialog").getByRole("button", { name: "As a copy" }).click();
  await expect(page.getByRole("textbox", { name: "Name of the type" })).toHaveValue(
    "Stage box 16 in, 8 out, copy",
  );
});

test("the inspector leads to a device's type", async ({ app: { page } }) => {
  await page.keyboard.press("ControlOrMeta+k");
  await page.getByRole("combobox", { name: "Go to anything" }).fill("Stage left");
  await page.getByRole("option").first().waitFor();
  await page.keyboard.press("Enter");
  await inspector(page).getByRole("button", { name: "Edit its type…" }).click();
  await expect(
    list(page)
      .getByRole("button", { name: /Stage box/ })
      .and(page.locator("[aria-current]")),
  ).toBeVisible();
});
