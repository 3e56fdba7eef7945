/** Rules D4, D5 and D8: delays against each other. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { delaysReport } from "#engine/exchange/delay-report.ts";
import { compareDelays, spreadOf, timeAxis } from "#engine/trace/delays.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { findTerminal } from "#engine/trace/terminal.ts";
import { id, type DeviceId, type GroupId } from "#engine/model/ids.ts";
import { ms } from "#engine/model/units.ts";
import { compile } from "#engine/wiring/compile.ts";
import { rig } from "./rigs/build.ts";

describe("two delays compared", () => {
  test("[D4] two against five links of 62.5 µs: 187.5 µs, 9 samples at 48 kHz, first null 2666.7 Hz (arithmetic on the figure usually quoted for AES50)", () => {
    const difference = compareDelays(ms(2 * 0.0625), ms(5 * 0.0625), 48000, 20);
    expect(difference.later).toBeCloseTo(0.1875, 12);
    expect(difference.samples).toBeCloseTo(9, 9);
    expect(difference.firstNull).toBeCloseTo(2666.7, 1);
    expect(difference.together).toBe(false);
  });

  test.each([
    [1, 500],
    [0.5, 1000],
    [5, 100],
  ])("[D4] %d ms apart: first null at %d Hz (Master Handbook of Acoustics, table 10-3)", (apart, hertz) => {
    expect(compareDelays(ms(0), ms(apart), 48000, 20).firstNull).toBeCloseTo(hertz, 9);
  });

  test("[D4] 1 ms is 0.343 m of air at 20 °C (textbook speed of sound), whichever comes first", () => {
    expect(compareDelays(ms(2), ms(3), 48000, 20).distance).toBeCloseTo(0.343, 3);
    const earlier = compareDelays(ms(3), ms(2), 48000, 20);
    expect(earlier.distance).toBeCloseTo(0.343, 3);
    expect(earlier.later).toBe(-1);
    expect(earlier.samples).toBe(-48);
  });

  test("[D4] less than 0.01 ms apart counts as together (common practice: a local and a linked output of one console)", () => {
    expect(compareDelays(ms(1), ms(1.0099), 48000, 20)).toMatchObject({
      together: true,
      firstNull: Number.POSITIVE_INFINITY,
    });
    expect(compareDelays(ms(1), ms(1.0101), 48000, 20).together).toBe(false);
  });
});

describe("a group's spread", () => {
  const wiring = compile(
    rig({
      devices: {
        foh: { name: "House", type: "console-24", set: ["out 1 < mix 1", "link1 1 x8 < mix 1"] },
        one: { name: "Near box", type: "box-16-8", mode: "chain" },
        two: { name: "Far box", type: "box-16-8", mode: "chain", position: 2 },
      },
      cables: ["L1: foh.link1 - one.a", "L2: one.b - two.a"],
    }),
  );
  const jack = (device: string, group: string, number: number): number =>
    findTerminal(wiring, { device: id<DeviceId>(device), group: id<GroupId>(group), number })!;

  test("[D5] from the first arrival to the last: a local jack, and the same mix one link of 3 samples further on", () => {
    const local = jack("foh", "out", 1);
    const boxed = jack("one", "out", 1);
    const { arrivals: order, spread } = spreadOf(wiring, arrivals(wiring), [boxed, local]);
    expect(order.map(({ terminal }) => terminal)).toEqual([local, boxed]);
    // Three samples at 48 kHz for a link: the figure usually quoted for AES50, 62.5 µs.
    expect(spread).toBeCloseTo(0.0625, 9);
    expect(order[1]!.after).toBeCloseTo(0.0625, 9);
  });

  test("[D5] in the order of arrival, wherever the jacks stand in the show", () => {
    const turned = { ...wiring.show, devices: [...wiring.show.devices].reverse() };
    const again = compile(turned);
    const at = (device: string): number =>
      findTerminal(again, { device: id<DeviceId>(device), group: id<GroupId>("out"), number: 1 })!;
    const order = spreadOf(again, arrivals(again), [at("one"), at("foh")]).arrivals;
    expect(order.map(({ terminal }) => terminal)).toEqual([at("foh"), at("one")]);
    expect(at("one")).toBeLessThan(at("foh"));
  });

  test("[D5] what doesn't arrive is left out, and a group of which nothing arrives has no spread", () => {
    const dark = jack("two", "out", 1);
    const found = arrivals(wiring);
    expect(spreadOf(wiring, found, [dark, jack("foh", "out", 1)]).arrivals).toHaveLength(1);
    expect(spreadOf(wiring, found, [dark])).toEqual({ arrivals: [], spread: 0 });
  });
});

describe("an axis of time", () => {
  test.each([
    ["from nought where the spread is seen there", 1, 2, [0, 0.5, 1, 1.5, 2, 2.5]],
    ["cut out around a spread that would not be", 0.3126, 0.3758, [0.25, 0.3, 0.35, 0.4, 0.45]],
    ["of arrivals together, from nought", 0.863, 0.863, [0, 0.2, 0.4, 0.6, 0.8, 1]],
    ["of arrivals at nought", 0, 0, [0, 0.005, 0.01, 0.015, 0.02]],
    // A fifth of the axis is seen; a little less isn't.
    ["of a spread that just fills a fifth", 4, 5, [0, 2, 4, 6]],
    ["half the spread on either side, to round times", 10.4, 11.4, [9.5, 10, 10.5, 11, 11.5, 12]],
    ["a twentieth past the last where it starts at nought", 0, 4, [0, 1, 2, 3, 4, 5]],
    ["a step of just a power of ten", 20, 22.5, [18, 19, 20, 21, 22, 23, 24]],
  ])("[D5] %s", (_, first, last, ticks) => {
    const axis = timeAxis(ms(first), ms(last));
    expect(axis.ticks[0]).toBe(axis.from);
    expect(axis.ticks.at(-1)).toBe(axis.to);
    expect(axis.from).toBeLessThanOrEqual(first);
    expect(axis.to).toBeGreaterThanOrEqual(last);
    expect(axis.ticks.map((tick) => tick.toFixed(axis.digits))).toEqual(
      ticks.map((tick) => tick.toFixed(axis.digits)),
    );
  });

  test("[D5] as many decimals as tell its steps apart, and no more", () => {
    const digits = (first: number, last: number): number => timeAxis(ms(first), ms(last)).digits;
    // Steps of 2, of 1, of 0.5, of 0.1 and of 0.05 ms.
    expect([
      digits(4, 5),
      digits(20, 22.5),
      digits(10.4, 11.4),
      digits(2, 2.25),
      digits(0.3126, 0.3758),
    ]).toEqual([0, 0, 1, 1, 2]);
  });

  test("[D5] any spread fills about a tenth of it or more, and no tick is told like another", () => {
    for (let first = 0.01; first < 40; first *= 1.7) {
      for (let spread = 0.011; spread < 40; spread *= 1.9) {
        const axis = timeAxis(ms(first), ms(first + spread));
        expect(spread / (axis.to - axis.from), `${first} and ${spread}`).toBeGreaterThan(0.09);
        const told = axis.ticks.map((tick) => tick.toFixed(axis.digits));
        expect(new Set(told).size).toBe(told.length);
      }
    }
  });
});

describe("delays told together", () => {
  const show = rig({
    devices: {
      foh: {
        name: "House",
        type: "console-24",
        set: ["out 1 < mix 1", "out 2 < mix 2", "link1 1 x8 < mix 1"],
      },
      one: { name: "Near box", type: "box-16-8", mode: "chain" },
    },
    cables: ["L1: foh.link1 - one.a"],
  });
  const analysis = analyse(show);
  const jack = (device: string, number: number): number =>
    findTerminal(analysis.wiring, { device: id<DeviceId>(device), group: id<GroupId>("out"), number })!;

  test("[D8] a link of 62.5 µs (the figure usually quoted for AES50): 3 samples, 21 mm of air, first null at 8 kHz", () => {
    const { jacks, difference, oneOrigin } = delaysReport(analysis, [jack("one", 1), jack("foh", 1)], 20);
    expect(jacks.map(({ label, afterMs, afterSamples }) => [label, afterMs, afterSamples])).toEqual([
      ["House Local out 1", 0, 0],
      ["Near box Out 1", 0.0625, 3],
    ]);
    // The second as named is the earlier one.
    expect(difference).toEqual({
      first: "Near box Out 1",
      second: "House Local out 1",
      laterMs: -0.0625,
      samples: -3,
      metres: 0.0215,
      firstNullHz: 8000,
      together: false,
    });
    expect(oneOrigin).toBe(true);
  });

  test("[D8] jacks of two taps are told as such, and those that arrive together have no null", () => {
    const report = delaysReport(analysis, [jack("foh", 1), jack("foh", 2)], 20);
    expect(report.oneOrigin).toBe(false);
    expect(report.difference).toMatchObject({ together: true, firstNullHz: null });
  });

  test("[D8] what doesn't arrive stands last with its verdict, and no difference is told", () => {
    const report = delaysReport(analysis, [jack("foh", 7), jack("foh", 1)], 20);
    expect(report.jacks.map(({ label, verdict, delayMs }) => [label, verdict, delayMs === null])).toEqual([
      ["House Local out 1", "arrives", false],
      ["House Local out 7", "nothing-assigned", true],
    ]);
    expect(report.difference).toBeNull();
  });
});
