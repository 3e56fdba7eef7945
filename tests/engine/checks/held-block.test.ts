/** F34: blocks are set as a whole (common practice), so what stands in one is in the way of another. */
import { describe, expect, test } from "vitest";
import type { Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { bank, patch, range, wired } from "#engine/catalog/parts.ts";
import { port, type } from "../rigs/types.ts";
import { reasons, told } from "./told.ts";
import { whole } from "./whole.ts";

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

describe("a held block in full", () => {
  /**
   *     House Mix 1–8 ──(blocks of eight) ── link1 9–16 ──── box.a ── Out 9–16;  Main 1–3 ── link1 1–3
   */
  const high = (wants: readonly string[]): Show =>
    rig({
      devices: {
        box: { name: "Box", type: "box-32-16", mode: "one" },
        house: { name: "House", type: "console-24", set: ["link1 1 x3 < main 1", "link1 9 x8 < mix 1"] },
      },
      cables: ["L1: house.link1 - box.a, 50 m"],
      wants,
    });

  test("[F34] what stands beside the twelve mixes' last run of four, or in another block, holds nothing", () => {
    const others = ["Fill: box.out.1 < house.main.1", "Keys: box.out.13 < house.mix.5"];
    expect(
      whole(
        high([...others, "Vocal: box.out.12 < house.mix.4", "Drums: box.out.11 < house.mix.11"]),
        "held-block",
      ),
    ).toEqual([
      "warning held-block:house:link1:9:mix:9: Drums needs a block of House that 1 other feed holds",
      "“Link 1 out 9–12 takes Mix 9–12” would bring House Mix 11, and the block goes as a whole: Vocal (Box Out 12) would lose what it has.",
      "at House Link 1 out 11, Box Out 11–12; devices house, box; wants drums, vocal",
    ]);
    expect(told(high([...others, "Drums: box.out.11 < house.mix.11"]), "held-block")).toEqual([]);
  });

  test("[F34] a feed without a name; the first slot of the block counts", () => {
    const show = high(["Vocal: box.out.9 < house.mix.1", "Drums: box.out.11 < house.mix.11"]);
    const nameless = { ...show, wants: show.wants.map((want) => ({ ...want, name: "" })) };
    expect(whole(nameless, "held-block")).toEqual([
      "warning held-block:house:link1:9:mix:9: A feed needs a block of House that 1 other feed holds",
      "“Link 1 out 9–12 takes Mix 9–12” would bring House Mix 11, and the block goes as a whole: Box Out 9 would lose what it has.",
      "at House Link 1 out 11, Box Out 11, Box Out 9; devices house, box; wants drums, vocal",
    ]);
  });

  test("[F34] [F1] a feed that is dark isn't held up, and one that is dark holds nothing", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < link2 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x3 < main 1"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 50 m", "T1: monitors.link1 - house.link2, 5 m"],
      wants: ["Vocal: box.out.1 < monitors.main.1", "Drums: box.out.4 < house.mix.4"],
    });
    expect(told(show, "held-block")).toEqual([]);
    const wrong = { ...show, wants: [show.wants[1]!, { ...show.wants[0]!, from: show.wants[1]!.from! }] };
    // House's block of mixes would bring mix 4 to out 1 nowhere: it stands fourth in it.
    expect(told(wrong, "held-block")).toEqual([]);
  });

  /**
   *     Feeder in 1, 2, 4 ── x 1–3, in 1, 3 ── x 9–10 ──F1── link2 House ──(blocks of eight)── link1 ──L1── a Box
   */
  test("[F34] who would get the same signal from the other block holds nothing", () => {
    const sixteen = { single: 16, double: 8, quad: 4 };
    const feeder = type("feeder", {
      banks: [bank("in", "In", "in", 8, "XLR", "line")],
      ports: [port("x", sixteen, { transport: "48-slot Cat 5 link" })],
      rules: [
        wired("x", 1, "in", 1, 2),
        wired("x", 3, "in", 4, 1),
        wired("x", 9, "in", 1, 1),
        wired("x", 10, "in", 3, 1),
      ],
    });
    const show = rig({
      types: [feeder],
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < link2 1"], clock: "link2" },
        feeder: { name: "Feeder", type: "feeder" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 50 m", "F1: feeder.x - house.link2, 5 m"],
      sources: ["One: feeder.in.1", "Two: feeder.in.2", "Three: feeder.in.3", "Four: feeder.in.4"],
      wants: [
        "Same: box.out.1 < feeder.in.1",
        "Wish: box.out.2 < feeder.in.3",
        "Other: box.out.3 < feeder.in.4",
      ],
    });
    expect(whole(show, "held-block")).toEqual([
      "warning held-block:house:link1:1:link2:9: Wish needs a block of House that 1 other feed holds",
      "“Link 1 out 1–8 takes Link 2 in 9–16” would bring Feeder In 3, and the block goes as a whole: Other (Box Out 3) would lose what it has.",
      "at House Link 1 out 2, Box Out 2–3; devices house, box; wants wish, other",
    ]);
  });

  test.each([
    ["in first", "out.1", "out.2"],
    ["out first", "out.2", "out.1"],
  ])("[F34] in the rig's very first jacks as elsewhere: %s", (order, wrong, right) => {
    const inputs = bank("in", "In", "in", 16, "XLR", "line");
    const outputs = bank("out", "Out", "out", 8, "XLR", "line");
    const blocks = type("blocks", {
      banks: order === "in first" ? [inputs, outputs] : [outputs, inputs],
      rules: [patch(range("out", 1, 8), [range("in", 1, 16)], 8)],
    });
    const number = (name: string): number => Number(name.split(".")[1]);
    const show = rig({
      types: [blocks],
      devices: { blocks: { name: "Blocks", type: "blocks", set: ["out 1 x8 < in 1"] } },
      sources: [1, 2, 8 + number(wrong)].map((n) => `S${n}: blocks.in.${n}`),
      wants: [
        `Wrong: blocks.${wrong} < blocks.in.${8 + number(wrong)}`,
        `Right: blocks.${right} < blocks.in.${number(right)}`,
      ],
    });
    expect(told(show, "held-block")).toEqual([
      "warning held-block:blocks:out:1:in:9: Wrong needs a block of Blocks that 1 other feed holds",
    ]);
  });
});
