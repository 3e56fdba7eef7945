import type { Show } from "#engine/model/show.ts";
import type { Rig } from "../tell.ts";
import { rig } from "./build.ts";

/**
 * R01: one console, one stage box, one wedge.
 *
 *     House link1 ──L1── a Box out 3 ──X1── Wedge
 *                          in 1 ← Kick
 */
export const R01: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "ch 1 x16 < link1 1"] },
      box: { name: "Box", type: "box-16-8", mode: "one" },
      wedge: { name: "Wedge", type: "wedge" },
    },
    cables: ["L1: house.link1 - box.a, 50 m", "X1: box.out.3 - wedge.in.1, 10 m"],
    sources: ["Kick: box.in.1"],
  }),
};

/**
 * R02: monitors' and broadcast's mixes carried through the house console to the box's monitor bus, and out of a
 * breakout: extra outputs with no new snake.
 *
 *     Broadcast link1 ──T2── link2 Monitors link1 ──T1── link2 House link1 ──L1── a Stage box pm ──P1── Ears rack
 *       mix 1–8 ──────────────→ 41–48 ────────────────────→ 33–48 ─────────────────→ 33–48 → 1–16
 *                               33–40 ← mix 9–16
 */
export const R02: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-48", set: ["link1 1 x16 < mix 1", "link1 33 x16 < link2 33"] },
      monitors: {
        name: "Monitors",
        type: "console-48",
        clock: "link1",
        set: ["link1 33 x8 < mix 9", "link1 41 x8 < link2 1"],
      },
      broadcast: { name: "Broadcast", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
      box: { name: "Stage box", type: "box-32-16", mode: "one" },
      ears: { name: "Ears rack", type: "breakout-16", mode: "pm" },
    },
    cables: [
      "L1: house.link1 - box.a, 75 m",
      "T1: monitors.link1 - house.link2, 90 m",
      "T2: broadcast.link1 - monitors.link2",
      "P1: box.pm - ears.pm, 30 m",
    ],
  }),
};

/**
 * R03: two large boxes on one link. Position 2 stands 16 outputs and 24 inputs further on.
 *
 *     House link1 ──L1── a Box 1 c ──L2── a Box 2
 *                          out ← 1–16       out ← 17–32
 *                          in → 1–24        in → 25–48
 */
export const R03: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-48", set: ["link1 1 x24 < mix 1", "ch 1 x48 < link1 1"] },
      box1: { name: "Box 1", type: "box-32-16", mode: "chain", position: 1 },
      box2: { name: "Box 2", type: "box-32-16", mode: "chain", position: 2 },
    },
    cables: ["L1: house.link1 - box1.a", "L2: box1.c - box2.a"],
    sources: ["Oboe: box2.in.6"],
  }),
};

/**
 * R04: three small boxes on one link. Each position stands 8 outputs and 16 inputs further on.
 *
 *     House link1 ──L1── a Box 1 b ──L2── a Box 2 b ──L3── a Box 3
 *                          out ← 1–8        9–16             17–24
 *                          in → 1–16        17–32            33–48
 */
export const R04: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-48", set: ["link1 1 x24 < mix 1", "ch 1 x48 < link1 1"] },
      box1: { name: "Box 1", type: "box-16-8", mode: "chain", position: 1 },
      box2: { name: "Box 2", type: "box-16-8", mode: "chain", position: 2 },
      box3: { name: "Box 3", type: "box-16-8", mode: "chain", position: 3 },
    },
    cables: ["L1: house.link1 - box1.a", "L2: box1.b - box2.a", "L3: box2.b - box3.a"],
    sources: ["Choir: box3.in.16"],
  }),
};

const shared = (mode: string): Show =>
  rig({
    devices: {
      house: { name: "House", type: "console-96", set: ["link1 1 x16 < mix 1", "link1 33 x8 < mix 17"] },
      monitors: {
        name: "Monitors",
        type: "console-48",
        clock: "link1",
        set: ["link1 1 x8 < mix 1", "link1 33 x8 < mix 9"],
      },
      truck: { name: "Truck", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
      box: { name: "Box", type: "box-32-16", mode },
    },
    cables: ["L1: house.link1 - box.a", "L2: monitors.link1 - box.b", "L3: truck.link1 - box.c"],
  });

/**
 * R05 to R07: one box, three consoles, three modes of the box. The box follows link A, the other consoles follow the box.
 *
 *     House    link1 ──L1── a ┐
 *     Monitors link1 ──L2── b ├ Box   R05 `two`: out 1–8 from A, 9–16 from B; monitor bus from A
 *     Truck    link1 ──L3── c ┘       R06 `two-bus-b`: the same, monitor bus from B
 *                                     R07 `three`: out 1–8 from A, 9–12 from B, 13–16 from C
 */
export const R05: Rig = { show: shared("two") };
export const R06: Rig = { show: shared("two-bus-b") };
export const R07: Rig = { show: shared("three") };

/**
 * R08: the show at 96 kHz, where the link has 24 of its 48 slots.
 *
 *     House link1 ──L1── a Box    in 25–32 don't fit; the monitor bus (slots 33–48) has nothing to take
 *                          in 24 ← Harp
 */
export const R08: Rig = {
  show: rig({
    rate: 96000,
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "ch 1 x24 < link1 1"] },
      box: { name: "Box", type: "box-32-16", mode: "one" },
    },
    cables: ["L1: house.link1 - box.a, 50 m"],
    sources: ["Harp: box.in.24"],
  }),
};

/**
 * R09: 192 kHz. The link keeps 12 slots, the monitor bus has none.
 *
 *     House link1 ──L1── a Box pm ──P1── Ears rack
 */
export const R09: Rig = {
  show: rig({
    rate: 192000,
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "link1 9 x4 < mix 9"] },
      box: { name: "Box", type: "box-32-16", mode: "one" },
      ears: { name: "Ears rack", type: "breakout-16", mode: "pm" },
    },
    cables: ["L1: house.link1 - box.a", "P1: box.pm - ears.pm"],
  }),
};

/**
 * R10: the stage link. The first breakout takes slots 1–16, a later one 17–32; each hands all 32 on. Their clock
 * comes over the stage link because the mode says so; the type alone would follow the monitor bus.
 *
 *     House stage ──S1── stage Near rack stage-thru ──S2── stage Far rack
 */
export const R10: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-48", set: ["stage 1 x8 < mix 1", "stage 17 x8 < mix 9"] },
      near: { name: "Near rack", type: "breakout-16", mode: "stage-first", position: 1 },
      far: { name: "Far rack", type: "breakout-16", mode: "stage-later", position: 2 },
    },
    cables: [
      "S1: house.stage - near.stage, 20 m, digital-110",
      "S2: near.stage-thru - far.stage, 5 m, digital-110",
    ],
  }),
};

/**
 * R11: personal mixers along the monitor bus, each handing it on.
 *
 *     House link1 ──L1── a Box pm ──P1── Player 1 ──P2── Player 2 phones
 *       33–40 ← mix 1–8                                    main 1+2 ← ch 1
 */
export const R11: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 33 x8 < mix 1"] },
      box: { name: "Box", type: "box-16-8", mode: "one" },
      player1: { name: "Player 1", type: "personal-mixer" },
      player2: { name: "Player 2", type: "personal-mixer" },
    },
    cables: ["L1: house.link1 - box.a", "P1: box.pm - player1.pm", "P2: player1.pm-thru - player2.pm"],
    mixes: ["My ears: player2.main.1+2 < ch 1"],
  }),
};

/**
 * R12: mixes of every kind on one console.
 *
 *     ch 1, ch 2 → mix 1          ch 1 → mix 3+4 (stereo)
 *     ch 1, mix 1 → main 1+2      main 1, ch 3 → matrix 1 (a channel can't go there)
 */
export const R12: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["out 1 < mtx 1", "out 2 < mix 4", "ch 1 < in 1"] },
    },
    sources: ["Talk: house.in.1"],
    mixes: [
      "Wedge: house.mix.1 < ch 1 pre, ch 2",
      "Ears: house.mix.3+4 < ch 1",
      "Main: house.main.1+2 < ch 1, mix 1",
      "Delay: house.mtx.1 < main 1, ch 3",
      // Bus 12 is the last one: the right side of the pair has nowhere to go.
      "Edge: house.mix.12+13 < ch 4",
      "Extra: house.direct.5 < ch 6",
    ],
  }),
};

/**
 * R13: a block of local outputs that two consoles feed, and one that is fed in part.
 *
 *     Monitors link1 ──T1── link2 House   out 1–4 ← mix 1–4 · out 5 ← link2 1 (Monitors) · out 6–8 nothing
 *              out 1–3 ← mix 1–3
 */
export const R13: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["out 1 x4 < mix 1", "out 5 < link2 1"] },
      monitors: {
        name: "Monitors",
        type: "console-24",
        clock: "link1",
        set: ["link1 1 x8 < mix 1", "out 1 x3 < mix 1"],
      },
      spare: { name: "Spare", type: "console-24" },
    },
    cables: ["T1: monitors.link1 - house.link2"],
  }),
};
