/**
 * Values from outside the project that the engine must reproduce. Each row names its source, and how sure that is:
 * S the standard's own text or abstract, B a textbook or handbook, A arithmetic from the others, M from memory,
 * CP common practice, which has no source.
 */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { cableDelay, categoryDelay } from "#engine/catalog/cables.ts";
import { group } from "#engine/catalog/parts.ts";
import { CATALOGUE, catalogueType } from "#engine/catalog/types.ts";
import type { CableKind } from "#engine/model/device-type.ts";
import { PACKET_TIMES, type Show } from "#engine/model/show.ts";
import {
  firstNull,
  lengthName,
  metres,
  metresToFeet,
  ms,
  msToSamples,
  samplesToMs,
  speedOfSound,
  travel,
  type SampleRate,
} from "#engine/model/units.ts";
import { compareDelays } from "#engine/trace/delays.ts";
import { stepsOf } from "#engine/trace/trace.ts";
import { rig } from "../engine/rigs/build.ts";
import { type } from "../engine/rigs/types.ts";
import { Bench } from "../engine/tell.ts";

/** A value, what the engine makes of it, what it must be, and how near. */
type Row = readonly [
  what: string,
  source: string,
  status: "S" | "B" | "A" | "M" | "CP" | "A; S" | "S; B" | "B; A",
  got: () => number,
  expected: number,
  within: number,
];

const check = (name: string, rows: readonly Row[]): void => {
  describe(name, () => {
    test.each(
      rows.map(([what, source, status, got, expected, within]) => ({
        what,
        source,
        status,
        got,
        expected,
        within,
      })),
    )("$what: $expected ($source; $status)", ({ got, expected, within }) => {
      const value = got();
      expect(Math.abs(value - expected), `got ${value}`).toBeLessThanOrEqual(within);
    });
  });
};

/** Two devices joined at one rate, the second following the first's clock. */
function joined(
  types: readonly [string, string],
  ports: readonly [string, string],
  more: { readonly rate?: SampleRate; readonly cable?: string } = {},
): Show {
  return rig({
    rate: more.rate ?? 48000,
    devices: {
      // The leader's own clock, so that nothing but the slots decides.
      a: { name: "A", type: types[0], clock: "internal" },
      b: { name: "B", type: types[1], clock: ports[1] },
    },
    cables: [`L1: a.${ports[0]} - b.${ports[1]}${more.cable ?? ""}`],
  });
}

/** Slots that come over a link from one device to the next: those that the receiving end doesn't tell as beyond. */
function slots(types: readonly [string, string], ports: readonly [string, string], rate: SampleRate): number {
  const bench = new Bench({ show: joined(types, ports, { rate }) });
  const port = catalogueType(types[1]).ports.find(({ id }) => id === ports[1])!;
  const row = Math.max(port.receive.single, port.receive.double, port.receive.quad);
  let count = 0;
  for (let n = 1; n <= row; n++) {
    if (bench.trace(`B ${port.name} in ${n}`).verdict.kind !== "beyond-slots") count++;
  }
  return count;
}

const slotLink = (rate: SampleRate) => (): number =>
  slots(["console-24", "console-24"], ["link1", "link1"], rate);
const aes10 = (rate: SampleRate) => (): number =>
  slots(["aes10-interface", "recorder-64"], ["coax-out", "coax-in"], rate);

check("slots of a link, each way", [
  ["48-slot link at 44.1 kHz", "AES50-2011, AES-R6", "S", slotLink(44100), 48, 0],
  ["48-slot link at 48 kHz", "AES50-2011, AES-R6", "S", slotLink(48000), 48, 0],
  ["48-slot link at 88.2 kHz", "AES50", "B", slotLink(88200), 24, 0],
  ["48-slot link at 96 kHz", "AES50", "B", slotLink(96000), 24, 0],
  ["48-slot link at 176.4 kHz", "AES50, from memory", "M", slotLink(176400), 12, 0],
  ["48-slot link at 192 kHz", "AES50, from memory", "M", slotLink(192000), 12, 0],
  ["AES10 at 44.1 kHz", "AES10-2008, abstract", "S", aes10(44100), 64, 0],
  ["AES10 at 48 kHz", "AES10-2008, abstract", "S", aes10(48000), 64, 0],
  ["AES10 at 96 kHz", "AES10-2008, abstract", "S; B", aes10(96000), 32, 0],
  [
    "monitor bus",
    "common practice",
    "CP",
    () => slots(["box-16-8", "breakout-16"], ["pm", "pm"], 48000),
    16,
    0,
  ],
  [
    "stage link",
    "common practice",
    "CP",
    () => slots(["console-48", "breakout-16"], ["stage", "stage"], 48000),
    32,
    0,
  ],
]);

/** What comes from an AES10 sender of 56 channels, 28 at double rates, to a receiver of 64. */
function narrowAes10(rate: SampleRate): number {
  const receiver = catalogueType("recorder-64");
  const coax = receiver.ports.find(({ id }) => id === "coax-in")!;
  const narrow = type("narrow", {
    ports: [{ ...coax, id: group("coax-out"), name: "Coax out", send: NARROW, receive: NONE }],
  });
  const show = rig({
    rate,
    types: [narrow],
    devices: {
      a: { name: "A", type: "narrow" },
      b: { name: "B", type: "recorder-64", clock: "coax-in" },
    },
    cables: ["C1: a.coax-out - b.coax-in"],
  });
  const bench = new Bench({ show });
  let count = 0;
  for (let n = 1; n <= coax.receive.single; n++) {
    if (bench.trace(`B ${coax.name} in ${n}`).verdict.kind !== "beyond-slots") count++;
  }
  return count;
}

const NARROW = { single: 56, double: 28, quad: 0 };
const NONE = { single: 0, double: 0, quad: 0 };

check("AES10 in its 56-channel form into a 64-channel input", [
  ["at 48 kHz", "AES10-2008, abstract", "S", () => narrowAes10(48000), 56, 0],
  ["at 44.1 kHz", "AES10-2008, abstract", "S", () => narrowAes10(44100), 56, 0],
  ["at 96 kHz", "AES10, glossary", "S; B", () => narrowAes10(96000), 28, 0],
  ["at 88.2 kHz", "AES10, glossary", "S; B", () => narrowAes10(88200), 28, 0],
]);

/** AES10 carries 32 bits a channel and sample; its line has 100 Mbit/s for them. */
const aes10Rate = (rate: SampleRate) => (): number => (aes10(rate)() * rate * 32) / 1e6;
check("data rate of AES10 in Mbit/s, of the 100 that the line has", [
  ["64 channels at 48 kHz", "AES10, arithmetic", "B; A", aes10Rate(48000), 98.304, 1e-9],
  ["64 channels at 44.1 kHz", "AES10, arithmetic", "B; A", aes10Rate(44100), 90.3168, 1e-9],
  ["32 channels at 96 kHz", "AES10, arithmetic", "B; A", aes10Rate(96000), 98.304, 1e-9],
]);

describe("what the transports are", () => {
  test("AES3 carries two channels in one jack (AES3; S)", () => {
    const banks = CATALOGUE.flatMap((type) => type.banks.filter(({ level }) => level === "AES3"));
    expect(banks.length).toBeGreaterThan(0);
    expect(banks.filter(({ perJack }) => perJack !== 2)).toEqual([]);
  });

  test("AES10 goes one way for each cable, two for both (AES10; B)", () => {
    const ports = CATALOGUE.flatMap((type) => type.ports.filter(({ transport }) => transport === "AES10"));
    expect(ports.length).toBeGreaterThan(0);
    expect(ports.filter(({ send, receive }) => send.single > 0 === receive.single > 0)).toEqual([]);
  });
});

describe("networks and splits of the catalogue", () => {
  test("audio may take at most 75 % of a network port (IEEE 802.1Q cl. 34, default of IEEE 802.1BA-2011; B)", () => {
    const networks = CATALOGUE.flatMap(({ ports }) => ports.flatMap(({ network }) => network ?? []));
    expect(networks.length).toBeGreaterThan(0);
    expect(networks.filter(({ share }) => share !== 0.75)).toEqual([]);
    expect(networks.filter(({ provenance }) => provenance !== "standard")).toEqual([]);
  });

  test("a passive split has one direct leg, the one that passes phantom (common practice; CP)", () => {
    const splits = CATALOGUE.filter(({ banks }) => banks.some(({ leg }) => leg === "isolated"));
    expect(splits.length).toBeGreaterThan(0);
    for (const { banks } of splits) expect(banks.filter(({ leg }) => leg === "direct").length).toBe(1);
  });
});

/** Whether a cable of so many metres is told as too long. */
function tooLong(
  types: readonly [string, string],
  ends: readonly [string, string],
  kind: CableKind,
  length: number,
): boolean {
  const show = joined(types, ends, { cable: `, ${length} m, ${kind}` });
  return analyse(show).findings.some(({ check: id }) => id === "cable-too-long");
}

describe("the longest cable", () => {
  const LINKS: readonly (readonly [
    string,
    string,
    string,
    readonly [string, string],
    readonly [string, string],
    CableKind,
    number,
  ])[] = [
    [
      "48-slot link on Cat 5",
      "AES-R6, AES50-2011",
      "S",
      ["console-24", "console-24"],
      ["link1", "link1"],
      "cat5e-shielded",
      100,
    ],
    [
      "AES10 on 75 Ω coax",
      "AES10",
      "B",
      ["aes10-interface", "recorder-64"],
      ["coax-out", "coax-in"],
      "coax-75",
      50,
    ],
    [
      "AES3 on 110 Ω cable",
      "IEC 60958-4-4:2016, frame rates up to 50 kHz",
      "S",
      ["aes3-converter", "aes3-converter"],
      ["out.1", "in.1"],
      "digital-110",
      100,
    ],
    [
      "AES67 on copper: 90 m fixed and 10 m of cords",
      "ANSI/TIA-568, ISO/IEC 11801",
      "B",
      ["aes67-endpoint", "aes67-switch"],
      ["net", "p1"],
      "cat5e",
      100,
    ],
    [
      "monitor bus on shielded Cat 5",
      "common practice",
      "CP",
      ["box-16-8", "breakout-16"],
      ["pm", "pm"],
      "cat5e-shielded",
      75,
    ],
  ];
  test.each(
    LINKS.map(([what, source, status, types, ends, kind, limit]) => ({
      what,
      source,
      status,
      types,
      ends,
      kind,
      limit,
    })),
  )("$what: $limit m ($source; $status)", ({ types, ends, kind, limit }) => {
    expect(tooLong(types, ends, kind, limit)).toBe(false);
    expect(tooLong(types, ends, kind, limit + 0.1)).toBe(true);
  });

  test("a limit without a source is an assumed one, which the user can change (common practice; CP)", () => {
    const rules = CATALOGUE.flatMap((type) => type.ports)
      .filter(({ transport }) => /monitor|stage/.test(transport))
      .flatMap(({ cables }) => cables);
    expect(rules.length).toBeGreaterThan(0);
    expect(rules.filter(({ provenance }) => provenance !== "assumed")).toEqual([]);
  });
});

/** Milliseconds that one link takes, its cable's length not being known. */
const link = (rate: SampleRate) => (): number => {
  const bench = new Bench({ show: joined(["console-24", "console-24"], ["link1", "link1"], { rate }) });
  const trace = bench.trace("B Link 1 in 1");
  return trace.delay;
};

check("latency of a 48-slot link in ms", [
  ["three samples at 48 kHz", "AES50, the usual figure", "B", link(48000), 0.0625, 1e-9],
  ["three samples at 96 kHz", "AES50, the usual figure", "B", link(96000), 0.03125, 1e-9],
]);

describe("latency of a 48-slot link", () => {
  test.each([44100, 48000, 88200, 96000, 176400, 192000] satisfies SampleRate[])(
    "is below 100 µs at %i Hz (AES50-2011; S)",
    (rate) => {
      expect(link(rate)()).toBeGreaterThan(0);
      expect(link(rate)()).toBeLessThan(0.1);
    },
  );
});

const TIA = "ANSI/TIA-568-B.2, table; the formula from memory";
check("delay of category cable in ns for 100 m", [
  ["at 1 MHz", TIA, "B", () => categoryDelay(1) * 100, 570, 0.5],
  ["at 10 MHz", TIA, "B", () => categoryDelay(10) * 100, 545, 0.5],
  ["at 100 MHz", TIA, "B", () => categoryDelay(100) * 100, 538, 0.5],
  ["as a link's cable adds it", TIA, "B", () => cableDelay("cat5e-shielded", metres(100)) * 1e6, 538, 0.5],
]);

describe("delay of a copper channel", () => {
  test("100 m stay below the channel's 555 ns at 10 MHz (ANSI/TIA-568-B.2; B)", () => {
    expect(categoryDelay(10) * 100).toBeLessThanOrEqual(555);
  });
});

check("lengths", [
  ["75 m in feet", "1 ft = 0.3048 m exactly, arithmetic", "A", () => metresToFeet(metres(75)), 246.06, 0.005],
  ["way of sound in 1 ms at 20 °C, in m", "arithmetic", "A", () => travel(ms(1), 20), 0.343, 0.0005],
  [
    "way of sound in 62.5 µs at 20 °C, in mm",
    "arithmetic",
    "A",
    () => travel(ms(0.0625), 20) * 1000,
    21.45,
    0.005,
  ],
]);

test("75 m read 246 ft on paper (common practice; CP)", () => {
  expect(lengthName(metres(75), "imperial")).toBe("246 ft");
});

const period = (rate: SampleRate) => (): number => samplesToMs(1, rate) * 1000;
check("one sample in µs", [
  ["44.1 kHz", "arithmetic", "A", period(44100), 22.676, 0.0005],
  ["48 kHz", "arithmetic", "A", period(48000), 20.833, 0.0005],
  ["88.2 kHz", "arithmetic", "A", period(88200), 11.338, 0.0005],
  ["96 kHz", "arithmetic", "A", period(96000), 10.417, 0.0005],
  ["192 kHz", "arithmetic", "A", period(192000), 5.208, 0.0005],
]);

const SOUND = "textbook form 331.3·√(1 + T/273.15), to 0.2 %";
check("speed of sound in m/s", [
  ["0 °C", SOUND, "A; S", () => speedOfSound(0), 331.3, 331.3 * 0.002],
  ["10 °C", SOUND, "A; S", () => speedOfSound(10), 337.31, 337.31 * 0.002],
  ["20 °C", SOUND, "A; S", () => speedOfSound(20), 343.21, 343.21 * 0.002],
  ["30 °C", SOUND, "A; S", () => speedOfSound(30), 349.02, 349.02 * 0.002],
  ["40 °C", SOUND, "A; S", () => speedOfSound(40), 354.73, 354.73 * 0.002],
  // A university's figure in feet, for a room.
  [
    "in a room, in ft/s",
    "CCRMA",
    "A; S",
    () => metresToFeet(metres(speedOfSound(20))),
    1124.1,
    1124.1 * 0.002,
  ],
]);

const HANDBOOK = "Master Handbook of Acoustics, table 10-3";
check("first null in Hz of a sum with a delay", [
  ["1 ms", HANDBOOK, "B", () => firstNull(ms(1)), 500, 1e-9],
  ["0.5 ms", HANDBOOK, "B", () => firstNull(ms(0.5)), 1000, 1e-9],
  ["5 ms", HANDBOOK, "B", () => firstNull(ms(5)), 100, 1e-9],
]);

/**
 * Two jacks on one chain of boxes: one over two links from the house console, one over five from the truck. Box 3 stands
 * in position 1 once more, so that it gives the slots that came all the way.
 *
 *     Truck ── Monitors ── House ── Box 1 ── Box 2 ── Box 3
 */
const chain = rig({
  devices: {
    house: { name: "House", type: "console-48", set: ["link1 1 x8 < link2 1", "link1 9 x8 < mix 1"] },
    monitors: { name: "Monitors", type: "console-48", clock: "link1", set: ["link1 1 x8 < link2 1"] },
    truck: { name: "Truck", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
    box1: { name: "Box 1", type: "box-16-8", mode: "chain", position: 1 },
    box2: { name: "Box 2", type: "box-16-8", mode: "chain", position: 2 },
    box3: { name: "Box 3", type: "box-16-8", mode: "chain", position: 1 },
  },
  cables: [
    "T1: truck.link1 - monitors.link2",
    "T2: monitors.link1 - house.link2",
    "L1: house.link1 - box1.a",
    "L2: box1.b - box2.a",
    "L3: box2.b - box3.a",
  ],
});

const apart = (what: "later" | "samples" | "firstNull" | "distance") => (): number => {
  const bench = new Bench({ show: chain });
  const [two, five] = [bench.trace("Box 2 Out 1"), bench.trace("Box 3 Out 1")];
  const links = [two, five].map((trace) => stepsOf(trace).filter(({ kind }) => kind === "cable").length);
  expect(links).toEqual([2, 5]);
  return compareDelays(two.delay, five.delay, 48000, 20)[what];
};
check("two links against five", [
  ["apart in ms", "arithmetic", "A", apart("later"), 0.1875, 1e-9],
  ["apart in samples at 48 kHz", "arithmetic", "A", apart("samples"), 9, 1e-9],
  ["first null in Hz", "arithmetic", "A", apart("firstNull"), 2666.7, 0.05],
  ["way of sound in mm", "arithmetic", "A", () => apart("distance")() * 1000, 64.35, 0.01],
]);

describe("two outputs of one console", () => {
  test("less than 0.01 ms apart they count as together (as measured; common practice; CP)", () => {
    expect(compareDelays(ms(1), ms(1.009), 48000, 20).together).toBe(true);
    expect(compareDelays(ms(1), ms(1.011), 48000, 20).together).toBe(false);
  });
});

/** Samples of one packet at 48 kHz. */
const packet = (n: number) => (): number => msToSamples(ms(PACKET_TIMES[n]!), 48000);
const AES67 = "AES67 cl. 7.2, from memory";
check("samples in one AES67 packet at 48 kHz", [
  ["125 µs", AES67, "M", packet(0), 6, 1e-9],
  ["250 µs", AES67, "M", packet(1), 12, 1e-9],
  ["1/3 ms", AES67, "M", packet(2), 16, 1e-9],
  ["1 ms", AES67, "M", packet(3), 48, 1e-9],
  ["4 ms", AES67, "M", packet(4), 192, 1e-9],
]);

describe("generic consoles", () => {
  const consoles = CATALOGUE.filter(({ category }) => category === "console");
  test("a matrix is fed from mains and mixes, never straight from a channel (common practice; CP)", () => {
    const matrices = consoles.flatMap(
      ({ mixer }) => mixer?.sections.filter(({ role }) => role === "matrix") ?? [],
    );
    expect(matrices.length).toBe(consoles.length);
    expect(matrices.map(({ from }) => [...from].sort())).toEqual(matrices.map(() => ["main", "mix"]));
  });

  test("link outputs are assigned in aligned blocks of eight (common practice; CP)", () => {
    const rules = consoles.flatMap((type) =>
      type.rules.filter((rule) => rule.kind === "patch" && type.ports.some(({ id }) => id === rule.to.group)),
    );
    expect(rules.length).toBeGreaterThan(0);
    expect(rules.map((rule) => rule.kind === "patch" && rule.run)).toEqual(rules.map(() => 8));
  });

  test("there is a direct out for each channel (common practice; CP)", () => {
    for (const { mixer } of consoles) {
      const count = (role: string): number | undefined =>
        mixer?.sections.find((section) => section.role === role)?.count;
      expect(count("direct")).toBe(count("channel"));
    }
  });
});
