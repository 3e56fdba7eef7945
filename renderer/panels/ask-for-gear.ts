import { ui } from "../state/ui.ts";

/** Opens the gear panel with its field in hand. */
export function askForGear(): void {
  ui.setState((state) => ({
    panel: "gear",
    open: { ...state.open, side: true },
    askedForGear: state.askedForGear + 1,
  }));
}
