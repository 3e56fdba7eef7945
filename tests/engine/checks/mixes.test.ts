/** F18 and F19: mixes on their buses, and what sections take. That buses pair odd with even is common practice. */
import { describe, expect, test } from "vitest";
import type { Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { findingsOf, reasons, told } from "./told.ts";
import { offered, whole } from "./whole.ts";

const desk = (...mixes: readonly string[]): Show =>
  rig({ devices: { house: { name: "House", type: "console-24" } }, mixes });

describe("buses", () => {
  test("[F18] two mixes on one bus, also where only one half of a stereo one is shared", () => {
    expect(told(desk("Wedge: house.mix.3 < ch 1", "Fill: house.mix.3 < ch 2"), "bus-use")).toEqual([
      "error bus-use:twice:fill: “Wedge” and “Fill” lie on one bus: House Mix 3",
    ]);
    expect(told(desk("Ears: house.mix.3+4 < ch 1", "Fill: house.mix.4 < ch 2"), "bus-use")).toEqual([
      "error bus-use:twice:fill: “Ears” and “Fill” lie on one bus: House Mix 4",
    ]);
  });

  test("[F18] neighbours, other sections and other consoles share nothing", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        monitors: { name: "Monitors", type: "console-24" },
      },
      mixes: [
        "Ears: house.mix.3+4 < ch 1",
        "Fill: house.mix.5 < ch 2",
        "Zone: house.mtx.3 < main 1",
        "Wedge: monitors.mix.3 < ch 1",
      ],
    });
    expect(told(show, "bus-use")).toEqual([]);
  });

  test("[F18] a stereo mix starts on an odd bus", () => {
    expect(told(desk("Ears: house.mix.1+2 < ch 1"), "bus-use")).toEqual([]);
    expect(told(desk("Ears: house.mix.2+3 < ch 1"), "bus-use")).toEqual([
      "error bus-use:pair:ears: “Ears” is stereo across two pairs: House Mix 2–3",
    ]);
    expect(reasons(desk("Ears: house.mix.2+3 < ch 1"), "bus-use")).toEqual([
      "Buses pair odd with even: 1–2 and 3–4. A stereo mix starts on an odd one.",
    ]);
    expect(told(desk("Wedge: house.mix.2 < ch 1"), "bus-use")).toEqual([]);
  });
});

describe("buses to move to", () => {
  const moved = (
    set: readonly string[],
    wants: readonly string[],
    ...mixes: readonly string[]
  ): readonly string[] =>
    offered(
      rig({
        devices: {
          house: { name: "House", type: "console-24", set },
          monitors: { name: "Monitors", type: "console-24" },
        },
        mixes,
        wants,
      }),
      "bus-use",
    ).filter((line) => !line.startsWith(" "));

  test("[F18] [F27] a pair of which either bus is taken won't do; another console's wants and buses don't matter", () => {
    const mixes = ["Ears: house.mix.2+3 < ch 1", "One: house.mix.1 < ch 1", "Four: house.mix.4 < ch 1"];
    const wants = [
      "Any: house.out.8",
      "Theirs: monitors.out.1 < monitors.mix.5",
      "Other: house.out.7 < house.mtx.3",
    ];
    expect(moved([], wants, ...mixes)).toEqual(["Move “Ears” to Mix 5–6"]);
    // The send of an insert takes its bus always; that counts once something takes from the send.
    expect(moved(["out 2 < mix-send 5"], wants, ...mixes)).toEqual(["Move “Ears” to Mix 7–8"]);
    expect(moved(["out 2 < mix-send 4"], wants, ...mixes)).toEqual(["Move “Ears” to Mix 5–6"]);
  });

  test("[F18] [F27] of those on one bus just these can be taken out", () => {
    const mixes = [
      "One: house.mix.1 < ch 1",
      "Two: house.mix.1 < ch 2",
      "Theirs: monitors.mix.1 < ch 1",
      "Zone: house.mtx.1 < main 1",
    ];
    expect(moved([], [], ...mixes)).toEqual(["Move “Two” to Mix 2", "Take “One” out", "Take “Two” out"]);
  });

  test("[F18] both buses of a pair that isn't one are pointed at", () => {
    expect(whole(desk("Ears: house.mix.2+3 < ch 1"), "bus-use").at(-1)).toBe(
      "at House Mix 2–3; devices house",
    );
  });

  test("[F18] [F19] direct outs, channels and inserts carry no mix, so two on one of them aren't two on one bus", () => {
    const show = desk(
      "A: house.direct.3 < ch 3",
      "B: house.direct.3 < ch 3",
      "C: house.ch.2 < mix 1",
      "D: house.ch.2 < mix 1",
      "E: house.ch-send.1 < ch 1",
      "F: house.ch-send.1 < ch 1",
      "G: house.mix-return.1 < mix 1",
      "H: house.mix-return.1 < mix 1",
    );
    expect(told(show, "bus-use")).toEqual([]);
    expect(reasons(show, "mix-member-refused").slice(2)).toEqual([
      ...Array<string>(2).fill(
        "An insert send takes what stands before the insert and nothing else. 1 member of 1 is silent there.",
      ),
      ...Array<string>(2).fill("An insert return takes its input and no mix. 1 member of 1 is silent there."),
    ]);
  });

  test("[F18] [F19] on the second console as on the first, and none of a console that isn't there", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        monitors: { name: "Monitors", type: "console-24" },
      },
      mixes: [
        "Ears: monitors.mix.2+3 < ch 1",
        "Zone: monitors.mtx.1 < ch 1",
        "Lost: gone.mix.4+5 < ch 1",
        "Gone: gone.mtx.1 < ch 1",
      ],
    });
    expect(told(show, "bus-use", "mix-member-refused")).toEqual([
      "error bus-use:pair:ears: “Ears” is stereo across two pairs: Monitors Mix 2–3",
      "error mix-member-refused:zone: “Zone” can't take Channel 1 of Monitors",
    ]);
  });

  test("[F19] [F14] a jack is no member that could be refused", () => {
    const show = desk("Delay: house.mtx.1 < in 1");
    expect(told(show, "mix-member-refused")).toEqual([]);
    expect(findingsOf(show, "dangling")).toHaveLength(1);
  });

  test("[F19] [F14] a member with number nought is told as one that doesn't exist", () => {
    const show = desk("Delay: house.mtx.1 < ch 0, ch 25");
    expect(told(show, "mix-member-refused")).toEqual([]);
    expect(findingsOf(show, "dangling")).toHaveLength(1);
  });
});

describe("members", () => {
  test("[F19] a matrix straight from a channel: common practice says mains and mixes only", () => {
    const show = desk("Delay: house.mtx.1 < main 1, ch 3, ch 4, mix 1");
    expect(told(show, "mix-member-refused")).toEqual([
      "error mix-member-refused:delay: “Delay” can't take Channel 3–4 of House",
    ]);
    expect(reasons(show, "mix-member-refused")).toEqual([
      "Matrix takes Main and Mix only, never a channel directly. 2 members of 4 are silent there.",
    ]);
  });

  test("[F19] what the section lists is taken", () => {
    const show = desk(
      "Delay: house.mtx.1 < main 1, mix 1",
      "Wedge: house.mix.1 < ch 1",
      "Main: house.main.1+2 < ch 1, mix 1",
    );
    expect(told(show, "mix-member-refused")).toEqual([]);
  });

  test("[F19] a direct out takes its own channel, a channel takes no mix", () => {
    expect(reasons(desk("Out: house.direct.3 < ch 3"), "mix-member-refused")).toEqual([]);
    expect(reasons(desk("Out: house.direct.3 < ch 3, ch 4"), "mix-member-refused")).toEqual([
      "A direct out takes its own channel and nothing else. 1 member of 2 is silent there.",
    ]);
    expect(reasons(desk("Out: house.ch.3 < mix 1"), "mix-member-refused", "bus-use")).toEqual([
      "A channel takes its input and no mix. 1 member of 1 is silent there.",
    ]);
  });

  test("[F14] of a mix on a console whose type is missing, only the type is told", () => {
    const show = rig({
      devices: { house: { name: "House", type: "gone?" } },
      mixes: ["Wedge: house.mix.1 < ch 1"],
    });
    expect(told(show, "dangling", "mix-member-refused", "bus-use")).toEqual([
      "error dangling:house:type: House points at nothing",
    ]);
  });

  test("[F19] [F14] a member that doesn't exist is told as that", () => {
    const show = desk("Delay: house.mtx.1 < ch 99");
    expect(told(show, "mix-member-refused")).toEqual([]);
    expect(findingsOf(show, "dangling")).toHaveLength(1);
  });
});
