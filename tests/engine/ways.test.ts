/**
 * Ways over settings, worked out by hand on small rigs (drawn in `rigs/consoles-and-boxes.ts`). That consoles set their
 * links in aligned blocks of eight, and that a block goes as a whole, is how the catalogue's consoles are made.
 */
import { describe, expect, test } from "vitest";
import { analyse, type Analysis } from "#engine/analysis.ts";
import { applyEdits } from "#engine/model/edit.ts";
import { id, type DeviceId, type GroupId } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { modesThatHelp } from "#engine/routes/modes.ts";
import { noWayText, settingLines } from "#engine/routes/told.ts";
import { canBeTaken, feedsThrough, wayFor, type NoWay, type Way } from "#engine/routes/ways.ts";
import { findTerminal, fullName, namesOf } from "#engine/trace/terminal.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { R02, R05, R07, R09 } from "./rigs/consoles-and-boxes.ts";
import { rig } from "./rigs/build.ts";
import { tell } from "./tell.ts";

/** `monitors.mix 9 x8`: so many terminals of a group. */
function terminals({ wiring }: Analysis, text: string): readonly number[] {
  const [, device, group, first, count = "1"] = /^(\w+)\.([\w-]+) (\d+)(?: x(\d+))?$/.exec(text)!;
  return Array.from({ length: Number(count) }, (_, n) => {
    const number = Number(first) + n;
    return findTerminal(wiring, { device: id<DeviceId>(device!), group: id<GroupId>(group!), number })!;
  });
}

const ask = (show: Show, from: string, to: string): Way | NoWay => {
  const analysis = analyse(show);
  const all = (text: string): readonly number[] =>
    text.split(", ").flatMap((run) => terminals(analysis, run));
  return wayFor(analysis, all(from), all(to));
};

/** The lines of a way as a tech would note them. */
function lines(show: Show, way: Way | NoWay): readonly string[] {
  if (way.kind === "none") return [noWayText(analyse(show).wiring, way)];
  return settingLines(analyse(show).wiring, way.settings).map(
    ({ device, reads, before }) => `${device}: ${reads} (${before})`,
  );
}

const found = (way: Way | NoWay): Way => {
  if (way.kind === "none") throw new Error(`no way: ${way.why.kind}`);
  return way;
};

/** The show without any setting. */
const unset = (show: Show): Show => ({
  ...show,
  devices: show.devices.map((device) => ({ ...device, routing: [] })),
});

describe("a way is made of settings alone", () => {
  test("[N1] a second console's mixes go through the first one's link to the breakout behind the stage box", () => {
    const show = unset(R02.show);
    const way = found(ask(show, "monitors.mix 9 x8", "ears.out 1 x8"));
    // The breakout's Out 1–8 stand on slots 33–40 of the box's link, by the box's mode; the rest is free.
    expect(lines(show, way)).toEqual([
      "Monitors: Link 1 out 1–8 takes Mix 9–16 (takes nothing)",
      "House: Link 1 out 33–40 takes Link 2 in 1–8 (takes nothing)",
    ]);
    const after = analyse(applyEdits(show, way.edits));
    expect(
      terminals(after, "ears.out 1 x8").map((jack) => tell(after.show, traceOf(after.wiring, jack))),
    ).toEqual(Array.from({ length: 8 }, (_, n) => `Ears rack Out ${n + 1} ← Monitors Mix ${n + 9}, 4 hops`));
    expect(way.edits.map((edit) => edit.kind === "put" && edit.list)).toEqual(["devices", "devices"]);
  });

  test("[N1] a third console's mixes pass two others", () => {
    const show = unset(R02.show);
    expect(lines(show, ask(show, "broadcast.mix 1 x8", "ears.out 9 x8"))).toEqual([
      "Broadcast: Link 1 out 1–8 takes Mix 1–8 (takes nothing)",
      "Monitors: Link 1 out 1–8 takes Link 2 in 1–8 (takes nothing)",
      "House: Link 1 out 41–48 takes Link 2 in 1–8 (takes nothing)",
    ]);
  });

  test("[N1] a microphone comes to a channel", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a"],
      sources: ["Kick: box.in.3"],
    });
    expect(lines(show, ask(show, "box.in 3", "house.ch 5"))).toEqual([
      "House: Channel 5 takes Link 1 in 3 (takes nothing)",
    ]);
  });

  test("[N1] from what a link brings, not only from where it begins", () => {
    const show = unset(R02.show);
    expect(lines(show, ask(show, "house.link2 17 x8", "ears.out 1 x8"))).toEqual([
      "House: Link 1 out 33–40 takes Link 2 in 17–24 (takes nothing)",
    ]);
  });
});

describe("of all ways the one that disturbs least, then that sets least", () => {
  test("[N2] what is set on the way already stays, and one setting does", () => {
    // Slots 33–40 carry monitors' mixes to these very jacks, so their block at monitors is the one to change.
    expect(lines(R02.show, ask(R02.show, "monitors.mix 17 x8", "ears.out 1 x8"))).toEqual([
      "Monitors: Link 1 out 33–40 takes Mix 17–24 (takes Mix 9–16)",
    ]);
  });

  test("[N2] a free block of the link between rather than one that others use", () => {
    // House link 1 out 1–16 feed the box; 41–48 bring broadcast to Out 9–16, the target; monitors' 33–48 are in use.
    const way = found(ask(R02.show, "monitors.mix 17 x8", "ears.out 9 x8"));
    expect(way.disturbed).toEqual([]);
    // Broadcast's mixes go only to the targets, so their block at monitors may be taken over: one setting.
    expect(lines(R02.show, way)).toEqual([
      "Monitors: Link 1 out 41–48 takes Mix 17–24 (takes Link 2 in 1–8)",
    ]);
  });

  test("[N2] two settings that disturb nobody rather than one that darkens a jack", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 33 x8 < link2 1", "out 1 < link2 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
        box: { name: "Box", type: "box-32-16", mode: "one" },
        ears: { name: "Ears", type: "breakout-16", mode: "pm" },
      },
      cables: ["L1: house.link1 - box.a", "T1: monitors.link1 - house.link2", "P1: box.pm - ears.pm"],
    });
    // Monitors' block 1–8 also feeds the house's own Local out 1; another block costs a setting more.
    expect(lines(show, ask(show, "monitors.direct 1 x8", "ears.out 1 x8"))).toEqual([
      "Monitors: Link 1 out 9–16 takes Direct out 1–8 (takes nothing)",
      "House: Link 1 out 33–40 takes Link 2 in 9–16 (takes Link 2 in 1–8)",
    ]);
  });

  test("[N2] nothing to set where everything is set", () => {
    const way = found(ask(R02.show, "monitors.mix 9 x8", "ears.out 1 x8"));
    expect(way.settings).toEqual([]);
    expect(way.edits).toEqual([]);
    expect(way.disturbed).toEqual([]);
  });
});

describe("disturbed is whoever loses what it had without being asked", () => {
  test("[N3] one signal of a block takes the other seven along", () => {
    const analysis = analyse(R02.show);
    const way = found(ask(R02.show, "monitors.mix 9", "ears.out 9"));
    expect(
      namesOf(
        analysis.wiring,
        way.disturbed.map(({ terminal }) => terminal),
      ),
    ).toBe("Ears rack Out 10–16");
    expect(
      namesOf(
        analysis.wiring,
        way.disturbed.map(({ was }) => was),
      ),
    ).toBe("Broadcast Mix 2–8");
  });

  test("[N3] what stands behind a target goes with it, and isn't told apart", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["out 1 x2 < mix 1"] },
        amp: { name: "Processor", type: "processor-8", mode: "eight", set: ["out 1 x2 < in 1"] },
      },
      cables: ["X1: house.out.1 - amp.in.1, line", "X2: house.out.2 - amp.in.2, line"],
    });
    const way = found(ask(show, "house.mix 3", "house.out 1"));
    // The processor's Out 1 hears another mix, since its input does; nobody has to be told.
    expect(way.disturbed).toEqual([]);
    expect(lines(show, way)).toEqual(["House: Local out 1 takes Mix 3 (takes Mix 1)"]);
  });
});

describe("a way sets whole runs", () => {
  test("[N4] four mixes of a block of eight", () => {
    const show = unset(R02.show);
    expect(lines(show, ask(show, "monitors.mix 13 x4", "ears.out 5 x4"))).toEqual([
      "Monitors: Link 1 out 1–8 takes Mix 9–16 (takes nothing)",
      "House: Link 1 out 33–40 takes Link 2 in 1–8 (takes nothing)",
    ]);
  });

  test("[N4] sixteen in a row are two runs, and read as one setting", () => {
    const show = unset(R02.show);
    expect(lines(show, ask(show, "monitors.mix 1 x16", "ears.out 1 x16"))).toEqual([
      "Monitors: Link 1 out 1–16 takes Mix 1–16 (takes nothing)",
      "House: Link 1 out 33–48 takes Link 2 in 1–16 (takes nothing)",
    ]);
  });
});

describe("signals that can't stay in a row are parted", () => {
  test("[N5] jacks that a mode wires to two consoles", () => {
    const show = unset(R07.show);
    const way = found(ask(show, "monitors.mix 9 x4, truck.mix 1 x4", "box.out 9 x8"));
    expect(way.parts).toBe(2);
    expect(lines(show, way)).toEqual([
      "Monitors: Link 1 out 1–8 takes Mix 9–16 (takes nothing)",
      "Truck: Link 1 out 1–8 takes Mix 1–8 (takes nothing)",
    ]);
  });

  test("[N5] two parts that need different blocks on the same slots don't undo each other", () => {
    const show = unset(R02.show);
    // Ears rack Out 1–8 are one block at the house: from monitors or from broadcast, not half and half.
    expect(lines(show, ask(show, "monitors.mix 1 x4, broadcast.mix 5 x4", "ears.out 1 x8"))).toEqual([
      "Every route from Broadcast Mix 5 to Ears rack Out 5 uses slots that the rest of these signals need.",
    ]);
  });

  test("[N5] taps in any order come one by one where a patch takes them one by one", () => {
    const show = rig({ devices: { house: { name: "House", type: "console-24" } } });
    const way = found(ask(show, "house.mix 3, house.mix 1, house.mtx 2", "house.out 1 x3"));
    expect(way.parts).toBe(1);
    expect(lines(show, way)).toEqual([
      "House: Local out 1 takes Mix 3 (takes nothing)",
      "House: Local out 2 takes Mix 1 (takes nothing)",
      "House: Local out 3 takes Matrix 2 (takes nothing)",
    ]);
  });
});

describe("where there is no way, what stands in it", () => {
  test("[N6] fixed: nothing that can be set leads there", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
    });
    expect(lines(show, ask(show, "house.mix 1", "box.out 2"))).toEqual([
      "No setting can bring anything to Box Out 2: nothing is plugged in Box Link A in 2.",
    ]);
  });

  test("[N6] fixed, at a rate at which the link between has no slots", () => {
    // The personal-monitor bus has none at 192 kHz.
    expect(lines(R09.show, ask(R09.show, "house.mix 1", "ears.out 1"))).toEqual([
      "No setting can bring anything to Ears rack Out 1: Ears rack Monitor bus 1 lies beyond the 0 slots there are at 192 kHz.",
    ]);
  });

  test("[N6] apart: another console owns what can be set on the way", () => {
    const show = unset(R05.show);
    expect(lines(show, ask(show, "house.mix 1", "box.out 9"))).toEqual([
      // Out 9–16 come from link B, where Monitors is plugged in; House's link A brings Out 1–8.
      "No setting leads from House Mix 1 to Box Out 9: Monitors sets what comes there (Link 1 out 1). " +
        "Box takes Out 9 from Link B in mode “Two consoles”, where Monitors is plugged in; House is plugged in Link A. " +
        "With these cables and modes House can reach Box Out 1–8.",
    ]);
  });

  test("[N6] apart: the next device doesn't hand it on", () => {
    // In its first mode the 32-in box has its own inputs on every link and hands none on to another.
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-32-16", mode: "one" },
        far: { name: "Far box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 50 m", "L2: box.c - far.a, 10 m"],
      sources: ["Kick: far.in.1"],
    });
    expect(lines(show, ask(show, "far.in 1", "house.ch 1"))).toEqual([
      "No setting leads from Far box In 1 to House Channel 1: House sets what comes there (Channel 1). " +
        "Far box can pass In on to Link A out (to Box) and Link B out (nothing plugged in). " +
        "Box can't pass Link C on to anything in mode “One console”.",
    ]);
  });

  test("[N7] modes in which there is a way, and nothing that arrives is lost", () => {
    // Out 9 comes from link B in every mode of three links but the two that give link A all sixteen; in those Monitors
    // loses Out 9–16, which nothing arrives at here.
    const analysis = analyse(unset(R05.show));
    const [source, target] = [terminals(analysis, "house.mix 1")[0]!, terminals(analysis, "box.out 9")[0]!];
    expect(modesThatHelp(analysis, source, target).map(({ name, was, mode }) => [name, was, mode])).toEqual([
      ["Box", "Two consoles", "One console"],
      ["Box", "Two consoles", "Chain"],
    ]);
  });

  test("[N7] a mode that takes something from somebody is none", () => {
    // As the rig is set Monitors' mixes arrive at Out 9–16.
    const analysis = analyse(R05.show);
    const [source, target] = [terminals(analysis, "house.mix 1")[0]!, terminals(analysis, "box.out 9")[0]!];
    expect(modesThatHelp(analysis, source, target)).toEqual([]);
  });

  test("[N6] unaligned: a block's third can't become another block's first", () => {
    const show = unset(R02.show);
    expect(lines(show, ask(show, "monitors.mix 3", "ears.out 1"))).toEqual([
      "Monitors sets Link 1 out in blocks of 8, so Mix 3 can't go to Link 1 out 1: they aren't at the same position in their blocks (Mix 3 is third of its block of 8).",
    ]);
  });

  test("[N6] a device that is off has nothing to set", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", off: true },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a"],
    });
    const way = ask(show, "house.mix 1", "box.out 1");
    expect(way.kind === "none" && way.why.kind).toBe("fixed");
  });
});

test("[N1] signals are taken from taps, input jacks and receive slots", () => {
  const { wiring } = analyse(R02.show);
  const taken = ["Monitors Mix 1", "Monitors Local in 1", "House Link 2 in 1", "House Direct out 3"];
  const not = ["House Link 1 out 1", "House Channel 1", "Ears rack Out 1"];
  const all = Array.from({ length: wiring.size }, (_, terminal) => terminal);
  const named = all.filter((terminal) => [...taken, ...not].includes(fullName(wiring, terminal)));
  expect(
    named
      .filter((terminal) => canBeTaken(wiring, terminal))
      .map((terminal) => fullName(wiring, terminal))
      .sort(),
  ).toEqual(taken.toSorted());
});

test("[N3] who depends on a setting: the jacks that get their signal through its destination", () => {
  const analysis = analyse(R02.show);
  const { wiring } = analysis;
  const through = feedsThrough(analysis, wiring.indexOf.get(id<DeviceId>("house"))!);
  const told = [...through].map(([at, feeds]) => `${fullName(wiring, at)}: ${namesOf(wiring, feeds)}`);
  // Link 1 out 1–16 go to the box's own outputs, 33–48 over its monitor bus to the breakout.
  expect(told.filter((line) => /out (1|16|33|48):/.test(line)).sort()).toEqual(
    [
      "House Link 1 out 16: Stage box Out 16",
      "House Link 1 out 1: Stage box Out 1",
      "House Link 1 out 33: Ears rack Out 1",
      "House Link 1 out 48: Ears rack Out 16",
    ].sort(),
  );
  expect(through.size).toBe(32);
});
