/** What a window shows of its file before the engine has told what arrives where. */
import type { Page } from "@playwright/test";
import { canvas, DEMO, expect, goTo, inspector, readShow, test } from "./app.ts";

/** Called, it lets go of the engine's answers. */
interface Held {
  (): Promise<void>;
  /** Holds the next ones back. */
  readonly again: () => Promise<void>;
  readonly count: () => Promise<number>;
}

/** Loads the page anew, with the engine's answers held back until they are let go. */
async function loadHeld(page: Page): Promise<Held> {
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
        for (const tell of held.splice(0)) tell();
      },
      hold: () => (open = false),
      countHeld: () => held.length,
    });
  });
  await page.reload();
  const letGo = () => page.evaluate(() => (globalThis as unknown as { letGo: () => void }).letGo());
  const again = () => page.evaluate(() => (globalThis as unknown as { hold: () => void }).hold());
  const count = () => page.evaluate(() => (globalThis as unknown as { countHeld: () => number }).countHeld());
  return Object.assign(letGo, { again, count });
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

  // So does one that comes on the heels of an edit: what was edited is found, and its signals are gone by.
  await goTo(page, "Stage left");
  await letGo.again();
  await page.keyboard.press("F6");
  await page.keyboard.press("ControlOrMeta+d");
  await page.keyboard.press("Escape");
  await page.keyboard.press("ControlOrMeta+k");
  await page.keyboard.type("Stage left 2");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("combobox", { name: "Go to anything" })).toHaveValue("Stage left 2");
  await letGo();
  await expect(page.getByRole("combobox", { name: "Go to anything" })).toHaveValue("");
  await expect(inspector(page).getByRole("textbox", { name: "Name of the device" })).toHaveValue(
    "Stage left 2",
  );
  // A step is one from what was entered before it, though that isn't known yet.
  await goTo(page, "Lead vocal");
  const gain = inspector(page).getByRole("textbox", { name: /^Analogue gain of Lead vocal/ });
  const trim = inspector(page).getByRole("textbox", { name: "Digital trim of Monitors channel 16 in dB" });
  const enter = async (text: string): Promise<void> => {
    await gain.fill(text);
    await gain.press("Enter");
  };
  await gain.waitFor();
  await letGo.again();
  await enter("30");
  await enter("34.5");
  await letGo();
  await expect(trim).toHaveValue("−4.5");
  // What is typed on stays typed when that comes.
  await letGo.again();
  await enter("36");
  await gain.fill("40");
  await expect.poll(letGo.count).toBeGreaterThan(0);
  await letGo();
  await expect(gain).toHaveValue("40");
  await gain.press("Enter");
  await expect(trim).toHaveValue("−10");
});

test("before anything is known of the show, nothing else is offered, and what is typed is looked for in it", async ({
  app: { page },
}) => {
  let known: () => void = () => undefined;
  const asked = new Promise<void>((resolve) => (known = resolve));
  await page.route("**/startFile", async (route) => {
    await asked;
    await route.continue();
  });
  await page.reload();
  await page.getByRole("menubar").waitFor();
  await expect(page.getByText("This show is empty.")).toHaveCount(0);
  await page.keyboard.press("ControlOrMeta+k");
  await page.keyboard.type("lead vocal");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("combobox", { name: "Go to anything" })).toHaveValue("lead vocal");
  // There is no list to type in: it would be that of another show.
  await page.keyboard.press("Alt+l");
  await expect(page.getByText("The show is on its way…")).toBeVisible();
  await expect(page.getByRole("grid")).toHaveCount(0);
  known();
  await expect(page.getByRole("grid", { name: "Inputs" })).toBeVisible();
  await expect(inspector(page).getByRole("heading", { level: 2 })).toHaveText("Lead vocal");
});
