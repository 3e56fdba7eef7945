/**
 * Records that stand at something which can't be what they take it for, and things that are planned twice: nothing of a
 * show is passed over without a word.
 */
import { describe, expect, test } from "vitest";
import type { CableEnd, LineCheck, Show } from "#engine/model/show.ts";
import type { DeviceId, GroupId } from "#engine/model/ids.ts";
import { rig, type RigText } from "../rigs/build.ts";
import { offered, whole } from "./whole.ts";

const house = { name: "House", type: "console-24" };
const box = { name: "Box", type: "box-16-8", mode: "one" };
const L1 = "L1: house.link1 - box.a, 5 m";
const show = (parts: Partial<RigText> = {}): Show => rig({ devices: { house, box }, cables: [L1], ...parts });

/** Titles with what they say, each on one line. */
const told = (of: Show, ...checks: readonly string[]): readonly string[] => {
  const lines = whole(of, ...checks);
  return lines.flatMap((line, n) => (n % 3 === 0 ? [`${line} | ${lines[n + 1]!}`] : []));
};
const KEPT = "The record is kept as it is.";

describe("[F14] records at places of another sort", () => {
  test("a source in an output jack, a channel or a link's slot", () => {
    const odd = show({ sources: ["A: house.out.1", "B: house.ch.2", "C: house.link1.3", "D: house.in.4"] });
    expect(told(odd, "dangling")).toEqual([
      `error dangling:a: Source “A” points at nothing | House Local out 1 is no input jack. ${KEPT}`,
      `error dangling:b: Source “B” points at nothing | House Channel 2 is no input jack. ${KEPT}`,
      `error dangling:c: Source “C” points at nothing | House Link 1 in 3 is no input jack. ${KEPT}`,
    ]);
    expect(offered(odd, "dangling", "dangling:a")).toEqual(["Take the source “A” out", "  sources a out"]);
  });

  test("a source at an input jack of a device that is off is at its place", () => {
    const off = show({ devices: { house: { ...house, off: true }, box }, sources: ["A: house.in.1"] });
    expect(told(off, "dangling")).toEqual([]);
  });

  test("a mix or a channel outside the mixer", () => {
    const odd = show({
      mixes: ["A: house.out.1 < ch 1", "B: house.link1.2 < ch 1", "C: box.out.3 < ch 1"],
      channels: ["D: house.in.1", "E: box.a.2", "F: house.ch.3"],
    });
    expect(told(odd, "dangling")).toEqual([
      `error dangling:house-d: Channel 1 “D” points at nothing | House Local in 1 is no part of a mixer. ${KEPT}`,
      `error dangling:box-e: Channel 2 “E” points at nothing | Box Link A in 2 is no part of a mixer. ${KEPT}`,
      `error dangling:a: Mix “A” points at nothing | House Local out 1 is no part of a mixer. ${KEPT}`,
      `error dangling:b: Mix “B” points at nothing | House Link 1 in 2 is no part of a mixer. ${KEPT}`,
      `error dangling:c: Mix “C” points at nothing | Box Out 3 is no part of a mixer. ${KEPT}`,
    ]);
  });

  test("a want, or a member of an arrival group, at a tap: what comes from there needn't arrive", () => {
    const odd = show({
      wants: ["A: house.mix.1", "B: house.direct.2", "C: house.ch.3"],
      groups: ["G: house.out.1, house.main.1"],
    });
    expect(told(odd, "dangling")).toEqual([
      `error dangling:a:to: Want “A” points at nothing | House Mix 1 is no jack. ${KEPT}`,
      `error dangling:b:to: Want “B” points at nothing | House Direct out 2 is no jack. ${KEPT}`,
      `error dangling:group:g: A member of group “G” points at nothing | House Main 1 is no jack. ${KEPT}`,
    ]);
  });

  test("a cable in a jack that the bank doesn't have, or in a port's second socket", () => {
    const odd = show({
      cables: [L1, "X1: house.out.9 - box.in.1 x2, 5 m, multicore", "X2: house.out.8 - box.in.17"],
    });
    expect(told(odd, "dangling")).toEqual([
      `error dangling:X1:0: Cable X1 points at nothing | House has 8 of “out”; number 9 doesn't exist. ${KEPT}`,
      `error dangling:X2:1: Cable X2 points at nothing | Box has 16 of “in”; number 17 doesn't exist. ${KEPT}`,
    ]);
    const end: CableEnd = { device: "house" as DeviceId, group: "link1" as GroupId, first: 2 };
    const port = show();
    const second = {
      ...port,
      cables: port.cables.map((cable) => ({ ...cable, ends: [end, cable.ends[1]] as const })),
    };
    expect(told(second, "dangling")).toEqual([
      `error dangling:L1:0: Cable L1 points at nothing | House has 1 of “link1”; number 2 doesn't exist. ${KEPT}`,
    ]);
    // The last ways of a multicore may hang free.
    expect(
      told(show({ cables: [L1, "X1: house.out.7 - box.in.15 x8, 5 m, multicore"] }), "dangling"),
    ).toEqual([]);
  });

  test("line-check results of jacks that are gone: a warning, for no signal is wrong", () => {
    const at = (device: string, number: number): LineCheck => ({
      at: { device: device as DeviceId, group: "out" as GroupId, number },
      result: "passed",
      date: "",
      note: "",
      trace: "",
    });
    const odd = { ...show(), lineChecks: [at("house", 9), at("house", 8), at("gone", 1)] };
    expect(told(odd, "dangling")).toEqual([
      `warning dangling:line-checks: A line-check result points at nothing | House has 8 of “out”; number 9 doesn't exist. ${KEPT}`,
    ]);
    expect(offered(odd, "dangling")).toEqual([
      "Take 2 line-check results out",
      `  ${JSON.stringify({ kind: "line-checks", lineChecks: [at("house", 8)] })}`,
    ]);
  });
});

describe("settings and streams of what isn't there, or twice", () => {
  test("[F13] past the last jack, at jacks that aren't set, at a group that the device doesn't have", () => {
    const odd = show({
      devices: { house: { ...house, set: ["out 7 x4 < mix 1", "in 1 < mix 1", "xx 1 < mix 1"] } },
      cables: [],
    });
    expect(told(odd, "setting-idle")).toEqual([
      "warning setting-idle:house:lost: House has settings of what isn't there | Local out has 8, and number 10 is set; Nothing can be set at “in”; Nothing can be set at “xx”. The settings are kept as they are.",
    ]);
    expect(offered(odd, "setting-idle")).toEqual([
      "Take the settings without effect off House",
      "  devices house routing: out 7 x2 < mix 1",
    ]);
  });

  const network = (streams: readonly string[], rate: 48000 | 96000 = 48000): Show =>
    rig({
      rate,
      devices: { one: { name: "One", type: "aes67-endpoint" }, two: { name: "Two", type: "aes67-endpoint" } },
      cables: ["N1: one.net - two.net, 5 m, cat5e"],
      streams,
    });

  test("[F12] two streams on one slot: the first in the show's order counts (W18)", () => {
    const odd = network(["A: one.net.1 x4 > two.net.1", "B: one.net.5 x4 > two.net.3"]);
    expect(told(odd, "set-twice")).toEqual([
      "warning set-twice:stream:b:0: Two Network in 3–4 are taken by a second stream | “A” stands before “B” in the show and counts there; what the other brings is lost.",
    ]);
    expect(offered(odd, "set-twice")).toEqual(["Take Two out of “B”", "  streams b out"]);
    expect(
      told(network(["A: one.net.1 x4 > two.net.1", "B: one.net.5 x4 > two.net.5"]), "set-twice"),
    ).toEqual([]);
  });

  test("[F7] a stream past the last slot of its sender or a receiver at 96 kHz: half of the slots", () => {
    const odd = network(["A: one.net.29 x8 > two.net.1", "B: one.net.1 x4 > two.net.30"], 96000);
    expect(told(odd, "over-capacity")).toEqual([
      "error over-capacity:stream:a: Stream “A” goes past the last slot | One Network gets through with 32 slots at 96 kHz; slots 33–36 do not exist.",
      "error over-capacity:stream:b: Stream “B” goes past the last slot | Two Network takes 32 slots at 96 kHz; slot 33 does not exist.",
    ]);
    expect(offered(odd, "over-capacity", "over-capacity:stream:a")).toEqual([
      "Send 4 channels in “A”",
      "  streams a channels: 4",
    ]);
    const last = network(["A: one.net.29 x4 > two.net.1", "B: one.net.1 x4 > two.net.29"], 96000);
    expect(told(last, "over-capacity")).toEqual([]);
  });

  test("[F21] one channel planned twice", () => {
    const odd = show({ channels: ["Kick: house.ch.1", "Snare: house.ch.1", "Tom: house.ch.2"] });
    expect(told(odd, "labels")).toEqual([
      "warning labels:channel:house-kick: House Channel 1 is planned twice | As “Kick” and “Snare”. On a list it can be one thing only.",
    ]);
    expect(offered(odd, "labels")).toEqual([
      "Drop “Kick” from the plan",
      "  channels house-kick out",
      "Drop “Snare” from the plan",
      "  channels house-snare out",
    ]);
  });
});

describe("[F1] spare ways of a multicore", () => {
  const tail = (set: string, ways: string): Show =>
    rig({
      devices: { house: { ...house, set: [set] }, box },
      cables: [`X1: house.out.1 - box.in.1${ways}, 5 m, multicore`],
    });
  test("ways with no setting are no fault where another way carries something", () => {
    expect(told(tail("out 1 x2 < mix 1", " x4"), "dark-feed")).toEqual([]);
  });
  test("a multicore that carries nothing at all is told, and so is a single cable", () => {
    expect(told(tail("link1 1 x8 < mix 1", " x2"), "dark-feed")).toEqual([
      "warning dark-feed:warning:nothing-assigned:house:out:jack:1: 2 feeds are dark: nothing assigned at House Local out 1–2 | Nothing is assigned to House Local out 1–2. Dark: House Local out 1, House Local out 2.",
    ]);
    expect(told(tail("out 2 < mix 1", ""), "dark-feed")).toHaveLength(1);
  });
  test("a way on which a setting brings nothing is told: it was meant to carry something", () => {
    // Mix 1 on the first way; the second is to carry slot 1 of a link that nothing is plugged in.
    const show = tail("out 1 < mix 1", " x2");
    const meant = {
      ...show,
      devices: show.devices.map((each, n) =>
        n > 0
          ? each
          : {
              ...each,
              routing: [
                ...each.routing,
                {
                  to: { group: "out" as GroupId, first: 2 },
                  from: { group: "link1" as GroupId, first: 1 },
                  count: 1,
                },
              ],
            },
      ),
    };
    expect(told(meant, "dark-feed")).toHaveLength(1);
  });
});
