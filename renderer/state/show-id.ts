/** Ids of shows. By itself, since the window's first script needs it and nothing else of the engine. */
import type { ShowId } from "#engine/model/ids.ts";

export const newShowId = (): ShowId => {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return `show-${Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("")}` as ShowId;
};
