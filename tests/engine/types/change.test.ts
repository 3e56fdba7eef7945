/** What a new version of a type does to a rig. Every list is worked out by hand from the rig's text. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import {
  bank,
  carry,
  group,
  mode,
  networkPort,
  patch,
  range,
  slotLink,
  wired,
} from "#engine/catalog/parts.ts";
import { catalogueType } from "#engine/catalog/types.ts";
import type { DeviceType } from "#engine/model/device-type.ts";
import { applyEdits } from "#engine/model/edit.ts";
import { breaksNothing, changeType, type TypeChange } from "#engine/types/change.ts";
import { rig } from "../rigs/build.ts";
import { type } from "../rigs/types.ts";

const SMALL = catalogueType("box-16-8");

/** One console, one box, a wedge on the box's seventh output. */
const STAGE = rig({
  devices: {
    foh: {
      name: "House",
      type: "console-24",
      set: ["link1 1 x8 < mix 1", "ch 1 < link1 1", "ch 16 < link1 16"],
    },
    stage: { name: "Stage", type: "box-16-8", mode: "one", clock: "a" },
    wedge: { name: "Wedge", type: "wedge" },
  },
  cables: ["L1: foh.link1 - stage.a, 50 m", "X1: stage.out.7 - wedge.in.1, 5 m"],
  sources: ["Kick: stage.in.1", "Hat: stage.in.16"],
  channels: ["Kick: foh.ch.1 < Kick", "Hat: foh.ch.16 < Hat"],
  wants: ["Fill: stage.out.8 < foh.mix.8"],
  groups: ["Pair: stage.out.1, stage.out.8"],
});

const lost = ({ lost: list }: TypeChange): readonly string[] =>
  list.map(({ what, device, name, why }) => `${what} at ${device}: ${name}: ${why}`);
const ends = ({ ends: list }: TypeChange): readonly string[] =>
  list.flatMap(({ name, ends: each }) =>
    each.map(
      (end) =>
        `${name} ${end.name}: ${end.was?.from ?? end.was?.verdict ?? "new"} > ${end.becomes?.from ?? end.becomes?.verdict ?? "gone"}`,
    ),
  );
const counts = ({ ends: list }: TypeChange): readonly string[] =>
  list.map(
    ({ name, dark, lit, moved, other }) => `${name} ${dark} dark, ${lit} lit, ${moved} moved, ${other} other`,
  );

/** The small box with other jacks, and rules that go with them. */
const boxOf = (inputs: number, outputs: number, more: Partial<DeviceType> = {}): DeviceType => ({
  ...SMALL,
  banks: [bank("in", "In", "in", inputs, "XLR", "mic"), bank("out", "Out", "out", outputs, "XLR", "line")],
  rules: [wired("a", 1, "in", 1, inputs), wired("b", 1, "in", 1, inputs)],
  modes: [mode("one", "One console", [wired("out", 1, "a", 1, outputs)])],
  ...more,
});

describe("a new version of a type", () => {
  test("[K14] one that is the same breaks nothing, and is one edit", () => {
    const change = changeType(STAGE, { ...SMALL });
    expect(breaksNothing(change)).toBe(true);
    expect(change.devices).toEqual(["stage"]);
    expect(change.edits).toEqual([{ kind: "put", list: "types", record: SMALL }]);
  });

  test("[K14] a type that no device is of breaks nothing", () => {
    const change = changeType(STAGE, boxOf(1, 1, { id: type("other", {}).id }));
    expect(change).toMatchObject({ devices: [], lost: [], ends: [], findings: [] });
    expect(applyEdits(STAGE, change.edits).types).toHaveLength(STAGE.types.length + 1);
  });

  test("[K14] twelve inputs and six outputs in place of sixteen and eight", () => {
    const change = changeType(STAGE, boxOf(12, 6));
    expect(lost(change)).toEqual([
      "cable at stage: Cable X1: 1 of its ways joins nothing any more",
      "source at stage: Source “Hat”: In 16 is gone",
      "want at stage: Want “Fill”: Out 8 is gone",
      "group at stage: A member of group “Pair”: Out 8 is gone",
    ]);
    expect(ends(change)).toEqual([
      // Slot 16 of the link is wired from nothing now.
      "House Channel 16: Hat (Stage In 16) > not-wired",
      "Stage Out 7: House Mix 7 > gone",
      "Stage Out 8: House Mix 8 > gone",
      "Wedge Thru 1: House Mix 7 > not-plugged",
    ]);
    expect(counts(change)).toEqual([
      "House 1 dark, 0 lit, 0 moved, 0 other",
      "Stage 2 dark, 0 lit, 0 moved, 0 other",
      "Wedge 1 dark, 0 lit, 0 moved, 0 other",
    ]);
    // A source, a want, a cable that starts at Out 7 and a group's member point at nothing; the planned channel is dark.
    const checks = change.findings.map(({ check }) => check);
    expect(checks.filter((check) => check === "dangling")).toHaveLength(4);
    expect(checks).toContain("dark-feed");
  });

  test("[K14] no record is taken away, and the change is undone by the old version", () => {
    const after = applyEdits(STAGE, changeType(STAGE, boxOf(12, 6)).edits);
    expect({ ...after, types: [] }).toEqual({ ...STAGE, types: [] });
    expect(applyEdits(after, changeType(after, SMALL).edits)).toEqual(STAGE);
  });

  test("[K14] going back is told as what comes to life", () => {
    const after = applyEdits(STAGE, changeType(STAGE, boxOf(12, 6)).edits);
    const back = changeType(after, SMALL);
    expect(lost(back)).toEqual([]);
    expect(counts(back)).toEqual([
      "House 0 dark, 1 lit, 0 moved, 0 other",
      "Stage 0 dark, 2 lit, 0 moved, 0 other",
      "Wedge 0 dark, 1 lit, 0 moved, 0 other",
    ]);
    expect(ends(back)).toContain("Stage Out 8: new > House Mix 8");
  });

  test("[K14] outputs wired two slots further on take other mixes", () => {
    const shifted = boxOf(16, 8, { modes: [mode("one", "One console", [wired("out", 1, "a", 3, 8)])] });
    const change = changeType(STAGE, shifted);
    // Out 1 takes slot 3 and so mix 3; out 7 and 8 take slots 9 and 10, which the console assigns nothing to.
    expect(ends(change).slice(0, 2)).toEqual([
      "Stage Out 1: House Mix 1 > House Mix 3",
      "Stage Out 2: House Mix 2 > House Mix 4",
    ]);
    expect(counts(change)).toEqual([
      "Stage 2 dark, 0 lit, 6 moved, 0 other",
      "Wedge 1 dark, 0 lit, 0 moved, 0 other",
    ]);
    expect(lost(change)).toEqual([]);
  });

  test("[K14] a mode that goes, and the port that the clock follows", () => {
    const other = boxOf(16, 8, {
      ports: [slotLink("b", "Link B")],
      rules: [wired("b", 1, "in", 1, 16)],
      modes: [mode("new", "New", [wired("out", 1, "b", 1, 8)])],
      clock: group("b"),
    });
    expect(lost(changeType(STAGE, other)).slice(0, 3)).toEqual([
      "mode at stage: Stage in mode “One console”: the mode is gone",
      "clock at stage: The word clock of Stage: the port that it follows is gone",
      "cable at stage: Cable L1: what it was plugged in is gone",
    ]);
  });

  test("[K14] a jack that was dark and is dark for another reason", () => {
    const bare = rig({ devices: { stage: { name: "Stage", type: "box-16-8", mode: "one" } } });
    // Outputs 1–8 wait for link A; in the new version no rule reaches outputs 5–8.
    const half = boxOf(16, 8, { modes: [mode("one", "One console", [wired("out", 1, "a", 1, 4)])] });
    expect(ends(changeType(bare, half))).toEqual(
      [5, 6, 7, 8].map((n) => `Stage Out ${n}: not-plugged > not-wired`),
    );
    expect(counts(changeType(bare, half))).toEqual(["Stage 0 dark, 0 lit, 0 moved, 4 other"]);
  });
});

describe("a new version of a console", () => {
  const DESK = type("desk", {
    banks: [bank("in", "In", "in", 8, "XLR", "line"), bank("out", "Out", "out", 8, "XLR", "line")],
    ports: [slotLink("x", "Link X"), networkPort("net", "Network")],
    mixer: {
      sections: [
        { id: group("ch"), name: "Channel", role: "channel", count: 8, from: [], block: 8 },
        { id: group("mix"), name: "Mix", role: "mix", count: 8, from: [group("ch")], block: 8 },
        { id: group("back"), name: "Return", role: "return", count: 8, from: [group("ch")], block: 8 },
      ],
      processing: { value: 0, unit: "ms", provenance: "assumed" },
    },
    rules: [
      patch(range("ch", 1, 8), [range("in", 1, 8)], 1),
      patch(range("back", 1, 8), [range("in", 1, 8)], 1),
      patch(range("out", 1, 8), [range("mix", 1, 8), range("in", 1, 8)], 1),
      patch(range("x", 1, 48), [range("mix", 1, 8)], 8),
    ],
  });
  const SHOW = rig({
    types: [DESK],
    devices: {
      desk: {
        name: "Desk",
        type: "desk",
        set: ["out 1 x4 < mix 1", "out 5 x2 < in 1", "x 1 x8 < mix 1"],
        inserts: ["back 5 x2"],
      },
      other: { name: "Other", type: "desk", set: ["out 1 < mix 1"] },
    },
    mixes: ["Wedge: desk.mix.1 < ch 1, ch 7, ch 8", "Ears: desk.mix.7+8 < ch 1"],
    channels: ["Kick: desk.ch.8"],
    streams: ["Feed: desk.net.1 x8 > other.net.1"],
  });
  const [CH, MIX, BACK] = DESK.mixer!.sections;
  const sections = (counts: readonly [number, number, number]): DeviceType => ({
    ...DESK,
    mixer: {
      ...DESK.mixer!,
      sections: [CH!, MIX!, BACK!].map((each, n) => ({ ...each, count: counts[n]! })),
    },
  });

  test("[K14] fewer channels and buses: mixes, members, channels, settings", () => {
    expect(lost(changeType(SHOW, sections([6, 7, 8])))).toEqual([
      "channel at desk: Channel 8 “Kick”: Channel 8 is gone",
      "mix at desk: 2 members of mix “Wedge”: Channel 7–8 are gone",
      "mix at desk: Mix “Ears”: Mix 8 is gone",
    ]);
  });

  test("[K14] fewer returns: the inserts that are in", () => {
    expect(lost(changeType(SHOW, sections([8, 8, 5])))).toEqual([
      "insert at desk: The inserts at Return: there are only 5 now",
    ]);
    expect(lost(changeType(SHOW, sections([8, 8, 6])))).toEqual([]);
  });

  test("[K14] settings that a rule wires, that rules can't hold, and whose destination is gone", () => {
    const rules = [
      ...DESK.rules.slice(0, 2),
      wired("out", 1, "in", 1, 1),
      patch(range("out", 1, 6), [range("mix", 1, 8)], 1),
    ];
    const change = changeType(SHOW, {
      ...DESK,
      rules,
      banks: [DESK.banks[0]!, { ...DESK.banks[1]!, count: 5 }],
    });
    expect(lost(change)).toEqual([
      "setting at desk: The settings of Out 1: a rule wires them now",
      // Inputs are no longer listed, for out 5; out 6 went with its jack.
      "setting at desk: The settings of Out 5: the rules can't hold it any more",
      "setting at desk: The settings of Out 6: they are gone",
      "setting at desk: The settings of Link X out 1–8: the rules can't hold it any more",
      "setting at other: The settings of Out 1: a rule wires them now",
    ]);
  });

  test("[K14] a port that is no network port any more", () => {
    const { network: _network, ...plain } = networkPort("net", "Network");
    const change = changeType(SHOW, { ...DESK, ports: [DESK.ports[0]!, plain] });
    expect(lost(change)).toEqual([
      "stream at desk: Stream “Feed”: Network is no network port any more",
      "stream at other: Stream “Feed”: Network is no network port any more",
    ]);
  });

  test("[K14] the findings that are new are those of the show with the new version", () => {
    const next: DeviceType = { ...DESK, rules: [...DESK.rules.slice(0, 2), carry("x", "net")] };
    const before = new Set(analyse(SHOW).findings.map(({ id }) => id));
    const after = analyse(applyEdits(SHOW, [{ kind: "put", list: "types", record: next }])).findings;
    const fresh = after.filter(({ id, severity }) => severity !== "note" && !before.has(id));
    expect(changeType(SHOW, next).findings.map(({ id }) => id)).toEqual(fresh.map(({ id }) => id));
    expect(fresh.length).toBeGreaterThan(0);
  });
});
