/**
 * E1 and E2 in the wiring: which devices an edit makes stale, and which tables stay the same object. What is stale is worked
 * out by hand from what each device's terminals depend on: its own record, its clock's leader, its plugs and their far ends.
 */
import { describe, expect, test } from "vitest";
import { bank, group, mode, patch, range, wired } from "#engine/catalog/parts.ts";
import { id, type CableId, type SourceId, type StreamId } from "#engine/model/ids.ts";
import type { Cable, Device, Show, Source } from "#engine/model/show.ts";
import { metres } from "#engine/model/units.ts";
import { compile, recompile, rigOf } from "#engine/wiring/compile.ts";
import { spanGroup } from "#engine/wiring/layout.ts";
import { staleAfter } from "#engine/wiring/stale.ts";
import { withDevice, withMix, withSource } from "./checks/told.ts";
import { rig } from "./rigs/build.ts";
import { type } from "./rigs/types.ts";

/**
 *     House ──L1── Box ──P1── Rack        Truck ──N1── Switch ──N2── Node        Spare
 *       └─X1─ Wedge
 */
const SHOW = rig({
  devices: {
    house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "out 1 < mix 1"] },
    box: { name: "Box", type: "box-16-8", mode: "one" },
    rack: { name: "Rack", type: "breakout-16" },
    wedge: { name: "Wedge", type: "wedge" },
    truck: { name: "Truck", type: "aes67-endpoint", clock: "internal" },
    switch: { name: "Switch", type: "aes67-switch" },
    node: { name: "Node", type: "aes67-endpoint", clock: "net" },
    spare: { name: "Spare", type: "console-24" },
  },
  cables: [
    "L1: house.link1 - box.a, 10 m",
    "P1: box.pm - rack.pm",
    "X1: house.out.1 - wedge.in.1",
    "N1: truck.net - switch.p1",
    "N2: switch.p2 - node.net",
  ],
  sources: ["Kick: box.in.1", "Talk: spare.in.1"],
  mixes: ["Wedge: house.mix.1 < ch 1"],
});

/** The devices that have to be laid again; null: all, and nothing of before is used. */
function stale(after: Show, before = SHOW): readonly string[] | null {
  const known = rigOf(before, {}, null);
  const marks = staleAfter(known, rigOf(after, {}, known));
  return marks && after.devices.filter((_, n) => marks[n] === 1).map((device) => device.id);
}

const device = (key: string, change: Partial<Device>): readonly string[] | null =>
  stale(withDevice(SHOW, key, change));

const cable = (key: string, change: Partial<Cable>): Show => ({
  ...SHOW,
  cables: SHOW.cables.map((each) => (each.id === key ? { ...each, ...change } : each)),
});

describe("what an edit of a device makes stale", () => {
  test("[E1] settings, switch, rate and inserts: the device and those at the other ends of its cables", () => {
    expect(device("house", { routing: [] })).toEqual(["house", "box", "wedge"]);
    expect(device("rack", { powered: false })).toEqual(["box", "rack"]);
    expect(device("wedge", { sampleRate: 96000 })).toEqual(["house", "wedge"]);
    expect(device("spare", { inserts: [{ group: group("ch-return"), first: 1, count: 1 }] })).toEqual([
      "spare",
    ]);
    expect(
      device("box", { mode: SHOW.types.find(({ id: type }) => type === "box-16-8")!.modes[1]!.id }),
    ).toEqual(["house", "box", "rack"]);
  });

  test("[E1] a clock: all that it leads, and those at the other ends of their cables", () => {
    // Box and Rack follow House, which runs free and leads them all the same.
    expect(device("house", { clock: group("link2") })).toEqual(["house", "box", "wedge"]);
    // Rack follows Box, which is no longer led by House.
    expect(device("box", { clock: "internal" })).toEqual(["house", "box", "rack"]);
    // Set to what it does anyway, it still is another record.
    expect(device("spare", { clock: "internal" })).toEqual(["spare"]);
  });

  test("[E2] a name, a spot or a note: none", () => {
    expect(device("house", { name: "Other", at: { x: 5, y: 5 } })).toEqual([]);
    expect(stale(SHOW)).toEqual([]);
    expect(stale(withMix(SHOW, "wedge", { members: [] }))).toEqual([]);
  });
});

describe("what an edit of a cable makes stale", () => {
  test("[E1] its kind, its length, its ends and its ways: the devices at its ends, and what is cabled to these", () => {
    expect(stale(cable("P1", { length: metres(3) }))).toEqual(["house", "box", "rack"]);
    expect(stale(cable("X1", { kind: "cat5e" }))).toEqual(["house", "box", "wedge"]);
    expect(stale(cable("X1", { ways: 2 }))).toEqual(["house", "box", "wedge"]);
    const [near, far] = SHOW.cables[2]!.ends;
    // Plugged elsewhere: the devices that it left count as well.
    expect(stale(cable("X1", { ends: [{ ...near, device: id("spare") }, far] }))).toEqual([
      "house",
      "box",
      "wedge",
      "spare",
    ]);
  });

  test("[E2] its tag: none", () => {
    expect(stale(cable("L1", { tag: "Other" }))).toEqual([]);
  });

  test("[E1] one more or one less at the end of the list", () => {
    const more: Cable = {
      ...SHOW.cables[2]!,
      id: id<CableId>("X2"),
      ends: [
        { device: id("spare"), group: group("out"), first: 1 },
        { device: id("rack"), group: group("gone"), first: 1 },
      ],
    };
    // Its other end is nowhere, so that only Spare is plugged.
    expect(stale({ ...SHOW, cables: [...SHOW.cables, more] })).toEqual(["spare"]);
    expect(stale(SHOW, { ...SHOW, cables: [...SHOW.cables, more] })).toEqual(["spare"]);
    const last = { ...SHOW, cables: SHOW.cables.slice(0, -1) };
    // The node lost its clock with the cable.
    expect(stale(last)).toEqual(["truck", "switch", "node"]);
    expect(stale(SHOW, last)).toEqual(["truck", "switch", "node"]);
  });

  test("[E1] the whole rig where the list's order is another, for the tables name cables by their places", () => {
    expect(stale({ ...SHOW, cables: SHOW.cables.slice(1) })).toBeNull();
    expect(stale({ ...SHOW, cables: [...SHOW.cables].reverse() })).toBeNull();
    expect(stale({ ...SHOW, sources: [...SHOW.sources].reverse() })).toBeNull();
    expect(stale({ ...SHOW, sources: SHOW.sources.slice(1) })).toBeNull();
  });
});

describe("what an edit of a source or a stream makes stale", () => {
  test("[E1] the device that it is plugged in, and the one that it was", () => {
    expect(stale(withSource(SHOW, "kick", { name: "Other" }))).toEqual(["box"]);
    const to = { device: id("house"), group: group("in"), number: 1 } as Source["at"];
    expect(stale(withSource(SHOW, "kick", { at: to }))).toEqual(["house", "box"]);
    const more: Source = { ...SHOW.sources[0]!, id: id<SourceId>("more"), at: to };
    expect(stale({ ...SHOW, sources: [...SHOW.sources, more] })).toEqual(["house"]);
    expect(stale(SHOW, { ...SHOW, sources: [...SHOW.sources, more] })).toEqual(["house"]);
    expect(stale(withSource(SHOW, "talk", { at: { ...to, device: id("gone") } }))).toEqual(["spare"]);
  });

  test("[E1] a stream's receivers, those of before and of now", () => {
    const streams = (...to: readonly string[]): Show => ({
      ...SHOW,
      streams: [
        {
          id: id<StreamId>("feed"),
          name: "Feed",
          from: { device: id("truck"), group: group("net"), first: 1 },
          channels: 8,
          packetTime: 1,
          to: to.map((key) => ({ device: id(key), group: group("net"), first: 1 })),
        },
      ],
    });
    expect(stale(streams("node"))).toEqual(["node"]);
    expect(stale(streams("node", "truck"), streams("node"))).toEqual(["truck", "node"]);
    expect(stale(streams("node"), streams("truck"))).toEqual(["truck", "node"]);
    expect(stale(SHOW, streams("node"))).toEqual(["node"]);
    const same = streams("node");
    expect(stale({ ...same, title: "Other" }, same)).toEqual([]);
  });
});

describe("a wiring made from the one before", () => {
  test("[E2] what doesn't change is the same object, down to the arrays", () => {
    const before = compile(SHOW);
    const { wiring, moved } = recompile(withDevice(SHOW, "box", { name: "Other" }), {}, before);
    expect(moved).toEqual([]);
    for (const part of [
      "shape",
      "conduct",
      "leaders",
      "ways",
      "feeder",
      "state",
      "downList",
      "mixInto",
    ] as const)
      expect(wiring[part] === before[part], part).toBe(true);
    expect(wiring.names).not.toBe(before.names);
    expect(wiring.names[1]).toBe("Other");
  });

  test("[E1] what moved is told terminal by terminal: fed by another, from another setting, or later", () => {
    const before = compile(SHOW);
    const at = (key: string, part: string, number: number, side: "send" | "receive" | "jack"): number => {
      const wired = before.devices.find((each) => each?.device.id === key)!;
      const span = wired.fabric.layout.spans.find((each) => each.side === side && spanGroup(each) === part)!;
      return wired.base + span.start + number - 1;
    };
    const movedBy = (show: Show): readonly number[] => [...(recompile(show, {}, before).moved ?? [])];
    // The setting of output 1 goes, and nothing else of House's.
    const routing = SHOW.devices[0]!.routing;
    expect(movedBy(withDevice(SHOW, "house", { routing: routing.slice(0, 1) }))).toEqual([
      at("house", "out", 1, "jack"),
    ]);
    // The same settings in another order have other places in the list.
    expect(movedBy(withDevice(SHOW, "house", { routing: [...routing].reverse() }))).toEqual([
      at("house", "out", 1, "jack"),
      ...Array.from({ length: 8 }, (_, n) => at("house", "link1", n + 1, "send")),
    ]);
    // A longer cable is later at both of its ends; each has 48 slots that the link brings.
    const [l1] = SHOW.cables;
    const longer = { ...SHOW, cables: [{ ...l1!, length: metres(20) }, ...SHOW.cables.slice(1)] };
    const fed = (key: string, part: string): number[] =>
      Array.from(before.state.keys()).filter(
        (terminal) =>
          terminal >= at(key, part, 1, "receive") &&
          terminal < at(key, part, 1, "receive") + 48 &&
          before.feeder[terminal]! >= 0,
      );
    expect(movedBy(longer)).toEqual([...fed("house", "link1"), ...fed("box", "a")]);
    // A source that is only called otherwise moves nothing; a jack that loses its source does.
    expect(movedBy(withSource(SHOW, "kick", { name: "Other" }))).toEqual([]);
    expect(movedBy({ ...SHOW, sources: SHOW.sources.slice(0, 1) })).toEqual([at("spare", "in", 1, "jack")]);
  });

  test("[E1] mixes are compiled again for other mixes and other inserts, and for nothing else", () => {
    const before = compile(SHOW);
    const same = (show: Show): boolean => recompile(show, {}, before).wiring.mixInto === before.mixInto;
    expect(same(withDevice(SHOW, "house", { routing: [] }))).toBe(true);
    expect(same(withMix(SHOW, "wedge", { members: [] }))).toBe(false);
    expect(
      same(withDevice(SHOW, "house", { inserts: [{ group: group("ch-return"), first: 1, count: 1 }] })),
    ).toBe(false);
  });

  test("[E1] a state, a step's kind or a jack's source alone is a move; each terminal once, in ascending order", () => {
    const before = compile(SHOW);
    const off = (...keys: readonly string[]): Show => ({
      ...SHOW,
      devices: SHOW.devices.map((each) => (keys.includes(each.id) ? { ...each, powered: false } : each)),
    });
    const all = (key: string): readonly number[] => {
      const wired = before.devices.find((each) => each?.device.id === key)!;
      return Array.from({ length: wired.fabric.layout.size }, (_, n) => wired.base + n);
    };
    // A device that is off is so in every terminal, also in those that nothing fed before.
    const { moved } = recompile(off("switch", "node"), {}, before);
    expect(moved).toEqual([...new Set(moved)].sort((a, b) => a - b));
    expect(moved).toEqual([...all("switch"), ...all("node")]);

    // Fixed in one mode, set the same in the other: fed as before, by another kind of step.
    const either = type("either", {
      banks: [bank("in", "In", "in", 8, "XLR", "line"), bank("out", "Out", "out", 8, "XLR", "line")],
      modes: [
        mode("fixed", "Fixed", [wired("out", 1, "in", 1, 8)]),
        mode("free", "Free", [patch(range("out", 1, 8), [range("in", 1, 8)], 1)]),
      ],
    });
    const fixed = rig({
      types: [either],
      devices: { box: { name: "Box", type: "either", set: ["out 1 x8 < in 1"] } },
      sources: ["Kick: box.in.1", "Snare: box.in.1"],
    });
    const free = withDevice(fixed, "box", { mode: either.modes[1]!.id });
    const known = compile(fixed);
    const outs = Array.from({ length: 8 }, (_, n) => 8 + n);
    expect(recompile(free, {}, known).moved).toEqual(outs);
    expect(outs.map((t) => compile(free).setting[t] === known.setting[t])).toEqual(Array(8).fill(true));

    // Of two sources in one jack the second counts once the first is elsewhere.
    const away = withSource(fixed, "kick", { at: { ...fixed.sources[0]!.at, number: 3 } });
    expect(recompile(away, {}, known).moved).toEqual([0, 2]);
  });

  test("[E1] where devices of one type change places, where a type changes and keeps its size, and where one has no type", () => {
    const [first, ...others] = SHOW.devices;
    const spare = others.at(-1)!;
    const swapped = { ...SHOW, devices: [spare, ...others.slice(0, -1), first!] };
    const before = compile(SHOW);
    const again = recompile(swapped, {}, before).wiring;
    expect(again.indexOf).toEqual(compile(swapped).indexOf);
    expect(again.feeder).toEqual(compile(swapped).feeder);

    const renamed: Show = {
      ...SHOW,
      types: SHOW.types.map((made) =>
        made.id === "wedge"
          ? { ...made, banks: made.banks.map((each) => ({ ...each, name: `${each.name}!` })) }
          : made,
      ),
    };
    const changed = recompile(renamed, {}, before).wiring;
    changed.devices.forEach((wired, n) => expect(changed.shape.layouts[n]).toBe(wired!.fabric.layout));

    // A device without a type and a cable to nowhere are in the rig while others are edited.
    const broken: Show = {
      ...SHOW,
      types: SHOW.types.filter(({ id: key }) => key !== "wedge"),
      cables: SHOW.cables.map((each) =>
        each.id === "P1" ? { ...each, ends: [{ ...each.ends[0], device: id("gone") }, each.ends[1]] } : each,
      ),
    };
    const edited = withDevice(broken, "house", { routing: [] });
    const made = recompile(edited, {}, compile(broken));
    expect(made.moved).not.toBeNull();
    for (const part of ["feeder", "state", "edge", "setting", "delay", "sourceAt"] as const)
      expect(made.wiring[part], part).toEqual(compile(edited)[part]);
  });

  test("[E1] a stream's way is looked for again when a cable of it goes or comes", () => {
    const fed: Show = {
      ...SHOW,
      streams: [
        {
          id: id<StreamId>("feed"),
          name: "Feed",
          from: { device: id("truck"), group: group("net"), first: 1 },
          channels: 8,
          packetTime: 1,
          to: [{ device: id("node"), group: group("net"), first: 1 }],
        },
      ],
    };
    const cut = { ...fed, cables: fed.cables.slice(0, -1) };
    const legs = (show: Show, before: Show): number =>
      recompile(show, {}, compile(before)).wiring.ways[0]!.legs.length;
    expect([legs(cut, fed), legs(fed, cut)]).toEqual([0, 2]);
  });
});
