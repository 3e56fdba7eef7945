/**
 * What is wrong with a device type. Each case changes one thing of a type that is right, so that each problem has a type
 * that has it and one that hasn't. Texts and paths are written by hand from the rules.
 */
import { describe, expect, test } from "vitest";
import { bank, carry, group, mode, patch, range, wired } from "#engine/catalog/parts.ts";
import { CATALOGUE } from "#engine/catalog/types.ts";
import type { DeviceType, JackBank, LinkPort, MixSection } from "#engine/model/device-type.ts";
import { checkType, hasErrors } from "#engine/types/check.ts";
import { EIGHT, port, type } from "../rigs/types.ts";

/** A box of two places in a chain: eight jacks each way, two links of 16 slots. */
const SIXTEEN = { single: 16, double: 8, quad: 4 };
const A = port("a", SIXTEEN);
const B = port("b", SIXTEEN);
const IN = bank("in", "In", "in", 8, "XLR", "mic");
const OUT = bank("out", "Out", "out", 8, "XLR", "line");
const BOX = type("box", {
  banks: [IN, OUT],
  ports: [A, B],
  rules: [wired("b", 1, "in", 1, 8)],
  modes: [
    mode("one", "One", [wired("out", 1, "a", 1, 8, { from: 8 }), wired("a", 1, "in", 1, 8)]),
    mode("two", "Two", [
      patch(range("out", 1, 8), [range("a", 1, 16), range("b", 1, 16)], 4),
      carry("a", "b"),
    ]),
  ],
  chain: 2,
  clock: group("a"),
});

const section = (
  id: string,
  role: MixSection["role"],
  from: readonly string[],
  more: Partial<MixSection> = {},
) =>
  ({
    id: group(id),
    name: id,
    role,
    count: 8,
    from: from.map(group),
    block: 8,
    ...more,
  }) satisfies MixSection;

/** A mixer of eight channels, with everything that a mixer may have. */
const SECTIONS = [
  section("ch", "channel", [], { trim: { from: -18, to: 18, provenance: "assumed" } }),
  section("mix", "mix", ["ch"]),
  section("main", "main", ["ch", "mix"]),
  section("mtx", "matrix", ["main", "mix"]),
  section("direct", "direct", ["ch"]),
  section("send", "send", ["ch"]),
  section("return", "return", ["ch"]),
  section("join", "join", ["in", "ch"]),
];
const DESK = type("desk", {
  banks: [IN, OUT],
  mixer: { sections: SECTIONS, processing: { value: 1, unit: "ms", provenance: "assumed" } },
  rules: [
    patch(range("ch", 1, 8), [range("in", 1, 8)], 1),
    patch(range("return", 1, 8), [range("in", 1, 8)], 1),
    patch(range("out", 1, 8), [range("mix", 1, 8), range("mtx", 1, 8)], 1),
  ],
});

/** The desk with one section put in the place of the one of its id. */
const desk = (changed: MixSection): DeviceType => ({
  ...DESK,
  mixer: { ...DESK.mixer!, sections: SECTIONS.map((each) => (each.id === changed.id ? changed : each)) },
});
const box = (parts: Partial<DeviceType>): DeviceType => ({ ...BOX, ...parts });
const inMode = (...rules: DeviceType["rules"]): DeviceType =>
  box({ modes: [...BOX.modes, mode("new", "New", rules)] });
const withIn = (more: Partial<JackBank>): DeviceType => box({ banks: [{ ...IN, ...more }, OUT] });
const withOut = (more: Partial<JackBank>): DeviceType => box({ banks: [IN, { ...OUT, ...more }] });
const withB = (more: Partial<LinkPort>): DeviceType => box({ ports: [A, { ...B, ...more }] });

const told = (of: DeviceType): readonly string[] =>
  checkType(of).map(({ check, severity, path }) => `${severity} ${check} ${path}`);
const texts = (of: DeviceType): readonly string[] => checkType(of).map(({ text }) => text);

describe("a type that is right", () => {
  test.each([BOX, DESK])("$id has no problem", (right) => {
    expect(checkType(right)).toEqual([]);
  });

  test("every type of the catalogue is without an error", () => {
    expect(CATALOGUE.filter((each) => hasErrors(checkType(each))).map(({ id }) => id)).toEqual([]);
  });
});

/** What is changed, the type, and what is told of it. */
type Case = readonly [what: string, of: DeviceType, expected: readonly string[]];

const each = (cases: readonly Case[]): Case[] => [...cases];

describe("parts", () => {
  test.each(
    each([
      ["a count of 0", withIn({ count: 0 }), ["error shape banks[0].count"]],
      ["1025 jacks", withIn({ count: 1025 }), ["error shape banks[0].count"]],
      ["no name", withIn({ name: "" }), ["error shape banks[0].name"]],
      [
        "a delay below zero",
        withIn({ convert: { value: -1, unit: "ms", provenance: "assumed" } }),
        ["error shape banks[0].convert.value"],
      ],
      [
        "a share above 1",
        withB({ network: { speed: 1000, share: 1.5, provenance: "standard" } }),
        ["error shape ports[1].network.share"],
      ],
      ["no modes", box({ modes: [] }), ["error shape modes"]],
      [
        "two faults",
        box({
          banks: [
            { ...IN, count: 0 },
            { ...OUT, block: 0 },
          ],
        }),
        ["error shape banks[0].count", "error shape banks[1].block"],
      ],
    ]),
  )("[K1] the schema's limits: %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });

  test("[K1] a limit is told in words", () => {
    expect(texts(withIn({ count: 0 }))).toEqual(["Bank 1 “In”, the count must be at least 1."]);
  });

  test("[K1] an empty name hides nothing else", () => {
    expect(told(box({ name: "", clock: group("c") }))).toEqual(["error shape name", "error clock clock"]);
  });

  test.each(
    each([
      [
        "two banks of one id",
        box({ banks: [IN, OUT, { ...OUT, name: "Other" }] }),
        ["error ids banks[2].id"],
      ],
      [
        "a port with a bank's id",
        box({ banks: [IN, OUT, { ...OUT, id: B.id, name: "Other" }] }),
        ["error ids ports[1].id"],
      ],
      [
        "two modes of one id",
        box({ modes: [...BOX.modes, mode("one", "Third", [])] }),
        ["error ids modes[2].id"],
      ],
      [
        "an id that means a clock",
        box({ ports: [A, B, port("internal", SIXTEEN)] }),
        ["error ids ports[2].id"],
      ],
      ["a name of spaces", withIn({ name: "  " }), ["error ids banks[0].name"]],
      ["one name twice, in capitals", withOut({ name: "IN" }), ["remark ids banks[1].name"]],
      [
        "two modes of one name",
        box({ modes: [...BOX.modes, mode("third", "one", [])] }),
        ["remark ids modes[2].name"],
      ],
    ]),
  )("[K2] ids and names: %s", (_what, of, expected) => {
    // An id that is taken brings other trouble along; here only what K2 says counts.
    expect(told(of).filter((line) => line.includes(" ids "))).toEqual(expected);
  });

  test("[K3] a type without jacks and ports", () => {
    expect(told(type("empty", {}))).toEqual(["error jacks "]);
    expect(told(type("jack", { banks: [IN] }))).toEqual(["remark unfed banks[0]"]);
  });

  test.each(
    each([
      ["AES3 with one signal in a jack", withOut({ level: "AES3" }), ["remark jacks banks[1].perJack"]],
      [
        "a rate converter at analogue inputs",
        withIn({ convertsRate: true }),
        ["remark jacks banks[0].convertsRate"],
      ],
      [
        "a rate converter at AES3 outputs",
        withOut({ level: "AES3", perJack: 2, count: 4, convertsRate: true }),
        ["remark jacks banks[1].convertsRate"],
      ],
      ["a leg at inputs", withIn({ leg: "direct" }), ["remark jacks banks[0].leg"]],
      ["radio without an antenna", withOut({ level: "radio" }), ["remark jacks banks[1].connector"]],
      ["an antenna for line level", withOut({ connector: "antenna" }), ["remark jacks banks[1].connector"]],
      ["a leg at outputs, which is right", withOut({ leg: "isolated" }), []],
    ]),
  )("[K13] jacks: %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });

  test.each(
    each([
      [
        "no slots at all",
        withB({ receive: { single: 0, double: 0, quad: 0 }, send: { single: 0, double: 0, quad: 0 } }),
        ["error ports ports[1].receive"],
      ],
      [
        "more slots at 96 kHz",
        withB({ receive: { single: 16, double: 17, quad: 4 } }),
        ["remark ports ports[1].receive"],
      ],
      ["as many slots at 96 kHz", withB({ receive: { single: 16, double: 16, quad: 4 } }), []],
      ["no cable", withB({ cables: [] }), ["remark ports ports[1].cables"]],
      ["a cable twice", withB({ cables: [...B.cables, ...B.cables] }), ["error ports ports[1].cables[1]"]],
      [
        "no share for audio",
        withB({ network: { speed: 1000, share: 0, provenance: "standard" } }),
        ["error ports ports[1].network.share"],
      ],
      ["all of it for audio", withB({ network: { speed: 1000, share: 1, provenance: "standard" } }), []],
      ["forwarding without a network port", box({ forwards: true }), ["remark ports forwards"]],
    ]),
  )("[K12] ports: %s", (_what, of, expected) => {
    expect(told(of).filter((line) => line.includes(" ports "))).toEqual(expected);
  });

  test.each(
    each([
      ["its own clock", box({ clock: "internal" }), []],
      ["a port that isn't there", box({ clock: group("c") }), ["error clock clock"]],
      ["a bank", box({ clock: group("in") }), ["error clock clock"]],
      [
        "a port without clock",
        { ...withB({ carriesClock: false }), clock: group("b") },
        ["error clock clock"],
      ],
      [
        "a mode's port that isn't there",
        box({ modes: [...BOX.modes, mode("new", "New", [], { clock: group("c") })] }),
        ["error clock modes[2].clock"],
      ],
      ["no clock, with links", box({ clock: "none" }), ["remark clock clock"]],
      [
        "no clock but in one mode",
        box({ clock: "none", modes: [...BOX.modes, mode("new", "New", [], { clock: group("a") })] }),
        [],
      ],
    ]),
  )("[K11] the clock: %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });
});

describe("rules", () => {
  test.each(
    each([
      [
        "a destination that isn't there",
        inMode(wired("aux", 1, "a", 1, 8)),
        ["error groups modes[2].rules[0].to.group"],
      ],
      [
        "a source that isn't there",
        inMode(wired("out", 1, "aux", 1, 8)),
        ["error groups modes[2].rules[0].from.group"],
      ],
      [
        "input jacks as a destination",
        inMode(wired("in", 1, "a", 1, 8)),
        ["error groups modes[2].rules[0].to.group"],
      ],
      [
        "output jacks as a source",
        inMode(wired("a", 1, "out", 1, 8)),
        ["error groups modes[2].rules[0].from.group"],
      ],
      ["a carry to jacks that aren't there", inMode(carry("c", "a")), ["error groups modes[2].rules[0].to"]],
      [
        "a patch of nothing",
        inMode(patch(range("out", 1, 8), [], 1)),
        ["error groups modes[2].rules[0].from"],
      ],
      [
        "a patch from nowhere",
        inMode(patch(range("out", 1, 8), [range("a", 1, 8), range("c", 1, 8)], 1)),
        ["error groups modes[2].rules[0].from[1].group"],
      ],
      [
        "a mixer's tap as a destination",
        { ...DESK, rules: [...DESK.rules, wired("mix", 1, "in", 1, 8)] },
        ["error groups rules[3].to.group"],
      ],
      [
        "channels as a source",
        { ...DESK, rules: [...DESK.rules, wired("out", 1, "ch", 1, 8)] },
        ["error groups rules[3].from.group"],
      ],
    ]),
  )("[K4] what rules name: %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });

  test("[K4] a carry to a port without slots that way", () => {
    const deaf = withB({ receive: { single: 0, double: 0, quad: 0 } });
    // Mode Two carries B to A and lists B's slots for the outputs; both name what isn't received.
    expect(told(deaf).filter((line) => line.startsWith("error"))).toEqual([
      "error groups modes[1].rules[0].from[1].group",
      "error groups modes[1].rules[1].from",
    ]);
    expect(texts(deaf)).toContain("Port B receives no slots, so a rule can't take from it.");
  });

  test.each(
    each([
      [
        "a patch to a ninth jack",
        inMode(patch(range("out", 1, 9), [range("a", 1, 16)], 1)),
        ["error ranges modes[2].rules[0].to.count"],
      ],
      [
        "a patch from a 17th slot",
        inMode(patch(range("out", 1, 8), [range("a", 16, 2)], 1)),
        ["error ranges modes[2].rules[0].from[0].count"],
      ],
      ["a run to a ninth jack", inMode(wired("out", 2, "a", 1, 8)), ["error ranges modes[2].rules[0].count"]],
      [
        "a run from a 17th slot",
        inMode(wired("out", 1, "a", 10, 8)),
        ["error ranges modes[2].rules[0].count"],
      ],
      ["a run that fits to the last slot", inMode(wired("out", 1, "a", 9, 8)), []],
      [
        "a step that leaves the slots in position 2",
        inMode(wired("out", 1, "a", 1, 8, { from: 9 })),
        ["error ranges modes[2].rules[0].from.perPosition"],
      ],
      [
        "a step back before the first slot",
        inMode(wired("out", 1, "a", 1, 8, { from: -1 })),
        ["error ranges modes[2].rules[0].from.perPosition"],
      ],
      [
        "a step that leaves the jacks in position 2",
        inMode(wired("out", 1, "a", 1, 8, { to: 1 })),
        ["error ranges modes[2].rules[0].to.perPosition"],
      ],
      ["a carry past all slots", inMode(carry("a", "b", 16)), ["error ranges modes[2].rules[0].shift"]],
      ["a carry back past all slots", inMode(carry("a", "b", -16)), ["error ranges modes[2].rules[0].shift"]],
      ["a carry of the last slot", inMode(carry("a", "b", 15)), []],
    ]),
  )("[K5] where rules reach: %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });

  test("[K5] a run past the slots is told with the positions and the numbers there", () => {
    // In position 2 the run starts at 1 + 9 = 10 and ends at 17; there are 16.
    expect(texts(inMode(wired("out", 1, "a", 1, 8, { from: 9 })))).toEqual([
      "In chain position 2 the run takes from Port A in 10–17, but there are only 16.",
    ]);
  });

  test("[K5] a position that the mode doesn't list isn't looked at", () => {
    const first = mode("new", "New", [wired("out", 1, "a", 1, 8, { from: 9 })], { positions: [1] });
    expect(told(box({ modes: [...BOX.modes, first] }))).toEqual([]);
  });

  test.each(
    each([
      [
        "six jacks in blocks of four",
        inMode(patch(range("out", 1, 6), [range("a", 1, 16)], 4)),
        ["remark blocks modes[2].rules[0].to.count"],
      ],
      [
        "blocks of four from jack 3 on",
        inMode(patch(range("out", 3, 4), [range("a", 1, 16)], 4)),
        ["remark blocks modes[2].rules[0].to.first"],
      ],
      [
        "blocks of four from slot 2 on",
        inMode(patch(range("out", 1, 8), [range("a", 2, 8)], 4)),
        ["remark blocks modes[2].rules[0].from[0].first"],
      ],
      ["blocks of four from slot 5 on", inMode(patch(range("out", 1, 8), [range("a", 5, 8)], 4)), []],
      ["one by one from jack 3 on", inMode(patch(range("out", 3, 3), [range("a", 2, 8)], 1)), []],
    ]),
  )("[K6] blocks: %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });

  test.each(
    each([
      [
        "position 3 of 2",
        box({ modes: [...BOX.modes, mode("new", "New", [], { positions: [1, 3] })] }),
        ["error chain modes[2].positions[1]"],
      ],
      [
        "no position",
        box({ modes: [...BOX.modes, mode("new", "New", [], { positions: [] })] }),
        ["error chain modes[2].positions"],
      ],
      [
        "position 1 twice",
        box({ modes: [...BOX.modes, mode("new", "New", [], { positions: [1, 1] })] }),
        ["remark chain modes[2].positions[1]"],
      ],
      [
        "a position that no mode fits",
        box({ modes: BOX.modes.map((one) => ({ ...one, positions: [1] })) }),
        ["remark chain chain"],
      ],
      [
        "a mode for each position",
        box({ modes: BOX.modes.map((one, n) => ({ ...one, positions: [n + 1] })) }),
        [],
      ],
    ]),
  )("[K7] chain positions: %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });

  test.each(
    each([
      [
        "a run over another",
        inMode(wired("out", 1, "a", 1, 8), wired("out", 3, "b", 1, 2)),
        ["remark covered modes[2].rules[1]"],
      ],
      [
        "a run that reaches one more jack",
        inMode(wired("out", 1, "a", 1, 7), wired("out", 7, "b", 1, 2)),
        [],
      ],
      [
        "a rule of every mode over the mode's",
        box({ rules: [...BOX.rules, wired("b", 3, "in", 1, 2)] }),
        ["remark covered rules[1]"],
      ],
      // Covered in position 1 only.
      [
        "a run that counts in position 2",
        inMode(wired("out", 1, "a", 1, 4), wired("out", 1, "b", 1, 4, { to: 4 })),
        [],
      ],
      ["a rule that counts in one mode of three", box({ rules: [...BOX.rules, carry("b", "a")] }), []],
    ]),
  )("[K8] rules that never count: %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });

  test("[K8] a rule with an error isn't told twice", () => {
    expect(told(inMode(wired("aux", 1, "a", 1, 8)))).toHaveLength(1);
  });

  test.each(
    each([
      ["two jacks that no mode feeds", withOut({ count: 10 }), ["remark unfed banks[1]"]],
      ["inputs that nothing takes", withIn({ count: 9 }), ["remark unfed banks[0]"]],
      ["a port that sends nothing of its own", box({ rules: [] }), ["remark unfed ports[1].send"]],
      [
        "channels that nothing feeds",
        { ...DESK, rules: DESK.rules.slice(1) },
        ["remark unfed mixer.sections[0]"],
      ],
      [
        "returns that nothing feeds",
        { ...DESK, rules: DESK.rules.filter((_, n) => n !== 1) },
        ["remark unfed mixer.sections[6]"],
      ],
    ]),
  )("[K9] what no rule reaches: %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });

  test("[K9] the jacks that are left out are named", () => {
    expect(texts(withOut({ count: 10 }))).toEqual(["No rule of any mode feeds Out 9–10."]);
    expect(texts(withIn({ count: 9 }))).toEqual(["No rule of any mode takes In 9."]);
  });

  test("[K9] what a switch sends comes by streams", () => {
    const net = { network: { speed: 1000, share: 0.75, provenance: "standard" } } as const;
    const hub = type("hub", {
      ports: [port("p", EIGHT, net), port("q", EIGHT, net)],
      clock: "none",
      forwards: true,
    });
    expect(told(hub)).toEqual([]);
    expect(told({ ...hub, forwards: false, clock: "internal" })).toEqual([
      "remark unfed ports[0].send",
      "remark unfed ports[1].send",
    ]);
  });
});

describe("the mixer", () => {
  test.each(
    each([
      [
        "a section that isn't there",
        desk(section("mix", "mix", ["aux"])),
        ["error mixer mixer.sections[1].from[0]"],
      ],
      ["jacks in a mix", desk(section("mix", "mix", ["in"])), ["error mixer mixer.sections[1].from[0]"]],
      [
        "output jacks in a join",
        desk(section("join", "join", ["out"])),
        ["error mixer mixer.sections[7].from[0]"],
      ],
      ["mixes in a join", desk(section("join", "join", ["mix"])), ["error mixer mixer.sections[7].from[0]"]],
      [
        "a direct out of mixes",
        desk(section("direct", "direct", ["mix"])),
        ["error mixer mixer.sections[4].from[0]"],
      ],
      [
        "a send of direct outs",
        desk(section("send", "send", ["direct"])),
        [
          "error mixer mixer.sections[5].from",
          "remark mixer mixer.sections[5]",
          "remark mixer mixer.sections[6]",
        ],
      ],
      [
        "a send of two sections",
        desk(section("send", "send", ["ch", "mix"])),
        ["error mixer mixer.sections[5].from"],
      ],
      [
        "a send of none",
        desk(section("send", "send", [])),
        ["error mixer mixer.sections[5].from", "remark mixer mixer.sections[6]"],
      ],
      [
        "a trim upside down",
        desk(section("ch", "channel", [], { trim: { from: 6, to: -6, provenance: "assumed" } })),
        ["error mixer mixer.sections[0].trim.from"],
      ],
      [
        "a trim of mixes",
        desk(section("mix", "mix", ["ch"], { trim: { from: -6, to: 6, provenance: "assumed" } })),
        ["remark mixer mixer.sections[1].trim"],
      ],
      [
        "channels named twice",
        desk(section("mix", "mix", ["ch", "ch"])),
        ["remark mixer mixer.sections[1].from[1]"],
      ],
      [
        "a mix into itself",
        desk(section("mix", "mix", ["ch", "mix"])),
        ["remark mixer mixer.sections[1].from[1]"],
      ],
      [
        "a matrix of channels",
        desk(section("mtx", "matrix", ["ch"])),
        ["remark mixer mixer.sections[3].from[0]"],
      ],
      ["a mix of nothing", desk(section("mix", "mix", [])), ["remark mixer mixer.sections[1].from"]],
      [
        "channels that list something",
        desk(section("ch", "channel", ["mix"])),
        ["remark mixer mixer.sections[0].from"],
      ],
      ["more returns than channels", desk(section("return", "return", ["ch"], { count: 8 })), []],
      [
        "nine sends of eight channels",
        desk(section("send", "send", ["ch"], { count: 9 })),
        ["remark mixer mixer.sections[5].count"],
      ],
      [
        "nine ways of eight",
        desk(section("join", "join", ["in"], { count: 9 })),
        ["remark mixer mixer.sections[7].count"],
      ],
    ]),
  )("[K10] %s", (_what, of, expected) => {
    expect(told(of)).toEqual(expected);
  });

  test("[K10] a port in a mix, and a mixer with nothing in it", () => {
    const both: DeviceType = { ...BOX, mixer: { ...DESK.mixer!, sections: [section("mix", "mix", ["a"])] } };
    expect(told(both)).toEqual(["error mixer mixer.sections[0].from[0]"]);
    expect(told({ ...BOX, mixer: { ...DESK.mixer!, sections: [] } })).toEqual([
      "remark mixer mixer.sections",
    ]);
  });
});
