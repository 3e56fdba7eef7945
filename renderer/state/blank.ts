/** A show with nothing in it yet. */
import { SHOW_FORMAT, SHOW_VERSION, type Show } from "#engine";
import { newShowId } from "./show-id.ts";

export const UNTITLED = "Untitled show";

export const blankShow = (): Show => ({
  format: SHOW_FORMAT,
  version: SHOW_VERSION,
  id: newShowId(),
  title: UNTITLED,
  venue: "",
  notes: "",
  settings: { sampleRate: 48000, units: "metric", paper: "A4" },
  places: [],
  types: [],
  devices: [],
  cables: [],
  sources: [],
  channels: [],
  mixes: [],
  wants: [],
  lineChecks: [],
  revisions: [],
});

/** Nothing in it that would be missed. */
export const isBlank = (show: Show): boolean =>
  show.devices.length === 0 && show.places.length === 0 && show.cables.length === 0;
