/** F23 to F25: what a path rests on, what many paths share, and one source on two of them. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { plannedFeeds } from "#engine/findings/feeds.ts";
import type { DeviceType } from "#engine/model/device-type.ts";
import { metres } from "#engine/model/units.ts";
import type { Show } from "#engine/model/show.ts";
import { stepsOf } from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { rig } from "../rigs/build.ts";
import { findingsOf, only, reasons, told } from "./told.ts";
import { demo } from "../demo.ts";

/** A type as its maker's sheet tells it: no number assumed. */
const sheeted = (type: DeviceType): DeviceType =>
  JSON.parse(JSON.stringify(type).replaceAll('"assumed"', '"maker\'s sheet"')) as DeviceType;

describe("assumed paths", () => {
  /**
   *     House link1 ──L1── a Box out 1 ──X1── in Wedge;  House out 1 is wanted, too
   */
  const wedge = (...types: readonly string[]): Show => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "out 1 < mix 2"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
        wedge: { name: "Wedge", type: "wedge" },
      },
      cables: ["L1: house.link1 - box.a, 50 m", "X1: box.out.1 - wedge.in.1, 10 m"],
      wants: ["Wedge: wedge.in.1 < house.mix.1", "Fill: house.out.1"],
    });
    return { ...show, types: show.types.map((type) => (types.includes(type.id) ? sheeted(type) : type)) };
  };

  test("[F23] one finding counts the wants and names whose numbers are assumed", () => {
    expect(told(wedge(), "assumed-path")).toEqual([
      "note assumed-path: 2 of 2 wanted feeds rest on assumed delays",
    ]);
    expect(reasons(wedge(), "assumed-path")[0]).toMatch(
      /^Assumed numbers stand in House and Box \(2 device types\), and in the delay per metre of line cable\./,
    );
    expect(findingsOf(wedge("console-24"), "assumed-path")[0]!.devices).toEqual(["box"]);
    expect(told(wedge("console-24"), "assumed-path")).toEqual([
      "note assumed-path: 1 of 2 wanted feeds rests on assumed delays",
    ]);
  });

  test("[F23] a cable of unknown length adds no number, and sheets settle the rest", () => {
    const show = wedge("console-24", "box-16-8");
    expect(told(show, "assumed-path")).toHaveLength(1);
    const unknown = {
      ...show,
      cables: show.cables.map(({ length: _, ...cable }) => cable),
    };
    expect(told(unknown, "assumed-path")).toEqual([]);
  });

  test("[F23] agrees with the traces: the demo's wants with a part of assumed delay, and the devices of those parts", () => {
    const show = demo();
    // Some types from their sheets, so that both sorts are there.
    const mixed = {
      ...show,
      types: show.types.map((type) =>
        ["console-96", "box-32-16", "ear-transmitter"].includes(type.id) ? sheeted(type) : type,
      ),
    };
    const analysis = analyse(mixed);
    const { wiring } = analysis;
    const resting = plannedFeeds(wiring).filter(
      ({ want, terminal }) =>
        want !== null &&
        stepsOf(traceOf(wiring, terminal)).some(({ parts }) =>
          parts.some(({ provenance }) => provenance === "assumed"),
        ),
    );
    expect(resting.length).toBeGreaterThan(0);
    expect(only(analysis, "assumed-path").wants).toEqual(resting.map(({ want }) => want));
  });
});

describe("common losses", () => {
  /**
   *     House link1 ──L1── a Box b ──L2── link1 Monitors     one jack each; Monitors' channel 1 takes Kick
   */
  const shared = (...wants: readonly string[]): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "out 1 < mix 1"] },
        monitors: {
          name: "Monitors",
          type: "console-24",
          clock: "link1",
          set: ["link1 1 x8 < mix 1", "ch 1 x8 < link1 1"],
        },
        box: { name: "Box", type: "box-16-8", mode: "two" },
      },
      cables: ["L1: house.link1 - box.a, 50 m", "L2: monitors.link1 - box.b, 5 m"],
      sources: ["Kick: box.in.1"],
      channels: ["Kick: monitors.ch.1 < Kick"],
      wants,
    });

  test("[F24] what the feeds of two consoles pass, with the number for each", () => {
    const show = shared("Fill: box.out.1", "Wedge: box.out.5", "Local: house.out.1");
    expect(told(show, "common-loss")).toEqual(["note common-loss: Losing Box darkens 3 feeds of 2 consoles"]);
    expect(reasons(show, "common-loss")).toEqual([
      "Feeds that pass there, by console. Box: 3 feeds (Monitors 2, House 1).",
    ]);
    expect(findingsOf(show, "common-loss")[0]!.devices).toEqual(["box"]);
  });

  test("[F24] one console alone shares nothing, and neither do feeds that are dark", () => {
    expect(told(shared("Wedge: box.out.5"), "common-loss")).toEqual([]);
    const dark = shared("Fill: box.out.1", "Wedge: box.out.5");
    expect(told({ ...dark, cables: dark.cables.slice(1) }, "common-loss")).toEqual([]);
  });

  test("[F24] agrees with pulling: the demo's named losses darken as many feeds as the finding counts", () => {
    const show = demo();
    const before = analyse(show);
    const finding = only(before, "common-loss");
    const named = [...finding.reason.matchAll(/(?:\. |; )([^;:]+): (\d+) feeds/g)];
    expect(named).toHaveLength(5);
    for (const [, name, count] of named) {
      const { id } =
        show.devices.find((device) => device.name === name) ??
        show.cables.find(({ tag }) => `Cable ${tag}` === name)!;
      const without: Show = {
        ...show,
        devices: show.devices.map((device) =>
          device.name === name ? { ...device, powered: false } : device,
        ),
        cables: show.cables.filter((cable) => cable.id !== id),
      };
      const after = analyse(without);
      // What goes dark for want of a clock still has its way; the finding counts ways.
      const gone = plannedFeeds(before.wiring).filter(({ terminal, want }) => {
        const { verdict, hops } = traceOf(before.wiring, terminal);
        if (verdict.kind !== "arrives" || traceOf(after.wiring, terminal).verdict.kind === "arrives")
          return false;
        const passes = hops.some(
          ({ device, steps }) =>
            device === id || steps.some((step) => step.kind === "cable" && step.cable === id),
        );
        // A jack that a source comes to with no console on the way is nobody's.
        return passes && (want === null || verdict.origin.kind === "tap");
      });
      expect(gone, name).toHaveLength(Number(count));
    }
  });
});

describe("one source twice", () => {
  /**
   *     Box ═a══L1═══ link1 House: channel 1        one link: 3 samples
   *         ═b══L2═══ link1 Monitors link2 ══T1═══ link2 House: channel 2        two links: 3 samples and a cable more
   */
  const twice = (settings: readonly string[], length = 0): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24", set: settings },
        monitors: {
          name: "Monitors",
          type: "console-24",
          clock: "link2",
          set: ["link2 1 x8 < link1 1"],
        },
        box: { name: "Box", type: "box-16-8", mode: "two" },
      },
      cables: [
        `L1: house.link1 - box.a${length > 0 ? `, ${length} m` : ""}`,
        "L2: monitors.link1 - box.b",
        "T1: monitors.link2 - house.link2",
      ],
      sources: ["Kick: box.in.1", "Snare: box.in.2"],
    });

  test("[F25] both delays, the difference, and the first null of the sum, 1 / (2t)", () => {
    const show = twice(["ch 1 < link1 1", "ch 2 < link2 1"]);
    expect(told(show, "arrives-twice")).toEqual([
      "warning arrives-twice:house:link1:link2: Kick reaches House twice, 0.063 ms apart",
    ]);
    // One link more: 62.5 µs, 3 samples at 48 kHz (AES50's usual figure); 1 / (2 × 62.5 µs) = 8 kHz.
    expect(reasons(show, "arrives-twice")).toEqual([
      "Kick is at Channel 1 after 0.363 ms by Link 1 in, and at Channel 2 after 0.425 ms by Link 2 in: 0.063 ms or 3 samples at 48 kHz apart. Summed, the first null lies at 8000 Hz. It only matters where both are heard together.",
    ]);
  });

  test("[F25] pairs over the same two ways are one finding", () => {
    const show = twice(["ch 1 x2 < link1 1", "ch 3 x2 < link2 1"]);
    expect(told(show, "arrives-twice")).toEqual([
      "warning arrives-twice:house:link1:link2: 2 sources reach House twice, up to 0.063 ms apart",
    ]);
    expect(reasons(show, "arrives-twice")[0]).toContain("So does 1 more, channels 1–2 and 3–4.");
  });

  test("[F25] once, or twice by one way, is no finding", () => {
    expect(told(twice(["ch 1 < link1 1"]), "arrives-twice")).toEqual([]);
    expect(told(twice(["ch 1 < link1 1", "ch 2 < link1 1"]), "arrives-twice")).toEqual([]);
    expect(told(twice(["ch 1 < link1 1", "ch 2 < link2 2"]), "arrives-twice")).toEqual([]);
  });

  test("[F25] up to 0.01 ms apart counts as equal (common practice), more doesn't", () => {
    // The two ways differ by a link, 62.5 µs. Coax or pair delays 5 ns a metre: the short way is made longer, until
    // 0.01 ms are left (10 500 m) and a bit less (10 499 m); such a cable is for the sum only.
    const slow = (length: number): Show => {
      const show = twice(["ch 1 < link1 1", "ch 2 < link2 1"]);
      return {
        ...show,
        cables: show.cables.map((cable) =>
          cable.tag === "L1" ? { ...cable, kind: "coax-75" as const, length: metres(length) } : cable,
        ),
      };
    };
    expect(told(slow(10500), "arrives-twice")).toEqual([]);
    expect(told(slow(10499), "arrives-twice")).toHaveLength(1);
  });

  test("[F25] two preamps behind one split are one source", () => {
    const split = rig({
      devices: {
        split: { name: "Split", type: "split-16" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
        house: { name: "House", type: "console-24", set: ["ch 1 < link1 1", "ch 2 < in 1"] },
      },
      cables: [
        "L1: house.link1 - box.a",
        "M1: split.direct.1 - box.in.1, 5 m, microphone",
        "M2: split.isolated.1 - house.in.1, 5 m, microphone",
      ],
      sources: ["Kick: split.in.1"],
    });
    expect(told(split, "arrives-twice")).toEqual([
      "warning arrives-twice:house:in:link1: Kick reaches House twice, 0.063 ms apart",
    ]);
  });

  test("[F25] the demo has none", () => {
    expect(findingsOf(demo(), "arrives-twice")).toEqual([]);
  });
});
