/** Joins host, store and page. */
import { StrictMode, useEffect } from "react";
import { createRoot } from "react-dom/client";
import type { HostApi } from "#engine";
import { App } from "./App.tsx";
import { settleTyping } from "./commands/commands.ts";
import { listenToHostMenu, listenToKeys } from "./commands/listen.ts";
import { dialogTalk } from "./dialogs/talk.ts";
import { ErrorBoundary } from "./ErrorBoundary.tsx";
import { offerGear } from "./panels/ask-for-gear.ts";
import { openDroppedFiles } from "./files/drop.ts";
import { keepRecovery } from "./files/recovery.ts";
import { SessionContext } from "./files/session-context.ts";
import { createSession, type Talk } from "./files/session.ts";
import { bringBack, followRows, unfinishedWork } from "./files/unfinished.ts";
import { watchFile, windowName } from "./files/watch.ts";
import { host, opening } from "./boot.ts";
import type { Opening } from "./files/opening.ts";
import { awaitShow, catchSight, endSight } from "./state/first-sight.ts";
import { app } from "./state/store.ts";
import { typing } from "./state/typing.ts";
import { openInspectorOnFirstLook, rememberLayout, ui } from "./state/ui.ts";
import { followScheme } from "./theme/scheme.ts";
import { firstSeen, goOn } from "./worker/thread.ts";

/** How long the window stays empty at most while the file that it opens with is read. */
const PATIENCE_MS = 400;
/** How long a frame is waited for that may never come. */
const UNSEEN_MS = 250;

const root = createRoot(document.getElementById("root")!);
followScheme(app);

if (host && opening) start(host, opening);
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

function start(host: HostApi, opening: Promise<Opening>): void {
  awaitShow();
  let onDrawn = (): void => {};
  const drawn = new Promise<void>((resolve) => (onDrawn = resolve));
  const talk = afterDrawing(dialogTalk(host), drawn);
  const sight = opening.then(firstSeen).then(catchSight);
  const opened = async (): Promise<Opening> => {
    // What arrives where in it takes longer to draw, and comes after that.
    if (await sight) {
      await drawn.then(onScreen);
      goOn();
    }
    return opening;
  };
  const session = createSession(host, app, talk, opened, bringBack);
  // Electron's window has a storage that lasts, and keeps types there.
  const unfinished = unfinishedWork({ types: host.kind === "browser" });
  const recovery = keepRecovery(host, app, talk.problem, unfinished);
  followRows();
  const watch = watchFile(host, app, windowName());
  const context = { session };

  tellWindow(host);
  rememberLayout();
  openInspectorOnFirstLook(app);
  listenToKeys(context);
  listenToHostMenu(host, context);
  openDroppedFiles(session, talk.problem);
  host.onSaveBeforeClose(() => {
    settleTyping();
    return session.save();
  });
  // The page may be gone for good after this, so the copy can't wait for a pause in the editing.
  addEventListener("pagehide", () => {
    void recovery.flush();
    watch.stop();
  });
  addEventListener("focus", () => void watch.ask());
  document.addEventListener("visibilitychange", () => document.hidden || void watch.ask());
  // Each focus starts with the first of its branches.
  app.subscribe((state, before) => state.focus !== before.focus && ui.setState({ branch: 0 }));

  const started = session.start();
  const draw = (): void =>
    root.render(
      <StrictMode>
        <ErrorBoundary keep={() => recovery.flush()}>
          <SessionContext value={session}>
            <App />
            <Drawn tell={onDrawn} />
          </SessionContext>
        </ErrorBoundary>
      </StrictMode>,
    );
  // The show that is opened is the first thing drawn; a question, or a file that takes its time, finds the window there.
  const caught = new Promise<void>((resolve) => void sight.then((is) => is && resolve()));
  const patience = new Promise((over) => setTimeout(over, PATIENCE_MS));
  void Promise.race([started, caught, asked(), patience]).then(draw);
  void started.finally(endSight).then(offerGear);
}

/** Until what is drawn now can be seen. The frames of a window that nobody looks at don't come. */
function onScreen(): Promise<void> {
  return new Promise((resolve) => {
    requestAnimationFrame(() => requestAnimationFrame(() => resolve()));
    setTimeout(resolve, UNSEEN_MS);
  });
}

/** Messages come up in the window, so one that is there before it waits. */
function afterDrawing(talk: Talk, drawn: Promise<void>): Talk {
  return {
    ...talk,
    problem: (line) => void drawn.then(() => talk.problem(line)),
    remark: (line) => void drawn.then(() => talk.remark(line)),
  };
}

function Drawn({ tell }: { tell: () => void }) {
  useEffect(tell, [tell]);
  return null;
}

/** Until a dialog is up. */
function asked(): Promise<void> {
  return new Promise((resolve) => {
    const stop = ui.subscribe(({ dialog }) => {
      if (!dialog) return;
      stop();
      resolve();
    });
  });
}

function tellWindow(host: HostApi): void {
  const tell = (): void => {
    const { show, file, modified } = app.getState();
    // What is being typed would be lost with the window like an edit.
    host.setWindow({
      title: show.title,
      path: file.path,
      modified: modified || typing.getState().take !== null,
    });
  };
  tell();
  typing.subscribe((now, before) => (now.take === null) !== (before.take === null) && tell());
  app.subscribe((state, before) => {
    const same =
      state.show.title === before.show.title &&
      state.file.path === before.file.path &&
      state.modified === before.modified;
    if (!same) tell();
  });
}
