/**
 * The project's modules as functions that can be run afresh. Each mutant gets all modules anew, so that nothing that
 * one mutant worked out and kept is there for the next; the compiled code is shared.
 */
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { compileFunction } from "node:vm";
import ts from "typescript";
import { HIT, hits, TICK, ticks } from "./probes.ts";
import { standIn, type NotedTest } from "./stand-in.ts";

type Module = (
  require: (name: string) => unknown,
  exports: object,
  url: string,
  tick: () => void,
  hit: (anchor: number) => void,
) => void;

export interface Probes {
  readonly tick: () => void;
  /** What is called with each place that a file runs; `file` is relative to the project. */
  readonly hitIn: (file: string) => (anchor: number) => void;
}

/** What the compiler has JSX call. */
const JSX = "react/jsx-runtime";

export class TooManySteps extends Error {}

export class Code {
  readonly root: string;
  readonly #isCounted: (file: string) => boolean;
  readonly #modules = new Map<string, Module>();
  readonly #packages = new Map<string, unknown>();
  readonly #texts = new Map<string, string>();
  readonly #importsOf = new Map<string, readonly string[]>();

  /** `isCounted`: the files whose places are counted, relative to the project. */
  constructor(root: string, isCounted: (file: string) => boolean) {
    this.root = root;
    this.#isCounted = isCounted;
  }

  /** Read once: a file that is edited meanwhile stays as it was. */
  read(file: string): string {
    let text = this.#texts.get(file);
    if (text === undefined)
      this.#texts.set(file, (text = readFileSync(join(this.root, file.replace(/\?.*/, "")), "utf8")));
    return text;
  }

  /** A file and all of the project's files that it imports, and they import. */
  standsOn(file: string, seen = new Set<string>()): ReadonlySet<string> {
    if (seen.has(file)) return seen;
    seen.add(file);
    for (const name of this.#imports(file)) {
      const own = this.resolve(file, name);
      if (own !== null) this.standsOn(own, seen);
    }
    return seen;
  }

  /** Loads the packages that a file and what it imports need; after that nothing waits any more. */
  async fetchPackages(file: string): Promise<void> {
    for (const each of this.standsOn(file)) {
      if (each.endsWith(".tsx")) await this.#fetch(JSX);
      for (const name of this.#imports(each)) {
        if (name === "vitest" || this.#packages.has(name) || this.resolve(each, name) !== null) continue;
        await this.#fetch(name);
      }
    }
  }

  async #fetch(name: string): Promise<void> {
    if (this.#packages.has(name)) return;
    // What is only looked at needs none here.
    const loaded: object = name.endsWith(".css") ? {} : await import(name);
    this.#packages.set(name, { ...loaded, __esModule: true });
  }

  #imports(file: string): readonly string[] {
    if (!/\.[cm]?[jt]sx?$/.test(file)) return [];
    let known = this.#importsOf.get(file);
    if (!known) {
      known = ts.preProcessFile(this.read(file)).importedFiles.map(({ fileName }) => fileName);
      this.#importsOf.set(file, known);
    }
    return known;
  }

  package(name: string): unknown {
    return this.#packages.get(name);
  }

  /** The project's file that an import means; null for a package. */
  resolve(file: string, name: string): string | null {
    if (name.endsWith(".css")) return null;
    if (name.startsWith(".")) return join(dirname(file), name).replaceAll("\\", "/");
    if (name === "#engine") return "engine/index.ts";
    return name.startsWith("#engine/") ? name.slice(1) : null;
  }

  module(file: string): Module {
    // The bundler's way of asking for a file's text, or for its address.
    const asked = /^(.+)\?(raw|url)$/.exec(file);
    if (asked) {
      const value = asked[2] === "raw" ? this.read(file) : `/${asked[1]!}`;
      return (_require, exports) => void Object.assign(exports, { __esModule: true, default: value });
    }
    let module = this.#modules.get(file);
    if (!module) this.#modules.set(file, (module = this.compile(file, this.read(file))));
    return module;
  }

  compile(file: string, text: string): Module {
    const counted = this.#isCounted(file);
    const { outputText } = ts.transpileModule(text.replaceAll("import.meta.url", "__url"), {
      fileName: file,
      compilerOptions: {
        target: ts.ScriptTarget.ES2023,
        module: ts.ModuleKind.CommonJS,
        esModuleInterop: true,
        allowJs: true,
        jsx: ts.JsxEmit.ReactJSX,
      },
      transformers: { before: counted ? [hits, ticks] : [ticks] },
    });
    return compileFunction(outputText, ["require", "exports", "__url", TICK, HIT], {
      filename: join(this.root, file),
    }) as Module;
  }
}

/** One fresh set of modules, with at most one of them replaced. */
export class Sandbox {
  readonly #code: Code;
  readonly #probes: Probes;
  readonly #changed: ReadonlyMap<string, Module>;
  readonly #loaded = new Map<string, object>();
  #vitest: object = {};

  constructor(code: Code, probes: Probes, changed: ReadonlyMap<string, Module> = new Map()) {
    this.#code = code;
    this.#probes = probes;
    this.#changed = changed;
  }

  /** Runs a test file as far as its tests are noted down. */
  tests(file: string): readonly NotedTest[] {
    const { tests, module } = standIn();
    this.#vitest = module;
    this.#load(file);
    return tests;
  }

  #load(file: string): object {
    const known = this.#loaded.get(file);
    if (known) return known;
    const exports = {};
    this.#loaded.set(file, exports);
    const module = this.#changed.get(file) ?? this.#code.module(file);
    const url = pathToFileURL(join(this.#code.root, file)).href;
    const { tick, hitIn } = this.#probes;
    module((name) => this.#require(file, name), exports, url, tick, hitIn(file));
    return exports;
  }

  #require(file: string, name: string): unknown {
    if (name === "vitest") return this.#vitest;
    const own = this.#code.resolve(file, name);
    return own === null ? this.#code.package(name) : this.#load(own);
  }
}
