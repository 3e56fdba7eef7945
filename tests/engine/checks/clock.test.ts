/** F15 and F16: where signals stop for rate or clock, and why no clock comes. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import type { Show } from "#engine/model/show.ts";
import { rig, type RigText } from "../rigs/build.ts";
import { AES3_DECK, CLOCK_SHY, CLOCKLESS, EIGHT, LINK_BOX, LINK_BOX_SRC, port, type } from "../rigs/types.ts";
import { findingsOf, only, reasons, told } from "./told.ts";
import { offered, whole } from "./whole.ts";

/**
 *     House link1 ──L1── a Box     wedge ← box out 1 ← mix 1; channel 1 ← Kick
 */
const pair = (box: Partial<RigText["devices"][string]>): RigText => ({
  devices: {
    house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "ch 1 x8 < link1 1"] },
    box: { name: "Box", type: "box-16-8", mode: "one", ...box },
  },
  cables: ["L1: house.link1 - box.a, 50 m"],
  sources: ["Kick: box.in.1"],
  channels: ["Kick: house.ch.1 < Kick"],
  wants: ["Wedge: box.out.1 < house.mix.1"],
});

describe("clock mismatch", () => {
  test("[F15] two rates are told with both, and with what is dark for them", () => {
    const analysis = analyse(rig(pair({ rate: 44100 })));
    const finding = only(analysis, "clock-mismatch");
    expect(finding.title).toBe("Cable L1 joins devices of two sample rates: House and Box");
    expect(finding.reason).toBe(
      "House runs at 48 kHz, Box at 44.1 kHz, and neither end converts: no signal passes. 2 feeds are dark: Kick (House Channel 1), Wedge (Box Out 1).",
    );
    expect([finding.cables, finding.devices, finding.wants]).toEqual([["L1"], ["house", "box"], ["wedge"]]);
  });

  test("[F15] [F1] the dark feeds of a mismatch aren't told again", () => {
    expect(told(rig(pair({ rate: 44100 })), "dark-feed")).toEqual([]);
    expect(
      analyse(rig(pair({ rate: 44100 }))).findings.filter(({ severity }) => severity === "error"),
    ).toHaveLength(1);
  });

  test("[F15] two leaders at one rate are told by name", () => {
    expect(reasons(rig(pair({ clock: "internal" })), "clock-mismatch")).toEqual([
      "House follows its own clock, Box follows its own clock, and neither end converts: no signal passes. 2 feeds are dark: Kick (House Channel 1), Wedge (Box Out 1).",
    ]);
    const third = rig({
      devices: {
        truck: { name: "Truck", type: "console-24", clock: "link2" },
        house: { name: "House", type: "console-24" },
        box: { name: "Truck box", type: "box-16-8", mode: "one", clock: "internal" },
      },
      cables: ["L1: truck.link2 - house.link1, 5 m", "L2: truck.link1 - box.a, 5 m"],
    });
    expect(reasons(third, "clock-mismatch")).toEqual([
      "Truck follows House, Truck box follows its own clock, and neither end converts: no signal passes.",
    ]);
  });

  test("[F15] a device without a clock and one that follows a port without one are told as that", () => {
    const clockless = rig({
      types: [CLOCKLESS],
      devices: {
        first: { name: "First", type: "clockless" },
        second: { name: "Second", type: "clockless" },
      },
      cables: ["L1: first.x - second.x, 5 m"],
    });
    expect(reasons(clockless, "clock-mismatch")).toEqual([
      "First has no word clock, Second has no word clock, and neither end converts: no signal passes.",
    ]);
    expect(reasons(rig(pair({ clock: "b" })), "clock-mismatch")[0]).toMatch(
      /^House follows its own clock, Box follows Link B, where no clock arrives, /,
    );
  });

  test("[F15] nothing is said where rate and clock agree, where an end converts, or where the sender is off", () => {
    expect(told(rig(pair({})), "clock-mismatch")).toEqual([]);
    expect(told(rig(pair({ rate: 48000 })), "clock-mismatch")).toEqual([]);
    expect(told(rig(pair({ off: true, rate: 44100 })), "clock-mismatch")).toEqual([]);
    const converting = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        interface: { name: "Interface", type: "aes10-interface-src", rate: 96000 },
      },
      cables: ["L1: house.link1 - interface.link, 5 m"],
    });
    expect(told(converting, "clock-mismatch")).toEqual([]);
  });

  test("[F15] an AES3 cable is one finding for both signals of its pair", () => {
    const deck = rig({
      types: [AES3_DECK],
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
        converter: { name: "Converter", type: "aes3-converter", mode: "low" },
        deck: { name: "Deck", type: "aes3-deck" },
      },
      cables: ["L1: house.link1 - converter.link, 5 m", "X1: converter.out.1 - deck.in.1, 3 m, digital-110"],
    });
    expect(told(deck, "clock-mismatch")).toEqual([
      "error clock-mismatch:X1: Cable X1 joins devices that don't share a clock: Converter and Deck",
    ]);
    expect(findingsOf(deck, "clock-mismatch")[0]!.terminals).toHaveLength(2);
  });

  test("[F15] streams between two leaders are one finding for each way", () => {
    const streams = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
        one: { name: "Endpoint 1", type: "aes67-endpoint", set: ["net 1 x8 < link 1"] },
        switch: { name: "Switch", type: "aes67-switch" },
        two: { name: "Endpoint 2", type: "aes67-endpoint", set: ["link 1 x8 < net 1"] },
        monitors: { name: "Monitors", type: "console-24", set: ["ch 1 x8 < link1 1"] },
      },
      cables: [
        "L1: house.link1 - one.link, 5 m",
        "N1: one.net - switch.p1, 5 m, cat5e",
        "N2: switch.p2 - two.net, 5 m, cat5e",
        "L2: two.link - monitors.link1, 5 m",
      ],
      streams: ["Wedges: one.net.1 x8 > two.net.1"],
    });
    expect(told(streams, "clock-mismatch")).toEqual([
      "error clock-mismatch:stream:one:two: Stream Wedges joins devices that don't share a clock: Endpoint 1 and Endpoint 2",
    ]);
    expect(findingsOf(streams, "clock-mismatch")[0]!.cables).toEqual(["N1", "N2"]);
  });
});

describe("ways out of a mismatch", () => {
  const DESK = type("desk", { category: "console", ports: [port("x", EIGHT), port("y", EIGHT)] });
  /** `Lead` leads whom it may: its port converts the rate, so that its own cable never stops a signal. */
  const tied = (first: RigText["devices"][string], second: RigText["devices"][string]): RigText => ({
    types: [DESK, LINK_BOX, LINK_BOX_SRC],
    devices: { first, second, lead: { name: "Lead", type: "link-box-src" } },
    cables: ["L1: first.x - second.x, 5 m", "L2: first.y - lead.x, 5 m"],
  });

  test("[F15] [F27] a box follows sooner than a console, also one that leads nobody itself", () => {
    const desk = { name: "Desk", type: "desk", clock: "y" };
    expect(offered(rig(tied(desk, { name: "Box", type: "link-box" })), "clock-mismatch")).toEqual([
      "Let Box follow Port X",
      '  devices second clock: "x"',
      "Let Desk follow Port X",
      '  devices first clock: "x"',
    ]);
  });

  test("[F15] [F27] of two consoles the one that follows elsewhere changes sooner than the one that leads", () => {
    const text = tied({ name: "Follower", type: "desk", clock: "y" }, { name: "Leader", type: "desk" });
    const labels = ["Let Follower follow Port X", "Let Leader follow Port X"];
    const show = rig(text);
    expect(offered(show, "clock-mismatch").filter((line) => line.startsWith("Let"))).toEqual(labels);
    const turned = rig({ ...text, cables: ["L1: second.x - first.x, 5 m", text.cables![1]!] });
    expect(offered(turned, "clock-mismatch").filter((line) => line.startsWith("Let"))).toEqual(labels);
  });

  test("[F15] [F27] a box that follows an empty port goes back to what its type says", () => {
    const TAIL = type("tail", { ports: [port("x", EIGHT), port("y", EIGHT)], clock: "x" as never });
    const show = rig({
      types: [DESK, TAIL],
      devices: {
        desk: { name: "Desk", type: "desk" },
        box: { name: "Box", type: "tail", clock: "y" },
      },
      cables: ["L1: desk.x - box.x, 5 m"],
    });
    expect(offered(show, "clock-mismatch").slice(0, 2)).toEqual([
      "Let Box follow Port X",
      "  devices box clock: none",
    ]);
  });

  /**
   *     House (leads) ──T1── link1 Monitors link2 ──L1── a Box
   */
  const dropped = (more: Partial<RigText["devices"][string]> = {}): Show =>
    rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
        monitors: {
          name: "Monitors",
          type: "console-24",
          clock: "link1",
          set: ["link2 1 x8 < mix 1"],
          ...more,
        },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["T1: house.link1 - monitors.link1, 5 m", "L1: monitors.link2 - box.a, 5 m"],
      wants: ["Wedge: box.out.1 < monitors.mix.1"],
    });

  test("[C2] a console that loses its clock runs free, and its own box stays in step with it", () => {
    const show = dropped();
    const off = analyse(show, { devices: new Set(["house"]) });
    const lines = off.findings.filter(({ severity }) => severity !== "note").map(({ title }) => title);
    // The warning, and no feed of Monitors is dark.
    expect(lines).toEqual(["Monitors follows Link 1, where no clock arrives"]);
    // Were both to lead, their cable would stop, and the box would go on with Monitors.
    const apart = analyse(dropped({ clock: "internal" }));
    expect(
      apart.findings.filter(({ check }) => check === "clock-mismatch").map(({ cables }) => cables),
    ).toEqual([["T1"]]);
  });

  test("[F15] every slot that stops is pointed at, the rig's first terminal too, and a single dark feed", () => {
    const show = rig({
      devices: {
        interface: { name: "Interface", type: "aes10-interface", rate: 96000 },
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "ch 1 < link1 1"] },
      },
      cables: ["L1: interface.link - house.link1, 5 m"],
      sources: ["Kick: house.in.1"],
      channels: ["Kick: house.ch.1 < Kick"],
    });
    // Neither end converts: each counts its own slots, and the lesser of the two, 24 at 96 kHz, is what passes (W9, W10).
    expect(whole(show, "clock-mismatch")).toEqual([
      "error clock-mismatch:L1: Cable L1 joins devices of two sample rates: Interface and House",
      "Interface runs at 96 kHz, House at 48 kHz, and neither end converts: no signal passes. 1 feed is dark: Kick (House Channel 1).",
      "at House Channel 1, Interface Link in 1–24, House Link 1 in 1–24; devices interface, house; cables L1",
    ]);
  });

  test("[F15] a stream of one channel is told as a stream", () => {
    const show = rig({
      devices: {
        one: { name: "One", type: "aes67-endpoint", clock: "internal" },
        two: { name: "Two", type: "aes67-endpoint", clock: "internal" },
      },
      cables: ["N1: one.net - two.net, 5 m, cat5e"],
      streams: ["Talk: one.net.1 x1 > two.net.1"],
    });
    expect(whole(show, "clock-mismatch")).toEqual([
      "error clock-mismatch:stream:one:two: Stream Talk joins devices that don't share a clock: One and Two",
      "One follows its own clock, Two follows its own clock, and neither end converts: no signal passes.",
      "at Two Network in 1; devices one, two; cables N1",
    ]);
  });
});

describe("clock source", () => {
  /**
   *     House link1 ──T1── link1 Monitors, each following the other;  House link2 ──L1── a Box follows House
   */
  const circle = (clock: string): RigText => ({
    devices: {
      house: { name: "House", type: "console-24", clock: "link1", set: ["ch 1 < link2 1"] },
      monitors: { name: "Monitors", type: "console-24", clock },
      box: { name: "Box", type: "box-16-8", mode: "one" },
    },
    cables: ["T1: house.link1 - monitors.link1, 5 m", "L1: house.link2 - box.a, 5 m"],
    sources: ["Kick: box.in.1"],
    channels: ["Kick: house.ch.1 < Kick"],
  });

  test("[F16] a circle is told once, with who follows it and what is dark, and its cables aren't told apart", () => {
    const show = rig(circle("link1"));
    expect(told(show, "clock-source", "clock-mismatch", "dark-feed")).toEqual([
      "error clock-source:loop:house: A clock loop: House and Monitors follow each other",
    ]);
    expect(reasons(show, "clock-source")).toEqual([
      "House follows Monitors, Monitors follows House: none of them leads, so no digital signal passes between them. Box follows it. Dark: Kick (House Channel 1).",
    ]);
    expect(findingsOf(show, "clock-source")[0]!.cables).toEqual(["T1"]);
  });

  test("[F27] a console of the circle may follow another port; what else is missing there doesn't keep that back", () => {
    // Box follows Monitors on link A, Monitors follows it: led from House over link 2 both are in step with the far box.
    // Mix 1 was dark for the circle, and nothing is assigned on its way either.
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        monitors: { name: "Monitors", type: "console-24", clock: "link1" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
        far: { name: "Far box", type: "box-16-8", mode: "one" },
      },
      cables: [
        "L1: monitors.link1 - box.a, 5 m",
        "L2: house.link1 - far.a, 5 m",
        "L3: monitors.link2 - far.b, 5 m",
      ],
      wants: ["Wedge: box.out.1 < monitors.mix.1"],
    });
    const [loop] = findingsOf(show, "clock-source");
    expect(loop!.id).toMatch(/^clock-source:loop:/);
    expect(fixesOf(analyse(show), loop!).map(({ label }) => label)).toEqual(["Let Monitors follow Link 2"]);
  });

  test("[F16] no circle where one of them leads", () => {
    expect(told(rig(circle("internal")), "clock-source", "clock-mismatch")).toEqual([]);
  });

  test("[F16] [F15] two rates on a loop's cable stay a finding of their own", () => {
    const text = circle("link1");
    const show = rig({
      ...text,
      devices: { ...text.devices, box: { ...text.devices["box"]!, rate: 44100 } },
    });
    expect(told(show, "clock-mismatch")).toEqual([
      "error clock-mismatch:L1: Cable L1 joins devices of two sample rates: House and Box",
    ]);
  });

  test("[F16] a followed port with nothing in it, while another port waits for a clock", () => {
    const box = (cable: string): ReturnType<typeof rig> =>
      rig({
        devices: {
          house: { name: "House", type: "console-24" },
          box: { name: "Box", type: "box-16-8", mode: "two" },
        },
        cables: [`L1: house.link1 - box.${cable}, 5 m`],
      });
    expect(told(box("b"), "clock-source")).toEqual([
      "warning clock-source:nothing:box: Box follows Link A, where no clock arrives",
    ]);
    expect(reasons(box("b"), "clock-source")).toEqual([
      "Nothing is plugged in Link A. Link B is plugged in, and digital signals pass there only in step.",
    ]);
    expect(told(box("a"), "clock-source")).toEqual([]);
  });

  test("[F16] a device that is off leads nobody and waits for no clock", () => {
    const off = (house: boolean, monitors: boolean): ReturnType<typeof rig> =>
      rig({
        devices: {
          house: { name: "House", type: "console-24", off: house },
          monitors: { name: "Monitors", type: "console-24", off: monitors },
          box: { name: "Box", type: "box-16-8", mode: "two" },
        },
        cables: ["L1: house.link1 - box.a, 5 m", "L2: monitors.link1 - box.b, 5 m"],
      });
    expect(reasons(off(true, false), "clock-source")).toEqual([
      "House at the far end is off. Link B is plugged in, and digital signals pass there only in step.",
    ]);
    expect(told(off(true, true), "clock-source")).toEqual([]);
    expect(told(off(false, false), "clock-source")).toEqual([]);
  });

  test("[F16] a link without clock, a far end without one, and a network that nobody leads", () => {
    const clockShy = rig({
      types: [CLOCK_SHY, CLOCKLESS],
      devices: {
        shy: { name: "Shy", type: "clock-shy" },
        first: { name: "First", type: "clockless" },
        second: { name: "Second", type: "clock-shy" },
        third: { name: "Third", type: "clock-shy", clock: "y" },
      },
      cables: [
        "L1: shy.x - first.x, 5 m",
        "L2: shy.y - second.y, 5 m",
        "L3: third.y - first.y, 5 m",
        "L4: third.x - second.x, 5 m",
      ],
    });
    expect(reasons(clockShy, "clock-source")).toEqual([
      "That link carries no clock. Port Y is plugged in, and digital signals pass there only in step.",
      "That link carries no clock. Port Y is plugged in, and digital signals pass there only in step.",
      "First at the far end has no word clock. Port X is plugged in, and digital signals pass there only in step.",
    ]);
    const network = rig({
      devices: {
        house: { name: "House", type: "console-24", clock: "link1" },
        one: { name: "Endpoint 1", type: "aes67-endpoint", clock: "net" },
        switch: { name: "Switch", type: "aes67-switch" },
        two: { name: "Endpoint 2", type: "aes67-endpoint", clock: "net" },
      },
      cables: [
        "L1: house.link1 - one.link, 5 m",
        "N1: one.net - switch.p1, 5 m, cat5e",
        "N2: switch.p2 - two.net, 5 m, cat5e",
      ],
    });
    expect(reasons(network, "clock-source")).toEqual([
      "No device on that network leads its clock. Link is plugged in, and digital signals pass there only in step.",
    ]);
  });

  /** Two circles of two, one follower of the first, two of the second, and a box that runs by itself beside each. */
  const circles = rig({
    devices: {
      a: { name: "A", type: "console-96", clock: "link1", set: ["ch 1 < link2 1"] },
      b: { name: "B", type: "console-24", clock: "link1" },
      c: { name: "C", type: "console-96", clock: "link1" },
      d: { name: "D", type: "console-96", clock: "link1", set: ["ch 1 < link3 1"] },
      boxa: { name: "Box A", type: "box-16-8", mode: "one" },
      boxc: { name: "Box C", type: "box-16-8", mode: "one" },
      boxd: { name: "Box D", type: "box-16-8", mode: "one" },
      own: { name: "Own", type: "box-16-8", mode: "one", clock: "internal" },
    },
    cables: [
      "T1: a.link1 - b.link1, 5 m",
      "T2: c.link1 - d.link1, 5 m",
      "L1: a.link2 - boxa.a, 5 m",
      "L2: c.link2 - boxc.a, 5 m",
      "L3: d.link2 - boxd.a, 5 m",
      "L4: d.link3 - own.a, 5 m",
    ],
    sources: ["Kick: boxa.in.1", "Snare: own.in.1"],
    channels: ["Kick: a.ch.1 < Kick", "Snare: d.ch.1 < Snare"],
  });

  test("[F16] each circle with its own followers and its own dark feeds; what stops beside it isn't told again", () => {
    expect(whole(circles, "clock-source", "clock-mismatch")).toEqual([
      "error clock-source:loop:a: A clock loop: A and B follow each other",
      "A follows B, B follows A: none of them leads, so no digital signal passes between them. Box A follows it. Dark: Kick (A Channel 1).",
      "at A Channel 1; devices a, b, boxa; cables T1",
      "error clock-source:loop:c: A clock loop: C and D follow each other",
      "C follows D, D follows C: none of them leads, so no digital signal passes between them. Box C and Box D follow it. Dark: Snare (D Channel 1).",
      "at D Channel 1; devices c, d, boxc, boxd; cables T2",
    ]);
  });

  test("[F16] [F15] what is dark for two clocks elsewhere isn't the circle's", () => {
    const show = rig({
      devices: {
        a: { name: "A", type: "console-24", clock: "link1" },
        b: { name: "B", type: "console-24", clock: "link1" },
        c: { name: "C", type: "console-24", set: ["ch 1 < link1 1"] },
        own: { name: "Own", type: "box-16-8", mode: "one", clock: "internal" },
      },
      cables: ["T1: a.link1 - b.link1, 5 m", "L1: c.link1 - own.a, 5 m"],
      sources: ["Kick: own.in.1"],
      channels: ["Kick: c.ch.1 < Kick"],
    });
    expect(whole(show, "clock-source")).toEqual([
      "error clock-source:loop:a: A clock loop: A and B follow each other",
      "A follows B, B follows A: none of them leads, so no digital signal passes between them.",
      "devices a, b; cables T1",
    ]);
    expect(told(show, "clock-mismatch")).toHaveLength(1);
  });

  test("[F16] a device that follows itself, by a cable between two ports of its own", () => {
    const show = rig({
      devices: { a: { name: "A", type: "console-24", clock: "link1" } },
      cables: ["T1: a.link1 - a.link2, 1 m"],
    });
    expect(told(show, "clock-source")).toEqual(["error clock-source:loop:a: A clock loop: A follows itself"]);
  });

  test("[F16] of boxes in a row behind an empty port only the first is told", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        first: { name: "First", type: "box-32-16", mode: "two" },
        second: { name: "Second", type: "box-32-16", mode: "two" },
      },
      cables: ["L1: first.b - second.a, 5 m", "L2: second.b - house.link1, 5 m"],
    });
    expect(told(show, "clock-source")).toEqual([
      "warning clock-source:nothing:first: First follows Link A, where no clock arrives",
    ]);
  });
});
