/**
 * The files that a page may load, as a fixed map made once at start. A request is looked up in it and never turned into
 * a path, so there is nothing to traverse.
 */
import { promises as fs } from "node:fs";
import { extname, join } from "node:path";

export interface PageAsset {
  readonly file: string;
  readonly type: string;
}

const TYPES: Readonly<Record<string, string>> = {
  ".css": "text/css; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".ico": "image/x-icon",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".map": "application/json; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
  ".woff2": "font/woff2",
};

/** Files under `folder` by URL path, `/` being its index.html. Files of a kind not listed above are left out. */
export async function pageAssets(folder: string): Promise<ReadonlyMap<string, PageAsset>> {
  const assets = new Map<string, PageAsset>();
  const walk = async (inner: string, url: string): Promise<void> => {
    for (const entry of await fs.readdir(inner, { withFileTypes: true })) {
      const file = join(inner, entry.name);
      const type = TYPES[extname(entry.name)];
      if (entry.isDirectory()) await walk(file, `${url}${entry.name}/`);
      else if (type) assets.set(`${url}${entry.name}`, { file, type });
    }
  };
  await walk(folder, "/");
  const index = assets.get("/index.html");
  if (index) assets.set("/", index);
  return assets;
}

/**
 * The asset that a request's URL names. Compared as it stands, percent signs and dots included: names in the map have
 * neither escapes nor `..`.
 */
export function assetFor(assets: ReadonlyMap<string, PageAsset>, requestPath: string): PageAsset | undefined {
  return assets.get(requestPath.replace(/[?#].*$/s, ""));
}
