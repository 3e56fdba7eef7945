/** What checks leave out on purpose, and what they don't trip over. */
import { describe, expect, test } from "vitest";
import { mode } from "#engine/catalog/parts.ts";
import type { DeviceId, GroupId } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { EIGHT, LINK_BOX, port, type as deviceType } from "../rigs/types.ts";
import { withSource } from "./told.ts";
import { offered, whole } from "./whole.ts";

describe("what is no finding", () => {
  test("[F25] a mix that comes back on two channels is no source that arrives twice", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["ch 1 < link1 1", "ch 2 < link2 1"] },
        monitors: {
          name: "Monitors",
          type: "console-24",
          clock: "link1",
          set: ["link1 1 x8 < mix 1", "link2 1 x8 < mix 1"],
        },
        truck: { name: "Truck", type: "console-24", clock: "link1", set: ["link2 1 x8 < link1 1"] },
      },
      cables: [
        "T1: house.link1 - monitors.link1, 5 m",
        "T2: monitors.link2 - truck.link1, 5 m",
        "T3: truck.link2 - house.link2, 5 m",
      ],
    });
    expect(whole(show, "arrives-twice")).toEqual([]);
  });

  test("[F25] channels in a loop, and the console's own taps", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link2 1 x8 < link2 1", "ch 1 x2 < link2 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link2", set: ["link2 1 x8 < link2 1"] },
      },
      cables: ["T1: house.link2 - monitors.link2, 5 m"],
    });
    expect(whole(show, "arrives-twice")).toEqual([]);
  });

  /** Out 2 is fed; out 1 takes a slot that is in a loop, out of step, or of a device that is off. */
  const beside = (
    monitors: { clock?: string; off?: boolean; set?: readonly string[] },
    set = ["out 1 < link2 1"],
  ): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link2 1 x8 < link2 1", "out 2 < mix 1", ...set] },
        monitors: { name: "Monitors", type: "console-24", ...monitors },
      },
      cables: ["T1: house.link2 - monitors.link2, 5 m"],
    });

  test("[F22] jacks in a loop, without a clock in common or behind what is off aren't stranded", () => {
    expect(whole(beside({ clock: "link2", set: ["link2 1 x8 < link2 1"] }), "stranded")).toEqual([]);
    expect(whole(beside({}), "stranded")).toEqual([]);
    expect(whole(beside({ off: true }), "stranded")).toEqual([]);
    // With a setting at the far end that its mode can't hold they are.
    const refused = beside({ clock: "link2", set: ["link2 1 x8 < mix 2"] });
    expect(whole(refused, "stranded").slice(-3)).toEqual([
      "note stranded:house:out:jack: 1 jack of House Local out is stranded",
      "Local out: block 1–8 carries 1 signal and 1 carries none. They go with their block and can't serve anything else.",
      "at House Local out 1; devices house",
    ]);
  });

  test("[F1] a channel that the console doesn't have is no dark feed", () => {
    const show = rig({
      devices: { house: { name: "House", type: "console-24" } },
      sources: ["Kick: house.in.1"],
      channels: ["High: house.ch.25 < Kick"],
      wants: ["Low: house.out.9"],
    });
    expect(whole(show, "dark-feed")).toEqual([]);
  });

  test("[F26] who can't set a preamp at all is told that, and not of the leg as well", () => {
    const show = withSource(
      rig({
        devices: {
          house: { name: "House", type: "console-24" },
          spare: { name: "Spare", type: "console-24" },
          split: { name: "Split", type: "split-16" },
          box: { name: "Box", type: "box-16-8", mode: "one" },
        },
        cables: ["L1: house.link1 - box.a, 5 m", "I: split.isolated.1 - box.in.1, 5 m, microphone"],
        sources: ["Kick: split.in.1"],
      }),
      "kick",
      { phantom: true, preampOwner: "spare" as DeviceId },
    );
    expect(whole(show, "preamp")).toEqual([
      "error preamp:reach:spare:box: Spare can't set the preamp of Kick",
      "It stands in Box, and no cable whose both ports carry preamp control leads there from Spare: Kick.",
      "at Box In 1; devices box, spare",
    ]);
  });

  test("[F17] a device that chains and follows no port", () => {
    const free = deviceType("free", {
      ports: [port("x", EIGHT), port("y", EIGHT)],
      modes: [mode("chain", "Chain", [], { positions: [1, 2] })],
      chain: 2,
      clock: "internal",
    });
    const show = rig({
      types: [free],
      devices: {
        one: { name: "One", type: "free" },
        two: { name: "Two", type: "free", position: 2 },
      },
      cables: ["L1: one.y - two.x, 5 m"],
    });
    expect(whole(show, "chain")).toEqual([]);
  });
});

describe("what is told of a fork", () => {
  /** A head with two ports down, each with a box behind it. */
  const fork = deviceType("fork", {
    ports: [port("up", EIGHT), port("left", EIGHT), port("right", EIGHT)],
    modes: [mode("chain", "Chain", [], { positions: [1, 2, 3] })],
    chain: 3,
    clock: "up" as GroupId,
  });
  const forked = (left: number, right: number, last: number): Show =>
    rig({
      types: [fork, LINK_BOX],
      devices: {
        lead: { name: "Lead", type: "link-box" },
        head: { name: "Head", type: "fork" },
        left: { name: "Left", type: "fork", position: left },
        right: { name: "Right", type: "fork", position: right },
        last: { name: "Last", type: "fork", position: last },
      },
      cables: [
        "L1: lead.x - head.up, 5 m",
        "L2: head.left - left.up, 5 m",
        "L3: head.right - right.up, 5 m",
        "L4: right.left - last.up, 5 m",
      ],
    });

  test("[F17] a position counts along one branch: the other one may have it too", () => {
    expect(whole(forked(2, 2, 3), "chain")).toEqual([]);
    // What repeats the head's position in one branch leaves it taken for the other.
    expect(whole(forked(1, 2, 1), "chain")).toEqual([
      "error chain:left: Head and Left both stand at position 1 of one chain",
      "Both take the same slots of the link; what one sends covers what the other does.",
      "devices left, head",
      "error chain:last: Head and Last both stand at position 1 of one chain",
      "Both take the same slots of the link; what one sends covers what the other does.",
      "devices last, head",
    ]);
  });
});

describe("what is offered between two devices", () => {
  test("[F15] [F27] a stream's two ends", () => {
    const show = rig({
      devices: {
        one: { name: "One", type: "aes67-endpoint", clock: "internal" },
        two: { name: "Two", type: "aes67-endpoint", clock: "internal" },
      },
      cables: ["N1: one.net - two.net, 5 m, cat5e"],
      streams: ["Mixes: one.net.1 x8 > two.net.1"],
    });
    expect(offered(show, "clock-mismatch")).toEqual([
      "Let One follow Network",
      '  devices one clock: "net"',
      "Let Two follow Network",
      '  devices two clock: "net"',
    ]);
  });

  test("[F1] feeds in any order are gathered by where they stop", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 5 m"],
      wants: ["C: box.out.3", "A: box.out.1", "B: box.out.2", "E: box.out.5"],
    });
    expect(whole(show, "dark-feed")).toEqual([
      "error dark-feed:error:nothing-assigned:house:link1:send:1: 3 feeds are dark: nothing assigned at House Link 1 out 1–3",
      "Nothing is assigned to House Link 1 out 1–3. Dark: A (Box Out 1), B (Box Out 2), C (Box Out 3).",
      "at Box Out 1–3, House Link 1 out 1–3; devices house, box; wants a, b, c",
      "error dark-feed:error:nothing-assigned:house:link1:send:5: E is dark: nothing assigned at House Link 1 out 5",
      "Nothing is assigned to House Link 1 out 5. Dark: E (Box Out 5).",
      "at Box Out 5, House Link 1 out 5; devices house, box; wants e",
    ]);
  });
});
