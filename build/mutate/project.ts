/** What is mutated, and which tests are to notice it. */
import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";

interface Room {
  /** Folders and files. */
  readonly mutated: readonly string[];
  readonly tests: readonly string[];
  /** How the paths there begin that are about other parts of it and take long, or that start other programs. */
  readonly elsewhere: readonly string[];
}

const ENGINE: Room = {
  mutated: ["engine/wiring", "engine/trace", "engine/findings"],
  tests: ["tests/engine", "tests/property", "tests/oracle"],
  elsewhere: [
    "tests/engine/exchange.",
    "tests/engine/handout.",
    "tests/engine/labels/",
    "tests/engine/paper-",
    "tests/engine/rules.",
    "tests/engine/signal-flow.",
    "tests/engine/wiring-files.",
    "tests/oracle/cuts.",
    "tests/oracle/labels.",
    "tests/oracle/wiring-files.",
    "tests/property/bad-files.",
    "tests/property/handout.",
    "tests/property/worksheets.",
  ],
};

/** What of the app has logic that needs no page. The rest is held by the end-to-end tests, which no mutant is shown to. */
const RENDERER: Room = {
  mutated: [
    ...["changes", "derived", "first-sight", "groups", "lit", "store", "views"].map(
      (name) => `renderer/state/${name}.ts`,
    ),
    ...["recovery", "session", "watch"].map((name) => `renderer/files/${name}.ts`),
    ...["cells", "read-list", "rows", "selection", "write"].map((name) => `renderer/tables/${name}.ts`),
    ...[
      "build",
      "chosen",
      "drawn",
      "elements",
      "keyboard",
      "level",
      "looks",
      "moves",
      "place-keys",
      "rig",
      "tidy",
      "walk",
      "ways",
      "wheel",
    ].map((name) => `renderer/canvas/${name}.ts`),
    ...["draft", "editor", "parts", "use"].map((name) => `renderer/types/${name}.ts`),
    ...["analyst", "answers", "delta", "papers", "paper-answers", "thread"].map(
      (name) => `renderer/worker/${name}.ts`,
    ),
    ...["choice", "maker"].map((name) => `renderer/paper/${name}.ts`),
    "renderer/commands/keys.ts",
    "renderer/help/checks.ts",
    "renderer/help/guide.ts",
    "renderer/inspector/show-settings.ts",
    "renderer/routing/ends.ts",
    "renderer/search/search.ts",
    "renderer/theme/owners.ts",
    "renderer/theme/scheme.ts",
    "renderer/words/limits.ts",
  ],
  tests: ["tests/renderer"],
  elsewhere: [],
};

export const ROOMS = { engine: ENGINE, renderer: RENDERER } as const;
export type RoomName = keyof typeof ROOMS;

export const isMutated = (room: RoomName, file: string): boolean =>
  ROOMS[room].mutated.some((path) => file === path || file.startsWith(`${path}/`));

export const mutatedFiles = (root: string, room: RoomName): readonly string[] =>
  ROOMS[room].mutated.flatMap((path) => filesBelow(root, path)).filter((file) => file.endsWith(".ts"));

export const testFiles = (root: string, room: RoomName): readonly string[] =>
  ROOMS[room].tests
    .flatMap((folder) => filesBelow(root, folder))
    .filter(
      (file) => file.endsWith(".test.ts") && !ROOMS[room].elsewhere.some((start) => file.startsWith(start)),
    );

/** Sorted, relative to the project, with forward slashes. */
function filesBelow(root: string, folder: string): readonly string[] {
  if (folder.endsWith(".ts")) return existsSync(join(root, folder)) ? [folder] : [];
  let names: readonly string[];
  try {
    names = readdirSync(join(root, folder), { recursive: true, encoding: "utf8" });
  } catch {
    return [];
  }
  return names.map((name) => `${folder}/${name.replaceAll("\\", "/")}`).sort();
}
