/**
 * What a window opens with. Asked of the host by the window's first script, while all others are still on their way; by
 * itself, so that this script stays small.
 */
import type { FolderEntry, HostApi, HostResult, OpenedFile, Recovery } from "#engine/exchange/host-api.ts";
import type { ShowId } from "#engine/model/ids.ts";
import { newShowId } from "../state/show-id.ts";

export interface Opening {
  /** What a crash left behind. */
  readonly copies: HostResult<readonly Recovery[]>;
  /** Path of the file to start with, or null. */
  readonly start: HostResult<string | null>;
  readonly file: HostResult<OpenedFile> | null;
  /** The id that a demo takes, so that it opens as a show of its own; null for any other file. */
  readonly as: ShowId | null;
}

export async function beginOpening(host: HostApi): Promise<Opening> {
  // All at once: each would wait for its own answer, and the window is empty until then.
  const starting = host.startFile();
  const reading = starting.then((start) =>
    start.ok && start.value !== null ? host.open(start.value) : null,
  );
  const [copies, start, demos, file] = await Promise.all([
    host.recoveries(),
    starting,
    host.demos(),
    reading,
  ]);
  return { copies, start, file, as: isAmong(demos, start) ? newShowId() : null };
}

const isAmong = (demos: HostResult<readonly FolderEntry[]>, start: HostResult<string | null>): boolean =>
  demos.ok && start.ok && demos.value.some(({ path }) => path === start.value);
