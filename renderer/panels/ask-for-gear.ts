import { isBlank } from "../state/blank.ts";
import { app } from "../state/store.ts";
import { showPanel, ui } from "../state/ui.ts";

/** Opens the gear panel with its field in hand. */
export function askForGear(): void {
  ui.setState((state) => ({
    panel: "gear",
    open: { ...state.open, side: true },
    askedForGear: state.askedForGear + 1,
  }));
}

/** With nothing in the show the gear is what there is to look at. */
export function offerGear(): void {
  if (isBlank(app.getState().show)) showPanel("gear");
}
