/**
 * Builds the app into dist/: `node build/build.mjs [TARGET …] [--force]`. Each target is rebuilt only when a file of
 * the rooms that it is made of has changed, so the scripts that need a build can simply ask for one.
 */
import { createHash } from "node:crypto";
import { mkdir, readFile, readdir, rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { Worker } from "node:worker_threads";
import { checkNode, ensureInstalled } from "./lib/install.mjs";
import { PlainStop, ROOT, runScript } from "./lib/project.mjs";

/** @typedef {import("vite").InlineConfig} ViteConfig */

/**
 * @typedef {object} Target
 * @property {readonly string[]} inputs Folders and files that it is made of.
 * @property {string} output File or folder under dist/.
 * @property {(outDir: string) => ViteConfig | Promise<ViteConfig>} config Builds the output into `outDir`.
 * @property {(outDir: string) => Promise<void>} [after] What is made with the output, by this machine's Node.
 */

/**
 * The page's host comes first: the app's own script finds it on the global object. No inline script: the CSP has none.
 * What the first script loads is named in the page, so that both are fetched at once.
 */
const hostScript = {
  name: "hopline-host-script",
  /** @type {import("vite").IndexHtmlTransform} */
  transformIndexHtml: {
    order: "post",
    handler: (_html, { bundle = {} }) => {
      const chunks = Object.values(bundle).filter((file) => file.type === "chunk");
      const main = chunks.find(({ facadeModuleId }) => facadeModuleId?.endsWith("/renderer/main.tsx"));
      /** @type {import("vite").HtmlTagDescriptor[]} */
      const ahead = (main?.imports ?? []).map((file) => ({
        tag: "link",
        attrs: { rel: "modulepreload", href: `./${file}` },
        injectTo: "head",
      }));
      if (main) {
        const attrs = { type: "module", crossorigin: "", src: `./${main.fileName}` };
        ahead.push({ tag: "script", attrs, injectTo: "head" });
      }
      // Without it all text is set twice: as it appears, and when the typeface has come.
      const font = Object.keys(bundle).find((file) => /inter-latin-wght-normal[^/]*\.woff2$/.test(file));
      if (font) {
        const attrs = { rel: "preload", as: "font", type: "font/woff2", crossorigin: "", href: `./${font}` };
        ahead.unshift({ tag: "link", attrs, injectTo: "head" });
      }
      return [{ tag: "script", attrs: { src: "./host.js" }, injectTo: "head-prepend" }, ...ahead];
    },
  },
};

/** @type {ViteConfig} */
const shared = { configFile: false, root: ROOT, logLevel: "warn", publicDir: false };

/**
 * A program for Node or for Electron's main process. Dependencies are bundled, so that the packaged app is dist/ and
 * nothing else; tools keep theirs outside, since some load WASM files from beside themselves.
 *
 * @param {string} entry
 * @param {string} file
 * @param {{ bundleDependencies: boolean, threads?: Readonly<Record<string, string>> }} options `threads`: programs that it
 *   starts beside itself, by their files. With them, what is imported when it is needed stands in files of its own, too,
 *   which start-up doesn't read.
 * @returns {(outDir: string) => ViteConfig}
 */
const nodeProgram =
  (entry, file, { bundleDependencies, threads }) =>
  (outDir) => ({
    ...shared,
    ssr: { noExternal: bundleDependencies ? true : [], external: ["electron"], target: "node" },
    build: {
      ssr: threads ? true : entry,
      outDir,
      target: "node20",
      minify: false,
      sourcemap: true,
      rolldownOptions: {
        external: ["electron"],
        ...(threads ? { input: inputsOf({ [file]: entry, ...threads }) } : {}),
        output: {
          format: "es",
          ...(threads
            ? { entryFileNames: "[name].js", chunkFileNames: file.replace(".js", "-[name].js") }
            : { entryFileNames: file, codeSplitting: false }),
        },
      },
    },
  });

/**
 * The layout library's program for `electron/headless/layout-code.ts`, which says how it stands in the file: as yet without
 * code.
 *
 * @type {import("vite").Plugin}
 */
const layoutProgram = {
  name: "hopline-layout-program",
  async generateBundle() {
    const program = await readFile(join(ROOT, "node_modules", "elkjs", "lib", "elk-worker.min.js"));
    const head = Buffer.alloc(4);
    head.writeUInt32LE(program.length);
    this.emitFile({
      type: "asset",
      fileName: "headless-layouts.bin",
      source: Buffer.concat([head, program]),
    });
  },
};

/** @param {string} outDir */
const keepLayoutCode = (outDir) =>
  new Promise((resolve, reject) => {
    new Worker(join(outDir, "headless-layouts.js"), { workerData: "keep" })
      .on("error", reject)
      .on("exit", resolve);
  });

/** @param {Readonly<Record<string, string>>} entries */
const inputsOf = (entries) =>
  Object.fromEntries(
    Object.entries(entries).map(([file, entry]) => [file.replace(/\.js$/, ""), join(ROOT, entry)]),
  );

/**
 * One script without imports, for a place that takes no modules.
 *
 * @param {string} entry
 * @param {string} file
 * @param {"cjs" | "iife"} format
 * @returns {(outDir: string) => ViteConfig}
 */
const singleScript = (entry, file, format) => (outDir) => ({
  ...shared,
  build: {
    lib: { entry: join(ROOT, entry), formats: [format], name: "hopline", fileName: () => file },
    outDir,
    target: "chrome120",
    minify: false,
    rolldownOptions: { external: ["electron"] },
  },
});

const COMMON = ["package.json", "package-lock.json", "tsconfig.json", "build/build.mjs", "build/lib"];

/** @satisfies {Record<string, Target>} */
const TARGETS = {
  renderer: {
    inputs: ["engine", "renderer", "assets", ...COMMON],
    output: "renderer",
    config: async (outDir) => ({
      ...shared,
      root: join(ROOT, "renderer"),
      base: "./",
      plugins: [(await import("@vitejs/plugin-react")).default(), hostScript],
      worker: { format: "es" },
      build: {
        outDir,
        // It is new, and outside the renderer's folder.
        emptyOutDir: false,
        target: "chrome120",
        sourcemap: true,
        // Nothing inline: neither `data:` fonts nor a preload helper would pass the CSP.
        assetsInlineLimit: 0,
        modulePreload: { polyfill: false },
        // One sheet, there from the beginning: parts that load later are styled as they appear.
        cssCodeSplit: false,
        chunkSizeWarningLimit: 4000,
      },
    }),
  },
  main: {
    inputs: ["engine", "electron", ...COMMON],
    output: "electron/main.js",
    config: nodeProgram("electron/main/main.ts", "main.js", { bundleDependencies: true }),
  },
  preload: {
    inputs: ["engine", "electron", ...COMMON],
    output: "electron/preload.cjs",
    // A sandboxed preload is one CommonJS file and may require nothing but electron.
    config: singleScript("electron/preload/preload.ts", "preload.cjs", "cjs"),
  },
  "browser-host": {
    inputs: ["engine", "electron", ...COMMON],
    output: "browser-host/server.js",
    config: nodeProgram("electron/browser-host/main.ts", "server.js", { bundleDependencies: true }),
  },
  client: {
    inputs: ["engine", "electron", ...COMMON],
    output: "browser-host/client.js",
    config: singleScript("electron/browser-host/client/client.ts", "client.js", "iife"),
  },
  headless: {
    inputs: ["engine", "electron", ...COMMON],
    output: "headless.js",
    config: (outDir) => ({
      ...nodeProgram("electron/headless/main.ts", "headless.js", {
        bundleDependencies: true,
        threads: { "headless-layouts.js": "electron/headless/layout-worker.ts" },
      })(outDir),
      plugins: [layoutProgram],
    }),
    after: keepLayoutCode,
  },
  demo: {
    inputs: ["engine", "electron", "build/demo", ...COMMON],
    output: "tools/demo.js",
    config: nodeProgram("build/demo/main.ts", "demo.js", { bundleDependencies: false }),
  },
  schema: {
    inputs: ["engine", "electron", "build/schema", ...COMMON],
    output: "tools/schema.js",
    config: nodeProgram("build/schema/main.ts", "schema.js", { bundleDependencies: false }),
  },
  bench: {
    inputs: ["engine", "electron", "tests/bench", ...COMMON],
    output: "tools/bench.js",
    config: nodeProgram("tests/bench/main.ts", "bench.js", { bundleDependencies: false }),
  },
  screen: {
    inputs: ["engine", "electron", "tests/bench", ...COMMON],
    output: "tools/screen.js",
    config: nodeProgram("tests/bench/screen/main.ts", "screen.js", { bundleDependencies: false }),
  },
  // The yardstick of `screen`.
  bare: {
    inputs: ["tests/bench/screen", ...COMMON],
    output: "tools/bare-canvas",
    config: async (outDir) => ({
      ...shared,
      root: join(ROOT, "tests", "bench", "screen"),
      base: "./",
      plugins: [(await import("@vitejs/plugin-react")).default()],
      build: {
        outDir,
        emptyOutDir: false,
        target: "chrome120",
        rolldownOptions: { input: join(ROOT, "tests", "bench", "screen", "bare.html") },
      },
    }),
  },
  mutate: {
    inputs: ["build/mutate", ...COMMON],
    output: "tools/mutate.js",
    config: nodeProgram("build/mutate/main.ts", "mutate.js", { bundleDependencies: false }),
  },
};

/** @typedef {keyof typeof TARGETS} TargetName */

/** What `npm run build` makes: the app, without the project's own tools. */
export const APP_TARGETS = /** @type {const} */ ([
  "renderer",
  "main",
  "preload",
  "browser-host",
  "client",
  "headless",
]);

/** @param {string} name */
export const outputOf = (name) => join(ROOT, "dist", TARGETS[/** @type {TargetName} */ (name)].output);

/**
 * Path, size and time of every file below, in a fixed order. Cheap, and a changed file practically always shows.
 *
 * @param {string} path
 * @returns {Promise<string[]>}
 */
async function describe(path) {
  const info = await stat(path).catch(() => undefined);
  if (!info) return [`${path} missing`];
  if (!info.isDirectory()) return [`${path} ${info.size} ${info.mtimeMs}`];
  const names = (await readdir(path)).sort();
  return (await Promise.all(names.map((name) => describe(join(path, name))))).flat();
}

/** @param {Target} target */
async function fingerprint(target) {
  const lines = await Promise.all(target.inputs.map((input) => describe(join(ROOT, input))));
  if (target.after) lines.push([process.versions.v8]);
  return createHash("sha256").update(lines.flat().join("\n")).digest("hex");
}

/**
 * Builds beside dist/ and moves the result in, so that a program that starts meanwhile never reads half a file.
 *
 * @param {Target} target
 */
async function buildTarget(target) {
  const { build } = await import("vite");
  const scratch = join(ROOT, "dist", `.building-${process.pid}-${target.output.replace(/\W/g, "-")}`);
  const output = join(ROOT, "dist", target.output);
  try {
    await build({ ...(await target.config(scratch)), mode: "production" });
    await target.after?.(scratch);
    await mkdir(dirname(output), { recursive: true });
    const isFile = /\.c?js$/.test(output);
    if (isFile) {
      const names = await readdir(scratch);
      await Promise.all(names.map((name) => rename(join(scratch, name), join(dirname(output), name))));
    } else {
      await rm(output, { recursive: true, force: true });
      await rename(scratch, output);
    }
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}

/**
 * Brings targets up to date.
 *
 * @param {readonly TargetName[]} names
 * @param {{ force?: boolean, say?: (line: string) => void }} [options] `say` is told what is built.
 */
export async function ensureBuilt(names, { force = false, say = () => {} } = {}) {
  for (const name of names) {
    /** @type {Target} */
    const target = TARGETS[name];
    const stampFile = join(ROOT, "dist", ".stamps", name);
    const wanted = await fingerprint(target);
    const exists = await stat(outputOf(name)).then(
      () => true,
      () => false,
    );
    const built = await readFile(stampFile, "utf8").catch(() => "");
    if (!force && exists && built === wanted) continue;
    const began = performance.now();
    try {
      await buildTarget(target);
    } catch (error) {
      throw new PlainStop(`building ${name} failed: ${error instanceof Error ? error.message : error}`);
    }
    await mkdir(dirname(stampFile), { recursive: true });
    await writeFile(stampFile, wanted);
    say(`built ${name} in ${((performance.now() - began) / 1000).toFixed(1)} s`);
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  await runScript(async () => {
    checkNode();
    const args = process.argv.slice(2);
    const asked = args.filter((arg) => arg !== "--force");
    const unknown = asked.find((name) => !(name in TARGETS));
    if (unknown !== undefined) {
      throw new PlainStop(
        `There is no build target “${unknown}”. Targets: ${Object.keys(TARGETS).join(", ")}.`,
        2,
      );
    }
    await ensureInstalled();
    const names = asked.length > 0 ? /** @type {TargetName[]} */ (asked) : APP_TARGETS;
    await ensureBuilt(names, { force: args.includes("--force"), say: console.log });
    console.log("dist is up to date");
  });
}
