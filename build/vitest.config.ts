import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

interface Rooms {
  readonly testTimeout?: number;
  /** Whether each file imports what it tests anew. Engine and renderer keep nothing that one test could leave to another. */
  readonly isolate?: boolean;
}

const project = (name: string, { testTimeout = 60_000, isolate = false }: Rooms = {}) => ({
  extends: true as const,
  test: { name, include: [`tests/${name}/**/*.test.{ts,tsx}`], testTimeout, hookTimeout: 60_000, isolate },
});

export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  test: {
    environment: "node",
    // Many tests wait for programs that they start, so two files at a time don't crowd two cores.
    maxWorkers: 2,
    // A test that was left out by mistake must not look like one that passed.
    allowOnly: false,
    projects: [
      project("engine"),
      project("oracle", { testTimeout: 120_000 }),
      project("property", { testTimeout: 120_000 }),
      project("renderer"),
      // Starts servers and browsers.
      project("host", { isolate: true }),
    ],
  },
});
