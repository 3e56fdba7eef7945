/** The two hosts, each with its real page side and its real wire, for suites that must hold on both. */
import { cpSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { onTestFinished } from "vitest";
import { PDFDocument } from "@cantoo/pdf-lib";
import { err, ok } from "#engine";
import type { HostApi } from "#engine";
import { createHostClient } from "../../../electron/browser-host/client/host-client.ts";
import type { PageWindow } from "../../../electron/browser-host/client/host-client.ts";
import { startBrowserHost } from "../../../electron/browser-host/server.ts";
import { answerPage } from "../../../electron/main/ipc.ts";
import { createBridge } from "../../../electron/preload/host-bridge.ts";
import { createBackend } from "../../../electron/services/backend.ts";
import type { Dialogs } from "../../../electron/services/backend.ts";
import type { PdfPrinter } from "../../../electron/services/printing.ts";
import { CANCELLED } from "../../../electron/services/printing.ts";
import { createServices } from "../../../electron/services/services.ts";
import { wire } from "./stand-in-electron.ts";
import { tempFolder } from "./temp.ts";

export interface TestHost {
  readonly host: HostApi;
  readonly folder: string;
  readonly documents: string;
  readonly data: string;
  readonly assets: string;
  /** Papers that a browser was asked to set: their HTML. */
  readonly printed: readonly string[];
}

/** A page on which nothing stands. */
const blank = await PDFDocument.create();
blank.addPage();
export const PDF = await blank.save();

/** A paper with this in it is never done by itself, as a large set looks to whoever calls it off. A browser has to set it. */
export const ENDLESS = "永遠";

interface Setting {
  readonly dialogs?: Dialogs;
}

function prepare(dialogs: Dialogs | null) {
  const folder = tempFolder();
  const documents = join(folder, "documents");
  const data = join(folder, "data");
  const assets = join(folder, "assets");
  for (const made of [documents, join(assets, "demo")]) mkdirSync(made, { recursive: true });
  writeFileSync(join(assets, "demo", "harbour.hopline"), "{}");
  cpSync(fileURLToPath(new URL("../../../assets/fonts", import.meta.url)), join(assets, "fonts"), {
    recursive: true,
  });
  const printed: string[] = [];
  const printer: PdfPrinter = {
    print: (html, signal) => {
      printed.push(html);
      if (!html.includes(ENDLESS)) return Promise.resolve(ok(PDF));
      return new Promise((resolve) => {
        signal.addEventListener("abort", () => resolve(err(CANCELLED)));
      });
    },
  };
  const services = createServices({ assets, data, documents, printer });
  const backend = createBackend({ services, dialogs, startFile: () => join(documents, "start.hopline") });
  return { backend, place: { folder, documents, data, assets, printed } };
}

export function electronHost({ dialogs }: Setting = {}): Promise<TestHost> {
  const none: Dialogs = { pickOpen: () => Promise.resolve(null), pickSave: () => Promise.resolve(null) };
  const { backend, place } = prepare(dialogs ?? none);
  wire.reset();
  answerPage(backend, { setWindow: () => {}, setMenu: () => {}, savedBeforeClose: () => {} });
  return Promise.resolve({ host: createBridge(wire.ipcRenderer), ...place });
}

export async function browserHost(): Promise<TestHost> {
  const { backend, place } = prepare(null);
  const server = await startBrowserHost({ backend, assets: new Map(), port: 0 });
  onTestFinished(() => server.close());
  const page = fakePage(server.origin, server.newAddress());
  return { host: createHostClient(page), ...place };
}

/** A page at `address`, whose requests carry what a browser would add. */
export function fakePage(
  origin: string,
  address: string,
): PageWindow & { readonly storage: Map<string, string> } {
  const storage = new Map<string, string>();
  const location = { hash: new URL(address).hash, pathname: "/" };
  const leaving = new AbortController();
  onTestFinished(() => leaving.abort());
  return {
    storage,
    location,
    history: { replaceState: () => (location.hash = "") },
    sessionStorage: {
      getItem: (key) => storage.get(key) ?? null,
      setItem: (key, value) => void storage.set(key, value),
    },
    document: { title: "" },
    fetch: (path, { referrer: _none, ...init }) =>
      fetch(new URL(path, origin), {
        ...init,
        signal: leaving.signal,
        headers: { ...(init.headers as Record<string, string>), origin },
      }),
    addEventListener: () => {},
  };
}

export const HOSTS = [
  { name: "Electron", start: electronHost },
  { name: "browser host", start: browserHost },
] as const;
