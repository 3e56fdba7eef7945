/**
 * From a blank show to a wired rig of two consoles and three boxes: once by mouse alone, once by keyboard alone. What the
 * rig should be is written down first; what is in the saved file is held against it.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import type { Show } from "#engine";
import { analyse } from "#engine/analysis.ts";
import { findTerminal } from "#engine/trace/terminal.ts";
import { canvas, expect, inspector, saveState, test } from "./app.ts";
import { countActions } from "./counter.ts";

/** Each cable as its two ends, in either order. */
const WIRED = [
  ["FOH Link 1", "Stage left Link A"],
  ["FOH Link 2", "Stage right Link A"],
  ["Monitors Link 1", "Stage left Link B"],
  ["Monitors Link 2", "Stage right Link B"],
  ["Stage left Monitor bus", "Ears rack Monitor bus"],
] as const;

const GEAR = [
  ["FOH", "48-channel console"],
  ["Monitors", "48-channel console"],
  ["Stage left", "Stage box 32 in"],
  ["Stage right", "Stage box 16 in"],
  ["Ears rack", "Breakout 16 out"],
] as const;

function saved(documents: string): Show {
  return JSON.parse(readFileSync(join(documents, "Untitled show.hopline"), "utf8")) as Show;
}

/** Devices by name and type, cables by the names of their ends. */
function told(show: Show) {
  const devices = new Map(show.devices.map((device) => [device.id, device]));
  const types = new Map(show.types.map((type) => [type.id, type]));
  return {
    devices: show.devices.map(({ name, type }) => [name, types.get(type)!.name]),
    cables: show.cables
      .map(({ ends }) =>
        ends
          .map(({ device, group }) => {
            const { name, type } = devices.get(device)!;
            return `${name} ${types.get(type)!.ports.find(({ id }) => id === group)!.name}`;
          })
          .sort(),
      )
      .sort(),
  };
}

const DUE = {
  devices: [
    ["FOH", "48-channel console, two 48-slot links"],
    ["Monitors", "48-channel console, two 48-slot links"],
    ["Stage left", "Stage box 32 in, 16 out"],
    ["Stage right", "Stage box 16 in, 8 out"],
    ["Ears rack", "Breakout 16 out"],
  ],
  cables: WIRED.map((ends) => [...ends].sort()).sort(),
};

const node = (page: Page, name: string) =>
  canvas(page)
    .getByRole("group", { name: new RegExp(`^${name},`) })
    .first();

async function expectSaved(page: Page, documents: string): Promise<Show> {
  await expect(saveState(page)).toHaveText(/^saved/);
  const show = saved(documents);
  expect(told(show)).toEqual(DUE);
  expect(new Set(show.cables.map(({ tag }) => tag)).size).toBe(WIRED.length);
  for (const cable of show.cables) {
    expect(cable).toMatchObject({ kind: "cat5e-shielded", ways: 1 });
    expect(cable.length).toBeUndefined();
  }
  const places = new Set(show.places.map(({ id }) => id));
  expect(show.devices.every(({ place }) => places.has(place))).toBe(true);
  return show;
}

/** 24 microphones and DIs at stage left, 8 at stage right; each on one channel of both consoles. */
const INPUTS = Array.from({ length: 32 }, (_, n) => {
  const jack = n < 24 ? `Stage left ${n + 1}` : `Stage right ${n - 23}`;
  return [`Input ${n + 1}`, n % 4 === 3 ? "DI" : "mic", jack, "", "FOH", "", `${n + 1}`, `${n + 1}`];
});

/**
 * What each output jack is wanted for and which mix it takes, in the order of the list: stage left 1–16, stage right 1–8,
 * the ears rack 1–8. Eight of house's and eight of monitors' at stage left, four of house's at stage right, and eight more
 * of monitors' over the box's monitor bus.
 */
const OUTPUTS = [
  ...Array.from({ length: 8 }, (_, n) => [`PA ${n + 1}`, `FOH Mix ${n + 1}`]),
  ...Array.from({ length: 8 }, (_, n) => [`Wedge ${n + 1}`, `Monitors Mix ${n + 1}`]),
  ...Array.from({ length: 4 }, (_, n) => [`Fill ${n + 1}`, `FOH Mix ${n + 9}`]),
  ...Array.from({ length: 4 }, () => ["", ""]),
  ...Array.from({ length: 8 }, (_, n) => [`Ears ${n + 1}`, `Monitors Mix ${n + 9}`]),
];

/** The box's mode in which monitors have its second half and its monitor bus. */
const SHARED = "Two consoles, monitor bus from B";

const tsv = (rows: readonly (readonly string[])[]): string => rows.map((row) => row.join("\t")).join("\r\n");

async function toClipboard(page: Page, text: string): Promise<void> {
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  await page.evaluate((cells) => navigator.clipboard.writeText(cells), text);
}

/** Every output that is wanted has what it is to have, and nothing is an error. */
async function expectSound(
  page: Page,
  show: Show,
  actions: () => Promise<number>,
  how: string,
): Promise<void> {
  await expect(page.getByRole("banner").getByRole("button", { name: /^Findings: / })).toHaveAccessibleName(
    /^Findings: 0 errors,/,
  );
  expect(show.sources).toHaveLength(32);
  expect(show.wants).toHaveLength(28);
  const { findings, wiring, arrivals } = analyse(show);
  expect(findings.filter(({ severity }) => severity === "error")).toEqual([]);
  for (const { to, from } of show.wants) {
    expect(arrivals.root[findTerminal(wiring, to)!]).toBe(findTerminal(wiring, from!));
  }
  for (const { console: desk, group, number, source } of show.channels) {
    const jack = show.sources.find(({ id }) => id === source)!.at;
    const channel = findTerminal(wiring, { device: desk, group, number })!;
    expect(arrivals.root[channel]).toBe(findTerminal(wiring, jack));
  }
  expect(show.channels).toHaveLength(64);
  const count = await actions();
  console.log(`from blank to a checked rig ${how}: ${count} actions`);
  expect(count).toBeLessThan(400);
}

test.describe("by mouse alone", () => {
  async function drag(page: Page, from: { x: number; y: number }, to: { x: number; y: number }) {
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2, { steps: 3 });
    await page.mouse.move(to.x, to.y, { steps: 4 });
  }
  const middle = (box: { x: number; y: number; width: number; height: number }) => ({
    x: box.x + box.width / 2,
    y: box.y + box.height / 2,
  });

  async function socket(page: Page, device: string, port: string) {
    // Both borders have one; a neighbour may stand before either.
    return middle(
      (await node(page, device)
        .getByTitle(`Pull a cable from ${port}`, { exact: true })
        .first()
        .boundingBox())!,
    );
  }

  test("devices are dragged in, cables pulled from port to port, a mode chosen at the node", async ({
    app: { page, documents },
  }) => {
    test.slow();
    // A person waits until the view rests; here it rests at once.
    await page.emulateMedia({ reducedMotion: "reduce" });
    const actions = await countActions(page);
    await page.getByRole("menubar").getByRole("menuitem", { name: "File" }).click();
    await page.getByRole("menuitem", { name: "New show" }).click();
    await expect(canvas(page)).toContainText("This show is empty.");
    // With nothing in the show the gear is open already.
    await expect(page.getByRole("tabpanel", { name: "Gear" })).toBeVisible();

    const area = (await canvas(page).boundingBox())!;
    for (const [n, [name, type]] of GEAR.entries()) {
      const row = page.getByRole("option", { name: new RegExp(`^${type}`) });
      await row.scrollIntoViewIfNeeded();
      const to = {
        x: area.x + area.width * (0.3 + 0.1 * (n % 3)),
        y: area.y + area.height * (0.3 + 0.1 * n),
      };
      await drag(page, middle((await row.boundingBox())!), to);
      await page.mouse.up();
      // What was dropped is looked at, and the inspector has its name to write in.
      const field = inspector(page).getByRole("textbox", { name: "Name of the device" });
      await expect(field).toHaveValue(/ 1$/);
      await field.fill(name);
      await field.press("Enter");
      await expect(node(page, name)).toBeVisible();
    }
    await page.getByRole("menubar").getByRole("menuitem", { name: "Rig" }).click();
    await page.getByRole("menuitem", { name: "Tidy up the rig" }).click();
    const edit = page.getByRole("menubar").getByRole("menuitem", { name: "Edit" });
    await expect(async () => {
      await edit.click();
      const undo = page.getByRole("menu").getByRole("menuitem", { name: /^Undo tidying up the rig/ });
      const done = await undo.isVisible();
      await edit.click();
      expect(done).toBe(true);
    }).toPass();
    await page.getByRole("button", { name: "Fit the whole rig" }).click();
    for (const [name] of GEAR) await expect(node(page, name)).toBeInViewport();

    for (const [from, to] of WIRED) {
      const [, device, port] = /^(.+?) ((?:Link|Monitor bus).*)$/.exec(from)!;
      const [, farDevice, farPort] = /^(.+?) ((?:Link|Monitor bus).*)$/.exec(to)!;
      await drag(page, await socket(page, device!, port!), await socket(page, farDevice!, farPort!));
      await expect(page.getByRole("status").getByText(`${to}`, { exact: true })).toBeVisible();
      await page.mouse.up();
      await expect(inspector(page).getByRole("textbox", { name: "Tag of the cable" })).toHaveValue(/^L\d$/);
    }

    // A port that is in use says so, and nothing comes of the drop.
    await drag(page, await socket(page, "Stage left", "Link C"), await socket(page, "FOH", "Link 1"));
    await expect(page.getByRole("status").getByText(/^Cable L\d is plugged in there\.$/)).toBeVisible();
    await page.mouse.up();

    await node(page, "Stage left").click({ button: "right", position: { x: 20, y: 8 } });
    await page.getByRole("menuitem", { name: "Mode" }).click();
    await page.getByRole("menuitemradio", { name: SHARED, exact: true }).click();

    // Two consoles on one box must share a clock; the finding says so and has the way out.
    await page.getByRole("tab", { name: "Findings" }).click();
    await page
      .getByRole("tabpanel", { name: "Findings" })
      .getByRole("article")
      .filter({ hasText: "clock" })
      .first()
      .getByRole("button")
      .first()
      .click();
    await inspector(page).getByRole("button", { name: "Let Monitors follow Link 1" }).click();

    // Cut at a spreadsheet; the lists take the cells as they stand there.
    await page.getByRole("button", { name: "Lists" }).click();
    await page.getByRole("grid", { name: "Inputs" }).click({ position: { x: 80, y: 44 } });
    await toClipboard(page, tsv(INPUTS));
    await page.keyboard.press("ControlOrMeta+v");
    await expect(page.getByRole("main").getByRole("status")).toContainText("32 rows added.");
    await page.getByRole("button", { name: "Patch channels to their sources…" }).click();
    await page
      .getByRole("dialog")
      .getByRole("button", { name: /^Make \d+ settings?$/ })
      .click();
    await page.getByRole("tablist", { name: "Tables" }).getByRole("tab", { name: "Outputs" }).click();
    const outputs = page.getByRole("grid", { name: "Outputs" });
    await outputs.locator('[data-row="0"]').getByRole("gridcell").nth(1).click();
    await toClipboard(page, tsv(OUTPUTS));
    await page.keyboard.press("ControlOrMeta+v");
    await expect(outputs).toContainText("Wedge 1");
    await page.getByRole("button", { name: "Patch what the wants say…" }).click();
    await page
      .getByRole("dialog")
      .getByRole("button", { name: /^Make \d+ settings?$/ })
      .click();

    await page.getByRole("menubar").getByRole("menuitem", { name: "File" }).click();
    await page.getByRole("menuitem", { name: /^Save(?! as)/ }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Save", exact: true }).click();
    const show = await expectSaved(page, documents);
    expect(show.devices.find(({ name }) => name === "Stage left")!.mode).toBe("two-bus-b");
    await expectSound(page, show, actions, "by mouse and paste");
  });
});

test.describe("by keyboard alone", () => {
  const press = async (page: Page, ...keys: readonly string[]): Promise<void> => {
    for (const key of keys) await page.keyboard.press(key);
  };

  /** Walks with the Tab key until a device has the keys; past the last one back again. */
  async function walkTo(page: Page, name: string): Promise<void> {
    await press(page, "F6");
    const focused = page.locator(".react-flow__node-device:focus");
    let way = "Tab";
    for (let n = 0; n <= 3 * GEAR.length; n++) {
      // A node that was out of view takes the keys as soon as it is drawn.
      await page.waitForFunction(() => document.activeElement !== document.body);
      if ((await focused.count()) === 0) {
        way = way === "Tab" ? "Shift+Tab" : "Tab";
        await press(page, "F6");
        // Where no device was looked at before, the arrow keys begin with the first.
        if ((await focused.count()) === 0) await press(page, "ArrowRight");
        await expect(focused).toBeVisible();
      }
      if ((await focused.getAttribute("aria-label"))!.startsWith(`${name},`)) return;
      await press(page, way);
    }
    await expect(focused).toHaveAccessibleName(new RegExp(`^${name},`));
  }

  async function rename(page: Page, to: string): Promise<void> {
    await press(page, "F2");
    await expect(page.getByRole("dialog")).toContainText("Rename");
    await page.keyboard.type(to);
    await press(page, "Enter");
    await expect(node(page, to)).toBeAttached();
  }

  test("gear by name, ends by name, copies, gathering, deleting and undo", async ({
    app: { page, documents },
  }) => {
    test.slow();
    // Moves of the view take no time, so that each key finds the canvas at rest.
    await page.emulateMedia({ reducedMotion: "reduce" });
    await expect(saveState(page)).toHaveText("as in the file");
    const actions = await countActions(page);
    await press(page, "ControlOrMeta+n");
    await expect(canvas(page)).toContainText("This show is empty.");

    for (const [name, type] of GEAR) {
      // The second console is a copy of the first.
      if (name === "Monitors") {
        await press(page, "ControlOrMeta+d");
        await expect(node(page, "FOH 2")).toBeAttached();
      } else {
        await press(page, "ControlOrMeta+Shift+a");
        await expect(page.getByRole("combobox", { name: "Find gear" })).toBeFocused();
        await page.keyboard.type(type);
        await press(page, "Enter");
      }
      await walkTo(page, name === "Monitors" ? "FOH 2" : GEAR_NAMES[name]!);
      await rename(page, name);
    }

    for (const [from, to] of WIRED) {
      const [, device, port] = /^(.+?) ((?:Link|Monitor bus).*)$/.exec(from)!;
      await walkTo(page, device!);
      await press(page, "p");
      const dialog = page.getByRole("dialog");
      await dialog.getByRole("option").first().waitFor();
      await page.keyboard.type(port!);
      await press(page, "Enter");
      await expect(dialog).toContainText("into…");
      await page.keyboard.type(to);
      await expect(dialog.getByRole("option").first()).toContainText(to);
      await press(page, "Enter");
      await expect(dialog).toBeHidden();
      await expect(inspector(page).getByRole("textbox", { name: "Tag of the cable" })).toHaveValue(/^L\d$/);
    }

    // Everything taken out, and back with one undo, cables and all.
    await press(page, "F6", "Escape", "ControlOrMeta+a", "Delete");
    await expect(canvas(page).getByRole("group", { name: /^FOH,/ })).toHaveCount(0);
    await press(page, "ControlOrMeta+z");
    await expect(async () => {
      await press(page, "ControlOrMeta+0");
      for (const [name] of GEAR) await expect(node(page, name)).toBeVisible({ timeout: 1000 });
    }).toPass();

    // A box copied and pasted, then cut away again.
    await walkTo(page, "Ears rack");
    await press(page, "ControlOrMeta+c", "ControlOrMeta+v");
    await expect(node(page, "Ears rack 2")).toBeAttached();
    await walkTo(page, "Ears rack 2");
    await press(page, "ControlOrMeta+x");
    await expect(canvas(page).getByRole("group", { name: /^Ears rack 2,/ })).toHaveCount(0);

    // The box's mode and monitors' clock, in the list of devices.
    await openList(page, "devices");
    await goCell(page, "Devices", 2, "Mode");
    await page.keyboard.type(SHARED);
    await press(page, "Enter");
    await goCell(page, "Devices", 1, "Own clock");
    await page.keyboard.type("Link 1");
    await press(page, "Enter");

    await openList(page, "inputs");
    await toClipboard(page, tsv(INPUTS));
    await press(page, "ControlOrMeta+v");
    await expect(page.getByRole("main").getByRole("status")).toContainText("32 rows added.");
    await makeSettings(page, "Patch channels to their sources");
    await openList(page, "outputs");
    await goCell(page, "Outputs", 0, "Wanted");
    await toClipboard(page, tsv(OUTPUTS));
    await press(page, "ControlOrMeta+v");
    await expect(page.getByRole("grid", { name: "Outputs" })).toContainText("Wedge 1");
    await makeSettings(page, "Patch what the wants say");

    await press(page, "ControlOrMeta+s");
    await page.getByRole("dialog").waitFor();
    await press(page, "Enter");
    await expectSound(page, await expectSaved(page, documents), actions, "by keyboard alone");
  });

  async function command(page: Page, name: string): Promise<void> {
    await press(page, "ControlOrMeta+Shift+p");
    await expect(page.getByRole("combobox", { name: "Go to anything" })).toBeFocused();
    await page.keyboard.type(name);
    await expect(page.getByRole("option").first()).toContainText(name);
    await press(page, "Enter");
  }

  async function openList(page: Page, name: string): Promise<void> {
    await command(page, `List of ${name}`);
    await expect(page.getByRole("grid")).toBeFocused();
  }

  async function makeSettings(page: Page, name: string): Promise<void> {
    await command(page, name);
    const button = page.getByRole("dialog").getByRole("button", { name: /^Make \d+ settings?$/ });
    await expect(button).toBeEnabled();
    await button.focus();
    await press(page, "Enter");
    await expect(page.getByRole("dialog")).toBeHidden();
  }

  async function goCell(page: Page, grid: string, row: number, column: string): Promise<void> {
    const heads = await page.getByRole("grid", { name: grid }).getByRole("columnheader").allTextContents();
    await press(page, "ControlOrMeta+Home");
    for (let n = 0; n < row; n++) await press(page, "ArrowDown");
    // The first column has the rows' own numbers.
    const at = heads.slice(1).findIndex((head) => head.trim().startsWith(column));
    for (let n = 0; n < at; n++) await press(page, "ArrowRight");
  }

  /** What a device of each kind is called at first. */
  const GEAR_NAMES: Readonly<Record<string, string>> = {
    FOH: "Console 1",
    "Stage left": "Stage box 1",
    "Stage right": "Stage box 1",
    "Ears rack": "Breakout 1",
  };
});
