/** Rules at their borders: the last terminal that counts and the first that doesn't, each on a rig of its own. */
import { describe, expect, test } from "vitest";
import { carry, patch, range, wired } from "#engine/catalog/parts.ts";
import type { DeviceId, GroupId } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { ms } from "#engine/model/units.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { lookUpAt } from "#engine/trace/at.ts";
import { compareDelays, spreadOf } from "#engine/trace/delays.ts";
import { blockGatekeepers, outputBlocks, ownerIndex } from "#engine/trace/owners.ts";
import { membersOf } from "#engine/trace/members.ts";
import { fullName, type Terminal } from "#engine/trace/terminal.ts";
import { traces, type Step } from "#engine/trace/trace.ts";
import { NO_CLOCK } from "#engine/wiring/clock.ts";
import { mixOutOf } from "#engine/wiring/mixes.ts";
import { DIRECT } from "#engine/wiring/mixes.ts";
import { rig } from "./rigs/build.ts";
import { CLOCKLESS, EIGHT, LINK_BOX, port, SLOW, type as deviceType } from "./rigs/types.ts";
import { R33 } from "./rigs/index.ts";
import { Bench, tell } from "./tell.ts";

const told = (show: Show, ...names: readonly string[]): readonly string[] => {
  const bench = new Bench({ show });
  return names.map((name) => tell(show, bench.trace(name)));
};

const jacks = (name: string, direction: "in" | "out", count: number) =>
  ({
    id: name as GroupId,
    name: `${name.slice(0, 1).toUpperCase()}${name.slice(1)}`,
    direction,
    count,
    perJack: 1,
    connector: "XLR",
    level: "line",
    block: 8,
  }) as const;

describe("fixed rules at the ends of their groups", () => {
  test("[W1] a run that goes past its destinations touches nothing beyond them", () => {
    const type = deviceType("pair", {
      banks: [jacks("in", "in", 8), jacks("a", "out", 4), jacks("b", "out", 4)],
      rules: [wired("a", 1, "in", 1, 8), wired("b", 1, "in", 8, 1)],
    });
    const show = rig({
      types: [type],
      devices: { pair: { name: "Pair", type: "pair" } },
      sources: ["Four: pair.in.4", "Five: pair.in.5", "Eight: pair.in.8"],
    });
    expect(told(show, "Pair A 4", "Pair B 1", "Pair B 2")).toEqual([
      "Pair A 4 ← Four at Pair In 4, 1 hop",
      "Pair B 1 ← Eight at Pair In 8, 1 hop",
      "Pair B 2: not wired at Pair B 2 (mode normal), 1 hop",
    ]);
  });

  test("[M5] [W1] a step down the chain may be negative; what falls before the first terminal is left out", () => {
    const type = deviceType("down", {
      banks: [jacks("in", "in", 16), jacks("a", "out", 8)],
      rules: [wired("a", 1, "in", 1, 16, { to: -8 })],
      chain: 2,
    });
    const show = rig({
      types: [type],
      devices: {
        one: { name: "One", type: "down" },
        two: { name: "Two", type: "down", position: 2 },
      },
      sources: ["First: one.in.1", "Ninth: two.in.9"],
    });
    expect(told(show, "One A 1", "Two A 1", "Two A 8")).toEqual([
      "One A 1 ← First at One In 1, 1 hop",
      "Two A 1 ← Ninth at Two In 9, 1 hop",
      "Two A 8: not plugged at Two In 16, 1 hop",
    ]);
  });

  test("[W2] a carry by more than the port has leaves all its slots to later rules", () => {
    const type = deviceType("far", {
      banks: [jacks("in", "in", 8)],
      ports: [port("x", EIGHT), port("y", EIGHT)],
      rules: [carry("y", "x", 8), wired("y", 1, "in", 1, 8)],
    });
    const show = rig({
      types: [type],
      devices: { far: { name: "Far", type: "far" } },
      sources: ["One: far.in.1"],
    });
    expect(told(show, "Far Port Y out 1")).toEqual(["Far Port Y out 1 ← One at Far In 1, 1 hop"]);
  });

  test("[W5] runs of four: aligned at both ends, whole, or the last of their range", () => {
    const type = deviceType("fours", {
      banks: [jacks("in", "in", 10), jacks("a", "out", 12)],
      rules: [patch(range("a", 3, 10), [range("in", 2, 9)], 4)],
    });
    const show = (set: string): readonly string[] => {
      const each = rig({
        types: [type],
        devices: { fours: { name: "Fours", type: "fours", set: [set] } },
        sources: Array.from({ length: 10 }, (_, n) => `S${n + 1}: fours.in.${n + 1}`),
      });
      const bench = new Bench({ show: each });
      return Array.from({ length: 12 }, (_, n) => bench.trace(`Fours A ${n + 1}`)).flatMap((trace, n) =>
        trace.verdict.kind === "arrives" && trace.verdict.origin.kind === "source"
          ? [`${n + 1} ${trace.verdict.origin.source}`]
          : [],
      );
    };
    expect(show("a 3 x4 < in 2")).toEqual(["3 s2", "4 s3", "5 s4", "6 s5"]);
    expect(show("a 7 x4 < in 6")).toEqual(["7 s6", "8 s7", "9 s8", "10 s9"]);
    // The last two destinations, and the last source.
    expect(show("a 11 x2 < in 2")).toEqual(["11 s2", "12 s3"]);
    expect(show("a 3 x1 < in 10")).toEqual(["3 s10"]);
    // Before the range, past it, between two runs, half a run, one source too far.
    expect(show("a 2 x4 < in 2")).toEqual([]);
    expect(show("a 3 x4 < in 1")).toEqual([]);
    expect(show("a 4 x4 < in 2")).toEqual([]);
    expect(show("a 3 x4 < in 3")).toEqual([]);
    expect(show("a 3 x3 < in 2")).toEqual([]);
    expect(show("a 3 x4 < in 10")).toEqual([]);
    expect(show("a 11 x4 < in 2")).toEqual([]);
  });
});

describe("network ports", () => {
  const network = { speed: 1000, share: 0.75, provenance: "standard" } as const;
  const end = (name: string, more: Parameters<typeof port>[2]) =>
    deviceType(name, {
      banks: [jacks("in", "in", 8), jacks("out", "out", 8)],
      ports: [port("x", EIGHT, { transport: "AES67", ...more })],
      rules: [wired("out", 1, "x", 1, 8), wired("x", 1, "in", 1, 8)],
    });
  const TYPES = [
    end("net", { network }),
    end("net-src", { network, convertsRate: true }),
    end("plain", {}),
    deviceType("narrow", {
      ports: [1, 2].map((n) =>
        port(`p${n}`, { single: 4, double: 2, quad: 0 }, { transport: "AES67", network }),
      ),
      forwards: true,
      clock: "none",
    }),
  ];
  const pair = (
    a: string,
    b: string,
    more: Partial<Parameters<typeof rig>[0]["devices"][string]> = {},
  ): Show =>
    rig({
      types: TYPES,
      devices: { a: { name: "A", type: a }, b: { name: "B", type: b, clock: "x", ...more } },
      cables: ["N1: a.x - b.x, 5 m, cat5e"],
      streams: ["S: a.x.1 x8 > b.x.1"],
      sources: ["One: a.in.1", "Five: a.in.5", "Back: b.in.1"],
    });

  test("[W18] slots don't cross a cable where either end is a network port", () => {
    expect(told({ ...pair("net", "net"), streams: [] }, "B Out 1", "A Out 1")).toEqual([
      "B Out 1: nothing assigned at B Port X in 1, 1 hop",
      "A Out 1: nothing assigned at A Port X in 1, 1 hop",
    ]);
    expect(told(pair("plain", "net"), "B Out 1", "A Out 1")).toEqual([
      "B Out 1: nothing assigned at B Port X in 1, 1 hop",
      "A Out 1: not plugged at A Port X in 1, 1 hop",
    ]);
    expect(told(pair("net", "plain"), "B Out 1", "A Out 1")).toEqual([
      "B Out 1: not plugged at B Port X in 1, 1 hop",
      "A Out 1: nothing assigned at A Port X in 1, 1 hop",
    ]);
  });

  test("[C3] a stream passes where its sender or its receiver converts the rate", () => {
    expect(told(pair("net", "net", { rate: 96000 }), "B Out 1")).toEqual([
      "B Out 1: rate mismatch at B Port X in 1 (N1), 1 hop",
    ]);
    expect(told(pair("net", "net-src", { rate: 96000 }), "B Out 1")).toEqual([
      "B Out 1 ← One at A In 1, 2 hops",
    ]);
    expect(told(pair("net-src", "net", { rate: 96000 }), "B Out 1")).toEqual([
      "B Out 1 ← One at A In 1, 2 hops",
    ]);
  });

  test("[W20] a switch on the way has to have the slot too, at the sender's rate", () => {
    const show = (rate?: 96000): Show => ({
      ...rig({
        ...(rate ? { rate } : {}),
        types: TYPES,
        devices: {
          a: { name: "A", type: "net" },
          s: { name: "S", type: "narrow" },
          b: { name: "B", type: "net", clock: "x" },
        },
        cables: ["N1: a.x - s.p1, 5 m, cat5e", "N2: s.p2 - b.x, 5 m, cat5e"],
        streams: ["S: a.x.1 x8 > b.x.1"],
        sources: ["Two: a.in.2", "Four: a.in.4"],
      }),
    });
    expect(told(show(), "B Out 4", "B Out 5")).toEqual([
      "B Out 4 ← Four at A In 4, 3 hops",
      "B Out 5: beyond the slots at B Port X in 5 (4 at 48 kHz), 1 hop",
    ]);
    expect(told(show(96000), "B Out 2", "B Out 4")).toEqual([
      "B Out 2 ← Two at A In 2, 3 hops",
      "B Out 4: beyond the slots at B Port X in 4 (2 at 96 kHz), 1 hop",
    ]);
  });

  test("[T5] a receiver that lacks the slot is told with its own number and rate", () => {
    const show = rig({
      types: TYPES,
      devices: { a: { name: "A", type: "net-src" }, b: { name: "B", type: "net", rate: 192000, clock: "x" } },
      cables: ["N1: a.x - b.x, 5 m, cat5e"],
      streams: ["S: a.x.1 x4 > b.x.1"],
    });
    expect(told(show, "B Out 2", "B Out 3")).toEqual([
      "B Out 2: not plugged at A In 2, 2 hops",
      "B Out 3: beyond the slots at B Port X in 3 (2 at 192 kHz), 1 hop",
    ]);
  });
});

describe("mixes", () => {
  test("[W16] thousands of members keep their places and their mixes", () => {
    const channels = Array.from({ length: 96 }, (_, n) => `ch ${n + 1}`).join(", ");
    const show = rig({
      devices: { desk: { name: "Desk", type: "console-96" } },
      mixes: Array.from({ length: 24 }, (_, n) => `Mix ${n + 1}: desk.mix.${n + 1} < ${channels}`),
    });
    const { wiring } = new Bench({ show });
    const bench = new Bench({ show });
    for (let n = 1; n <= 24; n++) {
      const bus = bench.at(`Desk Mix ${n}`);
      const from = wiring.mixInto.start[bus]!;
      const to = wiring.mixInto.start[bus + 1]!;
      expect(to - from).toBe(96);
      expect(new Set(wiring.mixInto.mix.slice(from, to))).toEqual(new Set([n - 1]));
      expect(wiring.mixInto.terminal[from]).toBe(bench.at("Desk Channel 1"));
      expect(wiring.mixInto.terminal[to - 1]).toBe(bench.at("Desk Channel 96"));
    }
    const channel = bench.at("Desk Channel 96");
    const out = mixOutOf(wiring).mix.slice(
      mixOutOf(wiring).start[channel]!,
      mixOutOf(wiring).start[channel + 1]!,
    );
    expect([...out].filter((mix) => mix === DIRECT)).toHaveLength(1);
    expect([...out].filter((mix) => mix !== DIRECT)).toEqual(Array.from({ length: 24 }, (_, n) => n));
  });

  test("[T11] of two members with one number, in two sections, each has its own tap point", () => {
    const show = rig({
      devices: { desk: { name: "Desk", type: "console-24" } },
      mixes: ["Main: desk.main.1 < ch 1 pre, mix 1, ch 2"],
    });
    const bench = new Bench({ show });
    const steps = membersOf(bench.wiring, bench.at("Desk Main 1")).map(({ step }) => step);
    expect(
      steps.map((step) => step.kind === "mixed" && `${step.from.group} ${step.from.number} ${step.tap}`),
    ).toEqual(["ch 1 pre", "mix 1 post", "ch 2 post"]);
  });
});

describe("owners", () => {
  test("[O1] a source that comes straight to a jack makes no owner", () => {
    const bench = new Bench(R33);
    const found = arrivals(bench.wiring);
    expect(ownerIndex(bench.wiring, found, bench.at("Split Direct 1"))).toBe(-1);
  });

  test("[T13] the devices that could darken a block, each once, as its traces meet them", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
        box: { name: "Box", type: "box-16-8", mode: "two" },
      },
      cables: ["L1: house.link1 - box.a, 5 m", "L2: monitors.link1 - box.b, 5 m"],
    });
    const { wiring } = new Bench({ show });
    const blocks = outputBlocks(wiring, arrivals(wiring), wiring.devices[2]!);
    expect(blocks.map((block) => blockGatekeepers(wiring, block))).toEqual([
      ["house", "box"],
      ["monitors", "box"],
    ]);
  });
});

describe("delays", () => {
  test("[D4] 0.01 ms itself is apart, and has a null", () => {
    expect(compareDelays(ms(0), ms(0.01), 48000, 20)).toMatchObject({ together: false });
    expect(compareDelays(ms(0), ms(0.01), 48000, 20).firstNull).toBeCloseTo(50_000, 6);
  });

  test("[D5] what arrives at one time stands in the order of the rig; nothing has no spread", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "out 1 x2 < mix 1"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 5 m"],
    });
    const bench = new Bench({ show });
    const found = arrivals(bench.wiring);
    const at = (...names: readonly string[]): readonly number[] => names.map((name) => bench.at(name));
    const spread = spreadOf(
      bench.wiring,
      found,
      at("Box Out 2", "House Local out 2", "Box Out 1", "House Local out 8", "House Local out 1"),
    );
    expect(spread.arrivals.map(({ terminal }) => terminal)).toEqual(
      at("House Local out 1", "House Local out 2", "Box Out 1", "Box Out 2"),
    );
    // One link: three samples at 48 kHz (AES50's usual figure), and 5 m of pair.
    expect(spread.spread).toBeCloseTo(3 / 48, 3);
    expect(spread.arrivals[0]!.after).toBe(0);
    expect(spreadOf(bench.wiring, found, at("House Local out 8"))).toEqual({ arrivals: [], spread: 0 });
  });
});

describe("what a trace is made of", () => {
  const terminal = (device: string, group: string, side: Terminal["side"], number: number): Terminal => ({
    device: device as DeviceId,
    group: group as GroupId,
    side,
    number,
  });
  const start = terminal("a", "x", "send", 1);
  const target = terminal("b", "x", "receive", 1);
  const step = (from: Terminal, to: Terminal): Step => ({
    kind: "cable",
    cable: "L1" as never,
    from,
    to,
    delay: ms(1),
    parts: [],
  });

  test("[T10] steps that don't join, or that end elsewhere, make no trace", () => {
    const make = (from: Terminal, to: Terminal) =>
      traces.arrives(target, { kind: "tap", at: start }, [step(from, to)]);
    expect(make(start, target).delay).toBe(1);
    for (const other of [
      { device: "c" as DeviceId },
      { group: "y" as GroupId },
      { side: "bus" as const },
      { number: 2 },
    ]) {
      expect(() => make({ ...start, ...other }, target)).toThrow("doesn't start where");
      expect(() => make(start, { ...target, ...other })).toThrow("doesn't end at its target");
    }
  });

  test("[T10] hops: the device of the origin, then one for each device that is entered", () => {
    const inside = terminal("b", "out", "jack", 1);
    const { hops } = traces.arrives(inside, { kind: "tap", at: start }, [
      step(start, target),
      step(target, inside),
    ]);
    expect(hops.map(({ device, steps }) => [device, steps.length])).toEqual([
      ["a", 0],
      ["b", 2],
    ]);
    const local = traces.arrives(inside, { kind: "tap", at: target }, [step(target, inside)]);
    expect(local.hops.map(({ device, steps }) => [device, steps.length])).toEqual([["b", 1]]);
    const none = traces.arrives(target, { kind: "tap", at: target }, []);
    expect(none.hops.map(({ device, steps }) => [device, steps.length])).toEqual([["b", 0]]);
  });
});

describe("names", () => {
  test("a pair's jack that is the only one of its bank has A and B, of several 1A, 1B, 2A", () => {
    const show = rig({
      devices: {
        ears: { name: "Ears", type: "ear-transmitter" },
        converter: { name: "Converter", type: "aes3-converter", mode: "low" },
      },
    });
    const { wiring } = new Bench({ show });
    const names = Array.from({ length: wiring.size }, (_, terminal) => fullName(wiring, terminal));
    expect(names.slice(0, 4)).toEqual(["Ears In 1", "Ears In 2", "Ears Radio A", "Ears Radio B"]);
    expect(names.slice(4, 7)).toEqual([
      "Converter AES3 in 1A",
      "Converter AES3 in 1B",
      "Converter AES3 in 2A",
    ]);
  });

  test("[W9] a link box's own name of a port that goes both ways", () => {
    const show = rig({ types: [LINK_BOX], devices: { a: { name: "A", type: "link-box" } } });
    const { wiring } = new Bench({ show });
    expect(fullName(wiring, wiring.size - 1)).toBe("A Port X out 8");
    expect(fullName(wiring, wiring.size - 9)).toBe("A Port X in 8");
  });
});

describe("clocks", () => {
  test("[C1] [C2] who follows a device without a word clock runs free, wherever it stands in the show", () => {
    const { wiring } = new Bench({
      show: rig({
        types: [LINK_BOX, CLOCKLESS],
        devices: {
          far: { name: "Far", type: "clockless" },
          b: { name: "B", type: "link-box", clock: "x" },
          clockless: { name: "Clockless", type: "clockless" },
        },
        cables: ["L1: b.x - clockless.x", "L2: clockless.y - far.y"],
      }),
    });
    expect([...wiring.leaders]).toEqual([NO_CLOCK, 1, NO_CLOCK]);
  });

  test("[C2] who follows a free-running device has it as leader, wherever the two stand in the show", () => {
    const leaders = (...order: readonly string[]): readonly number[] => {
      const devices = {
        head: { name: "Head", type: "console-24", clock: "link2" },
        middle: { name: "Middle", type: "box-16-8", mode: "chain" },
        tail: { name: "Tail", type: "box-16-8", mode: "chain", position: 2 },
      };
      const show = rig({
        devices: Object.fromEntries(order.map((name) => [name, devices[name as keyof typeof devices]])),
        cables: ["L1: head.link1 - middle.a", "L2: middle.b - tail.a"],
      });
      return [...new Bench({ show }).wiring.leaders];
    };
    expect(leaders("head", "middle", "tail")).toEqual([0, 0, 0]);
    expect(leaders("tail", "head", "middle")).toEqual([1, 1, 1]);
    expect(leaders("middle", "tail", "head")).toEqual([2, 2, 2]);
  });

  test("[C5] of endpoints that all take the network's clock the first that is on leads (IEEE 1588 elects one)", () => {
    const follows = { type: "aes67-endpoint", clock: "net" };
    const { wiring } = new Bench({
      show: rig({
        devices: {
          one: { name: "One", ...follows, off: true },
          three: { name: "Three", ...follows },
          switch: { name: "Switch", type: "aes67-switch" },
          two: { name: "Two", ...follows },
        },
        cables: ["N1: one.net - switch.p1", "N2: switch.p2 - two.net", "N3: switch.p3 - three.net"],
      }),
    });
    expect([...wiring.leaders]).toEqual([1, 1, NO_CLOCK, 1]);
  });

  test("[C5] a device that is off doesn't lead a network; the next one does", () => {
    const { wiring } = new Bench({
      show: rig({
        devices: {
          one: { name: "One", type: "aes67-endpoint", clock: "internal", off: true },
          three: { name: "Three", type: "aes67-endpoint", clock: "net" },
          switch: { name: "Switch", type: "aes67-switch" },
          two: { name: "Two", type: "aes67-endpoint", clock: "internal" },
        },
        cables: ["N1: one.net - switch.p1", "N2: switch.p2 - two.net", "N3: switch.p3 - three.net"],
      }),
    });
    expect(wiring.leaders[1]).toBe(3);
  });
});

describe("cables", () => {
  const joined = (cable: string): Show =>
    rig({
      devices: {
        recorder: { name: "Recorder", type: "recorder-64" },
        interface: { name: "Interface", type: "aes10-interface", clock: "internal" },
        one: { name: "One", type: "box-16-8", mode: "one" },
        two: { name: "Two", type: "box-16-8", mode: "one" },
      },
      cables: [cable],
    });

  test("[W9] a cable that goes one way joins its ends in whichever order they are written", () => {
    const there = told(
      joined("C1: interface.coax-out - recorder.coax-in, 5 m, coax-75"),
      "Recorder Coax in in 1",
    );
    const back = told(
      joined("C1: recorder.coax-in - interface.coax-out, 5 m, coax-75"),
      "Recorder Coax in in 1",
    );
    expect(there).toEqual(["Recorder Coax in in 1: not plugged at Interface Link in 1, 2 hops"]);
    expect(back).toEqual(there);
  });

  test("[W12] two ports that both send, and two that both receive, are joined by nothing", () => {
    const joins = (cable: string): string =>
      new Bench({ show: joined(cable) }).wiring.plugs.cables[0]!.join.kind;
    expect(joins("P1: one.pm - two.pm, 5 m")).toBe("misfit");
    expect(joins("C1: recorder.coax-in - interface.coax-in, 5 m, coax-75")).toBe("misfit");
    expect(joins("C1: recorder.coax-out - interface.coax-out, 5 m, coax-75")).toBe("misfit");
    expect(joins("C1: recorder.coax-out - interface.coax-in, 5 m, coax-75")).toBe("link");
  });
});

describe("what is switched off or pulled, by what a person types", () => {
  const show = rig({
    devices: {
      one: { name: "Box", type: "box-16-8" },
      two: { name: "BOX", type: "box-16-8" },
      three: { name: "Box 3", type: "box-16-8" },
    },
    cables: ["L1: one.b - two.a"],
  });
  const bare = { ...show, cables: show.cables.map((cable) => ({ ...cable, tag: "" })) };

  test("[W21] a name as it is written goes before one that differs in case", () => {
    const at = lookUpAt(show, ["off:BOX"]);
    expect(at.ok && at.value.at.off.map(({ id }) => id)).toEqual(["two"]);
  });

  test("[W21] no word is no name, not even that of a cable without a tag", () => {
    expect(lookUpAt(bare, [""])).toMatchObject({ ok: false });
    expect(lookUpAt(bare, ["pulled:"])).toMatchObject({ ok: false });
  });

  test("[W21] the nearest names, each with what it is", () => {
    expect(lookUpAt(show, ["Boxx"])).toEqual({
      ok: false,
      error: 'the show has no device, cable or revision "Boxx"; nearest: "off:Box", "off:BOX", "off:Box 3"',
    });
  });
});

describe("what is missing, and what comes too late", () => {
  test("[W14] [X5] a source in a group that its device doesn't have is plugged nowhere", () => {
    const show = rig({
      devices: { house: { name: "House", type: "console-24" } },
      sources: ["Lost: house.nowhere.1", "Talk: house.in.1"],
    });
    const { wiring } = new Bench({ show });
    expect([...wiring.sourceAt].filter((index) => index !== -1)).toEqual([1]);
    expect(told(show, "House Local in 1")).toEqual(["House Local in 1 ← Talk at House Local in 1, 1 hop"]);
  });

  test("[W7] [D1] a later setting that can't be held takes away the time of the earlier one as well", () => {
    const deck = (...set: readonly string[]): Bench =>
      new Bench({
        show: rig({
          types: [SLOW],
          devices: { deck: { name: "Deck", type: "slow", set } },
          sources: ["One: deck.in.1"],
        }),
      });
    const held = deck("out 1 < in 1");
    // 48 samples in, 24 for the rule, at 48 kHz, and 0.5 ms out.
    expect(held.wiring.delay[held.at("Deck Out 1")]).toBeCloseTo(1 + 0.5 + 0.5, 12);
    const refused = deck("out 1 < in 1", "out 1 < in 9");
    expect(refused.wiring.delay[refused.at("Deck Out 1")]).toBe(0);
    expect(tell(refused.show, refused.trace("Deck Out 1"))).toContain("not wired");
  });

  test("[W20] a stream's time grows with its cables: 538 ns for 100 m of pair (ANSI/TIA-568-B.2, 100 MHz)", () => {
    const time = (metres: number): number => {
      const bench = new Bench({
        show: rig({
          devices: {
            one: { name: "One", type: "aes67-endpoint", clock: "internal", set: ["net 1 x8 < link 1"] },
            two: { name: "Two", type: "aes67-endpoint", clock: "net" },
          },
          cables: [`N1: one.net - two.net, ${metres} m, cat5e`],
          streams: ["S: one.net.1 x8 > two.net.1"],
        }),
      });
      return bench.wiring.delay[bench.at("Two Network in 1")]!;
    };
    expect(time(200) - time(100)).toBeCloseTo(0.000538, 6);
  });
});
