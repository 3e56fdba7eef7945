/** The window as a whole: what it shows at start, traces, reach, search, schemes, keys. */
import { canvas, expect, goTo, inspector, menu, openPanel, readShow, saveState, strip, test } from "./app.ts";

test("the show that the window was started for is there, with its blocks by owner", async ({
  app: { page },
}) => {
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Quayside Winter Concert");
  await expect(saveState(page)).toHaveText("as in the file");
  const outputs = page.getByRole("tree", { name: "Outputs by box and block" });
  await expect(
    outputs.getByRole("treeitem", { name: "Out 1–8, one owner: Front of house" }).first(),
  ).toBeVisible();
  await expect(
    canvas(page)
      .getByRole("group", { name: /^Stage left\b/ })
      .first(),
  ).toBeVisible();
});

test("a jack's row shows its trace hop by hop, with what decides each hop and the delay", async ({
  app: { page },
}) => {
  const outputs = page.getByRole("tree", { name: "Outputs by box and block" });
  const block = outputs.getByRole("treeitem", { name: "Out 9–12, one owner: Monitors" });
  await block.getByRole("button", { name: /^Open/ }).click();
  await outputs.getByRole("treeitem", { name: /^Out 9: .+ from Monitors$/ }).click();

  await expect(strip(page).getByRole("heading", { level: 2 })).toHaveText("Stage left Out 9");
  const hops = strip(page).getByRole("list", { name: /^Hops/ }).getByRole("listitem");
  await expect(hops.first().getByRole("button", { name: "Monitors" })).toBeVisible();
  await expect(hops.last().getByRole("button", { name: "Stage left" })).toBeVisible();
  await expect(hops.first()).toContainText(/Link \d out \d+–\d+ takes Mix \d+–\d+/);
  await expect(hops.last()).toContainText("mode “Three consoles”");
  await expect(strip(page)).toContainText(/\d\.\d{3} ms/);
  await expect(strip(page)).toContainText(/≈ \d+ values assumed/);
  await expect(inspector(page).getByRole("heading", { level: 2 })).toHaveText("Stage left Out 9");
});

test("a jack pressed on the canvas shows the same trace", async ({ app: { page } }) => {
  await goTo(page, "wedge 5");
  const wedge = canvas(page).getByRole("group", { name: /^Wedge 5\b/ });
  const jack = wedge.getByRole("button", { name: /^In 1\b/ });
  // Jacks show from near by only.
  await expect(async () => {
    if ((await jack.count()) === 0) await canvas(page).getByRole("button", { name: "Zoom in" }).click();
    await expect(jack).toBeVisible({ timeout: 1000 });
  }).toPass();
  // Its middle is covered by its own letter.
  await jack.click({ position: { x: 4, y: 4 } });
  await expect(strip(page).getByRole("heading", { level: 2 })).toHaveText("Wedge 5 In 1");
});

test("a tap opens to what is mixed into it, and from there to a channel's own trace", async ({
  app: { page },
}) => {
  await goTo(page, "ears rack out 9");
  await strip(page)
    .getByRole("button", { name: /feeds? mixed in/ })
    .click();
  const feeds = page.getByRole("dialog");
  await expect(feeds.getByRole("heading")).toContainText("Into Monitors Mix");
  await feeds.getByRole("button", { name: /^Channel 1\b/ }).click();
  await expect(strip(page).getByRole("tree").getByRole("treeitem", { selected: true })).toHaveAccessibleName(
    "Monitors Channel 1",
  );
});

test("a source found by name lists the jacks that it reaches, by console, each to be chosen", async ({
  app: { page },
}) => {
  await goTo(page, "lead vocal");
  await expect(inspector(page).getByRole("heading", { level: 2 })).toHaveText("Lead vocal");
  const reached = strip(page).getByRole("tree", { name: /^Reaches \d+ jacks$/ });
  for (const console of ["Front of house", "Monitors"]) {
    await expect(
      reached.getByRole("treeitem", { name: new RegExp(`^${console}: \\d+ ways$`) }),
    ).toBeAttached();
    // The other consoles' jacks lie further down: closing this one's brings them up.
    if (console === "Front of house") {
      await reached.getByRole("button", { name: "Close Front of house" }).click();
    }
  }
  const jack = reached.getByRole("treeitem", { level: 2 }).nth(1);
  const name = await jack.getAttribute("aria-label");
  await jack.click();
  await expect(strip(page).getByRole("heading", { level: 2 })).toHaveText(name!);
});

test("a dialog that closes doesn't take the keys back from who has gone on in the same turn", async ({
  app: { page },
}) => {
  const gear = page.getByRole("combobox", { name: "Find gear" });
  await page.keyboard.press("ControlOrMeta+Shift+a");
  await expect(gear).toBeFocused();
  await goTo(page, "Stage left");
  await page.keyboard.press("F6");
  await expect(page.locator(".react-flow__node-device:focus")).toBeVisible();
  await page.keyboard.press("F2");
  await page.getByRole("dialog").getByRole("textbox").fill("Stage");
  await page.evaluate(async () => {
    const isOpen = (): boolean => document.querySelector("[role=dialog]") !== null;
    document.querySelector<HTMLElement>("[role=dialog] .button.main")!.click();
    // Turns of promises only: no timer runs before the next key, as on a machine that is slower than the fingers.
    for (let turns = 0; isOpen() && turns < 1000; turns++) await Promise.resolve();
    if (isOpen()) throw new Error("the dialog should be gone");
    const key = { key: "A", code: "KeyA", ctrlKey: true, shiftKey: true, bubbles: true, cancelable: true };
    document.body.dispatchEvent(new KeyboardEvent("keydown", key));
    // What the dialog does a turn later it does before the second frame.
    for (let frames = 0; frames < 2; frames++) await new Promise(requestAnimationFrame);
  });
  await expect(gear).toBeFocused();
  await page.keyboard.type("Break");
  await expect(gear).toHaveValue("Break");
});

test("back and forward go through what was looked at", async ({ app: { page } }) => {
  await goTo(page, "lead vocal");
  await goTo(page, "ears rack out 9");
  await page.keyboard.press("Alt+ArrowLeft");
  await expect(inspector(page).getByRole("heading", { level: 2 })).toHaveText("Lead vocal");
  await page.keyboard.press("Alt+ArrowRight");
  await expect(inspector(page).getByRole("heading", { level: 2 })).toHaveText("Ears rack Out 9");
});

test("a gain's step is one the other way in the followers' trims; what a field can't take stays there, with the reason", async ({
  app: { page, showFile },
}) => {
  await goTo(page, "Lead vocal");
  const gain = inspector(page).getByRole("textbox", { name: /^Analogue gain of Lead vocal/ });
  const trim = inspector(page).getByRole("textbox", { name: "Digital trim of Monitors channel 16 in dB" });
  await gain.fill("30");
  await gain.press("Enter");
  await expect(trim).toHaveValue("0");
  await gain.fill("34.5");
  await gain.press("Enter");
  await expect(trim).toHaveValue("−4.5");
  await menu(page, "Edit", /^Undo/);
  await expect(trim).toHaveValue("0");
  await expect(gain).toHaveValue("+30");
  // What isn't a gain stays in its field with the reason, and changes nothing.
  await gain.fill("loud");
  await gain.press("Enter");
  await expect(inspector(page).getByRole("alert")).toHaveText(/^A number of dB/);
  await expect(gain).toHaveValue("loud");
  await gain.press("Escape");
  await expect(gain).toHaveValue("+30");
  await expect(inspector(page).getByRole("alert")).toHaveCount(0);

  // So does a title that no file could hold; none of it is cut off.
  await menu(page, "Edit", "Settings of the show");
  const title = inspector(page).getByRole("textbox", { name: "Title of the show" });
  await title.fill("x".repeat(201));
  await title.press("Enter");
  await expect(inspector(page).getByRole("alert")).toHaveText(/^At most 200 characters/);
  await expect(title).toHaveValue("x".repeat(201));
  await title.press("Escape");
  // 86 °F are 30 °C; who counts in feet says it so.
  const units = inspector(page).getByRole("combobox", { name: "Units of the show" });
  await units.selectOption("imperial");
  const air = inspector(page).getByRole("textbox", { name: "Temperature of the air in °F" });
  await air.fill("86");
  await air.press("Enter");
  await units.selectOption("metric");
  await expect(inspector(page).getByRole("textbox", { name: "Temperature of the air in °C" })).toHaveValue(
    "30",
  );

  // What is still being typed is in the file that says “saved”.
  const notes = inspector(page).getByRole("textbox", { name: "Notes on the show" });
  await notes.fill("Load-in at nine.");
  await page.keyboard.press("ControlOrMeta+s");
  await expect(saveState(page)).toHaveText(/^saved/);
  expect(readShow(showFile).notes).toBe("Load-in at nine.");
  await expect(notes).toBeFocused();
});

test("the panels are walked by keyboard alone", async ({ app: { page } }) => {
  await openPanel(page, "Sources");
  const tree = page.getByRole("tree", { name: "Sources by box" });
  await tree.focus();
  await page.keyboard.press("Home");
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Enter");
  const chosen = tree.getByRole("treeitem", { selected: true });
  await expect(chosen).toHaveCount(1);
  await expect(inspector(page).getByRole("heading", { level: 2 })).toHaveText(
    (await chosen.getAttribute("aria-label"))!,
  );
});

test("a splitter moves by keyboard and says where it is", async ({ app: { page } }) => {
  const splitter = page.getByRole("separator", { name: "Width of the side panel" });
  const before = Number(await splitter.getAttribute("aria-valuenow"));
  await splitter.press("ArrowRight");
  await expect(splitter).toHaveAttribute("aria-valuenow", String(before + 16));
});

for (const [name, scheme] of [
  ["Light", "light"],
  ["Dark", "dark"],
  ["Dim red, for show dark", "dim"],
] as const) {
  test(`the ${scheme} scheme is put on, and is there again after loading anew`, async ({ app: { page } }) => {
    await page.getByRole("button", { name: /^Colours: / }).click();
    await page.getByRole("menuitemradio", { name, exact: true }).click();
    await expect(page.locator("html")).toHaveAttribute("data-scheme", scheme);
    await page.reload();
    await expect(page.locator("html")).toHaveAttribute("data-scheme", scheme);
    await expect(page.getByRole("button", { name: `Colours: ${name}` })).toBeVisible();
  });
}

test("commands are found and run from the search field", async ({ app: { page } }) => {
  await page.keyboard.press("ControlOrMeta+Shift+p");
  await page.getByRole("combobox", { name: "Go to anything" }).fill(">hop strip");
  await page.getByRole("option", { name: /Hop strip/ }).click();
  await expect(page.getByRole("button", { name: "Open hop strip" })).toBeVisible();
  await expect(strip(page)).toHaveCount(0);
});

for (const size of [
  { width: 1440, height: 900 },
  { width: 1024, height: 700 },
]) {
  test(`at ${size.width} × ${size.height} nothing hangs over the edge, and every target is large enough`, async ({
    app: { page },
  }) => {
    await page.setViewportSize(size);
    await page.reload();
    await goTo(page, "ears rack out 9");
    for (const panel of ["Rig", "Sources", "Findings", "Delays", "Outputs"] as const) {
      await openPanel(page, panel);
      const faults = await page.evaluate(() => {
        const found: string[] = [];
        const { scrollWidth, clientWidth } = document.documentElement;
        if (scrollWidth > clientWidth) found.push(`page is ${scrollWidth - clientWidth} px too wide`);
        for (const target of document.querySelectorAll(
          "button, input, select, [role=tab], [role=treeitem]",
        )) {
          // The canvas scales with its zoom and has keys of its own.
          if (target.closest(".react-flow, .visually-hidden")) continue;
          const { width, height, left, right } = target.getBoundingClientRect();
          if (width === 0) continue;
          const name = target.getAttribute("aria-label") ?? target.textContent ?? "";
          const isBox = target instanceof HTMLInputElement && target.type === "checkbox";
          if (height < 23.5 && !isBox) found.push(`${name}: ${height} px high`);
          if (width < 23.5 && !isBox) found.push(`${name}: ${width} px wide`);
          if (!target.closest(".hops") && (left < 0 || right > innerWidth + 0.5))
            found.push(`${name}: over the edge`);
          if (name.trim() === "" && !("labels" in target && (target.labels as NodeList | null)?.length))
            found.push(`${target.outerHTML.slice(0, 80)}: no name`);
        }
        return found;
      });
      expect(faults).toEqual([]);
    }
  });
}
