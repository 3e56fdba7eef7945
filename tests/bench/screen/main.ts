/**
 * Measures the screen in a browser: `npm run bench -- --screen`, with `--json` for machines and `--only` one of `typing`,
 * `scrolling`, `panning`, `paint`. It drives the built app as a
 * user does. What has a yardstick is measured in turns with it, and the ratio is that of the medians; nothing is taken
 * from an earlier run, and nothing fails on timing.
 */
import { spawn } from "node:child_process";
import { createReadStream } from "node:fs";
import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { extname, join } from "node:path";
import { chromium, type BrowserContext, type Page } from "playwright";
import { loadShow } from "#engine/exchange/load.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { catalogueType } from "#engine/catalog/types.ts";
import { id, type DeviceId, type GroupId, type SourceId, type TypeId } from "#engine/model/ids.ts";
import type { Device, Show, Source } from "#engine/model/show.ts";
import { findBrowser, QUIET_SWITCHES, sandboxSwitches } from "../../../electron/services/find-browser.mjs";
import { benchRig } from "../rigs.ts";

interface Line {
  readonly name: string;
  readonly value: number;
  readonly unit: "×" | "ms";
  readonly bar: number | null;
}

/** Where the project's `dist` and `assets` lie: the tools run from `dist/tools`. */
const ROOT = join(import.meta.dirname, "..", "..");
const SIZE = { width: 1440, height: 900 };

const sorted = (values: readonly number[]): readonly number[] => [...values].sort((a, b) => a - b);
const quantile = (values: readonly number[], part: number): number =>
  sorted(values)[Math.min(values.length - 1, Math.floor(values.length * part))] ?? NaN;
const median = (values: readonly number[]): number => quantile(values, 0.5);

const json = process.argv.includes("--json");
/** `--only PART`, as often as wanted; without it all are measured. */
const only = process.argv.flatMap((arg, n) => (process.argv[n - 1] === "--only" ? [arg] : []));
const isAsked = (part: "typing" | "scrolling" | "panning" | "paint"): boolean =>
  only.length === 0 || only.includes(part);
const lines: Line[] = [];
function tell(name: string, value: number, unit: Line["unit"], bar: number | null, how: string): void {
  lines.push({ name, value, unit, bar });
  if (json) return;
  const shown = `${value.toFixed(unit === "×" ? 2 : 1)} ${unit}`;
  const held = bar === null ? "no bar" : `bar ${bar}, ${value <= bar ? "held" : "MISSED"}`;
  console.log(`${name.padEnd(58)} ${shown.padStart(10)}  ${held}; ${how}`);
}

/** Starts the browser host on a show; null: none. */
async function host(folder: string, show: string | null, name: string) {
  const documents = join(folder, name);
  await mkdir(documents);
  const file = join(documents, "bench.hopline");
  if (show !== null) await writeFile(file, show);
  const child = spawn(
    process.execPath,
    [join(ROOT, "dist", "browser-host", "server.js"), ...(show === null ? [] : [file]), "--no-open"],
    {
      env: { ...process.env, HOPLINE_DATA: join(documents, "data"), HOPLINE_DOCUMENTS: documents },
      stdio: ["ignore", "pipe", "inherit"],
    },
  );
  const address = await new Promise<string>((resolve, reject) => {
    let text = "";
    child.stdout.on("data", (chunk: Buffer) => {
      text += chunk.toString();
      const found = /http:\S+/.exec(text)?.[0];
      if (found) resolve(found);
    });
    child.on("close", () => reject(new Error(`the host ended: ${text}`)));
  });
  return { address, end: () => void child.kill() };
}

/** Serves the yardstick's page, which is built beside this tool. */
async function bareServer() {
  const types: Record<string, string> = {
    ".html": "text/html",
    ".js": "text/javascript",
    ".css": "text/css",
  };
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? "/", "http://x").pathname;
    response.setHeader("Content-Type", types[extname(path)] ?? "application/octet-stream");
    createReadStream(join(ROOT, "dist", "tools", "bare-canvas", path))
      .on("error", () => response.writeHead(404).end())
      .pipe(response);
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  return { address: `http://127.0.0.1:${port}/bare.html`, end: () => void server.close() };
}

/** The festival rig with so many inputs that the list has 2,000 rows. */
function withInputs(show: Show, rows: number): Show {
  const type = catalogueType("box-32-16");
  const boxes = Math.ceil((rows - show.sources.length) / 32);
  const devices = Array.from({ length: boxes }, (_, n): Device => ({
    id: id<DeviceId>(`bench-box-${n}`),
    name: `Bench box ${n + 1}`,
    type: id<TypeId>(type.id),
    place: show.places[0]!.id,
    at: { x: 0, y: 5000 + n * 300 },
    mode: type.modes[0]!.id,
    position: 1,
    powered: true,
    routing: [],
  }));
  const sources = devices.flatMap(({ id: device }, box) =>
    Array.from({ length: 32 }, (_, n): Source => ({
      id: id<SourceId>(`bench-${box}-${n}`),
      name: `Bench source ${box * 32 + n + 1}`,
      kind: "microphone",
      at: { device, group: id<GroupId>("in"), number: n + 1 },
      phantom: false,
    })),
  );
  return {
    ...show,
    types: show.types.some((each) => each.id === type.id) ? show.types : [...show.types, type],
    devices: [...show.devices, ...devices],
    sources: [...show.sources, ...sources].slice(0, rows),
  };
}

/** Times between frames while `step` runs in each of them. */
const frames = (page: Page, count: number, step: string): Promise<readonly number[]> =>
  page.evaluate(
    ([many, source]) =>
      new Promise<number[]>((resolve) => {
        const run = new Function("n", source as string) as (n: number) => void;
        const times: number[] = [];
        let [n, last] = [0, performance.now()];
        const turn = (): void => {
          const now = performance.now();
          if (n > 0) times.push(now - last);
          last = now;
          if (n++ === (many as number)) return resolve(times);
          run(n);
          requestAnimationFrame(turn);
        };
        requestAnimationFrame(turn);
      }),
    [count, step] as const,
  );

async function typing(context: BrowserContext, address: string): Promise<void> {
  const page = await context.newPage();
  await page.goto(address);
  const count = page.getByRole("banner").getByRole("button", { name: /^Findings/ });
  await page.getByRole("heading", { level: 1 }).waitFor();
  await page.waitForFunction(() => /\d/.test(document.querySelector(".top-end")?.textContent ?? ""));
  await count.waitFor();
  await page.keyboard.press("Alt+l");
  const grid = page.getByRole("grid", { name: "Inputs" });
  await grid.locator('[data-row="1"]').waitFor();
  const other = (await grid.locator('[data-row="1"] [data-column="0"]').textContent()) ?? "";
  await page.evaluate(() => {
    const timed = globalThis as typeof globalThis & { taken: number[]; frames: number[]; began: number };
    Object.assign(timed, { taken: [], frames: [], began: 0 });
    addEventListener("keydown", ({ key }) => key === "Enter" && (timed.began = performance.now()), true);
    new MutationObserver(() => {
      if (timed.began === 0) return;
      const { began } = timed;
      timed.began = 0;
      timed.taken.push(performance.now() - began);
      requestAnimationFrame(() => timed.frames.push(performance.now() - began));
    }).observe(document.querySelector(".top-end")!, {
      subtree: true,
      childList: true,
      characterData: true,
      attributes: true,
    });
  });
  // A name that the second row has, too, is a finding (F21); another one is none. So every edit changes their number.
  const rounds = 24;
  for (let n = 0; n < rounds; n++) {
    await grid.focus();
    await page.keyboard.press("ControlOrMeta+Home");
    await page.keyboard.type(n % 2 === 0 ? other : `Own ${n}`);
    await page.keyboard.press("Enter");
    await page.waitForFunction(
      (many) => (globalThis as typeof globalThis & { frames: number[] }).frames.length > many,
      n,
    );
  }
  const { taken, frames: shown } = await page.evaluate(() => {
    const timed = globalThis as typeof globalThis & { taken: number[]; frames: number[] };
    return { taken: timed.taken, frames: timed.frames };
  });
  // The first few are those of a compiler at work.
  const how = `${rounds - 4} edits, p95 ${quantile(taken.slice(4), 0.95).toFixed(0)} ms, ${median(shown.slice(4)).toFixed(0)} ms to the next frame`;
  tell("typing a cell to refreshed findings, festival", median(taken.slice(4)), "ms", 50, how);
  await page.close();
}

async function scrolling(context: BrowserContext, address: string): Promise<void> {
  const page = await context.newPage();
  await page.goto(address);
  await page.getByRole("heading", { level: 1 }).waitFor();
  await page.keyboard.press("Alt+l");
  const grid = page.getByRole("grid", { name: "Inputs" });
  await grid.locator('[data-row="1"]').waitFor();
  await page.evaluate(() => {
    const bare = document.createElement("div");
    bare.id = "bare-scroller";
    bare.style.cssText = "position:fixed;inset:0;overflow:auto;background:white;z-index:99;display:none";
    const rows = document.createElement("pre");
    rows.textContent = Array.from({ length: 2000 }, (_, n) => `Row ${n + 1}`).join("\n");
    bare.append(rows);
    document.body.append(bare);
  });
  const show = (bare: boolean): Promise<void> =>
    page.evaluate((on) => {
      document.getElementById("bare-scroller")!.style.display = on ? "block" : "none";
    }, bare);
  const own: number[] = [];
  const bare: number[] = [];
  for (let round = 0; round < 5; round++) {
    await show(false);
    own.push(...(await frames(page, 60, "document.querySelector('.grid').scrollTop += n % 2 ? 130 : 52")));
    await show(true);
    bare.push(
      ...(await frames(page, 60, "document.getElementById('bare-scroller').scrollTop += n % 2 ? 130 : 52")),
    );
  }
  const rows = Number(await grid.getAttribute("aria-rowcount"));
  const how = `${own.length} frames of ${rows} rows, p95 ${quantile(own, 0.95).toFixed(1)} ms; ${(median(own) / median(bare)).toFixed(2)} × a page of plain text`;
  tell("scrolling a list of 2,000 rows, time of a frame", median(own), "ms", null, how);
  await page.close();
}

/** Pulls the canvas to and fro by an empty spot of it. */
async function pan(page: Page, pane: string): Promise<readonly number[]> {
  const box = (await page.locator(pane).first().boundingBox())!;
  const spot = { x: Math.round(box.x + box.width - 30), y: Math.round(box.y + 60) };
  await page.evaluate(
    ([{ x, y }, selector]) => {
      const target = document.querySelector(selector)!;
      target.dispatchEvent(
        new MouseEvent("mousedown", { clientX: x, clientY: y, bubbles: true, view: window, button: 0 }),
      );
    },
    [spot, pane] as const,
  );
  const times = await frames(
    page,
    90,
    `window.dispatchEvent(new MouseEvent("mousemove", { clientX: ${spot.x} - 120 + Math.abs((n * 8) % 240 - 120), clientY: ${spot.y} + Math.abs((n * 5) % 200 - 100), bubbles: true, view: window, button: 0, buttons: 1 }))`,
  );
  await page.evaluate(({ x, y }) => {
    window.dispatchEvent(new MouseEvent("mouseup", { clientX: x, clientY: y, bubbles: true, view: window }));
  }, spot);
  return times;
}

async function panning(context: BrowserContext, address: string, bareAddress: string, show: Show) {
  const page = await context.newPage();
  await page.goto(address);
  await page.locator(".react-flow__node").first().waitFor();
  await page.keyboard.press("ControlOrMeta+0");
  await page.waitForFunction(() => document.querySelectorAll(".react-flow__node").length > 40);
  const drawn = await page.evaluate(() => ({
    nodes: document.querySelectorAll(".react-flow__node").length,
    edges: document.querySelectorAll(".react-flow__edge").length,
    elements: document.querySelectorAll(".react-flow__viewport *").length,
  }));
  const places = show.places.map(({ id: key, name, at, size }) => ({
    id: `place:${key}`,
    position: at,
    data: { label: name },
    style: size,
  }));
  const devices = show.devices.map(({ id: key, name, at }) => ({
    id: key,
    position: at,
    data: { label: name },
  }));
  const edges = show.cables.map(({ id: key, ends: [a, b] }) => ({
    id: key,
    source: a.device,
    target: b.device,
  }));
  const bare = await context.newPage();
  await bare.addInitScript((data) => Object.assign(globalThis, { bare: data }), {
    nodes: [...places, ...devices],
    edges,
  });
  await bare.goto(bareAddress);
  await bare.locator(".react-flow__node").nth(40).waitFor();
  const own: number[] = [];
  const plain: number[] = [];
  for (let round = 0; round < 6; round++) {
    await page.bringToFront();
    own.push(...(await pan(page, ".react-flow__pane")));
    await bare.bringToFront();
    plain.push(...(await pan(bare, ".react-flow__pane")));
  }
  const moved = await page.evaluate(
    () => document.querySelector<HTMLElement>(".react-flow__viewport")!.style.transform,
  );
  const how = `${median(own).toFixed(1)} to ${median(plain).toFixed(1)} ms a frame, p95 ${quantile(own, 0.95).toFixed(1)} to ${quantile(plain, 0.95).toFixed(1)}; ${drawn.nodes} nodes, ${drawn.edges} edges, ${drawn.elements} elements, ${moved}`;
  tell("panning the festival / a bare canvas as large", median(own) / median(plain), "×", 1.3, how);
  await page.close();
  await bare.close();
}

/** What is waited for: a selector, and how many elements of it. */
interface Sign {
  readonly all: string;
  readonly many: number;
}

/** What a page says first when it tells when what is waited for stood there. */
const DRAWN = "drawn at";
const REST_MS = 1000;

/** When what is waited for stands on the screen, in milliseconds from the beginning of the page. */
async function paints(
  context: BrowserContext,
  sides: readonly { readonly address: string; readonly sign: Sign; readonly later: Sign }[],
) {
  const pages = await Promise.all(
    sides.map(async ({ sign, later }) => {
      const page = await context.newPage();
      await page.addInitScript(
        ([told, signs]) => {
          const at: Record<string, number> = {};
          for (const [name, { all, many }] of signs) {
            const look = (): void => {
              if (document.querySelectorAll(all).length < many) return void requestAnimationFrame(look);
              requestAnimationFrame(() => {
                at[name] = performance.now();
                if (Object.keys(at).length === signs.length) console.debug(told, JSON.stringify(at));
              });
            };
            requestAnimationFrame(look);
          }
        },
        [
          DRAWN,
          [
            ["painted", sign],
            ["whole", later],
          ],
        ] as const,
      );
      return page;
    }),
  );
  const times = sides.map(() => ({ painted: [] as number[], whole: [] as number[] }));
  for (let round = 0; round < 9; round++) {
    for (const [n, page] of pages.entries()) {
      await page.bringToFront();
      // The page tells it itself: a question would bring the driver's own script of 300 kB into the time that is measured.
      const [line] = await Promise.all([
        page.waitForEvent("console", { predicate: (message) => message.text().startsWith(DRAWN) }),
        round === 0 ? page.goto(sides[n]!.address) : page.reload(),
      ]);
      // What this page still does after that must not slow the next one.
      await page.waitForTimeout(REST_MS);
      const at = JSON.parse(line.text().slice(DRAWN.length)) as {
        readonly painted: number;
        readonly whole: number;
      };
      if (round < 2) continue;
      times[n]!.painted.push(at.painted);
      times[n]!.whole.push(at.whole);
    }
  }
  await Promise.all(pages.map((page) => page.close()));
  return times.map(({ painted, whole }) => ({ painted: median(painted), whole: median(whole) }));
}

async function main(): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), "hopline-screen-"));
  const executablePath = findBrowser();
  const browser = await chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    // As many frames as the work allows: a screen's own rate would hide what a frame costs.
    args: [...QUIET_SWITCHES, ...sandboxSwitches(), "--disable-frame-rate-limit", "--disable-gpu-vsync"],
  });
  const ends: (() => void)[] = [];
  try {
    const context = await browser.newContext({ viewport: SIZE });
    const festival = benchRig("festival");
    const demo = await readFile(join(ROOT, "assets", "demo", "quayside.hopline"), "utf8");
    const long = saveShow(withInputs(festival, 2000));
    for (const text of [long, demo]) if (!loadShow(text).ok) throw new Error("a show of the bench is none");
    const start = async (show: string | null, name: string): Promise<string> => {
      const { address, end } = await host(folder, show, name);
      ends.push(end);
      return address;
    };
    if (isAsked("typing")) await typing(context, await start(saveShow(festival), "typing"));
    if (isAsked("scrolling")) await scrolling(context, await start(long, "scrolling"));
    if (isAsked("panning")) {
      const bare = await bareServer();
      ends.push(bare.end);
      await panning(context, await start(saveShow(festival), "panning"), bare.address, festival);
    }
    if (isAsked("paint")) {
      const loaded = loadShow(demo);
      const devices = loaded.ok ? loaded.value.devices.length : 0;
      const cables = loaded.ok ? loaded.value.cables.length : 0;
      const card: Sign = { all: ".empty-rig", many: 1 };
      const [full, empty] = await paints(context, [
        {
          address: await start(demo, "demo"),
          // Every device with its name.
          sign: { all: ".react-flow__node-device :is(.far-name, .name)", many: devices },
          later: {
            all: ":root:has(svg.cells):has(.side-panel [role=treeitem]) .react-flow__edge",
            many: cables,
          },
        },
        { address: await start(null, "empty"), sign: card, later: card },
      ]);
      const how = `${full!.painted.toFixed(0)} ms with its devices drawn (${full!.whole.toFixed(0)} with their signals, the cables and the lists), ${empty!.painted.toFixed(0)} ms with the empty show's card`;
      tell("first paint of the demo / of an empty show", full!.painted / empty!.painted, "×", 1.5, how);
    }
  } finally {
    for (const end of ends) end();
    await browser.close();
    await rm(folder, { recursive: true, force: true });
  }
  if (json) console.log(JSON.stringify({ format: "hopline.bench-screen/1", lines }));
}

await main();
