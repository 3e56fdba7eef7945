/**
 * What earlier runs found, to save time and nothing else: which places each test reaches, for as long as neither the
 * test nor anything that it imports has changed, and which test noticed a mutant last, so that it is asked first.
 */
import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { KnownTest } from "./runner.ts";
import { Code } from "./sandbox.ts";

interface Kept {
  readonly covered: Record<string, { readonly of: string; readonly tests: readonly KnownTest[] }>;
  readonly noticedBy: Record<string, string>;
}

export class Memory {
  readonly #file: string;
  readonly #code: Code;
  readonly #kept: Kept;

  constructor(root: string) {
    this.#file = join(root, "dist", "mutate", "memory.json");
    this.#code = new Code(root, () => false);
    this.#kept = read(this.#file);
  }

  /** Null where the file, or what it stands on, is new. */
  covered(testFile: string): readonly KnownTest[] | null {
    const known = this.#kept.covered[testFile];
    return known && known.of === this.#fingerprint(testFile) ? known.tests : null;
  }

  keepCovered(testFile: string, tests: readonly KnownTest[]): void {
    this.#kept.covered[testFile] = { of: this.#fingerprint(testFile), tests };
  }

  textOf(file: string): string {
    return this.#code.read(file);
  }

  noticedBy = (key: string): string | null => this.#kept.noticedBy[key] ?? null;

  keepNoticed(key: string, by: string): void {
    this.#kept.noticedBy[key] = by;
  }

  save(): void {
    mkdirSync(dirname(this.#file), { recursive: true });
    writeFileSync(this.#file, JSON.stringify(this.#kept));
  }

  #fingerprint(testFile: string): string {
    const hash = createHash("sha256").update(process.env["HOPLINE_RIGS"] ?? "");
    for (const file of this.#code.standsOn(testFile)) hash.update(`${file}\0${this.#code.read(file)}\0`);
    return hash.digest("hex");
  }
}

function read(file: string): Kept {
  try {
    return JSON.parse(readFileSync(file, "utf8"));
  } catch {
    // None yet, or one that was cut short: it is made anew.
    return { covered: {}, noticedBy: {} };
  }
}
