/** F26: preamps, who sets them, and phantom power. */
import { describe, expect, test } from "vitest";
import type { Source, Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { LINK_BOX } from "../rigs/types.ts";
import { findingsOf, reasons, told, withSource } from "./told.ts";

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

  test("[F26] a console that sets both legs' preamps can use the direct one", () => {
    expect(told(owned(split("T1: house.link2 - truck.link2, 5 m"), "truck"), "preamp")).toEqual([]);
  });
});
