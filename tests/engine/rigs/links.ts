import type { Rig } from "../tell.ts";
import { rig } from "./build.ts";
import {
  LINK_BOX,
  LINK_BOX_SRC,
  AES3_DECK,
  CLOCK_SHY,
  CLOCKLESS,
  EIGHT,
  port,
  SHIFTER,
  type as deviceType,
} from "./types.ts";

/**
 * R14: a recorder behind an AES10 interface, there and back. The link has 48 slots, the coax 64: nothing reaches 49–64.
 *
 *     House link1 ──L1── link Interface coax-out ──C1→── coax-in Recorder
 *                                       coax-in ──←C2── coax-out     playback 1 ← Click
 */
export const R14: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x24 < direct 1", "ch 1 x8 < link1 1"] },
      interface: { name: "Interface", type: "aes10-interface" },
      recorder: { name: "Recorder", type: "recorder-64" },
    },
    cables: [
      "L1: house.link1 - interface.link",
      "C1: interface.coax-out - recorder.coax-in, 40 m, coax-75",
      "C2: recorder.coax-out - interface.coax-in, 40 m, coax-75",
    ],
    sources: ["Click: recorder.play.1"],
  }),
};

/**
 * R15: the recorder runs at 96 kHz, the console at 48. The interface converts the rate on its link and its coax in;
 * its coax out runs at the interface's own 96 kHz, where AES10 has 32 channels.
 *
 *     House 48k link1 ──L1── link(src) Interface 96k coax-out ──C1→── Recorder 96k
 */
export const R15: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-48", set: ["link1 1 x48 < direct 1", "ch 1 x8 < link1 1"] },
      interface: { name: "Interface", type: "aes10-interface-src", rate: 96000 },
      recorder: { name: "Recorder", type: "recorder-64", rate: 96000 },
    },
    cables: [
      "L1: house.link1 - interface.link",
      "C1: interface.coax-out - recorder.coax-in, 40 m, coax-75",
      "C2: recorder.coax-out - interface.coax-in, 40 m, coax-75",
    ],
    sources: ["Click: recorder.play.1"],
  }),
};

/**
 * R16: the same recorder behind an interface without a converter: the rates differ and nothing converts.
 *
 *     House 48k link1 ──L1── link Interface 48k coax-out ──C1→── Recorder 96k
 */
export const R16: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-48", set: ["link1 1 x48 < direct 1"] },
      interface: { name: "Interface", type: "aes10-interface" },
      recorder: { name: "Recorder", type: "recorder-64", rate: 96000 },
    },
    cables: ["L1: house.link1 - interface.link", "C1: interface.coax-out - recorder.coax-in, 40 m, coax-75"],
  }),
};

/**
 * R17: two consoles that don't share a clock, joined by AES3 through two converters. The AES3 inputs convert the rate.
 *
 *     House link1 ──L1── link Converter A out ══X1 (4 pairs)══ in Converter B link ──L2── link1 Monitors
 *       1–8 ← mix 1–8      mode low                          mode high   41–48 → ch 1–8
 */
export const R17: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
      a: { name: "Converter A", type: "aes3-converter", mode: "low" },
      b: { name: "Converter B", type: "aes3-converter", mode: "high" },
      monitors: { name: "Monitors", type: "console-24", set: ["ch 1 x8 < link1 41"] },
    },
    cables: [
      "L1: house.link1 - a.link",
      "X1: a.out.1 - b.in.1 x4, 3 m, digital-110",
      "L2: monitors.link1 - b.link",
    ],
  }),
};

/**
 * R18: AES3 into a deck that runs on its own clock and converts nothing; its second input is fed by nobody.
 *
 *     House link1 ──L1── link Converter out 1 ──X1── in 1 Deck
 */
export const R18: Rig = {
  show: rig({
    types: [AES3_DECK],
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
      converter: { name: "Converter", type: "aes3-converter", mode: "low" },
      deck: { name: "Deck", type: "aes3-deck" },
    },
    cables: ["L1: house.link1 - converter.link", "X1: converter.out.1 - deck.in.1, 3 m, digital-110"],
  }),
};

/**
 * R19: AES67 from endpoint to endpoint over a switch: one stream of eight, taken to other slots than it was sent from.
 *
 *     House ──L1── Endpoint 1 net ──N1── p1 Switch p2 ──N2── net Endpoint 2 ──L2── Monitors
 *      1–8           net 1–8 ═══════ stream ═══════> net 9–16    link 1–8       ch 1–8
 */
export const R19: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
      one: { name: "Endpoint 1", type: "aes67-endpoint", set: ["net 1 x8 < link 1"] },
      switch: { name: "Switch", type: "aes67-switch" },
      two: { name: "Endpoint 2", type: "aes67-endpoint", clock: "net", set: ["link 1 x8 < net 9"] },
      monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["ch 1 x8 < link1 1"] },
    },
    cables: [
      "L1: house.link1 - one.link",
      "N1: one.net - switch.p1, 80 m, cat5e",
      "N2: switch.p2 - two.net, 80 m, cat5e",
      "L2: two.link - monitors.link1",
    ],
    streams: ["Mixes: one.net.1 x8 > two.net.9"],
  }),
};

/**
 * R20: two link boxes at 48 and 96 kHz, neither of which converts the rate. Each counts its slots at its own.
 *
 *     A 48k x ──L1── x B 96k      (8 slots at 48 kHz, 4 at 96)
 */
export const R20: Rig = {
  show: rig({
    types: [LINK_BOX],
    devices: {
      a: { name: "A", type: "link-box" },
      b: { name: "B", type: "link-box", rate: 96000, clock: "x" },
    },
    cables: ["L1: a.x - b.x"],
    sources: ["One: a.in.1"],
  }),
};

/**
 * R21: the same, B converts: the link runs at A's rate both ways.
 *
 *     A 48k x ──L1── x(src) B 96k
 */
export const R21: Rig = {
  show: rig({
    types: [LINK_BOX, LINK_BOX_SRC],
    devices: { a: { name: "A", type: "link-box" }, b: { name: "B", type: "link-box-src", rate: 96000 } },
    cables: ["L1: a.x - b.x"],
    sources: ["Eight: a.in.8", "Back: b.in.8"],
  }),
};

/**
 * R22: both convert: each way runs at its sender's rate.
 *
 *     A 48k x(src) ──L1── x(src) B 96k     A → B 8 slots, B → A 4
 */
export const R22: Rig = {
  show: rig({
    types: [LINK_BOX_SRC],
    devices: { a: { name: "A", type: "link-box-src" }, b: { name: "B", type: "link-box-src", rate: 96000 } },
    cables: ["L1: a.x - b.x"],
    sources: ["Eight: a.in.8", "Four: b.in.4", "Five: b.in.5"],
  }),
};

/**
 * R23: two consoles that follow each other: a clock loop, so nothing digital passes between them.
 *
 *     House (follows link1) link1 ──L1── link1 Monitors (follows link1)
 */
export const R23: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", clock: "link1", set: ["ch 1 < link1 1", "out 1 < mix 1"] },
      monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
      wedge: { name: "Wedge", type: "wedge" },
    },
    cables: ["L1: house.link1 - monitors.link1", "X1: house.out.1 - wedge.in.1"],
  }),
};

/**
 * R24: a box that follows link A has its console on link B: free-running. R25: the same with the box set to follow B.
 *
 *     House link1 ──L1── b Box a (empty)
 */
const onB = (clock?: string): Rig => ({
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "ch 1 < link1 1"] },
      box: { name: "Box", type: "box-16-8", mode: "two", ...(clock ? { clock } : {}) },
    },
    cables: ["L1: house.link1 - box.b"],
    sources: ["Kick: box.in.1"],
  }),
});
export const R24: Rig = onB();
export const R25: Rig = onB("b");

/**
 * R26: two consoles, each on its own clock.
 *
 *     House link1 ──T1── link1 Monitors
 */
export const R26: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["ch 1 < link1 1"] },
      monitors: { name: "Monitors", type: "console-24", set: ["link1 1 x8 < mix 1"] },
    },
    cables: ["T1: house.link1 - monitors.link1"],
  }),
};

/**
 * R27: a shy box follows a port that carries no clock. Its second port does carry one, both ends of the cable willing.
 *
 *     Leader x ──L1── x Shy (follows x, which carries no clock)
 *     Leader 2 x ──L2── y Shy 2 (follows y)
 *     Shy 3 x ──L3── x Follower (follows x; the clock would have to come out of Shy 3's x)
 */
export const R27: Rig = {
  show: rig({
    types: [LINK_BOX, CLOCK_SHY],
    devices: {
      leader: { name: "Leader", type: "link-box" },
      shy: { name: "Shy", type: "clock-shy" },
      leader2: { name: "Leader 2", type: "link-box" },
      shy2: { name: "Shy 2", type: "clock-shy", clock: "y" },
      shy3: { name: "Shy 3", type: "clock-shy", clock: "internal" },
      follower: { name: "Follower", type: "link-box", clock: "x" },
    },
    cables: ["L1: leader.x - shy.x", "L2: leader2.x - shy2.y", "L3: shy3.x - follower.x"],
    sources: ["One: shy.in.1", "Two: shy2.in.1"],
  }),
};

/**
 * R28: a link through a device without a word clock: nobody leads it, so neither side can agree with it.
 *
 *     A x ──L1── x Clockless y ──L2── x B (follows x)
 *     another Clockless 2 y ──L3── x Clockless
 */
export const R28: Rig = {
  show: rig({
    types: [LINK_BOX, CLOCKLESS],
    devices: {
      clockless: { name: "Clockless", type: "clockless" },
      clockless2: { name: "Clockless 2", type: "clockless" },
      b: { name: "B", type: "link-box", clock: "x" },
    },
    cables: ["L2: clockless.y - b.x", "L3: clockless2.y - clockless.x"],
  }),
};

/**
 * R29: a carry that shifts. Port Y takes X's slots 5–8 in its 1–4 (up), 1–4 in its 5–8 (down); the jacks fill the rest.
 *
 *     Feeder x ──L1── x Shifter y ──L2── x End
 */
const shifter = (mode: string): Rig => ({
  show: rig({
    types: [LINK_BOX, SHIFTER],
    devices: {
      feeder: { name: "Feeder", type: "link-box" },
      shifter: { name: "Shifter", type: "shifter", mode },
      end: { name: "End", type: "link-box", clock: "x" },
    },
    cables: ["L1: feeder.x - shifter.x", "L2: shifter.y - end.x"],
    sources: ["F1: feeder.in.1", "F5: feeder.in.5", "S1: shifter.in.1", "S5: shifter.in.5"],
  }),
});
export const R29: Rig = shifter("up");
/** R30: as R29, shifted the other way. */
export const R30: Rig = shifter("down");
/** R31: as R29, not shifted: the carry takes every slot and leaves none to the jacks. */
export const R31: Rig = shifter("straight");

const wideIn = deviceType("wide-in", {
  ports: [port("x", EIGHT, { receive: { single: 16, double: 8, quad: 4 } })],
});
/**
 * R32: a port that receives 16 slots and sends 8, to one that has 8 each way, and to its like. The lesser number holds.
 *
 *     Wide x ──L1── x A          Wide 2 x ──L2── x Wide 3
 */
export const R32: Rig = {
  show: rig({
    types: [LINK_BOX, wideIn],
    devices: {
      wide: { name: "Wide", type: "wide-in" },
      a: { name: "A", type: "link-box", clock: "x" },
      wide2: { name: "Wide 2", type: "wide-in", clock: "x" },
      wide3: { name: "Wide 3", type: "wide-in" },
    },
    cables: ["L1: wide.x - a.x", "L2: wide2.x - wide3.x"],
    sources: ["One: a.in.1"],
  }),
};

const network = (pulled: readonly string[], off: readonly string[] = []): Rig => ({
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
      one: { name: "Endpoint 1", type: "aes67-endpoint", set: ["net 1 x8 < link 1"] },
      a: { name: "Switch A", type: "aes67-switch" },
      b: { name: "Switch B", type: "aes67-switch" },
      c: { name: "Switch C", type: "aes67-switch" },
      two: { name: "Endpoint 2", type: "aes67-endpoint", clock: "net" },
      three: { name: "Endpoint 3", type: "aes67-endpoint", clock: "net" },
      alone: { name: "Alone", type: "aes67-endpoint", clock: "net" },
    },
    cables: [
      "L1: house.link1 - one.link",
      "N1: one.net - a.p1, 10 m, cat5e",
      "N2: a.p2 - c.p2, 10 m, cat5e",
      "N3: c.p3 - b.p3, 10 m, cat5e",
      "N4: a.p4 - b.p4, 90 m, cat5e",
      "N5: b.p1 - two.net, 10 m, cat5e",
      "N6: a.p8 - three.net, 10 m, cat5e",
    ],
    streams: [
      "Mixes: one.net.1 x8 > two.net.9, three.net.1",
      "Late: one.net.3 x4 > two.net.15",
      "Lost: one.net.1 x2 > alone.net.1",
      "Odd: one.net.1 x2 > one.link.1, two.nowhere.1, nobody.net.1, two.net.30",
    ],
  }),
  away: { cables: new Set(pulled), devices: new Set(off) },
});
/**
 * R62: a network of three switches. A stream takes the way with the fewest cables, be it the longer one in metres, and
 * goes to as many as take it.
 *
 *     House ──L1── Endpoint 1 ──N1── Switch A ────────N4 (90 m)──────── Switch B ──N5── Endpoint 2
 *                                     │  └──N2── Switch C ──N3──────────┘
 *                                     └──N6── Endpoint 3                     Alone (plugged nowhere)
 */
export const R62: Rig = network([]);
/** R63: as R62 with N4 pulled: the stream goes round by Switch C. */
export const R63: Rig = network(["N4"]);
/** R64: as R62 with N4 and N2 pulled: no way leads to Endpoint 2, and N4 is the first cut on the shortest. */
export const R64: Rig = network(["N4", "N2"]);

/**
 * R65: AES67 at 96 kHz, where the generic port has 32 of its 64 slots. The slots that don't exist are asked for at the
 * sender and at the receiver.
 *
 *     House ──L1── Endpoint 1 ──N1── Switch ──N2── Endpoint 2
 */
export const R65: Rig = {
  show: rig({
    rate: 96000,
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
      one: { name: "Endpoint 1", type: "aes67-endpoint", set: ["net 1 x8 < link 1", "net 25 x8 < link 1"] },
      switch: { name: "Switch", type: "aes67-switch" },
      two: { name: "Endpoint 2", type: "aes67-endpoint", clock: "net" },
    },
    cables: ["L1: house.link1 - one.link", "N1: one.net - switch.p1", "N2: switch.p2 - two.net"],
    streams: ["Past the sender: one.net.31 x4 > two.net.1", "Past the receiver: one.net.1 x4 > two.net.31"],
  }),
};

/**
 * R66: two consoles with clocks of their own on one network. It follows the first of them, House; what Monitors sends
 * or takes doesn't agree. Endpoint 3 takes the network's clock.
 *
 *     House ──L1── Endpoint 1 ──N1── Switch ──N2── Endpoint 2 ──L2── Monitors
 *                                       └────N3── Endpoint 3
 */
export const R66: Rig = {
  show: rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
      one: { name: "Endpoint 1", type: "aes67-endpoint", set: ["net 1 x8 < link 1"] },
      switch: { name: "Switch", type: "aes67-switch" },
      two: { name: "Endpoint 2", type: "aes67-endpoint" },
      three: { name: "Endpoint 3", type: "aes67-endpoint", clock: "net" },
      monitors: { name: "Monitors", type: "console-24" },
    },
    cables: [
      "L1: house.link1 - one.link",
      "L2: monitors.link1 - two.link",
      "N1: one.net - switch.p1",
      "N2: switch.p2 - two.net",
      "N3: switch.p3 - three.net",
    ],
    streams: ["Mixes: one.net.1 x8 > two.net.1, three.net.1"],
  }),
};

/**
 * R67: two endpoints that both take the network's clock. Nobody brings one, so the first of them leads.
 *
 *     Endpoint 1 (follows net) ──N1── Endpoint 2 (follows net)
 */
export const R67: Rig = {
  show: rig({
    devices: {
      one: { name: "Endpoint 1", type: "aes67-endpoint", clock: "net" },
      two: { name: "Endpoint 2", type: "aes67-endpoint", clock: "net" },
    },
    cables: ["N1: one.net - two.net"],
    streams: ["Mixes: one.net.1 x8 > two.net.1"],
  }),
};

/** R68: as R63 with Switch C, which the stream would go round by, taken away as well. */
export const R68: Rig = network(["N4"], ["c"]);

/** R69: as R62 with Switch B, which every way to Endpoint 2 passes, taken away. */
export const R69: Rig = network([], ["b"]);
