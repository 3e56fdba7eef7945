/** Electron's main process: puts the services to the one window, and hardens everything around it. */
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { app, protocol, session } from "electron";
import { createBackend } from "../services/backend.ts";
import { dataFolder } from "../services/data-folder.ts";
import { pageAssets } from "../services/page-assets.ts";
import { createServices } from "../services/services.ts";
import { SCHEME, SCHEME_PRIVILEGES, serveApp } from "./app-protocol.ts";
import { AppWindow } from "./app-window.ts";
import { nativeDialogs } from "./dialogs.ts";
import { hardenAllPages, hardenSession } from "./hardening.ts";
import { answerPage } from "./ipc.ts";
import { ElectronPrinter } from "./paper-printer.ts";
import { fileArgument, fileOf } from "./start-file.ts";

const dist = fileURLToPath(new URL("..", import.meta.url));
// What comes with the app lies beside its archive, where every program can read it.
const assets = app.isPackaged
  ? join(process.resourcesPath, "assets")
  : fileURLToPath(new URL("../../assets", import.meta.url));

const file = fileArgument(process.argv, app.isPackaged, process.cwd());
let startFile = file ?? join(assets, "demo", "quayside.hopline");
let window: AppWindow | undefined;

app.setName("Hopline");
const data = dataFolder();
// Electron takes only a folder that is there.
mkdirSync(data, { recursive: true });
app.setPath("userData", data);
protocol.registerSchemesAsPrivileged([{ scheme: SCHEME, privileges: SCHEME_PRIVILEGES }]);
app.enableSandbox();
hardenAllPages();

// Two processes on the same recovery copies would drop each other's; a second start hands its file to the first.
if (app.requestSingleInstanceLock({ file })) {
  app.on("second-instance", (_event, _argv, _folder, data) => {
    const asked = fileOf(data);
    if (asked === undefined) window?.show();
    else openFile(asked);
  });
  // macOS, from the file manager; before the app is ready when it is started by it.
  app.on("open-file", (event, path) => {
    event.preventDefault();
    openFile(path);
  });
  void app.whenReady().then(run);
} else {
  app.quit();
}

function openFile(path: string): void {
  startFile = path;
  void window?.startOver();
}

async function run(): Promise<void> {
  const printer = new ElectronPrinter();
  const services = createServices({ assets, data, documents: app.getPath("documents"), printer });
  const dialogs = nativeDialogs(() => {
    if (!window) throw new Error("a dialog before the window");
    return window.browserWindow;
  });
  const backend = createBackend({ services, dialogs, startFile: () => startFile });

  hardenSession(session.defaultSession);
  protocol.handle(SCHEME, serveApp(await pageAssets(join(dist, "renderer"))));
  printer.start();
  window = new AppWindow({
    preload: join(dist, "electron", "preload.cjs"),
    questions: dialogs,
    discardWork: () => backend.discardWork(),
  });
  answerPage(backend, window);
  void services.sweep();

  app.on("window-all-closed", () => app.quit());
  let finishing = false;
  app.on("will-quit", (event) => {
    // A save or a recovery copy under way is let finish.
    if (finishing) return;
    finishing = true;
    event.preventDefault();
    void services.writer.idle().then(() => app.quit());
  });
  await window.load();
}
