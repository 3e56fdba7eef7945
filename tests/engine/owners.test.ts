/** Who owns the output jacks. */
import { describe, expect, test } from "vitest";
import { ownerOf } from "#engine/trace/trace.ts";
import * as rigs from "./rigs/index.ts";
import { Bench, expectTraces } from "./tell.ts";

describe("owners", () => {
  test("[O1] the owner is the device whose tap a jack's trace arrives from, and no other", () => {
    const carried = new Bench(rigs.R02);
    expect(ownerOf(carried.trace("Ears rack Out 3"))).toBe("monitors");
    expect(ownerOf(carried.trace("Ears rack Out 9"))).toBe("broadcast");
    expect(ownerOf(carried.trace("Stage box Out 1"))).toBe("house");
    // Straight from a source, or not at all: nobody's.
    expect(ownerOf(new Bench(rigs.R33).trace("Split Direct 1"))).toBeNull();
    expect(ownerOf(new Bench(rigs.R34).trace("Processor Out 5"))).toBeNull();
    expect(ownerOf(new Bench(rigs.R43).trace("House Local out 1"))).toBeNull();
  });

  test("[O2] blocks are the bank's, cut where another rule of the mode takes over", () => {
    expect(new Bench(rigs.R05).blocks("Box")).toEqual([
      "Out 1–8: one owner, House",
      "Out 9–16: one owner, Monitors",
    ]);
    expect(new Bench(rigs.R07).blocks("Box")).toEqual([
      "Out 1–8: one owner, House",
      "Out 9–12: one owner, Monitors",
      "Out 13–16: one owner, Truck",
    ]);
    // Two fixed jacks, then six that the user sets.
    expect(new Bench(rigs.R41).blocks("Fixed")).toEqual(["Out 1–2: partly fed", "Out 3–8: partly fed"]);
    expect(new Bench(rigs.R34).blocks("Ears")).toEqual(["Radio 1–2: one owner, House"]);
  });

  test("[O2] the mode decides whose the monitor bus is", () => {
    expectTraces(rigs.R05, ["Box Monitor bus out 1 ← House Mix 17, 2 hops"]);
    expectTraces(rigs.R06, ["Box Monitor bus out 1 ← Monitors Mix 9, 2 hops"]);
  });

  test("[O3] unfed, shared, partly fed, or one owner's", () => {
    const bench = new Bench(rigs.R13);
    expect(bench.blocks("House")).toEqual(["Local out 1–8: shared, House, Monitors"]);
    expect(bench.blocks("Monitors")).toEqual(["Local out 1–8: partly fed, Monitors"]);
    expect(bench.blocks("Spare")).toEqual(["Local out 1–8: unfed"]);
    expect(new Bench(rigs.R01).blocks("Box")).toEqual(["Out 1–8: one owner, House"]);
    expect(new Bench(rigs.R01).blocks("Wedge")).toEqual(["Thru 1–1: one owner, House"]);
    // All of it arrives, and none of it from a console.
    expect(new Bench(rigs.R41).blocks("Both")).toEqual([
      "Out 1–1: sources only",
      "Out 2–2: sources only",
      "Out 3–8: unfed",
    ]);
    expect(new Bench(rigs.R33).blocks("Split")).toEqual([
      "Direct 1–8: partly fed",
      "Direct 9–16: unfed",
      "Isolated 1–8: partly fed",
      "Isolated 9–16: unfed",
    ]);
  });
});
