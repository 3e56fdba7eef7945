/** B10: another box behind one that chains. */
import { describe, expect, test } from "vitest";
import { chainedBox } from "#engine/build/chain.ts";
import { analyse } from "#engine/analysis.ts";
import { after, device, end, found, rig } from "./support.ts";

describe("a chained box", () => {
  const show = rig({
    devices: { foh: { name: "FOH", type: "console-24" }, box: { name: "Box 1", type: "box-16-8" } },
    cables: ["L1: foh.link1 - box.a, 50 m"],
  });

  test("[B10] stands in the next position, in the mode for it, cabled from the port that hands the chain on", () => {
    const made = chainedBox(show, device("box"));
    if (!made.ok) throw new Error(made.error);
    const two = after(show, made.value.edits);
    // The small box chains from link A to link B, in one mode for positions 1 to 3, which the first box takes too.
    expect(two.devices.slice(1).map(({ name, mode, position }) => [name, mode, position])).toEqual([
      ["Box 1", "chain", 1],
      ["Box 2", "chain", 2],
    ]);
    expect(two.cables.at(-1)!.ends).toEqual([
      end("box.b"),
      { ...end("box-2.a"), device: made.value.device.id },
    ]);
    expect(found(two, "chain")).toEqual([]);
    // Slot 17 of the console's link is the second box's first input.
    const again = chainedBox(two, made.value.device.id);
    if (!again.ok) throw new Error(again.error);
    const three = after(two, again.value.edits);
    expect(three.devices.at(-1)).toMatchObject({ name: "Box 3", position: 3 });
    expect(found(three, "chain")).toEqual([]);
    expect(analyse(three).findings.filter(({ severity }) => severity === "error")).toEqual([]);
    // A chain of these has three at most.
    expect(chainedBox(three, again.value.device.id)).toEqual({
      ok: false,
      error: "Box 3 is in position 3, and a chain of these ends at 3.",
    });
    expect(chainedBox(three, device("box"))).toEqual({ ok: false, error: "Box 1 Link B is in use already." });
  });

  test("[B10] a breakout hands on the bus that its mode listens to", () => {
    const rigged = rig({ devices: { out: { name: "Breakout", type: "breakout-16", mode: "stage-first" } } });
    const made = chainedBox(rigged, device("out"));
    if (!made.ok) throw new Error(made.error);
    const two = after(rigged, made.value.edits);
    expect(two.devices.map(({ mode }) => mode)).toEqual(["stage-first", "stage-later"]);
    expect(two.cables[0]!.ends.map(({ group }) => group)).toEqual(["stage-thru", "stage"]);
  });

  test("[B10] what doesn't chain says so", () => {
    expect(chainedBox(show, device("foh"))).toEqual({
      ok: false,
      error: "FOH is of a type that doesn’t chain.",
    });
    expect(chainedBox(show, device("gone")).ok).toBe(false);
  });
});
