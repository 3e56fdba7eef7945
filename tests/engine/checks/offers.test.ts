/** F27: what each fix does to the show, edit by edit, with the settings that stay beside those that change. */
import { describe, expect, test } from "vitest";
import type { DeviceId } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { rig, type DeviceText } from "../rigs/build.ts";
import { R45, R48 } from "../rigs/index.ts";
import { withSource } from "./told.ts";
import { offered, whole } from "./whole.ts";

const house = (...set: readonly string[]): DeviceText => ({ name: "House", type: "console-24", set });
const box: DeviceText = { name: "Box", type: "box-16-8", mode: "one" };
const large: DeviceText = { name: "Box", type: "box-32-16", mode: "one" };
const L1 = "L1: house.link1 - box.a, 50 m";

describe("[F1] [F2] settings that a fix makes", () => {
  test("[F27] whole blocks, those that go on in step as one run; the last one as long as its source", () => {
    const show = rig({
      devices: { house: house("link1 17 x8 < mix 1"), box: large },
      cables: [L1],
      wants: ["Eight: box.out.8 < house.mix.8", "Nine: box.out.9 < house.mix.9"],
    });
    expect(offered(show, "dark-feed")).toEqual([
      "House: Link 1 out 1–12 takes Mix 1–12",
      "  devices house routing: link1 1 x12 < mix 1, link1 17 x8 < mix 1",
    ]);
  });

  test("[F27] two runs that don't go on in step are told as one and one more", () => {
    const show = rig({
      devices: { house: house(), box: large },
      cables: [L1],
      wants: ["Eight: box.out.8 < house.mix.8", "Nine: box.out.9 < house.main.1"],
    });
    expect(offered(show, "dark-feed")).toEqual([
      "House: Link 1 out 1–8 takes Mix 1–8 and 1 more",
      "  devices house routing: link1 1 x8 < mix 1, link1 9 x3 < main 1",
    ]);
  });

  test("[F27] what can't be held there goes with either of two runs", () => {
    const show = rig({
      devices: { house: house("link1 7 x4 < mix 1", "link1 25 x8 < mix 1"), box: large },
      cables: [L1],
      wants: ["Eight: box.out.8 < house.mix.8", "Nine: box.out.9 < house.main.1"],
    });
    expect(offered(show, "dark-feed")).toEqual([
      "House: Link 1 out 1–8 takes Mix 1–8 and 1 more",
      "  devices house routing: link1 1 x8 < mix 1, link1 9 x3 < main 1, link1 25 x8 < mix 1",
    ]);
  });

  test("[F27] a wish that no block can hold spoils the others of its run", () => {
    const show = rig({
      devices: { house: house(), box: large },
      cables: [L1],
      wants: ["One: box.out.1 < house.mix.1", "Two: box.out.2 < house.main.2"],
    });
    expect(offered(show, "dark-feed")).toEqual([]);
  });

  test("[F27] what was set there is cut out of its run, and the rest of it stays", () => {
    const show = rig({
      devices: { house: house("ch 1 x5 < link1 9", "out 3 < mix 3"), box },
      cables: [L1],
      sources: ["Kick: box.in.1", "Tom: box.in.11"],
      channels: ["Drum: house.ch.3 < Kick"],
    });
    expect(offered(show, "wrong-feed")).toEqual([
      "House: Channel 3 takes Link 1 in 1",
      "  devices house routing: ch 1 x2 < link1 9, ch 3 < link1 1, ch 4 x2 < link1 12, out 3 < mix 3",
      "Plan Tom for House Channel 3",
      '  channels house-drum source: "tom"',
    ]);
  });

  test("[F27] of two ways to a source the sooner one is taken", () => {
    const show = rig({
      devices: {
        house: house(),
        monitors: { name: "Monitors", type: "console-24", clock: "link2", set: ["link2 1 x8 < link1 1"] },
        box: { ...box, mode: "two" },
      },
      cables: [
        "L1: monitors.link1 - box.b, 5 m",
        "T1: monitors.link2 - house.link1, 5 m",
        "L2: house.link2 - box.a, 5 m",
      ],
      sources: ["Kick: box.in.3"],
      channels: ["Kick: house.ch.3 < Kick"],
    });
    expect(offered(show, "dark-feed")).toEqual([
      "House: Channel 3 takes Link 2 in 3",
      "  devices house routing: ch 3 < link2 3",
    ]);
  });

  test("[F27] a wrong feed: set right where the wanted one is, or want what arrives", () => {
    const show = rig({
      devices: { house: house("link1 1 x8 < direct 1", "link1 9 x4 < mix 9"), box: large },
      cables: [L1],
      wants: ["Wedge: box.out.3 < house.mix.3"],
    });
    expect(offered(show, "wrong-feed")).toEqual([
      "House: Link 1 out 1–8 takes Mix 1–8",
      "  devices house routing: link1 1 x12 < mix 1",
      "Want House Direct out 3 for Wedge",
      '  wants wedge from: {"device":"house","group":"direct","number":3}',
    ]);
  });

  test("[F27] a wrong source on a channel: its name goes along where it was the source's", () => {
    const show = rig({
      devices: { house: house("ch 1 x2 < link1 2", "ch 5 < link1 9"), box },
      cables: [L1],
      sources: ["Kick: box.in.1", "Snare: box.in.2", "Hat: box.in.3"],
      channels: ["Kick: house.ch.1 < Kick", "Right hand: house.ch.2 < Kick"],
    });
    expect(offered(show, "wrong-feed", "wrong-feed:house-kick")).toEqual([
      "House: Channel 1 takes Link 1 in 1",
      "  devices house routing: ch 1 < link1 1, ch 2 < link1 3, ch 5 < link1 9",
      "Plan Snare for House Channel 1",
      '  channels house-kick name: "Snare"',
      '  channels house-kick source: "snare"',
    ]);
    expect(offered(show, "wrong-feed", "wrong-feed:house-right-hand")).toEqual([
      "House: Channel 2 takes Link 1 in 1",
      "  devices house routing: ch 1 < link1 2, ch 2 < link1 1, ch 5 < link1 9",
      "Plan Hat for House Channel 2",
      '  channels house-right-hand source: "hat"',
    ]);
  });
});

describe("[F4] [F7] [F12] [F13] settings that a fix takes off", () => {
  test("[F27] a loop is cleared at one side, and what else is set there stays", () => {
    expect(offered(R45.show, "loop")).toEqual([
      "Clear the settings of House Link 2 out 1–8",
      "  devices house routing: none",
      "Clear the settings of Monitors Link 1 out 1–8",
      "  devices monitors routing: none",
    ]);
    const beside = rig({
      devices: {
        house: house("link2 1 x16 < link1 1", "out 1 < mix 1"),
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x8 < link2 1"] },
      },
      cables: ["T1: house.link1 - monitors.link1", "T2: house.link2 - monitors.link2"],
    });
    expect(offered(beside, "loop")).toEqual([
      "Clear the settings of House Link 2 out 1–8",
      "  devices house routing: link2 9 x8 < link1 9, out 1 < mix 1",
      "Clear the settings of Monitors Link 1 out 1–8",
      "  devices monitors routing: none",
    ]);
  });

  test("[F27] of settings on one destination the later one is kept", () => {
    const show = rig({
      devices: {
        house: house("out 1 x4 < mix 1", "out 3 x2 < main 1", "ch 1 < in 1", "ch 1 < in 2", "out 4 < mix 9"),
      },
    });
    expect(offered(show, "set-twice")).toEqual([
      "Drop what is set over at House",
      "  devices house routing: out 1 x2 < mix 1, out 3 < main 1, ch 1 < in 2, out 4 < mix 9",
    ]);
  });

  test("[F27] settings without effect go, and those past the bank; those that are held stay", () => {
    expect(offered(R48.show, "setting-idle", "setting-idle:box:out:wired")).toEqual([
      "Take the settings without effect off Box",
      "  devices box routing: none",
    ]);
    const show = rig({
      devices: {
        house: house("link1 1 x8 < mix 1", "link1 11 x4 < mix 1", "out 7 x4 < mix 1", "link2 1 x8 < mix 3"),
      },
    });
    expect(offered(show, "setting-idle")).toEqual([
      "Take the settings without effect off House",
      "  devices house routing: link1 1 x8 < mix 1, out 7 x2 < mix 1",
    ]);
  });

  test("[F27] slots past the last: sent and received ones, and only those", () => {
    const show = (set: string): Show =>
      rig({ rate: 96000, devices: { house: house(set, "out 2 < mix 2"), box }, cables: [L1] });
    expect(offered(show("link1 17 x16 < mix 1"), "over-capacity")).toEqual([
      "Clear the settings of House past the last slot",
      "  devices house routing: link1 17 x8 < mix 1, out 2 < mix 2",
    ]);
    expect(offered(show("ch 1 x4 < link1 23"), "over-capacity")).toEqual([
      "Clear the settings of House past the last slot",
      "  devices house routing: ch 1 x2 < link1 23, out 2 < mix 2",
    ]);
  });
});

describe("[F3] wants that a fix drops, and what none may bring", () => {
  test("[F27] either of two wants on one jack", () => {
    const show = rig({
      devices: { house: house("out 1 < mix 1") },
      wants: ["Wedge: house.out.1", "Fill: house.out.1", "Hall: house.out.2"],
    });
    expect(offered(show, "double-want")).toEqual([
      "Drop the want “Wedge”",
      "  wants wedge out",
      "Drop the want “Fill”",
      "  wants fill out",
    ]);
  });

  test("[F27] nothing that clears one warning and brings another", () => {
    // Switched on, the box still has nothing to hand on: nothing is plugged in its link.
    const show = rig({
      devices: { box: { ...box, off: true }, wedge: { name: "Wedge", type: "wedge" } },
      cables: ["X1: box.out.5 - wedge.in.1, 5 m"],
    });
    expect(whole(show, "dark-feed")[0]).toMatch(/^warning dark-feed:warning:off:box/);
    expect(offered(show, "dark-feed")).toEqual([]);
  });
});

describe("[F18] [F19] mixes that a fix moves", () => {
  const desk = (mixes: readonly string[], set: readonly string[] = [], wants: readonly string[] = []): Show =>
    rig({
      devices: { house: house(...set), monitors: { name: "Monitors", type: "console-24" } },
      mixes,
      wants,
    });

  test("[F27] to the first free buses; those of other consoles and sections aren't in the way", () => {
    const show = desk([
      "One: house.mix.1 < ch 1",
      "Two: house.mix.1 < ch 2",
      "Zone: house.mtx.2 < main 1",
      "Ears: monitors.mix.2 < ch 1",
    ]);
    expect(offered(show, "bus-use")).toEqual([
      "Move “Two” to Mix 2",
      "  mixes two first: 2",
      "Take “One” out",
      "  mixes one out",
      "Take “Two” out",
      "  mixes two out",
    ]);
  });

  test("[F27] a stereo one to the first free pair, past what is set, wanted or mixed on", () => {
    const ears = "Ears: house.mix.2+3 < ch 1";
    const others = ["One: house.mix.1 < ch 1", "Five: house.mix.5 < ch 2", "Sum: house.main.1 < mix 8"];
    const show = (set: string, want: string): Show => desk([ears, ...others], ["out 1 < mix 4", set], [want]);
    const pair = "bus-use:pair:ears";
    expect(offered(show("out 2 < mix 9", "Seven: house.out.7 < house.main.2"), "bus-use", pair)).toEqual([
      "Move “Ears” to Mix 11–12",
      "  mixes ears first: 11",
    ]);
    expect(offered(show("out 2 < mix 9", "Twelve: house.out.7 < house.mix.12"), "bus-use", pair)).toEqual([]);
    expect(offered(show("out 2 < mix 11", "Ten: house.out.7 < house.mix.12"), "bus-use", pair)).toEqual([
      "Move “Ears” to Mix 9–10",
      "  mixes ears first: 9",
    ]);
  });

  test("[F27] one whose own buses something takes from stays, and so does one with nowhere to go", () => {
    const taken = desk(["Ears: house.mix.2+3 < ch 1"], ["out 1 < mix 3"]);
    expect(offered(taken, "bus-use")).toEqual([]);
    const wanted = desk(["Ears: house.mix.2+3 < ch 1"], [], ["Two: house.out.2 < house.mix.2"]);
    expect(offered(wanted, "bus-use")).toEqual([]);
    const full = desk(["Ears: house.main.2+3 < ch 1", "Left: house.main.1 < ch 1"]);
    expect(offered(full, "bus-use")).toEqual([]);
  });

  test("[F27] the last pair of twelve buses will do", () => {
    const others = [1, 3, 5, 7, 9].map((bus) => `M${bus}: house.mix.${bus} < ch 1`);
    expect(offered(desk([...others, "Ears: house.mix.6+7 < ch 1"]), "bus-use", "bus-use:pair:ears")).toEqual([
      "Move “Ears” to Mix 11–12",
      "  mixes ears first: 11",
      "Take “Ears” out",
      "  mixes ears out",
    ]);
  });

  test("[F27] members that are refused go, the others stay in their order", () => {
    const show = desk(["Zone: house.mtx.1 < main 2, ch 3, mix 4, ch 5"]);
    expect(offered(show, "mix-member-refused")).toEqual([
      "Take 2 members out of “Zone”",
      "  mixes zone members: main 2, mix 4",
    ]);
  });
});

describe("[F14] [F17] [F20] [F21] [F25] [F26] records that a fix makes or takes", () => {
  test("[F27] plans for what lands on free channels, the first of each", () => {
    const show = rig({
      devices: { house: house("ch 1 x4 < link1 1", "ch 11 x4 < link1 1"), box },
      cables: [L1],
      sources: ["Kick: box.in.1", "Snare: box.in.2", "Hat: box.in.3", "Tom: box.in.4"],
      channels: ["Taken: house.ch.1"],
    });
    expect(offered(show, "plan-gap", "plan-gap:source:box")).toEqual([
      "Plan House Channel 11, House Channel 2, House Channel 3 and 1 more for Kick, Snare, Hat and 1 more",
      '  channels new {"id":"house-ch-11","console":"house","group":"ch","number":11,"name":"Kick","source":"kick"}',
      '  channels new {"id":"house-ch-2","console":"house","group":"ch","number":2,"name":"Snare","source":"snare"}',
      '  channels new {"id":"house-ch-3","console":"house","group":"ch","number":3,"name":"Hat","source":"hat"}',
      '  channels new {"id":"house-ch-4","console":"house","group":"ch","number":4,"name":"Tom","source":"tom"}',
    ]);
    expect(offered(show, "plan-gap", "plan-gap:channel:house")).toEqual([
      "Plan for 1 channel of House what arrives there",
      '  channels house-taken source: "kick"',
    ]);
  });

  test("[F27] none where one of the sources lands nowhere, or on a channel whose id is taken", () => {
    const show = (channels: readonly string[]): Show =>
      rig({
        devices: { house: house("ch 1 < link1 1"), box },
        cables: [L1],
        sources: ["Kick: box.in.1", "Snare: box.in.2"],
        channels,
      });
    expect(offered(show([]), "plan-gap")).toEqual([]);
    const plan = { ...show([]), sources: show([]).sources.slice(0, 1) };
    expect(offered(plan, "plan-gap")).toEqual([
      "Plan House Channel 1 for Kick",
      '  channels new {"id":"house-ch-1","console":"house","group":"ch","number":1,"name":"Kick","source":"kick"}',
    ]);
    const taken = show(["ch 1: house.ch.9"]);
    const id = "house-ch-1" as never;
    expect(
      offered(
        {
          ...taken,
          sources: plan.sources,
          channels: taken.channels.map((each) => ({ ...each, id, name: "" })),
        },
        "plan-gap",
      ),
    ).toEqual([]);
  });

  test("[F27] labels counted on from the one that is shared", () => {
    const show = rig({
      devices: {
        one: { ...box, name: "Box 7" },
        two: { ...box, name: "Box 8" },
        three: { ...box, name: "Box 7 " },
        four: { ...box, name: "Box 7" },
      },
      cables: ["L1: one.b - two.a, 5 m", "L2: two.b - three.a, 5 m", "L3: three.b - four.a, 5 m"],
      sources: ["Kick: one.in.1", "Snare: one.in.2"],
    });
    expect(offered(show, "labels", "labels:device:box 7")).toEqual([
      "Label them Box 9 and Box 10",
      '  devices three name: "Box 9"',
      '  devices four name: "Box 10"',
    ]);
    const cables = (...tags: readonly string[]): Show => ({
      ...show,
      cables: show.cables.map((cable, n) => ({ ...cable, tag: tags[n]! })),
    });
    expect(offered(cables("A9", "A10", "A9"), "labels", "labels:cable:a9")).toEqual([
      "Label it A11",
      '  cables L3 tag: "A11"',
    ]);
    expect(offered(cables("", "K1", " "), "labels", "labels:untagged")).toEqual([
      "Label them K2 and K3",
      '  cables L1 tag: "K2"',
      '  cables L3 tag: "K3"',
    ]);
    const kicks = { ...show, sources: show.sources.map((source) => ({ ...source, name: "Kick" })) };
    expect(offered(kicks, "labels", "labels:source:kick")).toEqual([
      "Label it Kick 2",
      '  sources snare name: "Kick 2"',
    ]);
  });

  test("[F27] of five things of one name the first keeps it, three of the new ones are told", () => {
    const names = ["Box ", "box", "BOX", "Box", "Box"];
    const show = rig({
      devices: Object.fromEntries(names.map((name, n) => [`b${n + 1}`, { ...box, mode: "two", name }])),
      cables: ["L1: b1.b - b2.a, 5 m", "L2: b2.b - b3.a, 5 m"],
      sources: ["Kick: b1.in.1", "Snare: b1.in.2"],
    });
    const alike: Show = {
      ...show,
      cables: show.cables.map((cable, n) => ({ ...cable, tag: n === 0 ? " K1" : "k1" })),
      sources: show.sources.map((source, n) => ({ ...source, name: n === 0 ? "Kick" : "KICK" })),
    };
    expect(whole(alike, "labels").filter((line) => line.startsWith("warning"))).toEqual([
      "warning labels:cable:k1: 2 cables bear the tag K1",
      "warning labels:device:box: 5 devices are called Box",
      "warning labels:source:kick: 2 sources are called Kick",
    ]);
    expect(offered(alike, "labels", "labels:device:box")).toEqual([
      "Label them box 2, box 3, box 4 and 1 more",
      ...[2, 3, 4, 5].map((n) => `  devices b${n} name: "box ${n}"`),
    ]);
  });

  test("[F27] gains: each console that can set all of them, but for the one that does", () => {
    const show = rig({
      devices: {
        house: house(),
        monitors: { name: "Monitors", type: "console-24", clock: "link1" },
        spare: { name: "Spare", type: "console-24" },
        box: { ...box, mode: "two" },
      },
      cables: [L1, "L2: monitors.link1 - box.b, 5 m"],
      sources: ["Kick: box.in.1", "Snare: box.in.2"],
    });
    expect(offered(show, "preamp", "preamp:no-owner")).toEqual([
      "Let House set the gain of 2 sources",
      '  sources kick preampOwner: "house"',
      '  sources snare preampOwner: "house"',
      "Let Monitors set the gain of 2 sources",
      '  sources kick preampOwner: "monitors"',
      '  sources snare preampOwner: "monitors"',
    ]);
    const spare = withSource(show, "kick", { preampOwner: "spare" as DeviceId });
    expect(offered(spare, "preamp", "preamp:reach:spare:box")).toEqual([
      "Let House set the gain of Kick",
      '  sources kick preampOwner: "house"',
      "Let Monitors set the gain of Kick",
      '  sources kick preampOwner: "monitors"',
    ]);
    const lit = withSource(show, "kick", { kind: "line", phantom: true });
    expect(offered(lit, "preamp", "preamp:phantom:kick")).toEqual([
      "Take phantom power off Kick",
      "  sources kick phantom: false",
    ]);
  });

  test("[F27] a chain is numbered from its head on, with the modes that go with the places", () => {
    const chain = (...bars: readonly Partial<DeviceText>[]): Show =>
      rig({
        devices: {
          house: { name: "House", type: "console-48" },
          tower: { name: "Tower", type: "breakout-16", mode: "stage-first" },
          ...Object.fromEntries(
            bars.map((bar, n) => [
              `bar${n + 1}`,
              { name: `Bar ${n + 1}`, type: "breakout-16", mode: "stage-first", ...bar },
            ]),
          ),
        },
        cables: [
          "S1: house.stage - tower.stage, 50 m, digital-110",
          ...bars.map(
            (_, n) =>
              `S${n + 2}: ${n === 0 ? "tower" : `bar${n}`}.stage-thru - bar${n + 1}.stage, 50 m, digital-110`,
          ),
        ],
      });
    expect(offered(chain({ position: 2 }), "chain")).toEqual([
      "Switch Bar 1 to the mode for position 2",
      '  devices bar1 mode: "stage-later"',
      "Number the chain of Bar 1 from 1 on",
      '  devices bar1 mode: "stage-later"',
    ]);
    expect(offered(chain({}, { position: 4, mode: "stage-later" }), "chain")).toEqual([
      "Number the chain of Bar 1 from 1 on",
      '  devices bar1 mode: "stage-later"',
      "  devices bar1 position: 2",
      "  devices bar2 position: 3",
    ]);
  });

  test("[F27] the later channel of a source that arrives twice takes the sooner way", () => {
    const show = rig({
      devices: {
        house: house("ch 1 x2 < link1 1", "ch 9 x2 < link2 1", "out 1 < mix 1"),
        monitors: { name: "Monitors", type: "console-24", clock: "link2", set: ["link2 1 x8 < link1 1"] },
        box: { ...box, mode: "two" },
      },
      cables: ["L1: house.link1 - box.a", "L2: monitors.link1 - box.b", "T1: monitors.link2 - house.link2"],
      sources: ["Kick: box.in.1", "Snare: box.in.2"],
    });
    expect(offered(show, "arrives-twice")).toEqual([
      "House: Channel 9–10 takes Link 1 in 1–2",
      "  devices house routing: ch 1 x2 < link1 1, ch 9 x2 < link1 1, out 1 < mix 1",
    ]);
  });

  test("[F27] lost receivers, members and places", () => {
    const show = rig({
      devices: { one: { name: "One", type: "aes67-endpoint" }, two: { name: "Two", type: "aes67-endpoint" } },
      cables: ["N1: one.net - two.net, 5 m, cat5e"],
      streams: ["Second: one.net.1 x8 > two.aux.1, two.net.1", "Third: one.net.9 x8 > two.aux.1"],
    });
    expect(offered(show, "dangling", "dangling:stream:second:to")).toEqual([
      "Take 1 lost receiver out of “Second”",
      '  streams second to: [{"device":"two","group":"net","first":1}]',
    ]);
    expect(offered(show, "dangling", "dangling:stream:third:to")).toEqual([
      "Take the stream “Third” out",
      "  streams third out",
    ]);
  });

  test("[F14] [F27] each sort of record: taken out where it stands nowhere, else without what it names", () => {
    const show = withSource(
      rig({
        devices: { house: house(), end: { name: "End", type: "aes67-endpoint" } },
        cables: ["L1: house.link1 - nobody.a, 5 m"],
        sources: ["Kick: house.in.1", "Far: house.in.9"],
        wants: ["Ninth: house.out.9", "From: house.out.1 < house.mix.99"],
        channels: ["High: house.ch.25", "Ghost: house.ch.1 < Nobody"],
        mixes: [
          "Thirteen: house.mix.13 < ch 99",
          "Wedge: house.mix.1 < ch 0, ch 1, mtx 1, in 1, ch 24, ch 25",
        ],
        streams: ["Tracks: house.link1.1 x8 > end.net.1"],
        groups: ["Mains: house.out.1, house.out.9, nobody.out.1"],
      }),
      "kick",
      { preampOwner: "nobody" as DeviceId },
    );
    const lost = { ...show, devices: show.devices.map((each) => ({ ...each, place: "attic" as never })) };
    const found = whole(lost, "dangling").filter((line) => line.startsWith("error"));
    const offers = found.map((line) => {
      const id = /^error (.*?): /.exec(line)![1]!;
      return [line.slice("error ".length), ...offered(lost, "dangling", id)];
    });
    expect(offers).toEqual([
      [
        "dangling:house:place: House points at nothing",
        "Put House in Stage",
        '  devices house place: "stage"',
      ],
      ["dangling:end:place: End points at nothing", "Put End in Stage", '  devices end place: "stage"'],
      ["dangling:L1:1: Cable L1 points at nothing", "Take cable L1 out", "  cables L1 out"],
      [
        "dangling:kick:owner: The preamp owner of “Kick” points at nothing",
        "Leave open who sets the gain of Kick",
        "  sources kick preampOwner: none",
      ],
      ["dangling:far: Source “Far” points at nothing", "Take the source “Far” out", "  sources far out"],
      ["dangling:ninth:to: Want “Ninth” points at nothing", "Take the want “Ninth” out", "  wants ninth out"],
      [
        "dangling:from:from: The origin of want “From” points at nothing",
        "Let anything do for From",
        "  wants from from: none",
      ],
      [
        "dangling:house-high: Channel 25 “High” points at nothing",
        "Take channel 25 “High” out",
        "  channels house-high out",
      ],
      [
        "dangling:house-ghost:source: Channel 1 “Ghost” points at nothing",
        "Leave channel 1 without a source",
        "  channels house-ghost source: none",
      ],
      [
        "dangling:thirteen: Mix “Thirteen” points at nothing",
        "Take the mix “Thirteen” out",
        "  mixes thirteen out",
      ],
      [
        "dangling:wedge:members: A member of mix “Wedge” points at nothing",
        "Take 3 lost members out of “Wedge”",
        "  mixes wedge members: ch 1, mtx 1, ch 24",
      ],
      [
        "dangling:stream:tracks:from: Stream “Tracks” points at nothing",
        "Take the stream “Tracks” out",
        "  streams tracks out",
      ],
      [
        "dangling:group:mains: A member of group “Mains” points at nothing",
        "Take 2 lost members out of “Mains”",
        "  groups mains members: out 1",
      ],
    ]);
  });
});
