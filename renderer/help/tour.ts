/** What the tour tells of, when it runs, and whether it was taken. */
import { setOpen, showStage, ui } from "../state/ui.ts";

export interface Stop {
  readonly title: string;
  readonly text: string;
  /** What it tells of; what isn't in the window is told in its middle. */
  readonly part: string;
}

export const STOPS: readonly Stop[] = [
  {
    title: "The rig",
    text: "Places, devices and cables. Zoom in: first the blocks appear with who owns them, then each slot with its label. A console’s colour, letter and hatch are the same everywhere.",
    part: ".stage",
  },
  {
    title: "Lists of the same",
    text: "Press Lists for inputs, channels, mixes, outputs, cables and devices as tables. Paste an input list from a spreadsheet there.",
    part: ".stage-switch",
  },
  {
    title: "Panels",
    text: "What is in the rig, its sources, and every output jack by box and block with its owner. A press on the open one closes it.",
    part: ".rail",
  },
  {
    title: "Go to anything",
    text: "Type the name of a jack, a mix, a cable or a microphone. With > in front it lists every command and its keys.",
    part: ".search-field",
  },
  {
    title: "The hop strip",
    text: "Whatever you look at is traced here from its source to the jack, hop by hop: what decides each, and how late it is by then.",
    part: ".strip-part",
  },
  {
    title: "Findings",
    text: "What would go wrong, as you plan it, each with the reason and, where an edit can help, a way out. F8 goes from one to the next.",
    part: ".findings-count",
  },
];

const DONE = "hopline.toured";

export function wasToured(): boolean {
  try {
    return globalThis.localStorage?.getItem(DONE) !== null;
  } catch {
    return true;
  }
}

export function startTour(): void {
  showStage("canvas");
  setOpen("side", true);
  setOpen("strip", true);
  ui.setState({ tour: 0, dialog: null, search: null });
}

export function endTour(): void {
  ui.setState({ tour: null });
  try {
    globalThis.localStorage.setItem(DONE, "yes");
  } catch {
    // It is offered once more next time, which hurts nobody.
  }
}
