/** Rigs of passive joins: many to one in a box that nothing can be set at. */
import { bank, group, wired } from "#engine/catalog/parts.ts";
import type { Rig } from "../tell.ts";
import { rig } from "./build.ts";
import { type } from "./types.ts";

const joined = (off: readonly string[], plugged: readonly string[]): Rig => ({
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["out 1 x2 < mix 1"], off: off.includes("house") },
      monitors: {
        name: "Monitors",
        type: "console-24",
        set: ["out 1 < mix 3"],
        off: off.includes("monitors"),
      },
      join: { name: "Join box", type: "join-8" },
      rack: { name: "Rack", type: "processor-8", set: ["out 1 x3 < in 1"] },
    },
    cables: [
      "A: house.out.1 - join.a.1 x2, 2 m",
      "B: monitors.out.1 - join.b.1, 4 m",
      "O: join.out.1 - rack.in.1 x3, 10 m",
    ].filter((cable) => plugged.includes(cable[0]!)),
    sources: ["Voice: house.in.1", "Player: join.b.3"],
    mixes: ["Band: house.mix.1 < ch 1", "Talk: monitors.mix.3 < ch 1"],
    wants: [
      "Left: rack.out.1 < monitors.mix.3",
      "Right: rack.out.2 < house.mix.2",
      "Walk-in: rack.out.3 < join.b.3",
    ],
  }),
});

/**
 * R74: two consoles into one loudspeaker rack. Way 1 has a leg of each, way 2 one leg, way 3 a player.
 *
 *     House    out 1–2 ──A──> a 1–2 ─┐
 *     Monitors out 1 ────B──> b 1 ───┼─ join 1–3 ── out 1–3 ──O──> in 1–3 Rack out 1–3
 *                    Player ─ b 3 ───┘
 */
export const R74: Rig = joined([], ["A", "B", "O"]);
/** R75: as R74 with Monitors off: way 1 has House alone. */
export const R75: Rig = joined(["monitors"], ["A", "B", "O"]);
/** R76: as R74 with both consoles off and nothing from House plugged in. */
export const R76: Rig = joined(["house", "monitors"], ["B", "O"]);

/**
 * R77: one join behind another that has its own output back in; way 2 of the second has nothing but that.
 *
 *     House out 1 ──A──> a 1 First out 1 ─┬─F──> a 1 Second out 1 ──S──> b 1 Second
 *     Stage  mic ──────> b 1 First        ├─V──> a 3 Second out 3
 *                                         └─H──> in 1 House
 *                                                Second out 2 ──T, U──> a 2 and b 2 Second
 */
export const R77: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["out 1 < mix 1", "ch 1 < in 1", "ch 3 < in 1"] },
      first: { name: "First", type: "join-8" },
      second: { name: "Second", type: "join-8" },
    },
    cables: [
      "A: house.out.1 - first.a.1, 2 m",
      "F: first.out.1 - second.a.1, 2 m",
      "S: second.out.1 - second.b.1, 1 m",
      "T: second.out.2 - second.a.2, 1 m",
      "U: second.out.2 - second.b.2, 1 m",
      "V: first.out.1 - second.a.3, 2 m",
      "H: first.out.1 - house.in.1, 3 m",
    ],
    sources: ["Stage: first.b.1", "Guest: house.in.5"],
    mixes: ["Band: house.mix.1 < ch 2"],
    wants: ["Both: second.out.1 < house.mix.1", "Joined: second.out.3 < first.join.1", "Self: second.out.2"],
    channels: ["Stage: house.ch.1 < Stage", "Guest: house.ch.3 < Guest"],
  }),
};

/** Two jacks and one channel into three ways, past what there is, and what no join takes. */
const ODD_JOIN = type("odd-join", {
  banks: [bank("in", "In", "in", 2, "XLR", "line"), bank("out", "Out", "out", 3, "XLR", "line")],
  mixer: {
    sections: [
      { id: group("ch"), name: "Channel", role: "channel", count: 1, from: [], block: 1 },
      { id: group("mix"), name: "Mix", role: "mix", count: 3, from: [group("ch")], block: 1 },
      {
        id: group("join"),
        name: "Join",
        role: "join",
        count: 3,
        from: ["in", "ch", "in", "mix", "out", "gone"].map(group),
        block: 1,
      },
    ],
    processing: { value: 1, unit: "ms", provenance: "assumed" },
  },
  rules: [wired("out", 1, "join", 1, 3), wired("ch", 1, "in", 2, 1)],
});

/**
 * R78: a type whose join names more than it can take, with a mix that lies on the join.
 *
 *     Player ── in 1 ─┬─ join 1 ── out 1
 *       in 2 ── ch 1 ─┘
 *       in 2 ─────────── join 2 ── out 2
 *                        join 3 ── out 3
 */
export const R78: Rig = {
  show: rig({
    types: [ODD_JOIN],
    devices: { odd: { name: "Odd", type: "odd-join" } },
    sources: ["Player: odd.in.1"],
    mixes: ["Extra: odd.join.2 < ch 1"],
  }),
};
