/** What a window shows of its file before the engine has told what arrives where. */
import type { Page } from "@playwright/test";
import { canvas, DEMO, expect, inspector, readShow, test } from "./app.ts";

/** Loads the page anew, with the engine's answers held back until they are let go. */
async function loadHeld(page: Page): Promise<() => Promise<void>> {
  await page.addInitScript(() => {
    const held: (() => void)[] = [];
    let open = false;
    const add = Worker.prototype.addEventListener;
    Worker.prototype.addEventListener = function (
      this: Worker,
      type: string,
      listener: EventListenerOrEventListenerObject,
      ...rest: []
    ) {
      const hold = (event: MessageEvent<{ readonly kind: string }>): void => {
        const tell = (): void =>
          typeof listener === "function" ? listener.call(this, event) : listener.handleEvent(event);
        if (open || event.data.kind === "seen") tell();
        else held.push(tell);
      };
      add.call(this, type, type === "message" ? (hold as EventListener) : listener, ...rest);
    };
    Object.assign(globalThis, {
      letGo: () => {
        open = true;
        for (const tell of held) tell();
      },
    });
  });
  await page.reload();
  return () => page.evaluate(() => (globalThis as unknown as { letGo: () => void }).letGo());
}

/** Where each device stands on the screen. */
const spots = (page: Page): Promise<readonly (readonly [string, string])[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll(".react-flow__node-device")].map((node) => {
      const { x, y, width, height } = node.getBoundingClientRect();
      return [node.getAttribute("data-id") ?? "", [x, y, width, height].map(Math.round).join(" ")] as const;
    }),
  );

test("every place and device of the file is there by name first, and stays where it is", async ({
  app: { page },
}) => {
  const letGo = await loadHeld(page);
  const { devices, places, title } = readShow(DEMO);
  await expect(page.getByRole("banner").getByRole("heading", { level: 1 })).toContainText(title);
  const nodes = canvas(page).locator(".react-flow__node-device");
  await expect(nodes).toHaveCount(devices.length);
  for (const { id, name } of devices) {
    const node = canvas(page).locator(`.react-flow__node[data-id="${id}"]`);
    await expect(node).toBeVisible();
    // A name that fits nowhere is cut in its middle or at its beginning; the end tells like from like.
    await expect(node).toContainText(name.slice(-2));
  }
  for (const { name } of places)
    await expect(canvas(page).locator(".place-name", { hasText: name })).toBeVisible();
  await expect(canvas(page).locator(".react-flow__edge")).toHaveCount(0);
  await expect(canvas(page).getByRole("group", { name: "Mic in" })).toHaveCount(0);
  const before = await spots(page);

  await letGo();
  await expect(canvas(page).locator(".react-flow__edge").first()).toBeAttached();
  expect(await spots(page)).toEqual(before);
  await expect(page.getByRole("banner")).toContainText("as in the file");
});

test("a key that is pressed meanwhile counts once the show is known", async ({ app: { page } }) => {
  const letGo = await loadHeld(page);
  await canvas(page).locator(".react-flow__node-device").first().waitFor();
  await page.keyboard.press("F8");
  await page.keyboard.press("Alt+2");
  await expect(page.getByRole("tab", { name: "Sources" })).toHaveAttribute("aria-selected", "true");
  await letGo();
  await expect(inspector(page).getByRole("heading", { level: 2 })).toBeVisible();
  await expect(inspector(page)).toContainText("Finding");
});
