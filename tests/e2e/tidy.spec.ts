/** “Tidy up”: laid out in a thread of its own, called off, taken back. */
import type { Page } from "@playwright/test";
import { canvas, dragDevice, expect, menu, test } from "./app.ts";

/** Loads the page anew. What the layout's thread is asked is held back until it is let go; nothing else is. */
async function loadHeld(page: Page): Promise<() => Promise<void>> {
  await page.addInitScript(() => {
    const held: (() => void)[] = [];
    let open = false;
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (this: Worker, message: { readonly cmd?: string }, ...rest: []) {
      const go = (): void => post.call(this, message, ...rest);
      if (message.cmd === "layout" && !open) held.push(go);
      else go();
    };
    Object.assign(globalThis, {
      letGo: () => {
        open = true;
        for (const go of held) go();
      },
    });
  });
  await page.reload();
  await canvas(page).locator(".react-flow__edge").first().waitFor();
  return () => page.evaluate(() => (globalThis as unknown as { letGo: () => void }).letGo());
}

/** Where the devices stand on the canvas. */
const spots = (page: Page): Promise<readonly string[]> =>
  canvas(page)
    .locator(".react-flow__node-device")
    .evaluateAll((nodes) =>
      nodes.map((node) => `${node.getAttribute("data-id")} ${(node as HTMLElement).style.transform}`),
    );

const modified = (page: Page) => page.getByRole("banner").getByRole("img", { name: "has unsaved changes" });
const working = (page: Page) => page.getByRole("region", { name: /^Messages/ }).getByText("Tidying up…");

test("what takes its time says so, and can be called off", async ({ app: { page } }) => {
  const letGo = await loadHeld(page);
  const before = await spots(page);
  await menu(page, "Rig", "Tidy up the rig");
  await expect(working(page)).toBeVisible();
  // The window goes on meanwhile.
  await page.keyboard.press("Alt+2");
  await expect(page.getByRole("tab", { name: "Sources" })).toHaveAttribute("aria-selected", "true");
  await page.getByRole("button", { name: "Cancel" }).click();
  await expect(working(page)).toBeHidden();
  await letGo();
  expect(await spots(page)).toEqual(before);
  await expect(modified(page)).toBeHidden();

  // The next one has a thread again.
  await menu(page, "Rig", "Tidy up the rig");
  await expect(modified(page)).toBeVisible();
  expect(await spots(page)).not.toEqual(before);
  await page.keyboard.press("ControlOrMeta+z");
  await expect.poll(() => spots(page)).toEqual(before);
  await expect(modified(page)).toBeHidden();
});

test("a layout of a rig that has gone on is let go, with a word", async ({ app: { page } }) => {
  const letGo = await loadHeld(page);
  await menu(page, "Rig", "Tidy up the rig");
  await expect(working(page)).toBeVisible();
  await dragDevice(page, "Recorder", { x: 40, y: 30 });
  await expect(modified(page)).toBeVisible();
  const before = await spots(page);
  await letGo();
  await expect(page.getByText("The rig was changed meanwhile, so it was left as it stands.")).toBeVisible();
  expect(await spots(page)).toEqual(before);
});
