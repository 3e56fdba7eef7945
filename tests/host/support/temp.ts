/** Folders that live as long as a test. */
import { mkdtempSync, rmSync } from "node:fs";
import { realpathSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";

export function tempFolder(): string {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), "hopline-test-")));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
