/**
 * Every screen in every scheme against axe-core's rules for WCAG 2.2 A and AA.
 */
import type { Page } from "@playwright/test";
import { axeFaults } from "../host/support/axe.ts";
import { canvas, expect, openPanel, test } from "./app.ts";

const SCHEMES = ["Light", "Dark", "Dim red, for show dark"] as const;

async function command(page: Page, name: string): Promise<void> {
  await page.keyboard.press("ControlOrMeta+Shift+p");
  await page.getByRole("combobox", { name: "Go to anything" }).fill(`>${name}`);
  await page.getByRole("option").first().waitFor();
  await page.keyboard.press("Enter");
}

/** Each screen: how to get there. Dialogs are left by Escape before the next one. */
const SCREENS: readonly (readonly [string, (page: Page) => Promise<unknown>])[] = [
  ["outputs and canvas", (page) => openPanel(page, "Outputs")],
  ["rig", (page) => openPanel(page, "Rig")],
  ["sources", (page) => openPanel(page, "Sources")],
  ["delays", (page) => openPanel(page, "Delays")],
  ["findings", (page) => openPanel(page, "Findings")],
  ["gear", (page) => command(page, "Gear")],
  [
    "a device, its inspector and a trace",
    async (page) => {
      await page.keyboard.press("ControlOrMeta+k");
      await page.getByRole("combobox", { name: "Go to anything" }).fill("Ears rack Out 3");
      await page.getByRole("option").first().waitFor();
      await page.keyboard.press("Enter");
      await page.getByRole("region", { name: "Hop strip" }).getByRole("listitem").first().waitFor();
    },
  ],
  ["route a block", (page) => page.keyboard.press("Alt+r")],
  ["keys", (page) => page.keyboard.press("ControlOrMeta+/")],
  ["how to read it", (page) => page.keyboard.press("F1")],
  ["papers", (page) => page.keyboard.press("ControlOrMeta+p")],
  ["mark a revision", (page) => command(page, "Mark a revision")],
  ["lists", (page) => page.keyboard.press("Alt+l")],
  ["types", (page) => page.keyboard.press("Alt+t")],
  ["the guide beside them", (page) => command(page, "Guide")],
  ["search", (page) => page.keyboard.press("ControlOrMeta+k")],
];

/** The screens on which the canvas isn't what it was on the ones before. */
const ON_CANVAS: readonly string[] = [
  "outputs and canvas",
  "a device, its inspector and a trace",
  "route a block",
];

/** The screens that between them hold every colour. */
const COLOURED = SCREENS.filter(([name]) => [...ON_CANVAS, "findings", "lists", "types"].includes(name));

for (const scheme of SCHEMES) {
  test(`axe finds nothing on any screen: ${scheme}`, async ({ app: { page } }) => {
    test.slow();
    await page.emulateMedia({ reducedMotion: "reduce" });
    await canvas(page)
      .getByRole("group", { name: /^Monitors/ })
      .first()
      .waitFor();
    await command(page, scheme);
    const found: string[] = [];
    for (const [screen, open] of scheme === "Light" ? SCREENS : COLOURED) {
      await open(page);
      // Names, roles and keys are the same in every scheme; what differs is contrast.
      const faults = await axeFaults(page, {
        colours: scheme !== "Light",
        // The canvas has hundreds of jacks, and is the same as on the screen before.
        without: ON_CANVAS.includes(screen) ? [] : [".react-flow"],
      });
      found.push(...faults.map((fault) => `${screen}: ${fault}`));
      await page.keyboard.press("Escape");
    }
    expect(found).toEqual([]);
  });
}

test("axe finds nothing on an empty show", async ({ app: { page } }) => {
  await canvas(page)
    .getByRole("group", { name: /^Monitors/ })
    .first()
    .waitFor();
  await page.keyboard.press("ControlOrMeta+n");
  await page.getByText("This show is empty.").waitFor();
  expect(await axeFaults(page)).toEqual([]);
});
