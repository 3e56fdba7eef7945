/** A finger at work: blocks carried, gear dragged out, devices moved, lists scrolled. Real touches, sent to the browser. */
import type { CDPSession, Page } from "@playwright/test";
import { fileURLToPath } from "node:url";
import { canvas, expect, test } from "./app.ts";

const STARTER = fileURLToPath(new URL("../../assets/demo/starter-club.hopline", import.meta.url));

test.use({ show: STARTER, hasTouch: true, viewport: { width: 2200, height: 1400 } });

interface Point {
  readonly x: number;
  readonly y: number;
}

/** One finger of the browser's own input, as a screen sends it. */
class Finger {
  private constructor(private readonly session: CDPSession) {}
  static async of(page: Page): Promise<Finger> {
    return new Finger(await page.context().newCDPSession(page));
  }
  private send(type: "touchStart" | "touchMove" | "touchEnd", points: readonly Point[]) {
    return this.session.send("Input.dispatchTouchEvent", { type, touchPoints: [...points] });
  }
  press = (at: Point) => this.send("touchStart", [at]);
  lift = () => this.send("touchEnd", []);
  /** With a second one, from `near` to `far` pixels on both sides of a point. */
  async spread({ x, y }: Point, near: number, far: number, steps = 8): Promise<void> {
    const both = (apart: number): readonly Point[] => [
      { x: x - apart, y },
      { x: x + apart, y },
    ];
    await this.send("touchStart", both(near));
    for (let n = 1; n <= steps; n++) await this.send("touchMove", both(near + ((far - near) * n) / steps));
    await this.lift();
  }
  async move(from: Point, to: Point, steps = 8): Promise<void> {
    for (let n = 1; n <= steps; n++) {
      const part = n / steps;
      await this.send("touchMove", [
        { x: from.x + (to.x - from.x) * part, y: from.y + (to.y - from.y) * part },
      ]);
    }
  }
}

/** A pen, as the browser sends it where one is: by the mouse's events, and pointer events that say pen. */
class Pen {
  private constructor(private readonly session: CDPSession) {}
  static async of(page: Page): Promise<Pen> {
    return new Pen(await page.context().newCDPSession(page));
  }
  private send(type: "mousePressed" | "mouseMoved" | "mouseReleased", { x, y }: Point, down: boolean) {
    const held = down ? { button: "left" as const, buttons: 1 } : { button: "left" as const, buttons: 0 };
    return this.session.send("Input.dispatchMouseEvent", {
      type,
      x,
      y,
      clickCount: 1,
      pointerType: "pen",
      ...held,
    });
  }
  press = (at: Point) => this.send("mousePressed", at, true);
  lift = (at: Point) => this.send("mouseReleased", at, false);
  async move(from: Point, to: Point, steps = 8): Promise<void> {
    for (let n = 1; n <= steps; n++) {
      const part = n / steps;
      const at = { x: from.x + (to.x - from.x) * part, y: from.y + (to.y - from.y) * part };
      await this.send("mouseMoved", at, true);
    }
  }
}

const device = (page: Page, name: RegExp) => canvas(page).getByRole("group", { name }).first();

/** A point in a row of a device's cells. */
async function cell(page: Page, name: RegExp, group: string, side = 0): Promise<Point> {
  const box = (await device(page, name).getByRole("group", { name: group, exact: true }).boundingBox())!;
  return { x: box.x + (side === 0 ? 20 : box.width - 20), y: box.y + box.height / 2 };
}

test("a block is picked up by a resting finger and dropped on a block", async ({ app: { page } }) => {
  const finger = await Finger.of(page);
  await device(page, /^House/).waitFor();
  const from = await cell(page, /^House/, "Matrix");
  const to = await cell(page, /^Stage box/, "Out");
  const before = await device(page, /^House/).boundingBox();
  const says = page.getByRole("status").filter({ hasText: "drag it to where it should be" });
  await finger.press(from);
  await expect(says).toBeVisible();
  await finger.move(from, to);
  await expect(
    page.getByRole("status").filter({ hasText: "Matrix 1–8 to Out 1–8: 1 setting" }),
  ).toBeVisible();
  await finger.lift();
  const dialog = page.getByRole("dialog", { name: "Route a block" });
  await expect(dialog.getByText("Link 1 out 1–8 takes Matrix 1–8")).toBeVisible();
  // Nothing is made before the preview is agreed to, and the device stands where it stood.
  await page.keyboard.press("Escape");
  await expect(dialog).toBeHidden();
  expect(await device(page, /^House/).boundingBox()).toEqual(before);
});

test("a finger that doesn't rest moves the device, and one that is lifted looks at the block", async ({
  app: { page },
}) => {
  const finger = await Finger.of(page);
  await device(page, /^House/).waitFor();
  const from = await cell(page, /^House/, "Mix");
  // One after the other without waiting between, which on a busy machine would be a rest.
  await Promise.all([finger.press(from), finger.lift()]);
  await expect(page.getByRole("region", { name: "Hop strip" })).toContainText("Mix");
  const before = (await device(page, /^House/).boundingBox())!;
  const start = await cell(page, /^House/, "Mix");
  await Promise.all([finger.press(start), finger.move(start, { x: start.x + 90, y: start.y + 60 })]);
  await finger.lift();
  await expect
    .poll(async () => ((await device(page, /^House/).boundingBox())?.x ?? 0) - before.x)
    .toBeGreaterThan(40);
  await expect(page.getByRole("dialog")).toHaveCount(0);

  // Two that spread on it show it twice as large, where it was.
  const small = (await device(page, /^House/).boundingBox())!;
  const [x, y] = [small.x + small.width / 2, small.y + small.height / 2];
  await finger.spread({ x, y }, 30, 60);
  const large = async () => (await device(page, /^House/).boundingBox())!;
  await expect.poll(async () => (await large()).width / small.width).toBeCloseTo(2, 1);
  const { x: left, width } = await large();
  expect(Math.abs(left + width / 2 - x)).toBeLessThan(12);
});

test("a pen picks a block up at once, as a mouse does, and moves a device by its name", async ({
  app: { page },
}) => {
  const pen = await Pen.of(page);
  await device(page, /^House/).waitFor();
  const kinds = page.evaluate(
    () =>
      new Promise<string>((resolve) => {
        addEventListener("pointerdown", ({ pointerType }) => resolve(pointerType), {
          once: true,
          capture: true,
        });
      }),
  );
  const from = await cell(page, /^House/, "Matrix");
  const to = await cell(page, /^Stage box/, "Out");
  await pen.press(from);
  expect(await kinds).toBe("pen");
  await pen.move(from, to);
  await expect(
    page.getByRole("status").filter({ hasText: "Matrix 1–8 to Out 1–8: 1 setting" }),
  ).toBeVisible();
  await pen.lift(to);
  await expect(page.getByRole("dialog", { name: "Route a block" })).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(page.getByRole("dialog")).toHaveCount(0);

  const before = (await device(page, /^House/).boundingBox())!;
  const name = { x: before.x + 30, y: before.y + 14 };
  const end = { x: name.x + 90, y: name.y + 60 };
  await pen.press(name);
  await pen.move(name, end);
  await pen.lift(end);
  await expect
    .poll(async () => ((await device(page, /^House/).boundingBox())?.x ?? 0) - before.x)
    .toBeGreaterThan(40);
  await expect(page.getByRole("banner").getByRole("img", { name: "has unsaved changes" })).toBeVisible();
});

test("a pen chooses cells of a list by dragging, as a mouse does", async ({ app: { page } }) => {
  const pen = await Pen.of(page);
  await page.keyboard.press("Alt+l");
  const grid = page.getByRole("grid", { name: "Inputs" });
  await page.getByRole("tab", { name: "Devices" }).click();
  const list = page.getByRole("grid", { name: "Devices" });
  const middle = async (row: number, column: number): Promise<Point> => {
    const box = (await list.locator(`[data-row="${row}"] [data-column="${column}"]`).boundingBox())!;
    return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  };
  await expect(grid).toHaveCount(0);
  const [first, last] = [await middle(0, 0), await middle(2, 1)];
  await pen.press(first);
  await pen.move(first, last);
  await pen.lift(last);
  await expect(list.locator('[role="gridcell"][aria-selected="true"]')).toHaveCount(6);
});

test("gear is dragged out sideways, and the list scrolls up and down", async ({ app: { page } }) => {
  const finger = await Finger.of(page);
  await device(page, /^House/).waitFor();
  await page.setViewportSize({ width: 1024, height: 700 });
  await page.keyboard.press("Alt+6");
  const list = page.getByRole("listbox", { name: "Gear" });
  const row = list.getByRole("option").nth(3);
  const box = (await row.boundingBox())!;
  const at = { x: box.x + 40, y: box.y + box.height / 2 };
  await finger.press(at);
  await finger.move(at, { x: at.x, y: at.y - 120 });
  await finger.lift();
  await expect.poll(() => list.evaluate((element) => element.scrollTop)).toBeGreaterThan(40);
  await list.evaluate((element) => (element.scrollTop = 0));

  const count = await canvas(page).locator(".react-flow__node-device").count();
  const again = (await row.boundingBox())!;
  const start = { x: again.x + 40, y: again.y + again.height / 2 };
  const stage = (await page.locator(".react-flow__pane").boundingBox())!;
  const end = { x: stage.x + stage.width / 2, y: stage.y + stage.height - 60 };
  await finger.press(start);
  await finger.move(start, { x: start.x + 60, y: start.y }, 4);
  await finger.move({ x: start.x + 60, y: start.y }, end);
  await finger.lift();
  await expect(canvas(page).locator(".react-flow__node-device")).toHaveCount(count + 1);
});

test("what a finger is to press is as large as one", async ({ app: { page } }) => {
  await device(page, /^House/).waitFor();
  await page.setViewportSize({ width: 1024, height: 700 });
  await page.keyboard.press("Alt+6");
  const rows = page.getByRole("tree").getByRole("treeitem");
  for (const panel of ["Alt+1", "Alt+3"]) {
    await page.keyboard.press(panel);
    await rows.first().waitFor();
    const heights = await rows.evaluateAll((all) => all.map((row) => row.getBoundingClientRect().height));
    expect(Math.min(...heights)).toBeGreaterThanOrEqual(44);
  }
  await page.keyboard.press("Alt+l");
  const line = page.getByRole("grid").getByRole("row");
  await line.first().waitFor();
  const lines = await line.evaluateAll((all) => all.map((row) => row.getBoundingClientRect().height));
  expect(Math.min(...lines)).toBeGreaterThanOrEqual(44);
  await page.keyboard.press("Alt+6");
  const parts = [
    page.getByRole("tab"),
    page.getByRole("listbox", { name: "Gear" }).getByRole("option"),
    page.getByRole("banner").getByRole("button"),
    page.getByRole("menubar").getByRole("menuitem"),
  ];
  for (const part of parts) {
    const boxes = await Promise.all((await part.all()).map((each) => each.boundingBox()));
    expect(boxes.length).toBeGreaterThan(0);
    expect(Math.min(...boxes.map((box) => box!.height))).toBeGreaterThanOrEqual(44);
  }
});
