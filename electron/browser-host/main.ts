/** The browser host's program: `server.js [FILE] [--port N] [--no-open]`. `npm start` calls it. */
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { createBackend } from "../services/backend.ts";
import { dataFolder } from "../services/data-folder.ts";
import { pageAssets } from "../services/page-assets.ts";
import { createServices, documentsFolder } from "../services/services.ts";
import { Lifetime } from "./lifetime.ts";
import { rememberPort, rememberedPort } from "./remembered-port.ts";
import { startBrowserHost, startFailure } from "./server.ts";
import type { BrowserHost } from "./server.ts";
import { hasDisplay, openAppWindow } from "./window.ts";

/** A save under way gets this long to finish after Ctrl-C. */
const STOP_PATIENCE_MS = 15_000;

const dist = fileURLToPath(new URL("..", import.meta.url));
const assets = fileURLToPath(new URL("../../assets", import.meta.url));

const { values, positionals } = parseArgs({
  options: { port: { type: "string", default: "0" }, "no-open": { type: "boolean", default: false } },
  allowPositionals: true,
});

const data = dataFolder();
const services = createServices({
  assets,
  data,
  documents: process.env["HOPLINE_DOCUMENTS"] ?? (await documentsFolder()),
});
const page = new Map(await pageAssets(`${dist}/renderer`));
page.set("/host.js", { file: `${dist}/browser-host/client.js`, type: "text/javascript; charset=utf-8" });

const lifetime = new Lifetime({
  end: () => void stop(host),
  offerAddress: () => console.log(`To open Hopline again: ${host.newAddress()}`),
});
const backend = createBackend({ services, dialogs: null, startFile: () => positionals[0] ?? null });
const listen = (port: number): Promise<BrowserHost> =>
  startBrowserHost({
    backend,
    assets: page,
    port,
    onPresence: (pages) => lifetime.follow(pages),
    onBug: (error) => console.error(error),
  });
const asked = Number(values.port);
const host = await (
  asked > 0
    ? listen(asked)
    : // Taken by another Hopline, most likely.
      listen(await rememberedPort(data)).catch(() => listen(0))
).catch((error: unknown) => {
  console.error(startFailure(asked, error));
  process.exit(2);
});
await rememberPort(data, host.port);

void services.sweep();
process.on("SIGINT", () => void stop(host));
process.on("SIGTERM", () => void stop(host));

const address = host.newAddress();
const opened = !values["no-open"] && hasDisplay() && (await openAppWindow(address, data));
lifetime.ownsWindow = opened;
console.log(`Hopline runs in the browser host${opened ? ", in a window of its own" : ""}: ${address}`);
if (!opened) console.log("The address works once, in a browser on this machine. Ctrl-C ends Hopline.");

async function stop(host: BrowserHost): Promise<void> {
  setTimeout(() => process.exit(1), STOP_PATIENCE_MS).unref();
  backend.endPrints();
  await host.close();
  await services.writer.idle();
  process.exit(0);
}
