import type { Rig } from "../tell.ts";
import { rig } from "./build.ts";
import { LINK_BOX, SHIFTER } from "./types.ts";

/**
 * R57: feeds that are planned, and what becomes of them. The house console doesn't hand monitors' second block on.
 *
 *     Monitors link1 ──T1── link2 House link1 ──L1── a Box pm ──P1── Ears rack   ears 1–8 arrive, 9–12 are dark
 *                                                    Box out 3 ← mix 3 (mix 4 is wanted)
 *     channels: Kick on 1 (arrives) · Snare on 2 (Hat is plugged there) · Hat on 4 (nothing set)
 *     X1 hangs on House out 8, where nothing is set and nobody wants anything
 */
export const R57: Rig = {
  show: rig({
    devices: {
      house: {
        name: "House",
        type: "console-24",
        set: ["link1 1 x8 < mix 1", "link1 33 x8 < link2 1", "ch 1 x3 < link1 1"],
      },
      monitors: {
        name: "Monitors",
        type: "console-24",
        clock: "link1",
        set: ["link1 1 x8 < mix 1", "link1 9 x4 < mix 9"],
      },
      box: { name: "Box", type: "box-16-8", mode: "one" },
      ears: { name: "Ears rack", type: "breakout-16", mode: "pm" },
      wedge: { name: "Wedge", type: "wedge" },
    },
    cables: [
      "L1: house.link1 - box.a, 50 m",
      "T1: monitors.link1 - house.link2, 20 m",
      "P1: box.pm - ears.pm, 10 m",
      "X1: house.out.8 - wedge.in.1, 10 m",
    ],
    sources: ["Kick: box.in.1", "Hat: box.in.2", "Snare: box.in.3"],
    channels: [
      "Kick: house.ch.1 < Kick",
      "Snare: house.ch.2 < Snare",
      "Hat: house.ch.4 < Hat",
      "Spare: house.ch.5",
    ],
    wants: [
      "Ears 1: ears.out.1 < monitors.mix.1",
      "Ears 2: ears.out.2",
      "Ears 9: ears.out.9 < monitors.mix.9",
      "Ears 10: ears.out.10 < monitors.mix.10",
      "Ears 11: ears.out.11",
      "Ears 12: ears.out.12",
      "Wedge: box.out.3 < house.mix.4",
      "Fill: box.out.5",
      "Fill again: box.out.5",
    ],
  }),
};

/**
 * R58: a block of link slots that two consoles feed, each from its own jacks. The shifter's port Y takes four slots of
 * its port X and four of its own jacks; the second one hands the eight on as one block.
 *
 *     House out 1–8 ══M1══ in Feeder x ──L1── x Shifter y ──L2── x Second y ──L3── x End
 *     Monitors out 1–8 ══M2══════════════════════ in    y 1–4 House, 5–8 Monitors
 */
export const R58: Rig = {
  show: rig({
    types: [LINK_BOX, SHIFTER],
    devices: {
      house: { name: "House", type: "console-24", set: ["out 1 x8 < mix 1"] },
      monitors: { name: "Monitors", type: "console-24", set: ["out 1 x8 < mix 1"] },
      feeder: { name: "Feeder", type: "link-box" },
      shifter: { name: "Shifter", type: "shifter", mode: "up" },
      second: { name: "Second", type: "shifter", mode: "straight" },
      end: { name: "End", type: "link-box", clock: "x" },
    },
    cables: [
      "M1: house.out.1 - feeder.in.1 x8, 5 m, multicore",
      "M2: monitors.out.1 - shifter.in.1 x8, 5 m, multicore",
      "L1: feeder.x - shifter.x, 5 m",
      "L2: shifter.y - second.x, 5 m",
      "L3: second.y - end.x, 5 m",
    ],
  }),
};

/**
 * R59: settings made for 48 slots, and a show at 96 kHz, where there are 24.
 *
 *     House link1 ──L1── a Box      link1 25–32 ← mix 1–8 · ch 1 ← link1 30
 */
export const R59: Rig = {
  show: rig({
    rate: 96000,
    devices: {
      house: {
        name: "House",
        type: "console-24",
        set: ["link1 17 x8 < mix 1", "link1 25 x8 < mix 1", "ch 1 < link1 30", "ch 2 < link1 24"],
      },
      box: { name: "Box", type: "box-32-16", mode: "one" },
    },
    cables: ["L1: house.link1 - box.a, 50 m"],
  }),
};

/**
 * R60: cables that are too long, of the wrong kind, without a shield, or of no known length; and some that are just right.
 *
 *     L1 101 m · L2 no length · P1 80 m (75 is the most) · L3 unshielded · L4 coax · X1 110 Ω cable on line jacks
 *     X2 100 m of loudspeaker cable for a line · L5 exactly 100 m
 */
export const R60: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-96" },
      monitors: { name: "Monitors", type: "console-24" },
      truck: { name: "Truck", type: "console-24" },
      box1: { name: "Box 1", type: "box-32-16", mode: "one" },
      box2: { name: "Box 2", type: "box-32-16", mode: "one" },
      ears: { name: "Ears rack", type: "breakout-16", mode: "pm" },
      wedge1: { name: "Wedge 1", type: "wedge" },
      wedge2: { name: "Wedge 2", type: "wedge" },
      wedge3: { name: "Wedge 3", type: "wedge" },
    },
    cables: [
      "L1: house.link1 - box1.a, 101 m",
      "L2: house.link2 - box2.a",
      "P1: box1.pm - ears.pm, 80 m",
      "L3: house.link3 - monitors.link1, 5 m, cat5e",
      "L4: monitors.link2 - truck.link1, 5 m, coax-75",
      "L5: box1.b - truck.link2, 100 m",
      "X1: house.out.1 - wedge1.in.1, 5 m, digital-110",
      "X2: house.out.2 - wedge2.in.1, 100 m, loudspeaker",
      "X3: house.out.3 - wedge3.in.1, microphone",
    ],
  }),
};

const lost = rig({
  devices: {
    house: { name: "House", type: "console-24" },
    box: { name: "Box", type: "box-16-8", mode: "retired" },
    mystery: { name: "Mystery", type: "gone?" },
  },
  cables: ["L1: house.link1 - nobody.a, 5 m", "X1: house.out.1 - box.aux.1, 5 m"],
  sources: ["Far: box.in.17", "Lost: nobody.in.1", "Unknown: mystery.in.1", "Here: box.in.1"],
  channels: ["High: house.ch.25", "Ghost: house.ch.1 < Nobody", "Fine: house.ch.2 < Here"],
  mixes: ["Thirteen: house.mix.13 < ch 1", "Members: house.mix.1 < ch 1, ch 99", "Good: house.mix.2 < ch 1"],
  wants: ["Ninth: box.out.9", "From: box.out.1 < house.mix.99", "Kept: box.out.2"],
});
/**
 * R61: records that point at nothing, one of each sort, beside sound ones. The house stands in a place that is gone.
 *
 *     House link1 ──L1── (nobody)     House out 1 ──X1── aux Box (no such bank)     Mystery (type gone)
 */
export const R61: Rig = {
  show: {
    ...lost,
    devices: lost.devices.map((device, n) =>
      n === 0 ? { ...device, place: "attic" as typeof device.place } : device,
    ),
  },
};
