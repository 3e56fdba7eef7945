/** What the browser host's server refuses, asked in plain HTTP by somebody who isn't its page. */
import { mkdirSync, writeFileSync } from "node:fs";
import { request as httpRequest } from "node:http";
import type { IncomingHttpHeaders, OutgoingHttpHeaders } from "node:http";
import { networkInterfaces } from "node:os";
import { connect } from "node:net";
import { join } from "node:path";
import { describe, expect, it, onTestFinished, vi } from "vitest";
import { ok } from "#engine";
import { startBrowserHost } from "../../electron/browser-host/server.ts";
import type { Calls } from "../../electron/contract/calls.ts";
import { MAX_BODY_BYTES } from "../../electron/contract/wire.ts";
import { pageAssets } from "../../electron/services/page-assets.ts";
import { tempFolder } from "./support/temp.ts";

interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly text: string;
}

interface Question {
  readonly method?: string;
  readonly path?: string;
  readonly headers?: OutgoingHttpHeaders;
  readonly body?: string;
}

async function setUp() {
  const folder = tempFolder();
  const pages = join(folder, "renderer");
  mkdirSync(join(pages, "assets"), { recursive: true });
  writeFileSync(join(pages, "index.html"), "<!doctype html>page");
  writeFileSync(join(pages, "assets", "app-1.js"), "let app;");
  writeFileSync(join(folder, "secret.txt"), "secret");
  writeFileSync(join(pages, "notes.md"), "not for the page");
  const open = vi.fn(() => Promise.resolve(ok({ path: "/a", text: "t", stamp: "s" })));
  const pagesSeen: number[] = [];
  const backend = { open, recent: () => Promise.reject(new Error("a bug")) } as unknown as Calls;
  const bugs: unknown[] = [];
  const host = await startBrowserHost({
    backend,
    assets: await pageAssets(pages),
    port: 0,
    onPresence: (count) => pagesSeen.push(count),
    onBug: (error) => bugs.push(error),
  });
  onTestFinished(() => host.close());
  const { hostname, port, host: name } = new URL(host.origin);
  const ask = ({ method = "GET", path = "/", headers = {}, body }: Question): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const sent = httpRequest(
        { hostname, port, method, path, headers: { host: name, ...headers } },
        (response) => {
          let text = "";
          response.on("data", (chunk: Buffer) => (text += chunk.toString()));
          response.on("end", () =>
            resolve({ status: response.statusCode ?? 0, headers: response.headers, text }),
          );
        },
      );
      sent.on("error", reject);
      sent.end(body);
    });
  const keyOf = (address: string) => new URLSearchParams(new URL(address).hash.slice(1)).get("key") ?? "";
  const json = { "content-type": "application/json" };
  const exchange = (key: string, headers: OutgoingHttpHeaders = {}) =>
    ask({
      method: "POST",
      path: "/api/session",
      headers: { ...json, origin: host.origin, ...headers },
      body: JSON.stringify(key),
    });
  const token = JSON.parse((await exchange(keyOf(host.newAddress()))).text) as string;
  const mine = { ...json, origin: host.origin, "x-hopline-token": token };
  const call = (headers: OutgoingHttpHeaders, body = '["/a.hopline"]', name = "open") =>
    ask({ method: "POST", path: `/api/call/${name}`, headers, body });
  return { host, port, ask, exchange, keyOf, mine, call, open, bugs, pagesSeen };
}

it("answers its own page", async () => {
  const { call, mine, open, ask } = await setUp();
  expect(await call(mine)).toMatchObject({ status: 200, text: expect.stringContaining('"stamp":"s"') });
  expect(open).toHaveBeenCalledWith("/a.hopline");
  expect(await ask({})).toMatchObject({ status: 200, text: "<!doctype html>page" });
});

describe("[H20] host", () => {
  it.each(["evil.example", "localhost", "127.0.0.1", "127.0.0.1:1", "[::1]", "127.0.0.1.evil.example"])(
    "%s is not answered",
    async (name) => {
      const { ask, call, mine, port, open } = await setUp();
      const host = name === "localhost" || name === "[::1]" ? `${name}:${port}` : name;
      expect((await ask({ headers: { host } })).status).toBe(421);
      expect((await call({ ...mine, host })).status).toBe(421);
      expect(open).not.toHaveBeenCalled();
    },
  );

  it("listens on the loopback address only", async () => {
    const { port } = await setUp();
    const outside = Object.values(networkInterfaces())
      .flat()
      .filter((address) => address && !address.internal && address.family === "IPv4");
    for (const address of outside) {
      const reached = await new Promise((resolve) => {
        const socket = connect({ host: address?.address ?? "", port: Number(port) });
        socket.on("connect", () => {
          socket.destroy();
          resolve(true);
        });
        socket.on("error", () => resolve(false));
      });
      expect(reached, address?.address).toBe(false);
    }
  });
});

describe("[H21] origin", () => {
  it.each(["http://evil.example", "null", "https://127.0.0.1", "http://localhost"])(
    "%s is refused",
    async (origin) => {
      const { call, mine, ask, open } = await setUp();
      expect((await call({ ...mine, origin })).status).toBe(403);
      expect((await ask({ headers: { origin } })).status).toBe(403);
      expect(open).not.toHaveBeenCalled();
    },
  );

  it("none at all is refused, for calls and for the key", async () => {
    const { call, mine, exchange, keyOf, host, open } = await setUp();
    const { origin: _, ...without } = mine;
    expect((await call(without)).status).toBe(403);
    const key = keyOf(host.newAddress());
    expect((await exchange(key, { origin: "" })).status).toBe(403);
    expect((await exchange(key)).status).toBe(200);
    expect(open).not.toHaveBeenCalled();
  });

  it("a page from elsewhere may not even embed an asset, and no answer invites one", async () => {
    const { ask, mine } = await setUp();
    const embedded = await ask({ path: "/assets/app-1.js", headers: { "sec-fetch-site": "cross-site" } });
    expect(embedded.status).toBe(403);
    const asked = await ask({ method: "OPTIONS", path: "/api/call/open", headers: mine });
    expect(asked.status).toBe(405);
    for (const answer of [embedded, asked, await ask({})]) {
      expect(Object.keys(answer.headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
    }
  });
});

describe("[H22] key and token", () => {
  it("a key works once", async () => {
    const { host, exchange, keyOf } = await setUp();
    const key = keyOf(host.newAddress());
    expect(key).toMatch(/^[\w-]{43}$/);
    expect((await exchange(key)).status).toBe(200);
    expect((await exchange(key)).status).toBe(401);
    expect((await exchange("")).status).toBe(401);
  });

  it("a later address leaves earlier sessions alone", async () => {
    const { host, exchange, keyOf, call, mine } = await setUp();
    expect((await exchange(keyOf(host.newAddress()))).status).toBe(200);
    expect((await call(mine)).status).toBe(200);
  });

  it("a wrong token, a key as a token, a token in the address or a cookie are none", async () => {
    const { host, keyOf, call, mine, ask, open } = await setUp();
    const { "x-hopline-token": token, ...without } = mine;
    const wrong = [
      without,
      { ...without, "x-hopline-token": "" },
      { ...without, "x-hopline-token": keyOf(host.newAddress()) },
      { ...without, "x-hopline-token": `${token.slice(0, -1)}${token.endsWith("A") ? "B" : "A"}` },
      { ...without, cookie: `x-hopline-token=${token}` },
      { ...without, authorization: `Bearer ${token}` },
    ];
    for (const headers of wrong) expect((await call(headers)).status).toBe(401);
    const inAddress = await ask({
      method: "POST",
      path: `/api/call/open?x-hopline-token=${token}`,
      headers: without,
    });
    expect(inAddress.status).toBe(401);
    expect(open).not.toHaveBeenCalled();
  });

  it("no cookie is ever set", async () => {
    const { ask, exchange, host, keyOf } = await setUp();
    for (const answer of [await ask({}), await exchange(keyOf(host.newAddress()))]) {
      expect(answer.headers["set-cookie"]).toBeUndefined();
    }
  });
});

describe("[H23] assets", () => {
  it.each([
    "/../secret.txt",
    "/assets/../../secret.txt",
    "/%2e%2e/secret.txt",
    "/..%2fsecret.txt",
    "/assets/..%5c..%5csecret.txt",
    "//etc/passwd",
    "/index.html/",
    "/INDEX.HTML",
    "/assets",
    "/assets/",
    "/notes.md",
    "/constructor",
    "/__proto__",
    "http://evil.example/",
  ])("%s is nothing", async (path) => {
    const { ask } = await setUp();
    const answer = await ask({ path });
    expect(answer.status).toBe(404);
    expect(answer.text).not.toContain("secret");
  });

  it("come with their type, and with a query just the same", async () => {
    const { ask } = await setUp();
    const script = await ask({ path: "/assets/app-1.js?v=2" });
    expect(script).toMatchObject({ status: 200, text: "let app;" });
    expect(script.headers["content-type"]).toBe("text/javascript; charset=utf-8");
    const head = await ask({ method: "HEAD", path: "/index.html" });
    expect(head).toMatchObject({ status: 200, text: "" });
  });
});

describe("[H24] bodies", () => {
  it("a declared length over the cap is refused before it is read", async () => {
    const { call, mine, open } = await setUp();
    const answer = await call({ ...mine, "content-length": String(MAX_BODY_BYTES + 1) }, "").catch(
      (error: unknown) => error,
    );
    expect(answer).toMatchObject({ status: 413 });
    expect(open).not.toHaveBeenCalled();
  });

  it("a body that grows over the cap is cut off", async () => {
    const { exchange } = await setUp();
    // The key's cap is small, so the same code is reached without 160 MB.
    expect((await exchange("x".repeat(2000), { "transfer-encoding": "chunked" })).status).toBe(413);
  });

  it.each([
    ["not JSON", "{", 400],
    ["no list", '{"0":"/a"}', 400],
    ["too few arguments", "[]", 400],
    ["too many", '["/a","/b"]', 400],
    ["of the wrong type", "[7]", 400],
  ])("%s", async (_name, body, status) => {
    const { call, mine, open } = await setUp();
    expect((await call(mine, body)).status).toBe(status);
    expect(open).not.toHaveBeenCalled();
  });

  it("another type than JSON is refused, since a form can be sent by any page", async () => {
    const { call, mine, open } = await setUp();
    for (const type of ["text/plain", "application/x-www-form-urlencoded", "application/json, text/plain"]) {
      expect((await call({ ...mine, "content-type": type })).status).toBe(415);
    }
    expect(open).not.toHaveBeenCalled();
  });

  it.each(["constructor", "toString", "__proto__", "setMenu", "discardWork", "open/", ""])(
    "there is no call %j",
    async (name) => {
      const { call, mine } = await setUp();
      expect((await call(mine, "[]", name)).status).toBe(404);
    },
  );

  it("a bug of ours tells the page nothing, and the terminal all", async () => {
    const { call, mine, bugs } = await setUp();
    expect(await call(mine, "[]", "recent")).toMatchObject({ status: 500, text: "a bug\n" });
    expect(bugs).toMatchObject([new Error("a bug")]);
  });
});

it("[H25] every answer carries the policy and its companions", async () => {
  const { ask, call, mine } = await setUp();
  const answers = [
    await ask({}),
    await ask({ path: "/nothing" }),
    await ask({ method: "DELETE" }),
    await call(mine),
    await call({}),
  ];
  for (const { headers } of answers) {
    expect(headers["content-security-policy"]).toContain("default-src 'none'");
    expect(headers["x-content-type-options"]).toBe("nosniff");
    expect(headers["x-frame-options"]).toBe("DENY");
    expect(headers["referrer-policy"]).toBe("no-referrer");
    expect(headers["cross-origin-resource-policy"]).toBe("same-origin");
    expect(headers["cache-control"]).toBe("no-store");
  }
});

it("[H26] counts the pages that are open", async () => {
  const { host, port, mine, pagesSeen } = await setUp();
  const open = () =>
    new Promise<() => void>((resolve, reject) => {
      const sent = httpRequest(
        {
          hostname: "127.0.0.1",
          port,
          method: "POST",
          path: "/api/presence",
          headers: { host: `127.0.0.1:${port}`, ...mine },
        },
        () => resolve(() => sent.destroy()),
      );
      sent.on("error", reject);
      sent.end();
    });
  const closeOne = await open();
  const closeTwo = await open();
  expect(pagesSeen).toEqual([1, 2]);
  closeOne();
  await expect.poll(() => pagesSeen).toEqual([1, 2, 1]);
  closeTwo();
  await expect.poll(() => pagesSeen).toEqual([1, 2, 1, 0]);
  expect(host.origin).toBe(`http://127.0.0.1:${port}`);
});
