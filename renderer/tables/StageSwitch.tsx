/** What the middle of the window shows: stands on the canvas, and in the bar of whatever else there is. */
import { COMMANDS } from "../commands/commands.ts";
import { chordLabel, onMac, thisPlatform } from "../commands/keys.ts";
import { Tip } from "../parts/Tip.tsx";
import { goToStage } from "./go-to-stage.ts";
import { STAGES, useUi, type StageId } from "../state/ui.ts";
import "./tables.css";

const NAMES: Readonly<Record<StageId, string>> = { canvas: "Canvas", lists: "Lists", types: "Types" };

export function StageSwitch({ floating = false }: { floating?: boolean }) {
  const stage = useUi((state) => state.stage);
  const mac = onMac(thisPlatform());
  return (
    <div className="stage-switch" role="group" aria-label="Show as" data-floating={floating || undefined}>
      {STAGES.map((id) => {
        const keys = COMMANDS.find((command) => command.id === `stage-${id}`)?.keys?.[0];
        return (
          <Tip key={id} text={NAMES[id]} keys={keys && chordLabel(keys, mac)}>
            <button type="button" aria-pressed={id === stage} onClick={() => goToStage(id)}>
              {NAMES[id]}
            </button>
          </Tip>
        );
      })}
    </div>
  );
}
