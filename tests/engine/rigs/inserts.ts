/** Rigs of inserts by outside jacks. */
import type { Rig } from "../tell.ts";
import { rig } from "./build.ts";

const desk = (inserts: readonly string[]): Rig => ({
  show: rig({
    devices: {
      house: {
        name: "House",
        type: "console-24",
        set: [
          "ch 1 x2 < in 1",
          "out 1 < mix 1",
          "out 2 < direct 1",
          "out 5 < ch-send 1",
          "out 6 < mix-send 1",
          "ch-return 1 < in 5",
          "mix-return 1 < in 6",
        ],
        inserts,
      },
      rack: { name: "Rack", type: "processor-8", set: ["out 1 x2 < in 1"] },
    },
    cables: ["S: house.out.5 - rack.in.1 x2, 2 m", "R: rack.out.1 - house.in.5 x2, 2 m"],
    sources: ["Voice: house.in.1", "Guest: house.in.2"],
    mixes: ["Band: house.mix.1 < ch 1 pre, ch 2", "Zone: house.mtx.1 < mix 1"],
    wants: ["Wedge: house.out.1 < house.mix.1", "Track: house.out.2 < house.direct.1"],
  }),
});

/**
 * R70: a rack patched to channel 1 and mix 1, and nothing in: the sends carry what goes out, the returns wait.
 *
 *     Voice ── in 1 House ch 1 ─┬─> direct 1 ── out 2
 *     Guest ── in 2       ch 2 ─┴─> mix 1 ───── out 1
 *                  ch-send 1 ── out 5 ──S──> in 1 Rack out 1 ──R──> in 5 ── ch-return 1
 *                  mix-send 1 ─ out 6 ──S──> in 2      out 2 ──R──> in 6 ── mix-return 1
 */
export const R70: Rig = desk([]);
/** R71: as R70 with the insert of channel 1 in: mix and direct out take the return. */
export const R71: Rig = desk(["ch-return 1"]);
/** R72: as R70 with the insert of mix 1 in: the bus comes from its return, its members go to its send. */
export const R72: Rig = desk(["mix-return 1"]);
/** R73: as R70 with inserts in that nothing comes back to, and one that the console doesn't have. */
export const R73: Rig = desk(["ch-return 1 x2", "mix-return 3", "mtx 1"]);
