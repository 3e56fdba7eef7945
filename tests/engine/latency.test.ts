/** D6, F29 and F30: the longest way from a source, and outputs that should arrive together. */
import { describe, expect, test } from "vitest";
import { bank, group, wired } from "#engine/catalog/parts.ts";
import { analyse } from "#engine/analysis.ts";
import { ms } from "#engine/model/units.ts";
import type { Show } from "#engine/model/show.ts";
import { latencies } from "#engine/trace/latency.ts";
import { rig } from "./rigs/build.ts";
import { type } from "./rigs/types.ts";
import { Bench } from "./tell.ts";
import { findingsOf, reasons, told } from "./checks/told.ts";
import { id } from "#engine/model/ids.ts";

/**
 *     Kick ─ in 1 Box a ──L1── link1 House ch 1 → mix 1 → link2 1 ──T── link1 Monitors ch 1 → mix 1 → mtx 1 → out 1
 *     Talk ─────────────────────────────────────── in 1 Monitors ch 2 ─┘
 *
 * No cable has a length, so a link takes 3 samples at 48 kHz: 62.5 µs, the usual figure for AES50. Conversion 0.3 ms in
 * and 0.25 ms out, 0.6 ms in each mixer: the generic types' own.
 */
const tour = (...more: readonly string[]): Show =>
  rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["ch 1 < link1 1", "link2 1 x8 < mix 1"] },
      monitors: {
        name: "Monitors",
        type: "console-24",
        clock: "link1",
        set: [
          "ch 1 < link1 1",
          "ch 2 < in 1",
          "out 1 < mtx 1",
          "out 2 < mix 2",
          "link1 1 x8 < mix 1",
          ...more,
        ],
      },
      box: { name: "Box", type: "box-16-8", mode: "one" },
    },
    cables: ["L1: house.link1 - box.a", "T: monitors.link1 - house.link2"],
    sources: ["Kick: box.in.1", "Talk: monitors.in.1"],
    mixes: [
      "Send: house.mix.1 < ch 1",
      "Ears: monitors.mix.1 < ch 2, ch 1",
      "Sum: monitors.mtx.1 < mix 1",
      "Empty: monitors.mix.2 < ch 9",
    ],
    wants: ["Ears: monitors.out.1", "Spare: monitors.out.2"],
  });

/** A mixer that neither converts nor processes, whose mixes may take each other and stand last. */
const NO_TIME = type("no-time", {
  banks: [bank("in", "In", "in", 4, "XLR", "line")],
  mixer: {
    sections: [
      { id: group("ch"), name: "Channel", role: "channel", count: 4, from: [], block: 1 },
      { id: group("mix"), name: "Mix", role: "mix", count: 5, from: [group("ch"), group("mix")], block: 1 },
    ],
    processing: { value: 0, unit: "ms", provenance: "assumed" },
  },
  rules: [wired("ch", 1, "in", 1, 4)],
});

const LONG = 0.3 + 0.0625 + 0.6 + 0.0625 + 0.6 + 0.25;

function longest(show: Show, name: string): readonly (string | number)[] | null {
  const bench = new Bench({ show });
  const { wiring, arrivals } = analyse(show);
  const found = latencies(wiring, arrivals)(bench.at(name));
  if (!found) return null;
  const names = (terminal: number): string => bench.name(terminal);
  return [Math.round(found.time * 1e9) / 1e9, names(found.origin), ...found.taps.map(names)];
}

describe("the longest time", () => {
  test("[D6] through two consoles and a matrix, processing once for each mixer", () => {
    expect(longest(tour(), "Monitors Local out 1")).toEqual([
      LONG,
      "Box In 1",
      "House Mix 1",
      "Monitors Mix 1",
      "Monitors Matrix 1",
    ]);
    expect(longest(tour(), "Monitors Channel 2")).toEqual([0.3, "Monitors Local in 1"]);
  });

  test("[D6] from the tap where nothing arrives in a mix, and none where nothing arrives at all", () => {
    expect(longest(tour(), "Monitors Local out 2")).toEqual([0.25, "Monitors Mix 2"]);
    expect(longest(tour(), "Monitors Local out 3")).toBeNull();
  });

  test("[D6] through a passive join by its slower leg, which is the first jack of the first device", () => {
    const show = rig({
      devices: {
        join: { name: "Join box", type: "join-8" },
        house: { name: "House", type: "console-24", set: ["ch 1 < in 1", "out 1 < mix 1"] },
      },
      cables: ["A: house.out.1 - join.a.1"],
      sources: ["Vocal: house.in.1", "Player: join.b.1"],
      mixes: ["Band: house.mix.1 < ch 1"],
    });
    // 0.3 ms in, 0.6 ms in the mixer, 0.25 ms out; the join itself takes no time.
    expect(longest(show, "Join box Out 1")).toEqual([
      0.3 + 0.6 + 0.25,
      "House Local in 1",
      "House Mix 1",
      "Join box Join 1",
    ]);
  });

  test("[D6] of two mixes that feed each other each counts what enters at the other once", () => {
    const show = tour();
    const round: Show = {
      ...show,
      devices: show.devices.map((device) =>
        device.id === "house"
          ? {
              ...device,
              routing: [
                ...device.routing,
                { to: { group: id("ch"), first: 2 }, from: { group: id("link2"), first: 1 }, count: 1 },
              ],
            }
          : device,
      ),
      mixes: show.mixes.map((mix) =>
        mix.name === "Send"
          ? { ...mix, members: [...mix.members, { group: id("ch"), number: 2, tap: "post" as const }] }
          : mix,
      ),
    };
    // House's mix takes monitors' as well, which takes house's: Talk comes to house in 0.3 + 0.6 + 0.0625 + 0.6.
    const found = longest(round, "House Mix 1");
    expect(found).toEqual([0.3 + 0.6 + 0.0625 + 0.6, "Monitors Local in 1", "Monitors Mix 1", "House Mix 1"]);
    // And Kick, which enters at house's, to monitors' as before: whichever of the two stands first in the wiring.
    const there = [LONG, "Box In 1", "House Mix 1", "Monitors Mix 1", "Monitors Matrix 1"];
    expect(longest(round, "Monitors Local out 1")).toEqual(there);
    const turned = { ...round, devices: [...round.devices].reverse() };
    expect(longest(turned, "House Mix 1")).toEqual(found);
    expect(longest(turned, "Monitors Local out 1")).toEqual(there);
  });

  /**
   * Three mixes of one console round in a circle: 1 into 2 by output 1 and a cable, 2 into 3 likewise, 3 into 1, and 1 into
   * 3 as well. Each way takes 0.25 ms out, 0.3 ms in and 0.6 ms in the mixer; the cables' 5 ns a metre don't show.
   */
  const circle = (sources: readonly string[]): Show =>
    rig({
      devices: {
        desk: {
          name: "Desk",
          type: "console-24",
          set: ["out 1 x3 < mix 1", "ch 1 x3 < in 1", "ch 9 < in 5", "out 8 < mix 3"],
        },
      },
      cables: ["A: desk.out.1 - desk.in.1", "B: desk.out.2 - desk.in.2", "C: desk.out.3 - desk.in.3"],
      sources,
      mixes: ["One: desk.mix.1 < ch 9, ch 3", "Two: desk.mix.2 < ch 1", "Three: desk.mix.3 < ch 2, ch 1"],
    });
  const ROUND = 0.25 + 0.3 + 0.6;

  test("[D6] round a circle it counts the way through the fewest mixes, however long another is", () => {
    const show = circle(["Voice: desk.in.5"]);
    expect(longest(show, "Desk Mix 1")).toEqual([0.9, "Desk Local in 5", "Desk Mix 1"]);
    expect(longest(show, "Desk Mix 2")).toEqual([0.9 + ROUND, "Desk Local in 5", "Desk Mix 1", "Desk Mix 2"]);
    expect(longest(show, "Desk Local out 8")).toEqual([
      0.9 + ROUND + 0.25,
      "Desk Local in 5",
      "Desk Mix 1",
      "Desk Mix 3",
    ]);
  });

  test.each([
    [2, 3],
    [3, 2],
  ])("[D6] of two ways round with as many mixes the longer counts: over mix %i, past mix %i", (far, near) => {
    const show = rig({
      devices: {
        desk: {
          name: "Desk",
          type: "console-24",
          set: ["out 1 x4 < mix 1", "ch 1 x4 < in 1", "ch 9 < in 5"],
        },
      },
      cables: [
        "A: desk.out.1 - desk.in.1",
        `B: desk.out.${far} - desk.in.${far}, 100 m`,
        `C: desk.out.${near} - desk.in.${near}`,
        "D: desk.out.4 - desk.in.4",
      ],
      sources: ["Voice: desk.in.5"],
      mixes: [
        "One: desk.mix.1 < ch 9, ch 4",
        "Two: desk.mix.2 < ch 1",
        "Three: desk.mix.3 < ch 1",
        "Four: desk.mix.4 < ch 2, ch 3",
      ],
    });
    // 5 ns a metre.
    expect(longest(show, "Desk Mix 4")).toEqual([
      Math.round((0.9 + 2 * ROUND + 0.0005) * 1e9) / 1e9,
      "Desk Local in 5",
      "Desk Mix 1",
      `Desk Mix ${far}`,
      "Desk Mix 4",
    ]);
  });

  test("[D6] of members that come after the same time the first counts", () => {
    const show = rig({
      devices: { desk: { name: "Desk", type: "console-24", set: ["ch 1 x2 < in 1"] } },
      cables: [],
      sources: ["Left: desk.in.1", "Right: desk.in.2"],
      mixes: ["Both: desk.mix.1 < ch 1, ch 2"],
    });
    expect(longest(show, "Desk Mix 1")).toEqual([0.9, "Desk Local in 1", "Desk Mix 1"]);
  });

  test("[D6] where nothing enters a circle each of its mixes counts from itself", () => {
    const show = circle([]);
    for (const n of [1, 2, 3]) expect(longest(show, `Desk Mix ${n}`)).toEqual([0, `Desk Mix ${n}`]);
  });

  test("[D6] a mix counts its own members, not those of the next", () => {
    const show = rig({
      devices: {
        desk: { name: "Desk", type: "console-24", set: ["ch 1 < in 1", "ch 2 < link1 1"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: desk.link1 - box.a"],
      sources: ["Near: desk.in.1", "Far: box.in.1"],
      mixes: ["One: desk.mix.1 < ch 1", "Two: desk.mix.2 < ch 2"],
    });
    expect(longest(show, "Desk Mix 1")).toEqual([0.9, "Desk Local in 1", "Desk Mix 1"]);
    expect(longest(show, "Desk Mix 2")).toEqual([0.9625, "Box In 1", "Desk Mix 2"]);
  });

  test("[D6] what takes no time at all counts too: the first of equals, its own member before one by another mix", () => {
    const quick = (...mixes: readonly string[]): Show =>
      rig({
        types: [NO_TIME],
        devices: { desk: { name: "Desk", type: "no-time" } },
        sources: [1, 2, 3].map((n) => `Source ${n}: desk.in.${n}`),
        mixes,
      });
    // The last mix is the last terminal of the rig.
    const last = quick("A: desk.mix.1 < ch 1", "Z: desk.mix.5 < ch 2");
    expect(longest(last, "Desk Mix 1")).toEqual([0, "Desk In 1", "Desk Mix 1"]);
    expect(longest(last, "Desk Mix 5")).toEqual([0, "Desk In 2", "Desk Mix 5"]);
    const each = quick("A: desk.mix.1 < ch 1, mix 2", "B: desk.mix.2 < ch 2, mix 1");
    expect(longest(each, "Desk Mix 1")).toEqual([0, "Desk In 1", "Desk Mix 1"]);
    expect(longest(each, "Desk Mix 2")).toEqual([0, "Desk In 2", "Desk Mix 2"]);
    const one = quick("A: desk.mix.1 < mix 2", "B: desk.mix.2 < mix 1, ch 3");
    expect(longest(one, "Desk Mix 1")).toEqual([0, "Desk In 3", "Desk Mix 2", "Desk Mix 1"]);
    const two = quick(
      "A: desk.mix.1 < ch 1, mix 4",
      "B: desk.mix.2 < mix 1",
      "C: desk.mix.3 < mix 1",
      "D: desk.mix.4 < mix 2, mix 3",
    );
    expect(longest(two, "Desk Mix 4")).toEqual([0, "Desk In 1", "Desk Mix 1", "Desk Mix 2", "Desk Mix 4"]);
  });
});

describe("a limit", () => {
  const limited = (limit: number): Show => {
    const show = tour();
    return { ...show, settings: { ...show.settings, latencyLimit: ms(limit) } };
  };

  test("[F30] the show's, told with the source, the mixes and the time; exactly the limit is within it", () => {
    expect(told(tour(), "over-latency")).toEqual([]);
    expect(told(limited(LONG), "over-latency")).toEqual([]);
    expect(told(limited(1.5), "over-latency")).toEqual([
      "warning over-latency:monitors: Ears takes 1.875 ms; 1.5 ms are its limit",
    ]);
    expect(reasons(limited(1.5), "over-latency")).toEqual([
      "Kick reaches Ears at Monitors Local out 1 after 1.875 ms by House Mix 1 (Send), Monitors Mix 1 (Ears) and Monitors Matrix 1 (Sum); at most 1.5 ms are wanted.",
    ]);
  });

  test("[F30] a want's own limit comes before the show's", () => {
    const show = limited(1.5);
    const own = (limit: number): Show => ({
      ...show,
      wants: show.wants.map((want) => (want.name === "Ears" ? { ...want, limit: ms(limit) } : want)),
    });
    expect(told(own(2), "over-latency")).toEqual([]);
    expect(told(own(0.1), "over-latency")).toEqual([
      "warning over-latency:monitors: Ears takes 1.875 ms; 0.1 ms are its limit",
    ]);
  });

  test("[F30] the late feeds of one console are one finding", () => {
    expect(told(limited(0.1), "over-latency")).toEqual([
      "warning over-latency:monitors: 2 feeds of Monitors take longer than their limit, up to 1.875 ms",
    ]);
    expect(findingsOf(limited(0.1), "over-latency")[0]!.wants).toEqual(["ears", "spare"]);
  });
});

describe("outputs that should arrive together", () => {
  /**
   *     House mix 1 ── out 1
   *              └── link1 1 ──L1── a Near ── out 1
   *                                 b ──L2── a Far ── out 1
   */
  const array = (groups: readonly string[]): Show =>
    rig({
      devices: {
        house: {
          name: "House",
          type: "console-24",
          set: ["out 1 x2 < mix 1", "link1 1 x8 < mix 1", "link1 9 x8 < mix 1"],
        },
        near: { name: "Near", type: "box-16-8", mode: "chain" },
        far: { name: "Far", type: "box-16-8", mode: "chain", position: 2 },
      },
      cables: ["L1: house.link1 - near.a", "L2: near.b - far.a"],
      groups,
    });

  test("[F29] a local output and one two links of 62.5 µs on: 6 samples, first null 4 kHz (1 / (2t), Master Handbook of Acoustics, table 10-3)", () => {
    const show = array(["Fills: house.out.1, far.out.1, house.out.8"]);
    expect(told(show, "arrive-apart")).toEqual([
      "warning arrive-apart:fills: The outputs of “Fills” arrive 0.125 ms apart",
    ]);
    // 0.125 ms of air at 20 °C: 343.21 m/s.
    expect(reasons(show, "arrive-apart")).toEqual([
      "First House Local out 1 after 0.25 ms, last Far Out 1 after 0.375 ms: 0.125 ms, 6 samples at 48 kHz or 0.043 m of air at 20 °C, where at most 0.01 ms are wanted. Heard together, the first null lies at 4000 Hz. Not arriving: House Local out 8.",
    ]);
  });

  test("[F29] the air's temperature and the show's units", () => {
    const show = array(["Fills: house.out.1, near.out.1"]);
    const cold: Show = { ...show, settings: { ...show.settings, temperature: 0, units: "imperial" } };
    // 62.5 µs at 331.3 m/s are 20.7 mm or 0.068 ft.
    expect(reasons(cold, "arrive-apart")[0]).toContain("3 samples at 48 kHz or 0.07 ft of air at 32 °F");
  });

  test("[F29] outputs of one console on one kind of way are equal within 0.01 ms (common practice); a group may allow more", () => {
    expect(told(array(["Mains: house.out.1, house.out.2"]), "arrive-apart")).toEqual([]);
    expect(told(array(["Fills: house.out.1, near.out.1 within 0.0625 ms"]), "arrive-apart")).toEqual([]);
    expect(told(array(["Fills: house.out.1, near.out.1 within 0.062 ms"]), "arrive-apart")).toHaveLength(1);
  });

  test("[F29] one arrival, or none, can't be apart", () => {
    expect(told(array(["Dark: house.out.1, house.out.8", "None: house.out.8"]), "arrive-apart")).toEqual([]);
  });
});
