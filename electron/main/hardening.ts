/** What no page of ours may do, whatever it was made to run: Electron's security checklist as code (SPEC, H30 on). */
import { app } from "electron";
import type { Session, WebPreferences } from "electron";
import { isAppUrl, SCHEME } from "./app-protocol.ts";

/** For every window. Most are Electron's defaults; they stand here so that a change of those changes nothing. */
export const PAGE_PREFERENCES = {
  contextIsolation: true,
  sandbox: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  webviewTag: false,
  navigateOnDragDrop: false,
  // It would fetch dictionaries.
  spellcheck: false,
} as const satisfies WebPreferences;

/** Writing to the clipboard is what the app's own page may do, and only at a click; there is nothing else to permit. */
const PERMITTED = "clipboard-sanitized-write";

/** Refuses new windows, navigation and webviews to every page, and quits on none of them. */
export function hardenAllPages(): void {
  app.on("web-contents-created", (_event, contents) => {
    contents.setWindowOpenHandler(() => ({ action: "deny" }));
    contents.on("will-attach-webview", (event) => event.preventDefault());
    contents.on("will-navigate", (event) => {
      // A reload of the page is a navigation to it.
      if (!isAppUrl(event.url)) event.preventDefault();
    });
    contents.on("will-redirect", (event) => event.preventDefault());
    contents.on("will-frame-navigate", (event) => {
      if (!isAppUrl(event.url)) event.preventDefault();
    });
  });
}

/** Refuses permissions, downloads and everything that is not the app's own to a session. */
export function hardenSession(session: Session): void {
  session.setPermissionRequestHandler((contents, permission, decide) =>
    decide(permission === PERMITTED && isAppUrl(contents.getURL())),
  );
  session.setPermissionCheckHandler(
    (_contents, permission, origin) => permission === PERMITTED && isAppUrl(origin),
  );
  session.setDevicePermissionHandler(() => false);
  session.on("will-download", (event) => event.preventDefault());
  session.webRequest.onBeforeRequest(({ url }, decide) => decide({ cancel: !isOwn(url) }));
}

/** Text that the page made itself counts as its own; developer tools have a scheme of theirs. */
const isOwn = (url: string): boolean =>
  [`${SCHEME}:`, "blob:", "data:", "devtools:"].some((scheme) => url.startsWith(scheme));
