/**
 * What checks tell and offer where a rig is seldom so: one more than a list names, a leg that brings nothing, two causes of
 * one sort. Expected values follow from the rules of SPEC.md.
 */
import { describe, expect, test } from "vitest";
import { analyse, reanalyse } from "#engine/analysis.ts";
import { bank, group, mode, patch, range, wired } from "#engine/catalog/parts.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import { followers, trimsAfter } from "#engine/findings/followers.ts";
import type { DeviceType, LinkPort, MixSection } from "#engine/model/device-type.ts";
import { id, type DeviceId, type SourceId } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { ms } from "#engine/model/units.ts";
import { rig, type RigText } from "../rigs/build.ts";
import { AES3_DECK, EIGHT_BY_EIGHT, LINK_BOX, port, type as deviceType } from "../rigs/types.ts";
import { only, reasons, told, withSource } from "./told.ts";
import { offered, whole } from "./whole.ts";

const LINE_IN = bank("in", "In", "in", 8, "XLR", "line");
const LINE_OUT = bank("out", "Out", "out", 8, "XLR", "line");
const SLOTS = { single: 8, double: 8, quad: 8 };
const NETWORK = { speed: 1000, share: 0.75, provenance: "assumed" } as const;
const EIGHT = EIGHT_BY_EIGHT.id;
const THROUGH = ["out 1 x8 < in 1"];

const section = (
  name: string,
  role: MixSection["role"],
  count: number,
  from: readonly string[] = [],
): MixSection => ({ id: group(name), name, role, count, from: from.map(group), block: 1 });

const mixer = (...sections: readonly MixSection[]): Pick<DeviceType, "mixer"> => ({
  mixer: { sections, processing: { value: 0, unit: "ms", provenance: "standard" } },
});

/** Sets its outputs in runs of four. */
const FOURS = deviceType("fours", {
  banks: [LINE_IN, LINE_OUT],
  rules: [patch(range("out", 1, 8), [range("in", 1, 8)], 4)],
});

/** Joins two banks of so many jacks. */
const adder = (count: number, legs: readonly string[] = ["ina", "inb"]): DeviceType =>
  deviceType("adder", {
    banks: [
      ...legs.map((leg) => bank(leg, `In ${leg.slice(2).toUpperCase()}`, "in", count, "XLR", "line")),
      bank("out", "Out", "out", count, "XLR", "line"),
    ],
    rules: [wired("out", 1, "join", 1, count)],
    clock: "none",
    ...mixer(section("join", "join", count, legs)),
  });

/** Jacks on a network. */
const node = (name: string, more: Partial<LinkPort> = {}): DeviceType =>
  deviceType(name, {
    banks: [LINE_IN, LINE_OUT],
    ports: [port("x", SLOTS, { transport: "AES67", network: NETWORK, ...more })],
    rules: [wired("x", 1, "in", 1, 8), wired("out", 1, "x", 1, 8)],
  });

const one = (
  type: DeviceType,
  text: Omit<RigText, "devices">,
  set: readonly string[] = [],
  more = {},
): Show => rig({ types: [type], devices: { a: { name: "A", type: type.id, set, ...more } }, ...text });

const ids = (lines: readonly string[]): readonly string[] => lines.map((line) => line.split(": ")[0]!);
const labels = (lines: readonly string[]): readonly string[] => lines.filter((line) => !line.startsWith(" "));

describe("dark feeds", () => {
  test("[F1] what isn't assigned is offered to be assigned, and no mode", () => {
    const show = one(EIGHT_BY_EIGHT, { sources: ["Kick: a.in.7"], wants: ["One: a.out.1 < a.in.7"] });
    expect(offered(show, "dark-feed")).toEqual(["A: Out 1 takes In 7", "  devices a routing: out 1 < in 7"]);
  });

  test("[F1] a feed that any signal does for comes with the run of the one beside it", () => {
    const show = one(FOURS, {
      sources: ["Kick: a.in.1", "Snare: a.in.2"],
      wants: ["One: a.out.1 < a.in.1", "Two: a.out.2"],
    });
    expect(offered(show, "dark-feed")).toEqual([
      "A: Out 1–4 takes In 1–4",
      "  devices a routing: out 1 x4 < in 1",
    ]);
  });

  test("[F1] past the last jack, and for a pulled cable, nothing can be offered", () => {
    const long = one(EIGHT_BY_EIGHT, { wants: ["One: a.out.5"] }, [], { mode: "long" });
    expect(offered(long, "dark-feed")).toEqual([]);
    const pulled = analyse(
      rig({
        types: [LINK_BOX],
        devices: { a: { name: "A", type: "link-box" }, b: { name: "B", type: "link-box", clock: "x" } },
        cables: ["L1: a.x - b.x"],
        wants: ["One: b.out.1"],
      }),
      { cables: new Set(["L1"]) },
    );
    expect(fixesOf(pulled, only(pulled, "dark-feed"))).toEqual([]);
  });

  test("[F1] [W19] a switch that is off is one cause, whatever receivers are dark for it", () => {
    const show = rig({
      types: [node("node")],
      devices: {
        a: { name: "A", type: "node" },
        switch: { name: "Switch", type: "aes67-switch", off: true },
        b: { name: "B", type: "node", clock: "x" },
        c: { name: "C", type: "node", clock: "x" },
      },
      cables: ["N1: a.x - switch.p1", "N2: b.x - switch.p2", "N3: c.x - switch.p3"],
      sources: ["Kick: a.in.1"],
      streams: ["S: a.x.1 x1 > b.x.1, c.x.1"],
      wants: ["B: b.out.1", "C: c.out.1"],
    });
    expect(ids(told(show, "dark-feed"))).toEqual(["error dark-feed:error:off:switch"]);
  });

  test("[F1] a multicore that joins nothing is one cause, whichever of its ways are wanted", () => {
    const show = rig({
      types: [EIGHT_BY_EIGHT, AES3_DECK],
      devices: { a: { name: "A", type: EIGHT, set: THROUGH }, deck: { name: "Deck", type: "aes3-deck" } },
      cables: ["X1: a.out.1 - deck.in.1 x2"],
      wants: ["One: deck.out.1", "Three: deck.out.3"],
    });
    expect(ids(told(show, "dark-feed"))).toEqual(["error dark-feed:error:not-plugged:X1"]);
  });

  test("[F1] [J5] behind a join with one leg the leg is told", () => {
    expect(told(one(adder(8, ["ina"]), { wants: ["One: a.out.1"] }), "dark-feed")).toEqual([
      "error dark-feed:error:not-plugged:a:ina:jack:1: One is dark: not plugged at A In A 1",
    ]);
  });

  test("[F1] six feeds are named, and the seventh counted", () => {
    const wants = [1, 2, 3, 4, 5, 6, 7].map((n) => `W${n}: a.out.${n}`);
    expect(reasons(one(EIGHT_BY_EIGHT, { wants }), "dark-feed")).toEqual([
      "Nothing is assigned to A Out 1–7. Dark: W1 (A Out 1), W2 (A Out 2), W3 (A Out 3), W4 (A Out 4), W5 (A Out 5), W6 (A Out 6) and 1 more.",
    ]);
  });

  test("[F13] a setting that can't be held is told where the feed behind it arrives over another leg", () => {
    const show = rig({
      types: [EIGHT_BY_EIGHT, adder(8)],
      devices: {
        a: { name: "A", type: EIGHT, set: ["out 1 < gone 1"] },
        adder: { name: "Adder", type: "adder" },
      },
      cables: ["X1: a.out.1 - adder.ina.1"],
      sources: ["Kick: adder.inb.1"],
      wants: ["One: adder.out.1"],
    });
    expect(ids(told(show, "setting-idle"))).toEqual(["warning setting-idle:a:out"]);
  });
});

describe("times", () => {
  const ASSUMED = { value: 1, unit: "samples", provenance: "assumed" } as const;
  const ends = (name: string, more: Partial<LinkPort>): DeviceType =>
    deviceType(name, {
      banks: [LINE_IN, LINE_OUT],
      ports: [port("x", SLOTS, more)],
      rules: [wired("x", 1, "in", 1, 8), wired("out", 1, "x", 1, 8)],
    });
  const between = (sending: Partial<LinkPort>, receiving: Partial<LinkPort>): Show =>
    rig({
      types: [ends("sender", sending), ends("receiver", receiving)],
      devices: { a: { name: "A", type: "sender" }, b: { name: "B", type: "receiver", clock: "x" } },
      cables: ["L1: a.x - b.x"],
      sources: ["Kick: a.in.1"],
      wants: ["One: b.out.1"],
    });

  test("[F23] one assumed number is enough, at the sender's end or the receiver's", () => {
    const note = "note assumed-path: 1 of 1 wanted feed rests on assumed delays";
    const says = (device: string): string =>
      `Assumed numbers stand in ${device} (1 device type). Put in those of the makers' sheets before you rely on the times.`;
    expect(whole(between({ sendDelay: ASSUMED }, {}), "assumed-path").slice(0, 2)).toEqual([note, says("A")]);
    expect(whole(between({}, { receiveDelay: ASSUMED }), "assumed-path").slice(0, 2)).toEqual([
      note,
      says("B"),
    ]);
    // What isn't on the way doesn't count.
    expect(whole(between({ receiveDelay: ASSUMED }, { sendDelay: ASSUMED }), "assumed-path")).toEqual([]);
  });

  test("[F23] the cables on a stream's way count, each by its own length", () => {
    const show = rig({
      types: [node("node")],
      devices: {
        a: { name: "A", type: "node" },
        switch: { name: "Switch", type: "aes67-switch" },
        b: { name: "B", type: "node", clock: "x" },
      },
      cables: ["N1: a.x - switch.p1, 10 m, fibre", "N2: switch.p2 - b.x"],
      sources: ["Kick: a.in.1"],
      streams: ["S: a.x.1 x1 > b.x.1"],
      wants: ["One: b.out.1"],
    });
    expect(whole(show, "assumed-path").slice(0, 2)).toEqual([
      "note assumed-path: 1 of 1 wanted feed rests on assumed delays",
      "Assumed numbers stand in the delay per metre of fibre. Put in those of the makers' sheets before you rely on the times.",
    ]);
  });

  test("[F25] so do two more", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["ch 1 x3 < link1 1", "ch 9 x3 < link2 1"] },
        monitors: {
          name: "Monitors",
          type: "console-24",
          clock: "link2",
          set: ["link2 1 x8 < link1 1"],
        },
        box: { name: "Box", type: "box-32-16", mode: "three", clock: "a" },
      },
      cables: [
        "L1: house.link1 - box.a, 5 m",
        "L2: monitors.link1 - box.b, 5 m",
        "T1: monitors.link2 - house.link2, 5 m",
      ],
      sources: ["Kick: box.in.1", "Snare: box.in.2", "Hat: box.in.3"],
    });
    expect(reasons(show, "arrives-twice").map((reason) => /So .*?\./.exec(reason)?.[0])).toEqual([
      "So do 2 more, channels 1–3 and 9–11.",
    ]);
  });

  const limited = (show: Show, limit: number): Show => ({
    ...show,
    wants: show.wants.map((want) => ({ ...want, limit: ms(limit) })),
  });

  test("[F30] one mix on the way is named", () => {
    const show = rig({
      devices: { house: { name: "House", type: "console-24", set: ["ch 1 < in 1", "out 1 < mix 1"] } },
      sources: ["Kick: house.in.1"],
      mixes: ["Wedge: house.mix.1 < ch 1"],
      wants: ["One: house.out.1 < house.mix.1"],
    });
    expect(
      reasons(limited(show, 0.01), "over-latency").map((reason) => / by .*?;/.exec(reason)?.[0]),
    ).toEqual([" by House Mix 1 (Wedge);"]);
  });

  test("[F30] a limit is offered up to ten seconds, the most that a file holds", () => {
    const slow = (value: number): Show =>
      limited(
        one(
          deviceType("slow", {
            banks: [LINE_IN, LINE_OUT],
            rules: [
              {
                ...patch(range("out", 1, 8), [range("in", 1, 8)], 1),
                delay: { value, unit: "ms", provenance: "measured" },
              },
            ],
          }),
          { sources: ["Kick: a.in.1"], wants: ["One: a.out.1"] },
          ["out 1 < in 1"],
        ),
        1,
      );
    expect(offered(slow(10_000), "over-latency")).toEqual(["Allow One 10000 ms", "  wants one limit: 10000"]);
    expect(offered(slow(10_000.5), "over-latency")).toEqual([]);
  });
});

describe("what two consoles pass", () => {
  /** Kick and snare from box to box, first by a cable each, then by so many multicores, to a console each. */
  const passed = (multicores: number): Show => {
    const boxes = Array.from({ length: multicores + 2 }, (_, n) => `p${n}`);
    const last = boxes.at(-1)!;
    return rig({
      types: [EIGHT_BY_EIGHT],
      devices: {
        // The last box stands first in the show, so that the first terminal of the rig is on the way.
        ...Object.fromEntries(
          boxes.toReversed().map((box) => [box, { name: box.toUpperCase(), type: EIGHT, set: THROUGH }]),
        ),
        house: { name: "House", type: "console-24", set: ["ch 1 < in 1"] },
        monitors: { name: "Monitors", type: "console-24", set: ["ch 1 < in 1"] },
      },
      cables: [
        "X1: p0.out.1 - p1.in.1",
        "X2: p0.out.2 - p1.in.2",
        ...Array.from({ length: multicores }, (_, n) => `M${n}: p${n + 1}.out.1 - p${n + 2}.in.1 x2`),
        `H: ${last}.out.1 - house.in.1`,
        `M: ${last}.out.2 - monitors.in.1`,
      ],
      sources: ["Kick: p0.in.1", "Snare: p0.in.2"],
      channels: ["Kick: house.ch.1 < Kick", "Snare: monitors.ch.1 < Snare"],
    });
  };

  test("[F24] two losses, and the sixth of six", () => {
    expect(whole(passed(0), "common-loss").slice(0, 2)).toEqual([
      "note common-loss: Losing P1 darkens 2 feeds of 2 consoles; 1 other loss would too",
      "Feeds that pass there, by console. P1: 2 feeds (House 1, Monitors 1); P0: 2 feeds (House 1, Monitors 1).",
    ]);
    // Four boxes, and the two multicores: of those the first five are named.
    const [title, reason] = whole(passed(2), "common-loss");
    expect(title).toBe("note common-loss: Losing P3 darkens 2 feeds of 2 consoles; 5 other losses would too");
    expect(reason!.endsWith("Cable M0: 2 feeds (House 1, Monitors 1); and 1 more.")).toBe(true);
  });
});

describe("after an edit", () => {
  test("[E1] a type that allows less makes a cable too long", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 50 m"],
    });
    const types = show.types.map((each) =>
      each.id === "console-24"
        ? {
            ...each,
            ports: each.ports.map((link) => ({
              ...link,
              cables: link.cables.map((rule) => ({ ...rule, maxMetres: 40 })),
            })),
          }
        : each,
    );
    const before = analyse(show);
    expect(before.findings.filter(({ check }) => check === "cable-too-long")).toEqual([]);
    expect(only(reanalyse({ ...show, types }, before), "cable-too-long").title).toBe(
      "Cable L1 is 10 m too long",
    );
  });
});

describe("cables and clocks", () => {
  test("[F8] of two ends that allow the same the first is named", () => {
    const end = (name: string, provenance: "standard" | "assumed"): DeviceType =>
      deviceType(name, {
        ports: [port("x", SLOTS, { cables: [{ kind: "cat5e-shielded", maxMetres: 100, provenance }] })],
      });
    const show = rig({
      types: [end("first", "standard"), end("second", "assumed")],
      devices: { a: { name: "A", type: "first" }, b: { name: "B", type: "second", clock: "x" } },
      cables: ["L1: a.x - b.x, 120 m"],
    });
    expect(
      reasons(show, "cable-too-long").map((reason) => reason.endsWith("100 m there (standard).")),
    ).toEqual([true]);
  });

  test("[F15] [F16] a circle of clocks at the second end of a cable is told by F16 alone", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        b: { name: "B", type: "console-24", clock: "link1" },
        c: { name: "C", type: "console-24", clock: "link1" },
      },
      cables: ["T: b.link1 - c.link1, 5 m", "A: house.link1 - b.link2, 5 m"],
    });
    expect(told(show, "clock-mismatch")).toEqual([]);
    expect(told(show, "clock-source").filter((line) => line.startsWith("error"))).toHaveLength(1);
  });

  test("[F31] a share is told to a tenth of a per cent", () => {
    // 8 channels of 48 samples are 1,152 bytes, with what goes with them on the wire 1,230: 9.84 Mbit/s at 1,000 a second.
    const show = rig({
      types: [node("node", { network: { speed: 10, share: 0.8126, provenance: "assumed" } })],
      devices: { a: { name: "A", type: "node" }, b: { name: "B", type: "node", clock: "x" } },
      cables: ["N: a.x - b.x"],
      streams: ["S: a.x.1 x8 > b.x.1"],
    });
    expect(reasons(show, "network-load")).toEqual([
      "1 stream on the wire: “S” 9.84 Mbit/s. Of the 10 Mbit/s of A Port X audio may take 81.3 % (assumed).",
    ]);
  });
});

describe("records", () => {
  test("[F14] what names no group, and a stream to a device of no type", () => {
    const show = rig({
      types: [node("node")],
      devices: { a: { name: "A", type: "node" }, ghost: { name: "Ghost", type: "ghost?" } },
      streams: ["S: a.x.1 x1 > ghost.x.1"],
      wants: ["One: a.gone.1"],
    });
    const lines = told(show, "dangling");
    expect(lines.filter((line) => line.includes("stream"))).toEqual([]);
    expect(reasons(show, "dangling").filter((reason) => reason.includes("gone"))).toHaveLength(1);
  });

  test("[F2] a mix that lies at a jack gives the jack no name", () => {
    const show = one(
      EIGHT_BY_EIGHT,
      { sources: ["Kick: a.in.1"], mixes: ["Odd: a.in.1 < ch 1"], wants: ["One: a.out.1 < a.in.2"] },
      ["out 1 < in 1"],
    );
    expect(reasons(show, "wrong-feed")).toEqual(["A In 1 arrives there; A In 2 is wanted."]);
    // The first terminal of the rig is what out 1 takes now; in 2 has nothing that it could take instead.
    expect(labels(offered(show, "wrong-feed"))).toEqual(["Want A In 1 for One"]);
    const plugged = { ...show, mixes: [], sources: rigSources("Kick: a.in.1", "Snare: a.in.2") };
    expect(offered(plugged, "wrong-feed").slice(0, 2)).toEqual([
      "A: Out 1 takes In 2",
      "  devices a routing: out 1 < in 2",
    ]);
  });

  const rigSources = (...sources: readonly string[]): Show["sources"] =>
    rig({ devices: {}, sources }).sources;

  test("[F20] six names stand in full; of seven the last is counted", () => {
    const lonely = (count: number): readonly string[] =>
      reasons(
        one(EIGHT_BY_EIGHT, { sources: Array.from({ length: count }, (_, n) => `S${n + 1}: a.in.${n + 1}`) }),
        "plan-gap",
      );
    expect(lonely(6)).toEqual([
      "No console plans a channel for S1 (A In 1), S2 (A In 2), S3 (A In 3), S4 (A In 4), S5 (A In 5) and S6 (A In 6).",
    ]);
    expect(lonely(7)).toEqual([
      "No console plans a channel for S1 (A In 1), S2 (A In 2), S3 (A In 3), S4 (A In 4), S5 (A In 5), S6 (A In 6) and 1 more.",
    ]);
  });

  test("[F20] a source is planned where it lands on a channel, in a rig with a device of no type; a return is no channel", () => {
    const show = rig({
      devices: {
        ghost: { name: "Ghost", type: "ghost?" },
        house: { name: "House", type: "console-24", set: ["ch 1 < in 1"] },
      },
      sources: ["Kick: house.in.1"],
    });
    expect(labels(offered(show, "plan-gap"))).toEqual(["Plan House Channel 1 for Kick"]);
    const returning = deviceType("returning", {
      banks: [LINE_IN],
      rules: [patch(range("ch-return", 1, 2), [range("in", 1, 8)], 1)],
      ...mixer(section("ch", "channel", 2), section("ch-return", "return", 2, ["ch"])),
    });
    expect(
      offered(one(returning, { sources: ["Kick: a.in.1"] }, ["ch-return 1 < in 1"]), "plan-gap"),
    ).toEqual([]);
  });

  test("[F20] a named channel at which nothing arrives can't be filled; it is told by its number on its own console", () => {
    const show = rig({
      devices: {
        box: { name: "Box", type: "box-16-8", mode: "one" },
        house: { name: "House", type: "console-24" },
      },
      channels: ["Lost: house.ch.3"],
    });
    expect(reasons(show, "plan-gap")).toEqual(["Channel 3: Lost."]);
    expect(offered(show, "plan-gap")).toEqual([]);
  });
});

describe("what is offered makes nothing else worse", () => {
  test("[F27] a warning that would become an error", () => {
    const chained = deviceType("chained", {
      banks: [LINE_IN, LINE_OUT],
      ports: [port("x", SLOTS)],
      modes: [
        mode("plain", "Plain", [], { positions: [1, 2] }),
        mode("head", "Head", [wired("out", 1, "in", 1, 8)], { positions: [1] }),
      ],
      chain: 2,
      clock: group("x"),
    });
    const at = (position: number): Show =>
      rig({
        types: [chained, LINK_BOX],
        devices: {
          lead: { name: "Lead", type: "link-box" },
          box: { name: "Box", type: "chained", position },
        },
        cables: ["L: lead.x - box.x, 5 m"],
        sources: ["Kick: box.in.1"],
        wants: ["One: box.out.1"],
      });
    expect(labels(offered(at(1), "dark-feed"))).toEqual(["Switch Box to mode “Head”"]);
    expect(ids(told(at(2), "chain"))).toEqual(["warning chain:box"]);
    expect(offered(at(2), "dark-feed")).toEqual([]);
  });

  test("[F27] an error that would gather one channel more", () => {
    const desk = deviceType("desk", {
      banks: [LINE_IN],
      rules: [patch(range("ch", 1, 8), [range("in", 1, 8)], 4)],
      ...mixer(section("ch", "channel", 8)),
    });
    const show = one(
      desk,
      {
        sources: ["S1: a.in.1", "S2: a.in.2", "S5: a.in.5"],
        channels: ["First: a.ch.1 < S5", "Second: a.ch.2 < S2", "Sixth: a.ch.6 < S2"],
      },
      ["ch 1 x8 < in 1"],
    );
    // With channels 1–4 from in 5–8 the second would be as dark as the sixth is.
    expect(labels(offered(show, "wrong-feed"))).toEqual(["Plan S1 for A ch 1"]);
  });

  test("[F27] a loop on which one want more would hang", () => {
    const show = one(
      FOURS,
      {
        cables: ["X: a.out.8 - a.in.8"],
        sources: ["S1: a.in.1", "S4: a.in.4", "S5: a.in.5"],
        wants: ["One: a.out.1 < a.in.5", "Four: a.out.4"],
      },
      THROUGH,
    );
    expect(ids(told(show, "loop"))).toEqual(["error loop:a:in>a:out"]);
    expect(labels(offered(show, "wrong-feed"))).toEqual(["Want A In 1 for One"]);
  });

  test("[F27] an error that would name cables more", () => {
    const show = rig({
      types: [node("node")],
      devices: {
        a: { name: "A", type: "node" },
        ...Object.fromEntries(
          ["s1", "s2", "s3", "s4"].map((key) => [key, { name: key, type: "aes67-switch" }]),
        ),
        short: { name: "Short", type: "aes67-switch", off: true },
        b: { name: "B", type: "node", clock: "x", rate: 96000 },
        c: { name: "C", type: "node", clock: "x" },
      },
      cables: [
        "N1: a.x - s1.p1",
        "N2: s1.p2 - s2.p1",
        "N3: s2.p2 - s3.p1",
        "N4: s3.p2 - s4.p1",
        "N5: s4.p2 - b.x",
        "N6: s1.p3 - short.p1",
        "N7: short.p2 - s4.p3",
        "N8: short.p3 - c.x",
      ],
      sources: ["Kick: a.in.1"],
      streams: ["To B: a.x.1 x1 > b.x.1", "To C: a.x.1 x1 > c.x.1"],
      wants: ["One: c.out.1"],
    });
    expect(ids(told(show, "dark-feed", "clock-mismatch"))).toEqual([
      "error dark-feed:error:off:short",
      "error clock-mismatch:stream:a:b",
    ]);
    // Through the switch is the shorter way to B, which the signal doesn't get to for its rate.
    expect(offered(show, "dark-feed")).toEqual([]);
    expect(labels(offered({ ...show, streams: show.streams!.slice(1) }, "dark-feed"))).toEqual([
      "Switch Short on",
    ]);
  });

  test("[F4] a loop through two ports of a device: both are named, and what is set elsewhere stays", () => {
    const show = rig({
      devices: {
        house: {
          name: "House",
          type: "console-24",
          set: ["link1 1 x8 < link2 1", "link2 1 x8 < link1 1", "gone 1 < link1 1"],
        },
        monitors: {
          name: "Monitors",
          type: "console-24",
          clock: "link1",
          set: ["link1 1 x8 < link1 1", "link2 1 x8 < link2 1"],
        },
      },
      cables: ["T1: house.link1 - monitors.link1, 5 m", "T2: house.link2 - monitors.link2, 5 m"],
    });
    expect(offered(show, "loop").slice(0, 2)).toEqual([
      "Clear the settings of House Link 1 out 1–8; Link 2 out 1–8",
      "  devices house routing: gone 1 < link1 1",
    ]);
  });

  test("[F17] positions are put right with modes that leave the clock to the type", () => {
    const chained = deviceType("chained", {
      ports: [port("x", SLOTS), port("y", SLOTS)],
      modes: [mode("first", "First", [], { positions: [1] }), mode("later", "Later", [], { positions: [2] })],
      chain: 2,
      clock: group("x"),
    });
    const show = rig({
      types: [chained, LINK_BOX],
      devices: {
        lead: { name: "Lead", type: "link-box" },
        one: { name: "One", type: "chained" },
        two: { name: "Two", type: "chained" },
      },
      cables: ["L1: lead.x - one.x, 5 m", "L2: one.y - two.x, 5 m"],
    });
    expect(offered(show, "chain")).toEqual([
      "Number the chain of Two from 1 on",
      '  devices two mode: "later"',
      "  devices two position: 2",
    ]);
  });
});

describe("followers", () => {
  const KICK = id<SourceId>("kick");
  const CONVERT = { value: 0.3, unit: "ms", provenance: "measured" } as const;
  /** Its preamps go to a link and to AES3. */
  const box = deviceType("box", {
    banks: [
      bank("in", "In", "in", 8, "XLR", "mic", { convert: CONVERT }),
      bank("out", "Out", "out", 8, "XLR", "AES3"),
    ],
    ports: [port("x", SLOTS, { carriesPreamp: true })],
    rules: [wired("x", 1, "in", 1, 8), wired("out", 1, "in", 1, 8)],
  });
  const desk = (name: string, category: DeviceType["category"]): DeviceType =>
    deviceType(name, {
      category,
      banks: [bank("in", "In", "in", 8, "XLR", "AES3", { convertsRate: true })],
      ports: [port("x", SLOTS, { carriesPreamp: true }), port("y", SLOTS)],
      rules: [
        patch(range("ch", 1, 8), [range("x", 1, 8), range("y", 1, 8), range("in", 1, 8)], 1),
        patch(range("y", 1, 8), [range("y", 1, 8), range("mix", 1, 2)], 1),
      ],
      ...mixer(section("ch", "channel", 8), section("mix", "mix", 2, ["ch"])),
    });
  const shared = (
    other: DeviceType["category"],
    set: readonly string[],
    more: Omit<RigText, "devices"> = {},
    houseSet: readonly string[] = [],
  ): Show =>
    withSource(
      rig({
        types: [box, desk("desk", "console"), desk("other", other)],
        devices: {
          box: { name: "Box", type: "box" },
          house: { name: "House", type: "desk", clock: "x", set: ["ch 1 < x 1", ...houseSet] },
          monitors: { name: "Monitors", type: "other", clock: "y", set },
        },
        cables: [
          "L: house.x - box.x, 5 m",
          "Y: house.y - monitors.y, 5 m",
          "X: box.out.1 - monitors.in.1, 5 m, digital-110",
        ],
        sources: ["Kick: box.in.1"],
        channels: ["Kick: house.ch.1 < Kick", "Kick: monitors.ch.1 < Kick"],
        ...more,
      }),
      "kick",
      { preampOwner: "house" as DeviceId },
    );
  const following = (show: Show): readonly string[] =>
    (followers(analyse(show)).get(KICK) ?? []).map(({ channel }) => channel.console);

  test("[S2] the first jack of the rig, and digital all the way by AES3", () => {
    expect(following(shared("console", ["ch 1 < in 1"]))).toEqual(["monitors"]);
    // Only a console trims.
    expect(following(shared("processor", ["ch 1 < in 1"]))).toEqual([]);
  });

  test("[S2] a channel that gets a mix instead, or goes round in a loop, follows nobody", () => {
    expect(following(shared("console", ["ch 1 < y 1"], {}, ["y 1 < mix 1"]))).toEqual([]);
    expect(following(shared("console", ["ch 1 < y 1", "y 1 < y 1"], {}, ["y 1 < y 1"]))).toEqual([]);
  });

  test("[S1] an owner's own channel that goes round in a loop takes nothing from a preamp", () => {
    const show = shared("console", ["ch 1 < in 1", "y 1 < y 1"], {}, ["ch 1 < y 1", "y 1 < y 1"]);
    expect(following(show)).toEqual(["monitors"]);
  });

  test("[S3] without followers there is nothing to trim; a trim of nought has no sign", () => {
    const show = shared("console", ["ch 1 < in 1"]);
    expect(trimsAfter(analyse({ ...show, channels: [] }), KICK, 1)).toEqual([]);
    const channels = show.channels.map((channel) => ({ ...channel, trim: 0.3 }));
    // 0.1 and 0.2 are a little more than 0.3 as the machine counts.
    expect(trimsAfter(analyse({ ...show, channels }), KICK, 0.1 + 0.2).map(({ after }) => after)).toEqual([
      0,
    ]);
  });
});

describe("blocks", () => {
  test("[F34] a feed that is dark holds no block", () => {
    const show = one(
      FOURS,
      {
        sources: ["S1: a.in.1", "S5: a.in.5"],
        wants: ["One: a.out.1 < a.in.5", "Two: a.out.2"],
      },
      ["out 1 x4 < in 1"],
    );
    expect(told(show, "held-block")).toEqual([]);
  });

  test("[F33] an insert without a send of its own gets back nothing wrong", () => {
    const desk = deviceType("desk", {
      banks: [LINE_IN],
      rules: [patch(range("mix-back", 1, 2), [range("in", 1, 8)], 1)],
      ...mixer(
        section("ch", "channel", 2),
        section("mix", "mix", 2, ["ch"]),
        section("mix-send", "send", 1, ["mix"]),
        section("mix-back", "return", 2, ["mix"]),
      ),
    });
    const show = one(desk, { sources: ["S: a.in.2"] }, ["mix-back 1 x2 < in 1"], { inserts: ["mix-back 2"] });
    expect(told(show, "insert")).toEqual([]);
    expect(
      ids(
        told(
          {
            ...show,
            devices: show.devices.map((each) => ({
              ...each,
              inserts: [{ group: group("mix-back"), first: 1, count: 1 }],
            })),
            sources: rig({ devices: {}, sources: ["S: a.in.1"] }).sources,
          },
          "insert",
        ),
      ),
    ).toEqual(["warning insert:elsewhere:a"]);
  });

  const consoles = {
    house: { name: "House", type: "console-24", set: ["out 1 < mix 1"] },
    monitors: { name: "Monitors", type: "console-24", set: ["out 1 < mix 1"] },
  } as const;

  test("[F5] [J3] one jack behind a join that two consoles feed is shared", () => {
    const show = rig({
      types: [adder(1)],
      devices: { ...consoles, adder: { name: "Adder", type: "adder" } },
      cables: ["X1: house.out.1 - adder.ina.1", "X2: monitors.out.1 - adder.inb.1"],
    });
    expect(told(show, "shared-block")).toEqual([
      "warning shared-block:adder:out:jack:1: Adder Out 1 is shared by House and Monitors",
    ]);
  });

  test("[F22] what is shared is told as that", () => {
    const show = rig({
      types: [EIGHT_BY_EIGHT],
      devices: {
        ...consoles,
        a: { name: "A", type: EIGHT, set: ["out 1 x2 < in 1", "out 3 < gone 1"] },
      },
      cables: ["X1: house.out.1 - a.in.1", "X2: monitors.out.1 - a.in.2"],
    });
    expect(ids(told(show, "shared-block", "stranded"))).toEqual(["warning shared-block:a:out:jack:1"]);
  });

  /** Out 1 arrives; out 2 stands behind two legs, from A and from B. */
  const behind = (cables: readonly string[], wants: readonly string[] = []): readonly string[] =>
    told(
      rig({
        types: [EIGHT_BY_EIGHT, adder(2)],
        devices: {
          a: { name: "A", type: EIGHT, set: ["out 2 < gone 1"] },
          b: { name: "B", type: EIGHT, set: ["out 2 < gone 1"] },
          adder: { name: "Adder", type: "adder" },
        },
        cables,
        sources: ["Kick: adder.ina.1"],
        wants,
      }),
      "stranded",
    );

  test("[F22] behind a join nothing is stranded that one of the legs can still serve, nor what F1 tells of one of them", () => {
    const [a, b] = ["A: a.out.2 - adder.ina.2", "B: b.out.2 - adder.inb.2"];
    expect(ids(behind([a!, b!]))).toEqual(["note stranded:adder:out:jack"]);
    expect(behind([a!])).toEqual([]);
    expect(behind([a!, b!], ["One: a.out.2"])).toEqual([]);
  });

  test("[F22] four blocks are told in full", () => {
    const twos = deviceType("twos", {
      banks: [LINE_IN, bank("out", "Out", "out", 8, "XLR", "line", { block: 2 })],
      rules: [patch(range("out", 1, 8), [range("in", 1, 8)], 1)],
    });
    const odd = [1, 3, 5, 7];
    const show = one(
      twos,
      { sources: odd.map((n) => `S${n}: a.in.${n}`) },
      odd.flatMap((n) => [`out ${n} < in ${n}`, `out ${n + 1} < gone 1`]),
    );
    expect(reasons(show, "stranded")).toEqual([
      "Out: block 1–2 carries 1 signal and 2 carries none; block 3–4 carries 1 signal and 4 carries none; block 5–6 carries 1 signal and 6 carries none; block 7–8 carries 1 signal and 8 carries none. They go with their block and can't serve anything else.",
    ]);
  });
});
