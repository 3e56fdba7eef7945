/** F20 to F22: what the plan leaves open, labels, and stranded slots. */
import { describe, expect, test } from "vitest";
import { metres } from "#engine/model/units.ts";
import type { Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { findingsOf, reasons, told, withDevice } from "./told.ts";

describe("plan gaps", () => {
  const planned = (...channels: readonly string[]): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["ch 1 x8 < link1 1"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
        recorder: { name: "Recorder", type: "recorder-64" },
      },
      cables: ["L1: house.link1 - box.a, 50 m"],
      sources: ["Kick: box.in.1", "Snare: box.in.2", "Hat: box.in.3", "Talk: house.in.1"],
      channels,
      wants: ["Track: recorder.tracks.1 < box.in.3"],
    });

  test("[F20] sources without a channel are told device by device; what a want takes is planned", () => {
    expect(told(planned(), "plan-gap")).toEqual([
      "note plan-gap:source:box: 2 sources at Box have no channel",
      "note plan-gap:source:house: 1 source at House has no channel",
    ]);
    expect(reasons(planned("Kick: house.ch.1 < Kick", "Talk: house.ch.9 < Talk"), "plan-gap")).toEqual([
      "No console plans a channel for Snare (Box In 2).",
    ]);
  });

  test("[F20] a channel with a name and no source; one without either is just free", () => {
    const all = ["Kick: house.ch.1 < Kick", "Snare: house.ch.2 < Snare", "Talk: house.ch.9 < Talk"];
    expect(told(planned(...all, "Guest: house.ch.3", " : house.ch.4"), "plan-gap")).toEqual([
      "note plan-gap:channel:house: 1 channel of House has a name and no source",
    ]);
    expect(reasons(planned(...all, "Guest: house.ch.3", "Other: house.ch.5"), "plan-gap")).toEqual([
      "Channel 3, 5: Guest and Other.",
    ]);
    expect(told(planned(...all), "plan-gap")).toEqual([]);
  });
});

describe("labels", () => {
  const two = (name: string): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "two" },
        other: { name, type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 5 m", "L2: house.link2 - other.a, 5 m"],
      sources: ["Kick: box.in.1", "Snare: box.in.2"],
    });
  const tagged = (tag: string): Show => {
    const show = two("Second");
    return { ...show, cables: show.cables.map((cable) => (cable.id === "L2" ? { ...cable, tag } : cable)) };
  };

  test("[F21] labels of their own, tags and names apart, are no finding", () => {
    // A cable may bear a device's name, and a source a cable's tag.
    expect(told(two("L1"), "labels")).toEqual([]);
  });

  test("[F21] one tag on two cables, whatever the case and space", () => {
    expect(told(tagged("l1 "), "labels")).toEqual(["warning labels:cable:l1: 2 cables bear the tag L1"]);
    expect(reasons(tagged("L1"), "labels")).toEqual([
      "They run from House Link 1 to Box Link A and from House Link 2 to Second Link A. Who pulls L1 can't tell which.",
    ]);
  });

  test("[F21] one name on two devices, and on two sources", () => {
    expect(told(two("box"), "labels")).toEqual(["warning labels:device:box: 2 devices are called Box"]);
    const show = two("Second");
    const kicks = { ...show, sources: show.sources.map((source) => ({ ...source, name: "Kick" })) };
    expect(told(kicks, "labels")).toEqual(["warning labels:source:kick: 2 sources are called Kick"]);
    expect(reasons(kicks, "labels")).toEqual([
      "They stand at Box In 1 and Box In 2; on an input list they read the same.",
    ]);
  });

  test("[F21] cables without a tag are one note", () => {
    expect(told(tagged(" "), "labels")).toEqual(["note labels:untagged: 1 cable bears no tag"]);
    const none = { ...two("Second"), cables: two("Second").cables.map((cable) => ({ ...cable, tag: "" })) };
    expect(told(none, "labels")).toEqual(["note labels:untagged: 2 cables bear no tag"]);
  });
});

describe("stranded slots", () => {
  /**
   * Main 1–3 fill three slots of the block 1–8 of House link 1, and no setting can take the other five.
   */
  const mains = rig({
    devices: {
      house: {
        name: "House",
        type: "console-24",
        set: ["link1 1 x3 < main 1", "link1 9 x8 < mix 1", "out 1 < mix 1"],
      },
      box: { name: "Box", type: "box-16-8", mode: "one" },
    },
    cables: ["L1: house.link1 - box.a, 50 m"],
    sources: ["Kick: box.in.1"],
  });

  test("[F22] slots that go dark with their block, at each device that hands it on", () => {
    expect(told(mains, "stranded")).toEqual([
      "note stranded:house:link1:send: 5 slots of House Link 1 out are stranded",
      "note stranded:box:out:jack: 5 jacks of Box Out are stranded",
    ]);
    expect(reasons(mains, "stranded")[0]).toBe(
      "Link 1 out: block 1–8 carries 3 signals and 4–8 carry none. They go with their block and can't serve anything else.",
    );
  });

  test("[F22] jacks that can be assigned one by one, and inputs that wait for a source, aren't stranded", () => {
    // House out 1 is set and 2–8 are free; the box sends one source and fifteen open jacks.
    expect(
      findingsOf(mains, "stranded").flatMap(({ terminals }) => terminals.map(({ group }) => group)),
    ).toEqual(expect.not.arrayContaining(["a", "in"]));
    expect(
      findingsOf(mains, "stranded")
        .flatMap(({ terminals }) => terminals)
        .filter(({ device, side }) => device === "house" && side === "jack"),
    ).toEqual([]);
  });

  test("[F22] a block that is wholly in use or wholly empty strands nothing", () => {
    const whole = withDevice(mains, "house", {
      routing: mains.devices[0]!.routing.filter(({ from }) => from.group !== "main"),
    });
    expect(told(whole, "stranded")).toEqual([]);
  });

  test("[F22] a dark feed tells of the block already", () => {
    const wanted: Show = {
      ...mains,
      wants: [
        { id: "wedge" as never, name: "Wedge", to: { device: "box", group: "out", number: 4 } as never },
      ],
    };
    expect(told(wanted, "dark-feed")).toHaveLength(1);
    expect(told(wanted, "stranded")).toEqual([]);
  });

  test("[F22] slots past the link's last aren't there to strand", () => {
    const double = rig({
      rate: 96000,
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 50 m"],
    });
    expect(
      told(
        { ...double, cables: double.cables.map((cable) => ({ ...cable, length: metres(5) })) },
        "stranded",
      ),
    ).toEqual([]);
  });
});
