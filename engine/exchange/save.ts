/** Show → text. The same show gives the same bytes. */
import type { Show } from "../model/show.ts";
import { packRevisions } from "./revisions.ts";

/** One record a line: a file that a version control system can compare. Ends with a line break. */
export function saveShow(show: Show): string {
  const lines = Object.entries({ ...show, revisions: packRevisions(show) }).map(
    ([key, value]: [string, unknown]) => {
      if (!Array.isArray(value) || value.length === 0)
        return `  ${JSON.stringify(key)}: ${JSON.stringify(value)}`;
      const records = value.map((record: unknown) => `    ${JSON.stringify(record)}`).join(",\n");
      return `  ${JSON.stringify(key)}: [\n${records}\n  ]`;
    },
  );
  return `{\n${lines.join(",\n")}\n}\n`;
}
