/** Opens the routing of a block that the user is looking at, with that end filled in. */
import type { Analysis, Terminal } from "#engine";
import { ui } from "../state/ui.ts";
import { blockOf, endsFrom } from "./ends.ts";

export function RouteButton({ analysis, terminals }: { analysis: Analysis; terminals: readonly Terminal[] }) {
  const block = blockOf(analysis, terminals);
  if (!block) return null;
  const ends = endsFrom(analysis, block);
  return (
    <button
      type="button"
      className="button small"
      onClick={() => ui.setState({ dialog: { kind: "route", ...ends } })}
    >
      {ends.from ? "Send it somewhere…" : "Bring something here…"}
    </button>
  );
}
