/** The model, the wiring and the clock: what feeds each terminal, and why some have no feeder. */
import { describe, expect, test } from "vitest";
import { membersOf } from "#engine/trace/members.ts";
import { terminalOf } from "#engine/trace/terminal.ts";
import { verdictText } from "#engine/trace/told.ts";
import { stepsOf } from "#engine/trace/trace.ts";
import * as rigs from "./rigs/index.ts";
import { Bench, expectTraces, nameOf } from "./tell.ts";

describe("the model", () => {
  test("[M1] a link's slots are those of its class of rate", () => {
    // All 48 at 48 kHz: the box has no 48th input, but the slot is there.
    expectTraces(rigs.R02, ["Stage box Monitor bus out 16 ← Broadcast Mix 8, 4 hops"]);
    // Half at 96 kHz, a quarter at 192; the monitor bus has none at 192.
    expectTraces(rigs.R08, [
      "House Link 1 in 24 ← Harp at Box In 24, 2 hops",
      "House Link 1 in 25: beyond the slots at House Link 1 in 25 (24 at 96 kHz), 1 hop",
      "Box Monitor bus out 1: beyond the slots at Box Link A in 33 (24 at 96 kHz), 1 hop",
    ]);
    expectTraces(rigs.R09, [
      "Box Out 12 ← House Mix 12, 2 hops",
      "Box Out 13: beyond the slots at Box Link A in 13 (12 at 192 kHz), 1 hop",
      "Ears rack Out 1: beyond the slots at Ears rack Monitor bus in 1 (0 at 192 kHz), 1 hop",
    ]);
  });

  test("[M2] a jack that carries a pair has two terminals, A and B", () => {
    expectTraces(rigs.R17, [
      "Converter A AES3 out 1A ← House Mix 1, 2 hops",
      "Converter A AES3 out 1B ← House Mix 2, 2 hops",
      "Converter B AES3 in 4B ← House Mix 8, 3 hops",
    ]);
    expectTraces(rigs.R34, ["Ears Radio 1A ← House Mix 5, 2 hops", "Ears Radio 1B ← House Mix 6, 2 hops"]);
  });

  test("[M3] a device runs at its own sample rate where it has one, else at the show's", () => {
    // 48 slots between two devices at the show's 48 kHz, 32 on the coax between two at 96 kHz.
    expectTraces(rigs.R15, [
      "Interface Coax out out 33 ← House Direct out 33, 2 hops",
      "Recorder Track 32 ← House Direct out 32, 3 hops",
      "Recorder Track 33: beyond the slots at Recorder Coax in in 33 (32 at 96 kHz), 1 hop",
    ]);
  });

  test("[M4] a mode's rules come before the type's, and the first that reaches a destination decides it", () => {
    expectTraces(rigs.R41, [
      "Fixed Out 1 ← X7 at Fixed In 7, 1 hop",
      "Fixed Out 3 ← X1 at Fixed In 1, 1 hop",
      "Both Out 1 ← B4 at Both In 4, 1 hop",
      "Both Out 2 ← B6 at Both In 6, 1 hop",
    ]);
  });

  test("[M5] a run starts further on for each place down the chain", () => {
    expectTraces(rigs.R03, [
      "Box 1 Out 5 ← House Mix 5, 2 hops",
      "Box 2 Out 5 ← House Mix 21, 3 hops",
      "Box 2 Out 9: nothing assigned at House Link 1 out 25, 3 hops",
      "House Channel 30 ← Oboe at Box 2 In 6, 3 hops",
    ]);
    expectTraces(rigs.R04, [
      "Box 2 Out 1 ← House Mix 9, 3 hops",
      "Box 3 Out 8 ← House Mix 24, 4 hops",
      "House Channel 48 ← Choir at Box 3 In 16, 4 hops",
      "House Channel 17: not plugged at Box 2 In 1, 3 hops",
    ]);
  });
});

describe("inside a device", () => {
  test("[W1] a wired rule feeds its run in order", () => {
    expectTraces(rigs.R01, ["Box Out 1 ← House Mix 1, 2 hops", "Box Out 8 ← House Mix 8, 2 hops"]);
    expectTraces(rigs.R07, [
      "Box Out 8 ← House Mix 8, 2 hops",
      "Box Out 9 ← Monitors Mix 1, 2 hops",
      "Box Out 12 ← Monitors Mix 4, 2 hops",
      "Box Out 13 ← Truck Mix 1, 2 hops",
      "Box Out 16 ← Truck Mix 4, 2 hops",
    ]);
  });

  test("[W2] a carry hands slots on, shifted, and leaves those without a counterpart to later rules", () => {
    expectTraces(rigs.R31, [
      "End Out 1 ← F1 at Feeder In 1, 3 hops",
      "End Out 5 ← F5 at Feeder In 5, 3 hops",
    ]);
    expectTraces(rigs.R29, [
      "End Out 1 ← F5 at Feeder In 5, 3 hops",
      // Slots 5–8 would take 9–12 of the port, which has 8: the jacks' wired rule comes next.
      "End Out 5 ← S5 at Shifter In 5, 2 hops",
    ]);
    expectTraces(rigs.R30, [
      "End Out 1 ← S1 at Shifter In 1, 2 hops",
      "End Out 5 ← F1 at Feeder In 1, 3 hops",
    ]);
  });

  test("[W3] a wired run past the source's terminals leaves its destination without a feeder", () => {
    expectTraces(rigs.R41, [
      "Long Out 1 ← L5 at Long In 5, 1 hop",
      "Long Out 5: beyond the slots at Long Out 5 (8 at 48 kHz), 1 hop",
    ]);
  });

  test("[W4] a patch rule alone feeds nothing", () => {
    expectTraces(rigs.R01, [
      "House Channel 17: nothing assigned at House Channel 17, 1 hop",
      "Box Monitor bus out 1: nothing assigned at House Link 1 out 33, 2 hops",
    ]);
    expectTraces(rigs.R19, [
      "Monitors Channel 9: nothing assigned at Monitors Channel 9, 1 hop",
      "Endpoint 2 Link out 9: nothing assigned at Endpoint 2 Link out 9, 1 hop",
    ]);
  });

  test("[W5] a setting counts where its source run is listed, both starts are aligned and its runs are whole", () => {
    expectTraces(rigs.R47, [
      "House Link 1 out 5: not wired at House Link 1 out 5 (mode normal; link1 5 x8 < mix 1), 1 hop",
      "House Link 1 out 12: not wired at House Link 1 out 12 (mode normal; link1 5 x8 < mix 1), 1 hop",
      "House Link 1 out 17: not wired at House Link 1 out 17 (mode normal; link1 17 x8 < mix 3), 1 hop",
      "House Link 1 out 25: not wired at House Link 1 out 25 (mode normal; link1 25 x4 < mix 1), 1 hop",
      // The last runs of the mixes and the mains are clipped: 9–12 of 12, 1–3 of 3.
      "House Link 1 out 33 ← House Mix 9, 1 hop",
      "House Link 1 out 36 ← House Mix 12, 1 hop",
      "House Link 1 out 37: nothing assigned at House Link 1 out 37, 1 hop",
      "House Link 1 out 43 ← House Main 3, 1 hop",
      "House Link 1 out 44: nothing assigned at House Link 1 out 44, 1 hop",
      // Four matrices aren't eight.
      "House Link 2 out 1: not wired at House Link 2 out 1 (mode normal; link2 1 x8 < mtx 1), 1 hop",
      // Two blocks at once are as good as one.
      "House Link 2 out 24: not plugged at House Link 1 in 16, 1 hop",
      // A channel is no tap.
      "House Link 2 out 25: not wired at House Link 2 out 25 (mode normal; link2 25 x8 < ch 1), 1 hop",
    ]);
    // In the mode "four" the processor takes nothing from its inputs 5–8.
    expectTraces(rigs.R34, [
      "Processor Out 3 ← House Main 2, 2 hops",
      "Processor Out 5: not wired at Processor Out 5 (mode four; out 5 x1 < in 5), 1 hop",
    ]);
  });

  test("[W5] a setting can't take a terminal that the type's own list makes up, and any listed range may hold it", () => {
    expectTraces(rigs.R54, [
      "Odd Out 1 ← Eight at Odd In 8, 1 hop",
      "Odd Out 2: not wired at Odd Out 2 (mode normal; out 2 x1 < in 9), 1 hop",
      "Odd Out 5 ← Three at Odd In 3, 1 hop",
    ]);
  });

  test("[W6] a setting on a jack that a fixed rule feeds changes nothing", () => {
    expectTraces(rigs.R48, ["Box Out 1 ← House Mix 1, 2 hops"]);
    expectTraces(rigs.R41, ["Fixed Out 1 ← X7 at Fixed In 7, 1 hop"]);
  });

  test("[W7] of two settings on one destination the later counts, be it one that doesn't fit", () => {
    expectTraces(rigs.R48, [
      "House Local out 2 ← House Mix 2, 1 hop",
      "House Local out 3 ← House Main 1, 1 hop",
      "House Local out 4: not wired at House Local out 4 (mode normal; out 4 x1 < main 4), 1 hop",
    ]);
  });

  test("[W8] what no rule reaches is not wired, and so is everything in a mode that the type lacks", () => {
    expectTraces(rigs.R14, [
      "Recorder Track 48: nothing assigned at House Link 1 out 48, 3 hops",
      "Recorder Track 49: not wired at Interface Coax out out 49 (mode normal), 2 hops",
    ]);
    expectTraces(rigs.R41, [
      "Gone Out 1: not wired at Gone Out 1 (mode retired; out 1 x4 < in 1), 1 hop",
      "Gone Out 8: not wired at Gone Out 8 (mode retired), 1 hop",
    ]);
  });

  test("[W16] a tap takes what its section may take; a stereo mix feeds both buses, a direct out its own channel", () => {
    const bench = new Bench(rigs.R12);
    const into = (tap: string): readonly string[] =>
      membersOf(bench.wiring, bench.at(tap)).map(
        ({ member, step }) =>
          `${nameOf(bench.show, terminalOf(bench.wiring, member))} ${step.kind === "mixed" ? step.tap : step.kind}`,
      );
    expect(into("House Mix 1")).toEqual(["House Channel 1 pre", "House Channel 2 post"]);
    expect(into("House Mix 2")).toEqual([]);
    expect(into("House Mix 3")).toEqual(["House Channel 1 post"]);
    expect(into("House Mix 4")).toEqual(["House Channel 1 post"]);
    expect(into("House Main 1")).toEqual(["House Channel 1 post", "House Mix 1 post"]);
    expect(into("House Main 2")).toEqual(["House Channel 1 post", "House Mix 1 post"]);
    // Channel 3 can't go straight to a matrix.
    expect(into("House Matrix 1")).toEqual(["House Main 1 post"]);
    expect(into("House Mix 12")).toEqual(["House Channel 4 post"]);
    expect(into("House Direct out 5")).toEqual(["House Channel 5 direct"]);
  });
});

describe("cables", () => {
  test("[W9] a link has the lesser number of slots of its two ends, each way", () => {
    expectTraces(rigs.R32, [
      "A Out 8: not wired at Wide Port X out 8 (mode normal), 2 hops",
      "Wide Port X in 1 ← One at A In 1, 2 hops",
      "Wide Port X in 8: not plugged at A In 8, 2 hops",
      "Wide Port X in 9: beyond the slots at Wide Port X in 9 (8 at 48 kHz), 1 hop",
      "Wide 3 Port X in 8: not wired at Wide 2 Port X out 8 (mode normal), 2 hops",
      "Wide 3 Port X in 16: beyond the slots at Wide 3 Port X in 16 (8 at 48 kHz), 1 hop",
    ]);
    expectTraces(rigs.R08, [
      "House Link 1 in 48: beyond the slots at House Link 1 in 48 (24 at 96 kHz), 1 hop",
    ]);
  });

  test("[W10] a link runs at the rate of the end that can't convert it", () => {
    expectTraces(rigs.R21, [
      "B Port X in 8 ← Eight at A In 8, 2 hops",
      "A Port X in 8 ← Back at B In 8, 2 hops",
    ]);
    // Neither converts: eight slots against four. The rest is a mismatch anyway.
    expectTraces(rigs.R20, [
      "B Port X in 4: rate mismatch at B Port X in 4 (L1), 1 hop",
      "B Port X in 5: beyond the slots at B Port X in 5 (4 at 96 kHz), 1 hop",
      "A Port X in 5: beyond the slots at A Port X in 5 (4 at 96 kHz), 1 hop",
    ]);
    // Both convert: the sender's rate.
    expectTraces(rigs.R22, [
      "B Port X in 8 ← Eight at A In 8, 2 hops",
      "A Port X in 4 ← Four at B In 4, 2 hops",
      "A Port X in 5: beyond the slots at A Port X in 5 (4 at 96 kHz), 1 hop",
    ]);
  });

  test("[W11] a jack cable joins its ways one by one, and pairs A to A, B to B", () => {
    expectTraces(rigs.R33, [
      "Box A In 1 ← Vocal at Split In 1, 2 hops",
      "Box A In 16: not plugged at Split In 16, 2 hops",
      "Box B In 1 ← Vocal at Split In 1, 2 hops",
    ]);
    expectTraces(rigs.R17, [
      "Converter B AES3 in 2A ← House Mix 3, 3 hops",
      "Converter B AES3 in 2B ← House Mix 4, 3 hops",
    ]);
    expectTraces(rigs.R18, [
      "Deck In 2A: not plugged at Deck In 2A, 1 hop",
      "Deck Out 4: not plugged at Deck In 2B, 1 hop",
    ]);
    expectTraces(rigs.R42, ["Cabinet In 1 ← House Main 1, 3 hops"]);
  });

  test("[W12] a cable with unlike ends joins nothing", () => {
    expectTraces(rigs.R35, [
      "House Link 1 in 1: not plugged at House Link 1 in 1 (X1 joins nothing), 1 hop",
      "Box In 1: not plugged at Box In 1 (X1 joins nothing), 1 hop",
      "House Link 2 in 1: not plugged at House Link 2 in 1 (L2 joins nothing), 1 hop",
      "Switch Port 1 in 64: not plugged at Switch Port 1 in 64 (L2 joins nothing), 1 hop",
      "House Local in 1: not plugged at House Local in 1 (X3 joins nothing), 1 hop",
      "House Local in 2: not plugged at House Local in 2 (X5 joins nothing), 1 hop",
      "House Local in 3: not plugged at House Local in 3 (X6 joins nothing), 1 hop",
      "Box In 3: not plugged at Box In 3 (X6 joins nothing), 1 hop",
      "Rack 1 Monitor bus in 1: not plugged at Rack 1 Monitor bus in 1 (L7 joins nothing), 1 hop",
      "Rack 2 Out 16: not plugged at Rack 2 Monitor bus in 16 (L7 joins nothing), 1 hop",
      "House Local in 4: not plugged at House Local in 4 (X8 joins nothing), 1 hop",
      "House Local in 5: not plugged at House Local in 5 (X9 joins nothing), 1 hop",
    ]);
  });

  test("[W13] of two cables in one port or input jack the first counts", () => {
    expectTraces(rigs.R36, [
      "Box 1 Out 1 ← House Mix 1, 2 hops",
      "Box 2 Out 1: not plugged at Box 2 Link A in 1 (L2 joins nothing), 1 hop",
      "Wedge 1 In 1 ← House Main 1, 2 hops",
      // One output may feed many.
      "Wedge 2 In 1 ← House Main 3, 2 hops",
      "Wedge 3 In 1 ← House Main 3, 2 hops",
    ]);
  });

  test("[W13] a multicore's tail that carries nothing keeps its jack all the same", () => {
    expectTraces(rigs.R37, [
      "Processor Out 4 ← House Mix 8, 2 hops",
      "Processor Out 5: not plugged at Processor In 5 (M1 joins nothing), 1 hop",
      "Processor Out 8: not plugged at Processor In 8 (M1 joins nothing), 1 hop",
    ]);
  });

  test("[W14] a jack that a source is plugged in is an origin, whatever else is plugged there", () => {
    expectTraces(rigs.R39, [
      "House Channel 1 ← Talk at House Local in 1, 1 hop",
      "House Channel 2: not plugged at House Local in 2, 1 hop",
      "Recorder Coax out out 1 ← Click at Recorder Playback 1, 1 hop",
      "Recorder Coax out out 2: nothing assigned at Recorder Playback 2, 1 hop",
    ]);
    // Nobody can plug a playback track.
    expectTraces(rigs.R35, ["Recorder Playback 1: nothing assigned at Recorder Playback 1, 1 hop"]);
  });

  test("[W15] nothing of a device that is off has a feeder, and a pulled cable's far ends have none", () => {
    expectTraces(rigs.R49, [
      "Box Out 1: off at Box Out 1, 1 hop",
      "Box In 1: off at Box In 1, 1 hop",
      "Truck Mix 1: off at Truck Mix 1, 1 hop",
    ]);
    expectTraces(rigs.R50, [
      "Box Out 1: off at Box Link A in 1 (L1), 1 hop",
      "House Channel 1: off at House Link 1 in 1 (L1), 1 hop",
    ]);
    expectTraces(rigs.R51, ["Wedge In 1: off at Wedge In 1 (X1), 1 hop", "Box Out 3 ← House Mix 3, 2 hops"]);
    expectTraces(rigs.R52, [
      "Wedge In 1: off at Box Out 3, 2 hops",
      "House Channel 1: off at Box Link A out 1, 2 hops",
    ]);
    // A tail that carried nothing has nothing to lose when the multicore is pulled.
    expectTraces(rigs.R38, [
      "Processor Out 4: off at Processor In 4 (M1), 1 hop",
      "Processor Out 5: not plugged at Processor In 5 (M1 joins nothing), 1 hop",
    ]);
  });

  test("[W17] the table downstream is the table upstream reversed", () => {
    for (const [name, rig] of rigs.RIGS) {
      const { wiring } = new Bench(rig);
      const pairs: string[] = [];
      for (let from = 0; from < wiring.size; from++) {
        const fed = wiring.downList.slice(wiring.downStart[from], wiring.downStart[from + 1]);
        for (const to of fed) pairs.push(`${to} ← ${from}`);
      }
      const expected = [...wiring.feeder].flatMap((from, to) => (from >= 0 ? [`${to} ← ${from}`] : []));
      expect(pairs.sort(), name).toEqual(expected.sort());
    }
  });
});

describe("networks", () => {
  test("[W18] a network port takes streams only; of two on one slot the first counts", () => {
    expectTraces(rigs.R62, [
      "Endpoint 2 Network in 9 ← House Mix 1, 5 hops",
      "Endpoint 2 Network in 16 ← House Mix 8, 5 hops",
      // Slots 15 and 16 are named by both streams, 17 and 18 by the later one alone.
      "Endpoint 2 Network in 15 ← House Mix 7, 5 hops",
      "Endpoint 2 Network in 17 ← House Mix 5, 5 hops",
      "Endpoint 2 Network in 1: nothing assigned at Endpoint 2 Network in 1, 1 hop",
      "Switch A Port 1 in 1: nothing assigned at Switch A Port 1 in 1, 1 hop",
    ]);
  });

  test("[W19] a stream goes to all that take it, over the fewest cables, along live ones and through switches", () => {
    const way = (bench: Bench): readonly string[] =>
      stepsOf(bench.trace("Endpoint 2 Network in 9")).flatMap((step) =>
        step.kind === "cable" ? [step.cable] : [],
      );
    expect(way(new Bench(rigs.R62))).toEqual(["L1", "N1", "N4", "N5"]);
    expect(way(new Bench(rigs.R63))).toEqual(["L1", "N1", "N2", "N3", "N5"]);
    expectTraces(rigs.R62, ["Endpoint 3 Network in 1 ← House Mix 1, 4 hops"]);
    expectTraces(rigs.R64, [
      "Endpoint 2 Network in 9: off at Endpoint 2 Network in 9 (N4), 1 hop",
      "Endpoint 3 Network in 1 ← House Mix 1, 4 hops",
    ]);
    // A switch that is off hands nothing on.
    expectTraces(rigs.R68, ["Endpoint 2 Network in 9: off at Endpoint 2 Network in 9 (N4), 1 hop"]);
    expectTraces(rigs.R62, [
      "Alone Network in 1: not plugged at Alone Network in 1, 1 hop",
      // Of four ends of a stream that name no network port, or nothing at all, only the last is one.
      "Endpoint 1 Link in 1 ← House Mix 1, 2 hops",
      "Endpoint 2 Network in 30 ← House Mix 1, 5 hops",
    ]);
  });

  test("[W19] [T8] where the only way is cut, the first cut from the sender on is named", () => {
    const bench = new Bench(rigs.R69);
    expectTraces(rigs.R69, [
      "Endpoint 2 Network in 9: off at Endpoint 2 Network in 9 (b), 1 hop",
      "Endpoint 3 Network in 1 ← House Mix 1, 4 hops",
      "Alone Network in 1: not plugged at Alone Network in 1, 1 hop",
    ]);
    expect(verdictText(bench.wiring, bench.trace("Endpoint 2 Network in 9"))).toBe("Switch B is off");
    const pulled = new Bench(rigs.R64);
    expect(verdictText(pulled.wiring, pulled.trace("Endpoint 2 Network in 9"))).toBe("cable N4 is pulled");
  });

  test("[W20] slots past the sender's or the receiver's are beyond; the delay is a packet and the way", () => {
    expectTraces(rigs.R65, [
      "Endpoint 2 Network in 2 ← House Mix 8, 4 hops",
      "Endpoint 2 Network in 3: beyond the slots at Endpoint 2 Network in 3 (32 at 96 kHz), 1 hop",
      "Endpoint 2 Network in 32 ← House Mix 2, 4 hops",
      "Endpoint 2 Network in 33: beyond the slots at Endpoint 2 Network in 33 (32 at 96 kHz), 1 hop",
    ]);
    // Packet 1 ms, one sample to send, two to receive, 110 m of category cable, after one link.
    expect(new Bench(rigs.R62).trace("Endpoint 2 Network in 9").delay).toBeCloseTo(
      0.0625 + 1 + 0.0625 + 110 * 5.376e-6,
      9,
    );
  });
});

describe("clock and rate", () => {
  test("[C1] a device follows what it is set to, else what its mode says, else its type", () => {
    // Set to B, where the console is.
    expectTraces(rigs.R25, ["House Channel 1 ← Kick at Box In 1, 2 hops", "Box Out 5 ← House Mix 1, 2 hops"]);
    // The mode follows the stage link; the type would follow the monitor bus, where nothing is.
    expectTraces(rigs.R10, ["Near rack Out 8 ← House Mix 8, 2 hops", "Far rack Out 1 ← House Mix 9, 3 hops"]);
    expectTraces(rigs.R01, ["Box Out 1 ← House Mix 1, 2 hops"]);
  });

  test("[C2] a followed port without a live cable leaves a device free-running, a circle is a loop", () => {
    expectTraces(rigs.R24, [
      "House Channel 1: clock mismatch at House Link 1 in 1 (L1), 1 hop",
      "Box Out 5: clock mismatch at Box Link B in 1 (L1), 1 hop",
    ]);
    expectTraces(rigs.R23, [
      "House Channel 1: clock mismatch at House Link 1 in 1 (L1), 1 hop",
      // Analogue passes, whatever the clock does.
      "Wedge In 1 ← House Mix 1, 2 hops",
    ]);
    // A port that carries no clock can't be followed.
    expectTraces(rigs.R27, [
      "Leader Out 1: clock mismatch at Leader Port X in 1 (L1), 1 hop",
      "Leader 2 Out 1 ← Two at Shy 2 In 1, 2 hops",
      // Nor does one carry a clock out that carries none.
      "Follower Out 1: clock mismatch at Follower Port X in 1 (L3), 1 hop",
    ]);
  });

  test("[C2] a cable that joins nothing carries no clock", () => {
    expectTraces(rigs.R53, [
      "House Channel 1: clock mismatch at House Link 2 in 1 (L3), 1 hop",
      "Box 2 Out 5: clock mismatch at Box 2 Link B in 1 (L3), 1 hop",
    ]);
  });

  test("[C3] digital signals pass between devices of one rate and one leader, or where an end converts", () => {
    expectTraces(rigs.R26, ["House Channel 1: clock mismatch at House Link 1 in 1 (T1), 1 hop"]);
    expectTraces(rigs.R16, ["Recorder Track 1: rate mismatch at Recorder Coax in in 1 (C1), 1 hop"]);
    expectTraces(rigs.R18, ["Deck Out 1: clock mismatch at Deck In 1A (X1), 1 hop"]);
    expectTraces(rigs.R15, [
      "Recorder Track 1 ← House Direct out 1, 3 hops",
      "House Channel 1 ← Click at Recorder Playback 1, 3 hops",
    ]);
    // Two leaders, joined by AES3 inputs that convert.
    expectTraces(rigs.R17, ["Monitors Channel 3 ← House Mix 3, 4 hops"]);
    // A device without a word clock agrees with nobody, not even with its like.
    expectTraces(rigs.R28, [
      "B Out 1: clock mismatch at B Port X in 1 (L2), 1 hop",
      "Clockless Out 1: clock mismatch at Clockless Port X in 1 (L3), 1 hop",
    ]);
  });

  test("[C5] a network follows the first clock that somebody brings to it", () => {
    expectTraces(rigs.R66, [
      "Endpoint 3 Network in 1 ← House Mix 1, 4 hops",
      "Endpoint 2 Network in 1: clock mismatch at Endpoint 2 Network in 1 (N2), 1 hop",
    ]);
    // Nobody brings one: they elect one of themselves (IEEE 1588), and are in step.
    expectTraces(rigs.R67, ["Endpoint 2 Network in 1: nothing assigned at Endpoint 1 Network out 1, 2 hops"]);
  });

  test("[C4] a sender that is off is never told as a mismatch", () => {
    expectTraces(rigs.R49, [
      // The box stands at 44.1 kHz, and is off.
      "House Channel 1: off at Box Link A out 1, 2 hops",
      // Box 2 is free-running since the truck is off.
      "Box 2 Out 1: off at Truck Link 1 out 1, 2 hops",
    ]);
  });
});
