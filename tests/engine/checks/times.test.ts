/** F23, F25, F29 and F30: the figures that findings tell of times. The generic types' delays stand beside each figure. */
import { describe, expect, test } from "vitest";
import type { Show } from "#engine/model/show.ts";
import { ms } from "#engine/model/units.ts";
import { rig } from "../rigs/build.ts";
import { SLOW } from "../rigs/types.ts";
import { offered, whole } from "./whole.ts";

describe("outputs that should arrive together", () => {
  test("[F29] figures are rounded to thousandths of a ms and tenths of a sample; a member that isn't there is F14's", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["out 1 < mix 1", "out 2 < mix 1"] },
        ears: { name: "Ears", type: "ear-transmitter" },
      },
      cables: ["X1: house.out.2 - ears.in.1, 250 m"],
      groups: ["Ears: ears.radio.1, house.out.1, house.out.99"],
    });
    // The transmitter takes 0.4 ms, 250 m of line at 5 ns a metre 0.00125: 0.40125 ms. That is 19.26 samples at 48 kHz,
    // 0.1377 m at 343.21 m/s and, as 1 / (2t), 1246.1 Hz (Master Handbook of Acoustics, table 10-3, has the formula).
    expect(whole(show, "arrive-apart")).toEqual([
      "warning arrive-apart:ears: The outputs of “Ears” arrive 0.401 ms apart",
      "First House Local out 1 after 0.25 ms, last Ears Radio A after 0.651 ms: 0.401 ms, 19.3 samples at 48 kHz or 0.138 m of air at 20 °C, where at most 0.01 ms are wanted. Heard together, the first null lies at 1246 Hz.",
      "at Ears Radio 1A, House Local out 1; devices ears, house",
    ]);
  });
});

describe("one source on two channels", () => {
  /**
   *     House link1 ──L1── a Box b ──L2── link1 Monitors link2 ──T1── link2 House
   *                            c ──L3── link1 Truck link2 ──T2── link3 Monitors
   */
  const show = (set: readonly string[], inserts: readonly string[] = []): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24", set, inserts },
        monitors: {
          name: "Monitors",
          type: "console-96",
          clock: "link2",
          set: ["link2 1 x8 < link1 1", "link2 9 x8 < link3 1"],
        },
        truck: { name: "Truck", type: "console-24", clock: "link1", set: ["link2 1 x8 < link1 1"] },
        box: { name: "Box", type: "box-32-16", mode: "three" },
      },
      cables: [
        "L1: house.link1 - box.a, 100 m",
        "L2: monitors.link1 - box.b, 100 m",
        "L3: truck.link1 - box.c, 100 m",
        "T1: monitors.link2 - house.link2, 100 m",
        "T2: truck.link2 - monitors.link3, 100 m",
      ],
      sources: ["Kick: box.in.1", "Snare: box.in.2"],
    });

  test("[F25] of two sources over the same two ports the one that lies further apart is told with its figures", () => {
    // A link is 3 samples, 62.5 µs, and 100 m of Cat 5 take 0.538 µs (ANSI/TIA-568-B.2). Converted after 0.3 ms, the snare
    // is at House after one link, 0.363 ms, and after three, 0.489 ms: 0.1261 ms, 6.05 samples, null at 3966 Hz.
    expect(
      whole(
        show(["ch 1 < link1 1", "ch 9 < link2 1", "ch 2 < link1 2", "ch 10 < link2 10"]),
        "arrives-twice",
      ),
    ).toEqual([
      "warning arrives-twice:house:link1:link2: 2 sources reach House twice, up to 0.126 ms apart",
      "Snare is at Channel 2 after 0.363 ms by Link 1 in, and at Channel 10 after 0.489 ms by Link 2 in: 0.126 ms or 6.1 samples at 48 kHz apart. Summed, the first null lies at 3966 Hz. So does 1 more, channels 1–2 and 9–10. It only matters where both are heard together.",
      "at House Channel 1, House Channel 9, House Channel 2, House Channel 10; devices house",
    ]);
  });

  test("[F25] of more than two channels the first of the earliest and the first of the latest are told", () => {
    const set = ["ch 1 < link2 1", "ch 2 < link1 1", "ch 3 < link1 1", "ch 4 < link2 9", "ch 5 < link2 9"];
    const [title, , at] = whole(show(set), "arrives-twice");
    expect([title, at]).toEqual([
      "warning arrives-twice:house:link1:link2: Kick reaches House twice, 0.126 ms apart",
      "at House Channel 2, House Channel 4; devices house",
    ]);
  });

  test("[F25] a mix whose insert brings the source back later is no channel, nor is the return", () => {
    const set = ["ch 1 < link1 1", "mix-return 1 < link2 1", "ch-return 2 < link2 1"];
    expect(whole(show(set, ["mix-return 1"]), "arrives-twice")).toEqual([]);
  });
});

describe("limits", () => {
  test("[F30] what no console owns; the one that is furthest over its own limit is told, the first of two alike", () => {
    const show = rig({
      types: [SLOW],
      devices: { slow: { name: "Slow", type: "slow", set: ["out 1 x3 < in 1"] } },
      sources: ["Kick: slow.in.1", "Snare: slow.in.2", "Hat: slow.in.3"],
      wants: [
        "Three: slow.out.1",
        "One: slow.out.2",
        "Two: slow.out.3",
        "Dark: slow.out.8",
        "Lost: slow.out.9",
      ],
    });
    const limits: Readonly<Record<string, number>> = { One: 0.5, Two: 0.5 };
    const wants = show.wants.map((want) => ({ ...want, limit: ms(limits[want.name] ?? 1) }));
    // 48 samples in and 24 through at 48 kHz, and 0.5 ms out: 2 ms.
    expect(whole({ ...show, wants }, "over-latency")).toEqual([
      "warning over-latency:sources: 3 feeds straight from sources take longer than their limit, up to 2 ms",
      "Snare reaches One at Slow Out 2 after 2 ms; at most 0.5 ms are wanted. So do Three and Two.",
      "at Slow Out 1–3; devices slow; wants three, one, two",
    ]);
    expect(whole({ ...show, wants: wants.slice(1, 3) }, "over-latency")[1]).toBe(
      "Snare reaches One at Slow Out 2 after 2 ms; at most 0.5 ms are wanted. So does Two.",
    );
    expect(whole({ ...show, wants: wants.slice(2) }, "over-latency")).toEqual([
      "warning over-latency:sources: Two takes 2 ms; 0.5 ms are its limit",
      "Hat reaches Two at Slow Out 3 after 2 ms; at most 0.5 ms are wanted.",
      "at Slow Out 3; devices slow; wants two",
    ]);
  });

  test("[F30] from the tap itself where nothing arrives in the mix; the time to a thousandth of a ms", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a"],
      wants: ["Fill: box.out.1"],
    });
    const limited = { ...show, settings: { ...show.settings, latencyLimit: ms(0.3) } };
    // A link of three samples, 0.0625 ms, and 0.25 out.
    expect(whole(limited, "over-latency")).toEqual([
      "warning over-latency:house: Fill takes 0.313 ms; 0.3 ms are its limit",
      "House Mix 1 reaches Fill at Box Out 1 after 0.313 ms; at most 0.3 ms are wanted.",
      "at Box Out 1; devices house; wants fill",
    ]);
  });

  test("[F30] [F27] the way out lets each of the late feeds have its time, to the next thousandth", () => {
    const show = rig({
      types: [SLOW],
      devices: { slow: { name: "Slow", type: "slow", set: ["out 1 x4 < in 1"] } },
      sources: ["Kick: slow.in.1", "Snare: slow.in.2", "Hat: slow.in.3", "Tom: slow.in.4"],
      wants: ["One: slow.out.1", "Two: slow.out.2", "Three: slow.out.3", "Four: slow.out.4"],
    });
    const limited = (limit: number, count: number): Show => ({
      ...show,
      settings: { ...show.settings, latencyLimit: ms(limit) },
      wants: show.wants.slice(0, count),
    });
    // 48 samples in and 24 through at 48 kHz, and 0.5 ms out: 2 ms.
    expect(offered(limited(1, 1), "over-latency")).toEqual(["Allow One 2 ms", "  wants one limit: 2"]);
    expect(offered(limited(1, 2), "over-latency")).toEqual([
      "Allow One and Two the time that they take",
      "  wants one limit: 2",
      "  wants two limit: 2",
    ]);
    expect(offered(limited(1, 4), "over-latency")[0]).toBe(
      "Allow One, Two, Three and 1 more the time that they take",
    );
    // At 44.1 kHz the 72 samples take 1.63265… ms.
    const odd = limited(1, 1);
    expect(offered({ ...odd, settings: { ...odd.settings, sampleRate: 44100 } }, "over-latency")).toEqual([
      "Allow One 2.133 ms",
      "  wants one limit: 2.133",
    ]);
  });

  test("[F29] [F30] [F27] a time that no show's file can hold is no way out", () => {
    const never = {
      ...SLOW,
      banks: SLOW.banks.map((each) => ({
        ...each,
        convert: { value: 6000, unit: "ms", provenance: "assumed" } as const,
      })),
    };
    const show = rig({
      types: [never],
      devices: {
        slow: { name: "Slow", type: "slow", set: ["out 1 < in 1"] },
        house: { name: "House", type: "console-24", set: ["out 1 < mix 1"] },
      },
      sources: ["Kick: slow.in.1"],
      wants: ["One: slow.out.1"],
      groups: ["Fills: house.out.1, slow.out.1"],
    });
    const limited = { ...show, settings: { ...show.settings, latencyLimit: ms(1) } };
    // 6 s in, 6 s out.
    expect(whole(limited, "over-latency")[0]).toContain("One takes 12000.5 ms");
    expect(offered(limited, "over-latency")).toEqual([]);
    expect(offered(limited, "arrive-apart")).toEqual([]);
  });
});
