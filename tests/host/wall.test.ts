/** [H53] The wall between the rooms, put to text in every form that an import can take. */
import { fileURLToPath } from "node:url";
import { ESLint } from "eslint";
import { describe, expect, it } from "vitest";
import { wallObjection } from "../../build/eslint-wall.js";

const root = fileURLToPath(new URL("../..", import.meta.url));
const eslint = new ESLint({
  cwd: root,
  overrideConfigFile: `${root}/build/eslint.config.js`,
});

/** What the wall says of `code` in the file at `filePath`. */
async function objections(filePath: string, code: string): Promise<readonly string[]> {
  const [result] = await eslint.lintText(code, { filePath: `${root}/${filePath}` });
  const broken = result?.messages.find((message) => message.fatal);
  if (broken) throw new Error(broken.message);
  return (result?.messages ?? [])
    .filter((message) => message.ruleId === "wall/rooms")
    .map((message) => message.message);
}

/** Every form in which a file can name another module. */
const FORMS: Readonly<Record<string, (source: string) => string>> = {
  import: (source) => `import { a } from "${source}"; a();`,
  "import for its effect": (source) => `import "${source}";`,
  "type import": (source) => `import type { A } from "${source}"; export const a = 1 as unknown as A;`,
  "inline type import": (source) => `import { type A } from "${source}"; export const a = 1 as unknown as A;`,
  "namespace import": (source) => `import * as a from "${source}"; console.log(a);`,
  "re-export": (source) => `export { a } from "${source}";`,
  "type re-export": (source) => `export type { A } from "${source}";`,
  "re-export of all": (source) => `export * from "${source}";`,
  "re-export under a name": (source) => `export * as a from "${source}";`,
  "dynamic import": (source) => `export const a = await import("${source}");`,
  "dynamic import of a template": (source) => `export const a = await import(\`${source}\`);`,
  "import as a type": (source) => `export type A = import("${source}").A;`,
  "typeof import": (source) => `export type A = typeof import("${source}");`,
  "import equals require": (source) => `import a = require("${source}"); console.log(a);`,
  require: (source) =>
    `declare const require: (name: string) => unknown; export const a = require("${source}");`,
  "module declaration": (source) => `declare module "${source}" { export const a: number; }`,
  "reference comment": (source) => `/// <reference types="${source}" />\nexport const a = 1;`,
};

const FORBIDDEN: readonly (readonly [file: string, source: string])[] = [
  ["engine/trace/x.ts", "node:fs"],
  ["engine/trace/x.ts", "fs"],
  ["engine/trace/x.ts", "react"],
  ["engine/trace/x.ts", "electron"],
  ["engine/trace/x.ts", "#engine"],
  ["engine/trace/x.ts", "../../renderer/state/store.ts"],
  ["engine/trace/x.ts", "../../electron/services/files.ts"],
  ["engine/trace/x.ts", "../../tests/engine/rigs.ts"],
  ["engine/trace/x.ts", "../model/../../electron/main/main.ts"],
  ["renderer/panels/x.tsx", "electron"],
  ["renderer/panels/x.tsx", "electron/renderer"],
  ["renderer/panels/x.tsx", "node:path"],
  ["renderer/panels/x.tsx", "path"],
  ["renderer/panels/x.tsx", "../../electron/contract/calls.ts"],
  ["renderer/panels/x.tsx", "../../engine/index.ts"],
  ["renderer/panels/x.tsx", "#engine/../electron/main/main.ts"],
  ["renderer/panels/x.tsx", "/electron/main/main.ts"],
  ["electron/main/x.ts", "../../renderer/host.ts"],
  ["electron/main/x.ts", "../../engine/index.ts"],
  ["electron/main/x.ts", "react"],
  ["electron/main/x.ts", "../browser-host/server.ts"],
  ["electron/services/x.ts", "electron"],
  ["electron/services/x.ts", "../main/menu.ts"],
  ["electron/contract/x.ts", "node:crypto"],
  ["electron/preload/x.ts", "node:fs"],
  ["electron/preload/x.ts", "../services/files.ts"],
  ["electron/browser-host/client/x.ts", "node:http"],
  ["electron/browser-host/client/x.ts", "electron"],
  ["electron/browser-host/client/x.ts", "../server.ts"],
  ["electron/browser-host/x.ts", "electron"],
  ["electron/browser-host/x.ts", "./client/client.ts"],
  ["electron/headless/x.ts", "electron"],
];

describe.each(Object.entries(FORMS))("[H53] %s", (_name, form) => {
  it("is refused where it leads out of the room", { timeout: 60_000 }, async () => {
    for (const [file, source] of FORBIDDEN) {
      expect(await objections(file, form(source)), `${file} → ${source}`).toHaveLength(1);
    }
  });
});

describe("[H53] a worker's URL", () => {
  const worker = (path: string) => `export const w = new Worker(new URL("${path}", import.meta.url));`;

  it("may lead within the room, and not out of it", async () => {
    expect(await objections("renderer/state/x.ts", worker("../worker/engine.ts"))).toEqual([]);
    expect(await objections("renderer/state/x.ts", worker("../../electron/main/main.ts"))).toHaveLength(1);
    expect(await objections("engine/trace/x.ts", worker("../../renderer/worker/x.ts"))).toHaveLength(1);
  });
});

it("[H53] a module named by a computation is refused, since it could be any", async () => {
  const code = "const name = 'electron'; export const a = await import(`${name}`);";
  expect(await objections("renderer/state/x.ts", code)).toEqual([expect.stringContaining("computation")]);
});

it("[H53] what a room may use is not objected to", () => {
  const allowed: readonly (readonly [file: string, source: string])[] = [
    ["engine/trace/x.ts", "../model/show.ts"],
    ["renderer/panels/x.tsx", "#engine"],
    ["renderer/panels/x.tsx", "#engine/model/show.ts"],
    ["renderer/panels/x.tsx", "../state/store.ts"],
    ["renderer/panels/x.tsx", "./x.css"],
    ["renderer/panels/x.tsx", "react-dom/client"],
    ["renderer/panels/x.tsx", "../worker/engine.ts?worker"],
    ["electron/main/x.ts", "electron"],
    ["electron/main/x.ts", "electron/main"],
    ["electron/main/x.ts", "node:fs"],
    ["electron/main/x.ts", "#engine/model/show.ts"],
    ["electron/main/x.ts", "../services/files.ts"],
    ["electron/preload/x.ts", "electron"],
    ["electron/preload/x.ts", "../contract/calls.ts"],
    ["electron/browser-host/client/x.ts", "../../contract/wire.ts"],
    ["electron/browser-host/x.ts", "../services/find-browser.mjs"],
    ["electron/headless/x.ts", "../services/services.ts"],
    ["tests/host/x.ts", "../../electron/main/menu.ts"],
    ["build/x.mjs", "../electron/services/find-browser.mjs"],
  ];
  for (const [file, source] of allowed)
    expect(wallObjection(file, source), `${file} → ${source}`).toBeUndefined();
});
