/** Joins host, store and page. */
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import type { HostApi } from "#engine";
import { App } from "./App.tsx";
import { listenToHostMenu, listenToKeys } from "./commands/listen.ts";
import { dialogTalk } from "./dialogs/talk.ts";
import { ErrorBoundary } from "./ErrorBoundary.tsx";
import { offerGear } from "./panels/ask-for-gear.ts";
import { openDroppedFiles } from "./files/drop.ts";
import { keepRecovery } from "./files/recovery.ts";
import { SessionContext } from "./files/session-context.ts";
import { createSession } from "./files/session.ts";
import { watchFile, windowName } from "./files/watch.ts";
import { findHost } from "./host.ts";
import { app } from "./state/store.ts";
import { openInspectorOnFirstLook, rememberLayout, ui } from "./state/ui.ts";
import { followScheme } from "./theme/scheme.ts";
import "./theme/tokens.css";
import "./theme/base.css";
import "./theme/layout.css";
import "./theme/panels.css";
import "./theme/overlays.css";

const root = createRoot(document.getElementById("root")!);
followScheme(app);

const host = findHost();
if (host) start(host);
else {
  root.render(
    <main className="failure">
      <h1>Hopline was opened without its host</h1>
      <p>
        This page can’t read or keep files by itself. Start Hopline with “npm start”, and use the window that
        it opens.
      </p>
    </main>,
  );
}

function start(host: HostApi): void {
  const talk = dialogTalk(host);
  const session = createSession(host, app, talk);
  const recovery = keepRecovery(host, app, talk.problem);
  const watch = watchFile(host, app, windowName());
  const context = { session };

  tellWindow(host);
  rememberLayout();
  openInspectorOnFirstLook(app);
  listenToKeys(context);
  listenToHostMenu(host, context);
  openDroppedFiles(session, talk.problem);
  host.onSaveBeforeClose(() => session.save());
  // The page may be gone for good after this, so the copy can't wait for a pause in the editing.
  addEventListener("pagehide", () => {
    void recovery.flush();
    watch.stop();
  });
  addEventListener("focus", () => void watch.ask());
  document.addEventListener("visibilitychange", () => document.hidden || void watch.ask());
  // Each focus starts with the first of its branches.
  app.subscribe((state, before) => state.focus !== before.focus && ui.setState({ branch: 0 }));

  root.render(
    <StrictMode>
      <ErrorBoundary keep={() => recovery.flush()}>
        <SessionContext value={session}>
          <App />
        </SessionContext>
      </ErrorBoundary>
    </StrictMode>,
  );
  void session.start().then(offerGear);
}

function tellWindow(host: HostApi): void {
  const tell = (): void => {
    const { show, file, modified } = app.getState();
    host.setWindow({ title: show.title, path: file.path, modified });
  };
  tell();
  app.subscribe((state, before) => {
    const same =
      state.show.title === before.show.title &&
      state.file.path === before.file.path &&
      state.modified === before.modified;
    if (!same) tell();
  });
}
