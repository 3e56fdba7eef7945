/**
 * What stands beside. Terminals of a device are numbers in a row, so a slip by one at a group's edge falls on another
 * group: each of these rigs has a neighbour that must stay as it was. Expected values follow from the rules of SPEC.md.
 */
import { describe, expect, test } from "vitest";
import { bank, group, mode, patch, range, wired } from "#engine/catalog/parts.ts";
import type { DeviceType, MixSection } from "#engine/model/device-type.ts";
import type { Show } from "#engine/model/show.ts";
import { membersOf } from "#engine/trace/members.ts";
import { outputJacks } from "#engine/trace/owners.ts";
import { CLOCK_LOOP } from "#engine/wiring/clock.ts";
import { compile } from "#engine/wiring/compile.ts";
import { wholeRun } from "#engine/wiring/fabric.ts";
import { linkCapacity } from "#engine/wiring/join.ts";
import { spanGroup } from "#engine/wiring/layout.ts";
import type { Port } from "#engine/wiring/plugs.ts";
import { mixOutOf } from "#engine/wiring/mixes.ts";
import { State } from "#engine/wiring/wiring.ts";
import { rig, type DeviceText } from "./rigs/build.ts";
import { EIGHT, port, type } from "./rigs/types.ts";
import { Bench, expectTraces } from "./tell.ts";

const NETWORK = { speed: 1000, share: 0.75, provenance: "assumed" } as const;

/** Two banks of outputs, one behind the other. */
const outputs = (name: string, parts: Partial<DeviceType>): DeviceType =>
  type(name, {
    banks: [
      bank("in", "In", "in", 16, "XLR", "line"),
      bank("near", "Near", "out", 8, "XLR", "line"),
      bank("far", "Far", "out", 16, "XLR", "line"),
    ],
    ...parts,
  });

const one = (made: DeviceType, more: Partial<DeviceText> = {}): Show =>
  rig({ types: [made], devices: { box: { name: "Box", type: made.id, ...more } } });

describe("rules at the edges of their groups", () => {
  test("[M5] a run that starts before its group feeds what of it lies inside, and nothing of the group before", () => {
    const shifting = outputs("shifting", { rules: [wired("far", 1, "in", 1, 8, { to: -1 })], chain: 2 });
    expectTraces({ show: one(shifting, { position: 2 }) }, [
      "Box Near 8: not wired at Box Near 8 (mode normal), 1 hop",
      "Box Far 1: not plugged at Box In 2, 1 hop",
      "Box Far 7: not plugged at Box In 8, 1 hop",
      "Box Far 8: not wired at Box Far 8 (mode normal), 1 hop",
    ]);
  });

  test("[W4] [W8] a patch rule reaches from its first number to its last", () => {
    const upper = outputs("upper", { rules: [patch(range("far", 9, 4), [range("in", 1, 8)], 1)] });
    const { wiring, at } = bench(one(upper));
    const states = [8, 9, 12, 13].map((number) => wiring.state[at(`Box Far ${number}`)]);
    expect(states).toEqual([State.unwired, State.unassigned, State.unassigned, State.unwired]);
    // From number 0 on there is nothing before the first.
    const zero = bench(one(outputs("zero", { rules: [patch(range("far", 0, 2), [range("in", 1, 8)], 1)] })));
    expect(["Near 8", "Far 1", "Far 2"].map((name) => zero.wiring.state[zero.at(`Box ${name}`)])).toEqual([
      State.unwired,
      State.unassigned,
      State.unwired,
    ]);
  });

  test("[W5] [W8] a setting past its rule's numbers sets those that the rule has", () => {
    const lower = outputs("lower", { rules: [patch(range("far", 1, 8), [range("in", 1, 16)], 1)] });
    expectTraces({ show: one(lower, { set: ["far 1 x16 < in 1"] }) }, [
      "Box Far 8: not plugged at Box In 8, 1 hop",
      "Box Far 9: not wired at Box Far 9 (mode normal; far 1 x16 < in 1), 1 hop",
    ]);
  });

  test("[W5] a setting from number 0 on leaves the last number of the group before as it was", () => {
    const both = outputs("both", {
      rules: [
        patch(range("near", 1, 8), [range("in", 1, 8)], 1),
        patch(range("far", 1, 8), [range("in", 1, 8)], 1),
      ],
    });
    expectTraces({ show: one(both, { set: ["far 0 x3 < in 1"] }) }, [
      "Box Near 8: nothing assigned at Box Near 8, 1 hop",
      "Box Far 1: not plugged at Box In 2, 1 hop",
      "Box Far 2: not plugged at Box In 3, 1 hop",
    ]);
  });

  test("[W5] where two rules share a run of eight, each terminal goes by the one that decides it", () => {
    const shared = outputs("shared", {
      rules: [
        patch(range("far", 1, 4), [range("in", 1, 8)], 4),
        patch(range("far", 1, 8), [range("in", 9, 8)], 8),
      ],
    });
    expectTraces({ show: one(shared, { set: ["far 1 x8 < in 9"] }) }, [
      "Box Far 4: not wired at Box Far 4 (mode normal; far 1 x8 < in 9), 1 hop",
      "Box Far 5: not plugged at Box In 13, 1 hop",
      "Box Far 8: not plugged at Box In 16, 1 hop",
    ]);
  });

  test("[W8] rules of groups that aren't there decide nothing", () => {
    const lost = outputs("lost", {
      rules: [
        patch(range("gone", 1, 8), [range("in", 1, 8)], 1),
        wired("gone", 1, "in", 1, 8),
        wired("near", 1, "gone", 1, 8),
        { kind: "carry", to: group("gone"), from: group("gone"), shift: 0 },
        patch(range("far", 1, 8), [range("gone", 1, 8)], 1),
      ],
    });
    expectTraces({ show: one(lost) }, [
      "Box Near 1: not wired at Box Near 1 (mode normal), 1 hop",
      "Box Far 1: nothing assigned at Box Far 1, 1 hop",
    ]);
  });

  test("[N4] [W5] a whole run lies in one listed range, steps with its destination, and ends where a range ends", () => {
    const rule = patch(range("far", 1, 12), [range("in", 5, 6), range("in", 13, 4)], 4);
    const run = (to: number, from: number): string => {
      const found = wholeRun(rule, to, group("in"), from);
      return found ? `${found.to.first} x${found.count} < ${found.from.first}` : "none";
    };
    expect([run(1, 5), run(4, 8), run(9, 5)]).toEqual(["1 x4 < 5", "1 x4 < 5", "9 x4 < 5"]);
    // The first range ends with its sixth number, so its second run has two.
    expect([run(5, 9), run(6, 10)]).toEqual(["5 x2 < 9", "5 x2 < 9"]);
    // Before the range, past it, out of step with it.
    expect([run(1, 1), run(3, 11), run(4, 11), run(1, 17), run(1, 6)]).toEqual(Array(5).fill("none"));
    expect(run(12, 16)).toBe("9 x4 < 13");
    // The destination may end within a run as well.
    const short = patch(range("far", 1, 6), [range("in", 1, 8)], 4);
    expect(wholeRun(short, 6, group("in"), 6)).toMatchObject({ to: { first: 5 }, count: 2 });
  });
});

describe("cables and streams at the edges of their groups", () => {
  const net = (name: string, slots: number, more: Partial<DeviceType> = {}): DeviceType =>
    type(name, {
      ports: [
        port("x", { single: slots, double: 0, quad: 0 }, { transport: "AES67", network: NETWORK }),
        port("y", { single: slots, double: 0, quad: 0 }, { transport: "AES67", network: NETWORK }),
      ],
      banks: [bank("in", "In", "in", 16, "XLR", "line")],
      rules: [wired("x", 1, "in", 1, slots)],
      ...more,
    });
  /** `Truck — Node`, the node with as many slots as told. */
  const between = (
    slots: number,
    streams: readonly string[],
    cables: readonly string[] = ["N: truck.x - node.x"],
    clock = "x",
  ): Show =>
    rig({
      types: [net("sixteen", 16), net("taker", slots)],
      devices: {
        truck: { name: "Truck", type: "sixteen" },
        node: { name: "Node", type: "taker", clock },
      },
      cables,
      streams,
    });

  test("[W12] a multicore that joins nothing keeps the jacks of its bank and no others", () => {
    const two = type("two", {
      banks: [
        bank("first", "First", "in", 4, "XLR", "line"),
        bank("second", "Second", "in", 4, "XLR", "line"),
      ],
    });
    const digital = type("digital", { banks: [bank("out", "Out", "out", 8, "XLR", "AES3")] });
    const show = rig({
      types: [two, digital],
      devices: { a: { name: "A", type: "digital" }, b: { name: "B", type: "two" } },
      cables: ["X: a.out.1 - b.first.3 x8"],
    });
    expectTraces({ show }, [
      "B First 2: not plugged at B First 2, 1 hop",
      "B First 4: not plugged at B First 4 (X joins nothing), 1 hop",
      "B Second 1: not plugged at B Second 1, 1 hop",
    ]);
  });

  test("[W9] a link may have one slot each way", () => {
    const single = type("single", {
      ports: [port("x", { single: 1, double: 0, quad: 0 })],
      banks: [bank("in", "In", "in", 1, "XLR", "line")],
      rules: [wired("x", 1, "in", 1, 1)],
    });
    const show = rig({
      types: [single],
      devices: { a: { name: "A", type: "single" }, b: { name: "B", type: "single", clock: "x" } },
      cables: ["L: a.x - b.x"],
      sources: ["Kick: a.in.1", "Talk: b.in.1"],
    });
    expectTraces({ show }, [
      "A Port X in 1 ← Talk at B In 1, 2 hops",
      "B Port X in 1 ← Kick at A In 1, 2 hops",
    ]);
    // Or one slot one way, whichever end of the cable is noted first.
    const none = { single: 0, double: 0, quad: 0 };
    const way = (name: string, more: Parameters<typeof port>[2]): DeviceType =>
      type(name, { ports: [port("x", { single: 1, double: 0, quad: 0 }, more)], clock: "internal" });
    const joined = (cable: string): string => {
      const { join } = compile(
        rig({
          types: [way("giver", { receive: none }), way("taker", { send: none })],
          devices: { a: { name: "A", type: "giver" }, b: { name: "B", type: "taker" } },
          cables: [cable],
        }),
      ).plugs.cables[0]!;
      return join.kind;
    };
    expect([joined("L: a.x - b.x"), joined("L: b.x - a.x")]).toEqual(["link", "link"]);
  });

  test("[W9] of two ends with as many slots the sender's tells the rate", () => {
    const show = rig({
      rate: 48000,
      devices: {
        a: { name: "A", type: "console-24" },
        b: { name: "B", type: "console-24", rate: 44100 },
      },
      cables: ["L: a.link1 - b.link1"],
    });
    const { join } = compile(show).plugs.cables[0]!;
    const [a, b] = (join as { readonly ends: readonly [Port, Port] }).ends;
    expect([linkCapacity(a, b), linkCapacity(b, a)]).toEqual([
      { slots: 48, rate: 48000 },
      { slots: 48, rate: 44100 },
    ]);
  });

  test("[W11] of a jack with one signal and one with two, the second has nothing to come from or go to", () => {
    const jack = (name: string, direction: "in" | "out", perJack: 1 | 2): DeviceType =>
      type(name, { banks: [bank("jack", "Jack", direction, 2, "XLR", "line", { perJack })], clock: "none" });
    const joined = (out: 1 | 2, into: 1 | 2): Show =>
      rig({
        types: [jack("sender", "out", out), jack("taker", "in", into)],
        devices: { a: { name: "A", type: "sender" }, b: { name: "B", type: "taker" } },
        cables: ["X: a.jack.1 - b.jack.1 x2"],
      });
    expectTraces({ show: joined(1, 2) }, [
      "B Jack 1A: not wired at A Jack 1 (mode normal), 2 hops",
      "B Jack 1B: not plugged at B Jack 1B (X joins nothing), 1 hop",
      "B Jack 2A: not wired at A Jack 2 (mode normal), 2 hops",
    ]);
    expectTraces({ show: joined(2, 1) }, [
      "B Jack 1: not wired at A Jack 1A (mode normal), 2 hops",
      "B Jack 2: not wired at A Jack 2A (mode normal), 2 hops",
    ]);
  });

  test("[W12] why a cable joins nothing: an end that isn't there, unlike ends, two that only send", () => {
    const none = { single: 0, double: 0, quad: 0 };
    const show = rig({
      types: [
        type("sender", {
          banks: [bank("out", "Out", "out", 2, "XLR", "line"), bank("aes", "AES", "in", 1, "XLR", "AES3")],
          ports: [port("x", EIGHT, { receive: none })],
        }),
      ],
      devices: { a: { name: "A", type: "sender" }, b: { name: "B", type: "sender" } },
      cables: [
        "C1: a.x - b.x",
        "C2: a.out.1 - b.out.1",
        "C3: a.out.2 - b.aes.1",
        "C4: a.out.2 - b.gone",
        "C5: a.out.2 - gone.out.1",
      ],
    });
    const { cables } = compile(show).plugs;
    expect(cables.map(({ join }) => (join.kind === "misfit" ? join.why : join.kind))).toEqual([
      "same-direction",
      "same-direction",
      "unlike",
      "missing",
      "missing",
    ]);
    expect(cables.slice(3).map(({ sockets }) => sockets[1])).toEqual([
      { kind: "missing", what: "group" },
      { kind: "missing", what: "device" },
    ]);
  });

  test("[W12] a radio jack takes no cable, from a line output neither", () => {
    const show = rig({
      types: [
        type("sender", { banks: [bank("out", "Out", "out", 1, "XLR", "line")] }),
        type("taker", { banks: [bank("in", "In", "in", 1, "XLR", "radio")] }),
      ],
      devices: { a: { name: "A", type: "sender" }, b: { name: "B", type: "taker" } },
      cables: ["X: a.out.1 - b.in.1"],
    });
    expectTraces({ show }, ["B In 1: not plugged at B In 1 (X joins nothing), 1 hop"]);
  });

  test("[C4] a sender that is off is told as off, by AES3 and by stream, whatever its rate", () => {
    const deck = type("deck", {
      banks: [
        bank("in", "In", "in", 2, "XLR", "AES3", { perJack: 2 }),
        bank("out", "Out", "out", 2, "XLR", "AES3", { perJack: 2 }),
      ],
      ports: [port("x", EIGHT, { network: NETWORK })],
    });
    const show = (off: boolean): Show =>
      rig({
        types: [deck],
        devices: {
          a: { name: "A", type: "deck", rate: 96000, off },
          b: { name: "B", type: "deck" },
        },
        cables: ["X: a.out.1 - b.in.1", "N: a.x - b.x"],
        streams: ["S: a.x.1 x1 > b.x.1"],
      });
    expectTraces({ show: show(true) }, [
      "B In 1A: off at A Out 1A, 2 hops",
      "B Port X in 1: off at A Port X out 1, 2 hops",
    ]);
    expectTraces({ show: show(false) }, [
      "B In 1A: rate mismatch at B In 1A (X), 1 hop",
      "B Port X in 1: rate mismatch at B Port X in 1 (N), 1 hop",
    ]);
  });

  test("[W20] a stream ends with the receiver's last slot, and what stands behind it takes nothing", () => {
    expectTraces({ show: between(8, ["S: truck.x.1 x8 > node.y.5"], ["N: truck.x - node.y"], "y") }, [
      "Node Port Y in 5: not plugged at Truck In 1, 2 hops",
      "Node Port Y in 8: not plugged at Truck In 4, 2 hops",
      "Node Port Y out 1: not wired at Node Port Y out 1 (mode normal), 1 hop",
    ]);
  });

  test("[W20] a receiver with few slots takes high ones of its sender", () => {
    expectTraces({ show: between(8, ["S: truck.x.9 x8 > node.x.1"]) }, [
      "Node Port X in 1: not plugged at Truck In 9, 2 hops",
      "Node Port X in 8: not plugged at Truck In 16, 2 hops",
    ]);
  });

  test("[W20] a cable whose length nobody noted adds no time to a stream", () => {
    const show = between(8, ["S: truck.x.1 x1 > node.x.1"]);
    const { wiring, at } = bench(show);
    // One packet of 1 ms; the ports of this type take no time.
    expect(wiring.delay[at("Node Port X in 1")]).toBe(1);
  });

  test("[W18] a second cable in a network port stops no stream", () => {
    const show = between(8, ["S: truck.x.1 x1 > node.x.1"], ["N: truck.x - node.x", "M: node.x - gone.x"]);
    expectTraces({ show }, ["Node Port X in 1: not plugged at Truck In 1, 2 hops"]);
  });

  test("[W19] only a switch passes a stream on, and only from network port to network port", () => {
    const chained = (made: DeviceType, out: string): Show =>
      rig({
        types: [net("sixteen", 16), made],
        devices: {
          truck: { name: "Truck", type: "sixteen" },
          middle: { name: "Middle", type: made.id, clock: "x" },
          node: { name: "Node", type: "sixteen", clock: "x" },
        },
        cables: ["N1: truck.x - middle.x", `N2: middle.${out} - node.x`],
        streams: ["S: truck.x.1 x1 > node.x.1"],
      });
    const slots = { single: 16, double: 0, quad: 0 };
    const passing = net("passing", 16, {
      forwards: true,
      ports: [
        port("x", slots, { transport: "AES67", network: NETWORK }),
        port("y", slots, { transport: "AES67", network: NETWORK }),
        port("plain", slots, { transport: "AES67" }),
      ],
    });
    // The switch is a hop of its own.
    const taken = "Node Port X in 1: not plugged at Truck In 1, 3 hops";
    const stopped = "Node Port X in 1: not plugged at Node Port X in 1, 1 hop";
    expectTraces({ show: chained(passing, "y") }, [taken]);
    expectTraces({ show: chained(passing, "plain") }, [stopped]);
    expectTraces({ show: chained(net("ending", 16), "y") }, [stopped]);
  });

  test("[C5] a device without a word clock leads no network, even as the first on it", () => {
    const show = rig({
      types: [net("sixteen", 16), net("clockless", 16, { clock: "none" })],
      devices: {
        mute: { name: "Mute", type: "clockless" },
        follower: { name: "Follower", type: "sixteen", clock: "x" },
        switch: { name: "Switch", type: "aes67-switch" },
        leader: { name: "Leader", type: "sixteen" },
      },
      cables: ["N1: mute.x - switch.p1", "N2: follower.x - switch.p2", "N3: leader.x - switch.p3"],
    });
    expect(compile(show).leaders[1]).toBe(3);
  });

  test("[C2] behind a device without a clock the next one leads all that follow it, in whatever order the show has them", () => {
    const leaderNames = (...order: readonly string[]): readonly string[] => {
      const texts: Readonly<Record<string, DeviceText>> = {
        mute: { name: "Mute", type: "clockless" },
        next: { name: "Next", type: "through", clock: "x" },
        last: { name: "Last", type: "through", clock: "x" },
      };
      const show = rig({
        types: [
          type("clockless", { ports: [port("x", EIGHT)], clock: "none" }),
          type("through", { ports: [port("x", EIGHT), port("y", EIGHT)] }),
        ],
        devices: Object.fromEntries(order.map((key) => [key, texts[key]!])),
        cables: ["A: mute.x - next.x", "B: next.y - last.x"],
      });
      const { leaders, names } = compile(show);
      return ["Mute", "Next", "Last"].map((name) => names[leaders[names.indexOf(name)]!] ?? "nobody");
    };
    const due = ["nobody", "Next", "Next"];
    expect(leaderNames("mute", "next", "last")).toEqual(due);
    expect(leaderNames("mute", "last", "next")).toEqual(due);
    expect(leaderNames("last", "next", "mute")).toEqual(due);
  });

  test("[C2] a cable from one port of a device to another has each of them at the other's far end", () => {
    const show = rig({
      devices: { a: { name: "A", type: "console-24" } },
      cables: ["L: a.link1 - a.link2"],
    });
    const { plugs } = compile(show);
    const far = (from: string): string | undefined => plugs.ofPort(0, from)?.far?.port.id;
    expect([far("link1"), far("link2")]).toEqual(["link2", "link1"]);
    // Set to follow one of them it follows itself, which is a circle.
    const following = { ...show, devices: show.devices.map((each) => ({ ...each, clock: group("link1") })) };
    expect(compile(following).leaders[0]).toBe(CLOCK_LOOP);
  });
});

describe("what names a device that the rig doesn't have", () => {
  test("[F14] falls on no other device", () => {
    const show = rig({
      devices: {
        a: { name: "A", type: "aes67-endpoint" },
        b: { name: "B", type: "aes67-endpoint", clock: "net" },
        house: { name: "House", type: "console-24" },
      },
      cables: ["N: a.net - b.net"],
      sources: ["Kick: gone.in.1"],
      streams: ["S: gone.net.1 x1 > b.net.1"],
    });
    const bare = compile({ ...show, sources: [], streams: [] });
    const wiring = compile(show);
    expect(wiring.ways).toEqual([]);
    expect(wiring.sourceAt).toEqual(bare.sourceAt);
    expect(wiring.state).toEqual(bare.state);
    // A mix likewise, where the first device of the rig has such a section.
    const desk = rig({
      devices: { house: { name: "House", type: "console-24" } },
      sources: ["Kick: gone.in.1"],
      mixes: ["Wedge: gone.mix.1 < ch 1"],
    });
    const { mixWhole, mixInto, sourceAt } = compile(desk);
    expect([...mixWhole]).toEqual([0]);
    expect(sourceAt.every((source) => source === -1)).toBe(true);
    expect(mixInto.start.at(-1)).toBe(compile({ ...desk, mixes: [] }).mixInto.start.at(-1));
  });
});

describe("sections of a mixer and what they name", () => {
  const section = (
    name: string,
    role: MixSection["role"],
    count: number,
    from: readonly string[] = [],
  ): MixSection => ({ id: group(name), name, role, count, from: from.map(group), block: 1 });
  const desk = (sections: readonly MixSection[], rules: DeviceType["rules"] = []): DeviceType =>
    type("desk", {
      banks: [bank("in", "In", "in", 8, "XLR", "line"), bank("out", "Out", "out", 4, "XLR", "line")],
      mixer: { sections, processing: { value: 0, unit: "ms", provenance: "assumed" } },
      rules,
    });
  const made = (
    sections: readonly MixSection[],
    more: { readonly inserts?: readonly string[]; readonly mixes?: readonly string[] } = {},
  ): Bench =>
    new Bench({
      show: rig({
        types: [desk(sections)],
        devices: { desk: { name: "Desk", type: "desk", ...(more.inserts ? { inserts: more.inserts } : {}) } },
        ...(more.mixes ? { mixes: more.mixes } : {}),
      }),
    });
  const into = (bench: Bench, tap: string): readonly string[] =>
    membersOf(bench.wiring, bench.at(`Desk ${tap}`)).map(({ member }) => bench.name(member));

  test("[W16] the very last terminal of a rig goes into mixes like any other", () => {
    const bench = made([section("mix", "mix", 1, ["ch"]), section("ch", "channel", 2)], {
      mixes: ["Band: desk.mix.1 < ch 1, ch 2"],
    });
    expect(bench.at("Desk ch 2")).toBe(bench.wiring.size - 1);
    expect(into(bench, "mix 1")).toEqual(["Desk ch 1", "Desk ch 2"]);
    const { start, terminal } = mixOutOf(bench.wiring);
    expect([start.length, bench.wiring.mixInto.start.length]).toEqual(Array(2).fill(bench.wiring.size + 1));
    const last = bench.wiring.size - 1;
    expect([...terminal.slice(start[last], start[last + 1])]).toEqual([bench.at("Desk mix 1")]);
  });

  test("[W16] the table of what a channel goes into is that of what goes into taps, reversed: taps in ascending order", () => {
    const bench = made(
      [section("ch", "channel", 2), section("mix", "mix", 4, ["ch"]), section("direct", "direct", 2, ["ch"])],
      {
        // The stereo mix comes before the one on bus 1, and channel 2 is in it twice.
        mixes: ["Ears: desk.mix.3+4 < ch 2, ch 1, ch 2", "Wedge: desk.mix.1 < ch 2"],
      },
    );
    const { start, terminal, mix } = mixOutOf(bench.wiring);
    const outOf = (channel: string): readonly string[] => {
      const at = bench.at(`Desk ${channel}`);
      return Array.from(
        terminal.slice(start[at], start[at + 1]),
        (tap, n) => `${bench.name(tap).slice(5)} by ${mix[start[at]! + n]}`,
      );
    };
    expect(outOf("ch 1")).toEqual(["mix 3 by 0", "mix 4 by 0", "direct 1 by -1"]);
    expect(outOf("ch 2")).toEqual([
      "mix 1 by 1",
      "mix 3 by 0",
      "mix 3 by 0",
      "mix 4 by 0",
      "mix 4 by 0",
      "direct 2 by -1",
    ]);
    // Three members into two buses, one into one, and two direct outs.
    expect([...start.slice(-2)]).toEqual([9, 9]);
    expect(into(bench, "mix 4")).toEqual(["Desk ch 2", "Desk ch 1", "Desk ch 2"]);
  });

  test("[W16] a mix takes no channel 0, and no jack, be it that its section names the bank", () => {
    const bench = made([section("ch", "channel", 2), section("mix", "mix", 1, ["ch", "in"])], {
      mixes: ["Band: desk.mix.1 < ch 0, ch 3, in 1, ch 2"],
    });
    expect(into(bench, "mix 1")).toEqual(["Desk ch 2"]);
    expect([...bench.wiring.mixWhole]).toEqual([0]);
  });

  test("[W16] a direct out takes its own channel; past the channels, and of what is none, it takes nothing", () => {
    const bench = made([
      section("ch", "channel", 2),
      section("behind", "channel", 2),
      section("direct", "direct", 4, ["ch", "in", "gone"]),
    ]);
    expect([1, 2, 3, 4].map((n) => into(bench, `direct ${n}`))).toEqual([
      ["Desk ch 1"],
      ["Desk ch 2"],
      [],
      [],
    ]);
  });

  test("[W24] mains and matrices take inserts as mixes do", () => {
    const sections = [
      section("ch", "channel", 2),
      section("main", "main", 1, ["ch"]),
      section("matrix", "matrix", 1, ["main"]),
      section("main-send", "send", 1, ["main"]),
      section("main-back", "return", 1, ["main"]),
      section("matrix-send", "send", 1, ["matrix"]),
      section("matrix-back", "return", 1, ["matrix"]),
    ];
    const bench = made(sections, {
      inserts: ["main-back 1", "matrix-back 1"],
      mixes: ["House: desk.main.1 < ch 1", "Fill: desk.matrix.1 < main 1"],
    });
    expect(into(bench, "main-send 1")).toEqual(["Desk ch 1"]);
    expect(into(bench, "matrix-send 1")).toEqual(["Desk main 1"]);
    expect(into(bench, "main 1")).toEqual([]);
    expect(bench.wiring.feeder[bench.at("Desk matrix 1")]).toBe(bench.at("Desk matrix-back 1"));
  });

  test("[W22] a return of direct outs, of jacks, or of nothing is no insert; nor is a channel that names a section", () => {
    const bench = made(
      [
        section("ch", "channel", 2, ["mix"]),
        section("mix", "mix", 2, ["ch"]),
        section("direct", "direct", 2, ["ch"]),
        section("direct-back", "return", 2, ["direct"]),
        section("jack-back", "return", 2, ["in"]),
        section("lone-back", "return", 2),
      ],
      {
        inserts: ["direct-back 1", "jack-back 1", "lone-back 1", "ch 1"],
        mixes: ["Band: desk.mix.1 < ch 1"],
      },
    );
    expect(into(bench, "mix 1")).toEqual(["Desk ch 1"]);
    expect(bench.wiring.state[bench.at("Desk direct 1")]).toBe(State.tap);
    expect(bench.wiring.state[bench.at("Desk mix 1")]).toBe(State.tap);
  });

  test("[W24] past the sends of its section a bus goes nowhere; of two inserts in one place the first counts", () => {
    const sections = [
      section("ch", "channel", 1),
      section("mix", "mix", 2, ["ch"]),
      section("mix-send", "send", 1, ["mix"]),
      section("mix-back", "return", 2, ["mix"]),
      section("other-back", "return", 2, ["mix"]),
    ];
    const bench = made(sections, {
      inserts: ["mix-back 1 x2", "other-back 1 x2"],
      mixes: ["Two: desk.mix.2 < ch 1", "One: desk.mix.1 < ch 1"],
    });
    expect(into(bench, "mix-send 1")).toEqual(["Desk ch 1"]);
    // Without a send what would go into the second mix goes nowhere, not to the first terminal of the desk.
    expect(into(bench, "In 1")).toEqual([]);
    expect([1, 2].map((n) => bench.wiring.feeder[bench.at(`Desk mix ${n}`)])).toEqual(
      [1, 2].map((n) => bench.at(`Desk mix-back ${n}`)),
    );
    // Number 0 of a return is none, and the channel before the mixes stays as it was.
    const zero = made(sections, { inserts: ["mix-back 0"] });
    expect(["ch 1", "mix 1"].map((name) => zero.wiring.state[zero.at(`Desk ${name}`)])).toEqual([
      State.unwired,
      State.tap,
    ]);
  });

  test("[W16] [W24] of a stereo mix one side may go nowhere, by an insert without a send", () => {
    const sides = (insert: number): readonly (readonly string[])[] => {
      const bench = made(
        [
          section("ch", "channel", 2),
          section("mix", "mix", 2, ["ch"]),
          section("mix-back", "return", 2, ["mix"]),
        ],
        { inserts: [`mix-back ${insert}`], mixes: ["Ears: desk.mix.1+2 < ch 1, ch 2"] },
      );
      return ["mix 1", "mix 2"].map((tap) => into(bench, tap));
    };
    const both = ["Desk ch 1", "Desk ch 2"];
    expect(sides(1)).toEqual([[], both]);
    expect(sides(2)).toEqual([both, []]);
  });

  test("[W22] [W24] each send goes by its own bus: in for the second, out for the first", () => {
    const bench = made(
      [
        section("ch", "channel", 1),
        section("mix", "mix", 2, ["ch"]),
        section("mix-send", "send", 2, ["mix"]),
        section("mix-back", "return", 2, ["mix"]),
      ],
      { inserts: ["mix-back 2"], mixes: ["One: desk.mix.1 < ch 1", "Two: desk.mix.2 < ch 1"] },
    );
    expect([1, 2].map((n) => into(bench, `mix-send ${n}`))).toEqual([["Desk mix 1"], ["Desk ch 1"]]);
  });

  test("[J1] a join without a leg carries nothing, and what stands before it stays; a return is no leg", () => {
    const bench = made([
      section("ch", "channel", 1),
      section("ch-back", "return", 1, ["ch"]),
      section("mix", "mix", 1, ["ch"]),
      section("lost", "join", 2, ["ch-back", "gone"]),
    ]);
    expect([1, 2].map((n) => bench.wiring.state[bench.at(`Desk lost ${n}`)])).toEqual([
      State.unwired,
      State.unwired,
    ]);
    expect(bench.wiring.state[bench.at("Desk mix 1")]).toBe(State.tap);
    expect(into(bench, "lost 1")).toEqual([]);
  });

  test("[O1] a recorder's tracks are no outputs of the rig", () => {
    const show = rig({ devices: { rec: { name: "Recorder", type: "recorder-64" } } });
    const bench = new Bench({ show });
    const wired = bench.wiring.devices[0]!;
    const tracks = wired.fabric.layout.type.banks.filter(
      ({ connector, direction }) => connector === "none" && direction === "out",
    );
    expect(tracks).not.toEqual([]);
    const told = outputJacks(wired).map(({ span }) => spanGroup(span));
    for (const { id } of tracks) expect(told).not.toContain(id);
  });
});

describe("no setting, no source", () => {
  test("[W8] the tables say −1 where nothing decides", () => {
    const { wiring, at } = bench(one(outputs("bare", { modes: [mode("normal", "Normal", [])] })));
    const terminal = at("Box Far 1");
    expect([wiring.feeder[terminal], wiring.setting[terminal], wiring.sourceAt[terminal]]).toEqual([
      -1, -1, -1,
    ]);
  });

  test("[W14] a source stands alone: no cable, no time of one", () => {
    const show = rig({
      types: [outputs("box", {})],
      devices: { a: { name: "A", type: "box" }, b: { name: "B", type: "box" } },
      cables: ["X: a.near.1 - b.in.1, 100 m"],
      sources: ["Kick: b.in.1"],
    });
    const { wiring, at } = bench(show);
    const jack = at("B In 1");
    expect([wiring.state[jack], wiring.edge[jack], wiring.delay[jack]]).toEqual([State.source, 0, 0]);
  });
});

function bench(show: Show): { readonly wiring: Bench["wiring"]; readonly at: (name: string) => number } {
  const made = new Bench({ show });
  return { wiring: made.wiring, at: (name) => made.at(name) };
}
