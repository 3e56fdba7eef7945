/**
 * What is seldom met, and has to be told right all the same: the first and the last terminal of a rig, settings that hide
 * each other, records that lie where they can't. Expected values follow from the rules of SPEC.md.
 */
import { describe, expect, test } from "vitest";
import { bank, group, patch, range, wired } from "#engine/catalog/parts.ts";
import type { DeviceId } from "#engine/model/ids.ts";
import type { DeviceType, MixSection } from "#engine/model/device-type.ts";
import type { Show } from "#engine/model/show.ts";
import { rig, type DeviceText, type RigText } from "../rigs/build.ts";
import { AES3_DECK, EIGHT_BY_EIGHT, port, type as deviceType } from "../rigs/types.ts";
import { told, withSource } from "./told.ts";
import { offered, whole } from "./whole.ts";

const LINE_IN = bank("in", "In", "in", 8, "XLR", "line");
const LINE_OUT = bank("out", "Out", "out", 8, "XLR", "line");
const SLOTS = { single: 8, double: 8, quad: 8 };

/** As the matrix of eight by eight, with its outputs first. */
const OUTPUTS_FIRST = deviceType("outputs-first", {
  banks: [LINE_OUT, LINE_IN],
  rules: [patch(range("out", 1, 8), [range("in", 1, 8)], 1)],
});

const section = (
  name: string,
  role: MixSection["role"],
  count: number,
  from: readonly string[] = [],
): MixSection => ({ id: group(name), name, role, count, from: from.map(group), block: 1 });

const mixer = (...sections: readonly MixSection[]): Pick<DeviceType, "mixer"> => ({
  mixer: { sections, processing: { value: 0, unit: "ms", provenance: "standard" } },
});

describe("settings", () => {
  const matrices = (
    types: RigText["types"],
    devices: Readonly<Record<string, Omit<DeviceText, "name">>>,
  ): Show =>
    rig({
      types: types!,
      devices: Object.fromEntries(
        Object.entries(devices).map(([name, device]) => [name, { name: name.toUpperCase(), ...device }]),
      ),
    });
  const one = (type: DeviceType, set: readonly string[], mode?: string): Show =>
    matrices([type], { a: { type: type.id, set, ...(mode ? { mode } : {}) } });

  test("[F12] the very first and the very last terminal of a rig, set twice", () => {
    expect(told(one(EIGHT_BY_EIGHT, ["out 8 < in 1", "out 8 < in 2"]), "set-twice")).toEqual([
      "warning set-twice:a:out: A Out 8 is set twice",
    ]);
    expect(told(one(OUTPUTS_FIRST, ["out 1 < in 1", "out 1 < in 2"]), "set-twice")).toEqual([
      "warning set-twice:a:out: A Out 1 is set twice",
    ]);
  });

  test("[F12] two streams and a third on the first and the last terminal of a rig; what is past the last slot is another matter", () => {
    const network = { speed: 1000, share: 0.75, provenance: "assumed" } as const;
    const NONE = { single: 0, double: 0, quad: 0 };
    const end = (name: string, receive: typeof NONE, send: typeof NONE): DeviceType =>
      deviceType(name, { ports: [port("x", receive, { transport: "AES67", network, send })] });
    const sender = { name: "Sender", type: "sender" };
    const taker = { name: "Taker", type: "taker", clock: "x" };
    const streamed = (devices: RigText["devices"], slot: number, channels = 1): Show =>
      rig({
        types: [end("sender", NONE, SLOTS), end("taker", SLOTS, NONE)],
        devices,
        cables: ["N: sender.x - taker.x"],
        streams: ["One", "Two", "Three"].map((name) => `${name}: sender.x.1 x${channels} > taker.x.${slot}`),
      });
    const late = (slot: number): readonly string[] =>
      ["two", "three"].flatMap((stream) => [
        `warning set-twice:stream:${stream}:0: Taker Port X ${slot} is taken by a second stream`,
        `“One” stands before “${stream === "two" ? "Two" : "Three"}” in the show and counts there; what the other brings is lost.`,
        `at Taker Port X in ${slot}; devices taker`,
      ]);
    expect(whole(streamed({ taker, sender }, 1), "set-twice")).toEqual(late(1));
    expect(whole(streamed({ sender, taker }, 8, 2), "set-twice")).toEqual(late(8));
  });

  test("[F13] a setting is told by what it does itself, not by what its device or its neighbour sets at the same place", () => {
    const bad = "warning setting-idle:a:out: A can't hold the setting of Out";
    // In 9 isn't there; out 1, from in 8, is fed.
    expect(told(one(EIGHT_BY_EIGHT, ["out 1 x2 < in 8"]), "setting-idle")).toEqual([`${bad} 2`]);
    // The later setting feeds out 1; the earlier one couldn't.
    expect(told(one(EIGHT_BY_EIGHT, ["out 1 < gone 1", "out 1 < in 1"]), "setting-idle")).toEqual([
      `${bad} 1`,
    ]);
    const types = [EIGHT_BY_EIGHT, OUTPUTS_FIRST];
    const all = ["out 1 x8 < in 1"];
    const [before, after] = [EIGHT_BY_EIGHT.id, OUTPUTS_FIRST.id];
    // The two banks of outputs lie side by side.
    expect(
      told(
        matrices(types, { a: { type: before, set: ["out 8 < gone 1"] }, b: { type: after, set: all } }),
        "setting-idle",
      ),
    ).toEqual([`${bad} 8`]);
    expect(
      told(
        matrices(types, { b: { type: before, set: all }, a: { type: after, set: ["out 1 < gone 1"] } }),
        "setting-idle",
      ),
    ).toEqual([`${bad} 1`]);
    expect(
      told(
        matrices(types, { b: { type: before, set: all }, a: { type: before, set: ["out 1 < gone 1"] } }),
        "setting-idle",
      ),
    ).toEqual([`${bad} 1`]);
  });

  test("[F13] a rule that lists a bank which its type doesn't have holds no setting from there", () => {
    const miscopied = deviceType("miscopied-bank", {
      banks: [LINE_IN, LINE_OUT],
      rules: [patch(range("out", 1, 8), [range("in", 1, 8), range("gone", 1, 8)], 1)],
    });
    const show = one(miscopied, ["out 1 < gone 1", "out 2 < in 2"]);
    expect(told(show, "setting-idle")).toEqual([
      "warning setting-idle:a:out: A can't hold the setting of Out 1",
    ]);
    expect(offered(show, "setting-idle")).toEqual([
      "Take the settings without effect off A",
      "  devices a routing: out 2 < in 2",
    ]);
  });
});

describe("mixes", () => {
  const house = { house: { name: "House", type: "console-24" } } as const;
  const mixed = (...mixes: readonly string[]): Show => rig({ devices: house, mixes });

  test("[F18] [F19] a mix that lies in no mixer is told by F14 alone", () => {
    const show = mixed("Jack: house.in.1 < ch 1", "Gone: house.gone.1 < ch 1", "Desk: away.mix.1 < ch 1");
    expect(told(show, "bus-use", "mix-member-refused")).toEqual([]);
    expect(told(show, "dangling").map((line) => line.split(":")[1])).toEqual(["jack", "gone", "desk"]);
  });

  test("[F18] mixes of two consoles by turns are told at their own console", () => {
    const show = rig({
      devices: { ...house, monitors: { name: "Monitors", type: "console-24" } },
      mixes: ["One: house.mix.1 < ch 1", "Two: monitors.mix.1 < ch 1", "Three: house.mix.1 < ch 2"],
    });
    expect(told(show, "bus-use")).toEqual([
      "error bus-use:twice:three: “One” and “Three” lie on one bus: House Mix 1",
    ]);
  });

  test("[F18] a bus that is the first terminal of a rig", () => {
    const bare = deviceType("bare", mixer(section("mix", "mix", 2), section("main", "main", 1)));
    const show = rig({
      types: [bare],
      devices: { bare: { name: "Bare", type: "bare" } },
      mixes: ["One: bare.mix.1 < ch 1", "Two: bare.mix.2 < ch 1", "House: bare.main.1 < mix 1"],
    });
    expect(told(show, "bus-use")).toEqual([]);
  });

  test("[F18] buses that the console doesn't have are told apart as well, and a mix there can move to one that it has", () => {
    expect(told(mixed("One: house.mix.98 < ch 1", "Two: house.mix.99 < ch 1"), "bus-use")).toEqual([]);
    const both = rig({
      devices: house,
      mixes: ["One: house.mix.99 < ch 1", "Two: house.mix.99 < ch 1"],
      wants: ["Wedge: house.out.1 < house.mix.99"],
    });
    expect(told(both, "bus-use")).toEqual([
      "error bus-use:twice:two: “One” and “Two” lie on one bus: House Mix 99",
    ]);
    expect(offered(both, "bus-use")).toEqual([
      "Move “Two” to Mix 1",
      "  mixes two first: 1",
      "Take “One” out",
      "  mixes one out",
      "Take “Two” out",
      "  mixes two out",
    ]);
  });

  test("[F18] a stereo mix moves to a pair of which both buses are free", () => {
    const show = mixed("One: house.mix.2 < ch 1", "Two: house.mix.3 < ch 1", "Ears: house.mix.3+4 < ch 1");
    expect(offered(show, "bus-use").slice(0, 2)).toEqual(["Move “Ears” to Mix 5–6", "  mixes ears first: 5"]);
  });

  test("[F18] where all buses are in use a mix moves nowhere, be it that its own bus isn't there", () => {
    const small = deviceType("small", mixer(section("mix", "mix", 3, ["ch"]), section("ch", "channel", 2)));
    const show = rig({
      types: [small],
      devices: { small: { name: "Small", type: "small" } },
      mixes: [
        "One: small.mix.1 < ch 1",
        "Two: small.mix.2 < ch 1",
        "Three: small.mix.3 < ch 1",
        "Far: small.mix.9 < ch 1",
        "Farther: small.mix.9 < ch 1",
      ],
    });
    expect(offered(show, "bus-use")).toEqual([
      "Take “Far” out",
      "  mixes far out",
      "Take “Farther” out",
      "  mixes farther out",
    ]);
  });
});

describe("preamps", () => {
  const CONVERT = { value: 0.3, unit: "ms", provenance: "measured" } as const;
  const mics = (name: string, more: Partial<DeviceType> = {}): DeviceType =>
    deviceType(name, {
      banks: [
        bank("in", "In", "in", 8, "XLR", "mic", { convert: CONVERT }),
        bank("out", "Out", "out", 8, "XLR", "line"),
      ],
      ports: [port("x", SLOTS, { carriesPreamp: true }), port("y", SLOTS, { carriesPreamp: true })],
      ...more,
    });
  const owned = (show: Show, owner: string, phantom = true): Show =>
    withSource(show, "kick", { phantom, preampOwner: owner as DeviceId });

  test("[F26] a split that is the first of the rig: what comes over its direct leg is not isolated", () => {
    const devices = {
      split: { name: "Split", type: "split-16" },
      house: { name: "House", type: "console-24" },
    };
    const direct = rig({
      devices,
      cables: ["D: split.direct.1 - house.in.1, 5 m, microphone"],
      sources: ["Kick: split.in.1"],
    });
    expect(told(owned(direct, "house"), "preamp")).toEqual([]);
  });

  test("[F26] an isolated leg that leads to the first jack of the rig is one", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        split: { name: "Split", type: "split-16" },
      },
      cables: ["I: split.isolated.1 - house.in.1, 5 m, microphone"],
      sources: ["Kick: split.in.1"],
    });
    expect(told(owned(show, "house"), "preamp")).toEqual([
      "error preamp:leg:house: Phantom power from House doesn't reach Kick",
    ]);
  });

  test("[F26] a source in a preamp's own jack has come over no leg, whatever the type says of its bank", () => {
    const legged = mics("legged", {
      banks: [bank("in", "In", "in", 8, "XLR", "mic", { convert: CONVERT, leg: "isolated" })],
    });
    const show = rig({
      types: [legged],
      devices: { box: { name: "Box", type: "legged" } },
      sources: ["Kick: box.in.1"],
    });
    expect(told(owned(show, "box"), "preamp")).toEqual([]);
  });

  test("[F26] a preamp is where the signal turns digital, though the jack hands on to another jack as well", () => {
    const through = mics("through", { rules: [wired("out", 1, "in", 1, 8)] });
    const show = rig({
      types: [through],
      devices: { split: { name: "Split", type: "split-16" }, box: { name: "Box", type: "through" } },
      cables: ["D: split.direct.1 - box.in.1, 5 m, microphone"],
      sources: ["Kick: split.in.1"],
    });
    expect(whole(show, "preamp").slice(0, 1)).toEqual([
      "note preamp:no-owner: 1 microphone at Box names no console that sets the gain",
    ]);
  });

  /** Line in, joined, and out again; a mix takes the join. */
  const joiner = (role: MixSection["role"], out: string): DeviceType =>
    deviceType("joiner", {
      banks: [LINE_IN, LINE_OUT],
      rules: [wired("out", 1, out, 1, 1)],
      clock: "none",
      ...mixer(section("join", "join", 1, ["in"]), section("mix", role, 1, ["join"])),
    });
  const joined = (type: DeviceType, leg: string): Show =>
    rig({
      types: [type, mics("box")],
      devices: {
        split: { name: "Split", type: "split-16" },
        joiner: { name: "Joiner", type: "joiner" },
        box: { name: "Box", type: "box" },
      },
      cables: [
        `J: split.${leg}.1 - joiner.in.1, 5 m, microphone`,
        "X: joiner.out.1 - box.in.1, 5 m, microphone",
      ],
      sources: ["Kick: split.in.1"],
      mixes: ["Sum: joiner.mix.1 < join 1"],
    });

  test("[F26] joins are passed, with what is isolated before them; mixes aren't", () => {
    expect(told(owned(joined(joiner("mix", "join"), "isolated"), "box"), "preamp")).toEqual([
      "error preamp:leg:box: Phantom power from Box doesn't reach Kick",
    ]);
    expect(told(owned(joined(joiner("mix", "join"), "direct"), "box"), "preamp")).toEqual([]);
    expect(told(joined(joiner("mix", "mix"), "direct"), "preamp")).toEqual([]);
  });

  test("[F26] who can set a preamp on the direct leg is offered, whatever else they can set", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        monitors: { name: "Monitors", type: "console-24" },
        one: { name: "One", type: "split-16" },
        two: { name: "Two", type: "split-16" },
      },
      cables: [
        "I: one.isolated.1 - house.in.1, 5 m, microphone",
        "D: one.direct.1 - two.in.1, 5 m, microphone",
        "DI: two.isolated.1 - monitors.in.1, 5 m, microphone",
        "DD: two.direct.1 - monitors.in.2, 5 m, microphone",
      ],
      sources: ["Kick: one.in.1"],
    });
    const cut = owned(show, "house");
    expect(told(cut, "preamp").map((line) => line.split(": ")[0])).toEqual(["error preamp:leg:house"]);
    expect(offered(cut, "preamp")).toEqual([
      "Let Monitors set the gain of Kick",
      '  sources kick preampOwner: "monitors"',
    ]);
  });
});

describe("plugs", () => {
  test("[F6] the first jack of a rig, which carries a pair, with two sources for its first signal", () => {
    const show = rig({
      types: [AES3_DECK],
      devices: { deck: { name: "Deck", type: "aes3-deck" } },
      sources: ["Left: deck.in.1", "Again: deck.in.1"],
    });
    expect(told(show, "used-twice")).toEqual(["error used-twice:deck:in:signal 1: Deck In 1A is used twice"]);
  });

  test("[F6] in the order of the plugs that came first; what doesn't count is unplugged first", () => {
    const show = rig({
      types: [EIGHT_BY_EIGHT],
      devices: { a: { name: "A", type: EIGHT_BY_EIGHT.id }, b: { name: "B", type: EIGHT_BY_EIGHT.id } },
      cables: [
        "X1: a.out.1 - b.in.1",
        "X2: a.out.2 - b.in.2",
        "X3: a.out.3 - b.in.2",
        "X4: a.out.4 - b.in.1",
      ],
    });
    expect(told(show, "used-twice")).toEqual([
      "error used-twice:b:in:1: B In 1 is used twice",
      "error used-twice:b:in:2: B In 2 is used twice",
    ]);
    expect(offered(show, "used-twice")).toEqual([
      "Unplug cable X4",
      "  cables X4 out",
      "Unplug cable X1",
      "  cables X1 out",
    ]);
  });

  test("[F6] [F14] sources where none can be plugged in", () => {
    const pairs = deviceType("pairs", {
      banks: [
        bank("out", "Out", "out", 2, "XLR", "AES3", { perJack: 2 }),
        bank("in", "In", "in", 2, "XLR", "AES3", { perJack: 2 }),
      ],
      ports: [port("x", SLOTS)],
    });
    const show = rig({
      types: [pairs],
      devices: { a: { name: "A", type: "pairs" }, b: { name: "B", type: "pairs" } },
      cables: ["X1: a.out.1 - b.in.1, 5 m, digital-110"],
      // The cable's plug is in the first jack; its second signal has a source that can't be there.
      sources: ["One: a.out.2", "Two: a.x.1", "Three: a.x.1"],
    });
    expect(told(show, "dangling").map((line) => line.split(": ")[0])).toEqual([
      "error dangling:one",
      "error dangling:two",
      "error dangling:three",
    ]);
    expect(told(show, "used-twice").filter((line) => line.includes("Out"))).toEqual([]);
    expect(told(show, "preamp")).toEqual([]);
  });
});
