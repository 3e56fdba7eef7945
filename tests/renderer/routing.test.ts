/** The two ends of a block to be routed, on the rig R02 (drawn in `tests/engine/rigs/consoles-and-boxes.ts`). */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { id, type DeviceId, type GroupId } from "#engine/model/ids.ts";
import type { Terminal } from "#engine/trace/terminal.ts";
import { fullName } from "#engine/trace/terminal.ts";
import {
  blockOf,
  endIn,
  endsFrom,
  groupsFor,
  lookedAtBlock,
  startOf,
  terminalsOf,
} from "../../renderer/routing/ends.ts";
import { R02 } from "../engine/rigs/consoles-and-boxes.ts";
import { blankShow } from "../../renderer/state/blank.ts";

const analysis = analyse(R02.show);
const at = (
  device: string,
  group: string,
  side: Terminal["side"],
  first: number,
  count: number,
): Terminal[] =>
  Array.from({ length: count }, (_, n) => ({
    device: id<DeviceId>(device),
    group: id<GroupId>(group),
    side,
    number: first + n,
  }));
const MIXES = at("monitors", "mix", "bus", 9, 8);
const EARS = at("ears", "out", "jack", 1, 4);

describe("groups that can be an end", () => {
  const monitors = analysis.wiring.devices.find((wired) => wired?.device.name === "Monitors")!;
  const names = (role: "from" | "to") => groupsFor(monitors, role).map(({ name }) => name);

  test("signals are taken from taps, inputs and what links bring", () => {
    expect(names("from")).toEqual([
      "Local in",
      "Link 1 in",
      "Link 2 in",
      "Stage link in",
      "Mix",
      "Main",
      "Matrix",
      "Direct out",
    ]);
  });

  test("and brought to outputs, links and channels", () => {
    expect(names("to")).toEqual(["Local out", "Link 1 out", "Link 2 out", "Stage link out", "Channel"]);
  });
});

describe("what the user has in mind", () => {
  test("a tap's block is where signals are taken from", () => {
    const { from, to } = endsFrom(analysis, blockOf(analysis, MIXES));
    expect(to).toBeNull();
    expect(
      terminalsOf(analysis, from!.end, from!.count).map((terminal) => fullName(analysis.wiring, terminal)),
    ).toEqual(Array.from({ length: 8 }, (_, n) => `Monitors Mix ${n + 9}`));
  });

  test("an output's block is where they are brought", () => {
    const { from, to } = endsFrom(analysis, lookedAtBlock(analysis, { kind: "block", terminals: EARS }));
    expect(from).toBeNull();
    expect(to?.count).toBe(4);
  });

  test("terminals that don't stand side by side are no block", () => {
    expect(blockOf(analysis, [MIXES[0]!, MIXES[2]!])).toBeNull();
    expect(blockOf(analysis, [MIXES[0]!, EARS[0]!])).toBeNull();
    expect(blockOf(analysis, [])).toBeNull();
    expect(blockOf(analysis, at("gone", "mix", "bus", 1, 2))).toBeNull();
  });

  test("of two ends the shorter decides how many", () => {
    const start = startOf(analysis, blockOf(analysis, MIXES), blockOf(analysis, EARS))!;
    expect(start.count).toBe(4);
  });

  test("with nothing in mind the first console's mixes go to the first stage box", () => {
    const start = startOf(analysis, null, null)!;
    const names = [start.from, start.to].map((end) =>
      fullName(analysis.wiring, terminalsOf(analysis, end, start.count)[0]!),
    );
    expect(names).toEqual(["House Mix 1", "Stage box Out 1"]);
    expect(start.count).toBe(8);
  });

  test("an end stays the same group of the same device where an edit moves devices in the rig", () => {
    const { devices, cables } = R02.show;
    const [first] = devices;
    const after = analyse({
      ...R02.show,
      devices: devices.slice(1),
      cables: cables.filter(({ ends }) => ends.every(({ device }) => device !== first!.id)),
    });
    for (const terminals of [MIXES, EARS]) {
      const { end } = blockOf(analysis, terminals)!;
      const there = endIn(after, analysis, end)!;
      expect(there.device).toBe(end.device - 1);
      const name = (rig: typeof analysis, one: typeof end) =>
        fullName(rig.wiring, terminalsOf(rig, one, 1)[0]!);
      expect(name(after, there)).toBe(name(analysis, end));
    }
    const gone = { device: 0, span: 0, first: 1 };
    expect(endIn(after, analysis, gone)).toBeNull();
  });

  test("a rig without a device has no ends", () => {
    expect(startOf(analyse(blankShow()), null, null)).toBeNull();
  });

  test("a block that ends with its group is cut there", () => {
    const last = blockOf(analysis, at("ears", "out", "jack", 15, 2))!;
    expect(terminalsOf(analysis, last.end, 8)).toHaveLength(2);
  });
});
