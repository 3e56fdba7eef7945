/** F27: fixes, check by check: a rig where some are offered, each tried here again, and one where none is. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { mode, patch, range, wired } from "#engine/catalog/parts.ts";
import { CHECKS } from "#engine/findings/checks.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import { applyEdits } from "#engine/model/edit.ts";
import type { ChannelPlan, Show } from "#engine/model/show.ts";
import { ms } from "#engine/model/units.ts";
import { rig } from "../rigs/build.ts";
import { EIGHT, EIGHT_BY_EIGHT, LINK_BOX, port, type as deviceType } from "../rigs/types.ts";
import * as rigs from "../rigs/index.ts";
import { withDevice, withSource } from "./told.ts";

interface Case {
  readonly check: string;
  readonly show: Show;
  /** The id of the finding that is looked at; left out: the first one of the check. */
  readonly finding?: string;
  /** In the order in which they are offered. */
  readonly labels: readonly string[];
}

const house = { name: "House", type: "console-24" };
const box = { name: "Box", type: "box-16-8", mode: "one" };
const L1 = "L1: house.link1 - box.a, 50 m";

/** A box that hands link slots on as one block of eight, or as two of four. */
const HALVES = deviceType("halves", {
  banks: LINK_BOX.banks,
  ports: [port("x", EIGHT)],
  modes: [
    mode("eight", "Eight", [wired("out", 1, "x", 1, 8)]),
    mode("halves", "Twice four", [wired("out", 1, "x", 1, 4), wired("out", 5, "x", 5, 4)]),
  ],
  clock: "x" as never,
});
/** Feeds a link slot by slot, from its jacks. */
const PICKER = deviceType("picker", {
  banks: LINK_BOX.banks,
  ports: [port("x", EIGHT)],
  rules: [patch(range("x", 1, 8), [range("in", 1, 8)], 1)],
});

const shared = (type: string): Show =>
  rig({
    types: [HALVES, LINK_BOX, PICKER],
    devices: {
      house: { ...house, set: ["out 1 x4 < mix 1"] },
      monitors: { name: "Monitors", type: "console-24", set: ["out 1 x4 < mix 1"] },
      picker: { name: "Picker", type: "picker", set: ["x 1 x8 < in 1"] },
      end: { name: "End", type, ...(type === "link-box" ? { clock: "x" } : {}) },
    },
    cables: [
      "X1: house.out.1 - picker.in.1 x4, 5 m",
      "X2: monitors.out.1 - picker.in.5 x4, 5 m",
      "L1: picker.x - end.x, 5 m",
    ],
  });

const tied = (clocks: readonly [string, string]): Show =>
  rig({
    devices: {
      house: { ...house, clock: clocks[0] },
      monitors: { name: "Monitors", type: "console-24", clock: clocks[1] },
    },
    cables: ["T1: house.link1 - monitors.link1, 5 m"],
  });

const chained = (...positions: readonly number[]): Show =>
  rig({
    devices: {
      house,
      ...Object.fromEntries(
        positions.map((position, n) => [
          `box${n + 1}`,
          { name: `Box ${n + 1}`, type: "box-16-8", mode: "chain", position },
        ]),
      ),
    },
    cables: positions.map(
      (_, n) => `L${n + 1}: ${n === 0 ? "house.link1" : `box${n}.b`} - box${n + 1}.a, 5 m`,
    ),
  });

const mixes = (...texts: readonly string[]): Show => rig({ devices: { house }, mixes: texts });

const planned = (set: readonly string[], channels: readonly string[] = []): Show =>
  rig({ devices: { house: { ...house, set }, box }, cables: [L1], sources: ["Kick: box.in.1"], channels });

const twice = (set: readonly string[]): Show =>
  rig({
    devices: {
      house: { ...house, set },
      monitors: { name: "Monitors", type: "console-24", clock: "link2", set: ["link2 1 x8 < link1 1"] },
      box: { ...box, mode: "two" },
    },
    cables: ["L1: house.link1 - box.a", "L2: monitors.link1 - box.b", "T1: monitors.link2 - house.link2"],
    sources: ["Kick: box.in.1"],
  });

const preamps = (owner: string | null): Show => {
  const show = rig({
    devices: { house, box, spare: { name: "Spare", type: "console-24" } },
    cables: [L1],
    sources: ["Kick: box.in.1"],
  });
  return owner === null ? show : withSource(show, "kick", { preampOwner: owner as never });
};

/** Kick in the box, House's gain, House and Monitors on it. */
const followed = (change: Partial<ChannelPlan>): Show => {
  const show = withSource(
    rig({
      devices: {
        house: { ...house, set: ["ch 1 < link1 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["ch 1 < link1 1"] },
        box: { ...box, mode: "two" },
      },
      cables: [L1, "L2: monitors.link1 - box.b, 5 m"],
      sources: ["Kick: box.in.1"],
      channels: ["Kick: house.ch.1 < Kick", "Kick: monitors.ch.1 < Kick"],
    }),
    "kick",
    { preampOwner: "house" as never },
  );
  return { ...show, channels: [show.channels[0]!, { ...show.channels[1]!, ...change }] };
};

/** One stream over one cable between two endpoints of that many megabits. */
function streamed(channels: number, packetTime: number, speed: number): Show {
  const show = rig({
    devices: {
      one: { name: "One", type: "aes67-endpoint", clock: "internal" },
      two: { name: "Two", type: "aes67-endpoint", clock: "net" },
    },
    cables: ["N1: one.net - two.net, 5 m, cat5e"],
    streams: [`A: one.net.1 x${channels} > two.net.1`],
  });
  return {
    ...show,
    streams: show.streams!.map((stream) => ({ ...stream, packetTime })),
    types: show.types.map((type) => ({
      ...type,
      ports: type.ports.map((port) =>
        port.network ? { ...port, network: { ...port.network, speed } } : port,
      ),
    })),
  };
}

const split = (direct: string): Show =>
  withSource(
    rig({
      devices: {
        house,
        truck: { name: "Truck", type: "console-24" },
        split: { name: "Split", type: "split-16" },
        box,
        truckbox: { name: "Truck box", type: "box-16-8", mode: "one" },
      },
      cables: [
        L1,
        "L2: truck.link1 - truckbox.a, 50 m",
        ...(direct ? [`D: split.direct.1 - ${direct}, 5 m, microphone`] : []),
        "I: split.isolated.1 - truckbox.in.1, 5 m, microphone",
      ],
      sources: ["Kick: split.in.1"],
    }),
    "kick",
    { phantom: true, preampOwner: "truck" as never },
  );

const wrong = (set: readonly string[], from: string): Show =>
  rig({ devices: { house: { ...house, set }, box }, cables: [L1], wants: [`Wedge: box.out.1 < ${from}`] });

const tooLong = (kind: string, ends: string, length: number): Show =>
  rig({
    devices: {
      house: { ...house, type: "console-48" },
      out: { name: "Breakout", type: "breakout-16", mode: "stage-first" },
      box,
    },
    cables: [`S1: ${ends}, ${length} m, ${kind}`],
  });

const CASES: readonly Case[] = [
  // The hole lies in the tap's own console.
  {
    check: "dark-feed",
    show: rig({ devices: { house, box }, cables: [L1], wants: ["Wedge: box.out.1 < house.mix.1"] }),
    labels: ["House: Link 1 out 1–8 takes Mix 1–8"],
  },
  // The hole lies where another console's signal is carried.
  {
    check: "dark-feed",
    show: rig({
      devices: {
        house,
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 9 x8 < mix 1"] },
        box,
      },
      cables: [L1, "T1: monitors.link1 - house.link2, 5 m"],
      wants: ["Wedge: box.out.2 < monitors.mix.2"],
    }),
    labels: ["House: Link 1 out 1–8 takes Link 2 in 9–16"],
  },
  {
    check: "dark-feed",
    show: planned([], ["Kick: house.ch.5 < Kick"]),
    labels: ["House: Channel 5 takes Link 1 in 1"],
  },
  {
    check: "dark-feed",
    show: rig({
      types: [EIGHT_BY_EIGHT],
      devices: { matrix: { name: "Matrix", type: "eight-by-eight", mode: "retired" } },
      sources: ["X: matrix.in.7"],
      wants: ["W: matrix.out.1"],
    }),
    // In mode “free” nothing is assigned yet, and two other modes feed the jack from one with nothing in it.
    labels: ["Switch Matrix to mode “Two fixed”"],
  },
  {
    check: "dark-feed",
    show: rig({
      devices: { house: { ...house, set: ["link1 1 x8 < mix 1"] }, box: { ...box, off: true } },
      cables: [L1],
      wants: ["Wedge: box.out.1 < house.mix.1"],
    }),
    labels: ["Switch Box on"],
  },
  {
    check: "dark-feed",
    show: rig({
      devices: {
        interface: { name: "Interface", type: "aes10-interface-src", rate: 96000 },
        recorder: { name: "Recorder", type: "recorder-64", rate: 96000 },
        house: { ...house, type: "console-48", set: ["link1 1 x48 < direct 1"] },
      },
      cables: [
        "L1: house.link1 - interface.link, 5 m",
        "C1: interface.coax-out - recorder.coax-in, 5 m, coax-75",
      ],
      wants: ["Track 40: recorder.tracks.40 < house.direct.40"],
    }),
    labels: ["Run Recorder and Interface at the show's rate"],
  },
  { check: "dark-feed", show: rig({ devices: { box }, wants: ["Wedge: box.out.1"] }), labels: [] },
  // Mix 3 can't come to slot 1 in blocks of eight.
  {
    check: "dark-feed",
    show: rig({ devices: { house, box }, cables: [L1], wants: ["Wedge: box.out.1 < house.mix.3"] }),
    labels: [],
  },

  {
    check: "wrong-feed",
    show: wrong(["link1 1 x8 < direct 1"], "house.mix.1"),
    labels: ["House: Link 1 out 1–8 takes Mix 1–8", "Want House Direct out 1 for Wedge"],
  },
  {
    check: "wrong-feed",
    show: wrong(["link1 1 x8 < mix 1"], "house.mix.3"),
    labels: ["Want House Mix 1 for Wedge"],
  },
  {
    check: "wrong-feed",
    show: rig({
      devices: { house: { ...house, set: ["ch 1 < link1 2"] }, box },
      cables: [L1],
      sources: ["Kick: box.in.1", "Snare: box.in.2"],
      channels: ["Kick: house.ch.1 < Kick"],
    }),
    labels: ["House: Channel 1 takes Link 1 in 1", "Plan Snare for House Channel 1"],
  },
  // A tap arrives at the channel, and the planned source is nowhere to be had: nothing can be planned instead.
  {
    check: "wrong-feed",
    show: rig({
      devices: {
        house: { ...house, set: ["ch 1 < link1 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
        box,
      },
      cables: ["T1: house.link1 - monitors.link1, 5 m"],
      sources: ["Kick: box.in.1"],
      channels: ["Kick: house.ch.1 < Kick"],
    }),
    labels: [],
  },

  {
    check: "clock-mismatch",
    show: rig({ devices: { house, box: { ...box, rate: 44100 } }, cables: [L1] }),
    labels: ["Run Box at the show's rate"],
  },
  {
    check: "clock-mismatch",
    show: rig({ devices: { house, box: { ...box, clock: "internal" } }, cables: [L1] }),
    labels: ["Let Box follow Link A", "Let House follow Link 1"],
  },
  // The rate is the type's own affair: neither device has one that could be taken away.
  {
    check: "clock-mismatch",
    show: rig({
      devices: {
        house: { ...house, set: ["link1 1 x8 < mix 1"] },
        converter: { name: "Converter", type: "aes3-converter", mode: "low" },
        deck: { name: "Deck", type: "aes3-deck" },
      },
      types: [
        deviceType("aes3-deck", {
          banks: [{ ...LINK_BOX.banks[0]!, level: "AES3", perJack: 2, count: 2 }],
        }),
      ],
      cables: ["L1: house.link1 - converter.link, 5 m", "X1: converter.out.1 - deck.in.1, 3 m, digital-110"],
    }),
    labels: [],
  },

  {
    check: "clock-source",
    show: tied(["link1", "link1"]),
    labels: ["Let House run on its own clock", "Let Monitors run on its own clock"],
  },
  {
    check: "clock-source",
    show: rig({
      devices: { house, box: { ...box, mode: "two" } },
      cables: ["L1: house.link1 - box.b, 50 m"],
    }),
    labels: ["Let Box follow Link B"],
  },
  // The other port's far end follows the box itself.
  {
    check: "clock-source",
    show: rig({
      devices: { house: { ...house, clock: "link1" }, box: { ...box, mode: "two" } },
      cables: ["L1: house.link1 - box.b, 50 m"],
    }),
    labels: [],
  },

  {
    check: "double-want",
    show: rig({ devices: { house }, wants: ["Wedge: house.out.1", "Fill: house.out.1"] }),
    labels: ["Drop the want “Wedge”", "Drop the want “Fill”"],
  },
  {
    check: "double-want",
    show: rig({ devices: { house }, wants: ["A: house.out.1", "B: house.out.1", "C: house.out.1"] }),
    labels: [],
  },

  {
    check: "loop",
    show: rigs.R45.show,
    labels: ["Clear the settings of House Link 2 out 1–8", "Clear the settings of Monitors Link 1 out 1–8"],
  },
  // Fixed wiring and a cable: nothing is set.
  {
    check: "loop",
    show: rig({
      types: [EIGHT_BY_EIGHT],
      devices: { matrix: { name: "Matrix", type: "eight-by-eight", mode: "fixed" } },
      cables: ["X1: matrix.out.1 - matrix.in.7, 5 m"],
    }),
    labels: [],
  },

  {
    check: "used-twice",
    show: rig({
      devices: { house, monitors: { name: "Monitors", type: "console-24" }, box },
      cables: [L1, "L2: monitors.link1 - box.a, 50 m"],
    }),
    labels: ["Unplug cable L2", "Unplug cable L1"],
  },
  {
    check: "used-twice",
    show: rig({ devices: { house }, sources: ["Talk: house.in.1", "Guest: house.in.1"] }),
    labels: [],
  },

  {
    check: "over-capacity",
    show: rig({
      rate: 96000,
      devices: { house: { ...house, set: ["link1 25 x8 < mix 1"] }, box },
      cables: [L1],
    }),
    labels: ["Clear the settings of House past the last slot"],
  },
  {
    check: "over-capacity",
    show: rig({
      devices: {
        house: { ...house, rate: 96000, set: ["link1 25 x8 < mix 1"] },
        box: { ...box, rate: 96000 },
      },
      cables: [L1],
    }),
    labels: ["Run House and Box at the show's rate", "Clear the settings of House past the last slot"],
  },
  // A wanted jack takes from the slot: without the setting it would be dark for another cause.
  {
    check: "over-capacity",
    show: rig({
      rate: 96000,
      devices: { house: { ...house, set: ["out 1 < link1 30"] }, box },
      cables: [L1],
      wants: ["Wedge: house.out.1"],
    }),
    labels: [],
  },

  // Microphone cable for short runs, digital audio cable for long ones: common practice.
  {
    check: "cable-too-long",
    show: tooLong("microphone", "house.stage - out.stage", 60),
    labels: ["Make cable S1 110 Ω digital audio cable"],
  },
  { check: "cable-too-long", show: tooLong("microphone", "house.stage - out.stage", 120), labels: [] },
  {
    check: "cable-wrong-kind",
    show: tooLong("cat5e", "house.link1 - box.a", 60),
    labels: ["Make cable S1 Cat 5e, shielded"],
  },
  { check: "cable-wrong-kind", show: tooLong("cat5e", "house.link1 - box.a", 101), labels: [] },
  {
    check: "cable-joins-nothing",
    show: tooLong("cat5e-shielded", "house.link1 - out.pm", 5),
    labels: ["Take cable S1 out"],
  },

  {
    check: "chain",
    show: chained(1, 1),
    labels: ["Number the chain of Box 2 from 1 on"],
  },
  {
    check: "chain",
    show: rig({
      devices: {
        house: { ...house, type: "console-48" },
        tower: { name: "Tower", type: "breakout-16", mode: "stage-first" },
        bar: { name: "Bar", type: "breakout-16", mode: "stage-first", position: 2 },
      },
      cables: [
        "S1: house.stage - tower.stage, 5 m, digital-110",
        "S2: tower.stage-thru - bar.stage, 5 m, digital-110",
      ],
    }),
    labels: ["Switch Bar to the mode for position 2", "Number the chain of Bar from 1 on"],
  },
  { check: "chain", show: chained(1, 2, 3, 4), labels: [] },

  {
    check: "bus-use",
    show: mixes("Wedge: house.mix.1 < ch 1", "Fill: house.mix.1 < ch 2"),
    labels: ["Move “Fill” to Mix 2", "Take “Wedge” out", "Take “Fill” out"],
  },
  {
    check: "bus-use",
    show: mixes("Wedge: house.mix.1 < ch 1", "Ears: house.mix.2+3 < ch 2"),
    labels: ["Move “Ears” to Mix 3–4"],
  },
  // Something takes from the misaligned pair, which would go silent.
  {
    check: "bus-use",
    show: rig({
      devices: { house: { ...house, set: ["out 1 x2 < mix 2"] } },
      mixes: ["Ears: house.mix.2+3 < ch 2"],
    }),
    labels: [],
  },

  {
    check: "mix-member-refused",
    show: mixes("Delay: house.mtx.1 < main 1, ch 3"),
    labels: ["Take 1 member out of “Delay”"],
  },

  {
    check: "insert",
    show: rig({ devices: { house: { ...house, inserts: ["ch-return 1 x2"] } } }),
    labels: ["Take 2 inserts of House out"],
  },

  {
    check: "preamp",
    show: preamps("spare"),
    labels: ["Let House set the gain of Kick"],
  },
  { check: "preamp", show: preamps(null), labels: ["Let House set the gain of Kick"] },
  {
    check: "preamp",
    show: withSource(preamps("house"), "kick", { kind: "line", phantom: true }),
    labels: ["Take phantom power off Kick"],
  },
  { check: "preamp", show: split("box.in.1"), labels: ["Let House set the gain of Kick"] },
  { check: "preamp", show: split(""), labels: [] },

  {
    check: "dangling",
    show: rig({ devices: { house }, wants: ["Wedge: nobody.out.1"] }),
    labels: ["Take the want “Wedge” out"],
  },
  {
    check: "dangling",
    show: rig({
      devices: { house: { ...house, set: ["out 1 < mix 1"] } },
      wants: ["Wedge: house.out.1 < house.mix.99"],
    }),
    labels: ["Let anything do for Wedge"],
  },
  {
    check: "dangling",
    show: withDevice(rig({ devices: { house } }), "house", { place: "attic" as never }),
    labels: ["Put House in Stage"],
  },
  {
    check: "dangling",
    show: rig({ devices: { house: { ...house, mode: "retired" } } }),
    labels: ["Switch House to mode “Normal”"],
  },
  {
    check: "dangling",
    show: mixes("Wedge: house.mix.1 < ch 1, ch 99"),
    labels: ["Take 1 lost member out of “Wedge”"],
  },
  {
    check: "dangling",
    show: rig({ devices: { house }, cables: ["L1: house.link1 - nobody.a, 5 m"] }),
    labels: ["Take cable L1 out"],
  },
  {
    check: "dangling",
    show: rig({
      devices: { house, end: { name: "End", type: "aes67-endpoint" } },
      streams: ["Tracks: house.link1.1 x8 > end.net.1"],
    }),
    labels: ["Take the stream “Tracks” out"],
  },
  {
    check: "dangling",
    show: rig({
      devices: { one: { name: "One", type: "aes67-endpoint" }, two: { name: "Two", type: "aes67-endpoint" } },
      streams: ["Tracks: one.net.1 x8 > nobody.net.1, two.net.1, two.link.1"],
    }),
    labels: ["Take 2 lost receivers out of “Tracks”"],
  },
  {
    check: "dangling",
    show: rig({
      devices: { one: { name: "One", type: "aes67-endpoint" } },
      streams: ["Tracks: one.net.1 x8 > nobody.net.1"],
    }),
    labels: ["Take the stream “Tracks” out"],
  },
  {
    check: "dangling",
    show: rig({ devices: { house }, groups: ["Mains: house.out.1, house.out.9, nobody.out.1"] }),
    labels: ["Take 2 lost members out of “Mains”"],
  },
  { check: "dangling", show: rig({ devices: { mystery: { name: "Mystery", type: "gone?" } } }), labels: [] },

  {
    check: "arrives-twice",
    show: twice(["ch 1 < link1 1", "ch 2 < link2 1"]),
    labels: ["House: Channel 2 takes Link 1 in 1"],
  },
  // Channels that are wired inside can't take another way.
  {
    check: "arrives-twice",
    show: rig({
      types: [
        LINK_BOX,
        deviceType("fixed-desk", {
          banks: [LINK_BOX.banks[0]!],
          ports: [port("x", EIGHT)],
          mixer: {
            sections: [{ id: "ch" as never, name: "Channel", role: "channel", count: 2, from: [], block: 8 }],
            processing: { value: 0, unit: "ms", provenance: "assumed" },
          },
          rules: [wired("ch", 1, "in", 1, 1), wired("ch", 2, "x", 1, 1)],
        }),
      ],
      devices: {
        desk: { name: "Desk", type: "fixed-desk" },
        box: { name: "Box", type: "link-box", clock: "x" },
        split: { name: "Split", type: "split-16" },
      },
      cables: [
        "L1: desk.x - box.x, 5 m",
        "X1: split.direct.1 - desk.in.1, 1 m, microphone",
        "X2: split.isolated.1 - box.in.1, 5000 m, microphone",
      ],
      sources: ["Kick: split.in.1"],
    }),
    labels: [],
  },

  {
    check: "shared-block",
    show: shared("halves"),
    finding: "shared-block:end:out:jack:1",
    labels: ["Switch End to mode “Twice four”"],
  },
  {
    check: "shared-block",
    show: shared("link-box"),
    finding: "shared-block:end:out:jack:1",
    labels: [],
  },

  {
    check: "set-twice",
    show: rig({ devices: { house: { ...house, set: ["out 1 x2 < mix 1", "out 2 < mix 5"] } } }),
    labels: ["Drop what is set over at House"],
  },
  {
    check: "setting-idle",
    show: rig({ devices: { house: { ...house, set: ["link1 5 x8 < mix 1", "out 1 < mix 1"] } } }),
    labels: ["Take the settings without effect off House"],
  },
  {
    check: "setting-idle",
    show: rig({
      devices: {
        processor: { name: "Processor", type: "processor-8", mode: "four", set: ["out 1 x8 < in 1"] },
      },
    }),
    labels: [
      "Switch Processor to mode “Eight ways from eight inputs”",
      "Take the settings without effect off Processor",
    ],
  },

  {
    check: "labels",
    show: rig({ devices: { house, other: { ...box, name: "house" } } }),
    labels: ["Label it house 2"],
  },
  {
    check: "labels",
    show: (() => {
      const show = rig({
        devices: { house, box: { ...box, mode: "two" } },
        cables: [L1, "L2: house.link2 - box.b, 5 m"],
      });
      return { ...show, cables: show.cables.map((cable) => ({ ...cable, tag: "L1" })) };
    })(),
    labels: ["Label it L2"],
  },
  {
    check: "labels",
    show: (() => {
      const show = rig({ devices: { house, box }, cables: [L1] });
      return { ...show, cables: show.cables.map((cable) => ({ ...cable, tag: "" })) };
    })(),
    labels: ["Label it K1"],
  },
  {
    check: "labels",
    show: withSource(rig({ devices: { house }, sources: ["Vox 1: house.in.1", "Vox: house.in.2"] }), "vox", {
      name: "vox 1",
    }),
    labels: ["Label it vox 2"],
  },

  {
    check: "plan-gap",
    show: planned(["ch 3 < link1 1"]),
    labels: ["Plan House Channel 3 for Kick"],
  },
  {
    check: "plan-gap",
    show: planned(["ch 3 < link1 1"], ["Bass drum: house.ch.3"]),
    labels: [],
  },
  { check: "plan-gap", show: planned([]), labels: [] },

  {
    check: "follower-trim",
    show: followed({}),
    labels: ["Let 1 channel of Monitors trim against the gain"],
  },
  // No edit stretches a trim.
  { check: "follower-trim", show: followed({ follows: true, trim: 24 }), labels: [] },

  // 40 channels in packets of 0.125 ms: 52.992 Mbit/s on the wire; in 0.25 ms, at which they fit, 48.576.
  { check: "network-load", show: streamed(40, 0.125, 66), labels: ["Send “A” in packets of 0.25 ms"] },
  { check: "network-load", show: streamed(40, 0.25, 60), labels: [] },
  { check: "packet-too-big", show: streamed(11, 1, 1000), labels: ["Send “A” in packets of 0.333 ms"] },
  { check: "packet-too-big", show: streamed(64, 0.25, 1000), labels: ["Send “A” in packets of 0.125 ms"] },
  { check: "packet-too-big", show: streamed(81, 0.125, 1000), labels: [] },

  // A link of three samples and 50 m of cable: 0.0625 + 0.0003 ms. Out of the console it is 0.25 ms.
  {
    check: "arrive-apart",
    show: rig({
      devices: { house: { ...house, set: ["out 1 < mix 1", "link1 1 x8 < mix 1"] }, box },
      cables: [L1],
      groups: ["Fills: house.out.1, box.out.1"],
    }),
    labels: ["Allow “Fills” 0.063 ms"],
  },
  {
    check: "over-latency",
    show: (() => {
      const show = rig({
        devices: { house: { ...house, set: ["out 1 < mix 1"] } },
        wants: ["Fill: house.out.1"],
      });
      return { ...show, settings: { ...show.settings, latencyLimit: ms(0.1) } };
    })(),
    labels: ["Allow Fill 0.25 ms"],
  },

  // What nobody can work out from the show.
  {
    check: "stranded",
    show: rig({ devices: { house: { ...house, set: ["link1 1 x3 < main 1"] } } }),
    labels: [],
  },
  {
    check: "cable-length-unknown",
    show: rig({ devices: { house, box }, cables: ["L1: house.link1 - box.a"] }),
    labels: [],
  },
  {
    check: "held-block",
    show: rig({
      devices: { house: { ...house, set: ["link1 1 x8 < mix 1"] }, box },
      cables: [L1],
      wants: ["Vocal: box.out.1 < house.mix.1", "Drums: box.out.3 < house.mix.11"],
    }),
    labels: [],
  },
  {
    check: "common-loss",
    show: rig({
      devices: {
        house: { ...house, set: ["link1 1 x8 < mix 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
        box: { ...box, mode: "two" },
      },
      cables: [L1, "L2: monitors.link1 - box.b, 5 m"],
      wants: ["Fill: box.out.1", "Wedge: box.out.5"],
    }),
    labels: [],
  },
  {
    check: "assumed-path",
    show: rig({ devices: { house: { ...house, set: ["out 1 < mix 1"] } }, wants: ["Fill: house.out.1"] }),
    labels: [],
  },
];

/** Checks whose findings always have a way out, and those whose findings never do. */
const ALWAYS = new Set([
  "insert",
  "cable-joins-nothing",
  "mix-member-refused",
  "set-twice",
  "labels",
  "setting-idle",
  "arrive-apart",
  "over-latency",
]);
const NEVER = new Set(["held-block", "stranded", "cable-length-unknown", "common-loss", "assumed-path"]);

describe("fixes", () => {
  test.each(CASES.map((each, n) => ({ n: n + 1, ...each })))(
    "[F27] $check, case $n: what is offered clears the finding and adds no error",
    ({ check, show, finding: wanted, labels }) => {
      const before = analyse(show);
      const finding = before.findings.find((each) => each.check === check && (wanted ?? each.id) === each.id);
      if (!finding) throw new Error(`the rig has no finding of ${check}`);
      const fixes = fixesOf(before, finding);
      expect(fixes.map(({ label }) => label)).toEqual(labels);
      const errors = before.findings.filter(({ severity }) => severity === "error").map(({ id }) => id);
      for (const { edits } of fixes) {
        const after = analyse(applyEdits(show, edits)).findings;
        expect(after.map(({ id }) => id)).not.toContain(finding.id);
        expect(errors).toEqual(
          expect.arrayContaining(after.filter(({ severity }) => severity === "error").map(({ id }) => id)),
        );
      }
    },
  );

  test("[F27] every check has a case with a fix and one without, unless its findings always or never have one", () => {
    const offered = new Set(CASES.filter(({ labels }) => labels.length > 0).map(({ check }) => check));
    const refused = new Set(CASES.filter(({ labels }) => labels.length === 0).map(({ check }) => check));
    const ids = CHECKS.map(({ id }) => id);
    expect(ids.filter((id) => !offered.has(id) && !NEVER.has(id))).toEqual([]);
    expect(ids.filter((id) => !refused.has(id) && !ALWAYS.has(id))).toEqual([]);
  });

  test("[F27] a proposal that would break another feed isn't offered", () => {
    // Dropping monitors' block for house's own mix would darken what monitors want there.
    const show = rig({
      devices: {
        house: { ...house, set: ["link1 1 x8 < link2 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
        box,
      },
      cables: [L1, "T1: monitors.link1 - house.link2, 5 m"],
      wants: ["Wedge: box.out.1 < house.mix.1", "Ears: box.out.2 < monitors.mix.2"],
    });
    const analysis = analyse(show);
    const finding = analysis.findings.find(({ check }) => check === "wrong-feed")!;
    expect(fixesOf(analysis, finding).map(({ label }) => label)).toEqual(["Want Monitors Mix 1 for Wedge"]);
  });

  test("[F27] what would add a feed to an error that is told already isn't offered, though its id stays the same", () => {
    // Output 2 takes input 2 and is plugged in there. Cleared, it is one more output that nothing is assigned to.
    const looped = (...wants: readonly string[]): readonly string[] => {
      const show = rig({
        types: [EIGHT_BY_EIGHT],
        devices: { matrix: { name: "Matrix", type: "eight-by-eight", mode: "free", set: ["out 2 < in 2"] } },
        cables: ["A: matrix.out.2 - matrix.in.2"],
        wants,
      });
      const before = analyse(show);
      const dark = before.findings.filter(({ check }) => check === "dark-feed").map(({ id }) => id);
      expect(dark).toEqual(["dark-feed:error:nothing-assigned:matrix:out:jack:1"]);
      const [loop] = before.findings.filter(({ check }) => check === "loop");
      return fixesOf(before, loop!).map(({ edits }) => edits.map(({ kind }) => kind).join());
    };
    expect(looped("One: matrix.out.1")).toEqual(["put"]);
    expect(looped("One: matrix.out.1", "Two: matrix.out.2")).toEqual([]);
  });

  test("[F27] the show itself is left alone", () => {
    const show = wrong(["link1 1 x8 < direct 1"], "house.mix.1");
    const saved = JSON.stringify(show);
    const analysis = analyse(show);
    for (const finding of analysis.findings) fixesOf(analysis, finding);
    expect(JSON.stringify(show)).toBe(saved);
  });
});
