/** F17: positions along a chain. */
import { describe, expect, test } from "vitest";
import type { Show } from "#engine/model/show.ts";
import { rig, type DeviceText } from "../rigs/build.ts";
import { reasons, told } from "./told.ts";

/**
 *     House link1 ──L1── a Box 1 b ──L2── a Box 2 b ──L3── a Box 3 …
 */
function boxes(...positions: readonly (number | Partial<DeviceText>)[]): Show {
  const devices: Record<string, DeviceText> = { house: { name: "House", type: "console-24" } };
  const cables: string[] = [];
  positions.forEach((told, n) => {
    const more = typeof told === "number" ? { position: told } : told;
    devices[`box${n + 1}`] = { name: `Box ${n + 1}`, type: "box-16-8", mode: "chain", ...more };
    cables.push(`L${n + 1}: ${n === 0 ? "house.link1" : `box${n}.b`} - box${n + 1}.a, 5 m`);
  });
  return rig({ devices, cables });
}

/**
 *     House stage ──S1── stage Tower thru ──S2── stage Bar
 */
const breakouts = (tower: Partial<DeviceText>, bar: Partial<DeviceText>): Show =>
  rig({
    devices: {
      house: { name: "House", type: "console-48" },
      tower: { name: "Tower", type: "breakout-16", mode: "stage-first", ...tower },
      bar: { name: "Bar", type: "breakout-16", mode: "stage-later", position: 2, ...bar },
    },
    cables: [
      "S1: house.stage - tower.stage, 50 m, digital-110",
      "S2: tower.stage-thru - bar.stage, 50 m, digital-110",
    ],
  });

describe("chains", () => {
  test("[F17] positions that go up by one from the console on are right, up to the type's last", () => {
    expect(told(boxes(1), "chain")).toEqual([]);
    expect(told(boxes(1, 2, 3), "chain")).toEqual([]);
    expect(told(breakouts({}, {}), "chain")).toEqual([]);
  });

  test("[F17] one position twice names both, also with another device between them", () => {
    expect(told(boxes(1, 1), "chain")).toEqual([
      "error chain:box2: Box 1 and Box 2 both stand at position 1 of one chain",
    ]);
    expect(told(boxes(1, 2, 1), "chain")).toEqual([
      "error chain:box3: Box 1 and Box 3 both stand at position 1 of one chain",
    ]);
  });

  test("[F17] a gap, and positions that go down", () => {
    expect(told(boxes(1, 3), "chain")).toEqual([
      "warning chain:box2: Box 2 stands at position 3, and 2 is next in the chain",
    ]);
    expect(told(boxes(2, 1), "chain")).toEqual([
      "warning chain:box1: Box 1 is the first of its chain and stands at position 2",
      "warning chain:box2: Box 2 stands at position 1, and 3 is next in the chain",
    ]);
  });

  test("[F17] past the type's last", () => {
    expect(told(boxes(1, 2, 3, 4), "chain")).toEqual([
      "error chain:box4: Box 4 stands at position 4 of a chain of at most 3",
    ]);
    expect(reasons(boxes(1, 2, 3, 4), "chain")).toEqual([
      "Stage box 16 in, 8 out: 3 to a chain, in mode “Chain”.",
    ]);
  });

  test("[F17] a mode that doesn't list the position", () => {
    expect(told(breakouts({}, { mode: "stage-first" }), "chain")).toEqual([
      "error chain:bar: Bar stands at position 2 in a mode for position 1",
    ]);
    expect(told(breakouts({ mode: "stage-later" }, {}), "chain")).toEqual([
      "error chain:tower: Tower stands at position 1 in a mode for positions 2, 3 and 4",
    ]);
  });

  test("[F17] the first of a chain stands at 1; what isn't plugged stands anywhere", () => {
    expect(told(boxes(2), "chain")).toEqual([
      "warning chain:box1: Box 1 is the first of its chain and stands at position 2",
    ]);
    const loose = rig({ devices: { box: { name: "Box", type: "box-16-8", mode: "chain", position: 2 } } });
    expect(told(loose, "chain")).toEqual([]);
  });

  test("[F17] a device in a mode without positions is no part of a chain", () => {
    expect(told(boxes({ mode: "one", position: 3 }), "chain")).toEqual([]);
    expect(reasons(boxes({ mode: "one" }, 2), "chain")).toEqual([
      "Box 1, which it is plugged to, is no part of a chain; its slots are those of position 2, and the ones before them stay unused.",
    ]);
  });

  test("[F17] the port up is the mode's, whatever clock the device is set to", () => {
    expect(told(boxes(1, { position: 1, clock: "internal" }), "chain")).toHaveLength(1);
  });

  test("[F17] boxes that follow each other round have no first one", () => {
    const ring = rig({
      devices: {
        one: { name: "One", type: "box-16-8", mode: "chain", position: 1 },
        two: { name: "Two", type: "box-16-8", mode: "chain", position: 1 },
      },
      cables: ["L1: one.b - two.a, 5 m", "L2: two.b - one.a, 5 m"],
    });
    expect(told(ring, "chain", "clock-source")).toEqual([
      "error clock-source:loop:one: A clock loop: One and Two follow each other",
    ]);
  });
});
