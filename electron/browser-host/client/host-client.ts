/** `HostApi` for a page of the browser host: calls over fetch, the window's part with what a browser page has. */
import { err } from "#engine/model/result.ts";
import type { HostApi, HostError } from "#engine";
import { CALL_NAMES } from "../../contract/calls.ts";
import type { Calls } from "../../contract/calls.ts";
import { windowTitle } from "../../contract/window-title.ts";
import {
  CALL_PATH,
  MAX_BODY_BYTES,
  PRESENCE_PATH,
  SESSION_PATH,
  TOKEN_HEADER,
  decode,
  encode,
} from "../../contract/wire.ts";

/** What the client needs of its page; tests put one in its place. */
export interface PageWindow {
  readonly location: { readonly hash: string; readonly pathname: string };
  readonly history: { replaceState(data: null, unused: string, url: string): void };
  readonly sessionStorage: Pick<Storage, "getItem" | "setItem">;
  readonly document: { title: string };
  fetch(input: string, init: RequestInit): Promise<Response>;
  addEventListener(type: "beforeunload", listener: (event: BeforeUnloadEvent) => void): void;
}

const TOKEN_KEY = "hopline-token";

const GONE: HostError = {
  code: "unreachable",
  message:
    "Hopline's host has stopped, so nothing can be saved from this window. Leave it open, start Hopline again, and get the work back there from its recovery copy.",
};
const USED: HostError = {
  code: "unreachable",
  message:
    "This address was used already, or belongs to an earlier run. Open the one that Hopline printed last.",
};
const TOO_LARGE: HostError = {
  code: "too-large",
  message:
    "That is too large to be written. Export fewer sheets at a time, or remove what the show no longer needs.",
};
const REFUSED: HostError = {
  code: "failed",
  message:
    "Hopline's host could not do that, through a mistake in Hopline. The show in this window is unharmed.",
};

export function createHostClient(page: PageWindow): HostApi {
  const token = startSession(page);
  let modified = false;

  async function call(name: string, args: readonly unknown[]): Promise<unknown> {
    const session = await token;
    if (session === undefined) return err(USED);
    const body = encode(args);
    // Asked here already: a server that hangs up in the middle of a request looks like one that is gone.
    if (body.length > MAX_BODY_BYTES) return err(TOO_LARGE);
    let response: Response;
    let text: string;
    try {
      response = await post(page, CALL_PATH + name, body, session, name === "watchFile");
      text = await response.text();
    } catch {
      return err(GONE);
    }
    if (response.ok) return decode(text);
    return err(response.status === 413 ? TOO_LARGE : response.status === 401 ? USED : REFUSED);
  }

  page.addEventListener("beforeunload", (event) => {
    if (modified) event.preventDefault();
  });
  void token.then((session) => session !== undefined && void stayPresent(page, session));

  // One method for each name of the table, and the table has each name of the type.
  const calls = Object.fromEntries(
    CALL_NAMES.map((name) => [name, (...args: readonly unknown[]) => call(name, args)]),
  ) as unknown as Calls;

  return {
    ...calls,
    kind: "browser",
    dialogs: "in-app",
    setWindow: (state) => {
      modified = state.modified;
      page.document.title = windowTitle(state);
    },
    // A browser has no menu of the page's; the page shows its own, and asks about closing by `beforeunload`.
    setMenu: () => {},
    onCommand: () => () => {},
    onSaveBeforeClose: () => () => {},
  };
}

/** The token of an earlier load of this page, or a new one for the key in the address, which is then taken out of it. */
async function startSession(page: PageWindow): Promise<string | undefined> {
  const key = new URLSearchParams(page.location.hash.slice(1)).get("key");
  if (key === null) return page.sessionStorage.getItem(TOKEN_KEY) ?? undefined;
  page.history.replaceState(null, "", page.location.pathname);
  try {
    const response = await post(page, SESSION_PATH, encode(key));
    if (!response.ok) return page.sessionStorage.getItem(TOKEN_KEY) ?? undefined;
    const token = decode(await response.text());
    if (typeof token !== "string") return undefined;
    page.sessionStorage.setItem(TOKEN_KEY, token);
    return token;
  } catch {
    return undefined;
  }
}

/** Holds a request open for as long as the page lives, which is how the server knows that it does. */
async function stayPresent(page: PageWindow, token: string): Promise<void> {
  try {
    const response = await post(page, PRESENCE_PATH, "", token);
    const reader = response.body?.getReader();
    while (reader && !(await reader.read()).done);
  } catch {
    // The server is gone; the next call tells the user.
  }
}

/** Characters; a show has more, a question to the host has few. */
const LARGE_TEXT = 20_000;

/** `outliving`: goes out also where the page closes meanwhile, which browsers allow for small bodies. */
const post = (
  page: PageWindow,
  path: string,
  body: string,
  token?: string,
  outliving = false,
): Promise<Response> =>
  page.fetch(path, {
    method: "POST",
    keepalive: outliving,
    headers: {
      "content-type": "application/json",
      ...(token === undefined ? {} : { [TOKEN_HEADER]: token }),
    },
    // A blob goes over more than twice as fast as a large text, and takes some milliseconds to be made.
    body: body.length > LARGE_TEXT ? new Blob([body]) : body,
    cache: "no-store",
    credentials: "omit",
    redirect: "error",
  });
