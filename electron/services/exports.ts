/** Papers and tables on their way out of the app. */
import { extname } from "node:path";
import { err, ok } from "#engine";
import type { HostResult } from "#engine";
import { MAX_EXPORT_BYTES } from "../contract/calls.ts";
import { absolute } from "./files.ts";
import { hostError, quoted } from "./host-error.ts";
import type { SafeWriter } from "./safe-write.ts";

/**
 * What an export may be. A closed list: a page that went wrong must not be able to write a program or a start-up file.
 * Shows are not on it, they are saved.
 */
export const EXPORT_EXTENSIONS: readonly string[] = [
  ".csv",
  ".dot",
  ".graphml",
  ".hopline-type",
  ".html",
  ".json",
  ".pdf",
  ".png",
  ".svg",
  ".tsv",
  ".txt",
];

/** A path that was chosen in a dialog which asked about replacing may be replaced; any other path may not. */
export type Replace = "replace" | "keep";

const MAX_COPIES = 1000;

/** Writes an export. Value: the path written, with a number before the extension where the name was taken. */
export async function writeExport(
  writer: SafeWriter,
  path: string,
  bytes: Uint8Array,
  replace: Replace,
): Promise<HostResult<string>> {
  const allowed = exportPath(path);
  if (!allowed.ok) return allowed;
  if (bytes.byteLength > MAX_EXPORT_BYTES) {
    return err(
      hostError(
        "too-large",
        `${quoted(path)} was not exported: it is larger than ${MAX_EXPORT_BYTES / 1024 / 1024} MB.`,
      ),
    );
  }
  if (replace === "replace") {
    const written = await writer.write(allowed.value, bytes, { expect: null });
    return written.ok ? ok(allowed.value) : written;
  }
  for (let copy = 1; copy <= MAX_COPIES; copy++) {
    const candidate = copy === 1 ? allowed.value : numbered(allowed.value, copy);
    const written = await writer.writeNew(candidate, bytes);
    if (!written.ok) return written;
    if (written.value !== null) return ok(candidate);
  }
  return err(
    hostError("not-writable", `${quoted(path)} was not exported: the name is taken. Use another one.`),
  );
}

/** Whether an export may go to `path`, and that path tidied. */
export function exportPath(path: string): HostResult<string> {
  if (!EXPORT_EXTENSIONS.includes(extname(path).toLowerCase())) {
    return err(
      hostError(
        "not-writable",
        `${quoted(path)} was not exported: its name has to end in one of ${EXPORT_EXTENSIONS.join(" ")}.`,
      ),
    );
  }
  return absolute(path);
}

/** `plan.pdf` → `plan (2).pdf` */
function numbered(path: string, copy: number): string {
  const extension = extname(path);
  return `${path.slice(0, -extension.length)} (${copy})${extension}`;
}
