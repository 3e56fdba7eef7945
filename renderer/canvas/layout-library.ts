/**
 * The layout library. It is large and seldom asked for, so it is fetched when it is; it runs in this thread, since the
 * page's policy lets no foreign worker in.
 */
import type { ELK } from "elkjs/lib/elk-api.js";

let library: Promise<ELK> | null = null;

export const layoutLibrary = (): Promise<ELK> =>
  (library ??= import("elkjs/lib/elk.bundled.js").then(({ default: Elk }) => new Elk()));
