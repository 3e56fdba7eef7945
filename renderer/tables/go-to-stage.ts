import { showStage, type StageId } from "../state/ui.ts";
import { focusGridSoon } from "./at-hand.ts";

/** Shows what the middle of the window is to hold; a list has the keys at once, as it looks. */
export function goToStage(stage: StageId): void {
  showStage(stage);
  if (stage === "lists") focusGridSoon();
}
