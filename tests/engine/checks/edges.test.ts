/** Where checks draw a line, and in which order they offer and name things. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { mode } from "#engine/catalog/parts.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import type { GroupId } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { rig, type DeviceText } from "../rigs/build.ts";
import { EIGHT, LINK_BOX, port, type as deviceType } from "../rigs/types.ts";
import { withDevice } from "./told.ts";
import { offered as allOffered, whole } from "./whole.ts";

/** The labels of what is offered for the first finding of a check. */
function offered(show: Show, check: string): readonly string[] {
  const analysis = analyse(show);
  const finding = analysis.findings.find((each) => each.check === check);
  if (!finding) throw new Error(`no finding of ${check}`);
  return fixesOf(analysis, finding).map(({ label }) => label);
}

describe("chains", () => {
  /**
   *     House link1 ──L1── a Box 1 c ──L2── a Box 2      a type that chains twice
   */
  const large = (first: number, second: number): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box1: { name: "Box 1", type: "box-32-16", mode: "chain", position: first },
        box2: { name: "Box 2", type: "box-32-16", mode: "chain", position: second },
      },
      cables: ["L1: house.link1 - box1.a, 5 m", "L2: box1.c - box2.a, 5 m"],
    });

  test("[F17] one position twice: what that does to the slots, and both devices", () => {
    expect(whole(large(1, 1), "chain")).toEqual([
      "error chain:box2: Box 1 and Box 2 both stand at position 1 of one chain",
      "Both take the same slots of the link; what one sends covers what the other does.",
      "devices box2, box1",
    ]);
  });

  test("[F17] the next position, told with what stands ahead", () => {
    expect(whole(large(1, 2), "chain")).toEqual([]);
    expect(whole(large(2, 2), "chain")).toEqual([
      "error chain:box2: Box 1 and Box 2 both stand at position 2 of one chain",
      "Both take the same slots of the link; what one sends covers what the other does.",
      "devices box2, box1",
      "warning chain:box1: Box 1 is the first of its chain and stands at position 2",
      "House, which it is plugged to, is no part of a chain; its slots are those of position 2, and the ones before them stay unused.",
      "devices box1",
    ]);
    expect(whole(large(2, 1), "chain")).toEqual([
      "warning chain:box1: Box 1 is the first of its chain and stands at position 2",
      "House, which it is plugged to, is no part of a chain; its slots are those of position 2, and the ones before them stay unused.",
      "devices box1",
      "warning chain:box2: Box 2 stands at position 1, and 3 is next in the chain",
      "It is plugged behind Box 1, which stands at position 2. Its slots are those of position 1.",
      "devices box2, box1",
    ]);
  });

  test("[F17] past the type's last, and a mode that doesn't list the position", () => {
    expect(whole(large(1, 3), "chain")).toEqual([
      "error chain:box2: Box 2 stands at position 3 of a chain of at most 2",
      "Stage box 32 in, 16 out: 2 to a chain, in mode “Chain”.",
      "devices box2",
    ]);
  });

  /** Follows a monitor bus, and chains in all its modes: behind a box's bus it begins a chain of its own. */
  const tail = deviceType("tail", {
    ports: [port("pm", EIGHT, { transport: "16-channel personal-monitor bus" })],
    modes: [mode("chain", "Chain", [], { positions: [1, 2] })],
    chain: 2,
    clock: "pm" as GroupId,
  });

  test("[F17] what hangs on another sort of link isn't part of the chain ahead", () => {
    const show = rig({
      types: [tail],
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "chain" },
        tail: { name: "Tail", type: "tail" },
      },
      cables: ["L1: house.link1 - box.a, 5 m", "P1: box.pm - tail.pm, 5 m"],
    });
    expect(whole(show, "chain")).toEqual([]);
    expect(whole(withDevice(show, "tail", { position: 2 }), "chain")).toEqual([
      "warning chain:tail: Tail is the first of its chain and stands at position 2",
      "Box, which it is plugged to, is no part of a chain; its slots are those of position 2, and the ones before them stay unused.",
      "devices tail",
    ]);
  });

  test("[F17] two devices behind one: each goes on from there", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-48" },
        first: { name: "First", type: "box-16-8", mode: "chain" },
        second: { name: "Second", type: "box-16-8", mode: "chain", position: 2 },
        third: { name: "Third", type: "box-16-8", mode: "chain", position: 3 },
        other: { name: "Other", type: "box-16-8", mode: "chain" },
      },
      cables: [
        "L1: house.link1 - first.a, 5 m",
        "L2: first.b - second.a, 5 m",
        "L3: second.b - third.a, 5 m",
        "L4: house.link2 - other.a, 5 m",
      ],
    });
    expect(whole(show, "chain")).toEqual([]);
  });
});

describe("what chains", () => {
  test("[F17] a mode that doesn't list the position, one and more", () => {
    const bars = (mode: string, position: number): Show =>
      rig({
        devices: {
          house: { name: "House", type: "console-48" },
          bar: { name: "Bar", type: "breakout-16", mode, position },
        },
        cables: ["S1: house.stage - bar.stage, 5 m, digital-110"],
      });
    expect(whole(bars("stage-first", 2), "chain")).toEqual([
      "error chain:bar: Bar stands at position 2 in a mode for position 1",
      "Mode “Stage link, first” is for position 1 of a chain, not 2.",
      "devices bar",
    ]);
    expect(whole(bars("stage-later", 1), "chain")).toEqual([
      "error chain:bar: Bar stands at position 1 in a mode for positions 2, 3 and 4",
      "Mode “Stage link, later” is for positions 2, 3 and 4 of a chain, not 1.",
      "devices bar",
    ]);
  });

  const chained = (name: string, chain: number, clock: "internal" | GroupId): ReturnType<typeof deviceType> =>
    deviceType(name, {
      ports: [port("x", EIGHT), port("y", EIGHT)],
      modes: [mode("chain", "Chain", [], { positions: [1, 2] })],
      chain,
      clock,
    });

  test("[F17] a type of which one makes a chain has no positions to be wrong", () => {
    const show = rig({
      types: [chained("single", 1, "x" as GroupId), LINK_BOX],
      devices: {
        lead: { name: "Lead", type: "link-box" },
        one: { name: "One", type: "single", position: 2 },
      },
      cables: ["L1: lead.x - one.x, 5 m"],
    });
    expect(whole(show, "chain")).toEqual([]);
  });

  test("[F17] behind a device that chains and follows no port a chain begins", () => {
    const show = rig({
      types: [chained("leader", 2, "internal"), chained("link", 2, "x" as GroupId)],
      devices: { lead: { name: "Lead", type: "leader" }, one: { name: "One", type: "link", position: 2 } },
      cables: ["L1: lead.y - one.x, 5 m"],
    });
    expect(whole(show, "chain")).toEqual([
      "warning chain:one: One is the first of its chain and stands at position 2",
      "Lead, which it is plugged to, is no part of a chain; its slots are those of position 2, and the ones before them stay unused.",
      "devices one",
    ]);
  });

  test("[F17] [F27] one chain is numbered, the other stays; who stands right already isn't touched", () => {
    const box = (name: string, position: number): DeviceText => ({
      name,
      type: "box-16-8",
      mode: "chain",
      position,
    });
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        a1: box("A 1", 1),
        a2: box("A 2", 3),
        b1: box("B 1", 1),
        b2: box("B 2", 3),
      },
      cables: [
        "L1: house.link1 - a1.a, 5 m",
        "L2: a1.b - a2.a, 5 m",
        "L3: house.link2 - b1.a, 5 m",
        "L4: b1.b - b2.a, 5 m",
      ],
    });
    expect(allOffered(show, "chain", "chain:b2")).toEqual([
      "Number the chain of B 2 from 1 on",
      "  devices b2 position: 2",
    ]);
  });
});

describe("modes for a place in a chain", () => {
  const upBy = (name: string, clock: string, ...positions: readonly number[]): ReturnType<typeof mode> =>
    mode(name, name, [], { positions, clock: clock as GroupId });
  const TWO_WAYS = deviceType("two-ways", {
    ports: [port("x", EIGHT), port("y", EIGHT)],
    modes: [upBy("x1", "x", 1), upBy("y2", "y", 2), upBy("x2", "x", 2), upBy("x12", "x", 1, 2)],
    chain: 2,
    clock: "x" as GroupId,
  });
  const behind = (name: string, position: number): Show =>
    rig({
      types: [TWO_WAYS, LINK_BOX],
      devices: {
        lead: { name: "Lead", type: "link-box" },
        head: { name: "Head", type: "two-ways", mode: "x1" },
        tail: { name: "Tail", type: "two-ways", mode: name, position },
      },
      cables: ["L1: lead.x - head.x, 5 m", "L2: head.y - tail.x, 5 m"],
    });

  test("[F17] [F27] of the modes that list the place the first that leads up by the same port", () => {
    expect(allOffered(behind("x1", 2), "chain")).toEqual([
      "Switch Tail to the mode for position 2",
      '  devices tail mode: "x2"',
      "Number the chain of Tail from 1 on",
      '  devices tail mode: "x2"',
    ]);
  });

  test("[F17] [F27] a mode that lists the new place too is kept", () => {
    expect(allOffered(behind("x12", 1), "chain")).toEqual([
      "Number the chain of Tail from 1 on",
      "  devices tail position: 2",
    ]);
  });
});

describe("clocks", () => {
  const tied = (house: Partial<DeviceText>, other: Partial<DeviceText>, type = "console-24"): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24", ...house },
        other: { name: "Other", type, ...other },
        third: { name: "Third", type: "console-24" },
      },
      cables: ["T1: house.link1 - other.link1, 5 m", "T2: house.link2 - third.link2, 5 m"],
    });
  const boxed = (box: Partial<DeviceText>): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "two", ...box },
      },
      cables: ["L1: house.link1 - box.a, 5 m"],
    });

  test("[F15] a box follows sooner than a console, whichever end of the cable it is", () => {
    expect(offered(boxed({ clock: "internal" }), "clock-mismatch")).toEqual([
      "Let Box follow Link A",
      "Let House follow Link 1",
    ]);
  });

  test("[F15] of two consoles the one that follows already changes sooner than the one that leads", () => {
    expect(offered(tied({}, {}), "clock-mismatch")).toEqual([
      "Let House follow Link 1",
      "Let Other follow Link 1",
    ]);
    expect(offered(tied({ clock: "link2" }, {}), "clock-mismatch")).toEqual(["Let Other follow Link 1"]);
  });

  test("[F16] a device that is off waits for no clock", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "two", off: true },
      },
      cables: ["L1: house.link1 - box.b, 5 m"],
    });
    expect(whole(show, "clock-source")).toEqual([]);
  });

  test("[F16] two ports in use beside the one that is followed", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-32-16", mode: "two" },
      },
      cables: ["L1: house.link1 - box.b, 5 m", "L2: house.link2 - box.c, 5 m"],
    });
    expect(whole(show, "clock-source")).toEqual([
      "warning clock-source:nothing:box: Box follows Link A, where no clock arrives",
      "Nothing is plugged in Link A. Link B and Link C are plugged in, and digital signals pass there only in step.",
      "devices box",
    ]);
    expect(offered(show, "clock-source")).toEqual(["Let Box follow Link B", "Let Box follow Link C"]);
  });

  test("[F16] a circle of three that begins with the last one in the show's order, and who follows it", () => {
    const show = rig({
      devices: {
        box: { name: "Box", type: "box-16-8", mode: "one" },
        other: { name: "Other box", type: "box-16-8", mode: "one" },
        c: { name: "C", type: "console-24", clock: "link1" },
        b: { name: "B", type: "console-24", clock: "link1" },
        a: { name: "A", type: "console-96", clock: "link1" },
      },
      cables: [
        "T1: a.link1 - b.link2, 5 m",
        "T2: b.link1 - c.link2, 5 m",
        "T3: c.link1 - a.link2, 5 m",
        "L1: a.link3 - box.a, 5 m",
      ],
    });
    expect(whole(show, "clock-source")).toEqual([
      "error clock-source:loop:a: A clock loop: C, A and B follow each other",
      "C follows A, A follows B, B follows C: none of them leads, so no digital signal passes between them. Box follows it.",
      "devices c, a, b, box; cables T3, T1, T2",
    ]);
    expect(offered(show, "clock-source")).toEqual([
      "Let C run on its own clock",
      "Let A run on its own clock",
      "Let B run on its own clock",
    ]);
  });

  test("[F16] a console leads before a box does", () => {
    const desk = deviceType("link-desk", { category: "console", ports: [port("x", EIGHT)] });
    const show = rig({
      types: [LINK_BOX, desk],
      devices: {
        box: { name: "Box", type: "link-box", clock: "x" },
        desk: { name: "Desk", type: "link-desk", clock: "x" },
      },
      cables: ["L1: box.x - desk.x, 5 m"],
    });
    expect(offered(show, "clock-source")).toEqual([
      "Let Desk run on its own clock",
      "Let Box run on its own clock",
    ]);
  });
});

describe("losses", () => {
  /** Each box takes A on its link A, B on B; the second one C on C as well. All follow A's clock. */
  test("[F24] the worst first: by feeds, and of as many by consoles", () => {
    const set = ["link1 1 x8 < mix 1", "link2 1 x8 < mix 1", "link3 1 x8 < mix 1"];
    const show = rig({
      devices: {
        first: { name: "First", type: "box-32-16", mode: "two" },
        second: { name: "Second", type: "box-32-16", mode: "three" },
        third: { name: "Third", type: "box-32-16", mode: "two" },
        a: { name: "A", type: "console-96", set },
        b: { name: "B", type: "console-96", clock: "link1", set },
        c: { name: "C", type: "console-96", clock: "link1", set },
      },
      cables: [
        "A1: a.link1 - first.a, 5 m",
        "A2: a.link2 - second.a, 5 m",
        "A3: a.link3 - third.a, 5 m",
        "B1: b.link1 - first.b, 5 m",
        "B2: b.link2 - second.b, 5 m",
        "B3: b.link3 - third.b, 5 m",
        "C2: c.link1 - second.c, 5 m",
      ],
      wants: [
        ...["first.out.1", "first.out.9", "first.out.10"],
        ...["second.out.1", "second.out.9", "second.out.13"],
        ...["third.out.1", "third.out.2", "third.out.3", "third.out.9", "third.out.10"],
      ].map((at, n) => `Want ${n + 1}: ${at}`),
    });
    expect(whole(show, "common-loss")).toEqual([
      "note common-loss: Losing Third darkens 5 feeds of 2 consoles; 2 other losses would too",
      "Feeds that pass there, by console. Third: 5 feeds (A 3, B 2); Second: 3 feeds (A 1, B 1, C 1); First: 3 feeds (B 2, A 1).",
      "devices third, second, first",
    ]);
  });
});
