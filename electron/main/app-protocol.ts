/** `hopline-app://app/…`: where Electron's window finds the app's page. A page from `file:` could read the disk. */
import { promises as fs } from "node:fs";
import { PAGE_HEADERS } from "../services/content-security.ts";
import { assetFor } from "../services/page-assets.ts";
import type { PageAsset } from "../services/page-assets.ts";

export const SCHEME = "hopline-app";
export const APP_ORIGIN = `${SCHEME}://app`;
export const APP_URL = `${APP_ORIGIN}/index.html`;

/** A scheme of its own rank with the web's: an origin, a secure context, relative URLs, workers. */
export const SCHEME_PRIVILEGES = { standard: true, secure: true, supportFetchAPI: true } as const;

/** The preload has put the host in place already; the page's tag for it finds an empty script. */
const HOST_SCRIPT = { path: "/host.js", text: "", type: "text/javascript; charset=utf-8" };

/** Answers the page's requests from the fixed map. */
export const serveApp =
  (assets: ReadonlyMap<string, PageAsset>) =>
  async (request: { readonly url: string; readonly method: string }): Promise<Response> => {
    const refuse = (status: number) => new Response(null, { status, headers: PAGE_HEADERS });
    if (request.method !== "GET") return refuse(405);
    if (!request.url.startsWith(`${APP_ORIGIN}/`)) return refuse(404);
    const path = request.url.slice(APP_ORIGIN.length);
    if (path === HOST_SCRIPT.path) {
      return new Response(HOST_SCRIPT.text, {
        headers: { ...PAGE_HEADERS, "Content-Type": HOST_SCRIPT.type },
      });
    }
    const asset = assetFor(assets, path);
    if (!asset) return refuse(404);
    return new Response(await fs.readFile(asset.file), {
      headers: { ...PAGE_HEADERS, "Content-Type": asset.type },
    });
  };

/** Whether a frame shows the app's page; anything else is not answered. */
export function isAppUrl(url: string): boolean {
  return url === APP_ORIGIN || url.startsWith(`${APP_ORIGIN}/`);
}
