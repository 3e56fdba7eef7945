/**
 * Findings in full where lists run long, ends are missing or nothing bears a name. Each rig is small enough that its
 * lines can be worked out on paper.
 */
import { describe, expect, test } from "vitest";
import type { DeviceId, GroupId } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { EIGHT, EIGHT_BY_EIGHT, LINK_BOX, port, type as deviceType } from "../rigs/types.ts";
import { assumedMs, bank, wired } from "#engine/catalog/parts.ts";
import { withDevice, withMix, withSource } from "./told.ts";
import { offered, whole } from "./whole.ts";

const untagged = (show: Show): Show => ({
  ...show,
  cables: show.cables.map((cable) => ({ ...cable, tag: "" })),
});

const numbers = (first: number, last: number): readonly number[] =>
  Array.from({ length: last - first + 1 }, (_, n) => first + n);

/**
 *     House link1 ──L1── a Box     wants on box out 1–8, all from mixes; channels 1–2 take Kick and Snare
 */
const house = (more: Partial<Parameters<typeof rig>[0]["devices"][string]> = {}, wants = 8): Show =>
  rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "ch 1 x2 < link1 1"], ...more },
      box: { name: "Box", type: "box-16-8", mode: "one" },
    },
    cables: ["L1: house.link1 - box.a, 50 m"],
    sources: ["Kick: box.in.1", "Snare: box.in.2"],
    channels: ["Kick: house.ch.1 < Kick", "Snare: house.ch.2 < Snare"],
    wants: numbers(1, wants).map((n) => `Wedge ${n}: box.out.${n}`),
  });

describe("dark feeds in full", () => {
  test("[F1] a device that is off; past six names the rest is counted", () => {
    expect(whole(house({ off: true }), "dark-feed")).toEqual([
      "error dark-feed:error:off:house:link1:send: 8 feeds are dark: device off or cable pulled at House Link 1 out 1–8",
      "House is off. Dark: Wedge 1 (Box Out 1), Wedge 2 (Box Out 2), Wedge 3 (Box Out 3), Wedge 4 (Box Out 4), Wedge 5 (Box Out 5), Wedge 6 (Box Out 6) and 2 more.",
      "at Box Out 1–8, House Link 1 out 1–8; devices house, box; wants wedge-1, wedge-2, wedge-3, wedge-4, wedge-5, wedge-6, wedge-7, wedge-8",
      "error dark-feed:error:off:house:ch:bus: 2 feeds are dark: device off or cable pulled at House Channel 1–2",
      "House is off. Dark: Kick (House Channel 1), Snare (House Channel 2).",
      "at House Channel 1–2; devices house",
    ]);
  });

  test("[F1] a single feed, and its device off", () => {
    const show = house({}, 1);
    expect(whole(withDevice(show, "box", { powered: false }), "dark-feed")).toEqual([
      "error dark-feed:error:off:box:out:jack: Wedge 1 is dark: device off or cable pulled at Box Out 1",
      "Box is off. Dark: Wedge 1 (Box Out 1).",
      "at Box Out 1; devices box; wants wedge-1",
      "error dark-feed:error:off:box:a:send: 2 feeds are dark: device off or cable pulled at Box Link A out 1–2",
      "Box is off. Dark: Kick (House Channel 1), Snare (House Channel 2).",
      "at House Channel 1–2, Box Link A out 1–2; devices box, house",
    ]);
  });

  test("[F1] a cable that joins nothing, named by its ends where it bears no tag", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["ch 1 < link1 1", "ch 2 < link2 1"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["X1: house.link1 - box.in.1, 5 m", "L2: house.link2 - gone.a, 5 m"],
      sources: ["Kick: box.in.1", "Snare: box.in.2"],
      channels: ["Kick: house.ch.1 < Kick", "Snare: house.ch.2 < Snare"],
    });
    expect(whole(show, "dark-feed")).toEqual([
      "error dark-feed:error:not-plugged:X1: Kick is dark: not plugged at House Link 1 in 1",
      "Cable X1 joins nothing at House Link 1 in 1. Dark: Kick (House Channel 1).",
      "at House Channel 1, House Link 1 in 1; devices house; cables X1",
      "error dark-feed:error:unknown:L2: Snare is dark: not enough known at House Link 2 in 1",
      "Cable L2 leads to something that the show doesn't have. Dark: Snare (House Channel 2).",
      "at House Channel 2, House Link 2 in 1; devices house; cables L2",
    ]);
    expect(whole(untagged(show), "dark-feed")).toEqual([
      "error dark-feed:error:not-plugged:X1: Kick is dark: not plugged at House Link 1 in 1",
      "The line cable from House Link 1 to Box In 1 joins nothing at House Link 1 in 1. Dark: Kick (House Channel 1).",
      "at House Channel 1, House Link 1 in 1; devices house; cables X1",
      "error dark-feed:error:unknown:L2: Snare is dark: not enough known at House Link 2 in 1",
      "The Cat 5e, shielded from House Link 2 to missing device gone a leads to something that the show doesn't have. Dark: Snare (House Channel 2).",
      "at House Channel 2, House Link 2 in 1; devices house; cables L2",
    ]);
  });

  test("[F1] slots past the link's last, one and more", () => {
    const show = (count: number): Show =>
      rig({
        rate: 96000,
        devices: {
          house: { name: "House", type: "console-24", set: [`ch 1 x${count} < link1 25`] },
          box: { name: "Box", type: "box-32-16", mode: "one" },
        },
        cables: ["L1: house.link1 - box.a, 5 m"],
        sources: ["Kick: box.in.25", "Snare: box.in.26"],
        channels: numbers(1, count).map((n) => `Channel ${n}: house.ch.${n} < ${n === 1 ? "Kick" : "Snare"}`),
      });
    expect(whole(show(1), "dark-feed")).toEqual([
      "error dark-feed:error:beyond-slots:house:link1:receive: Channel 1 is dark: slot beyond the link's slots at House Link 1 in 25",
      "The link has 24 slots at 96 kHz; House Link 1 in 25 does not exist. Dark: Channel 1 (House Channel 1).",
      "at House Channel 1, House Link 1 in 25; devices house",
    ]);
    expect(whole(show(2), "dark-feed")).toEqual([
      "error dark-feed:error:beyond-slots:house:link1:receive: 2 feeds are dark: slot beyond the link's slots at House Link 1 in 25–26",
      "The link has 24 slots at 96 kHz; House Link 1 in 25–26 do not exist. Dark: Channel 1 (House Channel 1), Channel 2 (House Channel 2).",
      "at House Channel 1–2, House Link 1 in 25–26; devices house",
    ]);
  });

  test("[F1] [W3] jacks that a fixed rule feeds from slots that there aren't at this rate: the jacks are there", () => {
    const show = (...wants: readonly string[]): Show =>
      rig({
        rate: 96000,
        devices: {
          house: { name: "House", type: "console-24" },
          converter: { name: "Converter", type: "aes3-converter", mode: "high" },
        },
        cables: ["L1: house.link1 - converter.link, 5 m"],
        wants,
      });
    const one = "Tape: converter.out.1";
    // Slots 41–48 of a link that has 24 at 96 kHz.
    expect(whole(show(one), "dark-feed")[1]).toBe(
      "The link has 24 slots at 96 kHz; Converter Link in 41 does not exist. Dark: Tape (Converter AES3 out 1A).",
    );
    const long = rig({
      types: [EIGHT_BY_EIGHT],
      devices: { long: { name: "Long", type: "eight-by-eight", mode: "long" } },
      wants: ["A: long.out.5", "B: long.out.6"],
    });
    // The rule takes in 5–12, and the bank ends at 8.
    expect(whole(long, "dark-feed")[1]).toBe(
      "Long Out 5–6 take numbers past the last, which is 8 at 48 kHz. Dark: A (Long Out 5), B (Long Out 6).",
    );
    expect(whole({ ...long, wants: long.wants.slice(0, 1) }, "dark-feed")[1]).toBe(
      "Long Out 5 takes a number past the last, which is 8 at 48 kHz. Dark: A (Long Out 5).",
    );
  });

  test("[F1] a setting that the mode can't hold, and jacks with nothing in them", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 3 x8 < mix 1", "ch 1 x3 < in 1"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 5 m"],
      sources: ["Kick: house.in.2"],
      channels: ["Talk: house.ch.1 < Kick", "Kick: house.ch.2 < Kick", "Spare: house.ch.3 < Kick"],
      wants: ["Wedge: box.out.3", "Fill: box.out.4", "Drums: box.out.1"],
    });
    expect(whole(show, "dark-feed")).toEqual([
      "error dark-feed:error:not-wired:house:link1:send:3: 2 feeds are dark: not wired in this mode at House Link 1 out 3–4",
      "In mode “Normal” the setting of House Link 1 out 3–4 can't be held. Dark: Wedge (Box Out 3), Fill (Box Out 4).",
      "at Box Out 3–4, House Link 1 out 3–4; devices house, box; wants wedge, fill",
      "error dark-feed:error:nothing-assigned:house:link1:send:1: Drums is dark: nothing assigned at House Link 1 out 1",
      "Nothing is assigned to House Link 1 out 1. Dark: Drums (Box Out 1).",
      "at Box Out 1, House Link 1 out 1; devices house, box; wants drums",
      "error dark-feed:error:not-plugged:house:in:jack:1: Talk is dark: not plugged at House Local in 1",
      "Nothing is plugged in House Local in 1. Dark: Talk (House Channel 1).",
      "at House Channel 1, House Local in 1; devices house",
      "error dark-feed:error:not-plugged:house:in:jack:3: Spare is dark: not plugged at House Local in 3",
      "Nothing is plugged in House Local in 3. Dark: Spare (House Channel 3).",
      "at House Channel 3, House Local in 3; devices house",
    ]);
  });

  test("[F1] a jack that two dark cables hang in counts once; a multicore's tails past the bank don't count", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        processor: { name: "Processor", type: "processor-8", mode: "eight" },
        wedge: { name: "Wedge", type: "wedge" },
      },
      cables: ["M1: house.out.1 - processor.in.7 x4, 5 m, multicore", "X1: house.out.1 - wedge.in.1, 5 m"],
    });
    expect(whole(show, "dark-feed")).toEqual([
      "warning dark-feed:warning:nothing-assigned:house:out:jack:1: 2 feeds are dark: nothing assigned at House Local out 1–2",
      "Nothing is assigned to House Local out 1–2. Dark: House Local out 1, House Local out 2.",
      "at House Local out 1–2; devices house",
    ]);
  });

  test("[F1] jacks beside a wanted one, and those of a device that is off in their own order, with the way out", () => {
    const beside = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        wedge: { name: "Wedge", type: "wedge" },
        fill: { name: "Fill", type: "wedge" },
      },
      cables: ["X1: house.out.4 - wedge.in.1, 5 m", "X2: house.out.3 - fill.in.1, 5 m"],
      wants: ["Fill: house.out.3"],
    });
    expect(whole(beside, "dark-feed").filter((line) => /^(error|warning)/.test(line))).toEqual([
      "error dark-feed:error:nothing-assigned:house:out:jack:3: Fill is dark: nothing assigned at House Local out 3",
      "warning dark-feed:warning:nothing-assigned:house:out:jack:4: House Local out 4 is dark: nothing assigned at House Local out 4",
    ]);
    const off = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
        box: { name: "Box", type: "box-16-8", mode: "one", off: true },
        wedge: { name: "Wedge", type: "wedge" },
        fill: { name: "Fill", type: "wedge" },
      },
      cables: [
        "L1: house.link1 - box.a",
        "X1: box.out.5 - wedge.in.1, 5 m",
        "X2: box.out.2 - fill.in.1, 5 m",
      ],
    });
    expect(whole(off, "dark-feed")).toEqual([
      "warning dark-feed:warning:off:box:out:jack: 2 feeds are dark: device off or cable pulled at Box Out 2, 5",
      "Box is off. Dark: Box Out 2, Box Out 5.",
      "at Box Out 2, Box Out 5; devices box",
    ]);
    expect(offered(off, "dark-feed")).toEqual(["Switch Box on", "  devices box powered: true"]);
  });

  test("[F1] a pair's jack has both its signals dark", () => {
    const show = rig({
      devices: {
        one: { name: "One", type: "aes3-converter", mode: "low" },
        two: { name: "Two", type: "aes3-converter", mode: "low" },
      },
      cables: ["X1: one.out.2 - two.in.3, 3 m, digital-110"],
    });
    expect(whole(show, "dark-feed")).toEqual([
      "warning dark-feed:warning:not-plugged:one:link:receive: 2 feeds are dark: not plugged at One Link in 3–4",
      "Nothing is plugged in One Link in 3–4. Dark: One AES3 out 2A, One AES3 out 2B.",
      "at One AES3 out 2A–2B, One Link in 3–4; devices one",
    ]);
  });
});

describe("wrong feeds in full", () => {
  const show = rig({
    devices: {
      house: {
        name: "House",
        type: "console-24",
        set: ["link1 1 x8 < mix 1", "out 1 < link1 1", "out 2 < mix 3", "ch 1 < link1 1", "ch 2 < link1 2"],
      },
      box: { name: "Box", type: "box-16-8", mode: "one" },
    },
    cables: ["L1: house.link1 - box.a, 50 m"],
    sources: ["Kick: box.in.1", "Snare: box.in.2"],
    channels: ["Kick: house.ch.1 < Snare", "Snare: house.ch.2 < Snare"],
    mixes: ["Ears: house.mix.3+4 < ch 1", "Wedge: house.mix.5 < ch 1"],
    wants: [
      "Straight: house.out.1 < house.mix.5",
      "Left: box.out.3 < house.mix.4",
      "Right: box.out.4 < house.mix.4",
      "Lost: house.out.2 < house.mix.99",
      "Dark: house.out.8 < house.mix.1",
    ],
  });

  test("[F2] a tap is told with the name of its mix, both buses of a stereo one; a source by its jack", () => {
    expect(whole(show, "wrong-feed")).toEqual([
      "error wrong-feed:straight: Straight gets the wrong signal at House Local out 1",
      "Box In 1 arrives there; House Mix 5 (Wedge) is wanted.",
      "at House Local out 1, Box In 1, House Mix 5; devices house; wants straight",
      "error wrong-feed:left: Left gets the wrong signal at Box Out 3",
      "House Mix 3 (Ears) arrives there; House Mix 4 (Ears) is wanted.",
      "at Box Out 3, House Mix 3–4; devices box; wants left",
      "error wrong-feed:house-kick: House Channel 1 carries the wrong source",
      "Kick arrives there; Snare is planned.",
      "at House Channel 1, Box In 1; devices house",
    ]);
  });
});

describe("loops in full", () => {
  test("[F4] one more beside it, and a single wanted feed, in the singular", () => {
    const show = rig({
      types: [EIGHT_BY_EIGHT],
      devices: { m: { name: "M", type: "eight-by-eight", set: ["out 1 x2 < in 1", "out 3 < in 1"] } },
      cables: ["X1: m.out.1 - m.in.1 x2, 5 m, multicore"],
      wants: ["Fill: m.out.3"],
    });
    expect(whole(show, "loop")).toEqual([
      "error loop:m:in>m:out: A loop: M In 1 comes back to itself",
      "M In 1 → M Out 1 → M In 1. So does 1 more beside it. 1 wanted feed hangs on it and is dark.",
      "at M In 1, M Out 1, M In 2, M Out 2; devices m; wants fill",
    ]);
  });

  test("[F4] of a long way round the first two dozen are named", () => {
    const keys = numbers(1, 13).map((n) => `m${n}`);
    const show = rig({
      types: [EIGHT_BY_EIGHT],
      devices: Object.fromEntries(
        keys.map((key) => [key, { name: key.toUpperCase(), type: "eight-by-eight", set: ["out 1 < in 1"] }]),
      ),
      cables: keys.map((key, n) => `X${n + 1}: ${key}.out.1 - ${keys[(n + 1) % 13]!}.in.1, 5 m`),
      wants: ["Lost: m1.out.9", "Dark: m2.out.5"],
    });
    const [title, reason] = whole(show, "loop");
    expect(title).toMatch(/A loop: M1 In 1 comes back to itself$/);
    expect(reason!.split(" → ")).toEqual([
      ...numbers(1, 12).flatMap((n) => [`M${n} In 1`, `M${n} Out 1`]),
      "2 more",
      "M1 In 1.",
    ]);
  });

  test("[F4] with the wanted feeds that hang on one", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link2 1 x8 < link2 1", "out 1 x2 < link2 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link2", set: ["link2 1 x8 < link2 1"] },
      },
      cables: ["T1: house.link2 - monitors.link2, 5 m"],
      wants: ["Fill: house.out.1", "Hall: house.out.2", "Bar: house.out.3"],
    });
    const [title, reason, at] = whole(show, "loop");
    expect([title, reason]).toEqual([
      "error loop:house:link2>house:link2>monitors:link2>monitors:link2: A loop: House Link 2 in 1 comes back to itself",
      "House Link 2 in 1 → House Link 2 out 1 → Monitors Link 2 in 1 → Monitors Link 2 out 1 → House Link 2 in 1. So do 7 more beside it. 2 wanted feeds hang on it and are dark.",
    ]);
    expect(at).toMatch(/; devices house, monitors; wants fill, hall$/);
  });
});

describe("cables in full", () => {
  const feet = (show: Show): Show => ({ ...show, settings: { ...show.settings, units: "imperial" } });
  /** A port of our own that takes no cable at all, and one whose limit is its maker's. */
  const closed = deviceType("closed", { ports: [port("x", EIGHT, { cables: [] })] });
  const sheet = deviceType("sheet", {
    ports: [
      port("x", EIGHT, { cables: [{ kind: "cat5e-shielded", maxMetres: 60, provenance: "maker's sheet" }] }),
    ],
  });
  const joined = (text: string): Show =>
    rig({
      types: [closed, sheet, LINK_BOX],
      devices: {
        a: { name: "A", type: "link-box" },
        b: { name: "B", type: "sheet", clock: "x" },
        c: { name: "C", type: "closed", clock: "x" },
      },
      cables: [text],
    });

  test("[F8] the shorter of two limits holds, whichever end it is at; a length in feet, rounded", () => {
    expect(whole(joined("L1: a.x - b.x, 60 m"), "cable-too-long")).toEqual([]);
    expect(whole(joined("L1: a.x - b.x, 60.5 m"), "cable-too-long")).toEqual([
      "error cable-too-long:L1: Cable L1 is 0.5 m too long",
      "It is 60.5 m, from A Port X and B Port X; Cat 5e, shielded may be 60 m there (maker's sheet).",
      "devices a, b; cables L1",
    ]);
    // 60 m = 196.85 ft, 61 m = 200.13 ft, 1 m = 3.28 ft (1 ft = 0.3048 m).
    expect(whole(feet(joined("L1: b.x - a.x, 61 m")), "cable-too-long")).toEqual([
      "error cable-too-long:L1: Cable L1 is 3 ft too long",
      "It is 200 ft, from B Port X and A Port X; Cat 5e, shielded may be 197 ft there (maker's sheet).",
      "devices b, a; cables L1",
    ]);
  });

  test("[F9] a port that takes no cable; the end that refuses is named, first or second", () => {
    expect(whole(joined("L1: a.x - c.x, 5 m"), "cable-wrong-kind")).toEqual([
      "error cable-wrong-kind:L1: Cable L1 is the wrong kind of cable",
      "C Port X takes no cable, not Cat 5e, shielded.",
      "devices a, c; cables L1",
    ]);
    expect(whole(joined("L1: a.x - b.x, 5 m, fibre"), "cable-wrong-kind")).toEqual([
      "error cable-wrong-kind:L1: Cable L1 is the wrong kind of cable",
      "A Port X takes Cat 5e, shielded, not fibre.",
      "devices a, b; cables L1",
    ]);
  });

  test("[F8] [F9] nothing is said of an end that isn't there", () => {
    expect(whole(joined("L1: a.x - gone.x, 101 m"), "cable-too-long")).toEqual([
      "error cable-too-long:L1: Cable L1 is 1 m too long",
      "It is 101 m, from A Port X and missing device gone x; Cat 5e, shielded may be 100 m there (assumed; change it in the device type).",
      "devices a; cables L1",
    ]);
    expect(whole(joined("L1: a.x - gone.x, 5 m, fibre"), "cable-wrong-kind")).toEqual([]);
  });

  test("[F10] a cable without tag or length", () => {
    expect(whole(untagged(joined("L1: a.x - b.x")), "cable-length-unknown")).toEqual([
      "note cable-length-unknown:L1: The Cat 5e, shielded from A Port X to B Port X has no length",
      "From A Port X and B Port X. Without a length its limit can't be checked, and its delay counts as none.",
      "devices a, b; cables L1",
    ]);
  });
});

describe("two plugs in full", () => {
  test("[F6] a pair's jack: two sources on one of its signals, one on each, and a cable beside them", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        converter: { name: "Converter", type: "aes3-converter", mode: "low" },
        other: { name: "Other", type: "aes3-converter", mode: "low" },
      },
      cables: [
        "X1: other.out.1 - converter.in.2, 3 m, digital-110",
        "X2: other.out.2 - converter.in.2, 3 m, digital-110",
      ],
      sources: ["Left: converter.in.1", "Right: converter.in.2", "Again: converter.in.2"],
    });
    expect(whole(show, "used-twice")).toEqual([
      "error used-twice:converter:in:signal 2: Converter AES3 in 1B is used twice",
      "Right and Again are both plugged there; Right counts.",
      "at Converter AES3 in 1B; devices converter",
      "error used-twice:converter:in:3: Converter AES3 in 2A is used twice",
      "Cable X1 and Cable X2 are both plugged there; Cable X1 counts.",
      "at Converter AES3 in 2A; devices converter; cables X1, X2",
    ]);
  });
});

describe("a cable and sources in a pair's jack", () => {
  const show = (...sources: readonly string[]): Show =>
    rig({
      devices: {
        converter: { name: "Converter", type: "aes3-converter", mode: "low" },
        other: { name: "Other", type: "aes3-converter", mode: "low" },
      },
      cables: ["X1: other.out.1 - converter.in.2, 3 m, digital-110"],
      sources,
    });

  test("[F6] beside a cable the sources of a pair are one plug, on whichever of its signals", () => {
    const twice = (source: string): readonly string[] => [
      "error used-twice:converter:in:3: Converter AES3 in 2A is used twice",
      `${source} and Cable X1 are both plugged there; ${source} counts.`,
      "at Converter AES3 in 2A; devices converter; cables X1",
    ];
    expect(whole(show("Left: converter.in.3"), "used-twice")).toEqual(twice("Left"));
    expect(whole(show("Right: converter.in.4"), "used-twice")).toEqual(twice("Right"));
    expect(whole(show("Right: converter.in.4", "Left: converter.in.3"), "used-twice")).toEqual(
      twice("Right"),
    );
    // The jacks beside it have one plug each.
    expect(
      whole(show("One: converter.in.1", "Two: converter.in.2", "Five: converter.in.5"), "used-twice"),
    ).toEqual([]);
  });
});

describe("settings in full", () => {
  test("[F12] twice on two groups; the same destination three times is told for each after the first", () => {
    const show = rig({
      devices: {
        house: {
          name: "House",
          type: "console-24",
          set: ["out 1 x2 < mix 1", "out 2 < mix 3", "ch 1 < in 1", "ch 1 < in 2", "link1 1 x8 < mix 1"],
        },
      },
    });
    expect(whole(show, "set-twice")).toEqual([
      "warning set-twice:house:out: House Local out 2 is set twice",
      "The later of the two settings counts; the earlier one does nothing.",
      "at House Local out 2; devices house",
      "warning set-twice:house:ch: House Channel 1 is set twice",
      "The later of the two settings counts; the earlier one does nothing.",
      "at House Channel 1; devices house",
    ]);
  });

  test("[F7] a port with nothing in it counts its own slots at the device's rate", () => {
    const show = rig({
      rate: 96000,
      devices: {
        house: { name: "House", type: "console-24", set: ["link2 17 x16 < mix 1", "ch 1 < link2 25"] },
      },
    });
    expect(whole(show, "over-capacity")).toEqual([
      "error over-capacity:house:link2:send: House Link 2 out is set past its last slot",
      "It carries 24 slots at 96 kHz; slots 25–32 do not exist.",
      "at House Link 2 out 25–32; devices house",
      "error over-capacity:house:link2:receive: House Link 2 in is set past its last slot",
      "It carries 24 slots at 96 kHz; slot 25 does not exist.",
      "at House Link 2 in 25; devices house",
    ]);
  });
});

describe("plans in full", () => {
  test("[F20] past six names the rest is counted; sources that aren't plugged anywhere are left to F14", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      sources: [...numbers(1, 8).map((n) => `Mic ${n}: box.in.${n}`), "Lost: box.in.17"],
      channels: [...numbers(1, 3).map((n) => `Guest ${n}: house.ch.${n + 4}`), "Out: house.ch.99"],
    });
    expect(whole(show, "plan-gap")).toEqual([
      "note plan-gap:source:box: 8 sources at Box have no channel",
      "No console plans a channel for Mic 1 (Box In 1), Mic 2 (Box In 2), Mic 3 (Box In 3), Mic 4 (Box In 4), Mic 5 (Box In 5), Mic 6 (Box In 6) and 2 more.",
      "at Box In 1–8; devices box",
      "note plan-gap:channel:house: 3 channels of House have names and no sources",
      "Channel 5–7: Guest 1, Guest 2 and Guest 3.",
      "at House Channel 5–7; devices house",
    ]);
  });

  test("[F20] channels that are planned on several sections are told by section", () => {
    const show = rig({
      devices: { house: { name: "House", type: "console-24" } },
      channels: ["One: house.ch.1", "Two: house.ch-return.4", "Three: house.ch.2"],
    });
    expect(whole(show, "plan-gap")).toEqual([
      "note plan-gap:channel:house: 3 channels of House have names and no sources",
      "Channel 1–2; Channel return 4: One, Two and Three.",
      "at House Channel 1, House Channel return 4, House Channel 2; devices house",
    ]);
  });

  test("[F21] a label three times; a source at a jack that isn't there stands at its device", () => {
    const show = rig({
      devices: {
        one: { name: "Box", type: "box-16-8", mode: "one" },
        two: { name: " box", type: "box-16-8", mode: "one" },
        three: { name: "BOX", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: one.b - two.a, 5 m"],
      sources: ["Kick: one.in.1", "Snare: two.in.99", "Hat: gone.in.1"],
    });
    const kicks = { ...show, sources: show.sources.map((source) => ({ ...source, name: "Kick " })) };
    expect(whole(kicks, "labels")).toEqual([
      "warning labels:device:box: 3 devices are called Box",
      "Papers and findings can't tell them apart.",
      "devices one, two, three",
      "warning labels:source:kick: 3 sources are called Kick",
      "They stand at Box In 1,  box and missing device gone; on an input list they read the same.",
      "at Box In 1; devices one, two, gone",
    ]);
    expect(whole(untagged(show), "labels").slice(-3)).toEqual([
      "note labels:untagged: 1 cable bears no tag",
      "Box Link B to  box Link A. Worksheets and faults name cables by their tags.",
      "cables L1",
    ]);
  });

  test("[F22] more than four blocks of one row", () => {
    const show = rig({
      devices: {
        house: {
          name: "House",
          type: "console-24",
          set: [1, 9, 17, 25, 33].map((first) => `link1 ${first} x3 < main 1`),
        },
      },
    });
    expect(whole(show, "stranded")).toEqual([
      "note stranded:house:link1:send: 25 slots of House Link 1 out are stranded",
      "Link 1 out: block 1–8 carries 3 signals and 4–8 carry none; block 9–16 carries 3 signals and 12–16 carry none; block 17–24 carries 3 signals and 20–24 carry none; block 25–32 carries 3 signals and 28–32 carry none; and 1 more blocks. They go with their block and can't serve anything else.",
      "at House Link 1 out 4–8, House Link 1 out 12–16, House Link 1 out 20–24, House Link 1 out 28–32, House Link 1 out 36–40; devices house",
    ]);
  });
});

describe("paths in full", () => {
  test("[F23] cables of assumed kinds are told by kind, each once", () => {
    const plain = deviceType("plain", {
      banks: [bank("in", "In", "in", 8, "XLR", "line"), bank("out", "Out", "out", 8, "XLR", "line")],
      ports: [port("x", EIGHT, { cables: [{ kind: "fibre", maxMetres: 500, provenance: "measured" }] })],
      rules: [wired("out", 1, "x", 1, 8), wired("x", 1, "in", 1, 8)],
    });
    const show = rig({
      types: [plain],
      devices: { a: { name: "A", type: "plain" }, b: { name: "B", type: "plain", clock: "x" } },
      cables: ["F1: a.x - b.x, 200 m, fibre"],
      sources: ["Keys: a.in.1", "Bass: a.in.2"],
      wants: ["Left: b.out.1", "Right: b.out.2", "Dark: b.out.3"],
    });
    expect(whole(show, "assumed-path")).toEqual([
      "note assumed-path: 2 of 2 wanted feeds rest on assumed delays",
      "Assumed numbers stand in the delay per metre of fibre. Put in those of the makers' sheets before you rely on the times.",
      "wants left, right",
    ]);
    expect(whole({ ...show, wants: show.wants.slice(0, 1) }, "assumed-path")).toEqual([
      "note assumed-path: 1 of 1 wanted feed rests on assumed delays",
      "Assumed numbers stand in the delay per metre of fibre. Put in those of the makers' sheets before you rely on the times.",
      "wants left",
    ]);
  });

  test("[F24] more than five losses: five are named and the rest counted", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
        one: { name: "One", type: "aes67-endpoint", clock: "link", set: ["net 1 x16 < link 1"] },
        two: { name: "Two", type: "aes67-endpoint", clock: "net", set: ["link 1 x16 < net 1"] },
        switch: { name: "Switch", type: "aes67-switch" },
        far: { name: "Far", type: "box-32-16", mode: "one" },
        fourth: {
          name: "Fourth",
          type: "console-24",
          clock: "link2",
          set: ["link1 1 x8 < mix 1", "link1 9 x8 < link2 1"],
        },
      },
      cables: [
        "T1: house.link1 - fourth.link2, 5 m",
        "L1: fourth.link1 - one.link, 5 m",
        "N1: one.net - switch.p1, 5 m, cat5e",
        "N2: switch.p2 - two.net, 5 m, cat5e",
        "L2: two.link - far.a, 5 m",
      ],
      streams: ["Mixes: one.net.1 x16 > two.net.1"],
      wants: ["A: far.out.1", "B: far.out.2", "C: far.out.9"],
    });
    expect(whole(show, "common-loss")).toEqual([
      "note common-loss: Losing One darkens 3 feeds of 2 consoles; 8 other losses would too",
      "Feeds that pass there, by console. One: 3 feeds (Fourth 2, House 1); Two: 3 feeds (Fourth 2, House 1); Switch: 3 feeds (Fourth 2, House 1); Far: 3 feeds (Fourth 2, House 1); Fourth: 3 feeds (Fourth 2, House 1); and 4 more.",
      "devices one, two, switch, far, fourth",
    ]);
  });

  test("[F25] two pairs over one way each: the worst is told, the others by their channels", () => {
    const show = rig({
      devices: {
        house: {
          name: "House",
          type: "console-24",
          set: ["ch 1 x2 < link1 1", "ch 9 x2 < link2 1", "ch 20 < in 1"],
        },
        monitors: { name: "Monitors", type: "console-24", clock: "link2", set: ["link2 1 x8 < link1 1"] },
        box: { name: "Box", type: "box-16-8", mode: "two" },
      },
      cables: [
        "L1: house.link1 - box.a, 100 m",
        "L2: monitors.link1 - box.b, 100 m",
        "T1: monitors.link2 - house.link2, 100 m",
      ],
      sources: ["Kick: box.in.1", "Snare: box.in.2", "Talk: house.in.1"],
    });
    expect(whole(show, "arrives-twice")).toEqual([
      "warning arrives-twice:house:link1:link2: 2 sources reach House twice, up to 0.063 ms apart",
      "Kick is at Channel 1 after 0.363 ms by Link 1 in, and at Channel 9 after 0.426 ms by Link 2 in: 0.063 ms or 3 samples at 48 kHz apart. Summed, the first null lies at 7932 Hz. So does 1 more, channels 1–2 and 9–10. It only matters where both are heard together.",
      "at House Channel 1, House Channel 9, House Channel 2, House Channel 10; devices house",
    ]);
  });
});

describe("mixes in full", () => {
  const desk = (...mixes: readonly string[]): Show =>
    rig({ devices: { house: { name: "House", type: "console-24" } }, mixes });

  test("[F18] three mixes on one bus, and one without a name", () => {
    const show = desk("One: house.mix.3+4 < ch 1", "Two: house.mix.4 < ch 2", "Three: house.mix.3+4 < ch 3");
    expect(whole(show, "bus-use")).toEqual([
      "error bus-use:twice:two: “One” and “Two” lie on one bus: House Mix 4",
      "A bus carries one mix; there the members of “One” and “Two” are all summed.",
      "at House Mix 4; devices house",
      "error bus-use:twice:three: “One” and “Three” lie on one bus: House Mix 3–4",
      "A bus carries one mix; there the members of “One” and “Three” are all summed.",
      "at House Mix 3–4; devices house",
    ]);
    expect(whole(withMix(show, "two", { name: "" }), "bus-use").slice(0, 3)).toEqual([
      "error bus-use:twice:two: “One” and the mix on mix 4 lie on one bus: House Mix 4",
      "A bus carries one mix; there the members of “One” and the mix on mix 4 are all summed.",
      "at House Mix 4; devices house",
    ]);
  });

  test("[F19] what a section of a rig's own type takes, and one that takes nothing", () => {
    const mixer = deviceType("mixer", {
      mixer: {
        sections: [
          { id: "ch" as GroupId, name: "Channel", role: "channel", count: 4, from: [], block: 4 },
          { id: "fx" as GroupId, name: "Effect", role: "mix", count: 2, from: [], block: 2 },
          { id: "aux" as GroupId, name: "Aux", role: "mix", count: 2, from: ["ch" as GroupId], block: 2 },
        ],
        processing: assumedMs(0.5),
      },
    });
    const show = rig({
      types: [mixer],
      devices: { small: { name: "Small", type: "mixer" } },
      mixes: [
        "Room: small.fx.1 < ch 1, ch 3",
        "Wedge: small.aux.1 < ch 1, fx 2, aux 2",
        "Ch: small.ch.2 < ch 1",
      ],
    });
    expect(whole(show, "mix-member-refused")).toEqual([
      "error mix-member-refused:room: “Room” can't take Channel 1, 3 of Small",
      "Effect takes nothing through the mixer. 2 members of 2 are silent there.",
      "at Small Effect 1; devices small",
      "error mix-member-refused:wedge: “Wedge” can't take Effect 2 and Aux 2 of Small",
      "Aux takes Channel only. 2 members of 3 are silent there.",
      "at Small Aux 1; devices small",
      "error mix-member-refused:ch: “Ch” can't take Channel 1 of Small",
      "A channel takes its input and no mix. 1 member of 1 is silent there.",
      "at Small Channel 2; devices small",
    ]);
  });
});

describe("preamps in full", () => {
  const box = (...sources: readonly string[]): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24" },
        spare: { name: "Spare", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 50 m"],
      sources,
    });
  const owner = "spare" as DeviceId;

  test("[F26] one source out of reach, and none in a console", () => {
    expect(whole(withSource(box("Kick: box.in.1"), "kick", { preampOwner: owner }), "preamp")).toEqual([
      "error preamp:reach:spare:box: Spare can't set the preamp of Kick",
      "It stands in Box, and no cable whose both ports carry preamp control leads there from Spare: Kick.",
      "at Box In 1; devices box, spare",
    ]);
    expect(whole(withSource(box("Talk: house.in.2"), "talk", { preampOwner: owner }), "preamp")).toEqual([
      "error preamp:reach:spare:house: Spare can't set the preamp of Talk",
      "It stands in House, and no cable whose both ports carry preamp control leads there from Spare: Talk.",
      "at House Local in 2; devices house, spare",
    ]);
  });

  test("[F26] phantom on a line source at a jack that isn't there", () => {
    const show = withSource(box("Keys: box.in.17"), "keys", { kind: "line", phantom: true });
    expect(whole(show, "preamp")).toEqual([
      "error preamp:phantom:keys: Phantom power is on for Keys, a line source",
      "Keys gets 48 V; a line output isn't made for it.",
      "",
    ]);
  });

  test("[F26] an owner that isn't in the show is told by F14 alone", () => {
    const show = withSource(box("Kick: box.in.1"), "kick", { preampOwner: "gone" as DeviceId });
    expect(whole(show, "preamp")).toEqual([]);
    expect(whole(show, "dangling")).toEqual([
      "error dangling:kick:owner: The preamp owner of “Kick” points at nothing",
      "The show has no device “gone”. The record is kept as it is.",
      "",
    ]);
  });
});

describe("records that point at nothing, in full", () => {
  test("[F14] a stream's sender and its receivers", () => {
    const show = rig({
      devices: { one: { name: "One", type: "aes67-endpoint" }, two: { name: "Two", type: "aes67-endpoint" } },
      cables: ["N1: one.net - two.net, 5 m, cat5e"],
      streams: [
        "First: gone.net.1 x8 > two.net.1",
        "Second: one.net.1 x8 > two.aux.1, gone.net.1",
        "Third: one.link.1 x8 > two.net.9",
      ],
    });
    expect(whole(show, "dangling")).toEqual([
      "error dangling:stream:first:from: Stream “First” points at nothing",
      "The show has no device “gone”. The record is kept as it is.",
      "",
      "error dangling:stream:second:to: Stream “Second” points at nothing",
      "Two has no port “aux”. The record is kept as it is.",
      "",
      "error dangling:stream:third:from: Stream “Third” points at nothing",
      "One Link is no network port. The record is kept as it is.",
      "",
    ]);
  });

  test("[F14] a channel of a source that is gone; of a mix's lost members the first is named", () => {
    const show = rig({
      devices: { house: { name: "House", type: "console-24" } },
      channels: ["Gone: house.ch.1 < Kick"],
      mixes: ["Wedge: house.mix.1 < ch 25, mtx 1, xx 1, ch 0"],
    });
    expect(whole(show, "dangling")).toEqual([
      "error dangling:house-gone:source: Channel 1 “Gone” points at nothing",
      "The show has no source “kick”. The record is kept as it is.",
      "",
      "error dangling:wedge:members: A member of mix “Wedge” points at nothing",
      "ch 25 doesn't exist there. The record is kept as it is.",
      "devices house",
    ]);
  });
});
