/** E1 and E2 where they are made: what is chased, seen and joined again after an edit, and what stays the same object. */
import { describe, expect, test } from "vitest";
import { analyse, reanalyse } from "#engine/analysis.ts";
import type { Show } from "#engine/model/show.ts";
import { changedJoins, type Joined, type Joins } from "#engine/trace/joins.ts";
import { isShared, ownerIndex } from "#engine/trace/owners.ts";
import { arrivals } from "#engine/trace/arrivals.ts";
import { withDevice, withSource } from "./checks/told.ts";
import { rig } from "./rigs/build.ts";
import * as rigs from "./rigs/index.ts";
import { Bench } from "./tell.ts";

/** The devices of which something else is to be seen than before. */
function seenAnew(before: Show, after: Show): readonly string[] {
  const known = analyse(before);
  const { arrivals: found, wiring } = reanalyse(after, known);
  return wiring.devices.flatMap((wired, n) =>
    wired && found.sights[n] !== known.arrivals.sights[n] ? [wired.device.id] : [],
  );
}

const set = (show: Show, device: string, ...routing: Show["devices"][number]["routing"]): Show =>
  withDevice(show, device, { routing });

describe("what is seen from a device", () => {
  /** House feeds Box over a link, and Monitors stands alone. */
  const show = rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
      box: { name: "Box", type: "box-16-8", mode: "one" },
      monitors: { name: "Monitors", type: "console-24", set: ["out 1 < mix 1"] },
    },
    cables: ["L1: house.link1 - box.a"],
    sources: ["Kick: monitors.in.1"],
  });

  test("[E2] a setting is seen at its device and downstream of it, and nowhere else", () => {
    expect(seenAnew(show, set(show, "house"))).toEqual(["house", "box"]);
    expect(seenAnew(show, set(show, "monitors"))).toEqual(["monitors"]);
  });

  test("[E2] a record that changes no signal is seen at its own device", () => {
    expect(seenAnew(show, withDevice(show, "box", { at: { x: 1, y: 1 } }))).toEqual(["box"]);
  });

  test("[E2] a device's name is seen from everywhere", () => {
    expect(seenAnew(show, withDevice(show, "box", { name: "Other" }))).toEqual(["house", "box", "monitors"]);
  });

  test("[E2] a source is seen where its jack's signal goes, and its name nowhere", () => {
    expect(seenAnew(show, { ...show, sources: [] })).toEqual(["monitors"]);
    expect(seenAnew(show, withSource(show, "kick", { name: "Other" }))).toEqual([]);
  });

  test("[E2] [J2] what hangs behind a join sees what comes to it, though its chase ends at the join", () => {
    const off = (device: string): Show => withDevice(rigs.R74.show, device, { powered: false });
    // Monitors brings one leg of way 1. The rack's own trace ends at the join as before.
    expect(seenAnew(rigs.R74.show, off("monitors"))).toEqual(["monitors", "join", "rack"]);
    expect(seenAnew(rigs.R74.show, withDevice(rigs.R74.show, "house", { at: { x: 9, y: 9 } }))).toEqual([
      "house",
    ]);
  });
});

describe("joins that bring something else", () => {
  const joined = (roots: readonly number[], stops: readonly number[]): Joined => ({
    roots,
    stops,
    passed: [],
    owner: -1,
    owners: [],
  });
  const joins = (...entries: readonly (readonly [number, Joined])[]): Joins => new Map(entries);
  const before = joins([1, joined([10, 11], [])], [2, joined([], [20])], [3, joined([10], [21])]);

  test("[J2] none where all bring the same, however often they were worked out", () => {
    expect(changedJoins(before, joins(...(before ?? [])))).toEqual([]);
    expect(
      changedJoins(before, joins([1, joined([10, 11], [])], [2, joined([], [20])], [3, joined([10], [21])])),
    ).toEqual([]);
    expect(changedJoins(null, null)).toEqual([]);
  });

  test.each([
    ["another signal", joined([10, 12], [])],
    ["another first signal", joined([12, 11], [])],
    ["one signal less", joined([10], [])],
    ["one signal more", joined([10, 11, 12], [])],
    ["a leg that stops", joined([10, 11], [30])],
  ])("[J2] %s", (_, now) => {
    expect(changedJoins(before, joins([1, now], [2, joined([], [20])], [3, joined([10], [21])]))).toEqual([
      1,
    ]);
  });

  test("[J2] a leg that stops elsewhere, one that is new, one that is gone", () => {
    expect(
      changedJoins(before, joins([1, joined([10, 11], [])], [2, joined([], [22])], [3, joined([10], [21])])),
    ).toEqual([2]);
    expect(changedJoins(before, joins(...(before ?? []), [4, joined([], [])]))).toEqual([4]);
    expect(changedJoins(before, joins([1, joined([10, 11], [])], [3, joined([10], [21])]))).toEqual([2]);
    expect(changedJoins(before, null)).toEqual([1, 2, 3]);
    expect(changedJoins(null, before)).toEqual([1, 2, 3]);
  });
});

describe("what legs bring", () => {
  test("[J3] a jack is shared where several devices have a hand in it", () => {
    const bench = new Bench(rigs.R74);
    const found = arrivals(bench.wiring);
    const shared = (name: string): boolean => isShared(found, bench.at(name));
    expect([1, 2, 3].map((n) => shared(`Rack Out ${n}`))).toEqual([true, false, false]);
    expect(shared("House Local out 1")).toBe(false);
    const alone = new Bench(rigs.R01);
    expect(isShared(arrivals(alone.wiring), alone.at("Box Out 1"))).toBe(false);
  });

  test("[J3] what nothing arrives at has no owner, and legs in a loop are no stops", () => {
    const dark = new Bench(rigs.R76);
    expect(ownerIndex(dark.wiring, arrivals(dark.wiring), dark.at("Rack Out 1"))).toBe(-1);
    const round = new Bench({
      show: rig({
        devices: {
          rack: { name: "Rack", type: "processor-8", set: ["out 1 < in 1", "out 2 < in 1"] },
          join: { name: "Join box", type: "join-8" },
        },
        cables: ["R: rack.out.1 - rack.in.1", "A: rack.out.2 - join.a.1"],
      }),
    });
    const { joins: found } = arrivals(round.wiring);
    expect(found!.get(round.at("Join box Join 1"))).toEqual({
      roots: [],
      passed: [round.at("Join box Join 1")],
      // The loop of leg A is told by F4; leg B has nothing in it.
      stops: [round.at("Join box In B 1")],
      owner: -1,
      owners: [],
    });
  });
});
