/** The browser host as it is started: the built program, its printed address, and its client in a real browser. */
import { spawn } from "node:child_process";
import type { ChildProcessWithoutNullStreams } from "node:child_process";
import { chmodSync, cpSync, existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { chromium } from "playwright";
import type { Browser, Page } from "playwright";
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from "vitest";
import type { HostApi } from "#engine";
import { ensureBuilt, outputOf } from "../../build/build.mjs";
import { startBrowserHost } from "../../electron/browser-host/server.ts";
import { createBackend } from "../../electron/services/backend.ts";
import { findBrowser, sandboxSwitches } from "../../electron/services/find-browser.mjs";
import { pageAssets } from "../../electron/services/page-assets.ts";
import { createServices } from "../../electron/services/services.ts";
import { tempFolder } from "./support/temp.ts";

declare global {
  var hoplineHost: HostApi;
}

let browser: Browser;

beforeAll(async () => {
  await ensureBuilt(["browser-host", "client"]);
  const executablePath = findBrowser();
  browser = await chromium.launch({ args: sandboxSwitches(), ...(executablePath ? { executablePath } : {}) });
});
afterAll(() => browser.close());

async function newPage(): Promise<Page> {
  const page = await browser.newPage();
  onTestFinished(() => page.close());
  return page;
}

/** A server in this process with a bare page that loads the real client. */
async function serve() {
  const folder = tempFolder();
  const pages = join(folder, "pages");
  mkdirSync(pages);
  writeFileSync(
    join(pages, "index.html"),
    '<!doctype html><script src="./host.js"></script><script>document.title = "inline ran"</script><body>',
  );
  const assets = new Map(await pageAssets(pages));
  assets.set("/host.js", { file: outputOf("client"), type: "text/javascript" });
  const services = createServices({
    assets: join(folder, "assets"),
    data: join(folder, "data"),
    documents: folder,
  });
  const seen: number[] = [];
  const host = await startBrowserHost({
    backend: createBackend({ services, dialogs: null, startFile: () => "/start.hopline" }),
    assets,
    port: 0,
    onPresence: (count) => seen.push(count),
  });
  let closing: Promise<void> | undefined;
  const close = () => (closing ??= host.close());
  onTestFinished(close);
  return { host, folder, seen, close };
}

describe("[H27] the client in a browser", () => {
  it("takes the key out of the address, works, and survives a reload", async () => {
    const { host, folder, seen } = await serve();
    const page = await newPage();
    await page.goto(host.newAddress());
    const path = join(folder, "tour.hopline");
    const saved = await page.evaluate(
      (to) => hoplineHost.save({ path: to, text: "Grüße", expect: null }),
      path,
    );
    expect(saved).toMatchObject({ ok: true });
    expect(readFileSync(path, "utf8")).toBe("Grüße");
    expect(page.url()).toBe(`${host.origin}/`);
    await page.reload();
    expect(await page.evaluate(() => hoplineHost.startFile())).toEqual({ ok: true, value: "/start.hopline" });
    await page.close();
    await expect.poll(() => seen.at(-1)).toBe(0);
  });

  it("sends bytes unharmed", async () => {
    const { host, folder } = await serve();
    const page = await newPage();
    await page.goto(host.newAddress());
    const path = join(folder, "all.txt");
    await page.evaluate((to) => {
      const bytes = Uint8Array.from({ length: 100_000 }, (_, index) => (index * 7) % 256);
      return hoplineHost.exportBytes({ suggestedName: "all.txt", bytes, path: to });
    }, path);
    const wanted = Uint8Array.from({ length: 100_000 }, (_, index) => (index * 7) % 256);
    expect(readFileSync(path).equals(wanted)).toBe(true);
  });

  it("[H22] a second use of an address gets nothing but a line that says so", async () => {
    const { host } = await serve();
    const address = host.newAddress();
    const first = await newPage();
    await first.goto(address);
    await first.evaluate(() => hoplineHost.startFile());
    const other = await browser.newContext();
    onTestFinished(() => other.close());
    const second = await other.newPage();
    await second.goto(address);
    const refused = await second.evaluate(() => hoplineHost.startFile());
    expect(refused).toMatchObject({ ok: false, error: { code: "unreachable" } });
    expect(refused).toMatchObject({ error: { message: expect.stringContaining("used already") } });
  });

  it("[H25] runs no inline script", async () => {
    const { host } = await serve();
    const page = await newPage();
    await page.goto(host.newAddress());
    expect(await page.title()).not.toBe("inline ran");
    const evalError = await page.addScriptTag({ content: "1" }).then(
      () => "ran",
      () => "refused",
    );
    expect(evalError).toBe("refused");
  });

  it("says what to do where the host is gone", async () => {
    const { host, close } = await serve();
    const page = await newPage();
    await page.goto(host.newAddress());
    await page.evaluate(() => hoplineHost.startFile());
    await close();
    expect(await page.evaluate(() => hoplineHost.recent())).toMatchObject({
      ok: false,
      error: { code: "unreachable", message: expect.stringContaining("recovery copy") },
    });
  });

  it("shows the title, and asks before a modified page is left", async () => {
    const { host } = await serve();
    const page = await newPage();
    await page.goto(host.newAddress());
    const setWindow = (modified: boolean) =>
      page.evaluate((is) => hoplineHost.setWindow({ title: "Tour", path: null, modified: is }), modified);
    await setWindow(true);
    expect(await page.title()).toBe("• Tour – Hopline");
    // A browser asks only once the user has touched the page.
    await page.mouse.click(10, 10);
    const asked = page.waitForEvent("dialog");
    const leaving = page.goto("about:blank").catch(() => undefined);
    const dialog = await asked;
    expect(dialog.type()).toBe("beforeunload");
    await dialog.dismiss();
    await leaving;
    expect(page.url()).toBe(`${host.origin}/`);
    await setWindow(false);
    expect(await page.title()).toBe("Tour – Hopline");
    await page.goto("about:blank");
    expect(page.url()).toBe("about:blank");
  });
});

/** The built program with a bare page in the app's place, which may not be built here, and its lines as they come. */
function start(args: readonly string[], env: Record<string, string> = {}) {
  const folder = tempFolder();
  const data = join(folder, "data");
  const dist = join(tempFolder(), "dist");
  mkdirSync(join(dist, "renderer"), { recursive: true });
  writeFileSync(join(dist, "renderer", "index.html"), '<!doctype html><script src="./host.js"></script>');
  cpSync(dirname(outputOf("browser-host")), join(dist, "browser-host"), { recursive: true });
  writeFileSync(join(dist, "package.json"), '{ "type": "module" }');
  const program = join(dist, "browser-host", basename(outputOf("browser-host")));
  const child: ChildProcessWithoutNullStreams = spawn(process.execPath, [program, ...args], {
    env: {
      ...process.env,
      DISPLAY: "",
      WAYLAND_DISPLAY: "",
      HOPLINE_DATA: data,
      HOPLINE_DOCUMENTS: folder,
      ...env,
    },
  });
  onTestFinished(() => void child.kill("SIGKILL"));
  let text = "";
  child.stdout.on("data", (chunk: Buffer) => (text += chunk.toString()));
  child.stderr.on("data", (chunk: Buffer) => (text += chunk.toString()));
  const ended = new Promise<number | null>((resolve) => child.on("close", resolve));
  const address = async () => {
    const printed = () => /http:\S+/.exec(text)?.[0] ?? "";
    await expect.poll(printed, { timeout: 30_000 }).toMatch(/^http/);
    return printed();
  };
  return { child, folder, data, ended, address, text: () => text };
}

describe("the program", () => {
  it("prints one address that works, and ends with 0 at Ctrl-C", async () => {
    const { child, ended, address } = start(["/shows/tour.hopline"]);
    const url = new URL(await address());
    expect(url.hostname).toBe("127.0.0.1");
    const answer = await fetch(new URL("/api/session", url), {
      method: "POST",
      headers: { "content-type": "application/json", origin: url.origin },
      body: JSON.stringify(new URLSearchParams(url.hash.slice(1)).get("key")),
    });
    const token = (await answer.json()) as string;
    const call = await fetch(new URL("/api/call/startFile", url), {
      method: "POST",
      headers: { "content-type": "application/json", origin: url.origin, "x-hopline-token": token },
      body: "[]",
    });
    expect(await call.json()).toEqual({ ok: true, value: "/shows/tour.hopline" });
    child.kill("SIGINT");
    expect(await ended).toBe(0);
  });

  it("opens its own window where there is a display, in a profile of its own", async () => {
    const folder = tempFolder();
    const browserProgram = join(folder, "browser");
    const note = join(folder, "arguments");
    writeFileSync(browserProgram, `#!/bin/sh\nprintf '%s\\n' "$@" > ${note}.new; mv ${note}.new ${note}\n`);
    chmodSync(browserProgram, 0o755);
    const { address, data, text } = start([], { DISPLAY: ":0", HOPLINE_BROWSER: browserProgram });
    const printed = await address();
    expect(text()).toContain("in a window of its own");
    await expect.poll(() => existsSync(note)).toBe(true);
    const given = readFileSync(note, "utf8").split("\n");
    expect(given).toContain(`--app=${printed}`);
    expect(given).toContain(`--user-data-dir=${join(data, "browser")}`);
  });

  it("says in one line where its port is taken", async () => {
    const first = start([]);
    const { port } = new URL(await first.address());
    const second = start(["--port", port]);
    expect(await second.ended).toBe(2);
    expect(second.text()).toBe(
      `Port ${port} is taken by another program. Leave --port out, or name another one.\n`,
    );
  });

  it("[H28] takes the port of its last run where that is free", async () => {
    const env = { HOPLINE_DATA: tempFolder() };
    const portOf = async (program: { address(): Promise<string> }) => new URL(await program.address()).port;
    const first = start([], env);
    const port = await portOf(first);
    const beside = start([], env);
    expect(await portOf(beside)).not.toBe(port);
    for (const { child, ended } of [first, beside]) {
      child.kill("SIGINT");
      await ended;
    }
    writeFileSync(join(env.HOPLINE_DATA, "port"), port);
    const again = start([], env);
    expect(await portOf(again)).toBe(port);
    again.child.kill("SIGINT");
    await again.ended;
    writeFileSync(join(env.HOPLINE_DATA, "port"), "not a port");
    expect(Number(await portOf(start([], env)))).toBeGreaterThan(1023);
  });

  it("[H26] lets a save under way finish at Ctrl-C", async () => {
    const { child, folder, ended, address } = start([]);
    const page = await newPage();
    await page.goto(await address());
    const path = join(folder, "large.hopline");
    const length = 20_000_000;
    const isWriting = () => readdirSync(folder).some((name) => name.startsWith(".hopline-"));
    const writing = expect.poll(isWriting, { interval: 1, timeout: 30_000 }).toBe(true);
    const saving = page
      .evaluate(([to, count]) => hoplineHost.save({ path: to, text: "x".repeat(count), expect: null }), [
        path,
        length,
      ] as const)
      .catch(() => undefined);
    await writing;
    child.kill("SIGINT");
    expect(await ended).toBe(0);
    await saving;
    expect(existsSync(path) && readFileSync(path).byteLength).toBe(length);
    expect(readdirSync(folder).filter((name) => name.startsWith(".hopline-"))).toEqual([]);
  });
});
