/**
 * The smallest rig with a path in it:
 *
 *   FOH console ── L1 ── Stage box
 *   mix 1–8 → link 1 out 1–8 → Out 1–8; In 1 → link 1 in 1 → channel 1
 */
import {
  catalogueType,
  id,
  metres,
  SHOW_FORMAT,
  SHOW_VERSION,
  type CableId,
  type ChannelId,
  type DeviceId,
  type GroupId,
  type MixId,
  type ModeId,
  type PlaceId,
  type Show,
  type ShowId,
  type SourceId,
  type TypeId,
  type WantId,
} from "#engine";

export const CONSOLE = id<DeviceId>("foh");
export const BOX = id<DeviceId>("box");
export const STAGE = id<PlaceId>("stage");
export const LINK_CABLE = id<CableId>("l1");
export const VOCAL = id<SourceId>("vocal");
export const WEDGE_MIX = id<MixId>("wedge");
const group = (text: string): GroupId => id<GroupId>(text);

export const smallShow = (): Show => ({
  format: SHOW_FORMAT,
  version: SHOW_VERSION,
  id: id<ShowId>("small"),
  title: "Small show",
  venue: "",
  notes: "",
  settings: { sampleRate: 48000, units: "metric", paper: "A4" },
  places: [
    { id: id("front"), name: "Front of house", at: { x: 0, y: 0 }, size: { width: 400, height: 300 } },
    { id: STAGE, name: "Stage", at: { x: 600, y: 0 }, size: { width: 400, height: 300 } },
  ],
  types: [catalogueType("console-24"), catalogueType("box-16-8")],
  devices: [
    {
      id: CONSOLE,
      name: "FOH console",
      type: id<TypeId>("console-24"),
      place: id("front"),
      at: { x: 20, y: 20 },
      mode: id<ModeId>("normal"),
      position: 1,
      powered: true,
      notes: "spare power supply in the rack",
      routing: [
        { to: { group: group("link1"), first: 1 }, from: { group: group("mix"), first: 1 }, count: 8 },
        { to: { group: group("ch"), first: 1 }, from: { group: group("link1"), first: 1 }, count: 8 },
      ],
    },
    {
      id: BOX,
      name: "Stage box",
      type: id<TypeId>("box-16-8"),
      place: STAGE,
      at: { x: 620, y: 20 },
      mode: id<ModeId>("one"),
      position: 1,
      powered: true,
      routing: [],
    },
  ],
  cables: [
    {
      id: LINK_CABLE,
      kind: "cat5e-shielded",
      length: metres(50),
      tag: "L1",
      ways: 1,
      ends: [
        { device: CONSOLE, group: group("link1"), first: 1 },
        { device: BOX, group: group("a"), first: 1 },
      ],
    },
  ],
  sources: [
    {
      id: VOCAL,
      name: "Lead vocal",
      kind: "microphone",
      at: { device: BOX, group: group("in"), number: 1 },
      phantom: false,
      preampOwner: CONSOLE,
    },
  ],
  channels: [
    {
      id: id<ChannelId>("ch1"),
      console: CONSOLE,
      group: group("ch"),
      number: 1,
      name: "Lead",
      source: VOCAL,
    },
  ],
  mixes: [
    {
      id: WEDGE_MIX,
      console: CONSOLE,
      group: group("mix"),
      first: 1,
      width: 1,
      name: "Wedge",
      members: [{ group: group("ch"), number: 1, tap: "pre" }],
    },
  ],
  wants: [
    { id: id<WantId>("w1"), name: "Downstage wedge", to: { device: BOX, group: group("out"), number: 1 } },
  ],
  lineChecks: [],
  revisions: [],
});
