/** B5, B6: what hangs on a device goes with it, and what names it names it no more. */
import { describe, expect, test } from "vitest";
import { withoutCables, withoutDevices, withoutPlace } from "#engine/build/remove.ts";
import type { LineCheck, Show } from "#engine/model/show.ts";
import { demo } from "../demo.ts";
import { after, cable, device, end, found, place, rig } from "./support.ts";

const check = (at: string): LineCheck => {
  const { device: on, group, first } = end(at);
  return {
    at: { device: on, group, number: first },
    result: "passed",
    date: "2026-01-01",
    note: "",
    trace: "",
  };
};

/**
 *   foh ── L1 ── box.a      mon ── L2 ── box.b      box Out 1 ── X1 ── wedge
 *   the box holds a source that foh sets the gain of and both have a channel for
 */
const show: Show = {
  ...rig({
    devices: {
      foh: { name: "FOH", type: "console-24" },
      mon: { name: "Monitors", type: "console-24" },
      box: { name: "Box", type: "box-16-8", mode: "two" },
      wedge: { name: "Wedge", type: "wedge" },
    },
    cables: [
      "L1: foh.link1 - box.a, 50 m",
      "L2: mon.link1 - box.b, 50 m",
      "X1: box.out.1 - wedge.in.1, microphone",
    ],
    sources: ["Kick: box.in.1", "Talk: foh.in.1"],
    channels: ["Kick: foh.ch.1 < Kick", "Kick: mon.ch.1 < Kick", "Talk: foh.ch.2 < Talk"],
    mixes: ["Wedge: mon.mix.1 < ch 1", "Main: foh.main.1 < ch 1"],
    wants: ["Wedge: wedge.in.1 < mon.mix.1", "Main: foh.out.1 < foh.main.1"],
    groups: ["Both: wedge.in.1, foh.out.1", "Only: wedge.in.1"],
  }),
};
const full: Show = {
  ...show,
  sources: show.sources.map((source) =>
    source.name === "Kick" ? { ...source, preampOwner: device("foh") } : source,
  ),
  lineChecks: [check("wedge.in.1"), check("foh.out.1")],
};
const ids = (records: readonly { readonly id: string }[]): readonly string[] => records.map(({ id }) => id);

describe("devices taken out", () => {
  test("[B5] a console: its cables, channels and mixes go; a preamp has no owner, a want comes from anywhere", () => {
    const left = after(full, withoutDevices(full, [device("foh"), device("mon")]));
    expect(ids(left.devices)).toEqual(["box", "wedge"]);
    expect(left.cables.map(({ tag }) => tag)).toEqual(["X1"]);
    expect(left.sources).toEqual([show.sources[0]]);
    expect(left.channels).toEqual([]);
    expect(left.mixes).toEqual([]);
    const { from: _from, ...wedge } = full.wants[0]!;
    expect(left.wants).toEqual([wedge]);
    expect(left.groups!.map(({ name, members }) => [name, members.length])).toEqual([
      ["Both", 1],
      ["Only", 1],
    ]);
    expect(left.lineChecks).toEqual([check("wedge.in.1")]);
    expect(found(left, "dangling")).toEqual([]);
  });

  test("[B5] a box: the sources in it go, and their channels keep number and name without a source", () => {
    const left = after(full, withoutDevices(full, [device("box")]));
    expect(ids(left.sources)).toEqual(["talk"]);
    expect(left.channels.map(({ name, source }) => [name, source])).toEqual([
      ["Kick", undefined],
      ["Kick", undefined],
      ["Talk", "talk"],
    ]);
    expect(left.cables).toEqual([]);
    expect(left.mixes).toEqual(full.mixes);
    expect(found(left, "dangling")).toEqual([]);
  });

  test("[B5] what has the device as its only member or target goes with it", () => {
    const left = after(full, withoutDevices(full, [device("wedge")]));
    expect(ids(left.wants)).toEqual(["main"]);
    expect(left.groups!.map(({ name }) => name)).toEqual(["Both"]);
    expect(left.lineChecks).toEqual([check("foh.out.1")]);
    expect(left.cables.map(({ tag }) => tag)).toEqual(["L1", "L2"]);
  });

  test("[B5] streams lose their receivers one by one, and go with the sender or the last of them", () => {
    const net = rig({
      devices: {
        a: { name: "A", type: "aes67-endpoint" },
        b: { name: "B", type: "aes67-endpoint" },
        c: { name: "C", type: "aes67-endpoint" },
      },
      streams: ["One: a.net.1 x8 > b.net.1, c.net.1", "Two: c.net.1 x8 > b.net.9"],
    });
    const withoutB = after(net, withoutDevices(net, [device("b")]));
    expect(withoutB.streams!.map(({ name, to }) => [name, to.map((at) => at.device)])).toEqual([
      ["One", ["c"]],
    ]);
    const withoutA = after(net, withoutDevices(net, [device("a")]));
    expect(withoutA.streams!.map(({ name }) => name)).toEqual(["Two"]);
    const alone = after(net, withoutDevices(net, [device("b"), device("c")]));
    expect(alone.streams).toBeUndefined();
  });

  test("[B5] any one device of the demo: nothing is left that points at nothing", () => {
    const rigged = demo();
    for (const { id, name } of rigged.devices) {
      const left = after(rigged, withoutDevices(rigged, [id]));
      expect(found(left, "dangling"), name).toEqual([]);
      expect(JSON.stringify({ ...left, revisions: [] }), name).not.toMatch(
        new RegExp(`"(id|device|console|preampOwner)":"${id}"`),
      );
    }
  });

  test("[B5] of ids that the show doesn't have, nothing", () => {
    expect(withoutDevices(full, [device("nobody")])).toEqual([]);
    expect(withoutCables(full, [cable("nothing")])).toEqual([]);
    expect(after(full, withoutCables(full, [full.cables[1]!.id])).cables.map(({ tag }) => tag)).toEqual([
      "L1",
      "X1",
    ]);
  });
});

describe("a place taken out", () => {
  const pit = { id: place("pit"), name: "Pit", at: { x: 0, y: 3000 }, size: { width: 900, height: 900 } };
  const two: Show = {
    ...full,
    places: [...full.places, pit],
    devices: full.devices.map((one) => (one.id === device("wedge") ? { ...one, place: pit.id } : one)),
  };

  test("[B6] with its devices: as if they were taken out", () => {
    const left = after(two, withoutPlace(two, pit.id, { kind: "with" }));
    expect(ids(left.places)).toEqual(["stage"]);
    expect(ids(left.devices)).toEqual(["foh", "mon", "box"]);
    expect(found(left, "dangling")).toEqual([]);
  });

  test("[B6] with its devices moved: they keep all they have", () => {
    const left = after(two, withoutPlace(two, pit.id, { kind: "to", place: place("stage") }));
    expect(ids(left.places)).toEqual(["stage"]);
    expect(left.devices.map((one) => one.place)).toEqual(["stage", "stage", "stage", "stage"]);
    expect(left.cables).toEqual(two.cables);
    expect(left.wants).toEqual(two.wants);
    expect(withoutPlace(two, pit.id, { kind: "to", place: pit.id })).toEqual([]);
    expect(withoutPlace(two, pit.id, { kind: "to", place: place("gone") })).toEqual([]);
    expect(withoutPlace(two, place("gone"), { kind: "with" })).toEqual([]);
  });
});
