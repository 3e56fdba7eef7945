/** Electron's main process and preload, on a stand-in for Electron. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { HOST_GLOBAL, ok } from "#engine";
import type { HostApi, MenuEntry, WindowState } from "#engine";
import { CALL_NAMES } from "../../electron/contract/calls.ts";
import type { Calls } from "../../electron/contract/calls.ts";
import { APP_URL, SCHEME, isAppUrl, serveApp } from "../../electron/main/app-protocol.ts";
import { AppWindow } from "../../electron/main/app-window.ts";
import type { Answer } from "../../electron/main/close-guard.ts";
import { hardenAllPages, hardenSession } from "../../electron/main/hardening.ts";
import { answerPage } from "../../electron/main/ipc.ts";
import { ElectronPrinter } from "../../electron/main/paper-printer.ts";
import { fileArgument, fileOf } from "../../electron/main/start-file.ts";
import { createBridge } from "../../electron/preload/host-bridge.ts";
import { APP_POLICY } from "../../electron/services/content-security.ts";
import { pageAssets } from "../../electron/services/page-assets.ts";
import * as standIn from "./support/stand-in-electron.ts";
import { tempFolder } from "./support/temp.ts";
import { codeOf, lineOf, valueOf } from "./support/values.ts";

vi.mock("electron", () => import("./support/stand-in-electron.ts"));

const { wire } = standIn;

beforeEach(() => {
  wire.reset();
  standIn.app.removeAllListeners();
  standIn.BrowserWindow.all.length = 0;
});

/** Nobody calls it off. */
const GOES_ON = new AbortController().signal;

const lastWindow = (): standIn.BrowserWindow => {
  const window = standIn.BrowserWindow.all.at(-1);
  if (!window) throw new Error("no window was opened");
  return window;
};

/** A window with its page connected, and a user who gives `answers` in turn. */
function openWindow(answers: readonly Answer[] = []) {
  const asked: string[] = [];
  const discardWork = vi.fn(() => Promise.resolve());
  const questions = {
    unsaved: (title: string) => {
      const answer = answers[asked.length];
      asked.push(title);
      if (!answer) throw new Error("asked once too often");
      return Promise.resolve(answer);
    },
    crashed: vi.fn(() => Promise.resolve(true)),
    unresponsive: vi.fn(() => Promise.resolve(true)),
  };
  const window = new AppWindow({ preload: "/preload.cjs", questions, discardWork });
  answerPage({} as Calls, window);
  const page = createBridge(wire.ipcRenderer);
  const opened = lastWindow();
  const close = () => {
    const event = { prevented: false, preventDefault: () => void (event.prevented = true) };
    opened.emit("close", event);
    return event;
  };
  return { window, page, opened, close, asked, questions, discardWork };
}

/** Closes until the window has asked `times` times. */
const askAgain = (close: () => unknown, asked: readonly string[], times: number) =>
  expect
    .poll(() => {
      if (asked.length < times) close();
      return asked.length;
    })
    .toBe(times);

const state = (modified: boolean): WindowState => ({ title: "Tour", path: "/shows/tour.hopline", modified });

describe("[H30] windows", () => {
  const WANTED = {
    contextIsolation: true,
    sandbox: true,
    webSecurity: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webviewTag: false,
    allowRunningInsecureContent: false,
    experimentalFeatures: false,
    navigateOnDragDrop: false,
  };

  it("the app's is isolated, sandboxed and has no Node", () => {
    const { opened } = openWindow();
    expect(opened.options.webPreferences).toMatchObject({ ...WANTED, preload: "/preload.cjs" });
    expect(opened.options.webPreferences).not.toHaveProperty("enableBlinkFeatures");
  });

  it("[H38] a paper's is hidden, has no script and no preload, and is gone after", async () => {
    const printer = new ElectronPrinter();
    printer.start();
    valueOf(await printer.print("<p>x</p>", GOES_ON));
    const { options, destroyed } = lastWindow();
    expect(options).toMatchObject({
      show: false,
      webPreferences: { ...WANTED, javascript: false, partition: "paper" },
    });
    expect(options.webPreferences).not.toHaveProperty("preload");
    expect(destroyed).toBe(true);
  });
});

describe("[H31] hopline-app://", () => {
  async function served() {
    const folder = tempFolder();
    mkdirSync(join(folder, "assets"));
    writeFileSync(join(folder, "index.html"), "page");
    writeFileSync(join(folder, "assets", "app.js"), "let app;");
    return serveApp(await pageAssets(folder));
  }
  const get = (url: string) => ({ url, method: "GET" });

  it("serves the page with the policy, and an empty script for the host", async () => {
    const serve = await served();
    const page = await serve(get(APP_URL));
    expect([page.status, await page.text()]).toEqual([200, "page"]);
    expect(page.headers.get("content-security-policy")).toBe(APP_POLICY);
    expect(page.headers.get("content-type")).toBe("text/html; charset=utf-8");
    const host = await serve(get("hopline-app://app/host.js"));
    expect([host.status, await host.text()]).toEqual([200, ""]);
  });

  it.each([
    "hopline-app://app/../../../etc/passwd",
    "hopline-app://app/%2e%2e/%2e%2e/etc/passwd",
    "hopline-app://app//etc/passwd",
    "hopline-app://app/assets/",
    "hopline-app://other/index.html",
    "hopline-app://app.evil.example/index.html",
    "hopline-app://app",
    "file:///etc/passwd",
  ])("%s is nothing", async (url) => {
    const answer = await (await served())(get(url));
    expect(answer.status).toBe(404);
    expect(answer.headers.get("content-security-policy")).toBe(APP_POLICY);
  });

  it("takes no other method", async () => {
    const serve = await served();
    expect((await serve({ url: APP_URL, method: "POST" })).status).toBe(405);
  });
});

it("[H32] the policy has no inline script, no eval and nothing from elsewhere", () => {
  const policy = new Map(
    APP_POLICY.split("; ").map((part) => [part.split(" ")[0], part.split(" ").slice(1)] as const),
  );
  expect(policy.get("default-src")).toEqual(["'none'"]);
  expect(policy.get("script-src")).toEqual(["'self'"]);
  for (const name of ["object-src", "frame-src", "child-src"]) expect(policy.has(name)).toBe(false);
  for (const name of ["base-uri", "form-action", "frame-ancestors"])
    expect(policy.get(name)).toEqual(["'none'"]);
  expect(APP_POLICY).not.toMatch(/unsafe-eval|https?:|\*|script-src[^;]*unsafe/);
});

describe("[H33] refuses", () => {
  const event = (url: string) => {
    const made = { url, prevented: false, preventDefault: () => void (made.prevented = true) };
    return made;
  };

  it("navigation out of the app, redirects, new windows and webviews", () => {
    hardenAllPages();
    const contents = new standIn.WebContents();
    standIn.app.emit("web-contents-created", {}, contents);
    expect(contents.windowOpen?.()).toEqual({ action: "deny" });
    for (const name of ["will-navigate", "will-frame-navigate"]) {
      for (const url of [
        "https://example.com/",
        "file:///etc/passwd",
        "hopline-app://paper/1",
        "javascript:1",
      ]) {
        const away = event(url);
        contents.emit(name, away);
        expect(away.prevented, `${name} ${url}`).toBe(true);
      }
      const reload = event(APP_URL);
      contents.emit(name, reload);
      expect(reload.prevented).toBe(false);
    }
    for (const name of ["will-redirect", "will-attach-webview"]) {
      const refused = event(APP_URL);
      contents.emit(name, refused);
      expect(refused.prevented, name).toBe(true);
    }
  });

  it("every permission but writing to the clipboard, and that to others", () => {
    const session = new standIn.Session();
    hardenSession(session as never);
    const contents = new standIn.WebContents();
    const ask = (permission: string, url: string) => {
      let answer: boolean | undefined;
      contents.url = url;
      session.permissionRequest?.(contents, permission, (yes) => (answer = yes));
      return [answer, session.permissionCheck?.(null, permission, url)];
    };
    for (const permission of [
      "media",
      "geolocation",
      "notifications",
      "openExternal",
      "clipboard-read",
      "fileSystem",
      "hid",
    ]) {
      expect(ask(permission, APP_URL), permission).toEqual([false, false]);
    }
    expect(ask("clipboard-sanitized-write", APP_URL)).toEqual([true, true]);
    expect(ask("clipboard-sanitized-write", "https://example.com/")).toEqual([false, false]);
    expect(session.device?.()).toBe(false);
  });

  it("downloads and requests to anywhere else", () => {
    const session = new standIn.Session();
    hardenSession(session as never);
    const download = event("");
    session.emit("will-download", download);
    expect(download.prevented).toBe(true);
    const cancelled = (url: string) => {
      let answer: boolean | undefined;
      session.beforeRequest?.({ url }, ({ cancel }) => (answer = cancel));
      return answer;
    };
    for (const url of [
      "https://example.com/x",
      "http://127.0.0.1/",
      "file:///etc/passwd",
      "ws://example.com",
    ]) {
      expect(cancelled(url), url).toBe(true);
    }
    for (const url of [APP_URL, "blob:hopline-app://app/1", "data:image/png;base64,"]) {
      expect(cancelled(url), url).toBe(false);
    }
  });
});

describe("messages", () => {
  const backend = () => {
    const calls: string[] = [];
    const methods = CALL_NAMES.map((name) => [
      name,
      () => {
        calls.push(name);
        return Promise.resolve(ok(null));
      },
    ]);
    const taken: unknown[] = [];
    answerPage(Object.fromEntries(methods) as Calls, {
      setWindow: (given) => void taken.push(given),
      setMenu: (given) => void taken.push(given),
      savedBeforeClose: (...given) => void taken.push(given),
    });
    return { calls, taken, host: createBridge(wire.ipcRenderer) };
  };

  const strangers: readonly (readonly [string, standIn.Frame | null])[] = [
    ["a frame that is gone", null],
    ["another site", { url: "https://example.com/", parent: null }],
    ["a lookalike", { url: "hopline-app://app.evil.example/", parent: null }],
    ["a paper", { url: "hopline-app://paper/1", parent: null }],
    ["a frame inside the page", { url: APP_URL, parent: { url: APP_URL, parent: null } }],
  ];

  it.each(strangers)("[H34] from %s are not taken", async (_name, sender) => {
    const { calls, taken, host } = backend();
    wire.sender = sender;
    await expect(host.open("/etc/passwd")).rejects.toThrow("not from the app's page");
    host.setWindow(state(true));
    host.setMenu([]);
    expect([calls, taken]).toEqual([[], []]);
  });

  it("[H34] from the page are", async () => {
    const { calls, taken, host } = backend();
    await host.open("/a.hopline");
    host.setWindow(state(true));
    expect([calls, taken]).toEqual([["open"], [state(true)]]);
  });

  it("[H35] a title, menu or answer of the wrong shape is passed over", () => {
    const { taken, host } = backend();
    const loose = host as unknown as Record<"setWindow" | "setMenu", (value: unknown) => void>;
    loose.setWindow({ title: "x" });
    loose.setWindow(null);
    loose.setMenu("menu");
    loose.setMenu([{ kind: "command", id: "a" }]);
    loose.setMenu([{ kind: "role", role: "quit" }]);
    const deep = (levels: number): MenuEntry =>
      levels === 0 ? { kind: "separator" } : { kind: "submenu", label: "m", entries: [deep(levels - 1)] };
    loose.setMenu([deep(10)]);
    expect(taken).toEqual([]);
    loose.setMenu([deep(3)]);
    expect(taken).toEqual([[deep(3)]]);
  });

  it("every call has one channel, and the preload shows the page nothing but the host", async () => {
    const { calls, host } = backend();
    await import("../../electron/preload/preload.ts");
    expect([...standIn.contextBridge.exposed.keys()]).toEqual([HOST_GLOBAL]);
    const exposed = standIn.contextBridge.exposed.get(HOST_GLOBAL) as HostApi;
    expect(Object.keys(exposed).sort()).toEqual(Object.keys(host).sort());
    expect(Object.values(exposed)).not.toContain(wire.ipcRenderer);
    await exposed.recent();
    expect(calls).toEqual(["recent"]);
  });
});

describe("[H36] closing", () => {
  it("an unmodified window asks nothing", () => {
    const { page, close, asked } = openWindow();
    page.setWindow(state(false));
    expect(close().prevented).toBe(false);
    expect(asked).toEqual([]);
  });

  it("cancel keeps the window", async () => {
    const { page, close, asked, opened } = openWindow(["cancel", "cancel"]);
    page.setWindow(state(true));
    expect(close().prevented).toBe(true);
    await askAgain(close, asked, 2);
    expect(opened.destroyed).toBe(false);
  });

  it("don't save closes and drops the recovery copy", async () => {
    const { page, close, opened, discardWork } = openWindow(["discard"]);
    page.setWindow(state(true));
    close();
    await expect.poll(() => opened.destroyed).toBe(true);
    expect(discardWork).toHaveBeenCalledOnce();
  });

  it("save has the page save, then closes", async () => {
    const { page, close, opened, discardWork } = openWindow(["save"]);
    page.setWindow(state(true));
    const save = vi.fn(() => Promise.resolve(true));
    page.onSaveBeforeClose(save);
    close();
    await expect.poll(() => opened.destroyed).toBe(true);
    expect(save).toHaveBeenCalledOnce();
    expect(discardWork).not.toHaveBeenCalled();
  });

  const failing: readonly (readonly [string, (() => Promise<boolean>) | undefined])[] = [
    ["could not save", () => Promise.resolve(false)],
    ["broke while saving", () => Promise.reject(new Error("a bug"))],
    ["never said how to save", undefined],
  ];
  it.each(failing)("a page that %s keeps its window", async (_name, save) => {
    const { page, close, opened, asked } = openWindow(["save", "discard"]);
    page.setWindow(state(true));
    if (save) page.onSaveBeforeClose(save);
    close();
    await expect.poll(() => asked.length).toBe(1);
    // It can ask again only once the first asking is over, and that has not closed it.
    await askAgain(close, asked, 2);
    await expect.poll(() => opened.destroyed).toBe(true);
    expect(asked).toHaveLength(2);
  });

  it("asking twice is asking once", async () => {
    const { page, close, asked, opened } = openWindow(["cancel"]);
    page.setWindow(state(true));
    close();
    close();
    await expect.poll(() => asked).toEqual(["Tour"]);
    expect(opened.destroyed).toBe(false);
  });

  it("a page that crashes is offered again, and a save that waited for it is given up", async () => {
    const { page, close, opened, questions, window, asked } = openWindow(["save", "cancel"]);
    await window.load();
    page.setWindow(state(true));
    let started = () => {};
    const saving = new Promise<void>((resolve) => (started = resolve));
    page.onSaveBeforeClose(() => {
      started();
      return new Promise<boolean>(() => {});
    });
    close();
    await saving;
    opened.webContents.emit("render-process-gone", {}, { reason: "crashed" });
    await expect.poll(() => opened.loaded).toEqual([APP_URL, APP_URL]);
    expect(questions.crashed).toHaveBeenCalledOnce();
    expect(opened.destroyed).toBe(false);
    expect(close().prevented).toBe(false);
    page.setWindow(state(true));
    await askAgain(close, asked, 2);
  });

  it("a page that doesn't answer can be waited for", async () => {
    const { opened, questions } = openWindow();
    opened.emit("unresponsive");
    await expect.poll(() => questions.unresponsive.mock.results.length).toBe(1);
    expect(opened.destroyed).toBe(false);
    questions.unresponsive.mockResolvedValueOnce(false);
    opened.emit("unresponsive");
    await expect.poll(() => opened.destroyed).toBe(true);
  });

  it("[H39] another file opens past the same guard", async () => {
    const { window, page, opened, asked } = openWindow(["cancel", "discard"]);
    page.setWindow(state(true));
    await window.startOver();
    expect(opened.loaded).toEqual([]);
    await window.startOver();
    expect(opened.loaded).toEqual([APP_URL]);
    expect(asked).toHaveLength(2);
  });
});

describe("the window", () => {
  it("shows the show's title and whether it is modified", () => {
    const { page, opened } = openWindow();
    page.setWindow(state(false));
    expect(opened.title).toBe("Tour – Hopline");
    page.setWindow(state(true));
    expect(opened.title).toBe("• Tour – Hopline");
  });

  it("[H37] has none of Electron's own menu, not even before the page has sent one", () => {
    const set = vi.spyOn(standIn.Menu, "buildFromTemplate");
    openWindow();
    const roles = JSON.stringify(set.mock.lastCall);
    expect(set).toHaveBeenCalledOnce();
    expect(roles).not.toMatch(/toggleDevTools|reload/i);
    set.mockRestore();
  });

  it("[H37] hands a command of the menu to the page", () => {
    const { window, page } = openWindow();
    const template = vi.spyOn(standIn.Menu, "buildFromTemplate");
    const heard: string[] = [];
    const stop = page.onCommand((id) => heard.push(id));
    window.setMenu([{ kind: "command", id: "file.save", label: "Save", keys: "Mod+S", enabled: true }]);
    const built = template.mock.lastCall?.[0] as { label?: string; click?: () => void }[];
    const save = built.find((item) => item.label === "Save");
    save?.click?.();
    stop();
    save?.click?.();
    expect(heard).toEqual(["file.save"]);
  });
});

describe("[H38] papers", () => {
  it("are in a session that knows nothing else, under a policy without script", async () => {
    const printer = new ElectronPrinter();
    printer.start();
    const session = standIn.session.fromPartition("paper");
    const handler = session.handlers.get(SCHEME);
    let shown: Response | undefined;
    const loadURL = vi.spyOn(standIn.BrowserWindow.prototype, "loadURL").mockImplementation(async (url) => {
      shown = await handler?.({ url, method: "GET" });
    });
    const printed = await printer.print("<h1>Plan</h1>", GOES_ON);
    const url = loadURL.mock.lastCall?.[0] ?? "";
    loadURL.mockRestore();
    expect(printed.ok).toBe(true);
    expect(isAppUrl(url)).toBe(false);
    expect(await shown?.text()).toContain("<h1>Plan</h1>");
    expect(shown?.headers.get("content-security-policy")).toMatch(/^default-src 'none'/);
    expect(lastWindow().webContents.printed).toEqual([
      { printBackground: true, preferCSSPageSize: true, generateTaggedPDF: false },
    ]);
    expect((await handler?.({ url, method: "GET" }))?.status).toBe(404);
    expect(session.beforeRequest).not.toBeNull();
  });

  it("[H15] [H17] that fail, take too long or are called off say so in one line, and leave no window", async () => {
    const working = standIn.WebContents.pdf;
    standIn.WebContents.pdf = () => Promise.reject(new Error("no printer engine"));
    const failed = await new ElectronPrinter().print("", GOES_ON);
    expect([codeOf(failed), lineOf(failed)]).toEqual([
      "cannot-print",
      expect.stringContaining("no printer engine"),
    ]);
    expect(lastWindow().destroyed).toBe(true);
    standIn.WebContents.pdf = () => new Promise(() => {});
    expect(lineOf(await new ElectronPrinter(1).print("", GOES_ON))).toContain("took longer");
    expect(lastWindow().destroyed).toBe(true);
    const dying = new ElectronPrinter().print("", GOES_ON);
    lastWindow().webContents.emit("render-process-gone");
    expect(lineOf(await dying)).toContain("crashed");
    expect(lastWindow().destroyed).toBe(true);
    const stop = new AbortController();
    const stopped = new ElectronPrinter().print("", stop.signal);
    stop.abort();
    expect(codeOf(await stopped)).toBe("cancelled");
    expect(lastWindow().destroyed).toBe(true);
    standIn.WebContents.pdf = working;
  });
});

describe("[H39] the start file", () => {
  it("is the one that the command line names", () => {
    expect(fileArgument(["hopline", "tour.hopline"], true, "/shows")).toBe("/shows/tour.hopline");
    expect(fileArgument(["hopline", "--flag", "/a.hopline"], true, "/shows")).toBe("/a.hopline");
    expect(fileArgument(["electron", "/app", "/a.hopline"], false, "/")).toBe("/a.hopline");
    expect(fileArgument(["electron", "--inspect=0", "/app", "/a.hopline"], false, "/")).toBe("/a.hopline");
    expect(fileArgument(["electron", "--inspect=0", "/app"], false, "/")).toBeUndefined();
    expect(fileArgument(["electron", "/app"], false, "/")).toBeUndefined();
    expect(fileArgument(["hopline"], true, "/")).toBeUndefined();
  });

  it("of a second start is taken only as an absolute path", () => {
    expect(fileOf({ file: "/a.hopline" })).toBe("/a.hopline");
    for (const bad of [null, 3, {}, { file: 3 }, { file: "a.hopline" }]) expect(fileOf(bad)).toBeUndefined();
  });
});
