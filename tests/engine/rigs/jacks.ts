import type { Rig } from "../tell.ts";
import { rig } from "./build.ts";
import { AMPLIFIER, CABINET, EIGHT_BY_EIGHT, SLOW } from "./types.ts";

/**
 * R33: a passive split feeds two boxes. The signal branches at the split, again in each box, and through mixes.
 *
 *     Vocal → in 1 Split direct ══M1══ in Box A ──L1── link1 House    mix 1 → out 1
 *                       isolated ══M2══ in Box B ──L2── link1 Monitors mix 1+2 → out 1, 2
 */
export const R33: Rig = {
  show: rig({
    devices: {
      split: { name: "Split", type: "split-16" },
      boxa: { name: "Box A", type: "box-16-8", mode: "one" },
      boxb: { name: "Box B", type: "box-16-8", mode: "one" },
      house: { name: "House", type: "console-24", set: ["ch 1 x16 < link1 1", "out 1 < mix 1"] },
      monitors: { name: "Monitors", type: "console-24", set: ["ch 1 x16 < link1 1", "out 1 x2 < mix 1"] },
    },
    cables: [
      "M1: split.direct.1 - boxa.in.1 x16, 5 m, multicore",
      "M2: split.isolated.1 - boxb.in.1 x16, 5 m, multicore",
      "L1: boxa.a - house.link1",
      "L2: boxb.a - monitors.link1",
    ],
    sources: ["Vocal: split.in.1"],
    mixes: ["Front: house.mix.1 < ch 1", "Ears: monitors.mix.1+2 < ch 1"],
  }),
};

/**
 * R34: the loudspeakers. Thru jacks hand the signal on; ears get a stereo pair in one jack.
 *
 *     House out 1–2 ──X1── in 1–2 Processor out 1 ──X2── Top thru ──X3── Sub
 *           out 7–8 ──X4── in 1–2 Ears transmitter
 */
export const R34: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["out 1 x2 < main 1", "out 7 x2 < mix 5"] },
      processor: {
        name: "Processor",
        type: "processor-8",
        mode: "four",
        set: ["out 1 < in 1", "out 2 < in 1", "out 3 < in 2", "out 5 < in 5"],
      },
      top: { name: "Top", type: "loudspeaker" },
      sub: { name: "Sub", type: "loudspeaker" },
      ears: { name: "Ears", type: "ear-transmitter" },
    },
    cables: [
      "X1: house.out.1 - processor.in.1 x2, 3 m, multicore",
      "X2: processor.out.1 - top.in.1, 40 m",
      "X3: top.thru.1 - sub.in.1, 5 m",
      "X4: house.out.7 - ears.in.1 x2",
    ],
  }),
};

/**
 * R35: cables whose ends are unlike. None of them joins anything.
 *
 *     X1 port to jack · L2 two transports · X3 AES3 to line · X4, X5 jacks without a connector · X6 in to in
 *     L7 receive to receive · X8 loudspeaker level to line · X9 an aerial to line
 */
export const R35: Rig = {
  show: rig({
    types: [AMPLIFIER],
    devices: {
      house: { name: "House", type: "console-24", set: ["ch 1 < link1 1", "ch 2 < link2 1"] },
      box: { name: "Box", type: "box-16-8", mode: "one" },
      switch: { name: "Switch", type: "aes67-switch" },
      converter: { name: "Converter", type: "aes3-converter", mode: "low" },
      recorder: { name: "Recorder", type: "recorder-64" },
      rack1: { name: "Rack 1", type: "breakout-16", mode: "pm" },
      rack2: { name: "Rack 2", type: "breakout-16", mode: "pm" },
      amp: { name: "Amp", type: "amplifier" },
      ears: { name: "Ears", type: "ear-transmitter" },
    },
    cables: [
      "X1: house.link1 - box.in.1",
      "L2: house.link2 - switch.p1",
      "X3: converter.out.1 - house.in.1, digital-110",
      "X4: house.out.1 - recorder.play.1",
      "X5: recorder.tracks.1 - house.in.2",
      "X6: house.in.3 - box.in.3",
      "L7: rack1.pm - rack2.pm",
      "X8: amp.out.1 - house.in.4, loudspeaker",
      "X9: ears.radio.1 - house.in.5",
    ],
  }),
};

/**
 * R36: two cables in one port, two in one input jack; a jack that gives to two is nothing special.
 *
 *     House link1 ──L1── a Box 1        House out 1 ──X1──┐
 *               └───L2── a Box 2              out 2 ──X2──┴ in 1 Wedge 1
 *                                             out 3 ──X3── Wedge 2, ──X4── Wedge 3
 */
export const R36: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "out 1 x3 < main 1"] },
      box1: { name: "Box 1", type: "box-16-8", mode: "one" },
      box2: { name: "Box 2", type: "box-16-8", mode: "one" },
      wedge1: { name: "Wedge 1", type: "wedge" },
      wedge2: { name: "Wedge 2", type: "wedge" },
      wedge3: { name: "Wedge 3", type: "wedge" },
    },
    cables: [
      "L1: house.link1 - box1.a",
      "L2: house.link1 - box2.a",
      "X1: house.out.1 - wedge1.in.1",
      "X2: house.out.2 - wedge1.in.1",
      "X3: house.out.3 - wedge2.in.1",
      "X4: wedge3.in.1 - house.out.3",
    ],
  }),
};

/**
 * R37: a multicore that is longer than the bank it starts from. Its last four tails are plugged in and carry nothing,
 * and another cable can't be in the same jacks.
 *
 *     House out 5–8 ══M1 (8 ways)══ in 1–8 Processor
 *           out 1   ──X2─────────── in 5
 */
export const R37: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["out 1 x8 < mix 1"] },
      processor: { name: "Processor", type: "processor-8", mode: "eight", set: ["out 1 x8 < in 1"] },
    },
    cables: ["M1: house.out.5 - processor.in.1 x8, multicore", "X2: house.out.1 - processor.in.5"],
  }),
};
/** R38: as R37, with the multicore pulled. */
export const R38: Rig = { show: R37.show, away: { cables: new Set(["M1"]) } };

/**
 * R39: what is an origin. A source counts even where a cable is plugged in too; of two sources the first counts.
 *
 *     Talk → in 1 House ──X1── out 1 (back into in 1)     Playback 1 ← Click · 2 nothing
 */
export const R39: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["ch 1 < in 1", "ch 2 < in 2", "out 1 < mix 1"] },
      recorder: { name: "Recorder", type: "recorder-64" },
    },
    cables: ["X1: house.out.1 - house.in.1"],
    sources: ["Talk: house.in.1", "Late: house.in.1", "Click: recorder.play.1"],
  }),
};

/**
 * R40: the shortest loop there is: a console's output into its own input.
 *
 *     House out 1 ──X1── in 1 House      out 1 ← in 1 · out 2 ← in 1
 */
export const R40: Rig = {
  show: rig({
    devices: { house: { name: "House", type: "console-24", set: ["out 1 < in 1", "out 2 < in 1"] } },
    cables: ["X1: house.out.1 - house.in.1"],
  }),
};

/**
 * R41: a small matrix in modes that put fixed rules first.
 *
 *     Free: only settings · Fixed: out 1–2 ← in 7–8 · Long: out 1–8 ← in 5–12, of which 9–12 don't exist · Both: twice
 */
const SETTINGS = ["out 1 x4 < in 1"];
export const R41: Rig = {
  show: rig({
    types: [EIGHT_BY_EIGHT],
    devices: {
      free: { name: "Free", type: "eight-by-eight", mode: "free", set: SETTINGS },
      fixed: { name: "Fixed", type: "eight-by-eight", mode: "fixed", set: ["out 1 < in 1", "out 3 < in 1"] },
      long: { name: "Long", type: "eight-by-eight", mode: "long", set: SETTINGS },
      both: { name: "Both", type: "eight-by-eight", mode: "both", set: [] },
      gone: { name: "Gone", type: "eight-by-eight", mode: "retired", set: SETTINGS },
    },
    sources: [
      "F1: free.in.1",
      "X7: fixed.in.7",
      "X1: fixed.in.1",
      "L5: long.in.5",
      "B4: both.in.4",
      "B6: both.in.6",
      "G1: gone.in.1",
    ],
  }),
};

/**
 * R42: loudspeaker level goes to loudspeaker level, and line to line.
 *
 *     House out 1 ──X1── in 1 Amp out 1 ──S1── Cabinet
 */
export const R42: Rig = {
  show: rig({
    types: [AMPLIFIER, CABINET],
    devices: {
      house: { name: "House", type: "console-24", set: ["out 1 < main 1"] },
      amp: { name: "Amp", type: "amplifier" },
      cabinet: { name: "Cabinet", type: "cabinet" },
    },
    cables: ["X1: house.out.1 - amp.in.1", "S1: amp.out.1 - cabinet.in.1, 20 m, loudspeaker"],
  }),
};

/**
 * R56: delays in samples, at 48 and at 96 kHz.
 *
 *     Talk → in 1 Slow out 1 (48 kHz)     Sing → in 1 Quick out 1 (96 kHz)
 */
export const R56: Rig = {
  show: rig({
    types: [SLOW],
    devices: {
      slow: { name: "Slow", type: "slow", set: ["out 1 < in 1"] },
      quick: { name: "Quick", type: "slow", rate: 96000, set: ["out 1 < in 1"] },
    },
    sources: ["Talk: slow.in.1", "Sing: quick.in.1"],
  }),
};
