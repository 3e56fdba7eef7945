/** The wiring at its edges: numbers before the first and past the last, ends that only look alike, what one end alone says. */
import { describe, expect, test } from "vitest";
import { bank, group, wired } from "#engine/catalog/parts.ts";
import type { DeviceType, JackBank, MixSection } from "#engine/model/device-type.ts";
import type { Show } from "#engine/model/show.ts";
import { membersOf } from "#engine/trace/members.ts";
import { State } from "#engine/wiring/wiring.ts";
import { rig } from "./rigs/build.ts";
import { EIGHT, port, type } from "./rigs/types.ts";
import { Bench, expectTraces } from "./tell.ts";

const NETWORK = { speed: 1000, share: 0.75, provenance: "assumed" } as const;

/** Two banks of inputs one behind the other, so that what misses the one falls on the other. */
const TWO_BANKS = type("two-banks", {
  banks: [
    bank("first", "First", "in", 4, "XLR", "line"),
    bank("second", "Second", "in", 4, "XLR", "line"),
    bank("out", "Out", "out", 4, "XLR", "line"),
  ],
});

const stateOf = (show: Show, name: string): number => {
  const bench = new Bench({ show });
  return bench.wiring.state[bench.at(name)]!;
};

describe("numbers that no jack has", () => {
  test("[W14] [F14] a source at jack 0 or past the last is nowhere, not at the bank beside it", () => {
    const sources = (...list: readonly string[]): Show =>
      rig({ types: [TWO_BANKS], devices: { box: { name: "Box", type: "two-banks" } }, sources: list });
    expect(stateOf(sources("Kick: box.second.0"), "Box First 4")).toBe(State.unplugged);
    expect(stateOf(sources("Kick: box.first.5"), "Box Second 1")).toBe(State.unplugged);
    expect(stateOf(sources("Kick: box.second.1"), "Box Second 1")).toBe(State.source);
    // An output is no place for a source.
    expect(stateOf(sources("Kick: box.out.1"), "Box Out 1")).toBe(State.unwired);
    // Of two in one jack the first counts.
    const bench = new Bench({ show: sources("Kick: box.first.1", "Snare: box.first.1") });
    expect(bench.wiring.sourceAt[bench.at("Box First 1")]).toBe(0);
  });

  test("[W11] a cable from jack 0 on joins from its second way on, and past the last it joins nothing", () => {
    const cable = (text: string): Show =>
      rig({
        types: [TWO_BANKS],
        devices: { a: { name: "A", type: "two-banks" }, b: { name: "B", type: "two-banks" } },
        cables: [text],
      });
    expectTraces({ show: cable("X: a.out.1 - b.second.0 x3") }, [
      "B First 4: not plugged at B First 4, 1 hop",
      "B Second 1: not wired at A Out 2 (mode normal), 2 hops",
      "B Second 2: not wired at A Out 3 (mode normal), 2 hops",
    ]);
    expectTraces({ show: cable("X: a.out.3 - b.first.3 x4") }, [
      "B First 4: not wired at A Out 4 (mode normal), 2 hops",
      "B Second 1: not plugged at B Second 1, 1 hop",
    ]);
    expectTraces({ show: cable("X: a.out.0 - b.first.1 x2") }, [
      "B First 1: not plugged at B First 1 (X joins nothing), 1 hop",
      "B First 2: not wired at A Out 1 (mode normal), 2 hops",
    ]);
  });

  test("[W5] a setting from number 0 on, on a group that isn't there, from one that isn't there", () => {
    const show = rig({
      devices: {
        house: {
          name: "House",
          type: "console-24",
          set: ["out 0 x3 < main 1", "gone 1 < main 1", "out 4 < gone 1"],
        },
      },
    });
    expectTraces({ show }, [
      // Its first run falls before the bank, the others take what stands beside it.
      "House Local out 1 ← House Main 2, 1 hop",
      "House Local out 2 ← House Main 3, 1 hop",
      "House Local out 4: not wired at House Local out 4 (mode normal; out 4 x1 < gone 1), 1 hop",
    ]);
  });
});

describe("ends that only look alike", () => {
  const one = (name: string, ...banks: readonly JackBank[]): DeviceType =>
    type(name, { banks, clock: "none" });
  const joined = (out: JackBank, into: JackBank): Show =>
    rig({
      types: [one("sender", out), one("taker", into)],
      devices: { a: { name: "A", type: "sender" }, b: { name: "B", type: "taker" } },
      cables: ["X: a.jack.1 - b.jack.1"],
    });

  test("[W12] two radio jacks, or two without a connector, be they called the same", () => {
    const air = (direction: "in" | "out"): JackBank => bank("jack", "Jack", direction, 1, "XLR", "radio");
    expectTraces({ show: joined(air("out"), air("in")) }, [
      "B Jack 1: not plugged at B Jack 1 (X joins nothing), 1 hop",
    ]);
    const track = (direction: "in" | "out"): JackBank => bank("jack", "Jack", direction, 1, "none", "line");
    // A jack that no plug fits isn't plugged: it waits for a source.
    expectTraces({ show: joined(track("out"), track("in")) }, [
      "B Jack 1: nothing assigned at B Jack 1, 1 hop",
    ]);
  });

  test("[W12] of pairs every way of a cable that joins nothing, A and B", () => {
    const show = rig({
      types: [
        one("sender", bank("jack", "Jack", "out", 4, "XLR", "line")),
        one("taker", bank("jack", "Jack", "in", 4, "XLR", "AES3", { perJack: 2 })),
      ],
      devices: { a: { name: "A", type: "sender" }, b: { name: "B", type: "taker" } },
      cables: ["X: a.jack.1 - b.jack.2 x2"],
    });
    expectTraces({ show }, [
      "B Jack 1B: not plugged at B Jack 1B, 1 hop",
      "B Jack 2A: not plugged at B Jack 2A (X joins nothing), 1 hop",
      "B Jack 3B: not plugged at B Jack 3B (X joins nothing), 1 hop",
      "B Jack 4A: not plugged at B Jack 4A, 1 hop",
    ]);
  });
});

describe("what one end alone says", () => {
  const box = (name: string, more: Parameters<typeof port>[2]): DeviceType =>
    type(name, {
      ports: [port("x", EIGHT, more)],
      banks: [bank("in", "In", "in", 8, "XLR", "line")],
      rules: [wired("x", 1, "in", 1, 8)],
    });
  const between = (
    a: DeviceType,
    b: DeviceType,
    more: { readonly rate?: 96000; readonly streams?: readonly string[] } = {},
  ): Show =>
    rig({
      types: [a, b],
      devices: {
        a: { name: "A", type: a.id },
        b: { name: "B", type: b.id, clock: "x", ...(more.rate ? { rate: more.rate } : {}) },
      },
      cables: ["L: a.x - b.x"],
      sources: ["Kick: a.in.1"],
      ...(more.streams ? { streams: more.streams } : {}),
    });

  test("[W18] a network port hands nothing to a port that is none, nor takes anything from it", () => {
    const [net, plain] = [box("net", { network: NETWORK }), box("plain", {})];
    expectTraces({ show: between(net, plain) }, ["B Port X in 1: not plugged at B Port X in 1, 1 hop"]);
    expectTraces({ show: between(plain, net) }, ["B Port X in 1: nothing assigned at B Port X in 1, 1 hop"]);
    expectTraces({ show: between(box("one", {}), plain) }, ["B Port X in 1 ← Kick at A In 1, 2 hops"]);
  });

  test("[C3] [W20] a stream passes two rates where either of its ends converts", () => {
    const net = box("net", { network: NETWORK });
    const converter = box("converter", { network: NETWORK, convertsRate: true });
    const told = (a: DeviceType, b: DeviceType): Show =>
      between(a, b, { rate: 96000, streams: ["S: a.x.1 x1 > b.x.1"] });
    const other = box("other", { network: NETWORK });
    expectTraces({ show: told(net, other) }, ["B Port X in 1: rate mismatch at B Port X in 1 (L), 1 hop"]);
    expectTraces({ show: told(net, converter) }, ["B Port X in 1 ← Kick at A In 1, 2 hops"]);
    expectTraces({ show: told(converter, net) }, ["B Port X in 1 ← Kick at A In 1, 2 hops"]);
  });
});

describe("sends past what they belong to", () => {
  const section = (
    name: string,
    role: MixSection["role"],
    count: number,
    from: readonly string[],
  ): MixSection => ({
    id: group(name),
    name,
    role,
    count,
    from: from.map(group),
    block: 1,
  });
  /** Two channels with three sends and three returns, and one mix with two of each. */
  const desk = type("desk", {
    banks: [bank("in", "In", "in", 4, "XLR", "line")],
    mixer: {
      sections: [
        section("ch", "channel", 2, []),
        section("mix", "mix", 1, ["ch"]),
        section("other", "mix", 1, ["ch"]),
        section("ch-send", "send", 3, ["ch"]),
        section("ch-back", "return", 3, ["ch"]),
        section("mix-send", "send", 2, ["mix"]),
        section("mix-back", "return", 2, ["mix"]),
        section("lost-send", "send", 1, ["gone"]),
      ],
      processing: { value: 0, unit: "ms", provenance: "assumed" },
    },
    rules: [wired("ch-back", 1, "in", 1, 3), wired("mix-back", 1, "in", 4, 1)],
  });
  const bench = (inserts: readonly string[]): Bench =>
    new Bench({
      show: rig({
        types: [desk],
        devices: { desk: { name: "Desk", type: "desk", inserts } },
        mixes: ["Band: desk.mix.1 < ch 1, ch 2"],
      }),
    });
  const into = (inserts: readonly string[], tap: string): readonly string[] => {
    const at = bench(inserts);
    return membersOf(at.wiring, at.at(`Desk ${tap}`)).map(({ member }) => at.name(member));
  };

  test("[W22] a send takes its own number, and those past the section take nothing", () => {
    expect(into([], "ch-send 1")).toEqual(["Desk ch 1"]);
    expect(into([], "ch-send 2")).toEqual(["Desk ch 2"]);
    expect(into([], "ch-send 3")).toEqual([]);
    expect(into([], "mix-send 1")).toEqual(["Desk mix 1"]);
    expect(into([], "mix-send 2")).toEqual([]);
    expect(into([], "lost-send 1")).toEqual([]);
  });

  test("[W22] [W23] [W24] an insert counts for what it names, from its first number to the section's last", () => {
    expect(into(["ch-back 2 x2"], "mix 1")).toEqual(["Desk ch 1", "Desk ch-back 2"]);
    expect(into(["ch-back 1 x3"], "mix 1")).toEqual(["Desk ch-back 1", "Desk ch-back 2"]);
    expect(into(["ch-back 0 x2"], "mix 1")).toEqual(["Desk ch-back 1", "Desk ch 2"]);
    expect(into(["ch-back 1"], "ch-send 1")).toEqual(["Desk ch 1"]);
    // Of a bus what would go into it goes into its send, and the mix beside it stays as it was.
    expect(into(["mix-back 1 x2"], "mix-send 1")).toEqual(["Desk ch 1", "Desk ch 2"]);
    expect(into(["mix-back 1 x2"], "mix 1")).toEqual([]);
    const inserted = bench(["mix-back 1 x2"]);
    expect([stateName(inserted, "mix 1"), stateName(inserted, "other 1")]).toEqual([State.fed, State.tap]);
    // Names that are no return, twice the same, and a send are no inserts.
    expect(into(["mix 1", "ch-send 1", "gone 1"], "mix 1")).toEqual(["Desk ch 1", "Desk ch 2"]);
    expect(into(["ch-back 1", "ch-back 1 x2"], "mix 1")).toEqual(["Desk ch-back 1", "Desk ch-back 2"]);
  });

  const stateName = (at: Bench, name: string): number => at.wiring.state[at.at(`Desk ${name}`)]!;
});
