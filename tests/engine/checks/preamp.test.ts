/** F26: preamps, who sets them, and phantom power. */
import { describe, expect, test } from "vitest";
import type { Source, Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { LINK_BOX } from "../rigs/types.ts";
import { bank, wired } from "#engine/catalog/parts.ts";
import { EIGHT, port, type } from "../rigs/types.ts";
import { findingsOf, reasons, told, withSource } from "./told.ts";
import { offered, whole } from "./whole.ts";

const owned = (show: Show, owner: string): Show => ({
  ...show,
  sources: show.sources.map((source) => ({ ...source, preampOwner: owner as never })),
});

/**
 *     House link1 ──L1── a Box b ──L2── link1 Monitors        Kick, Snare in the box, Talk at House
 *     Truck coax interface ──C1── … no preamp control over coax
 */
const stage = rig({
  devices: {
    house: { name: "House", type: "console-24" },
    monitors: { name: "Monitors", type: "console-24", clock: "link1" },
    box: { name: "Box", type: "box-16-8", mode: "two" },
    near: { name: "Near", type: "aes10-interface" },
    far: { name: "Far", type: "aes10-interface", clock: "coax-in" },
    truck: { name: "Truck", type: "console-24", clock: "link1" },
    spare: { name: "Spare", type: "console-24" },
  },
  cables: [
    "L1: house.link1 - box.a, 50 m",
    "L2: monitors.link1 - box.b, 5 m",
    "L3: house.link2 - near.link, 5 m",
    "C1: near.coax-out - far.coax-in, 40 m, coax-75",
    "L4: truck.link1 - far.link, 5 m",
  ],
  sources: ["Kick: box.in.1", "Snare: box.in.2"],
});

describe("reach", () => {
  test("[F26] an owner that preamp control leads to, over one cable or more", () => {
    expect(told(owned(stage, "house"), "preamp")).toEqual([]);
    expect(told(owned(stage, "monitors"), "preamp")).toEqual([]);
  });

  test("[F26] an owner behind a link without preamp control, and one that isn't plugged at all", () => {
    expect(told(owned(stage, "truck"), "preamp")).toEqual([
      "error preamp:reach:truck:box: Truck can't set the preamps of 2 sources",
    ]);
    expect(reasons(owned(stage, "spare"), "preamp")).toEqual([
      "They stand in Box, and no cable whose both ports carry preamp control leads there from Spare: Kick and Snare.",
    ]);
    expect(findingsOf(owned(stage, "truck"), "preamp")[0]!.devices).toEqual(["box", "truck"]);
  });

  test("[F26] a cable that comes second in its port carries no control", () => {
    const second: Show = {
      ...stage,
      cables: [
        ...stage.cables,
        {
          ...stage.cables[0]!,
          id: "X" as never,
          ends: [{ device: "spare", group: "link1", first: 1 } as never, stage.cables[0]!.ends[1]],
        },
      ],
    };
    expect(told(owned(second, "spare"), "preamp")).toHaveLength(1);
  });

  test("[F26] a console's own jacks are always in its reach", () => {
    const local = rig({
      devices: { house: { name: "House", type: "console-24" } },
      sources: ["Talk: house.in.1"],
    });
    expect(told(owned(local, "house"), "preamp")).toEqual([]);
  });

  test("[F26] what has no microphone preamp is out of nobody's reach", () => {
    // The box's jacks are line inputs; a playback track has no jack.
    const line = rig({
      types: [LINK_BOX],
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "link-box" },
        recorder: { name: "Recorder", type: "recorder-64" },
      },
      sources: ["Keys: box.in.1", "Click: recorder.play.1"],
    });
    expect(told(owned(line, "house"), "preamp")).toEqual([]);
  });
});

describe("no owner", () => {
  test("[F26] microphones at a box that name nobody are one note", () => {
    expect(told(stage, "preamp")).toEqual([
      "note preamp:no-owner: 2 microphones at Box name no console that sets the gain",
    ]);
    expect(told(withSource(stage, "kick", { kind: "DI" }), "preamp")).toEqual([
      "note preamp:no-owner: 1 microphone at Box names no console that sets the gain",
    ]);
  });

  test("[F26] at a console the gain is its own business", () => {
    const local = rig({
      devices: { house: { name: "House", type: "console-24" } },
      sources: ["Talk: house.in.1"],
    });
    expect(told(local, "preamp")).toEqual([]);
  });
});

describe("phantom power", () => {
  const phantom = (kind: Source["kind"]): Show =>
    withSource(owned(stage, "house"), "kick", { kind, phantom: true });

  test("[F26] not into a line or playback source", () => {
    expect(told(phantom("line"), "preamp")).toEqual([
      "error preamp:phantom:kick: Phantom power is on for Kick, a line source",
    ]);
    expect(reasons(phantom("playback"), "preamp")).toEqual([
      "Box In 1 gets 48 V; a playback output isn't made for it.",
    ]);
    expect(told(phantom("microphone"), "preamp")).toEqual([]);
    expect(told(phantom("DI"), "preamp")).toEqual([]);
    expect(told(phantom("talkback"), "preamp")).toEqual([]);
  });

  /**
   *     Kick ── in 1 Split direct 1 ══D══ in Box ──L1── House
   *                        isolated 1 ══I══ in Truck box ──L2── Truck
   */
  const split = (...more: readonly string[]): Show =>
    withSource(
      rig({
        devices: {
          house: { name: "House", type: "console-24" },
          truck: { name: "Truck", type: "console-24" },
          split: { name: "Split", type: "split-16" },
          box: { name: "Box", type: "box-16-8", mode: "one" },
          truckbox: { name: "Truck box", type: "box-16-8", mode: "one" },
        },
        cables: [
          "L1: house.link1 - box.a, 50 m",
          "L2: truck.link1 - truckbox.a, 50 m",
          "D: split.direct.1 - box.in.1 x16, 5 m, multicore",
          "I: split.isolated.1 - truckbox.in.1 x16, 5 m, multicore",
          ...more,
        ],
        sources: ["Kick: split.in.1"],
      }),
      "kick",
      { phantom: true },
    );

  test("[F26] from the direct leg of a split, not from the isolated one (common practice)", () => {
    expect(told(owned(split(), "house"), "preamp")).toEqual([]);
    expect(told(owned(split(), "truck"), "preamp")).toEqual([
      "error preamp:leg:truck: Phantom power from Truck doesn't reach Kick",
    ]);
    expect(reasons(owned(split(), "truck"), "preamp")).toEqual([
      "The preamps that it sets, in Truck box, stand on the isolated leg of a split, which phantom doesn't pass: Kick. It has to come from the direct leg.",
    ]);
    expect(told(withSource(owned(split(), "truck"), "kick", { phantom: false }), "preamp")).toEqual([]);
  });

  test("[F26] where nobody is named, the isolated leg alone is as dark for phantom as with an owner", () => {
    const { cables, ...rest } = split();
    const isolated: Show = { ...rest, cables: cables.filter(({ tag }) => tag !== "D") };
    expect(whole(isolated, "preamp").slice(0, 3)).toEqual([
      "error preamp:leg:: Phantom power doesn't reach Kick",
      "All preamps there are, in Truck box, stand on the isolated leg of a split, which phantom doesn't pass: Kick. It has to come from the direct leg.",
      "at Truck box In 1; devices truckbox",
    ]);
    // With the direct leg plugged in it can get there, whoever is to switch it on.
    expect(told(split(), "preamp").filter((line) => line.startsWith("error"))).toEqual([]);
  });

  test("[F26] a console that sets both legs' preamps can use the direct one", () => {
    expect(told(owned(split("T1: house.link2 - truck.link2, 5 m"), "truck"), "preamp")).toEqual([]);
  });
});

describe("preamps behind what is passive", () => {
  /**
   *     Kick ── in 1 Split direct ══D══ in Box B ──LB── House out 1 ══X══ in Guest
   *                      isolated ══I══ in Box A ──LA── Truck
   */
  const split = (owner: string | null, ...more: readonly string[]): Show => {
    const show = rig({
      devices: {
        truck: { name: "Truck", type: "console-24" },
        house: { name: "House", type: "console-24", set: ["out 1 x2 < link1 1"] },
        guest: { name: "Guest", type: "console-24" },
        split: { name: "Split", type: "split-16" },
        boxa: { name: "Box A", type: "box-16-8", mode: "one" },
        boxb: { name: "Box B", type: "box-16-8", mode: "one" },
        mystery: { name: "Mystery", type: "gone?" },
      },
      cables: [
        "LA: truck.link1 - boxa.a, 5 m",
        "LB: house.link1 - boxb.a, 5 m",
        "D: split.direct.1 - boxb.in.1 x2, 5 m, multicore",
        "I: split.isolated.1 - boxa.in.1 x2, 5 m, multicore",
        "X: house.out.1 - guest.in.1, 5 m",
        ...more,
      ],
      sources: ["Kick: split.in.1", "Snare: split.in.2"],
    });
    return owner === null ? show : owned(show, owner);
  };
  const lit = (show: Show, ...names: readonly string[]): Show => ({
    ...show,
    sources: show.sources.map((source) => ({ ...source, phantom: names.includes(source.id) })),
  });

  test("[F26] nobody's microphones, with their preamps in the rig's order, whichever leg they stand behind", () => {
    expect(whole(split(null), "preamp")).toEqual([
      "note preamp:no-owner: 2 microphones at Box A and Box B name no console that sets the gain",
      "Kick and Snare. One console sets the analogue gain; every other one trims digitally by the opposite of each step.",
      "at Box A In 1, Box B In 1, Box A In 2, Box B In 2; devices boxa, boxb",
    ]);
  });

  test("[F26] what goes on from a preamp and comes to another jack is no second preamp of it", () => {
    expect(whole(owned(split(null), "guest"), "preamp")).toEqual([
      "error preamp:reach:guest:boxa:boxb: Guest can't set the preamps of 2 sources",
      "They stand in Box A and Box B, and no cable whose both ports carry preamp control leads there from Guest: Kick and Snare.",
      "at Box A In 1, Box B In 1, Box A In 2, Box B In 2; devices boxa, boxb, guest",
    ]);
  });

  test("[F26] [F27] one and more whose owner sets the isolated leg; who sets the direct one is offered", () => {
    expect(whole(lit(split("truck"), "kick"), "preamp")).toEqual([
      "error preamp:leg:truck: Phantom power from Truck doesn't reach Kick",
      "The preamps that it sets, in Box A, stand on the isolated leg of a split, which phantom doesn't pass: Kick. It has to come from the direct leg.",
      "at Box A In 1; devices truck, boxa",
    ]);
    expect(whole(lit(split("truck"), "kick", "snare"), "preamp")).toEqual([
      "error preamp:leg:truck: Phantom power from Truck doesn't reach 2 sources",
      "The preamps that it sets, in Box A, stand on the isolated leg of a split, which phantom doesn't pass: Kick and Snare. It has to come from the direct leg.",
      "at Box A In 1–2; devices truck, boxa",
    ]);
    expect(offered(lit(split("truck"), "kick"), "preamp")).toEqual([
      "Let House set the gain of Kick",
      '  sources kick preampOwner: "house"',
    ]);
  });

  test("[F26] a microphone that comes to a console's own jack as well has somebody who sets its gain", () => {
    const show = split(null);
    const cables = show.cables.map((cable) =>
      cable.id === ("I" as never)
        ? { ...cable, ends: [cable.ends[0], { ...cable.ends[1], device: "truck" }] as never }
        : cable,
    );
    expect(told({ ...show, cables }, "preamp")).toEqual([]);
  });

  test("[J4] [F26] of a join each way leads to its own jack", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        monitors: { name: "Monitors", type: "console-24" },
        join: { name: "Join", type: "join-8" },
      },
      cables: ["O1: join.out.1 - house.in.1, 5 m", "O2: join.out.2 - monitors.in.1, 5 m"],
      sources: ["Kick: join.a.1"],
    });
    expect(told(owned(show, "house"), "preamp")).toEqual([]);
    expect(told(owned(show, "monitors"), "preamp")).toEqual([
      "error preamp:reach:monitors:house: Monitors can't set the preamp of Kick",
    ]);
  });
});

describe("where control leads", () => {
  const MIC_BOX = type("mic-box", {
    // Its converter's time is on no sheet; what goes on over a port is digital all the same.
    banks: [bank("in", "In", "in", 8, "XLR", "mic")],
    ports: [port("x", EIGHT)],
    rules: [wired("x", 1, "in", 1, 8)],
  });
  const DESK = type("desk", { category: "console", ports: [port("x", EIGHT, { carriesPreamp: true })] });

  test("[F26] both ports of the cable must carry it, also to a box whose converters tell no delay", () => {
    const show = (carries: boolean): Show =>
      rig({
        types: [DESK, { ...MIC_BOX, ports: [port("x", EIGHT, { carriesPreamp: carries })] }],
        devices: { desk: { name: "Desk", type: "desk" }, box: { name: "Box", type: "mic-box", clock: "x" } },
        cables: ["L1: desk.x - box.x, 5 m"],
        sources: ["Kick: box.in.1"],
      });
    expect(told(owned(show(true), "desk"), "preamp")).toEqual([]);
    expect(told(owned(show(false), "desk"), "preamp")).toEqual([
      "error preamp:reach:desk:box: Desk can't set the preamp of Kick",
    ]);
  });

  test("[F26] [F14] the show's first device as an owner out of reach, and an owner that isn't there", () => {
    const show = rig({
      devices: {
        spare: { name: "Spare", type: "console-24" },
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      // The second cable in Box's port comes from Spare; it carries no control, whichever end is named first.
      cables: ["L1: house.link1 - box.a, 5 m", "L2: box.a - spare.link1, 5 m"],
      sources: ["Kick: box.in.1"],
    });
    expect(told(owned(show, "spare"), "preamp")).toEqual([
      "error preamp:reach:spare:box: Spare can't set the preamp of Kick",
    ]);
    expect(told(owned(show, "gone"), "preamp")).toEqual([]);
  });

  test("[F26] a line input that converts has no preamp to be set, and a line source with phantom is told by its jack", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        processor: { name: "Processor", type: "processor-8" },
      },
      sources: ["Keys: processor.in.3"],
    });
    expect(told(owned(show, "house"), "preamp")).toEqual([]);
    expect(whole(withSource(show, "keys", { kind: "line", phantom: true }), "preamp")).toEqual([
      "error preamp:phantom:keys: Phantom power is on for Keys, a line source",
      "Processor In 3 gets 48 V; a line output isn't made for it.",
      "at Processor In 3; devices processor",
    ]);
  });
});
