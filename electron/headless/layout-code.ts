/**
 * The layout library's program. V8 takes as long to read its 1.6 MB as to lay out a small rig, so the build has it read and
 * used once, and keeps what V8 made of it behind the source, in one file: the two can't be of different versions. Code that
 * another V8 made is refused by V8 itself, and the source is read anew.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { Script } from "node:vm";
import ElkApi from "elkjs/lib/elk-api.js";
import { laidOut, NETWORK_SIMPLEX, type Elk, type PlainGraph } from "#engine/paperwork/signal-flow/elk.ts";

/** Beside the program, as `build/build.mjs` puts it: the source's length (uint32, little-endian), the source, the code. */
const FILE = "headless-layouts.bin";
const HEAD = 4;

const path = (): string => join(dirname(fileURLToPath(import.meta.url)), FILE);

/** What the program leaves for its loader: the end of a channel to itself. */
interface Module {
  exports: { Worker?: new () => { postMessage(message: unknown): void } };
}

interface Loaded {
  readonly elk: Elk;
  readonly script: Script;
  readonly source: Buffer;
}

function load(): Loaded {
  const bytes = readFileSync(path());
  const end = HEAD + bytes.readUInt32LE(0);
  const source = bytes.subarray(HEAD, end);
  const script = new Script(`(function (module, exports) { ${source.toString("latin1")}\n})`, {
    filename: FILE,
    ...(bytes.length > end ? { cachedData: bytes.subarray(end) } : {}),
  });
  const module: Module = { exports: {} };
  (script.runInThisContext() as (module: Module, exports: object) => void)(module, module.exports);
  const { Worker: Channel } = module.exports;
  if (!Channel) throw new Error("the layout library has no program");
  return { elk: new ElkApi({ workerFactory: () => new Channel() }) as Elk, script, source };
}

export const layoutLibrary = (): Elk => load().elk;

/** Puts the code behind the source, with all that laying out a rig needs. Asked for by the build, before anybody reads the file. */
export async function keepLayoutCode(): Promise<void> {
  const { elk, script, source } = load();
  for (const more of [{}, NETWORK_SIMPLEX]) await laidOut(elk, SAMPLE, 1.5, more);
  const head = Buffer.alloc(HEAD);
  head.writeUInt32LE(source.length);
  writeFileSync(path(), Buffer.concat([head, source, script.createCachedData()]));
}

/** Rows of four boxes side by side, each joined to the next and the one after; a fifth row stands alone. */
const SAMPLE: PlainGraph = {
  nodes: Array.from({ length: 20 }, (_, n) => ({
    id: `n${n}`,
    width: 40 + (n % 3) * 10,
    height: 20 + (n % 4) * 12,
    ports: Array.from({ length: 6 }, (_port, k) => ({
      id: `n${n} ${k}`,
      side: k < 3 ? ("west" as const) : ("east" as const),
      y: 4 + (k % 3) * 5,
    })),
  })),
  edges: Array.from({ length: 16 }, (_, n) => n)
    .flatMap((n) => [
      { from: n, out: 3, to: n + 4, into: 0 },
      { from: n, out: 4, to: ((n + 1) % 4) + 4 * (Math.floor(n / 4) + 1), into: 1 },
      { from: n, out: 5, to: n + 8, into: 2 },
    ])
    .filter(({ to }) => to < 16)
    .map(({ from, out, to, into }, n) => ({ id: `e${n}`, from: `n${from} ${out}`, to: `n${to} ${into}` })),
};
