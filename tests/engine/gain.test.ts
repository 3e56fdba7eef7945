/**
 * Rules S1 to S3 and F28: a preamp that several consoles share. Its owner sets the analogue gain; every other console
 * trims digitally by the opposite of each gain step (common practice).
 */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { followers, gainEdits, trimsAfter } from "#engine/findings/followers.ts";
import { applyEdits } from "#engine/model/edit.ts";
import { id, type SourceId } from "#engine/model/ids.ts";
import type { ChannelPlan, Show, Source } from "#engine/model/show.ts";
import { rig } from "./rigs/build.ts";
import { reasons, told, withSource } from "./checks/told.ts";
import { offered, whole } from "./checks/whole.ts";

const KICK = id<SourceId>("kick");

const owned = (show: Show, owner = "house"): Show => ({
  ...show,
  sources: show.sources.map((source): Source => ({ ...source, preampOwner: owner as never })),
});

const withChannel = (show: Show, key: string, change: Partial<ChannelPlan>): Show => ({
  ...show,
  channels: show.channels.map((channel) => (channel.id === key ? { ...channel, ...change } : channel)),
});

/**
 *     Kick ── in 1 Split direct ══D══ in Box a ──L1── link1 House      ch 1
 *                                         b ──L2── link1 Monitors      ch 1
 *                        isolated ══I══ in Truck box a ──L3── link1 Truck  ch 1
 *     Snare ─────────────────────────── in 2 Box                       ch 2 of House, Monitors
 */
const stage = (...channels: readonly string[]): Show =>
  owned(
    rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["ch 1 x8 < link1 1", "link2 1 x8 < link1 1"] },
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["ch 1 x8 < link1 1"] },
        truck: { name: "Truck", type: "console-24", set: ["ch 1 x8 < link1 1"] },
        split: { name: "Split", type: "split-16" },
        box: { name: "Box", type: "box-16-8", mode: "two" },
        truckbox: { name: "Truck box", type: "box-16-8", mode: "one" },
      },
      cables: [
        "L1: house.link1 - box.a, 50 m",
        "L2: monitors.link1 - box.b, 5 m",
        "L3: truck.link1 - truckbox.a, 60 m",
        "D: split.direct.1 - box.in.1, 5 m, microphone",
        "I: split.isolated.1 - truckbox.in.1, 5 m, microphone",
      ],
      sources: ["Kick: split.in.1", "Snare: box.in.2"],
      channels,
    }),
  );

const KICK_ON_ALL = [
  "Kick: house.ch.1 < Kick",
  "Kick: monitors.ch.1 < Kick",
  "Kick: truck.ch.1 < Kick",
] as const;

const consoles = (show: Show, source = KICK): readonly string[] =>
  (followers(analyse(show)).get(source) ?? []).map(
    ({ channel }) => `${channel.console} ${channel.group} ${channel.number}`,
  );

describe("who follows", () => {
  test("[S1] [S2] a console on the same preamp; the owner doesn't, nor the one on the split's other leg", () => {
    expect(consoles(stage(...KICK_ON_ALL))).toEqual(["monitors ch 1"]);
    expect(consoles(owned(stage(...KICK_ON_ALL), "monitors"))).toEqual(["house ch 1"]);
    // The truck sets the preamp of its own box, and nobody else hears that one.
    expect(consoles(owned(stage(...KICK_ON_ALL), "truck"))).toEqual([]);
  });

  test("[S1] an owner without a channel for it shares what it can set; one that can set none shares none", () => {
    expect(consoles(stage("Kick: monitors.ch.1 < Kick", "Kick: truck.ch.1 < Kick"))).toEqual([
      "monitors ch 1",
    ]);
    expect(consoles(owned(stage("Snare: monitors.ch.2 < Snare"), "truck"), id("snare"))).toEqual([]);
  });

  test("[S1] an owner that can set both legs' preamps shares the one that its own channel takes", () => {
    const { cables } = rig({ devices: {}, cables: ["T: house.link2 - truck.link2, 5 m"] });
    const show = stage(...KICK_ON_ALL);
    const tied: Show = { ...show, cables: [...show.cables, ...cables] };
    expect(consoles(tied)).toEqual(["monitors ch 1"]);
  });

  test("[S2] a channel follows only where its source in fact arrives", () => {
    expect(consoles(stage("Kick: monitors.ch.9 < Kick"))).toEqual([]);
    expect(consoles(stage("Kick: monitors.ch.2 < Kick"))).toEqual([]);
    expect(consoles(stage("Kick: monitors.ch.1"))).toEqual([]);
  });

  test("[S2] nor where the signal has been analogue on the way: the second jack has a preamp of its own", () => {
    const chained = owned(
      rig({
        devices: {
          house: { name: "House", type: "console-24", set: ["ch 1 < link1 1", "out 1 < link1 1"] },
          guest: { name: "Guest", type: "console-24", set: ["ch 1 < in 1"] },
          box: { name: "Box", type: "box-16-8", mode: "one" },
        },
        cables: ["L1: house.link1 - box.a, 50 m", "X1: house.out.1 - guest.in.1, 5 m"],
        sources: ["Kick: box.in.1"],
        channels: ["Kick: house.ch.1 < Kick", "Kick: guest.ch.1 < Kick"],
      }),
    );
    expect(consoles(chained)).toEqual([]);
  });

  test("[S2] no owner, no follower", () => {
    expect(
      consoles({
        ...stage(...KICK_ON_ALL),
        sources: rig({ devices: {}, sources: ["Kick: split.in.1"] }).sources,
      }),
    ).toEqual([]);
  });
});

describe("a step of the gain", () => {
  const trims = (show: Show, step: number): readonly string[] =>
    trimsAfter(analyse(show), KICK, step).map(
      ({ channel, before, after, within }) => `${channel.console}: ${before} to ${after}, ${within}`,
    );

  test("[S3] up 6 dB, down 6 dB of trim, and the other way round (common practice)", () => {
    const show = stage(...KICK_ON_ALL);
    expect(trims(show, 6)).toEqual(["monitors: 0 to -6, true"]);
    expect(trims(show, -6)).toEqual(["monitors: 0 to 6, true"]);
    expect(trims(withChannel(show, "monitors-kick", { trim: -15.5 }), 3)).toEqual([
      "monitors: -15.5 to -18.5, false",
    ]);
    expect(trims(withChannel(show, "monitors-kick", { trim: -15 }), 3)).toEqual([
      "monitors: -15 to -18, true",
    ]);
  });

  test("[S3] a type that doesn't tell how far its trim goes leaves that open", () => {
    const show = stage(...KICK_ON_ALL);
    const untold: Show = {
      ...show,
      types: show.types.map((type) =>
        type.mixer
          ? {
              ...type,
              mixer: {
                ...type.mixer,
                sections: type.mixer.sections.map(({ trim: _, ...section }) => section),
              },
            }
          : type,
      ),
    };
    expect(trims(untold, 40)).toEqual(["monitors: 0 to -40, null"]);
  });

  test("[S3] what follows is edited with the gain, and gain plus trim stays what it was", () => {
    const show = withSource(
      withChannel(stage(...KICK_ON_ALL), "monitors-kick", { follows: true, trim: -3 }),
      "kick",
      { gain: 30 },
    );
    const level = (changed: Show): number =>
      changed.sources[0]!.gain! + changed.channels.find(({ console: desk }) => desk === "monitors")!.trim!;
    let after = show;
    for (const step of [0.1, 0.2, 5.5, -12]) {
      after = applyEdits(after, gainEdits(analyse(after), KICK, step));
      expect(level(after)).toBeCloseTo(level(show), 9);
    }
    expect(after.sources[0]!.gain).toBe(23.8);
    // Nobody else is touched.
    expect(after.channels.filter(({ console: desk }) => desk !== "monitors")).toEqual(
      show.channels.filter(({ console: desk }) => desk !== "monitors"),
    );
  });

  test("[S3] a follower that isn't set to follow keeps its trim, and a source that isn't there has no gain", () => {
    const show = stage(...KICK_ON_ALL);
    expect(gainEdits(analyse(show), KICK, 6)).toEqual([
      { kind: "put", list: "sources", record: { ...show.sources[0]!, gain: 6 } },
    ]);
    expect(gainEdits(analyse(show), id<SourceId>("nobody"), 6)).toEqual([]);
  });
});

describe("findings", () => {
  test("[F28] one finding for each console, with its channels", () => {
    const show = stage(...KICK_ON_ALL, "Snare: house.ch.2 < Snare", "Snare: monitors.ch.2 < Snare");
    expect(told(show, "follower-trim")).toEqual([
      "warning follower-trim:monitors: 2 channels of Monitors hear each gain step of House",
    ]);
    expect(reasons(show, "follower-trim")).toEqual([
      "Monitors Channel 1–2 take their sources from preamps whose gain House sets. Every other console trims digitally by the opposite of each step.",
    ]);
    const one = withChannel(show, "monitors-kick", { follows: true });
    expect(told(one, "follower-trim")).toEqual([
      "warning follower-trim:monitors: 1 channel of Monitors hears each gain step of House",
    ]);
    expect(told(withChannel(one, "monitors-snare", { follows: true }), "follower-trim")).toEqual([]);
  });

  test("[F28] a trim past the range of the console's own", () => {
    const show = withChannel(stage(...KICK_ON_ALL), "monitors-kick", { follows: true, trim: -18.5 });
    expect(told(show, "follower-trim")).toEqual([
      "warning follower-trim:range:monitors-kick: Monitors Channel 1 can't be trimmed by -18.5 dB",
    ]);
    expect(reasons(show, "follower-trim")).toEqual([
      expect.stringMatching(/^Its digital trim goes from -18 to 18 dB \(assumed\)\. Let /),
    ]);
    expect(told(withChannel(show, "monitors-kick", { trim: 18 }), "follower-trim")).toEqual([]);
  });
});

describe("findings in full", () => {
  /** Three consoles on one box; the kick is House's, the snare Truck's, and what Spare sets nobody else hears. */
  const show = (...channels: readonly string[]): Show => {
    const built = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["ch 1 x8 < link1 1"] },
        truck: { name: "Truck", type: "console-24", clock: "link1" },
        spare: { name: "Spare", type: "console-24" },
        box: { name: "Box", type: "box-32-16", mode: "three" },
      },
      cables: [
        "L1: house.link1 - box.a, 5 m",
        "L2: monitors.link1 - box.b, 5 m",
        "L3: truck.link1 - box.c, 5 m",
      ],
      sources: ["Kick: box.in.1", "Snare: box.in.2", "Talk: spare.in.1", "Guest: house.in.1"],
      channels,
    });
    const owners: Readonly<Record<string, string>> = { Kick: "house", Snare: "truck", Talk: "spare" };
    return {
      ...built,
      sources: built.sources.map((source): Source => {
        const owner = owners[source.name];
        return owner === undefined ? source : { ...source, preampOwner: owner as never };
      }),
    };
  };

  test("[F28] channels in their order, and the consoles that set what they hear", () => {
    const both = show("Snare: monitors.ch.2 < Snare", "Kick: monitors.ch.1 < Kick");
    expect(whole(both, "follower-trim")).toEqual([
      "warning follower-trim:monitors: 2 channels of Monitors hear each gain step of House and Truck",
      "Monitors Channel 1–2 take their sources from preamps whose gain House and Truck set. Every other console trims digitally by the opposite of each step.",
      "at Monitors Channel 1–2; devices monitors, house, truck",
    ]);
    expect(offered(both, "follower-trim")).toEqual([
      "Let 2 channels of Monitors trim against the gain",
      "  channels monitors-kick follows: true",
      "  channels monitors-snare follows: true",
    ]);
    expect(whole(show("Kick: monitors.ch.1 < Kick"), "follower-trim")).toEqual([
      "warning follower-trim:monitors: 1 channel of Monitors hears each gain step of House",
      "Monitors Channel 1 takes its source from preamps whose gain House sets. Every other console trims digitally by the opposite of each step.",
      "at Monitors Channel 1; devices monitors, house",
    ]);
  });

  test("[F28] a trim past its range is told where it stands; at its end, or on a channel that isn't there, it isn't", () => {
    const trimmed = (trim: number, ...channels: readonly string[]): Show => {
      const built = show(...channels);
      return { ...built, channels: built.channels.map((channel) => ({ ...channel, follows: true, trim })) };
    };
    expect(whole(trimmed(-18.5, "Kick: monitors.ch.1 < Kick"), "follower-trim")).toEqual([
      "warning follower-trim:range:monitors-kick: Monitors Channel 1 can't be trimmed by -18.5 dB",
      "Its digital trim goes from -18 to 18 dB (assumed). Let the owner of the preamp step back, or make up for the rest elsewhere in the channel.",
      "at Monitors Channel 1; devices monitors",
    ]);
    for (const trim of [-18, 18]) {
      expect(whole(trimmed(trim, "Kick: monitors.ch.1 < Kick"), "follower-trim")).toEqual([]);
    }
    expect(whole(trimmed(40, "Kick: monitors.ch.25 < Kick"), "follower-trim")).toEqual([]);
  });
});
