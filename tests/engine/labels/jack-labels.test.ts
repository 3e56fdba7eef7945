/** Rules A4 and A5: what stands on the label of a jack, worked out by hand. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import type { Show } from "#engine/model/show.ts";
import { jackLabels, type JackLabel } from "#engine/paperwork/labels/jack-labels.ts";
import { R74 } from "../rigs/joins.ts";
import { rig } from "../rigs/build.ts";

function labelsOf(show: Show, device: string, bank: string): readonly JackLabel[] {
  const analysis = analyse(show);
  const wired = analysis.wiring.devices.find((each) => each?.device.id === device);
  const found = wired?.fabric.layout.type.banks.find(({ id }) => id === bank);
  if (!wired || !found) throw new Error(`no ${bank} at ${device}`);
  return jackLabels(analysis, wired, found);
}

const nothing = { name: "", tap: "", owners: [], channels: [], cable: "", isDark: false };

/**
 * Two consoles on one box:
 *
 *     Kick, Snare ─ in 1, 2  Box  link A ──L1── link 1 House      out 1–4 from A, 5–8 from B
 *                                 link B ──L2── link 1 Monitors
 *                                 out 1 ──W1── Wedge,  out 2 ──W2── Radio
 */
const BOX = rig({
  devices: {
    house: {
      name: "House",
      type: "console-24",
      set: ["link1 1 x8 < mix 1", "ch 1 < link1 1", "ch 7 < link1 1", "ch 2 < link1 2", "ch 3 < link1 3"],
    },
    monitors: { name: "Monitors", type: "console-24", set: ["ch 5 < link1 1"] },
    box: { name: "Box", type: "box-16-8", mode: "two" },
    wedge: { name: "Wedge", type: "processor-8" },
    radio: { name: "Radio", type: "ear-transmitter" },
  },
  cables: [
    "L1: house.link1 - box.a, 50 m",
    "L2: monitors.link1 - box.b, 20 m",
    "W1: box.out.1 - wedge.in.1",
    "W2: box.out.2 - radio.in.1",
  ],
  sources: ["Kick: box.in.1", "Snare: box.in.2", "Hat: box.in.3"],
  channels: [
    "Kick: house.ch.1 < Kick",
    "Kick too: house.ch.7 < Kick",
    "Snare: house.ch.2 < Snare",
    "Hat: house.ch.3 < Snare",
    "Kick: monitors.ch.5 < Kick",
  ],
  mixes: ["Band: house.mix.1 < ch 1", "Ears: house.mix.3+4 < ch 2"],
  wants: ["Centre wedge: wedge.in.1 < house.mix.1", "Fill: box.out.5 < monitors.mix.1"],
});

describe("[A5] an output's label", () => {
  const labels = labelsOf(BOX, "box", "out");

  test("[A5] names what is wanted at the jack, else where its cable leads, and the tap and owner that it comes from", () => {
    expect(labels).toHaveLength(8);
    expect(labels[0]).toEqual({
      jack: 1,
      ...nothing,
      name: "Centre wedge",
      tap: "Mix 1",
      owners: ["house"],
      cable: "W1 to Wedge",
    });
  });

  test("[A5] without a want it names the mix, with the side of a stereo one; without a mix the tap", () => {
    expect(labels[1]).toEqual({
      jack: 2,
      ...nothing,
      name: "Mix 2",
      owners: ["house"],
      cable: "W2 to Radio",
    });
    expect(labels[2]).toMatchObject({ name: "Ears L", tap: "Mix 3", owners: ["house"] });
    expect(labels[3]).toMatchObject({ name: "Ears R", tap: "Mix 4", owners: ["house"] });
  });

  test("[A5] a jack at which something is wanted and nothing arrives is told dark; one of which nothing is known is empty", () => {
    expect(labels[4]).toEqual({ jack: 5, ...nothing, name: "Fill", isDark: true });
    expect(labels[5]).toEqual({ jack: 6, ...nothing });
  });

  test("[A5] behind a join all that comes is named, with all owners", () => {
    const [first, second, third] = labelsOf(R74.show, "join", "out");
    expect(first).toMatchObject({ name: "Band / Talk", tap: "Mix 1 / Mix 3", owners: ["house", "monitors"] });
    expect(second).toMatchObject({ name: "Mix 2", tap: "", owners: ["house"], cable: "O/2 to Rack" });
    // A player that is plugged into the join's own jack: a source, and nobody's.
    expect(third).toMatchObject({ name: "Player", owners: [], cable: "O/3 to Rack" });
  });

  test("[A5] a jack of a pair tells both its signals", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
        aes: { name: "Converter", type: "aes3-converter", mode: "low" },
      },
      cables: ["L1: house.link1 - aes.link, 5 m"],
      mixes: ["Stream: house.mix.1+2 < ch 1"],
    });
    // Mode “low” wires output terminals 1–8 from slots 1–8, two to a jack.
    expect(labelsOf(show, "aes", "out").map(({ name, tap }) => [name, tap])).toEqual([
      ["Stream L / Stream R", "Mix 1 / Mix 2"],
      ["Mix 3 / Mix 4", ""],
      ["Mix 5 / Mix 6", ""],
      ["Mix 7 / Mix 8", ""],
    ]);
  });
});

describe("[A4] an input's label", () => {
  test("[A4] names the source, and the channels of each console that are planned to carry it", () => {
    const labels = labelsOf(BOX, "box", "in");
    expect(labels[0]).toEqual({
      jack: 1,
      ...nothing,
      name: "Kick",
      channels: [
        { console: "house", numbers: "1, 7" },
        { console: "monitors", numbers: "5" },
      ],
    });
    // Channel 3 gets the hat, but is planned for the snare: it stands where its plan says.
    expect(labels[1]).toMatchObject({ name: "Snare", channels: [{ console: "house", numbers: "2–3" }] });
    expect(labels[2]).toEqual({ jack: 3, ...nothing, name: "Hat" });
    expect(labels[3]).toEqual({ jack: 4, ...nothing });
  });

  test("[A4] further on each jack tells only the channels that get the source through it, and the cable's way", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["ch 9 < in 1"] },
        truck: { name: "Truck", type: "console-24", set: ["ch 4 < in 3"] },
        split: { name: "Split", type: "split-16" },
      },
      cables: ["M1: split.direct.1 - house.in.1 x8", "M2: split.isolated.1 - truck.in.3 x2"],
      sources: ["Kick: split.in.1"],
      channels: ["Kick: house.ch.9 < Kick", "Kick: truck.ch.4 < Kick"],
    });
    const house = { console: "house", numbers: "9" };
    const truck = { console: "truck", numbers: "4" };
    const kick = { ...nothing, name: "Kick" };
    expect(labelsOf(show, "split", "in")[0]).toEqual({ jack: 1, ...kick, channels: [house, truck] });
    expect(labelsOf(show, "split", "direct")[0]).toEqual({
      jack: 1,
      ...kick,
      channels: [house],
      cable: "M1/1 to House",
    });
    expect(labelsOf(show, "truck", "in")[2]).toEqual({
      jack: 3,
      ...kick,
      channels: [truck],
      cable: "M2/1 from Split",
    });
    expect(labelsOf(show, "house", "in")[1]).toMatchObject({ name: "", cable: "M1/2 from Split" });
  });
});
