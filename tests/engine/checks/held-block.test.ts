/** F34: blocks are set as a whole (common practice), so what stands in one is in the way of another. */
import { describe, expect, test } from "vitest";
import type { Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { reasons, told } from "./told.ts";

/**
 *     House Mix 1–16 ──(blocks of four) ── link1 ──── box.a ── Out 1–8
 */
const show = (wants: readonly string[], set = "link1 1 x8 < mix 1"): Show =>
  rig({
    devices: {
      house: { name: "House", type: "console-24", set: [set] },
      box: { name: "Box", type: "box-16-8", mode: "one" },
    },
    cables: ["L1: house.link1 - box.a, 50 m"],
    wants,
  });

const ELSEWHERE = "Drums: box.out.3 < house.mix.11";

describe("a block that other feeds hold", () => {
  test("[F34] a wanted mix of the next block, and two feeds that are right in this one", () => {
    const rigged = show(["Vocal: box.out.1 < house.mix.1", "Bass: box.out.2 < house.mix.2", ELSEWHERE]);
    expect(told(rigged, "held-block")).toEqual([
      "warning held-block:house:link1:1:mix:9: Drums needs a block of House that 2 other feeds hold",
    ]);
    expect(reasons(rigged, "held-block")).toEqual([
      "“Link 1 out 1–4 takes Mix 9–12” would bring House Mix 11, and the block goes as a whole: Vocal (Box Out 1), Bass (Box Out 2) would lose what they have.",
    ]);
  });

  test("[F34] where nobody holds the block there is a way out, and no such finding", () => {
    expect(told(show([ELSEWHERE]), "held-block")).toEqual([]);
    // A feed that is wrong itself, and would be set right by the same block, holds nothing.
    expect(told(show([ELSEWHERE, "Keys: box.out.4 < house.mix.12"]), "held-block")).toEqual([]);
  });

  test("[F34] feeds that wait for one setting are one finding; one that wants any signal holds what it has", () => {
    const rigged = show([ELSEWHERE, "Keys: box.out.4 < house.mix.12", "Anything: box.out.1"]);
    expect(told(rigged, "held-block")).toEqual([
      "warning held-block:house:link1:1:mix:9: 2 feeds need a block of House that 1 other feed holds",
    ]);
  });

  test("[F34] a mix that lies elsewhere in its block can't come at all, so no block is in its way", () => {
    const rigged = show(["Vocal: box.out.1 < house.mix.1", "Drums: box.out.3 < house.mix.12"]);
    expect(told(rigged, "held-block")).toEqual([]);
  });
});
