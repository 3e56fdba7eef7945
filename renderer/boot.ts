/**
 * The window's first script, which is all but empty: while the large ones are fetched and read, the host is asked what to
 * open, and the engine's thread reads it.
 */
import type { HostApi } from "#engine/exchange/host-api.ts";
import { beginOpening, type Opening } from "./files/opening.ts";
import { findHost } from "./host.ts";
import { beginRead, engineThread } from "./worker/thread.ts";
import "./styles.ts";

export const host = findHost();
export const opening = host ? begin(host) : null;

async function begin(from: HostApi): Promise<Opening> {
  engineThread();
  const found = await beginOpening(from);
  const { copies, file, as } = found;
  // Where there is something to restore, that may be what is opened.
  if (file?.ok && copies.ok && copies.value.length === 0) beginRead(file.value.text, as);
  return found;
}

void import("./main.tsx");
