import type { Rig } from "../tell.ts";
import { R01 } from "./consoles-and-boxes.ts";
import { rig } from "./build.ts";
import { MISCOPIED } from "./types.ts";

/**
 * R43: two consoles hand a block back to each other over their tie.
 *
 *     House link2 ──T1── link2 Monitors     both: link2 1–8 ← link2 1–8
 */
export const R43: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link2 1 x8 < link2 1", "out 1 < link2 1"] },
      monitors: { name: "Monitors", type: "console-24", clock: "link2", set: ["link2 1 x8 < link2 1"] },
    },
    cables: ["T1: house.link2 - monitors.link2"],
  }),
};

/**
 * R44: three consoles in a ring.
 *
 *     House link2 ──T1── link1 Monitors link2 ──T2── link1 Truck link2 ──T3── link1 House
 */
export const R44: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link2 1 x8 < link1 1"] },
      monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link2 1 x8 < link1 1"] },
      truck: {
        name: "Truck",
        type: "console-24",
        clock: "link1",
        set: ["link2 1 x8 < link1 1", "out 3 < link1 2"],
      },
    },
    cables: [
      "T1: house.link2 - monitors.link1",
      "T2: monitors.link2 - truck.link1",
      "T3: truck.link2 - house.link1",
    ],
  }),
};

/**
 * R45: two ties between two consoles: out over the one, back over the other.
 *
 *     House link1 ──T1── link1 Monitors
 *           link2 ──T2── link2
 */
export const R45: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link2 1 x8 < link1 1"] },
      monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x8 < link2 1"] },
    },
    cables: ["T1: house.link1 - monitors.link1", "T2: house.link2 - monitors.link2"],
  }),
};

/**
 * R46: cables that lead to what the show doesn't have: a device of a lost type, a lost device, a lost group.
 *
 *     House link1 ──L1── a Mystery (type gone)
 *           link2 ──L2── a (device gone)
 *           in 1  ──X1── aux Box (no such group)
 */
export const R46: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["ch 1 < link1 1", "ch 2 < link2 1", "ch 3 < in 1"] },
      mystery: { name: "Mystery", type: "gone?" },
      box: { name: "Box", type: "box-16-8", mode: "one" },
    },
    cables: ["L1: house.link1 - mystery.a", "L2: house.link2 - nobody.a", "X1: box.aux.1 - house.in.1"],
  }),
};

/**
 * R47: blocks of eight and settings that don't fit them, and last blocks that are clipped. 12 mixes, 3 mains, 4 matrices.
 *
 *     House link1: 5–12 starts between blocks · 17–24 takes mix 3–10 · 25–28 is half a block
 *                  33–36 ← mix 9–12, the last four · 41–43 ← main 1–3, all there are
 *           link2: 1–8 ← mtx 1–8, of which 4 exist · 9–24 ← link1 1–16, two blocks
 */
export const R47: Rig = {
  show: rig({
    devices: {
      house: {
        name: "House",
        type: "console-24",
        set: [
          "link1 5 x8 < mix 1",
          "link1 17 x8 < mix 3",
          "link1 25 x4 < mix 1",
          "link1 33 x4 < mix 9",
          "link1 41 x3 < main 1",
          "link2 1 x8 < mtx 1",
          "link2 9 x16 < link1 1",
          "link2 25 x8 < ch 1",
        ],
      },
    },
  }),
};

/**
 * R48: settings that overlap, and one on a jack that a fixed rule feeds.
 *
 *     House out 1–4 ← mix 1–4, then out 3–4 ← main 1–2, then out 4 ← a run that doesn't exist
 *     Box (mode one) out 1–8 ← link A 1–8; set to take A 9–16
 */
export const R48: Rig = {
  show: rig({
    devices: {
      house: {
        name: "House",
        type: "console-24",
        set: ["out 1 x4 < mix 1", "out 3 x2 < main 1", "out 4 < main 4", "link1 1 x8 < mix 1"],
      },
      box: { name: "Box", type: "box-16-8", mode: "one", set: ["out 1 x8 < a 9"] },
    },
    cables: ["L1: house.link1 - box.a"],
  }),
};

/**
 * R49: a box and a console that are off. The box stands at another rate, which no one can hear while it is off.
 *
 *     House link1 ──L1── a Box (off, 44.1k)     Truck (off) link1 ──L2── a Box 2
 */
export const R49: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "ch 1 < link1 1"] },
      box: { name: "Box", type: "box-16-8", mode: "one", off: true, rate: 44100 },
      truck: { name: "Truck", type: "console-24", off: true, set: ["link1 1 x8 < mix 1"] },
      box2: { name: "Box 2", type: "box-16-8", mode: "one" },
    },
    cables: ["L1: house.link1 - box.a", "L2: truck.link1 - box2.a"],
    sources: ["Kick: box.in.1"],
  }),
};

/** R50: R01 with the link pulled. R51: R01 with the wedge's cable pulled. R52: R01 with the box switched off. */
export const R50: Rig = { show: R01.show, away: { cables: new Set(["L1"]) } };
export const R51: Rig = { show: R01.show, away: { cables: new Set(["X1"]) } };
export const R52: Rig = { show: R01.show, away: { devices: new Set(["box"]) } };

/**
 * R53: a cable in a port that is taken carries no clock either. Box 2 follows a cable that joins nothing.
 *
 *     House link1 ──L1── a Box 1
 *           link1 ──L2── a Box 2 b ──L3── link2 House
 */
export const R53: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link2 1 x8 < mix 1", "ch 1 < link2 1"] },
      box1: { name: "Box 1", type: "box-16-8", mode: "one" },
      box2: { name: "Box 2", type: "box-16-8", mode: "two" },
    },
    cables: ["L1: house.link1 - box1.a", "L2: house.link1 - box2.a", "L3: box2.b - house.link2"],
    sources: ["Kick: box2.in.1"],
  }),
};

/**
 * R54: a type whose sheet was copied badly: its patch lists in 1–12 where the bank has 8. A setting can't take what
 * isn't there. And a run that only the second of two listed ranges holds in line.
 *
 *     Odd   out 1 ← in 8 · out 2 ← in 9 (there is none) · out 5–8 ← in 3–6
 */
export const R54: Rig = {
  show: rig({
    types: [MISCOPIED],
    devices: {
      odd: { name: "Odd", type: "miscopied", set: ["out 1 < in 8", "out 2 < in 9", "out 5 x4 < in 3"] },
    },
    sources: ["Eight: odd.in.8", "Three: odd.in.3"],
  }),
};

/**
 * R55: a breakout whose stage link comes from a console that the show has lost, handed on to a second one.
 *
 *     (console gone) stage ──S1── stage Near stage-thru ──S2── stage Far
 */
export const R55: Rig = {
  show: rig({
    devices: {
      near: { name: "Near", type: "breakout-16", mode: "stage-first", clock: "internal" },
      far: { name: "Far", type: "breakout-16", mode: "stage-later", position: 2 },
    },
    cables: ["S1: lost.stage - near.stage, digital-110", "S2: near.stage-thru - far.stage, digital-110"],
  }),
};
