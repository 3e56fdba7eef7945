/** A show with nothing in it yet. */
import { id, SHOW_FORMAT, SHOW_VERSION, type Show, type ShowId } from "#engine";

export const UNTITLED = "Untitled show";

export const newShowId = (): ShowId => {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return id<ShowId>(`show-${Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("")}`);
};

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
