/** The host that this window runs in. The one place that knows its name on the global object. */
import { HOST_GLOBAL, type HostApi } from "#engine/exchange/host-api.ts";

/** Null: the page was opened by itself, without a host to keep its files. */
export function findHost(): HostApi | null {
  const host = (globalThis as Record<string, unknown>)[HOST_GLOBAL];
  return typeof host === "object" && host !== null ? (host as HostApi) : null;
}
