/** The layout library for programs without a window, fetched when a diagram asks for it. */
import type { ELK } from "elkjs/lib/elk-api.js";

let library: Promise<ELK> | null = null;

export const layoutLibrary = (): Promise<ELK> =>
  (library ??= import("elkjs/lib/elk.bundled.js").then(({ default: Elk }) => new Elk()));
