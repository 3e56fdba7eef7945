/**
 * The browser host's server: the app's page and the host calls, for one user on this machine. It listens on the
 * loopback address only, and every request has to prove where it comes from (electron/SPEC.md, H20 and on).
 */
import { randomBytes, timingSafeEqual, createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { createServer } from "node:http";
import type { IncomingMessage, ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { finished } from "node:stream/promises";
import { argumentsFit, invoke, isCallName } from "../contract/calls.ts";
import type { Calls } from "../contract/calls.ts";
import {
  CALL_PATH,
  MAX_BODY_BYTES,
  PRESENCE_PATH,
  SESSION_PATH,
  TOKEN_HEADER,
  decode,
  encode,
} from "../contract/wire.ts";
import { PAGE_HEADERS } from "../services/content-security.ts";
import { assetFor } from "../services/page-assets.ts";
import type { PageAsset } from "../services/page-assets.ts";
import { systemCode } from "../services/host-error.ts";

const LOOPBACK = "127.0.0.1";

export interface BrowserHostOptions {
  readonly backend: Calls;
  readonly assets: ReadonlyMap<string, PageAsset>;
  /** 0 takes a free one. */
  readonly port: number;
  /** Told how many pages are open, whenever that changes. */
  readonly onPresence?: (pages: number) => void;
  /** Told of a call that failed through a bug of ours. */
  readonly onBug?: (error: unknown) => void;
}

export interface BrowserHost {
  readonly origin: string;
  readonly port: number;
  /** A new address to open the app at. It works once; a later one doesn't end what was opened before. */
  newAddress(): string;
  /** Stops taking requests, lets those under way finish, and ends. */
  close(): Promise<void>;
}

/** A reason to answer with an HTTP error. The text is for the log of somebody who tries by hand. */
class Refusal extends Error {
  constructor(
    readonly status: number,
    message: string,
  ) {
    super(message);
  }
}

/** Starts the server. Rejects with `EADDRINUSE` where the port is taken. */
export async function startBrowserHost(options: BrowserHostOptions): Promise<BrowserHost> {
  const { backend, assets, port, onPresence = () => {}, onBug = () => {} } = options;
  const keys = new Secrets();
  const tokens = new Secrets();
  const pages = new Set<ServerResponse>();
  let origin = "";

  const answering = new Set<Promise<void>>();
  const server = createServer((request, response) => {
    const done = handle(request, response)
      .catch((error: unknown) => {
        if (!(error instanceof Refusal)) onBug(error);
        refuse(response, error);
      })
      // To the last byte; a page that hangs up before is answered too.
      .then(() => finished(response).catch(() => undefined))
      .then(() => void answering.delete(done));
    answering.add(done);
  });
  // A loopback client that needs longer than this to send its headers is not ours.
  server.headersTimeout = 10_000;
  server.keepAliveTimeout = 5_000;

  async function handle(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const url = request.url ?? "";
    for (const [name, value] of Object.entries(PAGE_HEADERS)) response.setHeader(name, value);
    if (request.headers.host !== new URL(origin).host) throw new Refusal(421, "wrong host");
    if (request.method === "GET" || request.method === "HEAD") return serveAsset(request, response, url);
    if (request.method !== "POST") throw new Refusal(405, "wrong method");
    if (request.headers.origin !== origin) throw new Refusal(403, "wrong origin");
    if (url === SESSION_PATH) return startSession(request, response);
    if (!tokens.has(header(request, TOKEN_HEADER))) throw new Refusal(401, "no session");
    if (url === PRESENCE_PATH) return keepPresence(response);
    return answerCall(request, response, url);
  }

  /** Assets are the same for everybody and hold no secret, so they need no token, but still the right origin. */
  async function serveAsset(request: IncomingMessage, response: ServerResponse, url: string): Promise<void> {
    const from = request.headers.origin;
    if (from !== undefined && from !== origin) throw new Refusal(403, "wrong origin");
    const site = request.headers["sec-fetch-site"];
    if (site !== undefined && site !== "same-origin" && site !== "none") throw new Refusal(403, "wrong site");
    const asset = assetFor(assets, url);
    if (!asset) throw new Refusal(404, "nothing here");
    response.setHeader("Content-Type", asset.type);
    if (request.method === "HEAD") return void response.end();
    await new Promise<void>((resolve, reject) => {
      createReadStream(asset.file).on("error", reject).pipe(response).on("close", resolve);
    });
  }

  /** Exchanges the key that an address holds for a session's token, once. */
  async function startSession(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const body = await readJson(request, 1024);
    const key = typeof body === "string" ? body : "";
    if (!keys.take(key)) throw new Refusal(401, "key unknown or used before");
    answer(response, tokens.create());
  }

  /** An answer that never ends: its connection closes with the page, whatever ends the page. */
  function keepPresence(response: ServerResponse): void {
    pages.add(response);
    onPresence(pages.size);
    response.on("close", () => {
      pages.delete(response);
      onPresence(pages.size);
    });
    response.writeHead(200, { "Content-Type": "text/plain" });
    response.write("here\n");
  }

  async function answerCall(request: IncomingMessage, response: ServerResponse, url: string): Promise<void> {
    const name = url.slice(CALL_PATH.length);
    if (!url.startsWith(CALL_PATH) || !isCallName(name)) throw new Refusal(404, "no such call");
    const args = await readJson(request, MAX_BODY_BYTES);
    if (!argumentsFit(name, args)) throw new Refusal(400, "wrong arguments");
    answer(response, await invoke(backend, name, args));
  }

  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen({ host: LOOPBACK, port, exclusive: true }, resolve);
  });
  const { port: taken } = server.address() as AddressInfo;
  origin = `http://${LOOPBACK}:${taken}`;

  return {
    origin,
    port: taken,
    // Behind the hash, which is sent to no server and written to no log.
    newAddress: () => `${origin}/#key=${keys.create()}`,
    close: async () => {
      server.close();
      for (const page of pages) page.end();
      await Promise.all(answering);
      // Browsers keep connections for a while in case they ask again.
      server.closeAllConnections();
    },
  };
}

/** Secrets that were given out. Kept as digests of one length, so that comparing takes the same time for any guess. */
class Secrets {
  #digests: readonly Buffer[] = [];

  create(): string {
    const secret = randomBytes(32).toString("base64url");
    this.#digests = [...this.#digests, digest(secret)];
    return secret;
  }

  has(secret: string): boolean {
    const asked = digest(secret);
    // Every one is compared: stopping at the first match would tell its place.
    return this.#digests.filter((known) => timingSafeEqual(known, asked)).length > 0;
  }

  /** Whether the secret is known; from then on it is not. */
  take(secret: string): boolean {
    if (!this.has(secret)) return false;
    const asked = digest(secret);
    this.#digests = this.#digests.filter((known) => !timingSafeEqual(known, asked));
    return true;
  }
}

const digest = (text: string): Buffer => createHash("sha256").update(text).digest();

/** A header that was sent once; two of a kind are none. */
function header(request: IncomingMessage, name: string): string {
  const value = request.headers[name];
  return typeof value === "string" ? value : "";
}

async function readJson(request: IncomingMessage, limit: number): Promise<unknown> {
  if (request.headers["content-type"] !== "application/json") throw new Refusal(415, "JSON only");
  if (Number(request.headers["content-length"] ?? 0) > limit) throw new Refusal(413, "too large");
  const chunks: Buffer[] = [];
  let length = 0;
  for await (const chunk of request as AsyncIterable<Buffer>) {
    length += chunk.length;
    if (length > limit) throw new Refusal(413, "too large");
    chunks.push(chunk);
  }
  try {
    return decode(Buffer.concat(chunks).toString("utf8"));
  } catch {
    throw new Refusal(400, "not JSON");
  }
}

function answer(response: ServerResponse, value: unknown): void {
  response.writeHead(200, { "Content-Type": "application/json" });
  response.end(encode(value));
}

function refuse(response: ServerResponse, error: unknown): void {
  if (response.headersSent) return void response.destroy();
  const [status, text] = error instanceof Refusal ? [error.status, error.message] : [500, "a bug"];
  // What was not read of the body would be taken for the next request.
  response.writeHead(status, { "Content-Type": "text/plain; charset=utf-8", Connection: "close" });
  response.end(`${text}\n`);
}

/** Why the server could not start, for the user. */
export function startFailure(port: number, error: unknown): string {
  return systemCode(error) === "EADDRINUSE"
    ? `Port ${port} is taken by another program. Leave --port out, or name another one.`
    : `Port ${port} can't be used (${error instanceof Error ? error.message : String(error)}). Leave --port out, or name another one.`;
}
